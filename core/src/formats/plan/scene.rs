//! What is drawn: the space, its holders, and which of them a finding points at.

use super::canvas::{Canvas, PLAIN_MM, SMALL_MM, Style};
use super::section::Cut;
use super::view::{self, Face, View};
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::geom::{DVec2, DVec3};
use crate::job::Job;
use crate::spaces::Kind;

/// What is drawn.
pub struct Scene<'a> {
    /// The request, checked.
    pub job: &'a Job,
    /// The holders.
    pub holders: &'a [Built],
    /// What was found.
    pub findings: &'a [Finding],
}

const PANEL: Style = Style::area("#f3e3c3", "#5a4a2a", 0.18);
const CUT: Style = Style::area("#8a6a3a", "#3a2a0a", 0.25);
const THING: Style = Style::area("#bcd3e6", "#24506f", 0.25).clear(0.75);
const OFFENDER: Style = Style::area("#f0a0a0", "#b00000", 0.4).clear(0.85);
const SPACE: Style = Style::line("#777", 0.25).dashed("4 1 0.6 1");
const BAY: &str = "#24506f";
/// Smallest letters that are still read on paper, mm (ISO 3098 begins at 1.8).
const LEAST_MM: f64 = 1.8;

/// Where a view stands on the page.
#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// The view.
    pub view: View,
    /// The page's point for the least x and y of the view's extents.
    pub corner: DVec2,
    /// Those least x and y.
    pub least: DVec2,
    /// Page mm for one mm.
    pub scale: f64,
}

impl Place {
    /// A point of the view on the page.
    pub fn page(&self, p: DVec2) -> DVec2 {
        let d = (p - self.least) * self.scale;
        self.corner + DVec2::new(d.x, -d.y)
    }
    /// A point of space on the page.
    pub fn of(&self, p: DVec3) -> DVec2 {
        self.page(self.view.flat(p))
    }
    fn outlines(&self, face: &Face) -> Vec<Vec<DVec2>> {
        face.outlines.iter().map(|o| o.iter().map(|p| self.page(*p)).collect()).collect()
    }
}

