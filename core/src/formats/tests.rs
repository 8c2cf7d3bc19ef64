//! Packages of every family's example, read back.

mod dxf_read;
mod whole;
