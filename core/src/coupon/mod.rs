//! Coupons: the smallest pieces that answer what a job needs to know before its sheets are cut.
//!
//! For each stock: a strip in pieces that gives the kerf, combs of slots around the expected width with
//! their tongues in both grain directions, and one of each joint that occurs, made by the same code as
//! the holders' own. Strip and slots are drawn as they are said; joints are drawn with the kerf like
//! every part.
//!
//! May import: `units`, `finding`, `geom`, `material`, `readings`, `joints`, `assembly`, `job`, `finish`,
//! `kerf`, `marks`, `nest`, `route`.

mod comb;
mod piece;
mod sample;
mod stand;
#[cfg(test)]
mod tests;

pub use piece::{Coupon, Piece, Sheetlet, of};
pub use sample::Sample;