impl Scene<'_> {
    /// The room that is drawn around the holders: width, depth, height. A holder that stands free has
    /// none: the most that it may measure is no wall.
    pub fn room_mm(&self) -> Option<DVec3> {
        let (floor, height) = (self.job.space.usable(0.0), self.job.space.usable_height_mm());
        (self.job.space.kind != Kind::Free).then(|| DVec3::new(floor.width_mm, floor.depth_mm, height))
    }

    /// The box around the space and everything in it.
    pub fn extents(&self) -> (DVec3, DVec3) {
        let mut around = (DVec3::ZERO, self.room_mm().unwrap_or(DVec3::ZERO));
        let mut add = |lo: DVec3, hi: DVec3| around = (around.0.min(lo), around.1.max(hi));
        for built in self.holders {
            let size = DVec3::new(built.size.width_mm, built.size.depth_mm, built.size.height_mm);
            add(built.origin, built.origin + size);
            for (i, p) in built.finished.panels.iter().enumerate() {
                let (frame, t) = (built.placement(i), p.blank.slab.thickness);
                for c in p.region.outer.flattened(1.0) {
                    for z in [0.0, t] {
                        let at = frame.out(c.extend(z));
                        add(at, at);
                    }
                }
            }
            for b in &built.assembly.berths {
                let reach = |d: DVec3| b.pose.origin.dot(d) + b.solid.extent(b.pose.dir_own(d));
                let hi = DVec3::new(reach(DVec3::X), reach(DVec3::Y), reach(DVec3::Z));
                let lo = -DVec3::new(reach(DVec3::NEG_X), reach(DVec3::NEG_Y), reach(DVec3::NEG_Z));
                add(built.origin + lo, built.origin + hi);
            }
        }
        around
    }

    /// Whether a refusal points at a place.
    fn refused(&self, place: &str) -> bool {
        self.findings.iter().any(|f| f.verdict == Verdict::Refuse && (f.place == place || under(&f.place, place)))
    }

    fn panel_style(&self, built: &Built, panel: usize) -> Style {
        if self.refused(&built.part_code(panel)) { OFFENDER } else { PANEL }
    }

    fn thing_style(&self, built: &Built, berth: usize) -> Style {
        let thing = built.assembly.berths[berth].thing;
        let hit = self.refused(&format!("/things/{thing}")) || self.refused(&format!("{}.{}", built.letter, berth + 1));
        if hit { OFFENDER } else { THING }
    }

    /// The space's usable room (in plan at floor and rim, in a section at every height), and holders
    /// that a refusal points at.
    pub fn room(&self, canvas: &mut Canvas, place: &Place) {
        if self.room_mm().is_some() {
            self.walls(canvas, place);
        }
        for built in self.holders.iter().filter(|b| self.refused(&b.at)) {
            let size = DVec3::new(built.size.width_mm, built.size.depth_mm, built.size.height_mm);
            canvas.area(&[boxed(place, built.origin, built.origin + size)], Style::line("#b00000", 0.6));
        }
    }

    fn walls(&self, canvas: &mut Canvas, place: &Place) {
        let (floor, top) = (self.job.space.usable(0.0), self.job.space.usable_height_mm());
        let middle = DVec2::new(floor.width_mm, floor.depth_mm) / 2.0;
        if place.view.eye == DVec3::Z {
            let rim = self.job.space.usable(top);
            for plan in if rim == floor { vec![floor] } else { vec![floor, rim] } {
                let half = DVec2::new(plan.width_mm, plan.depth_mm) / 2.0;
                let outline: Vec<DVec2> = rounded(half, plan.corner_radius_mm);
                canvas.area(&[outline.into_iter().map(|p| place.page(p + middle)).collect()], SPACE);
            }
        } else {
            let along_x = place.view.right == DVec3::X;
            let at = |z: f64| {
                let plan = self.job.space.usable(z);
                if along_x { (middle.x, plan.width_mm / 2.0) } else { (middle.y, plan.depth_mm / 2.0) }
            };
            const STEPS: u32 = 24;
            let heights: Vec<f64> = (0..=STEPS).map(|i| top * f64::from(i) / f64::from(STEPS)).collect();
            let right = heights.iter().map(|z| DVec2::new(at(*z).0 + at(*z).1, *z));
            let left = heights.iter().rev().map(|z| DVec2::new(at(*z).0 - at(*z).1, *z));
            let outline: Vec<DVec2> = right.chain(left).map(|p| place.page(p)).collect();
            canvas.area(&[outline], SPACE);
        }
    }

    /// Everything as seen, far faces first, things on top and let through.
    pub fn seen(&self, canvas: &mut Canvas, place: &Place) {
        let mut faces: Vec<(Face, Style)> = vec![];
        for built in self.holders {
            for (i, p) in built.finished.panels.iter().enumerate() {
                let style = self.panel_style(built, i);
                let seen = view::plate(&place.view, &p.region, &built.placement(i), p.blank.slab.thickness);
                faces.extend(seen.into_iter().map(|f| (f, style)));
            }
        }
        paint(canvas, place, faces);
        self.things(canvas, place, |_| true);
    }

    /// A section: what lies beyond the plane, things, and on top what is cut.
    pub fn cut(&self, canvas: &mut Canvas, place: &Place, cut: &Cut) {
        let mut faces: Vec<(Face, Style)> = vec![];
        let mut areas: Vec<(Vec<Vec<DVec2>>, Style)> = vec![];
        for built in self.holders {
            for (i, p) in built.finished.panels.iter().enumerate() {
                let (frame, t, style) = (built.placement(i), p.blank.slab.thickness, self.panel_style(built, i));
                for rest in cut.beyond(&p.region, &frame, t) {
                    let seen = view::plate(&place.view, &rest, &frame, t);
                    faces.extend(seen.into_iter().map(|f| (f, Style { width_mm: 0.13, ..style })));
                }
                let style = if style == OFFENDER { OFFENDER } else { CUT };
                areas.extend(cut.areas(&p.region, &frame, t).into_iter().map(|a| (a, style)));
            }
        }
        paint(canvas, place, faces);
        self.things(canvas, place, |nearest| nearest < cut.at);
        for (outlines, style) in areas {
            let on_page: Vec<Vec<DVec2>> =
                outlines.iter().map(|o| o.iter().map(|p| place.page(*p)).collect()).collect();
            // slices of an oblique panel would show their own edges
            canvas.area(&on_page, Style { stroke: style.fill, width_mm: 0.05, ..style });
        }
    }

    /// Things whose side away from the eye passes `keep` (its way towards the eye).
    fn things(&self, canvas: &mut Canvas, place: &Place, keep: impl Fn(f64) -> bool) {
        let mut all: Vec<(f64, Vec<Face>, Style)> = vec![];
        for built in self.holders {
            for (i, b) in built.assembly.berths.iter().enumerate() {
                let away = -place.view.eye;
                let far = -(away.dot(b.pose.origin + built.origin) + b.solid.extent(b.pose.dir_own(away)));
                if keep(far) {
                    let faces = view::thing(&place.view, b, built.origin);
                    let near = faces.iter().map(|f| f.near).fold(f64::NEG_INFINITY, f64::max);
                    all.push((near, faces, self.thing_style(built, i)));
                }
            }
        }
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, faces, style) in all {
            faces.iter().for_each(|f| canvas.area(&place.outlines(f), style));
        }
    }

    /// Pocket numbers, compartments' contents and part codes, as far as they do not cover each other.
    pub fn labels(&self, canvas: &mut Canvas, place: &Place) {
        for built in self.holders {
            for (i, b) in built.assembly.berths.iter().enumerate() {
                let middle = b.pose.out(DVec3::new(0.0, 0.0, b.solid.height() / 2.0)) + built.origin;
                let words = format!("{}.{}", built.letter, i + 1);
                let across = |d: DVec3| b.solid.room_along(b.pose.dir_own(d)) * place.scale;
                let room = across(place.view.right) / super::canvas::words_mm(&words, 1.0);
                canvas.label(place.of(middle), &words, room.clamp(LEAST_MM, SMALL_MM), BAY, false);
            }
            for (i, b) in built.assembly.bays.iter().enumerate() {
                let middle = DVec3::new((b.x.0 + b.x.1) / 2.0, (b.y.0 + b.y.1) / 2.0, b.z.0) + built.origin;
                let at = place.of(middle);
                canvas.label(at, &format!("{}.{}", built.letter, i + 1), SMALL_MM, BAY, true);
                if let Some(t) = b.thing.and_then(|t| self.job.things.get(t)) {
                    let room = (b.x.1 - b.x.0) * place.scale;
                    let size = (room / super::canvas::words_mm(t.id(), 1.0).max(1.0)).min(PLAIN_MM);
                    if size >= LEAST_MM {
                        canvas.label(at + DVec2::new(0.0, SMALL_MM * 1.6), t.id(), size, BAY, true);
                    }
                }
            }
        }
        for built in self.holders {
            for (i, p) in built.finished.panels.iter().enumerate() {
                let t = p.blank.slab.thickness;
                let at = built.placement(i).out(p.region.centroid().extend(t / 2.0));
                canvas.label(place.of(at), &built.part_code(i), SMALL_MM, "#5a4a2a", true);
            }
        }
    }
}

