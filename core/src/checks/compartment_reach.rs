//! Fingers reach the last piece in a compartment.

use super::bound::Bound;
use super::outcome::{About, Outcome, Subject};
use super::place::has_number;
use crate::assembly::{Bay, Role};
use crate::finding::{Finding, Verdict};
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
        let bays = built.assembly.bays.iter().enumerate().map(|(k, bay)| Narrow::of(built, bay, k + 1));
        let all: Vec<Narrow> = bays.collect();
        let verdict = |n: &Narrow| n.bound().judge(n.side);
        // the narrowest of those that fare worst
        let worst = all
            .iter()
            .min_by(|a, b| verdict(b).cmp(&verdict(a)).then(a.side.total_cmp(&b.side)).then(a.number.cmp(&b.number)));
        let Some(n) = worst else { continue };
        let Some((f, short)) = n.bound().weigh(&built.at, n.side, out) else { continue };
        let narrow = all.iter().filter(|n| verdict(n) > Verdict::Ok).count();
        let f = f.have("depth_mm", n.deep).have("compartment", n.number).have("compartments", narrow).why(format!(
            "Compartment {} is {:.0} mm at its smaller side and {:.0} deep, {short:.0} mm too narrow for fingers to reach the last piece; {narrow} of {} are.",
            n.number,
            n.side,
            n.deep,
            all.len()
        ));
        out.find(cures(f, built, n));
    }
}

/// A compartment as a hand sees it.
struct Narrow {
    number: usize,
    side: f64,
    deep: f64,
    raked: bool,
}

impl Narrow {
    fn of(built: &Built, bay: &Bay, number: usize) -> Self {
        Self {
            number,
            side: (bay.x.1 - bay.x.0).min(bay.y.1 - bay.y.0),
            deep: bay.z.1 - bay.z.0,
            raked: raked(built, bay),
        }
    }

    fn bound(&self) -> Bound {
        let warn = if self.raked { f64::NEG_INFINITY } else { SIDE_MM.max(DEPTH_SHARE * self.deep) };
        Bound::least("compartment-too-narrow", "side_mm", FINGER_MM, warn)
    }
}

fn cures(mut f: Finding, built: &Built, n: &Narrow) -> Finding {
    if has_number(built, "rake_deg") && n.side >= FINGER_MM {
        f = f.cure("Rake the fronts at 35°: parts are drawn up the slope.", format!("{}/rake_deg", built.at), 35.0);
    }
    let lower = (built.size.height_mm - (n.deep - n.side / DEPTH_SHARE)).floor();
    if n.side >= SIDE_MM && has_number(built, "height_mm") && lower > 0.0 {
        f = f.cure(format!("Make it {lower:.0} mm high."), format!("{}/height_mm", built.at), lower);
    }
    f
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
        assert_eq!(narrow(9, None), vec![Verdict::Warn]);
        assert_eq!(narrow(9, Some(40.0)), vec![]);
        assert_eq!(narrow(25, None), vec![Verdict::Refuse]);
    }
}
