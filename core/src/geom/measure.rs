//! Area, length, extents, centroid, inside or outside, crossings with a line: exact on arcs.

use super::{Contour, DVec2, Region, Segment};

impl Contour {
    /// Signed area, mm²: counter-clockwise positive. Shoelace over the chords plus the arcs' caps.
    #[must_use]
    pub fn area(&self) -> f64 {
        let Some(first) = self.vertices.first() else { return 0.0 };
        let o = first.p;
        self.segments().map(|s| (s.a - o).perp_dot(s.b - o) / 2.0 + s.cap_area()).sum()
    }
    /// Length of the outline, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.segments().map(|s| s.length()).sum()
    }
    /// Least and greatest x and y, arc extents exact; zeros for an empty outline.
    #[must_use]
    pub fn bounds(&self) -> (DVec2, DVec2) {
        let Some(first) = self.vertices.first() else { return (DVec2::ZERO, DVec2::ZERO) };
        self.segments().fold((first.p, first.p), |(lo, hi), s| {
            let (a, b) = s.bounds();
            (lo.min(a), hi.max(b))
        })
    }
    /// Centroid of the enclosed area; the middle of the extents when there is no area.
    #[must_use]
    pub fn centroid(&self) -> DVec2 {
        let Some(first) = self.vertices.first() else { return DVec2::ZERO };
        let o = first.p;
        let (mut area, mut moment) = (0.0, DVec2::ZERO);
        for s in self.segments() {
            let (a, b, cap) = (s.a - o, s.b - o, s.cap_area());
            let triangle = a.perp_dot(b) / 2.0;
            area += triangle + cap;
            moment += (a + b) * (triangle / 3.0);
            if cap != 0.0 {
                moment += (s.cap_centroid() - o) * cap;
            }
        }
        let (lo, hi) = self.bounds();
        let span = (hi - lo).max_element();
        // an area this thin is rounding, and the quotient means nothing
        if area.abs() <= 1e-15 * span * span { (lo + hi) / 2.0 } else { o + moment / area }
    }
    /// How often the outline goes round `p`, counter-clockwise counted up.
    #[must_use]
    pub fn winding(&self, p: DVec2) -> i32 {
        self.segments().map(|s| winding_part(&s, p)).sum()
    }
    /// Whether `p` lies inside (even-odd); on the boundary it may be either.
    #[must_use]
    pub fn contains(&self, p: DVec2) -> bool {
        self.winding(p) % 2 != 0
    }
    /// Whether this outline, which does not cross `outer` but may touch it, lies in it: asked at a place well off
    /// the other's boundary.
    pub(crate) fn lies_in(&self, outer: &Contour) -> bool {
        let clear = |p: DVec2| outer.segments().map(|s| s.distance_to_point(p)).fold(f64::INFINITY, f64::min);
        let mut best = (-1.0, DVec2::ZERO);
        for p in self.segments().flat_map(|s| [s.a, s.mid(), s.at(0.3)]) {
            let c = clear(p);
            if c > best.0 {
                best = (c, p);
            }
            // far beyond rounding is far enough: only outlines that touch need all places
            if c > 1e-3 {
                break;
            }
        }
        outer.contains(best.1)
    }
    /// Where the line `origin + t·dir` crosses the outline: the sorted `t`, in mm (`dir` is made unit).
    /// A corner on the line counts as left of it, so the number of crossings is always even; an edge
    /// along the line counts as left of it too.
    #[must_use]
    pub fn crossings(&self, origin: DVec2, dir: DVec2) -> Vec<f64> {
        let Some(dir) = dir.try_normalize() else { return Vec::new() };
        let mut found = Vec::new();
        for s in self.segments() {
            segment_crossings(&s, origin, dir, &mut found);
        }
        found.sort_by(f64::total_cmp);
        found
    }
    /// Corners of a polygon that stays within `tolerance_mm` of the outline; lines keep their ends.
    #[must_use]
    pub fn flattened(&self, tolerance_mm: f64) -> Vec<DVec2> {
        let mut points = Vec::with_capacity(self.vertices.len());
        for s in self.segments() {
            let n = arc_steps(&s, tolerance_mm);
            points.push(s.a);
            points.extend((1..n).map(|i| s.at(f64::from(i) / f64::from(n))));
        }
        points
    }
}

