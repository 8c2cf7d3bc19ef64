//! The request, checked: a job that can be wrong cannot be built.

use super::{EffortSpec, Limits, Request};
use crate::families::HolderSpec;
use crate::finding::{Finding, Verdict};
use crate::material::{Cutter, CutterSpec, Fits, Stock, USUAL_CUTTER};
use crate::spaces::Space;
use crate::things::{ShapeSpec, Thing};
use crate::units::{DefaultUsed, check_name};

/// One holder that is wanted, with its references resolved.
#[derive(Clone, Debug)]
pub struct HolderJob {
    /// What the family is told.
    pub spec: HolderSpec,
    /// Where it stands in the request.
    pub at: String,
    /// Its things, as places in [`Job::things`].
    pub things: Vec<usize>,
    /// Stock of its panels, floor and inner parts, as places in [`Job::stocks`].
    pub stocks: [usize; 3],
}

/// The checked request.
#[derive(Clone, Debug)]
pub struct Job {
    /// What people call it.
    pub name: String,
    /// Where the holders go.
    pub space: Space,
    /// The machine.
    pub cutter: Cutter,
    /// The sheets.
    pub stocks: Vec<Stock>,
    /// The fits, as they hold in each stock.
    pub fits: Vec<Fits>,
    /// The things.
    pub things: Vec<Thing>,
    /// The holders.
    pub holders: Vec<HolderJob>,
    /// How long to look for better sheets.
    pub effort: EffortSpec,
}

impl Job {
    /// Checks a request: all faults go to `out`, all defaults to `defaults`. `None` when anything
    /// that the stages below need was refused.
    #[must_use]
    pub fn checked(
        request: &Request,
        limits: &Limits,
        out: &mut Vec<Finding>,
        defaults: &mut Vec<DefaultUsed>,
    ) -> Option<Self> {
        let before = out.len();
        if !request.name.is_empty() {
            check_name(&request.name, "/name", out);
        }
        let enough = counted(request, limits, out);
        if !enough {
            // the ranges of what was listed are still said: all faults, not the first
            for (i, t) in request.things.iter().take(limits.things).enumerate() {
                t.check(&format!("/things/{i}"), out);
            }
            return None;
        }
        let usual = CutterSpec::Named(USUAL_CUTTER.to_owned());
        let cutter_spec = request.cutter.as_ref().unwrap_or(&usual);
        let cutter = Cutter::checked(cutter_spec, "/cutter", out);
        let space = Space::checked(&request.space, "/space", out);
        let mut stocks = vec![];
        let mut fits = vec![];
        if let Some(cutter) = &cutter {
            cutter.note_defaults(cutter_spec, "/cutter", defaults);
            for (i, s) in request.stocks.iter().enumerate() {
                if let Some(stock) = Stock::checked(s, cutter, &format!("/stocks/{i}"), out) {
                    stock.note_defaults(s, &format!("/stocks/{i}"), defaults);
                    fits.push(Fits::resolve(&request.fits, stock.profile.fit, &stock.material, "/fits", out));
                    stocks.push(stock);
                }
            }
        }
        request.fits.check("/fits", out);
        if let Some(f) = fits.first() {
            f.note_defaults(&request.fits, "/fits", defaults);
        }
        let things: Vec<Thing> = request
            .things
            .iter()
            .enumerate()
            .filter_map(|(i, t)| {
                t.note_all_defaults(&format!("/things/{i}"), defaults);
                Thing::checked(t, &format!("/things/{i}"), out)
            })
            .collect();
        request.space.note_all_defaults("/space", defaults);
        twice(request.stocks.iter().map(|s| s.id.as_str()), "/stocks", out);
        twice(request.things.iter().map(|t| t.id.as_str()), "/things", out);
        let holders = holders(request, out, defaults);
        let refused = out[before..].iter().any(|f| f.verdict == Verdict::Refuse);
        if refused || things.len() != request.things.len() || stocks.len() != request.stocks.len() {
            return None;
        }
        Some(Self {
            name: request.name.clone(),
            space: space?,
            cutter: cutter?,
            stocks,
            fits,
            things,
            holders,
            effort: request.effort,
        })
    }
}

