//! One file a resource.

pub mod health;
pub mod holders;
