//! One file a resource.

pub mod changes;
pub mod coupons;
pub mod examples;
pub mod families;
pub mod health;
pub mod holders;
pub mod materials;
pub mod problems;
pub mod prototypes;
pub mod readings;
pub mod recuts;
pub mod readbacks;
pub mod root;
