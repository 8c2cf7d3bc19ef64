//! A hand that comes to a thing: what is free beside it, seen from where it comes.

use super::super::boards::Board;
use super::super::held::Held;
use crate::geom::{DVec2, DVec3};
use crate::things::Solid;

/// Half of a finger's breadth, mm: 18 across, as the trade reckons.
const FINGER_HALF_MM: f64 = 9.0;
/// Gaps are followed up to here, mm; what is wider needs no number.
const REACH_MM: f64 = 26.0;
/// Steps in which they are followed, mm: half of the thinnest sheet, so that no panel is stepped over.
const STEP_MM: f64 = 1.0;
/// What is wider than this between finger and thumb is not spanned, mm (hand breadths: 76 to 96, British
/// men's 5th to 95th percentile; the span is some more).
const SPAN_MM: f64 = 110.0;
/// Directions tried round a thing that is taken along its axis: every 15° of half a turn.
const DIRECTIONS: usize = 12;
/// An axis within this cosine of the way out is taken along it.
const ALONG_COS: f64 = 0.98;
/// Things beside a line are looked for in steps of this, mm.
const SAMPLE_MM: f64 = 3.0;
/// Longer than any way in a workshop's drawer, mm.
const FAR_MM: f64 = 2000.0;

/// A hand at one thing.
pub(super) struct Hand<'a> {
    me: &'a Held<'a>,
    others: Vec<&'a Held<'a>>,
    /// Panels that it may meet, each with its highest point along the way out.
    boards: Vec<(f64, &'a Board<'a>)>,
    /// Up is where the hand comes from; the other two lie across it.
    w: DVec3,
    u: DVec3,
    v: DVec3,
}

/// The sides from which a hand comes to a thing: along its way out, and where that leans, from above
/// and from half-way between, too.
pub(super) fn sides(h: &Held) -> Vec<DVec3> {
    let way = h.berth.way_out.normalize_or(DVec3::Z);
    let leans = way.z > 0.0 && way.z < ALONG_COS;
    let over = (way + DVec3::Z).normalize_or(DVec3::Z);
    if leans { vec![way, over, DVec3::Z] } else { vec![way] }
}

