//! Fingers reach the place where a thing is taken, while all the others are in.

mod hand;

use self::hand::{Hand, sides};
use super::bound::Bound;
use super::held::Held;
use super::outcome::{About, Outcome, Subject};
use super::place::{has_number, number_now, tenth_above};
use crate::finding::{Finding, Verdict};
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "finger-gap",
    rule: "On two opposite sides of each thing 18 mm are free where it is taken, better 25 for gloves; or it stands 20 mm proud of the panels round it.",
    source: "common practice, no source: gap refused below 12 and warned about below 18, proud by 12 and 20 \
             (index finger breadths at the middle joint: men 19 to 23, women 16 to 21, FAA survey, quoted in a note)",
};

/// A gap narrower than this takes no finger, mm …
const REFUSE_GAP_MM: f64 = 12.0;
/// … and one narrower than this only a thin one.
const WARN_GAP_MM: f64 = 18.0;
/// Standing less proud than this a thing cannot be pinched, mm …
const REFUSE_PROUD_MM: f64 = 12.0;
/// … and less than this only by fingertips.
const WARN_PROUD_MM: f64 = 20.0;

/// What a hand finds at one thing, mm.
#[derive(Clone, Copy)]
struct Grasp {
    gap: f64,
    /// How far it stands proud; nothing where only a grip from both sides will do.
    proud: Option<f64>,
}

impl Grasp {
    /// Order among grasps: the better one is less. Lengths in whole micrometres.
    fn rank(&self) -> (Verdict, i64) {
        (self.verdict(), -((self.gap.max(self.proud.unwrap_or(0.0)) * 1e3) as i64))
    }

    fn verdict(&self) -> Verdict {
        let gap = Bound::least("", "", REFUSE_GAP_MM, WARN_GAP_MM).judge(self.gap);
        let proud = Bound::least("", "", REFUSE_PROUD_MM, WARN_PROUD_MM);
        self.proud.map_or(gap, |p| gap.min(proud.judge(p)))
    }
}

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let (held, boards) = (subject.held(), subject.boards());
    let mut worst: BTreeMap<(usize, usize), (Grasp, usize)> = BTreeMap::new();
    let mut places: BTreeMap<(usize, usize), &Held> = BTreeMap::new();
    for (i, h) in held.iter().enumerate() {
        let hands = sides(h).into_iter().map(|w| grasp(&Hand::from_side(w, &held, i, &boards)));
        let better = |a: Grasp, b: Grasp| if a.rank() <= b.rank() { a } else { b };
        let grasp = hands.fold(Grasp { gap: 0.0, proud: None }, better);
        let key = (h.berth.thing, h.holder);
        places.entry(key).or_insert(h);
        let slot = worst.entry(key).or_insert((grasp, 0));
        if grasp.rank() > slot.0.rank() {
            slot.0 = grasp;
        }
        slot.1 += usize::from(grasp.verdict() > Verdict::Ok);
    }
    for (key, (grasp, berths)) in worst {
        if let Some(h) = places.get(&key) {
            report(subject, h, grasp, berths, out);
        }
    }
}

/// Proud is cheap to see, so it is looked at first.
fn grasp(hand: &Hand) -> Grasp {
    let proud = hand.stands_up().then(|| hand.proud_mm(WARN_PROUD_MM, WARN_GAP_MM));
    if proud.is_some_and(|p| p >= WARN_PROUD_MM) {
        return Grasp { gap: 0.0, proud };
    }
    Grasp { gap: hand.gap_mm(), proud }
}

fn report(subject: &Subject, h: &Held, grasp: Grasp, berths: usize, out: &mut Outcome) {
    let at = h.at();
    let proud = Bound::least("not-proud-enough", "proud_mm", REFUSE_PROUD_MM, WARN_PROUD_MM);
    if let Some(p) =
        grasp.proud.filter(|p| proud.judge(*p) == Verdict::Ok || proud.judge(*p) < gap_bound().judge(grasp.gap))
    {
        if let Some((f, short)) = proud.weigh(&at, p, out) {
            let why = format!(
                "\"{}\" stands {p:.1} mm proud of the panels round it, {short:.1} mm too little to be gripped; beside it {:.1} mm are free.",
                h.thing.id(),
                grasp.gap
            );
            out.find(cures(f.have("berths", berths).why(why), subject, h, grasp.gap));
        }
        return;
    }
    if let Some((f, short)) = gap_bound().weigh(&at, grasp.gap, out) {
        let f = f.have("berths", berths).have("grip_mm", h.thing.grip().height_mm).need("better_mm", WARN_GAP_MM).why(format!(
            "{berths} of \"{}\" go in but do not come out: {:.1} mm are free beside them where a hand takes them, {short:.1} mm too little for fingers.",
            h.thing.id(),
            grasp.gap
        ));
        out.find(cures(f, subject, h, grasp.gap));
    }
}

fn gap_bound() -> Bound {
    Bound::least("too-close-to-grip", "finger_gap_mm", REFUSE_GAP_MM, WARN_GAP_MM)
}

