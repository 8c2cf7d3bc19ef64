//! The data of `shared/` against numbers published outside of this project.

use super::super::{Process, Span, catalogue};
use super::check;
use serde_json::json;

fn span(id: &str) -> (Span, Span) {
    let t = &catalogue().profile(id).unwrap().thickness;
    (t.usual_mm, t.plausible_mm)
}

/// EN 315, sanded: +(0.2 + 0.03 t) / −(0.4 + 0.03 t). The formula was read in GB/T 9846, which follows
/// EN 315 text for text; a mill's table agrees with it to 0.1 mm.
fn en315_sanded(t: f64) -> Span {
    Span { min: t - 0.4 - 0.03 * t, max: t + 0.2 + 0.03 * t }
}

#[test]
fn no_sheet_within_the_plywood_standard_is_called_implausible() {
    // the oracle itself, against the mill's row that is exact: 30 mm +1.1/−1.3
    let row = en315_sanded(30.0);
    assert!((row.max - 31.1).abs() < 1e-9 && (row.min - 28.7).abs() < 1e-9);
    for id in ["birch-ply-3", "birch-ply-4", "birch-ply-6", "poplar-ply-3", "poplar-ply-6"] {
        let p = catalogue().profile(id).unwrap();
        let (norm, plausible) = (en315_sanded(p.thickness.nominal_mm), p.thickness.plausible_mm);
        assert!(plausible.holds(norm.min) && plausible.holds(norm.max), "{id}: {norm:?} in {plausible:?}");
        // and the range says something: one standard tolerance beyond the standard is refused
        assert!(!plausible.holds(norm.min - 0.5) && !plausible.holds(norm.max + 0.8), "{id}");
    }
}

#[test]
fn the_mills_actual_thickness_limits_are_plausible() {
    // birch plywood data sheet: 4 mm is 3.5 to 4.1, average 3.8; 6.5 mm is 6.1 to 6.9
    let (usual, _) = span("birch-ply-4");
    assert!(usual.holds(3.5) && usual.holds(3.8) && usual.holds(4.1));
    let (usual, plausible) = span("birch-ply-6");
    assert!(usual.holds(6.1) && usual.holds(6.5) && plausible.holds(6.9));
}

#[test]
fn whole_sheets_weigh_what_the_data_sheet_says() {
    // birch plywood data sheet, 1220 × 2440: 4 mm 7.9 kg, 6.5 mm 13.0 kg
    for (id, t, kg) in [("birch-ply-4", 4.0, 7.9), ("birch-ply-6", 6.5, 13.0)] {
        let (stock, out) = check(json!({"material": id, "readings_mm": t}));
        let stock = stock.unwrap_or_else(|| panic!("{out:?}"));
        let got = stock.mass_g(1220.0 * 2440.0, stock.thickness_mm) / 1000.0;
        assert!((got - kg).abs() < 0.05, "{id}: {got} kg");
    }
}

#[test]
fn densities_lie_in_the_published_ranges() {
    // poplar: sellers 450 to 550, nine plies of Populus deltoides 500 to 560; MDF, hardboard, acrylic:
    // 0.75, 0.95, 1.19 g/cm³, common practice, no source
    for (id, lo, hi) in [
        ("poplar-ply-3", 450.0, 560.0),
        ("poplar-ply-6", 450.0, 560.0),
        ("mdf-3", 700.0, 800.0),
        ("hardboard-3", 900.0, 1000.0),
        ("acrylic-cast-3", 1180.0, 1200.0),
    ] {
        let d = catalogue().profile(id).unwrap().density_kg_m3.value;
        assert!((lo..=hi).contains(&d), "{id}: {d}");
    }
}

#[test]
fn plywood_shear_is_within_the_published_range() {
    // MatWeb, Plywood: rolling shear 1.72 to 2.07 MPa, through the thickness 5.52 to 6.89 MPa
    for p in catalogue().profiles.iter().filter(|p| p.family == "plywood") {
        assert!((1.72..=2.07).contains(&p.rolling_shear_n_mm2.value), "{}", p.id);
        assert!((5.52..=6.89).contains(&p.edge_shear_n_mm2.value), "{}", p.id);
    }
}

#[test]
fn default_kerfs_are_near_the_published_guideline() {
    // kerf guideline table (inches): birch ply 1/8 in .008, 1/4 in .010; acrylic 1/8 in .009; MDF 1/8 in .006
    for (id, inches) in [("birch-ply-3", 0.008), ("birch-ply-6", 0.010), ("acrylic-cast-3", 0.009), ("mdf-3", 0.006)] {
        let published = inches * 25.4;
        let kerf = catalogue().profile(id).unwrap().treatment(Process::Co2).kerf.as_ref().unwrap();
        assert!((kerf.default_mm - published).abs() <= 0.055, "{id}: {} and {published}", kerf.default_mm);
        assert!(kerf.warn_mm.holds(published), "{id}: {published} would be warned about");
    }
}

#[test]
fn the_bed_is_one_that_is_built() {
    // 600 × 400 mm: bed of a 40 W machine, Fab Academy page
    assert_eq!(super::cutter("co2-600x400").bed_mm, [600.0, 400.0]);
}
