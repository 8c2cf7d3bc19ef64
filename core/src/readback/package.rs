//! A package taken apart: parts with their outlines, where they stand, what meets what, what is held.

use super::archive::{Files, open};
use super::fault::short;
use super::limits::ReadLimits;
use super::listed::{self, FILE, wrong};
use super::outline;
use crate::assembly::{Joint, Reach};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec2, DVec3, Frame, OffsetError, Region, Slab, grow};
use crate::joints::{Cell, Section, Side};
use crate::things::{Prism, Revolution, Solid};
use std::collections::BTreeMap;

/// A part of the list with what its file draws.
#[derive(Clone, Debug)]
pub struct ReadPart {
    /// Its code.
    pub code: String,
    /// What people call it.
    pub name: String,
    /// Letter of its holder.
    pub holder: String,
    /// Path of the file that was read, in the archive.
    pub file: String,
    /// Material it is cut from, by name.
    pub material: String,
    /// Stock it is cut from, by id.
    pub stock: String,
    /// Kerf that the file's outline makes up for, mm.
    pub kerf_mm: f64,
    /// Where it stands, and its thickness.
    pub slab: Slab,
    /// Outer size of the finished part that the list gives, mm; `None` in older packages.
    pub size_mm: Option<DVec2>,
    /// Outline as drawn.
    pub drawn: Region,
    /// Outline once the kerf is burnt.
    pub finished: Region,
    /// Single-line marks.
    pub marks: Vec<Vec<DVec2>>,
}

/// A joint of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadJoint {
    /// `J1` …
    pub id: String,
    /// The letters burnt beside it.
    pub letters: String,
    /// What kind.
    pub joint: Joint,
    /// Place of the first partner in the list of parts: the one that enters, where one does.
    pub a: usize,
    /// Place of the second.
    pub b: usize,
    /// Finished slot less what enters, mm.
    pub fit_mm: f64,
    /// Play along the slot (tab), or between the slots' ends (lap, hook), mm; `None` in older packages.
    pub play_mm: Option<f64>,
    /// Who keeps what along the common line `n_a × n_b`, from the space's zero; `None` in older packages.
    pub cells: Option<Vec<Cell>>,
}

/// A thing where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadThing {
    /// Its berth: holder and pocket.
    pub id: String,
    /// Name of the thing.
    pub thing: String,
    /// Letter of its holder.
    pub holder: String,
    /// Its outside.
    pub solid: Solid,
    /// Where it stands.
    pub pose: Frame,
    /// Unit direction in which it is taken out.
    pub way_out: DVec3,
}

/// A package taken apart. What could be read is here; what could not is in `faults`.
#[derive(Clone, Debug, Default)]
pub struct Package {
    /// Parts whose files could be read and whose kerf could be burnt, in the list's order.
    pub parts: Vec<ReadPart>,
    /// Joints between such parts.
    pub joints: Vec<ReadJoint>,
    /// Things.
    pub things: Vec<ReadThing>,
    /// Sheets: path, and which part lies where (turn about its own zero, rad, then move, mm).
    pub sheets: Vec<ReadSheet>,
    /// Every file of the archive.
    pub files: Files,
    /// Parts that are missing, not in one piece, of another size; files that no part has.
    pub faults: Vec<Finding>,
}

/// A sheet of the list.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadSheet {
    /// Path without its ending.
    pub file: String,
    /// Place in the list of parts, turn (rad) about the part's own zero, then move (mm).
    pub places: Vec<(usize, f64, DVec2)>,
}

/// Reads a package from its archive.
///
/// # Errors
/// Findings: the archive, the list or a cut file cannot be read, or a limit was reached. Each says what, where
/// and how much; all files are tried before.
pub fn read(archive: &[u8], limits: &ReadLimits, stop: &dyn Fn() -> bool) -> Result<Package, Vec<Finding>> {
    of_files(open(archive, limits).map_err(|f| vec![f])?, limits, stop)
}