impl<'a> Hand<'a> {
    /// A hand that comes from the side of `w` (a unit vector).
    pub(super) fn from_side(w: DVec3, all: &'a [Held<'a>], i: usize, boards: &'a [Board<'a>]) -> Self {
        let me = &all[i];
        let (lo, hi) = me.bounds();
        // what is on the way out counts too, so only sideways is near or far
        let room = DVec3::splat(REACH_MM + FINGER_HALF_MM);
        let (lo, hi) = (lo - room, hi + room);
        let (lo, hi) = (lo.min(lo + w * FAR_MM), hi.max(hi + w * FAR_MM));
        let meets = |(l, h): (DVec3, DVec3)| l.cmple(hi).all() && lo.cmple(h).all();
        let (u, v) = w.any_orthonormal_pair();
        Self {
            me,
            others: all.iter().enumerate().filter(|(k, h)| *k != i && meets(h.bounds())).map(|(_, h)| h).collect(),
            boards: boards.iter().filter(|b| meets((b.lo, b.hi))).map(|b| (top(b, w), b)).collect(),
            w,
            u,
            v,
        }
    }

    /// Whether the hand comes along its axis, as to what stands upright.
    pub(super) fn stands_up(&self) -> bool {
        self.me.pose.z.dot(self.w) >= ALONG_COS
    }

    /// Height of a point along the way out.
    fn level(&self, p: DVec3) -> f64 {
        self.w.dot(p)
    }

    fn flat(&self, p: DVec3) -> DVec2 {
        DVec2::new(self.u.dot(p), self.v.dot(p))
    }

    /// The free gap where the thing is taken: on the better pair of opposite sides, the narrower one.
    pub(super) fn gap_mm(&self) -> f64 {
        let grip = self.me.pose.out(DVec3::new(0.0, 0.0, self.me.thing.grip().height_mm));
        self.best(grip)
    }

    /// How far below its upper end two opposite sides are free of panels by `gap`, up to `most` mm.
    pub(super) fn proud_mm(&self, most: f64, gap: f64) -> f64 {
        let top = self.me.extent(self.w);
        let axis = self.me.pose.out(DVec3::new(0.0, 0.0, self.me.berth.solid.height() / 2.0));
        let free = |deep: f64| {
            let at = axis + self.w * (top - deep - self.level(axis));
            self.directions().into_iter().any(|d| {
                let sides = [d, -d].map(|d| (d, self.half_span(at, d)));
                let narrow = sides[0].1 + sides[1].1 <= SPAN_MM;
                narrow && sides.iter().all(|(d, from)| self.clear_of_panels(at, *d, *from, gap))
            })
        };
        let (mut lo, mut hi) = (0.0, most);
        if free(hi) {
            return hi;
        }
        for _ in 0..12 {
            let mid = (lo + hi) / 2.0;
            if free(mid) { lo = mid } else { hi = mid }
        }
        lo
    }

    /// Best pair of sides at a point of the axis, with all the other things in.
    fn best(&self, at: DVec3) -> f64 {
        let mut best: f64 = 0.0;
        for d in self.directions() {
            let sides = [d, -d].map(|d| self.half_span(at, d));
            if sides[0] + sides[1] > SPAN_MM {
                continue;
            }
            let near = self.free(at, d, sides[0]);
            // the better of two sides is of no use
            if near > best {
                best = best.max(near.min(self.free(at, -d, sides[1])));
            }
            if best >= REACH_MM {
                break;
            }
        }
        best
    }

    /// Directions across the way out in which two fingers can press: square to its surface.
    fn directions(&self) -> Vec<DVec3> {
        let axis = self.me.pose.z;
        if !self.stands_up() {
            let aside = axis.cross(self.w).normalize_or(self.u);
            return vec![aside, self.w.cross(aside)];
        }
        match &self.me.berth.solid {
            Solid::Revolution(_) => (0..DIRECTIONS)
                .map(|k| {
                    let (s, c) = libm::sincos(std::f64::consts::PI * k as f64 / DIRECTIONS as f64);
                    self.u * c + self.v * s
                })
                .collect(),
            Solid::Prism(p) => {
                let sides = p.section().segments().map(|s| s.start_dir().perp());
                sides.map(|n| self.me.pose.dir_out(n.extend(0.0))).collect()
            }
        }
    }

    /// From a point of the axis to the outside, along a direction, at that level and above it: fingers
    /// come down past what is there.
    fn half_span(&self, at: DVec3, d: DVec3) -> f64 {
        match &self.me.berth.solid {
            Solid::Revolution(r) if self.stands_up() => {
                let z = self.me.pose.into_own(at).z;
                widest_above(r.profile(), z)
            }
            Solid::Revolution(r) if d.dot(self.me.pose.z).abs() < 1e-6 => {
                let z = self.me.pose.into_own(at).z;
                r.radius_at(z).max(self.grip_radius(z))
            }
            _ => self.me.extent(d) - d.dot(at),
        }
    }

    /// At the place of the grip its own width counts, also where the outline does not show it.
    fn grip_radius(&self, z: f64) -> f64 {
        let grip = self.me.thing.grip();
        if (grip.height_mm - z).abs() < 1e-6 { grip.diameter_mm / 2.0 } else { 0.0 }
    }

    /// What is free from the surface outward, over a finger's breadth, at the level of `at` and above.
    fn free(&self, at: DVec3, d: DVec3, from: f64) -> f64 {
        let aside = self.w.cross(d);
        let level = self.level(at);
        [0.0, -FINGER_HALF_MM, FINGER_HALF_MM]
            .map(|o| {
                let taken = |g: f64| self.taken(self.flat(at + aside * o + d * (from + g)), level);
                let mut before = 0.0;
                if taken(1e-6) {
                    return 0.0;
                }
                for k in 1..=(REACH_MM / STEP_MM) as usize {
                    let here = k as f64 * STEP_MM;
                    if taken(here) {
                        return first(before, here, &taken);
                    }
                    before = here;
                }
                REACH_MM
            })
            .into_iter()
            .fold(REACH_MM, f64::min)
    }

    /// Whether no panel is in the way over a finger's breadth and `gap` from the surface outward.
    fn clear_of_panels(&self, at: DVec3, d: DVec3, from: f64, gap: f64) -> bool {
        let (aside, level) = (self.w.cross(d), self.level(at));
        (0..=(gap / STEP_MM) as usize).all(|k| {
            [0.0, -FINGER_HALF_MM, FINGER_HALF_MM].into_iter().all(|o| {
                let p = at + aside * o + d * (from + k as f64 * STEP_MM + 1e-6);
                self.boards.iter().all(|(top, b)| *top <= level || !in_board(b, p, self.w))
            })
        })
    }

    /// Whether anything is above a level at a place, seen along the way out.
    fn taken(&self, q: DVec2, level: f64) -> bool {
        let p = self.u * q.x + self.v * q.y + self.w * level;
        self.boards.iter().any(|(top, b)| *top > level && in_board(b, p, self.w))
            || self.others.iter().any(|h| self.in_thing(h, q, p, level))
    }

    fn in_thing(&self, h: &Held, q: DVec2, p: DVec3, level: f64) -> bool {
        let top = h.extent(self.w);
        if top <= level {
            return false;
        }
        if let Solid::Revolution(r) = &h.berth.solid
            && h.pose.z.dot(self.w) >= 1.0 - 1e-9
        {
            let z = h.pose.into_own(p).z;
            return q.distance(self.flat(h.pose.origin)) < widest_above(r.profile(), z);
        }
        let reach = h.berth.solid.max_radius() + h.berth.solid.height();
        if q.distance(self.flat(h.pose.origin)) > reach {
            return false;
        }
        let steps = ((top - level) / SAMPLE_MM).ceil() as usize;
        (0..=steps).any(|k| holds(h, p + self.w * ((top - level) * k as f64 / steps as f64)))
    }
}

