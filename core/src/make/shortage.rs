//! What the nest could not do, in the words and numbers of the request, with ways out.

use crate::finding::{Finding, Verdict};
use crate::job::Job;
use crate::made::Part;
use crate::material::{Batch, Stock, Supply};
use crate::nest::{NestFault, TooLarge};

/// Findings that only the nest can make: a cure of one of these is tried as far as sheets.
pub const CODES: [&str; 5] =
    ["part-larger-than-sheet", "sheets-run-out", "keep-outs-in-the-way", "nest-cannot", "too-many-sheets"];

/// Sheets that ran out: what is said about it, and which parts are left over.
#[derive(Clone, Debug, Default)]
pub struct Shortage {
    /// What is said about it.
    pub findings: Vec<Finding>,
    /// Parts for which there was no room left, where only that was missing.
    pub left: Vec<Left>,
}

/// A part for which its batch had no room left.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Left {
    /// Which holder.
    pub holder: usize,
    /// Which of its panels.
    pub panel: usize,
    /// The batch of its stock that ran out.
    pub batch: usize,
    /// How many batches its stock has.
    pub batches: usize,
}

impl From<Vec<Finding>> for Shortage {
    fn from(findings: Vec<Finding>) -> Self {
        Self { findings, left: vec![] }
    }
}

/// Where it happened.
#[derive(Clone, Copy)]
pub struct Place<'a> {
    /// The job.
    pub job: &'a Job,
    /// Which stock.
    pub stock: usize,
    /// Which of its batches.
    pub batch: usize,
    /// All parts.
    pub parts: &'a [Part],
}

impl Place<'_> {
    fn stock(&self) -> &Stock {
        &self.job.stocks[self.stock]
    }

    fn batch(&self) -> &Batch {
        &self.stock().batches[self.batch]
    }

    fn supplies(&self) -> impl Iterator<Item = &Supply> {
        self.batch().supplies.iter().map(|&i| &self.stock().supplies[i])
    }

    fn left(&self, parts: &[usize]) -> Vec<Left> {
        let (batch, batches) = (self.batch, self.stock().batches.len());
        let of = |p: &Part| Left { holder: p.holder, panel: p.panel, batch, batches };
        parts.iter().filter_map(|&i| self.parts.get(i)).map(of).collect()
    }

    /// `A3 "floor", A4 "deck" and 5 more`.
    fn named(&self, parts: &[usize]) -> String {
        let name = |&i: &usize| self.parts.get(i).map(|p| format!("{} \"{}\"", p.code, p.name));
        let shown: Vec<String> = parts.iter().take(MOST_NAMED).filter_map(name).collect();
        let more = parts.len().saturating_sub(MOST_NAMED);
        shown.join(", ") + &if more > 0 { format!(" and {more} more") } else { String::new() }
    }
}

/// A longer list of parts is not read.
const MOST_NAMED: usize = 6;
/// Share of a further sheet's usable area that what is left over will surely fill (common practice, no source).
const FILL: f64 = 0.6;

impl Shortage {
    /// Adds what a fault of one batch's nest means.
    pub fn add(&mut self, place: &Place, fault: &NestFault) {
        match fault {
            NestFault::TooLarge(list) => self.findings.extend(list.iter().map(|t| too_large(place, t))),
            NestFault::SheetsRunOut { sheets, left, left_area_mm2 } => {
                self.left.extend(place.left(left));
                self.findings.push(run_out(place, *sheets, left, *left_area_mm2));
            }
            NestFault::Blocked { parts } => {
                self.left.extend(place.left(parts));
                self.findings.push(blocked(place, parts));
            }
            // what remains is refused where the request is checked, or the caller has left
            other => self.findings.push(
                Finding::new("nest-cannot", Verdict::Refuse, format!("/stocks/{}", place.stock))
                    .have("parts", place.parts.iter().filter(|p| p.stock == place.stock).count())
                    .need("sheets", "sheets, margins and gaps that can be laid out")
                    .why(format!("The parts of stock \"{}\" cannot be laid out: {other}.", place.stock().id)),
            ),
        }
    }
}

