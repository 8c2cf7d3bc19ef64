//! Fits by feel and by number, and what materials do to them.

use super::super::{Feel, FitSpec, Fits, FitsSpec, Role, catalogue};
use super::codes;
use crate::finding::{Finding, Verdict};
use crate::units::decode;
use serde_json::json;

fn resolve(material: &str, fits: serde_json::Value) -> (Fits, Vec<Finding>) {
    let spec: FitsSpec = decode(fits).unwrap();
    let p = catalogue().profile(material).unwrap();
    let mut out = vec![];
    spec.check("/fits", &mut out);
    let fits = Fits::resolve(&spec, p.fit, &p.name, "/fits", &mut out);
    (fits, out)
}

/// Ranges in which the trade uses each word in 3 mm plywood; common practice, no source.
#[test]
fn words_lie_in_their_ranges() {
    for (word, lo, hi) in
        [("mallet", -0.08, -0.03), ("thumb", -0.03, 0.05), ("slide", 0.05, 0.12), ("loose", 0.12, 0.20)]
    {
        let f: FitSpec = decode(json!(word)).unwrap();
        let FitSpec::Feel(feel) = f else { panic!("{f:?}") };
        assert!((lo..=hi).contains(&feel.mm()), "{word}");
        assert_eq!(serde_json::to_value(f).unwrap(), json!(word));
    }
    assert_eq!(decode::<FitSpec>(json!(0.1)).unwrap(), FitSpec::Mm(0.1));
    assert_eq!(decode::<FitSpec>(json!(0)).unwrap(), FitSpec::Mm(0.0));
    for bad in [json!("snug"), json!([0.1]), json!(null), json!({"mm": 0.1})] {
        assert!(decode::<FitSpec>(bad.clone()).is_err(), "{bad}");
    }
    assert_eq!(decode::<FitsSpec>(json!({"lid": "thumb"})).unwrap_err().0, "/lid");
}

#[test]
fn what_is_left_out_gets_the_trades_fit() {
    let (fits, out) = resolve("birch-ply-3", json!({"divider": 0.07, "ledge": "slide"}));
    assert_eq!(codes(&out), []);
    let got: Vec<f64> = Role::ALL.iter().map(|r| fits.mm(*r)).collect();
    assert_eq!(got, [0.02, 0.07, 0.10, 0.02, 0.08]);
    let mut list = vec![];
    fits.note_defaults(&FitsSpec { divider: Some(FitSpec::Mm(0.07)), ..FitsSpec::default() }, "/fits", &mut list);
    let said: Vec<&str> = list.iter().map(|d| d.at.as_str()).collect();
    assert_eq!(said, ["/fits/corner", "/fits/oblique", "/fits/floor", "/fits/ledge"]);
}

#[test]
fn acrylic_takes_no_press_fit() {
    let (fits, out) = resolve("acrylic-cast-3", json!({}));
    assert_eq!(codes(&out), [("fit-raised", Verdict::Warn), ("fit-raised", Verdict::Warn)]);
    assert!(Role::ALL.iter().all(|r| fits.mm(*r) >= 0.08 - 1e-9));
    let (_, out) = resolve("acrylic-cast-3", json!({"corner": "thumb", "divider": 0.0, "oblique": 0.1, "floor": 0.08}));
    assert_eq!(codes(&out), [("fit-too-tight", Verdict::Refuse), ("fit-too-tight", Verdict::Refuse)]);
    assert_eq!(out[0].place, "/fits/corner");
    assert!(out[1].why.contains("by 0.08"), "{}", out[1].why);
}

#[test]
fn poplar_bears_more_squeeze_than_birch() {
    let tight = json!({"corner": -0.12});
    assert_eq!(codes(&resolve("birch-ply-3", tight.clone()).1), [("fit-too-tight", Verdict::Refuse)]);
    assert_eq!(codes(&resolve("poplar-ply-3", tight).1), []);
}

#[test]
fn foam_board_is_squeezed_whatever_the_word() {
    let (fits, out) = resolve("foam-board-5", json!({"corner": "slide", "divider": -0.25}));
    assert_eq!(codes(&out), []);
    assert_eq!((fits.mm(Role::Corner), fits.mm(Role::Oblique), fits.mm(Role::Divider)), (-0.30, -0.30, -0.25));
    // measured 4.90, slot drawn 4.60 with a knife
    assert!((4.90 + fits.mm(Role::Floor) - 4.60).abs() < 1e-9);
}

#[test]
fn numbers_have_a_range_and_rattling_is_said() {
    let (_, out) = resolve("birch-ply-3", json!({"corner": 0.7, "floor": 0.21, "ledge": 0.2}));
    assert_eq!(
        codes(&out),
        [("out-of-range", Verdict::Refuse), ("fit-rattles", Verdict::Warn), ("fit-rattles", Verdict::Warn)]
    );
    assert_eq!(out[0].place, "/fits/corner");
    assert_eq!(Feel::Loose.mm(), 0.15);
}
