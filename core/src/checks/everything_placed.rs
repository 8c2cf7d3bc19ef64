//! Every thing that was asked for has a place.

use super::outcome::{About, Limit, Outcome, Subject};
use crate::finding::{Finding, Verdict};

/// What this check is about.
pub const ABOUT: About = About {
    name: "everything-placed",
    rule: "Each thing that a holder is to hold has as many places as there are of it.",
    source: "counted",
};

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (k, thing) in subject.job.things.iter().enumerate() {
        let mut holders = subject.job.holders.iter().filter(|h| h.things.contains(&k));
        // a holder that could not be built has said why
        if !holders.all(|h| subject.holders.iter().any(|b| b.at == h.at)) {
            continue;
        }
        if !subject.job.holders.iter().any(|h| h.things.contains(&k)) {
            continue;
        }
        let in_bays = subject.holders.iter().any(|b| b.assembly.bays.iter().any(|bay| bay.thing == Some(k)));
        let berths = subject.holders.iter().flat_map(|b| &b.assembly.berths).filter(|b| b.thing == k).count();
        let places = if in_bays { thing.count() } else { berths };
        let at = format!("/things/{k}/count");
        let missing = thing.count().saturating_sub(places);
        out.measure(at.as_str(), "without_place", missing as f64, Limit::Most(0.0));
        if missing > 0 {
            let f = Finding::new("without-place", Verdict::Refuse, at.as_str())
                .have("places", places)
                .need("places", thing.count())
                .why(format!("{places} of {} \"{}\" have a place; {missing} have none.", thing.count(), thing.id()));
            out.find(if places > 0 { f.cure(format!("Ask for {places}."), at, places) } else { f });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;

    #[test]
    fn a_thing_whose_bay_is_gone_has_no_place() {
        let mut scene = Scene::of(tray());
        assert!(scene.run(run).findings.is_empty());
        scene.holders[0].assembly.bays[1].thing = None;
        let out = scene.run(run);
        assert_eq!(out.findings.len(), 1);
        assert_eq!((out.findings[0].place.as_str(), out.worst_measured()[0].value), ("/things/1/count", 60.0));
    }
}