fn cures(mut f: Finding, subject: &Subject, h: &Held, gap: f64) -> Finding {
    let at = &h.built.at;
    if has_number(h.built, "finger_gap_mm") {
        let field = format!("{at}/finger_gap_mm");
        f = f.cure(format!("Leave {WARN_GAP_MM:.0} mm for fingers between them."), field, WARN_GAP_MM);
    }
    if let Some(now) = number_now(subject, h.built, "gap_mm") {
        let wide = tenth_above(now + WARN_GAP_MM - gap);
        f = f.cure(format!("Put the rows {wide:.1} mm apart."), format!("{at}/gap_mm"), wide);
    }
    if h.thing.count() > 1 {
        let fewer = h.thing.count() - 1;
        f = f.cure(format!("Keep {fewer} of them here."), format!("{}/count", h.at()), fewer);
    }
    f
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::geom::{DVec3, Frame};
    use serde_json::{Value, json};

    fn number(out: &Outcome, what: &str) -> Option<f64> {
        out.measured.iter().find(|m| m.what == what).map(|m| m.value)
    }

    /// Polish cans of Ø52 × 175 lying side by side in a tray this wide inside, with a cap or without.
    fn lying(pitch: f64, inside: f64, cap: Option<[f64; 2]>) -> Outcome {
        let drawer = json!({"kind": "drawer", "width_mm": inside + 8.2, "depth_mm": 260, "clear_height_mm": 96});
        let mut shape = json!({"kind": "can", "diameter_mm": 52, "overall_mm": 175});
        if let Some([d, high]) = cap {
            shape["cap_diameter_mm"] = json!(d);
            shape["cap_height_mm"] = json!(high);
        }
        let mut scene = Scene::of(tray_for(drawer, json!([{"id": "polish", "count": 5, "shape": shape}]), 60.0));
        let n = (((inside - 52.0) / pitch).floor() as usize + 1).min(5);
        for i in 0..n {
            let x = 3.1 + 26.0 + (inside - 52.0 - pitch * (n - 1) as f64) / 2.0 + pitch * i as f64;
            let pose = Frame::new(DVec3::new(x, 210.0, 3.1 + 26.0), -DVec3::Y, DVec3::X).unwrap();
            lay(&mut scene, 0, pose, DVec3::Z);
        }
        assert_eq!(scene.holders[0].assembly.berths.len(), n);
        scene.run(run)
    }

    // trade scenario A15 (calculated): five cans at pitch 58 leave 6; 70 is needed, and then there are four
    #[test]
    fn cans_too_close_to_be_gripped() {
        let out = lying(58.0, 300.0, None);
        assert!((number(&out, "finger_gap_mm").unwrap() - 6.0).abs() < 0.05);
        assert_eq!(
            out.findings.iter().map(|f| (f.code, f.verdict)).collect::<Vec<_>>(),
            [("too-close-to-grip", Verdict::Refuse)]
        );
        let out = lying(70.0, 300.0, None);
        assert!(number(&out, "finger_gap_mm").unwrap() > 18.0 - 1e-3);
        assert_eq!(out.findings, vec![]);
        assert_eq!(lying(66.0, 300.0, None).findings[0].verdict, Verdict::Warn);
        // the check is at the grip: a cap of Ø40 leaves 18 at the same pitch of 58, and more to the ends
        let out = lying(58.0, 310.0, Some([40.0, 30.0]));
        assert!((number(&out, "finger_gap_mm").unwrap() - 18.0).abs() < 0.05);
        assert_eq!(out.findings, vec![]);
    }

    fn standing(pitch: f64, height: f64, wall: f64) -> Outcome {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 160});
        let can: Value = json!({"id": "cell", "shape": {"kind": "can", "diameter_mm": 20, "overall_mm": height}});
        let mut scene = Scene::of(tray_for(drawer, json!([can]), wall));
        for (i, k) in (0..3).flat_map(|i| (0..3).map(move |k| (i, k))) {
            let at = DVec3::new(13.2 + pitch * f64::from(i), 13.2 + pitch * f64::from(k), 3.1);
            lay(&mut scene, 0, Frame { origin: at, ..Frame::WORLD }, DVec3::Z);
        }
        scene.run(run)
    }

    #[test]
    fn what_stands_proud_is_pinched_and_what_does_not_needs_a_gap() {
        // walls 40 high: 70 high stands 33.1 proud of them
        let out = standing(24.0, 70.0, 40.0);
        assert!(number(&out, "proud_mm").unwrap() >= 20.0 && out.findings.is_empty(), "{:?}", out.measured);
        // 51.9 high stands 15 proud: fingertips only
        let out = standing(24.0, 51.9, 40.0);
        assert_eq!(out.findings.iter().map(|f| f.verdict).collect::<Vec<_>>(), [Verdict::Warn], "{:?}", out.measured);
        // lower than the walls, and close together
        assert_eq!(standing(24.0, 30.0, 40.0).findings[0].verdict, Verdict::Refuse);
    }
}