/// The highest point of the box round a panel along a direction.
fn top(b: &Board, w: DVec3) -> f64 {
    let pick = DVec3::select(w.cmpge(DVec3::ZERO), b.hi, b.lo);
    w.dot(pick)
}

/// The largest radius of a profile at a height and above it.
fn widest_above(profile: &[(f64, f64)], z: f64) -> f64 {
    let crossing = profile.windows(2).filter(|w| w[0].0 < z && z < w[1].0);
    let there = crossing.map(|w| w[0].1 + (w[1].1 - w[0].1) * (z - w[0].0) / (w[1].0 - w[0].0));
    profile.iter().filter(|p| p.0 >= z).map(|p| p.1).chain(there).fold(0.0, f64::max)
}

/// Whether a point lies in a thing.
fn holds(h: &Held, p: DVec3) -> bool {
    let own = h.pose.into_own(p);
    match &h.berth.solid {
        Solid::Revolution(r) => libm::hypot(own.x, own.y) < r.radius_at(own.z),
        Solid::Prism(s) => own.z > 0.0 && own.z < s.height() && s.section().contains(own.truncate()),
    }
}

/// Whether a line from a point onward meets a panel's material.
fn in_board(b: &Board, p: DVec3, w: DVec3) -> bool {
    let (o, d) = (b.slab.frame.into_own(p), b.slab.frame.dir_own(w));
    let (mut from, mut to) = (0.0, FAR_MM);
    if d.z.abs() < 1e-9 {
        if o.z <= 0.0 || o.z >= b.slab.thickness {
            return false;
        }
    } else {
        let (a, c) = (-o.z / d.z, (b.slab.thickness - o.z) / d.z);
        (from, to) = (a.min(c).max(0.0), a.max(c));
    }
    if to <= from {
        return false;
    }
    let (start, end) = (o.truncate() + d.truncate() * from, o.truncate() + d.truncate() * to);
    if start.distance(end) < 1e-6 {
        return b.region.contains(start);
    }
    let length = start.distance(end);
    b.region.intervals(start, end - start).iter().any(|i| i.0 < length && i.1 > 0.0)
}

/// Where a line is first taken, between a free place and a taken one.
fn first(free: f64, taken: f64, is_taken: &dyn Fn(f64) -> bool) -> f64 {
    let (mut lo, mut hi) = (free, taken);
    for _ in 0..24 {
        let mid = (lo + hi) / 2.0;
        if is_taken(mid) { hi = mid } else { lo = mid }
    }
    lo
}
