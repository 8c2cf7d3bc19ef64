//! One edge of an outline: a straight line or a true arc, given by its ends and a DXF bulge.

use super::DVec2;

/// Bulges below this are straight: on a metre of chord the arc would rise 5e-8 mm.
pub(crate) const STRAIGHT_BULGE: f64 = 1e-10;

/// An edge from `a` to `b`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Segment {
    /// Start, mm.
    pub a: DVec2,
    /// End, mm.
    pub b: DVec2,
    /// tan of a quarter of the included angle; 0 straight, positive counter-clockwise (DXF).
    pub bulge: f64,
}

/// The circle an arc lies on and the part it covers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Arc {
    /// Centre, mm.
    pub center: DVec2,
    /// Radius, mm.
    pub radius: f64,
    /// Direction from the centre to the start, radians from +x.
    pub start_rad: f64,
    /// Signed sweep, radians: positive counter-clockwise.
    pub sweep_rad: f64,
}

impl Arc {
    /// The point at an absolute direction from the centre, radians.
    #[must_use]
    pub fn at_angle(&self, angle_rad: f64) -> DVec2 {
        self.center + self.radius * DVec2::new(libm::cos(angle_rad), libm::sin(angle_rad))
    }
    /// Where the direction `from_center` lies along the sweep: 0 at the start, 1 at the end, below 0 or
    /// above 1 outside, whichever end is nearer.
    #[must_use]
    pub fn fraction(&self, from_center: DVec2) -> f64 {
        let start = DVec2::new(libm::cos(self.start_rad), libm::sin(self.start_rad));
        fraction_from(start, self.sweep_rad, from_center)
    }
    /// Whether the direction `from_center` lies within the sweep.
    #[must_use]
    pub fn covers(&self, from_center: DVec2) -> bool {
        (0.0..=1.0).contains(&self.fraction(from_center))
    }
}

fn fraction_from(start: DVec2, sweep_rad: f64, v: DVec2) -> f64 {
    let full = 2.0 * core::f64::consts::PI;
    let sweep = sweep_rad.abs();
    let mut turn = libm::atan2(start.perp_dot(v), start.dot(v)) * sweep_rad.signum();
    if turn < 0.0 {
        turn += full;
    }
    // the gap between end and start is shared: its later half counts as before the start
    if turn > (full + sweep) / 2.0 {
        turn -= full;
    }
    turn / sweep
}