/// Reads a package from its files.
///
/// # Errors
/// As [`read`].
pub fn of_files(files: Files, limits: &ReadLimits, stop: &dyn Fn() -> bool) -> Result<Package, Vec<Finding>> {
    let Some(list) = files.get(FILE) else {
        let why = format!("There is no {FILE}: without it nobody knows how the parts stand.");
        return Err(vec![wrong("", "no such file", "assembly.json at the top of the archive", why)]);
    };
    let list = listed::read(list, limits).map_err(|f| vec![f])?;
    let (mut package, mut unreadable) = (Package { files, ..Package::default() }, vec![]);
    let mut at = BTreeMap::new();
    let mut codes = BTreeMap::new();
    for (i, entry) in list.parts.iter().enumerate() {
        if stop() {
            return Ok(package);
        }
        if codes.insert(entry.code.clone(), i).is_some() {
            unreadable.push(wrong(
                &format!("/parts/{i}/code"),
                &*entry.code,
                "one part a code",
                "Two parts share a code.",
            ));
            continue;
        }
        match part(i, entry, &package.files, limits) {
            Ok((part, faults)) => {
                package.faults.extend(faults);
                if let Some(part) = part {
                    at.insert(part.code.clone(), package.parts.len());
                    package.parts.push(part);
                }
            }
            Err(f) => unreadable.push(f),
        }
    }
    package.faults.extend(extra(&list, &package.files));
    for (i, entry) in list.joints.iter().enumerate() {
        match joint(i, entry, &codes) {
            Ok(j) => package.joints.extend(j.between(&at, entry)),
            Err(f) => unreadable.push(f),
        }
    }
    for (i, entry) in list.things.iter().enumerate() {
        match thing(i, entry) {
            Ok(t) => package.things.push(t),
            Err(f) => unreadable.push(f),
        }
    }
    for s in &list.sheets {
        let places = s.parts.iter().filter(|p| p.turn_deg.is_finite() && p.shift_mm.iter().all(|v| v.is_finite()));
        let places = places.filter_map(|p| Some((*at.get(&p.code)?, p.turn_deg.to_radians(), DVec2::from(p.shift_mm))));
        package.sheets.push(ReadSheet { file: s.file.clone(), places: places.collect() });
    }
    if unreadable.is_empty() { Ok(package) } else { Err(unreadable) }
}

/// The part's own file, or the same name with another ending.
fn file_of(entry: &listed::PartEntry, files: &Files) -> Option<String> {
    let stem = entry.file.rsplit_once('.').map_or(entry.file.as_str(), |s| s.0);
    let wanted =
        [entry.file.to_lowercase(), format!("{stem}.svg").to_lowercase(), format!("{stem}.dxf").to_lowercase()];
    wanted.iter().find_map(|w| files.keys().find(|k| k.to_lowercase() == *w)).cloned()
}

/// A part, if its file draws one; and what is wrong with it. An error where nothing can be read.
fn part(
    i: usize,
    entry: &listed::PartEntry,
    files: &Files,
    limits: &ReadLimits,
) -> Result<(Option<ReadPart>, Vec<Finding>), Finding> {
    let frame = listed::frame(&format!("/parts/{i}/placement"), &entry.placement)?;
    for (key, v, most) in [("thickness_mm", entry.thickness_mm, 100.0), ("kerf_mm", entry.kerf_mm, 10.0)] {
        if !(v.is_finite() && (0.0..=most).contains(&v) && (v > 0.0 || key == "kerf_mm")) {
            let why = format!("{FILE}/parts/{i}/{key} is {v}, beyond 0 to {most}.");
            return Err(wrong(&format!("/parts/{i}/{key}"), v.to_string(), "thickness up to 100, kerf 0 to 10", why));
        }
    }
    let Some((file, bytes)) = file_of(entry, files).and_then(|f| files.get_key_value(&f)) else {
        return Ok((None, vec![missing(entry)]));
    };
    let outline = outline::of_file(file, bytes, limits)?;
    let mut faults = vec![];
    if outline.pieces.len() > 1 {
        faults.push(pieces(entry, &outline.pieces));
    }
    let Some(drawn) = outline.pieces.into_iter().next() else { return Ok((None, faults)) };
    let finished = match burnt(&drawn, entry.kerf_mm) {
        Ok(r) => r,
        Err(e) => {
            faults.push(eaten(entry, &e));
            return Ok((None, faults));
        }
    };
    faults.extend(size(entry, &finished));
    let part = ReadPart {
        code: entry.code.clone(),
        name: entry.name.clone(),
        holder: entry.holder.clone(),
        file: file.clone(),
        material: entry.material.clone(),
        stock: entry.stock.clone(),
        kerf_mm: entry.kerf_mm,
        slab: Slab { frame, thickness: entry.thickness_mm },
        size_mm: entry.size_mm.map(DVec2::from),
        drawn,
        finished,
        marks: outline.marks,
    };
    Ok((Some(part), faults))
}

/// What is left of a drawn outline when half a kerf is burnt on either side of each line.
///
/// # Errors
/// When the beam eats a detail up.
pub fn burnt(drawn: &Region, kerf_mm: f64) -> Result<Region, OffsetError> {
    if kerf_mm == 0.0 { Ok(drawn.clone()) } else { grow(drawn, -kerf_mm / 2.0) }
}

fn missing(entry: &listed::PartEntry) -> Finding {
    let (code, file) = (short(&entry.code), short(&entry.file));
    Finding::new("part-missing", Verdict::Refuse, code.as_str())
        .have("files", 0.0)
        .need("files", file.as_str())
        .why(format!("Part {code} is listed, but its file {file} is not in the package."))
}

