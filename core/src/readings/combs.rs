//! Combs of slots → the shift of this shop's hand, with everything that makes the answers doubtful.

use super::feel::{Felt, Shift};
use super::profile::FitEstimate;
use super::request::{Answer, CombReading, GrainWay};
use crate::finding::{Finding, Verdict};
use crate::material::Stock;
use crate::statistics::{Prediction, Sample, Term};
use crate::units::tidy;

/// Share of an interval that is meant by "where it lies".
pub const LEVEL: f64 = 0.95;

/// Comb and readings that are this far apart contradict each other: a kerf that was applied twice or
/// not at all moves a comb by at least the least plausible kerf of 3 mm wood (0.12, common practice).
const CONTRADICTS_MM: f64 = 0.12;

/// A reading by calipers is good to this standard deviation, mm (common practice, no source).
const CALIPER_SD_MM: f64 = 0.01;

/// The shift that all combs together show; `None` when they say nothing.
pub fn estimate(combs: &[CombReading], stock: &Stock, out: &mut Vec<Finding>) -> Option<FitEstimate> {
    let tried = |c: &CombReading| c.slots.iter().filter(|s| s.answer.is_some()).count();
    if combs.iter().map(tried).sum::<usize>() == 0 {
        return None;
    }
    if stock.profile.fit.words_mm.is_some() {
        out.push(
            Finding::new("comb-says-nothing", Verdict::Warn, "/combs")
                .have("material", stock.material.as_str())
                .need("material", "one that is not simply squeezed")
                .why("In a soft board every slot is squeezed shut: the words do not tell clearances apart, and the comb is passed over."),
        );
        return None;
    }
    let (mut all, mut by_grain, mut tongue) = (vec![], vec![], None);
    for (i, comb) in combs.iter().enumerate() {
        out_of_order(comb, &format!("/combs/{i}/slots"), out);
        let thickness = own_tongue(comb).unwrap_or(stock.next_thickness.next);
        // where the machine widens the cut, a slot comes out as drawn
        let felt = felt(comb, stock.drawn_kerf_mm, thickness.centre);
        // one coupon, one place: what is off there is off for all; the least known tongue decides
        tongue = tongue.filter(|t: &Prediction| t.scale >= thickness.scale).or(Some(thickness));
        by_grain.push((comb.grain, felt.clone()));
        all.extend(felt);
    }
    open_ended(&all, out);
    differ(&by_grain, out);
    let off = [stock.next_kerf.next, tongue?].map(|value| Term { times: 1.0, value });
    let shift = Shift::of(&all)?.blurred(&Prediction::sum(&off));
    let interval = shift.interval_mm(LEVEL);
    contradicts(shift.mean_mm(), interval, out);
    Some(FitEstimate { answers: all.len(), shift_mm: shift.mean_mm(), shift_interval_mm: interval })
}

fn own_tongue(comb: &CombReading) -> Option<Prediction> {
    let sample = Sample::of(comb.tongue_mm.as_ref()?.all())?;
    Some(Prediction::normal(sample.mean, CALIPER_SD_MM / (sample.count as f64).sqrt()))
}

fn felt(comb: &CombReading, kerf_mm: f64, tongue_mm: f64) -> Vec<Felt> {
    comb.slots
        .iter()
        .filter_map(|s| Some(Felt { clearance_mm: s.drawn_mm + kerf_mm - tongue_mm, answer: s.answer? }))
        .collect()
}