fn too_large(place: &Place, t: &TooLarge) -> Finding {
    let part = &place.parts[t.part];
    Finding::new("part-larger-than-sheet", Verdict::Refuse, place.job.holders[part.holder].at.clone())
        .have("part_mm", vec![t.width_mm, t.height_mm])
        .need("room_mm", vec![t.room_width_mm, t.room_height_mm])
        .why(format!(
            "Part {} \"{}\" is {:.1} × {:.1} mm, {:.1} mm more than a sheet of stock \"{}\" has within its margins.",
            part.code,
            part.name,
            t.width_mm,
            t.height_mm,
            t.over_mm(),
            place.stock().id
        ))
}

fn run_out(place: &Place, sheets: usize, left: &[usize], area_mm2: f64) -> Finding {
    let stock = place.stock();
    let usable = |s: &Supply| s.usable_area_mm2(stock.margin_mm);
    let largest = place.supplies().max_by(|a, b| usable(a).total_cmp(&usable(b)));
    let room = largest.map_or(0.0, usable).max(1.0);
    let more = (area_mm2 / (room * FILL)).ceil().max(1.0);
    let f = Finding::new("sheets-run-out", Verdict::Refuse, format!("/stocks/{}", place.stock))
        .have("sheets", sheets)
        .have("parts_left", left.len())
        .have("area_left_mm2", area_mm2.round())
        .need("sheets_more", more)
        .why(format!(
            "All {sheets} sheets of stock \"{}\"{} are full, and {} parts of {:.0} mm² are left over: {}. That is {:.0} % of a further {}.",
            stock.id,
            of_thickness(place),
            left.len(),
            area_mm2,
            place.named(left),
            100.0 * area_mm2 / room,
            largest.map_or_else(|| "sheet".to_owned(), |s| s.called().trim_start_matches("a ").to_owned())
        ));
    let f = match largest {
        Some(s) => {
            let n = f64::from(s.count.unwrap_or(0)) + more;
            f.cure(format!("Take {more} more of them: {n}."), format!("{}/count", s.at), n)
        }
        None => f,
    };
    less_waste(f, stock, &format!("/stocks/{}", place.stock))
}

/// Which batch, where the sheets of a stock differ.
fn of_thickness(place: &Place) -> String {
    match place.stock().batches.len() {
        0 | 1 => String::new(),
        _ => format!(" that are {:.2} mm thick", place.batch().thickness_mm),
    }
}

/// A gap, a margin or grain that asks for more than the trade does.
fn less_waste(mut f: Finding, stock: &Stock, at: &str) -> Finding {
    let usual = stock.usual_gap_mm();
    if stock.gap_mm > usual + 1e-9 {
        f = f.cure(format!("Lay the parts {usual:.2} mm apart."), format!("{at}/gap_mm"), usual);
    }
    if stock.margin_mm > Stock::USUAL_MARGIN_MM {
        let usual = Stock::USUAL_MARGIN_MM;
        f = f.cure(format!("Use a margin of {usual} mm."), format!("{at}/margin_mm"), usual);
    }
    if stock.keeps_grain {
        f = f.cure("Let the grain lie as it comes.", format!("{at}/keep_grain"), false);
    }
    f
}

fn blocked(place: &Place, parts: &[usize]) -> Finding {
    let stock = place.stock();
    let lost: f64 = place.supplies().flat_map(|s| &s.keep_outs_mm).map(|k| k[2] * k[3]).sum();
    let f = Finding::new("keep-outs-in-the-way", Verdict::Refuse, format!("/stocks/{}", place.stock))
        .have("parts", parts.len())
        .have("keep_outs_mm2", lost)
        .need("keep_outs", "fewer, or a further sheet without")
        .why(format!(
            "{} parts would fit on a sheet of stock \"{}\"{} by their size, but its keep-outs of {lost:.0} mm² in all leave no spot for them: {}.",
            parts.len(),
            stock.id,
            of_thickness(place),
            place.named(parts)
        ));
    if stock.supplies.iter().all(|s| s.at != format!("/stocks/{}", place.stock)) {
        return f.cure("Take a whole sheet as large as the bed.", format!("/stocks/{}/count", place.stock), 1.0);
    }
    f
}