/// Counts are checked before anything is computed.
fn counted(request: &Request, limits: &Limits, out: &mut Vec<Finding>) -> bool {
    let pieces = |t: &crate::things::ThingSpec| match t.shape {
        ShapeSpec::Loose(_) => 1,
        _ => t.count().clamp(0.0, 1e9) as usize,
    };
    let things = request.things.iter().map(pieces).sum();
    let mut enough = Limits::check("too-many-things", "things", "/things", things, limits.things, out);
    enough &= Limits::check("too-many-holders", "holders", "/holders", request.holders.len(), limits.holders, out);
    enough &= Limits::check("too-many-stocks", "stocks", "/stocks", request.stocks.len(), limits.stocks, out);
    for (what, at, n) in [("stock", "/stocks", request.stocks.len()), ("holder", "/holders", request.holders.len())] {
        if n == 0 {
            out.push(
                Finding::new("nothing-asked", Verdict::Refuse, at)
                    .have("count", 0.0)
                    .need("count", 1.0)
                    .why(format!("At least one {what} is needed.")),
            );
            enough = false;
        }
    }
    enough
}

/// Ids that stand twice.
fn twice<'a>(ids: impl Iterator<Item = &'a str>, at: &str, out: &mut Vec<Finding>) {
    let mut seen = std::collections::BTreeSet::new();
    for (i, id) in ids.enumerate() {
        if !seen.insert(id) {
            out.push(
                Finding::new("id-twice", Verdict::Refuse, format!("{at}/{i}/id"))
                    .have("id", id)
                    .need("id", "one that no other has")
                    .why("Two entries have the same id: nobody could tell which one is meant."),
            );
        }
    }
}

/// Resolves what holders refer to.
fn holders(request: &Request, out: &mut Vec<Finding>, defaults: &mut Vec<DefaultUsed>) -> Vec<HolderJob> {
    let mut all = vec![];
    for (i, spec) in request.holders.iter().enumerate() {
        let at = format!("/holders/{i}");
        spec.check(&at, out);
        spec.note_defaults(&at, defaults);
        let common = spec.common();
        let mut stock = |name: Option<&str>, field: &str, usual: usize| match name {
            None => usual,
            Some(id) => request.stocks.iter().position(|s| s.id == id).unwrap_or_else(|| {
                let known: Vec<&str> = request.stocks.iter().map(|s| s.id.as_str()).collect();
                out.push(unknown(&format!("{at}/{field}"), id, "stock", &known));
                usual
            }),
        };
        let panels = stock(common.stock, "stock", 0);
        let floor = stock(common.floor_stock, "floor_stock", panels);
        let inner = stock(common.inner_stock, "inner_stock", panels);
        let mut things = vec![];
        for (k, id) in common.things.iter().enumerate() {
            match request.things.iter().position(|t| t.id == *id) {
                Some(t) => things.push(t),
                None => {
                    let known: Vec<&str> = request.things.iter().map(|t| t.id.as_str()).collect();
                    out.push(unknown(&format!("{at}/things/{k}"), id, "thing", &known));
                }
            }
        }
        all.push(HolderJob { spec: spec.clone(), at, things, stocks: [panels, floor, inner] });
    }
    for (t, thing) in request.things.iter().enumerate() {
        let holders = all.iter().filter(|h: &&HolderJob| h.things.contains(&t)).count();
        if holders != 1 {
            out.push(
                Finding::new(
                    "thing-without-one-holder",
                    if holders == 0 { Verdict::Warn } else { Verdict::Refuse },
                    format!("/things/{t}"),
                )
                .have("holders", holders)
                .need("holders", 1.0)
                .why(format!("\"{}\" stands in {holders} holders' lists; it is held by one.", thing.id)),
            );
        }
    }
    all
}

fn unknown(at: &str, id: &str, what: &str, known: &[&str]) -> Finding {
    let shown: String = id.chars().take(60).collect();
    Finding::new("unknown-id", Verdict::Refuse, at)
        .have("id", shown.as_str())
        .need("known_ids", known.join(", "))
        .why(format!("No {what} of this request is called \"{shown}\"."))
}
