//! A full holder can be lifted out.

use super::bound::Bound;
use super::masses::sum_g;
use super::outcome::{About, Outcome, Subject};

/// What this check is about.
pub const ABOUT: About = About {
    name: "mass-one-hand",
    rule: "A full holder weighs 5 kg at most; one hand lifts 2 to 3.",
    source: "common practice, no source: modules up to 5 kg filled",
};

/// What a full holder may weigh, kg.
const MOST_KG: f64 = 5.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let bound = Bound::most("holder-heavy", "mass_kg", f64::INFINITY, MOST_KG);
    for (h, built) in subject.holders.iter().enumerate() {
        let kg = (sum_g(&subject.panel_lumps(h)) + sum_g(&subject.content_lumps(h))) / 1000.0;
        if let Some((f, over)) = bound.weigh(&built.at, kg, out) {
            out.find(f.why(format!(
                "Full it weighs {kg:.1} kg, {over:.1} kg more than is lifted out safely: nobody will take it out to clean. Divide it into two holders."
            )));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::json;

    #[test]
    fn a_tray_with_a_few_parts_is_light_and_one_with_steel_is_not() {
        let out = Scene::of(tray()).run(run);
        assert!(out.findings.is_empty());
        // walls, floor and dividers of some 0.2 m² of 3.09 plywood of about 0.67 g/cm³, and the parts
        let kg = out.worst_measured()[0].value;
        assert!(kg > 0.3 && kg < 2.0, "{kg}");
        let mut request = tray();
        request["things"][0]["mass_g"] = json!(24.0);
        let out = Scene::of(request).run(run);
        assert!((out.worst_measured()[0].value - kg).abs() > 4.0);
        assert_eq!(out.findings.len(), 1);
    }
}
