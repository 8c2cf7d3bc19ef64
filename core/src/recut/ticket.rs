//! From a package and part codes to single cut files and their report.

use super::judged::Case;
use super::report::{PartLine, Recut, SheetLine};
use super::seat::seated;
use super::slots::remade;
use super::spec::RecutSpec;
use crate::finding::{Finding, Verdict, worst};
use crate::formats::{File, PackageFault, archive, json_file, part_file};
use crate::kerf::drawn;
use crate::made::Part;
use crate::material::Stock;
use crate::readback::{Package, ReadLimits, ReadPart, judge, read};
use crate::units::NAME_MAX_CHARS;

/// What came of it.
#[derive(Debug)]
pub enum Answer {
    /// The files, and what is in `recut.json` among them.
    Cut(Vec<u8>, Box<Recut>),
    /// Findings: the package cannot be read, or this sheet does not do.
    Refused(Vec<Finding>),
    /// The caller's `stop` said so.
    Stopped,
}

/// Cuts parts of a package again.
#[must_use]
pub fn recut(package: &[u8], spec: &RecutSpec, limits: &ReadLimits, stop: &dyn Fn() -> bool) -> Answer {
    let mut findings = vec![];
    let sheet = spec.checked_sheet(&mut findings);
    let package = match read(package, limits, stop) {
        Ok(p) => p,
        Err(faults) => {
            findings.extend(faults);
            return Answer::Refused(findings);
        }
    };
    if stop() {
        return Answer::Stopped;
    }
    let wanted = spec.wanted(&package, &mut findings);
    findings.extend(package.faults.iter().cloned());
    if worst(&findings) == Verdict::Refuse {
        findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
        return Answer::Refused(findings);
    }
    let (report, files) = match sheet {
        None => first_files(&package, &wanted),
        Some(sheet) => match anew(&package, &wanted, &sheet, spec, findings, stop) {
            Some(Ok(done)) => done,
            Some(Err(faults)) => return Answer::Refused(faults),
            None => return Answer::Stopped,
        },
    };
    let packed = json_file("recut.json", &report).and_then(|f| archive(files.into_iter().chain(f).collect()));
    match packed {
        Ok(bytes) => Answer::Cut(bytes, Box::new(report)),
        Err(e) => Answer::Refused(vec![unusable(&e)]),
    }
}

/// A code or file name of the package that no archive of ours may hold.
fn unusable(fault: &PackageFault) -> Finding {
    let shown: String = fault.path.chars().filter(|c| !c.is_control()).take(NAME_MAX_CHARS).collect();
    Finding::new("path-unsafe", Verdict::Refuse, shown.as_str())
        .have("path", shown.as_str())
        .need("path", "ASCII letters, digits, . _ - and inner /, each name once")
        .why(format!("{shown} cannot be sent: {}.", fault.why))
}

/// The files as they are in the package.
fn first_files(package: &Package, wanted: &[usize]) -> (Recut, Vec<File>) {
    let line = |i: &usize| {
        let p = &package.parts[*i];
        part_line(p, p.file.clone(), true, p.slab.thickness, (0.0, 0))
    };
    let file = |i: &usize| {
        let path = &package.parts[*i].file;
        package.files.get(path).map(|bytes| (path.clone(), bytes.clone()))
    };
    let report = Recut {
        format: FORMAT,
        verdict: Verdict::Ok,
        sheet: None,
        parts: wanted.iter().map(line).collect(),
        joints: vec![],
        findings: vec![],
    };
    (report, wanted.iter().filter_map(file).collect())
}

const FORMAT: &str = "berth-recut/1";

type Done = Result<(Recut, Vec<File>), Vec<Finding>>;

/// New files for today's sheet. `None` when stopped.
fn anew(
    package: &Package,
    wanted: &[usize],
    sheet: &Stock,
    spec: &RecutSpec,
    mut findings: Vec<Finding>,
    stop: &dyn Fn() -> bool,
) -> Option<Done> {
    let mut now = package.clone();
    let (mut parts, mut files) = (vec![], vec![]);
    for &i in wanted {
        if stop() {
            return None;
        }
        let (slab, moved_mm) = seated(package, i, sheet.thickness_mm);
        let (finished, slots) = remade(package, i, &slab);
        let was = &package.parts[i];
        if same(was, sheet) {
            files.extend(package.files.get(&was.file).map(|b| (was.file.clone(), b.clone())));
            parts.push(part_line(was, was.file.clone(), true, was.slab.thickness, (0.0, 0)));
            continue;
        }
        match drawn(&finished, sheet.drawn_kerf_mm) {
            Ok(outline) => {
                now.parts[i] = ReadPart { slab, finished, drawn: outline, kerf_mm: sheet.drawn_kerf_mm, ..was.clone() };
                let file = part_file(&written(&now.parts[i]));
                parts.push(part_line(was, file.0.clone(), false, sheet.thickness_mm, (moved_mm, slots)));
                files.push(file);
            }
            Err(e) => findings.push(
                Finding::new("kerf-eats-outline", Verdict::Refuse, was.code.as_str())
                    .have("kerf_mm", sheet.drawn_kerf_mm)
                    .need("kerf_mm", "less than the narrowest slot or hole")
                    .why(format!("Part {} cannot be drawn for this kerf: {e}", was.code)),
            ),
        }
    }
    let (was_report, now_report) = (judge(package, stop)?, judge(&now, stop)?);
    let case = Case { was: package, was_report: &was_report, now: &now, now_report: &now_report, sheet, spec };
    let joints = wanted.iter().flat_map(|i| case.joints(*i)).collect();
    for i in wanted {
        if stop() {
            return None;
        }
        case.findings(*i, &mut findings);
    }
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    if worst(&findings) == Verdict::Refuse {
        return Some(Err(findings));
    }
    let (sheet, verdict) = (Some(SheetLine::from(sheet)), worst(&findings));
    Some(Ok((Recut { format: FORMAT, verdict, sheet, parts, joints, findings }, files)))
}

/// A sheet this near to the first one is the same, mm: files are rounded to it.
const SAME_MM: f64 = 1e-4;

/// Whether today's sheet gives the same file.
fn same(part: &ReadPart, sheet: &Stock) -> bool {
    (part.slab.thickness - sheet.thickness_mm).abs() < SAME_MM && (part.kerf_mm - sheet.drawn_kerf_mm).abs() < SAME_MM
}

fn part_line(was: &ReadPart, file: String, same_bytes: bool, thickness_mm: f64, how: (f64, usize)) -> PartLine {
    let round = |v: f64| (v * 1e4).round() / 1e4 + 0.0;
    PartLine {
        code: was.code.clone(),
        name: was.name.clone(),
        file,
        same_bytes,
        thickness_was_mm: was.slab.thickness,
        thickness_mm: round(thickness_mm),
        moved_mm: round(how.0),
        slots_remade: how.1,
    }
}

/// The part as the writer of cut files wants it.
fn written(part: &ReadPart) -> Part {
    Part {
        code: part.code.clone(),
        holder: 0,
        panel: 0,
        name: part.name.clone(),
        stock: 0,
        finished: part.finished.clone(),
        drawn: part.drawn.clone(),
        marks: part.marks.clone(),
        marks_left_out: vec![],
        thickness_mm: part.slab.thickness,
        kerf_mm: part.kerf_mm,
        placement: part.slab.frame,
        grain_deg: None,
        mass_g: 0.0,
    }
}
