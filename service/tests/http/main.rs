//! The service from outside: one binary, one file a concern.

// the whole crate is a test; clippy.toml only knows functions marked as such
#![allow(clippy::unwrap_used)]

mod changes;
mod client;
mod coupons;
mod document;
mod prototypes;
mod readings;
mod recuts;
mod readbacks;
mod refusals;
mod same_bytes;
