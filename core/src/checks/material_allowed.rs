//! Sheets that liquids harm are not put beside liquids.

use super::outcome::{About, Limit, Outcome, Subject};
use crate::finding::{Finding, Verdict};

/// What this check is about.
pub const ABOUT: About = About {
    name: "material-allowed",
    rule: "Fibreboard and acrylic do not hold what is wet: fibreboard swells, acrylic cracks. (What must not be cut at all is refused with the stock.)",
    source: "common practice, no source: edges of fibreboard swell in oil and water; acrylic cracks with alcohol, degreaser and threadlock",
};

/// Families of materials that liquids harm, and how.
const HARMED: [(&str, &str); 4] = [
    ("fibreboard", "its edges swell like a sponge in oil and water"),
    ("acrylic", "it cracks at its tabs within weeks of alcohol, degreaser or threadlock"),
    ("cardboard", "it soaks and goes soft"),
    ("foam board", "solvents eat its core"),
];

/// What stands in for it.
const INSTEAD: &str = "birch-ply-3";

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (s, stock) in subject.job.stocks.iter().enumerate() {
        let Some((_, harm)) = HARMED.iter().find(|(family, _)| stock.profile.family == *family) else { continue };
        let mut wet: Vec<&str> = vec![];
        for (h, built) in subject.holders.iter().enumerate() {
            if !built.assembly.panels.iter().any(|p| p.stock == s) {
                continue;
            }
            let things = subject.held().into_iter().filter(|t| t.holder == h).map(|t| t.thing);
            wet.extend(things.filter(|t| t.liquid().is_some() || t.pressurised()).map(|t| t.id()));
        }
        wet.sort_unstable();
        wet.dedup();
        let at = format!("/stocks/{s}/material");
        out.measure(at.as_str(), "wet_things", wet.len() as f64, Limit::Most(0.0));
        if let Some(first) = wet.first() {
            out.find(
                Finding::new("sheet-harmed-by-liquid", Verdict::Warn, at.as_str())
                    .have("material", stock.profile.name.as_str())
                    .have("wet_things", wet.len())
                    .need("wet_things", 0.0)
                    .why(format!(
                        "{} holds {} kinds of things with liquid in them (\"{first}\"): {harm}.",
                        stock.profile.name,
                        wet.len()
                    ))
                    .cure("Take plywood, varnished where it drips.", at, INSTEAD),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::geom::{DVec3, Frame};
    use serde_json::json;

    fn bottle_in(material: &str) -> Outcome {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 120});
        let lube = json!({"id": "wet lube", "shape": {"kind": "bottle", "diameter_mm": 30, "body_mm": 70, "overall_mm": 100, "tip_diameter_mm": 6}});
        let mut request = tray_for(drawer, json!([lube]), 40.0);
        request["stocks"][0]["material"] = json!(material);
        request["stocks"][0]["readings_mm"] = json!([3.0]);
        let mut scene = Scene::of(request);
        let pose = Frame { origin: DVec3::new(100.0, 100.0, 3.0), ..Frame::WORLD };
        lay(&mut scene, 0, pose, DVec3::Z);
        scene.run(run)
    }

    #[test]
    fn lube_in_fibreboard_is_warned_about_and_in_plywood_not() {
        assert_eq!(bottle_in("mdf-3").findings.len(), 1);
        assert_eq!(bottle_in("acrylic-cast-3").findings.len(), 1);
        assert_eq!(bottle_in("birch-ply-3").findings.len(), 0);
    }
}
