//! A blank: the convex plate that a panel is before any joint or opening is cut.

use crate::geom::{DVec2, DVec3, HalfSpace, Slab, clip_convex};

/// A convex plate in space.
#[derive(Clone, Debug)]
pub struct Blank {
    /// Where it stands, and its thickness.
    pub slab: Slab,
    /// Its outline in its own plane, counter-clockwise.
    pub outline: Vec<DVec2>,
}

/// Half the side of the square from which blanks are clipped, mm: twice the largest bed that a
/// request may name, so a blank that still touches it was left unbounded.
const HORIZON_MM: f64 = 20_000.0;

/// A half-space whose normal has less than this in a panel's plane does not bound its outline.
const SQUARE_TO_FACE: f64 = 1e-9;

impl Blank {
    /// The intersection of half-spaces, each applied on both faces, so that a square-cut edge never
    /// stands proud of any. `None` when nothing is left or a side has no bound.
    #[must_use]
    pub fn of(slab: Slab, bounds: &[HalfSpace]) -> Option<Self> {
        let f = &slab.frame;
        let h = HORIZON_MM;
        let mut outline = vec![DVec2::new(-h, -h), DVec2::new(h, -h), DVec2::new(h, h), DVec2::new(-h, h)];
        for b in bounds {
            let n = DVec2::new(b.normal.dot(f.x), b.normal.dot(f.y));
            if n.length() < SQUARE_TO_FACE {
                continue;
            }
            let through = b.normal.dot(f.z) * slab.thickness;
            let limit = b.limit - b.normal.dot(f.origin) - through.max(0.0);
            outline = clip_convex(&outline, n, limit);
        }
        let unbounded = outline.iter().any(|p| p.x.abs() > h * 0.999 || p.y.abs() > h * 0.999);
        (outline.len() >= 3 && !unbounded).then_some(Self { slab, outline })
    }

    /// From and to of the outline along a direction of the holder's frame that lies in the plane.
    #[must_use]
    pub fn reach(&self, along: DVec3) -> (f64, f64) {
        self.outline
            .iter()
            .map(|p| along.dot(self.slab.frame.out2(*p)))
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    }

    /// The outline in the coordinates of a common line: (along `e`, across it along `u`).
    #[must_use]
    pub fn along(&self, e: DVec3, u: DVec3) -> Vec<DVec2> {
        self.outline.iter().map(|p| self.slab.frame.out2(*p)).map(|p| DVec2::new(e.dot(p), u.dot(p))).collect()
    }

    /// The same with every edge that crosses `e` moved inward, square to itself, by `web`: an edge that
    /// the line meets aslant is nearer than along the line. `None` when nothing is left.
    #[must_use]
    pub fn shrunk_along(&self, e: DVec3, web: f64) -> Option<Self> {
        let along = self.slab.frame.dir_own(e).truncate();
        let mut outline = self.outline.clone();
        for (i, p) in self.outline.iter().enumerate() {
            let edge = self.outline[(i + 1) % self.outline.len()] - *p;
            // counter-clockwise: the outside is to the right
            let n = -edge.perp().normalize_or_zero();
            if n.dot(along).abs() > RUNS_ALONG {
                outline = clip_convex(&outline, n, n.dot(*p) - web);
            }
        }
        (outline.len() >= 3).then_some(Self { slab: self.slab, outline })
    }

    /// From and to along `e` of the whole outline within the band `u` (the longest line in it).
    #[must_use]
    pub fn outer(&self, e: DVec3, u: DVec3, band: (f64, f64)) -> Option<(f64, f64)> {
        let flat = self.along(e, u);
        let (lo, hi) = flat.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(p.y), b.max(p.y)));
        let band = (band.0.max(lo), band.1.min(hi));
        if band.1 < band.0 - ON_EDGE_MM {
            return None;
        }
        // corners within the band, and where its two edges cross the outline
        let inside = flat.iter().filter(|p| p.y >= band.0 && p.y <= band.1).map(|p| p.x);
        let crossed = [band.0, band.1].into_iter().filter_map(|w| line(&flat, w)).flat_map(|(a, b)| [a, b]);
        let all = inside.chain(crossed).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        (all.1 > all.0).then_some(all)
    }

    /// From and to along `e` in which the whole width of the band `u` is within the outline.
    #[must_use]
    pub fn inner(&self, e: DVec3, u: DVec3, band: (f64, f64)) -> Option<(f64, f64)> {
        let flat = self.along(e, u);
        // the outline is convex: what holds on both edges of the band holds between them
        let (p, q) = (line(&flat, band.0)?, line(&flat, band.1)?);
        let both = (p.0.max(q.0), p.1.min(q.1));
        (both.1 > both.0).then_some(both)
    }
}

/// An edge within 9° of a line (sin 9°) runs along it, and does not limit where on it something may stand.
const RUNS_ALONG: f64 = 0.156;

/// A line this near to an outline's outermost edge runs along it, mm.
const ON_EDGE_MM: f64 = 1e-6;

/// From and to along x in which the line y = `w` lies in a convex outline.
fn line(flat: &[DVec2], w: f64) -> Option<(f64, f64)> {
    let (lo, hi) = flat.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(p.y), b.max(p.y)));
    if w < lo - ON_EDGE_MM || w > hi + ON_EDGE_MM {
        return None;
    }
    let w = w.clamp(lo, hi);
    let mut found = (f64::INFINITY, f64::NEG_INFINITY);
    let mut add = |x: f64| found = (found.0.min(x), found.1.max(x));
    for (i, p) in flat.iter().enumerate() {
        let q = flat[(i + 1) % flat.len()];
        if (p.y - w).abs() <= ON_EDGE_MM {
            add(p.x);
        }
        if (p.y - w) * (q.y - w) < 0.0 {
            add(p.x + (q.x - p.x) * (w - p.y) / (q.y - p.y));
        }
    }
    (found.1 >= found.0).then_some(found)
}
