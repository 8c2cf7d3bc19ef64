//! Floors and decks do not sag when the holder is lifted full.

use super::bound::Bound;
use super::masses::{Lump, sum_g};
use super::outcome::{About, Outcome, Subject};
use super::place::{called, has_number, thicker_sheet};
use super::plate::{N_PER_G, plate_sag_mm, strip_sag_mm};
use crate::assembly::{Joint, PanelId, Role};
use crate::finding::Finding;
use crate::finish::Built;
use crate::geom::{DVec2, DVec3};

/// What this check is about.
pub const ABOUT: About = About {
    name: "floor-sag",
    rule: "A floor or deck under its full load, lifted, sags by no more than 1/200 of the shorter span between what holds it; beyond 1/100 it is refused.",
    source: "limits: common practice, no source; sag: Navier's series for a simply supported plate (Timoshenko and Woinowsky-Krieger)",
};

/// Warned about above this share of the span …
const WARN_SHARE: f64 = 1.0 / 200.0;
/// … refused above this.
const REFUSE_SHARE: f64 = 1.0 / 100.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (h, built) in subject.holders.iter().enumerate() {
        let lumps = subject.content_lumps(h);
        for (i, panel) in built.assembly.panels.iter().enumerate() {
            if !matches!(panel.role, Role::Floor | Role::Deck) {
                continue;
            }
            let carried: Vec<Lump> = lumps.iter().filter(|l| stands_on(built, l) == Some(i)).copied().collect();
            if carried.is_empty() {
                continue;
            }
            one(subject, built, i, &carried, out);
        }
    }
}

/// A lump whose lowest point is this near above a panel's face stands on it, mm.
const STANDS_MM: f64 = 1.0;

/// Which level panel a lump stands on: the highest whose upper face is just below it.
pub(super) fn stands_on(built: &Built, lump: &Lump) -> Option<usize> {
    let own = lump.at - built.origin;
    let low = lump.low - built.origin.z;
    let top = |i: usize| {
        let s = &built.assembly.panels[i].slab;
        s.frame.origin.z + (s.frame.z.z * s.thickness).max(0.0)
    };
    let level = |i: &usize| {
        let p = &built.assembly.panels[*i];
        matches!(p.role, Role::Floor | Role::Deck) && p.slab.frame.z.z.abs() > LEVEL_COS
    };
    (0..built.assembly.panels.len())
        .filter(level)
        .filter(|i| (low - top(*i)).abs() <= STANDS_MM)
        .filter(|i| {
            let (lo, hi) = built.finished.panels[*i].region.bounds();
            let p = built.assembly.panels[*i].slab.frame.into_own(own).truncate();
            p.cmpge(lo).all() && p.cmple(hi).all()
        })
        .max_by(|a, b| top(*a).total_cmp(&top(*b)))
}

/// Within this of 1 a panel counts as level: half a degree.
const LEVEL_COS: f64 = 0.999_96;

/// Where a panel is held: places across its own x and y, sorted, its edges included where something
/// holds them.
struct Supports {
    x: Vec<f64>,
    y: Vec<f64>,
    /// Whether the low and high edge are held.
    held_x: [bool; 2],
    held_y: [bool; 2],
}

fn supports(built: &Built, panel: usize) -> Supports {
    let a = &built.assembly;
    let me = &a.panels[panel];
    let (lo, hi) = built.finished.panels[panel].region.bounds();
    let mut s = Supports { x: vec![lo.x, hi.x], y: vec![lo.y, hi.y], held_x: [false; 2], held_y: [false; 2] };
    for m in &a.meetings {
        let other = match (m.a == PanelId(panel), m.b == PanelId(panel)) {
            (true, _) => m.b,
            (_, true) => m.a,
            _ => continue,
        };
        let slab = &a.panel(other).slab;
        let along = slab.frame.z.cross(me.slab.frame.z).normalize_or_zero();
        let along = me.slab.frame.dir_own(along).truncate();
        let middle = slab.frame.out(DVec3::new(0.0, 0.0, slab.thickness / 2.0));
        let place = me.slab.frame.into_own(middle).truncate();
        let reach = spans(built, other.0, panel);
        // a rest holds an edge (it lies on ledges), never the middle
        for (axis, places, held) in [(0, &mut s.x, &mut s.held_x), (1, &mut s.y, &mut s.held_y)] {
            let runs_across = along[1 - axis].abs() > LEVEL_COS;
            if !runs_across {
                continue;
            }
            let (l, h) = (lo[axis], hi[axis]);
            let near = 2.0 * slab.thickness + STANDS_MM;
            if place[axis] - l < near {
                held[0] = true;
            } else if h - place[axis] < near {
                held[1] = true;
            } else if m.joint != Joint::Rest && reach {
                places.push(place[axis]);
            }
        }
    }
    s.x.sort_by(f64::total_cmp);
    s.y.sort_by(f64::total_cmp);
    s
}

/// Whether a cross panel reaches from one side of the plate to the other, but for the walls.
fn spans(built: &Built, cross: usize, plate: usize) -> bool {
    let (c, p) = (&built.finished.panels[cross], &built.finished.panels[plate]);
    let e = c.blank.slab.frame.z.cross(p.blank.slab.frame.z).normalize_or_zero();
    let ((c0, c1), (p0, p1)) = (c.blank.reach(e), p.blank.reach(e));
    (c1 - c0) >= SPANNING_SHARE * (p1 - p0)
}

/// A panel that covers this share of a floor's length holds it up along the whole of it.
const SPANNING_SHARE: f64 = 0.9;

/// The field of a plate that sags most for its span.
struct Field {
    sag: f64,
    span: f64,
    load_g: f64,
}