/// More chords than this an arc is never given, however small the tolerance: 0.0004 rad a chord on a circle.
const CHORDS_MOST: f64 = 16_384.0;

/// Chords an arc needs: each rises r(1 − cos(step/2)) = 2r·sin²(step/4).
fn arc_steps(s: &Segment, tolerance_mm: f64) -> u32 {
    if s.is_line() {
        return 1;
    }
    let sweep = s.sweep_rad().abs();
    let rise = (tolerance_mm.max(0.0) / s.radius()).min(1.0);
    let step = 4.0 * libm::asin((rise / 2.0).sqrt());
    // at least a chord a right angle: a coarse tolerance must not turn a circle into a line
    let fewest = libm::ceil(sweep / core::f64::consts::FRAC_PI_2 - 1e-9).max(1.0);
    libm::ceil(sweep / step).clamp(fewest, CHORDS_MOST) as u32
}

/// What the edge adds to the winding about `p`: its chord against a ray to +x (upward edges hold their
/// lower end, not their upper one), and its cap. Both use the same side of the chord, so no point is lost
/// between them; a point on the chord's line counts as a hair above it, and a hair right of an upright one,
/// whichever way the edge runs.
pub(crate) fn winding_part(s: &Segment, p: DVec2) -> i32 {
    let (d, side) = (s.chord(), s.chord().perp_dot(p - s.a));
    let left = side > 0.0 || (side == 0.0 && (d.x > 0.0 || (d.x == 0.0 && d.y < 0.0)));
    let mut w = 0;
    if s.a.y <= p.y && p.y < s.b.y && left {
        w += 1;
    } else if s.b.y <= p.y && p.y < s.a.y && !left {
        w -= 1;
    }
    if let Some(c) = s.center()
        && left == (s.bulge < 0.0)
        && p.distance(c) < s.radius()
    {
        w += if s.bulge > 0.0 { 1 } else { -1 };
    }
    w
}

fn segment_crossings(s: &Segment, origin: DVec2, dir: DVec2, found: &mut Vec<f64>) {
    let (from, to) = (dir.perp_dot(s.a - origin), dir.perp_dot(s.b - origin));
    let (starts_left, ends_left) = (from >= 0.0, to >= 0.0);
    let Some(center) = s.center() else {
        if starts_left != ends_left {
            let f = from / (from - to);
            found.push((s.a - origin).dot(dir) + f * s.chord().dot(dir));
        }
        return;
    };
    let (height, middle, r) = (dir.perp_dot(center - origin), (center - origin).dot(dir), s.radius());
    let half = (r * r - height * height).max(0.0).sqrt();
    if starts_left != ends_left {
        // a counter-clockwise circle rises on its far side and falls on its near side
        let far = ends_left == (s.bulge > 0.0);
        found.push(if far { middle + half } else { middle - half });
        return;
    }
    // both ends on one side: the arc reaches over only if its extreme point does
    let away = if starts_left { -dir.perp() } else { dir.perp() };
    let extreme = height + if starts_left { -r } else { r };
    if (extreme >= 0.0) != starts_left && s.arc().is_some_and(|arc| arc.covers(away)) {
        found.extend([middle - half, middle + half]);
    }
}

/// Gaps and pieces of material below this are a line along an edge, not a width.
const NO_WIDTH_MM: f64 = 1e-9;

impl Region {
    /// Where the line `origin + t·dir` runs through material: sorted `(from, to)` in mm.
    #[must_use]
    pub fn intervals(&self, origin: DVec2, dir: DVec2) -> Vec<(f64, f64)> {
        let mut at: Vec<f64> = self.contours().flat_map(|c| c.crossings(origin, dir)).collect();
        at.sort_by(f64::total_cmp);
        let mut out: Vec<(f64, f64)> = Vec::new();
        for pair in at.chunks_exact(2) {
            let (from, to) = (pair[0], pair[1]);
            match out.last_mut() {
                Some(last) if from - last.1 <= NO_WIDTH_MM => last.1 = to,
                _ => out.push((from, to)),
            }
        }
        out.retain(|(from, to)| to - from > NO_WIDTH_MM);
        out
    }
}
