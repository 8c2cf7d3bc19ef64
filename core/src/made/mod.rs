//! Everything that was made for one request: what the formats write.
//!
//! May import: every room above.

use crate::chance::HolderChance;
use crate::checks::{About, Outcome};
use crate::coupon::Coupon;
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::geom::{Contour, DVec2, Frame, Region};
use crate::job::{Job, Request};
use crate::order::{Pull, Step};
use crate::prototype::Note;
use crate::route::{Role, Route, RouteContour};
use crate::units::DefaultUsed;

/// One flat part, ready to be cut.
#[derive(Clone, Debug)]
pub struct Part {
    /// Letter of its holder and a number: `A3`.
    pub code: String,
    /// Which holder.
    pub holder: usize,
    /// Which of the holder's panels.
    pub panel: usize,
    /// What people call it.
    pub name: String,
    /// Which of the job's stocks.
    pub stock: usize,
    /// Finished outline, in the panel's own plane.
    pub finished: Region,
    /// Drawn outline: finished, grown by half the kerf that the file has to apply.
    pub drawn: Region,
    /// Single-line marks, burnt on the face at z = thickness; each an open polyline.
    pub marks: Vec<Vec<DVec2>>,
    /// Words that should have been marked and for which there was no room.
    pub marks_left_out: Vec<String>,
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Direction of the face grain as it is cut, degrees from its own x axis, from 0 to below 180; none where
    /// it may lie as it comes.
    pub grain_deg: Option<f64>,
    /// Kerf that is applied in the file, mm (0 where the machine applies it).
    pub kerf_mm: f64,
    /// Where the part's own frame stands in the space.
    pub placement: Frame,
    /// Mass, g.
    pub mass_g: f64,
}

/// One joint, by part.
#[derive(Clone, Debug)]
pub struct JointLine {
    /// `J1`, `J2` … over the whole job.
    pub id: String,
    /// The letters burnt beside it on both partners.
    pub letters: String,
    /// `corner`, `tab`, `hook`, `lap` or `rest`.
    pub kind: &'static str,
    /// Which part is the first partner: the one that enters, where one does.
    pub a: usize,
    /// Which part is the second.
    pub b: usize,
    /// Finished slot less what enters, mm.
    pub fit_mm: f64,
}

/// A part on a sheet: turned about its own zero by `turn_rad`, then moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// Which part.
    pub part: usize,
    /// Turn, counter-clockwise, rad.
    pub turn_rad: f64,
    /// Move after the turn, mm.
    pub shift: DVec2,
}

/// Every line of a sheet where it lies, place by place: a part's edge, its openings, its marks. A
/// [`Route`] counts in this list, and so do the files.
#[must_use]
pub fn laid(parts: &[Part], places: &[Placed]) -> Vec<RouteContour> {
    let lines = |part: &Part| -> Vec<(Role, Contour)> {
        let openings = part.drawn.holes.iter().map(|h| (Role::Opening, h.clone()));
        // a mark is an open line: the last corner's edge is not drawn
        let marks = part.marks.iter().map(|m| (Role::Mark, Contour::polygon(m)));
        std::iter::once((Role::Edge, part.drawn.outer.clone())).chain(openings).chain(marks).collect()
    };
    let lie = |p: &Placed, c: &Contour| c.turned(p.turn_rad).moved(p.shift);
    places
        .iter()
        .filter_map(|p| parts.get(p.part).map(|part| (p, part)))
        .flat_map(|(p, part)| lines(part).into_iter().map(move |(role, c)| (p, role, c)))
        .map(|(p, role, c)| RouteContour { contour: lie(p, &c), role, part: p.part })
        .collect()
}

/// A sheet with everything that is cut from it.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// Which of the job's stocks.
    pub stock: usize,
    /// Which of the stock's supplies.
    pub supply: usize,
    /// Number over the whole job, from 1.
    pub number: usize,
    /// Width and height, mm.
    pub size_mm: (f64, f64),
    /// What lies where.
    pub places: Vec<Placed>,
    /// Share of the sheet's area that the parts take.
    pub utilisation: f64,
    /// Largest rectangle left: x, y, width, height, mm.
    pub offcut_mm: [f64; 4],
    /// In which order it is cut, and how long that takes.
    pub route: Route,
}

/// Everything that was made for one request.
#[derive(Clone, Debug)]
pub struct Made {
    /// The request as received.
    pub request: Request,
    /// The request, checked.
    pub job: Job,
    /// Every holder, finished.
    pub holders: Vec<Built>,
    /// Every part, holder by holder.
    pub parts: Vec<Part>,
    /// Every joint.
    pub joints: Vec<JointLine>,
    /// Every sheet.
    pub sheets: Vec<Sheet>,
    /// How each holder goes together: its steps, first to last.
    pub orders: Vec<Vec<Step>>,
    /// How each thing of each holder comes out with all else in place, berth by berth: one or two
    /// straight pulls, none where there is no such way.
    pub ways: Vec<Vec<Vec<Pull>>>,
    /// How likely each holder's joints are to close.
    pub chances: Vec<HolderChance>,
    /// What to cut and try first, stock by stock.
    pub coupons: Vec<Coupon>,
    /// What each check measured.
    pub checks: Vec<(About, Outcome)>,
    /// All findings, worst first.
    pub findings: Vec<Finding>,
    /// The worst of them.
    pub verdict: Verdict,
    /// Defaults that stood in for what was left out.
    pub defaults: Vec<DefaultUsed>,
    /// What it proves and what it does not, when it is a prototype.
    pub prototype: Option<Note>,
}