fn one(subject: &Subject, built: &Built, panel: usize, carried: &[Lump], out: &mut Outcome) {
    let p = &built.assembly.panels[panel];
    let stock = &subject.job.stocks[p.stock];
    let (e, t) = (stock.profile.e_flat_n_mm2.value, p.slab.thickness);
    let s = supports(built, panel);
    let own: Vec<(DVec2, f64)> =
        carried.iter().map(|l| (p.slab.frame.into_own(l.at - built.origin).truncate(), l.mass_g)).collect();
    let mut worst: Option<Field> = None;
    for (i, wx) in s.x.windows(2).enumerate() {
        for (k, wy) in s.y.windows(2).enumerate() {
            let load_g: f64 = own
                .iter()
                .filter(|(at, _)| wx[0] <= at.x && at.x < wx[1] && wy[0] <= at.y && at.y < wy[1])
                .map(|o| o.1)
                .sum();
            let (a, b) = (wx[1] - wx[0], wy[1] - wy[0]);
            if load_g <= 0.0 || a <= 0.0 || b <= 0.0 {
                continue;
            }
            let q = load_g * N_PER_G / (a * b);
            let held = |edges: [bool; 2], i: usize, n: usize| (i > 0 || edges[0]) && (i + 2 < n || edges[1]);
            let (in_x, in_y) = (held(s.held_x, i, s.x.len()), held(s.held_y, k, s.y.len()));
            let (sag, span) = match (in_x, in_y) {
                (true, false) => (strip_sag_mm(a, q, e, t), a),
                (false, true) => (strip_sag_mm(b, q, e, t), b),
                // held nowhere at its edges it lies on what is below: reckoned as if it were held all round
                _ => (plate_sag_mm(a, b, q, e, t), a.min(b)),
            };
            if worst.as_ref().is_none_or(|w| sag / span > w.sag / w.span) {
                worst = Some(Field { sag, span, load_g });
            }
        }
    }
    let Some(w) = worst else { return };
    let bound = Bound::most("floor-sags", "sag_mm", REFUSE_SHARE * w.span, WARN_SHARE * w.span);
    let Some((f, over)) = bound.weigh(&built.part_code(panel), w.sag, out) else { return };
    let f = f
        .have("load_g", w.load_g)
        .have("span_mm", w.span)
        .need("better_mm", WARN_SHARE * w.span)
        .why(format!(
            "Lifted with {:.1} kg on it (of {:.1} kg in all), part {} sags {:.1} mm over {:.0} mm, {over:.1} mm more than goes; its tabs pry out of their slots.",
            w.load_g / 1000.0,
            sum_g(carried) / 1000.0,
            called(built, panel),
            w.sag,
            w.span
        ));
    out.find(cures(f, subject, built, panel));
}

/// A thicker sheet of the job, or one more divider.
fn cures(f: Finding, subject: &Subject, built: &Built, panel: usize) -> Finding {
    let mut f = thicker_sheet(f, subject, built, panel);
    for (axis, field, what) in [(DVec3::X, "columns", "across the width"), (DVec3::Y, "rows", "across the depth")] {
        let dividers = built
            .assembly
            .panels
            .iter()
            .filter(|p| p.role == Role::Divider && p.slab.frame.z.dot(axis).abs() > LEVEL_COS)
            .count();
        if has_number(built, field) && built.family == "compartments" {
            f = f.cure(
                format!("One more divider {what}, tabbed into the floor."),
                format!("{}/{field}", built.at),
                dividers + 2,
            );
        }
    }
    f
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray_for};
    use super::*;
    use crate::finding::{Amount, Verdict};
    use serde_json::json;

    // trade scenario A21: a tray 513.1 × 438.1 of 3.10 (E 6000) with 9 kg in it: sags 4.8, limits 2.19 and 4.38
    fn loaded(columns: u32) -> Outcome {
        let drawer = json!({"kind": "drawer", "width_mm": 515.1, "depth_mm": 440.1, "clear_height_mm": 96});
        let parts =
            json!([{"id": "bolts", "count": 900, "mass_g": 10, "shape": {"kind": "loose", "piece_mm": [10, 10, 10]}}]);
        let mut request = tray_for(drawer, parts, 70.0);
        request["holders"][0]["columns"] = json!(columns);
        request["holders"][0]["things"] = json!(["bolts"]);
        request["stocks"][0]["e_along_n_mm2"] = json!(6000);
        request["stocks"][0]["e_across_n_mm2"] = json!(6000);
        let mut scene = Scene::of(request);
        // spread evenly, as the scenario has it
        for bay in &mut scene.holders[0].assembly.bays {
            bay.thing = Some(0);
        }
        scene.run(run)
    }

    #[test]
    fn nine_kilograms_on_a_wide_floor() {
        let out = loaded(1);
        let sag = out.worst_measured()[0].value;
        assert!((sag - 4.8).abs() < 0.15, "{sag}");
        let f = &out.findings[0];
        assert_eq!(f.verdict, Verdict::Refuse);
        let Amount::Number(limit) = f.need[0].1 else { panic!() };
        assert!((limit - 4.38).abs() < 0.05);
        assert!((out.worst_measured()[0].margin() + sag - 2.19).abs() < 0.05);
        assert!(
            f.cures.iter().any(|c| c.patch[0].path == "/holders/0/columns" && c.patch[0].value == Some(2_usize.into()))
        );
    }

    #[test]
    fn one_divider_of_full_width_holds_it() {
        let out = loaded(2);
        let sag = out.worst_measured()[0].value;
        assert!((sag - 0.92).abs() < 0.1, "{sag}");
        assert!(out.findings.is_empty(), "{:#?}", out.findings);
    }
}
