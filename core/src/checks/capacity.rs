//! As many loose parts as were named go into their compartments.

use super::outcome::{About, Limit, Outcome, Subject};
use crate::finding::{Finding, Verdict};
use crate::things::FILLED_HEIGHT_SHARE;
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "capacity",
    rule: "Loose parts fill their compartments to 0.85 of the height at most; beyond the brim they are refused.",
    source: "common practice, no source: pieces = 0.55 · (width · depth · 0.85 height) / piece volume",
};

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    // pieces that go in at 0.85 of the height, and to the brim
    let mut room: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
    for l in subject.lying() {
        let Some(loose) = l.thing.loose() else { continue };
        let (w, d, h) = (l.bay.x.1 - l.bay.x.0, l.bay.y.1 - l.bay.y.0, l.bay.z.1 - l.bay.z.0);
        let sum = room.entry(l.index).or_default();
        sum.0 += loose.capacity(w, d, h);
        sum.1 += loose.capacity(w, d, h / FILLED_HEIGHT_SHARE);
    }
    for (index, (usual, brim)) in room {
        let thing = &subject.job.things[index];
        let at = format!("/things/{index}/count");
        out.measure(at.as_str(), "pieces_share", thing.count() as f64 / (usual.max(1)) as f64, Limit::Most(1.0));
        let have = thing.count();
        let (verdict, most) = match have {
            n if n > brim => (Verdict::Refuse, brim),
            n if n > usual => (Verdict::Warn, usual),
            _ => continue,
        };
        let why = if usual == 0 {
            format!("A piece of \"{}\" is longer than its compartment: none goes in.", thing.id())
        } else {
            format!("{have} \"{}\" are {} more than their compartment takes ({most}).", thing.id(), have - most)
        };
        let f = Finding::new("compartment-overfull", verdict, at.as_str())
            .have("pieces", have)
            .need("pieces", most)
            .why(why);
        out.find(if most > 0 { f.cure(format!("Keep {usual} of them here."), at, usual) } else { f });
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::json;

    fn with_nipples(count: usize, piece: [f64; 3]) -> Option<(Verdict, f64)> {
        let mut request = tray();
        request["things"][0]["count"] = json!(count);
        request["things"][0]["shape"]["piece_mm"] = json!(piece);
        let out = Scene::of(request).run(run);
        let share = out.measured[0].value;
        out.findings.first().map(|f| (f.verdict, share))
    }

    // a bay of about 104.5 × 125.4 × 41.9: 0.55 · 0.85 of its volume in pieces of 10 × 10 × 10
    #[test]
    fn the_trades_rule_and_the_brim() {
        let cube = [10.0, 10.0, 10.0];
        assert_eq!(with_nipples(250, cube), None);
        assert_eq!(with_nipples(290, cube).map(|f| f.0), Some(Verdict::Warn));
        assert_eq!(with_nipples(310, cube).map(|f| f.0), Some(Verdict::Refuse));
        assert_eq!(with_nipples(1, [180.0, 4.0, 4.0]).map(|f| f.0), Some(Verdict::Refuse));
    }
}
