//! A prism: a convex straight-edged section pulled along an axis.

use crate::geom::{Contour, DVec2, DVec3, Vertex};

/// Outside of a block or a hexagonal bar. The axis is +z through the section's zero, the base at z = 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Prism {
    /// Convex, straight-edged, counter-clockwise.
    section: Contour,
    height_mm: f64,
}

fn contour(corners: impl IntoIterator<Item = DVec2>) -> Contour {
    Contour { vertices: corners.into_iter().map(|p| Vertex { p, bulge: 0.0 }).collect() }
}

impl Prism {
    /// A prism with a rectangular section: width along x, depth along y. `None` when a side is not a
    /// positive number.
    #[must_use]
    pub fn block(width_mm: f64, depth_mm: f64, height_mm: f64) -> Option<Self> {
        let sound = [width_mm, depth_mm, height_mm].iter().all(|v| v.is_finite() && *v > 0.0);
        let (x, y) = (width_mm / 2.0, depth_mm / 2.0);
        let corners = [(-x, -y), (x, -y), (x, y), (-x, y)].map(|(x, y)| DVec2::new(x, y));
        sound.then(|| Self { section: contour(corners), height_mm })
    }
    /// A prism over a convex section with straight edges. `None` when a corner turns the wrong way or a number
    /// is not sound.
    #[must_use]
    pub fn new(section: &[DVec2], height_mm: f64) -> Option<Self> {
        let section = Contour::polygon(section).ccw();
        let n = section.vertices.len();
        let p = |i: usize| section.vertices[i % n].p;
        let turns = |i: usize| (p(i + 1) - p(i)).perp_dot(p(i + 2) - p(i + 1)) > 0.0;
        let sound =
            n >= 3 && height_mm.is_finite() && height_mm > 0.0 && section.vertices.iter().all(|v| v.p.is_finite());
        (sound && (0..n).all(turns)).then_some(Self { section, height_mm })
    }
    /// A hexagonal prism lying on no corner: two flats square to y. Across corners it is the distance of the
    /// flats divided by cos 30°. `None` when a measure is not a positive number.
    #[must_use]
    pub fn hexagon(across_flats_mm: f64, height_mm: f64) -> Option<Self> {
        let sound = [across_flats_mm, height_mm].iter().all(|v| v.is_finite() && *v > 0.0);
        let flat = across_flats_mm / 2.0;
        let corner = across_flats_mm / 3.0_f64.sqrt();
        let half = corner / 2.0;
        let corners = [(half, -flat), (corner, 0.0), (half, flat), (-half, flat), (-corner, 0.0), (-half, -flat)];
        sound.then(|| Self { section: contour(corners.map(|(x, y)| DVec2::new(x, y))), height_mm })
    }
    /// The section in xy, about the axis: convex, straight edges, counter-clockwise.
    #[must_use]
    pub fn section(&self) -> &Contour {
        &self.section
    }
    fn corners(&self) -> impl Iterator<Item = DVec2> {
        self.section.vertices.iter().map(|v| v.p)
    }
    /// From the base to the top, along the axis, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.height_mm
    }
    /// Distance of the farthest corner from the axis, mm.
    #[must_use]
    pub fn max_radius(&self) -> f64 {
        self.corners().map(|p| libm::hypot(p.x, p.y)).fold(0.0, f64::max)
    }
    /// Greatest `direction · p` over all points of the solid.
    #[must_use]
    pub fn extent(&self, direction: DVec3) -> f64 {
        let across = self.corners().map(|p| p.x * direction.x + p.y * direction.y);
        across.fold(f64::NEG_INFINITY, f64::max) + (self.height_mm * direction.z).max(0.0)
    }
    /// Area of the section, mm² (the shoelace formula).
    #[must_use]
    pub fn section_area_mm2(&self) -> f64 {
        let next = self.corners().skip(1).chain(self.corners().take(1));
        self.corners().zip(next).map(|(a, b)| a.perp_dot(b)).sum::<f64>() / 2.0
    }
    /// Volume, mm³.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        self.section_area_mm2() * self.height_mm
    }
    /// The same with each side face moved out by half of `on_diameter_mm`, so that the measure from flat to
    /// flat grows by all of it. A section that would vanish keeps its size.
    #[must_use]
    pub fn grown(&self, on_diameter_mm: f64) -> Self {
        let by = on_diameter_mm / 2.0;
        let all: Vec<DVec2> = self.corners().collect();
        let n = all.len();
        let out_of = |a: DVec2, b: DVec2| -(b - a).normalize_or_zero().perp();
        let moved = (0..n).map(|i| {
            let (before, here, after) = (all[(i + n - 1) % n], all[i], all[(i + 1) % n]);
            let (u, v) = (out_of(before, here), out_of(here, after));
            // where the two moved faces meet: along u + v, as far as each face has gone
            here + (u + v) * (by / (1.0 + u.dot(v)))
        });
        let grown = Self { section: contour(moved), height_mm: self.height_mm };
        if by >= 0.0 || -by < self.smallest_reach() { grown } else { self.clone() }
    }
    /// Distance of the nearest side face from the axis.
    fn smallest_reach(&self) -> f64 {
        let next = self.corners().skip(1).chain(self.corners().take(1));
        let reach = |(a, b): (DVec2, DVec2)| a.perp_dot((b - a).normalize_or_zero());
        self.corners().zip(next).map(reach).fold(f64::INFINITY, f64::min)
    }
}