/// A wider slot that feels tighter: by one word it is scatter, by two somebody mixed up the slots.
fn out_of_order(comb: &CombReading, at: &str, out: &mut Vec<Finding>) {
    let mut slots: Vec<(f64, Answer)> = comb.slots.iter().filter_map(|s| Some((s.drawn_mm, s.answer?))).collect();
    slots.sort_by(|a, b| a.0.total_cmp(&b.0));
    let worst = slots
        .iter()
        .enumerate()
        .flat_map(|(i, narrow)| slots[i + 1..].iter().map(move |wide| (narrow, wide)))
        .filter(|(narrow, wide)| wide.0 > narrow.0 && wide.1 < narrow.1)
        .max_by_key(|(narrow, wide)| narrow.1 as usize - wide.1 as usize);
    let Some((narrow, wide)) = worst else { return };
    let words = narrow.1 as usize - wide.1 as usize;
    let verdict = if words > 1 { Verdict::Refuse } else { Verdict::Warn };
    out.push(
        Finding::new("answers-out-of-order", verdict, at)
            .have("narrow_mm", narrow.0)
            .have("narrow_feels", narrow.1.word())
            .have("wide_mm", wide.0)
            .have("wide_feels", wide.1.word())
            .need("words_apart_max", 0.0)
            .why(format!(
                "The slot drawn {} mm is \"{}\", and the wider one of {} mm is \"{}\": tighter by {words} word{}. Try both again; a burr or a char wedge does that, and so does a mixed-up number.",
                tidy(narrow.0),
                narrow.1.word(),
                tidy(wide.0),
                wide.1.word(),
                if words == 1 { "" } else { "s" }
            )),
    );
}

/// Answers that are all at one end bracket nothing on the other side.
fn open_ended(felt: &[Felt], out: &mut Vec<Finding>) {
    for (end, side) in [(Answer::Refuses, "wider"), (Answer::Rattles, "narrower")] {
        if felt.iter().all(|f| f.answer == end) {
            out.push(
                Finding::new("comb-open-ended", Verdict::Refuse, "/combs")
                    .have("answers", felt.len())
                    .have("feels", end.word())
                    .need("feels", "at least one slot that is neither refuses nor rattles")
                    .why(format!(
                        "Every slot {}: the fit lies somewhere beyond the comb. Cut a comb of {side} slots.",
                        end.word()
                    )),
            );
        }
    }
}

/// The two grain directions apart by more than either's own doubt.
fn differ(by_grain: &[(GrainWay, Vec<Felt>)], out: &mut Vec<Finding>) {
    let of = |way: GrainWay| {
        let felt: Vec<Felt> = by_grain.iter().filter(|(g, _)| *g == way).flat_map(|(_, f)| f.clone()).collect();
        Shift::of(&felt)
    };
    let (Some(along), Some(across)) = (of(GrainWay::Along), of(GrainWay::Across)) else { return };
    let (a, b) = (along.interval_mm(LEVEL), across.interval_mm(LEVEL));
    let apart = (a[0] - b[1]).max(b[0] - a[1]);
    if apart > 0.0 {
        out.push(
            Finding::new("grain-differs", Verdict::Warn, "/combs")
                .have("along_mm", along.mean_mm())
                .have("across_mm", across.mean_mm())
                .need("apart_max_mm", 0.0)
                .why(format!(
                    "Along the grain the answers lie {:+.3} mm off the trade's, across it {:+.3} mm: {apart:.3} mm more than their own doubt. The mean of both is used.",
                    along.mean_mm(),
                    across.mean_mm()
                )),
        );
    }
}

fn contradicts(shift: f64, interval: [f64; 2], out: &mut Vec<Finding>) {
    let beyond = (interval[0] - CONTRADICTS_MM).max(-CONTRADICTS_MM - interval[1]);
    if beyond > 0.0 {
        out.push(
            Finding::new("comb-contradicts-readings", Verdict::Refuse, "/combs")
                .have("shift_mm", shift)
                .have("shift_interval_mm", interval.to_vec())
                .need("shift_max_mm", CONTRADICTS_MM)
                .why(format!(
                    "By calipers and strip the slots should be {:.3} mm {} than they feel; even the near end of that, {:.3} mm, is {beyond:.3} mm more than a hand differs. The kerf was applied twice or not at all, or the comb is from another sheet.",
                    shift.abs(),
                    if shift > 0.0 { "wider" } else { "narrower" },
                    if shift > 0.0 { interval[0] } else { -interval[1] }
                )),
        );
    }
}
