//! How much of a design is made: all of it, one holder, or its most doubtful place and the one beside it.

use super::spec::{CellsSpec, PrototypeSpec};
use crate::arrange::{arrange, context};
use crate::checks::{About, Outcome};
use crate::job::{HolderJob, Job, Request};
use crate::things::{ShapeSpec, Thing, ThingSpec};

/// Checks that a person proves by hand on a prototype: where the least is left, doubt is greatest.
const BY_HAND: [&str; 6] = ["finger-gap", "reach", "lid-swing", "height", "lean-tip", "compartment-reach"];

/// One place and its nearest neighbour are enough to try angle, reach and lid (common practice, no source).
const PLACES: f64 = 2.0;

/// The part of the design that is made, as a request of its own, and in words; `None` for all of it.
#[must_use]
pub fn part_of(spec: &PrototypeSpec, job: &Job, checks: &[(About, Outcome)]) -> Option<(Request, String)> {
    let whole = spec.cells == CellsSpec::All;
    let (holder, thing) = match (whole, spec.holder) {
        (true, None) => return None,
        (true, Some(h)) => (h as usize, None),
        (false, _) => doubtful(spec, job, checks),
    };
    let h = job.holders.get(holder)?;
    let room = arrange(job).get(holder)?.room;
    let id = thing.and_then(|t| job.things.get(t)).map(Thing::id);
    let sample = (!whole).then(|| h.spec.family().sample(&context(job, h, room), id)).flatten();
    let words = match (&sample, id) {
        (Some(_), Some(id)) => format!("two places of \"{id}\", side by side, of holder {holder}"),
        (Some(_), None) => format!("two places, side by side, of holder {holder}"),
        (None, _) => format!("holder {holder}, whole"),
    };
    let listed = |t: &ThingSpec| if sample.is_some() { Some(t.id.as_str()) == id } else { held(job, h, &t.id) };
    let things = spec.design.things.iter().filter(|t| listed(t)).cloned();
    let things = things.map(|t| if sample.is_some() { fewer(t) } else { t }).collect();
    let holders = vec![sample.unwrap_or_else(|| h.spec.clone())];
    Some((Request { things, holders, ..spec.design.clone() }, words))
}

fn held(job: &Job, h: &HolderJob, id: &str) -> bool {
    h.things.iter().filter_map(|t| job.things.get(*t)).any(|t| t.id() == id)
}

/// As many of a thing as there are places; loose pieces share one.
fn fewer(mut thing: ThingSpec) -> ThingSpec {
    if !matches!(thing.shape, ShapeSpec::Loose(_)) {
        thing.count = Some(thing.count().min(PLACES));
    }
    thing
}

/// The holder and thing for which the checks that a hand proves leave the least.
fn doubtful(spec: &PrototypeSpec, job: &Job, checks: &[(About, Outcome)]) -> (usize, Option<usize>) {
    let asked = spec.thing.as_ref().and_then(|id| job.things.iter().position(|t| t.id() == id));
    let asked_holder = spec.holder.map(|h| h as usize);
    let fits = |(h, t): &(usize, Option<usize>)| {
        asked_holder.is_none_or(|want| want == *h) && (asked.is_none() || asked == *t)
    };
    let by_hand = checks.iter().filter(|(about, _)| BY_HAND.contains(&about.name));
    let narrowest = by_hand
        .flat_map(|(_, o)| &o.measured)
        .filter(|m| m.what.ends_with("_mm") && m.margin().is_finite())
        .filter_map(|m| Some((m.margin(), place(job, &m.place)?)))
        .filter(|(_, place)| fits(place))
        .min_by(|a, b| a.0.total_cmp(&b.0));
    let (holder, thing) = narrowest.map_or((asked_holder.unwrap_or(0), asked), |(_, place)| place);
    let holder = asked.and_then(|t| job.holders.iter().position(|h| h.things.contains(&t))).unwrap_or(holder);
    let first = || job.holders.get(holder).and_then(|h| h.things.first().copied());
    (holder, thing.or(asked).or_else(first))
}

/// A measured place as holder and thing: `/things/3`, `/holders/1`.
fn place(job: &Job, at: &str) -> Option<(usize, Option<usize>)> {
    let number = |rest: &str| rest.split('/').next().and_then(|n| n.parse::<usize>().ok());
    if let Some(t) = at.strip_prefix("/things/").and_then(number) {
        return job.holders.iter().position(|h| h.things.contains(&t)).map(|h| (h, Some(t)));
    }
    let h = at.strip_prefix("/holders/").and_then(number)?;
    Some((h, None))
}