fn pieces(entry: &listed::PartEntry, pieces: &[Region]) -> Finding {
    let code = short(&entry.code);
    let c = pieces[1].centroid();
    Finding::new("part-in-pieces", Verdict::Refuse, code.as_str())
        .have("pieces", pieces.len())
        .have("second_mm2", pieces[1].area())
        .need("pieces", 1.0)
        .why(format!(
            "The file of part {code} draws {} pieces; the second has {:.1} mm² about x {:.1} y {:.1}.",
            pieces.len(),
            pieces[1].area(),
            c.x,
            c.y
        ))
}

fn eaten(entry: &listed::PartEntry, e: &OffsetError) -> Finding {
    let code = short(&entry.code);
    Finding::new("part-eaten-by-kerf", Verdict::Refuse, code.as_str())
        .have("kerf_mm", entry.kerf_mm)
        .have("short_mm", e.by_mm)
        .need("short_mm", 0.0)
        .why(format!("When the kerf of {} mm is burnt, part {code} loses a detail: {e}.", entry.kerf_mm))
}

/// How far a finished part's outer size may be off the list's, mm: deeper collisions are spoken of too.
const SIZE_OFF_MM: f64 = 0.02;

fn size(entry: &listed::PartEntry, finished: &Region) -> Option<Finding> {
    let want = DVec2::from(entry.size_mm?);
    let (lo, hi) = finished.bounds();
    let have = hi - lo;
    let off = have - want;
    let most = if off.x.abs() > off.y.abs() { off.x } else { off.y };
    let code = short(&entry.code);
    // written so that a listed size that is no number is a fault too
    let good = off.abs().max_element() <= SIZE_OFF_MM;
    (!good).then(|| {
        Finding::new("part-size-changed", Verdict::Refuse, code.as_str())
            .have("size_mm", vec![have.x, have.y])
            .have("off_mm", most)
            .need("size_mm", vec![want.x, want.y])
            .why(format!(
                "Part {code} is {:.2} × {:.2} mm once burnt, and the list says {:.2} × {:.2}: {most:+.2} mm.",
                have.x, have.y, want.x, want.y
            ))
    })
}

/// Files in `parts/` that no part of the list has.
fn extra(list: &listed::ListFile, files: &Files) -> Vec<Finding> {
    let known: Vec<String> = list.parts.iter().filter_map(|p| file_of(p, files)).collect();
    let stem = |f: &str| f.rsplit_once('.').map_or(f, |s| s.0).to_lowercase();
    let stems: Vec<String> = known.iter().map(|f| stem(f)).collect();
    files
        .keys()
        .filter(|f| f.to_lowercase().starts_with("parts/") && !stems.contains(&stem(f)))
        .map(|f| {
            Finding::new("part-extra", Verdict::Refuse, short(f))
                .have("parts", 0.0)
                .need("parts", 1.0)
                .why(format!("{} belongs to no part of the list.", short(f)))
        })
        .collect()
}

/// A joint whose partners are still codes.
struct Half {
    joint: Joint,
    cells: Option<Vec<Cell>>,
}

impl Half {
    /// The joint, when both partners could be read.
    fn between(self, at: &BTreeMap<String, usize>, e: &listed::JointEntry) -> Option<ReadJoint> {
        Some(ReadJoint {
            id: e.id.clone(),
            letters: e.letters.clone(),
            joint: self.joint,
            a: *at.get(&e.a)?,
            b: *at.get(&e.b)?,
            fit_mm: e.fit_mm,
            play_mm: e.play_mm,
            cells: self.cells,
        })
    }
}

fn joint(i: usize, e: &listed::JointEntry, codes: &BTreeMap<String, usize>) -> Result<Half, Finding> {
    let fault = |key: &str, found: String, need: &'static str| {
        let why = format!("{FILE}/joints/{i}/{key} is {}, and should be {need}.", short(&found));
        wrong(&format!("/joints/{i}/{key}"), found, need, why)
    };
    for (key, code) in [("a", &e.a), ("b", &e.b)] {
        if !codes.contains_key(code) {
            return Err(fault(key, code.clone(), "the code of a listed part"));
        }
    }
    if e.a == e.b {
        return Err(fault("b", e.b.clone(), "another part than a"));
    }
    let number = |v: f64| v.is_finite() && v.abs() <= MOST_FIT_MM;
    for (key, v) in [("fit_mm", Some(e.fit_mm)), ("proud_mm", e.proud_mm), ("play_mm", e.play_mm)] {
        if let Some(v) = v.filter(|v| !number(*v)) {
            return Err(fault(key, v.to_string(), "within 20 mm"));
        }
    }
    let joint = match e.kind.as_str() {
        "corner" => Joint::Corner,
        "tab" => Joint::Tab { reach: e.proud_mm.map_or(Reach::Flush, Reach::Proud) },
        // the share matters only where a slot is made
        "hook" => Joint::Hook { depth_share: 0.5 },
        "lap" => Joint::Lap { depth_share: 0.5 },
        "rest" => Joint::Rest,
        other => return Err(fault("kind", other.to_owned(), "corner, tab, hook, lap or rest")),
    };
    let cells = e.cells.as_ref().map(|cells| {
        cells.iter().map(|c| Cell { from: c.from_mm, to: c.to_mm, owner: Side::from(c.owner) }).collect::<Vec<_>>()
    });
    let sound = |c: &Cell| c.from.is_finite() && c.to.is_finite() && c.from < c.to;
    if cells.as_ref().is_some_and(|all| all.len() > MOST_CELLS || !all.iter().all(sound)) {
        return Err(fault("cells", "other numbers".into(), "at most 2000 cells, each from less than to"));
    }
    Ok(Half { joint, cells })
}

