//! Old parts that stay, put between the new ones, from the files of both packages.

use super::matching::Matched;
use crate::finding::Finding;
use crate::formats::{PackageFault, package};
use crate::made::Made;
use crate::readback::{Package, ReadLimits, Report, judge, read};

/// Why there is no proof.
#[derive(Debug)]
pub enum MixFault {
    /// A package could not be written: a fault of ours.
    Unwritten(PackageFault),
    /// A package that was just written could not be read back: a fault of ours.
    Unread(Vec<Finding>),
    /// The caller's `stop` said so.
    Stopped,
}

/// Reads both packages back and judges the new one with the old parts that stay in it.
///
/// # Errors
/// See [`MixFault`].
pub fn proof(old: &Made, new: &Made, matched: &[Matched], stop: &dyn Fn() -> bool) -> Result<Report, MixFault> {
    let files = |m: &Made| -> Result<Package, MixFault> {
        let bytes = package(m).map_err(MixFault::Unwritten)?;
        let read = read(&bytes, &ReadLimits::default(), stop).map_err(MixFault::Unread)?;
        if stop() { Err(MixFault::Stopped) } else { Ok(read) }
    };
    let (was, mut mix) = (files(old)?, files(new)?);
    for (m, part) in matched.iter().zip(&new.parts) {
        let Some((w, lie)) = m.stays else { continue };
        let one = |p: &Package, code: &str| p.parts.iter().position(|q| q.code == code);
        if let (Some(i), Some(k)) = (one(&mix, &part.code), one(&was, &old.parts[w].code)) {
            // as it was cut: its own outline, thickness and kerf, in the new one's place
            mix.parts[i].finished = lie.put(&was.parts[k].finished);
            mix.parts[i].drawn = lie.put(&was.parts[k].drawn);
            mix.parts[i].kerf_mm = was.parts[k].kerf_mm;
            mix.parts[i].slab.thickness = was.parts[k].slab.thickness;
        }
    }
    judge(&mix, stop).ok_or(MixFault::Stopped)
}
