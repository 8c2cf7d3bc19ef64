//! `assembly.json`: how the parts stand in space, so that anyone can put the cut files together.

use super::numbers::{mm, placement};
use super::{File, PackageFault, names};
use crate::assembly::{Joint, Reach};
use crate::made::{JointLine, Made, Part};
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
        placement: placement(&p.placement),
    }
}

fn joints(made: &Made) -> Vec<JointEntry<'_>> {
    let meetings = made.holders.iter().flat_map(|h| &h.assembly.meetings);
    let code = |i: usize| made.parts.get(i).map_or("", |p| p.code.as_str());
    let entry = |(j, m): (&'_ JointLine, &crate::assembly::Meeting)| {
        let proud = match m.joint {
            Joint::Tab { reach: Reach::Proud(by) } => Some(mm(by)),
            _ => None,
        };
        (j.kind, mm(j.fit_mm), proud)
    };
    made.joints
        .iter()
        .zip(meetings)
        .map(|(j, m)| {
            let (kind, fit_mm, proud_mm) = entry((j, m));
            JointEntry { id: &j.id, letters: &j.letters, kind, a: code(j.a), b: code(j.b), fit_mm, proud_mm }
        })
        .collect()
}

fn things(made: &Made) -> Vec<ThingEntry<'_>> {
    let mut all = vec![];
    for built in &made.holders {
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
