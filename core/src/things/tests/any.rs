//! Any numbers at all: nothing panics, what is refused says why, what is built can be asked anything.

use super::{Dice, findings, thing};
use crate::things::{
    BarSpec, BladeSpec, BlockSpec, BottleSpec, CanSpec, DiscSpec, LooseSpec, RollSpec, ShapeSpec, Solid, TubeSpec,
};
use crate::units::Row;
use serde_json::{Value, json};

fn rows(kind: &str) -> &'static [Row] {
    match kind {
        "bottle" => BottleSpec::ROWS,
        "tube" => TubeSpec::ROWS,
        "can" => CanSpec::ROWS,
        "roll" => RollSpec::ROWS,
        "disc" => DiscSpec::ROWS,
        "bar" => BarSpec::ROWS,
        "block" => BlockSpec::ROWS,
        "blade" => BladeSpec::ROWS,
        "loose" => LooseSpec::ROWS,
        other => panic!("no rows for {other}"),
    }
}

/// A shape with a number at each required field, at some of the others, now and then outside its row.
fn any_shape(kind: &str, dice: &mut Dice, wild: bool) -> Value {
    let needed = [
        "diameter_mm",
        "body_mm",
        "overall_mm",
        "tip_diameter_mm",
        "width_mm",
        "thickness_mm",
        "length_mm",
        "depth_mm",
        "height_mm",
        "piece_mm",
    ];
    let mut shape = json!({"kind": kind});
    for row in rows(kind) {
        if !needed.contains(&row.name) && dice.between(0.0, 1.0) < 0.6 {
            continue;
        }
        let (lo, hi) = if wild { (row.min * 0.7, row.max * 1.3) } else { (row.min, row.max) };
        // even over the orders of magnitude, as measures are
        let value = lo * (hi / lo).powf(dice.between(0.0, 1.0));
        shape[row.name] = if row.name.ends_with("range_mm") { json!([value, value * 1.1]) } else { json!(value) };
    }
    shape
}

#[test]
fn any_measures_are_built_or_refused_with_a_reason() {
    let mut dice = Dice::new(31);
    let (mut built, mut refused) = (0, 0);
    for i in 0..6000 {
        let kind = ShapeSpec::TAGS[i % ShapeSpec::TAGS.len()];
        let wild = dice.between(0.0, 1.0) < 0.2;
        let spec = json!({"id": "x", "count": 3, "shape": any_shape(kind, &mut dice, wild)});
        // `findings` itself checks that built and refused exclude each other
        let (sound, out) = findings(spec.clone());
        assert!(out.iter().all(|f| f.code != "no-shape" && !f.why.is_empty() && !f.why.contains("NaN")), "{out:#?}");
        if !sound {
            refused += 1;
            continue;
        }
        built += 1;
        ask(&spec, &mut dice);
    }
    // both happen often enough for the loop to mean something
    assert!(built > 1000 && refused > 1000, "{built} built, {refused} refused");
}

fn ask(spec: &Value, dice: &mut Dice) {
    let t = thing(spec.clone());
    let lean = dice.between(-90.0, 90.0);
    let solid: &Solid = t.solid();
    let all = [
        solid.height_when_leaning(lean),
        solid.length_when_leaning(lean),
        solid.volume_mm3(),
        t.mass().grams,
        t.centre_of_mass_mm(),
        t.grip().diameter_mm,
        t.grip().height_mm,
    ];
    assert!(all.iter().all(|v| v.is_finite() && *v >= 0.0), "{spec}: {all:?}");
    assert!((0.0..=solid.height()).contains(&t.centre_of_mass_mm()), "{spec}");
    assert!(solid.height_when_leaning(lean) <= libm::hypot(solid.height(), 2.0 * solid.max_radius()) + 1e-9);
    let Some(v) = t.liquid() else { return };
    let (lo, hi) = v.span(lean);
    let level = v.level_mm(lean, v.fill());
    assert!(lo - 1e-9 <= level && level <= hi + 1e-9, "{spec} at {lean}: {lo} {level} {hi}");
    let got = v.volume_below(lean, level) / v.body_volume_mm3();
    assert!((got - v.fill()).abs() < 1e-7, "{spec} at {lean}: {got}");
}
