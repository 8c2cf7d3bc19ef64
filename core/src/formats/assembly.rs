//! `assembly.json`: how the parts stand in space, so that anyone can put the cut files together.

use super::numbers::{mm, placement};
use super::{File, PackageFault, names};
use crate::assembly::{Joint, Reach};
use crate::finish::Built;
use crate::geom::Region;
use crate::joints::lap::DEPTH_PLAY_MM;
use crate::joints::tab::END_PLAY_MM;
use crate::joints::{Section, Side};
use crate::made::{JointLine, Made, Part, Placed, Sheet};
use crate::things::Solid;
use serde::Serialize;

#[derive(Serialize)]
struct AssemblyFile<'a> {
    format: &'static str,
    unit: &'static str,
    holders: Vec<Holder<'a>>,
    parts: Vec<PartEntry<'a>>,
    joints: Vec<JointEntry<'a>>,
    things: Vec<ThingEntry<'a>>,
    sheets: Vec<SheetEntry<'a>>,
    steps: Vec<super::order::StepEntry<'a>>,
}

#[derive(Serialize)]
struct Holder<'a> {
    letter: &'a str,
    family: &'static str,
    origin_mm: [f64; 3],
    size_mm: [f64; 3],
}

#[derive(Serialize)]
struct PartEntry<'a> {
    code: &'a str,
    name: &'a str,
    holder: &'a str,
    file: String,
    material: &'a str,
    stock: &'a str,
    thickness_mm: f64,
    kerf_mm: f64,
    size_mm: [f64; 2],
    placement: [f64; 16],
}

#[derive(Serialize)]
struct JointEntry<'a> {
    id: &'a str,
    letters: &'a str,
    kind: &'static str,
    a: &'a str,
    b: &'a str,
    fit_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    proud_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    play_mm: Option<f64>,
    cells: Vec<CellEntry>,
}

#[derive(Serialize)]
struct CellEntry {
    from_mm: f64,
    to_mm: f64,
    owner: &'static str,
}

#[derive(Serialize)]
struct SheetEntry<'a> {
    file: String,
    parts: Vec<PlaceEntry<'a>>,
}

#[derive(Serialize)]
struct PlaceEntry<'a> {
    code: &'a str,
    turn_deg: f64,
    shift_mm: [f64; 2],
}

#[derive(Serialize)]
struct ThingEntry<'a> {
    id: String,
    thing: &'a str,
    holder: &'a str,
    pocket: usize,
    shape: Shape,
    placement: [f64; 16],
    way_out: [f64; 3],
    /// How it comes out with all else in place.
    pulls: Vec<super::order::PullEntry>,
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum Shape {
    Revolution { profile_mm: Vec<[f64; 2]> },
    Prism { section_mm: Vec<[f64; 2]>, height_mm: f64 },
}

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    let file = AssemblyFile {
        format: "berth-assembly/1",
        unit: "mm",
        holders: holders(made),
        parts: made.parts.iter().map(|p| part(made, p)).collect(),
        joints: joints(made),
        things: things(made),
        sheets: made.sheets.iter().map(|s| sheet(made, s)).collect(),
        steps: super::order::entries(made),
    };
    super::package::json("assembly.json", &file)
}

fn holders(made: &Made) -> Vec<Holder<'_>> {
    let entry = |b: &'_ crate::finish::Built| {
        let size = [b.size.width_mm, b.size.depth_mm, b.size.height_mm].map(mm);
        (super::numbers::place(b.origin), size)
    };
    made.holders
        .iter()
        .map(|b| {
            let (origin_mm, size_mm) = entry(b);
            Holder { letter: &b.letter, family: b.family, origin_mm, size_mm }
        })
        .collect()
}

fn part<'a>(made: &'a Made, p: &'a Part) -> PartEntry<'a> {
    let stock = made.job.stocks.get(p.stock);
    PartEntry {
        code: &p.code,
        name: &p.name,
        holder: made.holders.get(p.holder).map_or("", |h| h.letter.as_str()),
        file: names::of_part(p),
        material: stock.map_or("", |s| s.material.as_str()),
        stock: stock.map_or("", |s| s.id.as_str()),
        thickness_mm: mm(p.thickness_mm),
        kerf_mm: mm(p.kerf_mm),
        size_mm: size(&p.finished),
        placement: placement(&p.placement),
    }
}

