//! Names of places, and what the request has to offer for a cure.

use super::outcome::Subject;
use crate::assembly::Role;
use crate::families;
use crate::finding::Finding;
use crate::finish::Built;
use crate::geom::{DVec3, Slab};

impl Subject<'_> {
    /// `J1`, `J2` … over the whole job, as in the list of joints.
    pub(super) fn joint_id(&self, holder: usize, meeting: usize) -> String {
        let before: usize = self.holders[..holder].iter().map(|h| h.assembly.meetings.len()).sum();
        format!("J{}", before + meeting + 1)
    }
}

/// Whether a holder's family knows a number of this name.
pub(super) fn has_number(built: &Built, name: &str) -> bool {
    families::ALL.iter().any(|a| a.tag == built.family && a.rows.iter().any(|r| r.name == name))
}

/// A part's code and name, for people.
pub(super) fn called(built: &Built, panel: usize) -> String {
    format!("{} \"{}\"", built.part_code(panel), built.assembly.panels[panel].name)
}

/// A panel's slab in the space's frame.
pub(super) fn placed_slab(built: &Built, panel: usize) -> Slab {
    Slab { frame: built.placement(panel), thickness: built.assembly.panels[panel].slab.thickness }
}

/// The name of the outer size that runs along a direction of the holder's frame.
pub(super) fn size_along(direction: DVec3) -> &'static str {
    let d = direction.abs();
    if d.x >= d.y && d.x >= d.z {
        "width_mm"
    } else if d.y >= d.z {
        "depth_mm"
    } else {
        "height_mm"
    }
}

/// Rounded down to a tenth: what a person types as "at most".
pub(super) fn tenth_below(v: f64) -> f64 {
    (v * 10.0 + 1e-6).floor() / 10.0
}

/// Rounded up to a tenth: what a person types as "at least".
pub(super) fn tenth_above(v: f64) -> f64 {
    (v * 10.0 - 1e-6).ceil() / 10.0
}

/// A number of a holder's family as it stands in the request, or its default; `None` where the family
/// knows none of this name or has no default.
pub(super) fn number_now(subject: &Subject, built: &Built, name: &str) -> Option<f64> {
    let row = families::ALL.iter().find(|a| a.tag == built.family)?.rows.iter().find(|r| r.name == name)?;
    let spec = &subject.job.holders.iter().find(|h| h.at == built.at)?.spec;
    let given = serde_json::to_value(spec).ok().and_then(|v| v.get(name).and_then(serde_json::Value::as_f64));
    given.or(row.default)
}

/// Proposes each thicker sheet of the job for a panel, in the field that names its stock.
pub(super) fn thicker_sheet(mut f: Finding, subject: &Subject, built: &Built, panel: usize) -> Finding {
    let p = &built.assembly.panels[panel];
    let (field, what) = match p.role {
        Role::Floor => ("floor_stock", "the floor"),
        Role::Wall => ("stock", "the walls"),
        _ => ("inner_stock", "what is inside"),
    };
    for s in subject.job.stocks.iter().filter(|s| s.thickness_mm > p.slab.thickness) {
        f = f.cure(
            format!("Make {what} of \"{}\", {:.2} mm thick.", s.id, s.thickness_mm),
            format!("{}/{field}", built.at),
            s.id.as_str(),
        );
    }
    f
}