/// No fit or play is wider, mm.
const MOST_FIT_MM: f64 = 20.0;
/// No joint has more fingers: 2,000 of 4.5 mm are nine metres.
const MOST_CELLS: usize = 2_000;

fn thing(i: usize, e: &listed::ThingEntry) -> Result<ReadThing, Finding> {
    let place = format!("/things/{i}");
    let pose = listed::frame(&format!("{place}/placement"), &e.placement)?;
    let fault = |found: String| {
        let need = "a turned profile from z = 0 upward, or a convex section with a height, and a way out";
        let why = format!("{FILE}{place} makes no solid with a way out.");
        wrong(&place, found, need, why)
    };
    let finite =
        |rows: &[[f64; 2]]| rows.len() <= 1_000 && rows.iter().flatten().all(|v| v.is_finite() && v.abs() < 1e5);
    let solid = match &e.shape {
        listed::ShapeEntry::Revolution { profile_mm } if finite(profile_mm) => {
            Revolution::new(profile_mm.iter().map(|r| (r[0], r[1])).collect()).map(Solid::Revolution)
        }
        listed::ShapeEntry::Prism { section_mm, height_mm } if finite(section_mm) => {
            let corners: Vec<DVec2> = section_mm.iter().map(|r| DVec2::new(r[0], r[1])).collect();
            Prism::new(&corners, *height_mm).map(Solid::Prism)
        }
        _ => None,
    };
    let way_out = DVec3::from(e.way_out);
    let unit = way_out.is_finite() && (way_out.length() - 1.0).abs() < 1e-6;
    match solid {
        Some(solid) if unit => Ok(ReadThing {
            id: e.id.clone(),
            thing: e.thing.clone(),
            holder: e.holder.clone(),
            solid,
            pose,
            way_out: way_out.normalize_or_zero(),
        }),
        Some(_) => Err(fault(format!("a way out of length {}", way_out.length()))),
        None => Err(fault("no solid".into())),
    }
}

impl ReadPart {
    /// The part as a solid in the space.
    #[must_use]
    pub fn plate(&self) -> crate::solid::Plate<'_> {
        crate::solid::Plate { slab: &self.slab, region: &self.finished }
    }

    /// A point of its material's middle plane in the space: the side of every other part on which it lies.
    #[must_use]
    pub fn seed(&self) -> DVec3 {
        self.slab.frame.out(self.finished.centroid().extend(self.slab.thickness / 2.0))
    }
}

impl ReadJoint {
    /// Its cells: as listed, or else read off the line midway through both slabs.
    #[must_use]
    pub fn cells(&self, parts: &[ReadPart]) -> Vec<Cell> {
        if let Some(cells) = &self.cells {
            return cells.clone();
        }
        let (a, b) = (&parts[self.a], &parts[self.b]);
        let Some(pair) = crate::solid::Pair::of(a.plate(), b.plate()) else { return vec![] };
        let middle = |x: &Section, side: Side| {
            let (lo, hi) = x.range(side, &x.crossing());
            (lo + hi) / 2.0
        };
        // a high wall goes on where a low one has ended
        let reach = [Side::A, Side::B].map(|s| pair.laid(s).bounds());
        let (low, high) = (reach[0].0.x.max(reach[1].0.x), reach[0].1.x.min(reach[1].1.x));
        let both = matches!(self.joint, Joint::Corner | Joint::Lap { .. });
        let sides: &[Side] = if both { &[Side::A, Side::B] } else { &[Side::A] };
        let mut all = vec![];
        for side in sides {
            let stretches = pair.along(*side, middle(&pair.x, *side));
            let both_reach = stretches.into_iter().map(|(from, to)| (from.max(low), to.min(high)));
            all.extend(both_reach.filter(|s| s.0 < s.1).map(|(from, to)| Cell { from, to, owner: *side }));
        }
        all.sort_by(|c, d| c.from.total_cmp(&d.from));
        all
    }
}