fn size(region: &Region) -> [f64; 2] {
    let (lo, hi) = region.bounds();
    (hi - lo).to_array().map(mm)
}

fn joints(made: &Made) -> Vec<JointEntry<'_>> {
    let meetings = made.holders.iter().flat_map(|h| (0..h.assembly.meetings.len()).map(move |i| (h, i)));
    let code = |i: usize| made.parts.get(i).map_or("", |p| p.code.as_str());
    let entry = |(j, (h, i)): (_, (_, usize))| -> JointEntry<'_> {
        let (j, h): (&JointLine, &Built) = (j, h);
        let joint = h.assembly.meetings[i].joint;
        let proud_mm = match joint {
            Joint::Tab { reach: Reach::Proud(by) } => Some(mm(by)),
            _ => None,
        };
        let play_mm = match joint {
            Joint::Tab { .. } => Some(END_PLAY_MM),
            Joint::Hook { .. } | Joint::Lap { .. } => Some(DEPTH_PLAY_MM),
            Joint::Corner | Joint::Rest => None,
        };
        let (letters, fit_mm, cells) = (j.letters.as_str(), mm(j.fit_mm), cells(h, i));
        let (a, b) = (code(j.a), code(j.b));
        JointEntry { id: &j.id, letters, kind: j.kind, a, b, fit_mm, proud_mm, play_mm, cells }
    };
    made.joints.iter().zip(meetings).map(entry).collect()
}

/// Who keeps what along the line in which both planes cross, from the space's zero: places are e · p with
/// e = n_a × n_b of unit length.
fn cells(built: &Built, meeting: usize) -> Vec<CellEntry> {
    let m = &built.assembly.meetings[meeting];
    let slab = |id| &built.assembly.panel(id).slab;
    let Some(x) = Section::between(slab(m.a), slab(m.b)) else { return vec![] };
    let zero = x.e.dot(built.origin);
    let cells = built.finished.meetings.get(meeting).map_or(&[][..], |f| &f.cells);
    let owner = |side| if side == Side::A { "a" } else { "b" };
    cells
        .iter()
        .map(|c| CellEntry { from_mm: mm(c.from + zero), to_mm: mm(c.to + zero), owner: owner(c.owner) })
        .collect()
}

fn sheet<'a>(made: &'a Made, sheet: &Sheet) -> SheetEntry<'a> {
    let place = |p: &Placed| PlaceEntry {
        code: made.parts.get(p.part).map_or("", |q| q.code.as_str()),
        turn_deg: super::numbers::fine(p.turn_rad.to_degrees()),
        shift_mm: p.shift.to_array().map(mm),
    };
    SheetEntry { file: names::of_sheet(made, sheet), parts: sheet.places.iter().map(place).collect() }
}

fn things(made: &Made) -> Vec<ThingEntry<'_>> {
    let mut all = vec![];
    for (h, built) in made.holders.iter().enumerate() {
        for (i, berth) in built.assembly.berths.iter().enumerate() {
            let thing = made.job.things.get(berth.thing).map_or("", crate::things::Thing::id);
            all.push(ThingEntry {
                id: format!("{}.{}", built.letter, i + 1),
                thing,
                holder: &built.letter,
                pocket: i + 1,
                shape: shape(&berth.solid),
                placement: placement(&berth.pose.moved(built.origin)),
                way_out: berth.way_out.to_array().map(super::numbers::fine),
                pulls: super::order::pulls(made, h, i),
            });
        }
    }
    all
}

fn shape(solid: &Solid) -> Shape {
    match solid {
        Solid::Revolution(r) => {
            Shape::Revolution { profile_mm: r.profile().iter().map(|(z, r)| [mm(*z), mm(*r)]).collect() }
        }
        Solid::Prism(p) => Shape::Prism {
            section_mm: p.section().vertices.iter().map(|v| [mm(v.p.x), mm(v.p.y)]).collect(),
            height_mm: mm(p.height()),
        },
    }
}