impl Segment {
    /// An edge with a bulge.
    #[must_use]
    pub fn new(a: DVec2, b: DVec2, bulge: f64) -> Self {
        Self { a, b, bulge }
    }
    /// A straight edge.
    #[must_use]
    pub fn line(a: DVec2, b: DVec2) -> Self {
        Self::new(a, b, 0.0)
    }
    /// Whether the edge is straight.
    #[must_use]
    pub fn is_line(&self) -> bool {
        self.bulge.abs() < STRAIGHT_BULGE
    }
    /// From `a` to `b`, straight.
    #[must_use]
    pub fn chord(&self) -> DVec2 {
        self.b - self.a
    }
    /// Signed included angle, radians: 4·atan(bulge).
    #[must_use]
    pub fn sweep_rad(&self) -> f64 {
        if self.is_line() { 0.0 } else { 4.0 * libm::atan(self.bulge) }
    }
    /// Centre of the circle; `None` for a line. From the chord c and the bulge k: the centre stands
    /// c(1 − k²)/4k to the left of the chord's middle (DXF reference, LWPOLYLINE bulge).
    #[must_use]
    pub fn center(&self) -> Option<DVec2> {
        let k = self.bulge;
        (!self.is_line()).then(|| (self.a + self.b) / 2.0 + self.chord().perp() * ((1.0 - k * k) / (4.0 * k)))
    }
    /// Radius of the circle, mm: c(1 + k²)/4|k|; infinite for a line.
    #[must_use]
    pub fn radius(&self) -> f64 {
        if self.is_line() {
            return f64::INFINITY;
        }
        self.chord().length() * (1.0 + self.bulge * self.bulge) / (4.0 * self.bulge.abs())
    }
    /// The circle and the sweep; `None` for a line.
    #[must_use]
    pub fn arc(&self) -> Option<Arc> {
        let center = self.center()?;
        let from = self.a - center;
        let start_rad = libm::atan2(from.y, from.x);
        Some(Arc { center, radius: self.radius(), start_rad, sweep_rad: self.sweep_rad() })
    }
    /// The same edge walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        Self::new(self.b, self.a, -self.bulge)
    }
    /// Length along the edge, mm.
    #[must_use]
    pub fn length(&self) -> f64 {
        let (c, k) = (self.chord().length(), self.bulge);
        if self.is_line() { c } else { c * 2.0 * libm::atan(k) * (1.0 + k * k) / (2.0 * k) }
    }
    /// The middle of the edge: the sagitta is k·c/2, to the right of the chord.
    #[must_use]
    pub fn mid(&self) -> DVec2 {
        (self.a + self.b) / 2.0 - self.chord().perp() * (self.bulge / 2.0)
    }
    /// The point at a fraction of the length.
    #[must_use]
    pub fn at(&self, fraction: f64) -> DVec2 {
        match self.center() {
            None => self.a + self.chord() * fraction,
            Some(center) => {
                let turn = self.sweep_rad() * fraction;
                center + DVec2::new(libm::cos(turn), libm::sin(turn)).rotate(self.a - center)
            }
        }
    }
    /// Unit direction at the start; zero for an edge without length.
    #[must_use]
    pub fn start_dir(&self) -> DVec2 {
        self.turned_chord(-self.bulge)
    }
    /// Unit direction at the end; zero for an edge without length.
    #[must_use]
    pub fn end_dir(&self) -> DVec2 {
        self.turned_chord(self.bulge)
    }
    /// The chord's direction turned by 2·atan(k), without trigonometry.
    fn turned_chord(&self, k: f64) -> DVec2 {
        let d = self.chord().normalize_or_zero();
        let s = 1.0 + k * k;
        DVec2::new((1.0 - k * k) / s, 2.0 * k / s).rotate(d)
    }
    /// Unit direction from the start to the edge's point at straight distance `reach`: an arc's chord of that
    /// length stands asin(reach/2r) off the tangent. Tells edges apart that start tangent to each other.
    pub(crate) fn heading(&self, reach: f64) -> DVec2 {
        if self.is_line() {
            return self.start_dir();
        }
        let sin = (reach / (2.0 * self.radius())).min(1.0) * self.bulge.signum();
        DVec2::new((1.0 - sin * sin).sqrt(), sin).rotate(self.start_dir())
    }
    /// Where the foot of `p` lies along the edge: 0 at the start, 1 at the end.
    #[must_use]
    pub fn fraction(&self, p: DVec2) -> f64 {
        match self.center() {
            None => {
                let d = self.chord();
                let l2 = d.length_squared();
                if l2 > 0.0 { (p - self.a).dot(d) / l2 } else { 0.0 }
            }
            Some(c) => fraction_from(self.a - c, self.sweep_rad(), p - c),
        }
    }
    /// The point of the edge nearest to `p`.
    #[must_use]
    pub fn nearest_point(&self, p: DVec2) -> DVec2 {
        let f = self.fraction(p);
        if let (Some(c), true) = (self.center(), (0.0..=1.0).contains(&f)) {
            // at the centre itself every point is as near as any other
            return (p - c).try_normalize().map_or(self.a, |u| c + u * self.radius());
        }
        if f <= 0.0 {
            self.a
        } else if f >= 1.0 {
            self.b
        } else {
            self.a + self.chord() * f
        }
    }
    /// Distance from `p` to the edge, mm.
    #[must_use]
    pub fn distance_to_point(&self, p: DVec2) -> f64 {
        self.nearest_point(p).distance(p)
    }
    /// Least and greatest x and y, arc extents exact.
    #[must_use]
    pub fn bounds(&self) -> (DVec2, DVec2) {
        let (mut lo, mut hi) = (self.a.min(self.b), self.a.max(self.b));
        if let Some(arc) = self.arc() {
            for d in [DVec2::X, DVec2::Y, DVec2::NEG_X, DVec2::NEG_Y] {
                if arc.covers(d) {
                    let p = arc.center + d * arc.radius;
                    (lo, hi) = (lo.min(p), hi.max(p));
                }
            }
        }
        (lo, hi)
    }
    /// Signed area between chord and arc, mm²: r²(θ − sin θ)/2, positive counter-clockwise
    /// (Machinery's Handbook, 31st ed., p. 79, segment of a circle).
    #[must_use]
    pub fn cap_area(&self) -> f64 {
        let t = self.sweep_rad();
        if t.abs() < SMALL_ANGLE {
            // θ − sin θ loses its digits; with r = c/(2 sin θ/2) the series is c²θ/12·(1 + θ²/30)
            return self.chord().length_squared() * t / 12.0 * (1.0 + t * t / 30.0);
        }
        let r = self.radius();
        r * r * (t - libm::sin(t)) / 2.0
    }
    /// Centroid of the piece between chord and arc.
    #[must_use]
    pub fn cap_centroid(&self) -> DVec2 {
        let t = self.sweep_rad().abs();
        let Some(c) = self.center().filter(|_| t >= SMALL_ANGLE) else {
            // a flat cap is a parabola's: 2/5 of its height above the chord
            return (self.a + self.b) / 2.0 - self.chord().perp() * (self.bulge / 5.0);
        };
        let s = libm::sin(t / 2.0);
        let out = (self.mid() - c).normalize_or_zero();
        c + out * (4.0 * self.radius() * s * s * s / (3.0 * (t - libm::sin(t))))
    }
}

/// Below this sweep the closed forms lose more to cancellation than the series leave out (θ⁴ ≈ 2e-8).
const SMALL_ANGLE: f64 = 0.012;
