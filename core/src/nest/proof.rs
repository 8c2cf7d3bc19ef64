//! The last word on a layout: true outlines, their arcs as arcs, measured against gap and margin.

use super::outline::turned_region;
use super::types::{Layout, NestPart, Place, Rules, SheetSupply};
use crate::geom::{DVec2, Region, Segment, intersect};

/// What is wrong with a layout.
#[derive(Clone, Debug, PartialEq)]
pub enum Flaw {
    /// A part is missing, there twice, or unknown.
    Count {
        /// [`NestPart::id`].
        part: usize,
    },
    /// A part stands too near the sheet's edge, or over it.
    Edge {
        /// [`NestPart::id`].
        part: usize,
        /// How far it is from the edge, mm; negative beyond it.
        distance_mm: f64,
    },
    /// Two parts stand too near each other, or one lies on the other's material (distance 0). A keep-out
    /// is named by its part's number alone, twice.
    Gap {
        /// [`NestPart::id`].
        part: usize,
        /// The other one.
        other: usize,
        /// How far apart they are, mm.
        distance_mm: f64,
    },
}

/// Shortfall that is f64 noise and not a fault, mm.
const NOISE_MM: f64 = 1e-9;

/// Shared area that is f64 noise along a common edge, mm².
const SHARED_MM2: f64 = 1e-5;

/// An outline where it lies.
struct Laid {
    id: usize,
    region: Region,
    segments: Vec<(Segment, DVec2, DVec2)>,
    min: DVec2,
    max: DVec2,
}

impl Laid {
    fn new(id: usize, region: Region) -> Self {
        let (min, max) = region.bounds();
        let segments = region
            .segments()
            .map(|s| {
                let (low, high) = s.bounds();
                (s, low, high)
            })
            .collect();
        Self { id, region, segments, min, max }
    }
    fn placed(part: &NestPart, place: &Place) -> Self {
        let turned = turned_region(&part.region, place.turn_deg);
        Self::new(part.id, turned.moved(DVec2::new(place.dx_mm, place.dy_mm)))
    }
}

/// Everything that is wrong with a layout; nothing when it can be cut.
#[must_use]
pub fn flaws(parts: &[NestPart], sheets: &[SheetSupply], rules: &Rules, layout: &Layout) -> Vec<Flaw> {
    let mut out = vec![];
    let mut index: Vec<(usize, usize)> = parts.iter().enumerate().map(|(i, p)| (p.id, i)).collect();
    index.sort_unstable();
    let mut seen = vec![0_usize; parts.len()];
    for sheet in &layout.sheets {
        let mut laid = vec![];
        for place in &sheet.places {
            // parts with equal numbers are told apart by the order in which they come
            let from = index.partition_point(|(id, _)| *id < place.part);
            let own = index[from..].iter().take_while(|(id, _)| *id == place.part).map(|&(_, i)| i);
            match own.min_by_key(|&i| seen[i]) {
                Some(i) => {
                    seen[i] += 1;
                    laid.push(Laid::placed(&parts[i], place));
                }
                None => out.push(Flaw::Count { part: place.part }),
            }
        }
        let keep_outs = sheets.iter().filter(|s| s.id == sheet.supply).flat_map(|s| &s.keep_outs);
        let fixed = keep_outs.map(|c| Laid::new(usize::MAX, Region { outer: c.ccw(), holes: vec![] })).collect();
        let size = DVec2::new(sheet.width_mm, sheet.height_mm);
        edge_flaws(&laid, size, rules.margin_mm, &mut out);
        gap_flaws(laid, fixed, rules.gap_mm, &mut out);
    }
    out.extend(seen.iter().zip(parts).filter(|(n, _)| **n != 1).map(|(_, p)| Flaw::Count { part: p.id }));
    out
}

fn edge_flaws(laid: &[Laid], size: DVec2, margin_mm: f64, out: &mut Vec<Flaw>) {
    for l in laid {
        let distance_mm = l.min.min_element().min((size - l.max).min_element());
        if distance_mm < margin_mm - NOISE_MM {
            out.push(Flaw::Edge { part: l.id, distance_mm });
        }
    }
}

fn gap_flaws(mut laid: Vec<Laid>, fixed: Vec<Laid>, gap_mm: f64, out: &mut Vec<Flaw>) {
    laid.extend(fixed);
    laid.sort_by(|a, b| a.min.x.total_cmp(&b.min.x));
    for (i, a) in laid.iter().enumerate() {
        for b in laid[i + 1..].iter().take_while(|b| b.min.x < a.max.x + gap_mm) {
            if a.id == usize::MAX && b.id == usize::MAX {
                continue;
            }
            // where no gap is asked for, parts may touch, and a distance of 0 says nothing
            let touching = gap_mm < NOISE_MM;
            let distance_mm = if touching { 0.0 } else { distance(a, b, gap_mm) };
            if distance_mm < gap_mm - NOISE_MM || (touching && shared_mm2(a, b) > SHARED_MM2) {
                let (part, other) =
                    (a.id.min(b.id), if b.id.max(a.id) == usize::MAX { a.id.min(b.id) } else { b.id.max(a.id) });
                out.push(Flaw::Gap { part, other, distance_mm });
            }
        }
    }
}

/// How far apart two outlines are, as far as that is less than `cap_mm`; 0 when they share material.
fn distance(a: &Laid, b: &Laid, cap_mm: f64) -> f64 {
    let apart = |amin: DVec2, amax: DVec2, bmin: DVec2, bmax: DVec2| (bmin - amax).max(amin - bmax).max_element();
    if apart(a.min, a.max, b.min, b.max) >= cap_mm {
        return cap_mm;
    }
    if overlap(a, b) {
        return 0.0;
    }
    let mut least = cap_mm;
    let near_b: Vec<_> = b.segments.iter().filter(|s| apart(a.min, a.max, s.1, s.2) < cap_mm).collect();
    for (s, min, max) in a.segments.iter().filter(|s| apart(b.min, b.max, s.1, s.2) < cap_mm) {
        for (t, tmin, tmax) in &near_b {
            if apart(*min, *max, *tmin, *tmax) < least {
                least = least.min(s.distance_to(t));
            }
        }
    }
    least
}

/// Whether one outline stands on the other's material, given that their boundaries do not cross.
fn overlap(a: &Laid, b: &Laid) -> bool {
    let inside = |of: &Laid, host: &Laid| of.segments.first().is_some_and(|(s, ..)| host.region.contains(s.mid()));
    inside(a, b) || inside(b, a)
}

/// Area that two outlines share, mm²: what counts where they may touch.
fn shared_mm2(a: &Laid, b: &Laid) -> f64 {
    if (a.min.max(b.min) - a.max.min(b.max)).max_element() >= 0.0 {
        return 0.0;
    }
    intersect(&a.region, &b.region).iter().map(Region::area).sum()
}
