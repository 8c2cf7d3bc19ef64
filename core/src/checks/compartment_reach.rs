//! Fingers reach the last piece in a compartment.

use super::bound::Bound;
use super::outcome::{About, Outcome, Subject};
use super::place::has_number;
use crate::assembly::{Bay, Role};
use crate::finish::Built;

/// What this check is about.
pub const ABOUT: About = About {
    name: "compartment-reach",
    rule: "The smaller side of a compartment is at least 35 mm and 0.6 of its depth, or its front is raked.",
    source: "common practice, no source; refused where a finger does not go in at all: 12 mm \
             (index finger breadths of 16 to 23 mm: FAA survey, quoted in a note)",
};

/// Least side of a compartment, mm …
const SIDE_MM: f64 = 35.0;
/// … or this share of its depth, whichever is more.
const DEPTH_SHARE: f64 = 0.6;
/// No finger goes into less than this, mm.
const FINGER_MM: f64 = 12.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for built in subject.holders {
        for (k, bay) in built.assembly.bays.iter().enumerate() {
            let deep = bay.z.1 - bay.z.0;
            let side = (bay.x.1 - bay.x.0).min(bay.y.1 - bay.y.0);
            let warn = if raked(built, bay) { f64::NEG_INFINITY } else { SIDE_MM.max(DEPTH_SHARE * deep) };
            let bound = Bound::least("compartment-too-narrow", "side_mm", FINGER_MM, warn);
            let place = format!("{}/bays/{k}", built.at);
            let Some((f, short)) = bound.weigh(&built.at, side, out) else { continue };
            let mut f = f.have("depth_mm", deep).have("compartment", k + 1).why(format!(
                "Compartment {} is {side:.0} mm at its smaller side and {deep:.0} deep, {short:.0} mm too narrow for fingers to reach the last piece.",
                k + 1
            ));
            if has_number(built, "rake_deg") && side >= FINGER_MM {
                f = f.cure(
                    "Rake the fronts at 35°: parts are drawn up the slope.",
                    format!("{}/rake_deg", built.at),
                    35.0,
                );
            }
            let low = SIDE_MM.max(side) / DEPTH_SHARE;
            let wall = (built.size.height_mm - (deep - side / DEPTH_SHARE).max(0.0)).floor();
            if side >= SIDE_MM && deep > low && has_number(built, "height_mm") && wall > 0.0 {
                f = f.cure(format!("Make it {wall:.0} mm high."), format!("{}/height_mm", built.at), wall);
            }
            f.place = place;
            out.find(f);
        }
    }
}

/// Whether a leaning plate stands in the bay.
fn raked(built: &Built, bay: &Bay) -> bool {
    built.assembly.panels.iter().filter(|p| p.role == Role::Ramp).any(|p| {
        let within = |v: f64, (lo, hi): (f64, f64)| v >= lo && v <= hi;
        within(p.seed.x, bay.x) && within(p.seed.y, bay.y)
    })
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::finding::Verdict;
    use serde_json::json;

    fn narrow(columns: u32, rake: Option<f64>) -> Vec<Verdict> {
        let mut request = tray();
        request["holders"][0]["columns"] = json!(columns);
        if let Some(r) = rake {
            request["holders"][0]["rake_deg"] = json!(r);
        }
        Scene::of(request).run(run).findings.iter().map(|f| f.verdict).collect()
    }

    // inside 325.9 wide less walls: 9 columns are 32.7 wide, 20 are 13, 24 less than 11
    #[test]
    fn a_narrow_compartment_is_warned_about_unless_it_is_raked() {
        assert_eq!(narrow(3, None), vec![]);
        assert_eq!(narrow(9, None), vec![Verdict::Warn; 18]);
        assert_eq!(narrow(9, Some(40.0)), vec![]);
        assert_eq!(narrow(25, None), vec![Verdict::Refuse; 50]);
    }
}
