//! Limits on what is read back: each has a name, a unit and a default, and is a named error when reached.

use crate::finding::{Finding, Verdict};

/// How much one package may hold. What is read is bounded by these before anything is computed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ReadLimits {
    /// Bytes of the archive.
    pub archive_bytes: usize,
    /// Bytes of all its files once inflated.
    pub inflated_bytes: usize,
    /// Bytes of one file once inflated.
    pub file_bytes: usize,
    /// Files in it.
    pub files: usize,
    /// Lines of one cut file, corners of polylines counted one by one.
    pub vertices: usize,
    /// Groups within groups of an SVG.
    pub depth: usize,
    /// Parts of the list.
    pub parts: usize,
    /// Joints of the list.
    pub joints: usize,
    /// Things of the list.
    pub things: usize,
}

impl Default for ReadLimits {
    /// Ten times what a full trailer needs; an attack needs more.
    fn default() -> Self {
        Self {
            archive_bytes: 32 << 20,
            inflated_bytes: 128 << 20,
            file_bytes: 32 << 20,
            files: 5_000,
            vertices: 200_000,
            depth: 32,
            parts: 2_000,
            joints: 20_000,
            things: 5_000,
        }
    }
}

/// Coordinates beyond this are no holder's, mm: a hundred metres.
pub(super) const FARTHEST_MM: f64 = 1e5;

/// A limit that was reached: what, where, how much.
pub(super) fn reached(code: &'static str, place: &str, what: &str, have: usize, most: usize) -> Finding {
    let (place, shown) = (super::fault::short(place), super::fault::short(place));
    Finding::new(code, Verdict::Refuse, place).have("count", have).need("count_max", most).why(format!(
        "{shown} has {have} {what} or more, {} beyond the {most} that are read.",
        have.saturating_sub(most)
    ))
}