/// Far faces first.
fn paint(canvas: &mut Canvas, place: &Place, mut faces: Vec<(Face, Style)>) {
    faces.sort_by(|a, b| a.0.near.total_cmp(&b.0.near));
    for (face, style) in faces {
        canvas.area(&place.outlines(&face), style);
    }
}

/// Whether a JSON Pointer lies at or under another.
fn under(pointer: &str, place: &str) -> bool {
    pointer.strip_prefix(place).is_some_and(|rest| rest.starts_with('/'))
}

/// A rectangle with round corners about its middle.
fn rounded(half: DVec2, radius: f64) -> Vec<DVec2> {
    let r = radius.min(half.min_element()).max(0.0);
    let corner = |sx: f64, sy: f64, from: f64| {
        let steps = if r > 0.0 { 8 } else { 0 };
        (0..=steps).map(move |i| {
            let (s, c) = libm::sincos(from + core::f64::consts::FRAC_PI_2 * f64::from(i) / 8.0);
            DVec2::new(sx * (half.x - r), sy * (half.y - r)) + DVec2::new(c, s) * r
        })
    };
    let quarter = core::f64::consts::FRAC_PI_2;
    corner(1.0, 1.0, 0.0)
        .chain(corner(-1.0, 1.0, quarter))
        .chain(corner(-1.0, -1.0, 2.0 * quarter))
        .chain(corner(1.0, -1.0, 3.0 * quarter))
        .collect()
}

/// A box as seen: a rectangle.
fn boxed(place: &Place, lo: DVec3, hi: DVec3) -> Vec<DVec2> {
    let (a, b) = (place.view.flat(lo), place.view.flat(hi));
    [a, DVec2::new(b.x, a.y), b, DVec2::new(a.x, b.y)].map(|p| place.page(p)).to_vec()
}
