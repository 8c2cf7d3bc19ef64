//! A part of today's sheet between its old neighbours: what each joint measures, and whether it goes in.

use super::report::JointLine;
use super::spec::RecutSpec;
use crate::finding::{Finding, Verdict};
use crate::material::{Stock, catalogue};
use crate::readback::{JointMeasured, Package, Place, Report, TOUCH_MM};
use crate::solid::overlap;

/// A sheet thinner than the first by more than this needs a shim, mm (common practice, no source).
pub const THINNEST_MM: f64 = 0.1;
/// The tightest fit that a material of no known profile bears, mm: a mallet's in plywood (common practice).
const TIGHTEST_MM: f64 = -0.05;
/// Readings are rounded to a hundredth; half of one decides nothing.
const ROUNDING_MM: f64 = 0.005;

/// One wanted part before and after, with both judgements.
pub struct Case<'a> {
    /// The package as it was made.
    pub was: &'a Package,
    /// What it measures.
    pub was_report: &'a Report,
    /// The same with the new parts in it.
    pub now: &'a Package,
    /// What that measures.
    pub now_report: &'a Report,
    /// Today's sheet.
    pub sheet: &'a Stock,
    /// What was asked.
    pub spec: &'a RecutSpec,
}

impl Case<'_> {
    /// Every joint of a part: what it measured and what it will.
    pub fn joints(&self, part: usize) -> Vec<JointLine> {
        let mut all = vec![];
        let pairs = self.was_report.joints.iter().zip(&self.now_report.joints).zip(&self.was.joints);
        for ((was, now), j) in pairs.filter(|(_, j)| j.a == part || j.b == part) {
            let neighbour = if j.a == part { j.b } else { j.a };
            for gap in &was.gaps {
                let Some(then) = now.gaps.iter().find(|g| g.place == gap.place) else { continue };
                all.push(JointLine {
                    joint: j.id.clone(),
                    part: self.was.parts[part].code.clone(),
                    neighbour: self.was.parts[neighbour].code.clone(),
                    place: gap.place,
                    asked_mm: gap.want_mm,
                    was_mm: [gap.least_mm, gap.most_mm],
                    now_mm: [then.least_mm, then.most_mm],
                });
            }
        }
        all
    }

    /// What speaks against this sheet for a part, by how much, and the shim that would help.
    pub fn findings(&self, part: usize, out: &mut Vec<Finding>) {
        let before = out.len();
        self.too_thin(part, out);
        self.too_tight(part, out);
        if out[before..].iter().all(|f| f.verdict < Verdict::Refuse) {
            self.collides(part, out);
        }
        let (was, is) = (&self.was.parts[part].material, &self.sheet.material);
        if was != is {
            let code = self.code(part);
            out.push(
                Finding::new("recut-other-material", Verdict::Warn, code)
                    .have("material", is.as_str())
                    .need("material", was.as_str())
                    .why(format!("Part {code} was of {was}: strength, weight and looks will differ.")),
            );
        }
    }

    fn code(&self, part: usize) -> &str {
        &self.was.parts[part].code
    }

    /// Today's sheet less the first one, mm.
    fn thicker(&self, part: usize) -> f64 {
        self.sheet.thickness_mm - self.was.parts[part].slab.thickness
    }

    fn too_thin(&self, part: usize, out: &mut Vec<Finding>) {
        let thinner = -self.thicker(part);
        if thinner <= THINNEST_MM + ROUNDING_MM {
            return;
        }
        let (code, first) = (self.code(part), self.was.parts[part].slab.thickness);
        let (verdict, ends) = match self.spec.with_shim {
            true => (Verdict::Warn, format!("Glue a shim of {thinner:.2} mm to it.")),
            false => (Verdict::Refuse, format!("A shim of {thinner:.2} mm would fill it; or take another sheet.")),
        };
        out.push(
            Finding::new("recut-too-thin", verdict, code)
                .have("thickness_mm", self.sheet.thickness_mm)
                .have("shim_mm", thinner)
                .need("thickness_min_mm", first - THINNEST_MM)
                .why(format!(
                    "Part {code} was {first:.2} mm thick and this sheet is {thinner:.2} mm thinner, {:.2} more than its \
                     neighbours' slots bear. {ends}",
                    thinner - THINNEST_MM
                )),
        );
    }

    /// Slots of neighbours into which the part no longer goes.
    fn too_tight(&self, part: usize, out: &mut Vec<Finding>) {
        if self.thicker(part) <= 0.0 {
            return;
        }
        let mut worst: Option<(f64, f64, &JointMeasured, usize)> = None;
        for (now, j) in self.now_report.joints.iter().zip(&self.was.joints) {
            if j.a != part && j.b != part {
                continue;
            }
            let neighbour = if j.a == part { j.b } else { j.a };
            let slot = now.gaps.iter().find(|g| g.place == Place::Slot).map(|g| g.least_mm);
            let bears = tightest_mm(&self.was.parts[neighbour].material).min(j.fit_mm);
            if let Some(gap) = slot.filter(|g| *g < bears - ROUNDING_MM)
                && worst.is_none_or(|w| gap - bears < w.0 - w.1)
            {
                worst = Some((gap, bears, now, neighbour));
            }
        }
        let Some((gap, bears, joint, neighbour)) = worst else { return };
        let (code, other) = (self.code(part), self.code(neighbour));
        let most = self.sheet.thickness_mm - (bears - gap);
        out.push(
            Finding::new("recut-too-thick", Verdict::Refuse, code)
                .have("fit_mm", gap)
                .have("thickness_mm", self.sheet.thickness_mm)
                .need("fit_min_mm", bears)
                .need("thickness_max_mm", most)
                .why(format!(
                    "At joint {} part {code} would go into part {other} with a fit of {gap:+.2} mm, {:.2} tighter than it \
                     bears. A sheet of at most {most:.2} mm goes in, or this one sanded down by {:.2}.",
                    joint.id,
                    bears - gap,
                    self.sheet.thickness_mm - most
                )),
        );
    }

    /// Neighbours in which the part would stand.
    fn collides(&self, part: usize, out: &mut Vec<Finding>) {
        let me = &self.now.parts[part];
        for (i, other) in self.now.parts.iter().enumerate().filter(|(i, _)| *i != part) {
            // what the first part did already is no fault of this sheet
            let depth = |p: &Package| overlap(p.parts[part].plate(), p.parts[i].plate()).map_or(0.0, |o| o.depth_mm);
            let now = depth(self.now);
            if now <= TOUCH_MM {
                continue;
            }
            let tight = self.now_report.joints.iter().zip(&self.was.joints);
            let squeeze = tight
                .filter(|(_, j)| (j.a == part && j.b == i) || (j.b == part && j.a == i))
                .flat_map(|(m, _)| &m.gaps)
                .filter(|g| g.place == Place::Slot)
                .map(|g| -g.least_mm)
                .fold(0.0, f64::max);
            let most = TOUCH_MM + squeeze.max(depth(self.was));
            if now > most {
                let (code, other) = (me.code.as_str(), other.code.as_str());
                out.push(
                    Finding::new("recut-collides", Verdict::Refuse, code)
                        .have("depth_mm", now)
                        .have("other_part", other)
                        .need("depth_mm_max", most)
                        .need("thickness_max_mm", self.sheet.thickness_mm - (now - most))
                        .why(format!(
                            "Part {code} of this sheet would stand {now:.2} mm in part {other}, {:.2} more than may be: sand \
                             it down by that, or take a thinner sheet.",
                            now - most
                        )),
                );
            }
        }
    }
}

/// The tightest fit that a slotted sheet bears.
fn tightest_mm(material: &str) -> f64 {
    catalogue().profile(material).map_or(TIGHTEST_MM, |p| p.fit.tightest_mm)
}
