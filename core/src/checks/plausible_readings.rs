//! How far readings of sheets are from what is usual. What is not plausible was refused with the stock.

use super::outcome::{About, Limit, Outcome, Subject};

/// What this check is about.
pub const ABOUT: About = About {
    name: "plausible-readings",
    rule: "Readings of a sheet spread by 0.10 mm at most, and kerf and thickness are what such sheets and cutters usually have.",
    source: "common practice, no source; each material's own ranges stand in the list of materials",
};

/// Spread of readings above which a sheet is warned about, mm.
const SPREAD_MM: f64 = 0.10;

/// Measures; findings come with the stock.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (s, stock) in subject.job.stocks.iter().enumerate() {
        let at = |field: &str| format!("/stocks/{s}/{field}");
        for sheet in &stock.supplies {
            let here = format!("{}/readings_mm", sheet.at);
            out.measure(here.as_str(), "spread_mm", sheet.spread_mm, Limit::Most(SPREAD_MM));
            let off = stock.profile.thickness.usual_mm.off(sheet.thickness_mm);
            out.measure(here, "thickness_off_usual_mm", off, Limit::Most(0.0));
        }
        if let Some(kerf) = &stock.profile.treatment(stock.process).kerf {
            let off = kerf.warn_mm.off(stock.kerf_mm);
            out.measure(at("kerf_mm"), "kerf_off_usual_mm", off, Limit::Most(0.0));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::json;

    #[test]
    fn the_spread_of_the_readings_is_reported() {
        let spread = |readings: &[f64]| {
            let mut request = tray();
            request["stocks"][0]["readings_mm"] = json!(readings);
            let out = Scene::of(request).run(run);
            let m = out.measured.iter().find(|m| m.what == "spread_mm").unwrap().clone();
            (m.value, m.margin() >= 0.0)
        };
        let (v, good) = spread(&[3.08, 3.12, 3.05, 3.10]);
        assert!((v - 0.07).abs() < 1e-9 && good);
        assert!(!spread(&[3.00, 3.12]).1);
    }
}
