//! `sheets/NN-MATERIAL-plan.svg`: a sheet for people. Which part lies where, what is left, how long it takes.
//! The cut files keep to what the beam follows: a letter in them would be burnt.

use super::bill::SheetRow;
use super::numbers::mm2;
use super::plan::canvas::{Anchor, Canvas, PLAIN_MM, SMALL_MM, Style, words_mm};
use crate::geom::{Contour, DVec2, Region, to_boundary};
use crate::made::{Made, Part, Sheet};
use crate::material::{Stock, Supply};

/// Paper around the sheet, mm: room for its sizes.
const AROUND_MM: f64 = 12.0;
/// Height of a line of words below it.
const LINE_MM: f64 = 5.5;
/// A caption is never narrower than this, however small the offcut.
const LEAST_WIDTH_MM: f64 = 190.0;
/// Arcs are drawn as chords that leave them by this much: less than a line's width.
const FLAT_MM: f64 = 0.05;
/// Codes are no larger than this, mm; nor smaller than what can be read at arm's length (ISO 3098 has 2.5).
const LARGEST_CODE_MM: f64 = 9.0;

/// The drawing of one sheet.
pub fn file(made: &Made, sheet: &Sheet, row: &SheetRow) -> Option<Vec<u8>> {
    let stock = made.job.stocks.get(sheet.stock)?;
    let supply = stock.supplies.get(sheet.supply)?;
    let said = caption(made, stock, supply, row);
    let (w, h) = sheet.size_mm;
    let page = DVec2::new(
        (w + 2.0 * AROUND_MM).max(LEAST_WIDTH_MM),
        h + 2.0 * AROUND_MM + LINE_MM * (said.len() as f64 + 1.0),
    );
    let mut canvas = Canvas::new(page);
    let paper = Paper { height: h };
    paper.ground(&mut canvas, stock, supply);
    let [x, y, ow, oh] = sheet.offcut_mm;
    paper.offcut(&mut canvas, DVec2::new(x, y), DVec2::new(ow, oh));
    for p in &sheet.places {
        let Some(part) = made.parts.get(p.part) else { continue };
        paper.part(&mut canvas, part, &part.drawn.turned(p.turn_rad).moved(p.shift));
    }
    let (corner, right) = (paper.at(DVec2::ZERO), paper.at(DVec2::new(w, 0.0)));
    canvas.dimension(right, corner, -6.0, &format!("{}", mm2(w)));
    canvas.dimension(corner, paper.at(DVec2::new(0.0, h)), -6.0, &format!("{}", mm2(h)));
    for (i, line) in said.iter().enumerate() {
        let at = DVec2::new(AROUND_MM, h + 2.0 * AROUND_MM + LINE_MM * (i as f64 + 1.0));
        canvas.words(at, line, PLAIN_MM, Anchor::Start, 0.0, "black");
    }
    let title = format!("Plan of sheet {}", sheet.number);
    Some(canvas.into_svg(&title, "For people; the cut files of the same number are for the machine.").into_bytes())
}

/// What stands below the sheet.
fn caption(made: &Made, stock: &Stock, supply: &Supply, row: &SheetRow) -> Vec<String> {
    let grain = match (stock.keeps_grain, supply.grain_upright) {
        (false, _) => "grain as it comes",
        (true, false) => "grain along the width",
        (true, true) => "grain along the height",
    };
    let [_, _, ow, oh] = row.offcut_mm;
    let cost = row.cost.map_or_else(String::new, |c| format!(", cost {c}"));
    vec![
        format!(
            "Sheet {} of {}: {} \"{}\"{}, {} mm thick, {grain}",
            row.number,
            made.sheets.len(),
            stock.material,
            stock.id,
            supply.id.as_ref().map_or_else(String::new, |id| format!(", \"{id}\"")),
            mm2(supply.thickness_mm)
        ),
        format!(
            "{} parts on {:.0} % of it; the largest rectangle left is {ow} × {oh} mm",
            row.parts.len(),
            row.utilisation * 100.0
        ),
        format!(
            "cut {} m, marks {} m, travel {} m, {} pierces: {} minutes{cost}",
            mm2(row.cut_mm / 1000.0),
            mm2(row.mark_mm / 1000.0),
            mm2(row.travel_mm / 1000.0),
            row.pierces,
            mm2(row.minutes)
        ),
    ]
}

/// The sheet on its page: y runs down there.
struct Paper {
    height: f64,
}

impl Paper {
    fn at(&self, p: DVec2) -> DVec2 {
        DVec2::new(p.x + AROUND_MM, self.height - p.y + AROUND_MM)
    }

    fn outline(&self, c: &Contour) -> Vec<DVec2> {
        c.flattened(FLAT_MM).into_iter().map(|p| self.at(p)).collect()
    }

    fn rect(&self, low: DVec2, size: DVec2) -> Vec<DVec2> {
        [low, low + size.with_y(0.0), low + size, low + size.with_x(0.0)].map(|p| self.at(p)).to_vec()
    }

    /// The sheet, what of it may hold parts, its defects and its grain.
    fn ground(&self, canvas: &mut Canvas, stock: &Stock, supply: &Supply) {
        let (size, margin) = (DVec2::from(supply.size_mm), DVec2::splat(stock.margin_mm));
        canvas.area(&[self.rect(DVec2::ZERO, size)], Style::area("#f6efe2", "#333", 0.5));
        let room = (size - 2.0 * margin).max(DVec2::ZERO);
        canvas.area(&[self.rect(margin, room)], Style::line("#999", 0.2).dashed("3 2"));
        for [x, y, w, h] in &supply.keep_outs_mm {
            let (low, high) = (DVec2::new(*x, *y), DVec2::new(x + w, y + h).min(size));
            canvas.area(&[self.rect(low, high - low)], Style::area("#c98f8f", "#803030", 0.3));
            canvas.label(self.at((low + high) / 2.0), "keep out", SMALL_MM, "#501010", false);
        }
        if stock.keeps_grain {
            let along = if supply.grain_upright { DVec2::Y } else { DVec2::X };
            let from = margin / 2.0;
            let to = from + along * (size.dot(along) / 4.0);
            let barb = |side: f64| self.at(to - along * 3.0 + along.perp() * side);
            canvas.line(&[self.at(from), self.at(to)], Style::line("#885522", 0.4));
            canvas.line(&[barb(1.2), self.at(to), barb(-1.2)], Style::line("#885522", 0.4));
        }
    }

    fn offcut(&self, canvas: &mut Canvas, low: DVec2, size: DVec2) {
        if size.min_element() <= 0.0 {
            return;
        }
        canvas.area(&[self.rect(low, size)], Style::area("#dcebd8", "#5a8a50", 0.3).dashed("4 2"));
        let text = format!("left: {} × {}", mm2(size.x), mm2(size.y));
        if words_mm(&text, PLAIN_MM) < size.x && size.y > 2.0 * PLAIN_MM {
            canvas.label(self.at(low + size / 2.0), &text, PLAIN_MM, "#2c5a24", false);
        }
    }

    /// A part with its code where there is most room for it, and its name where that fits too.
    fn part(&self, canvas: &mut Canvas, part: &Part, lying: &Region) {
        let outlines: Vec<Vec<DVec2>> = lying.contours().map(|c| self.outline(c)).collect();
        canvas.area(&outlines, Style::area("white", "black", 0.25));
        let (at, room) = roomiest(lying);
        let size = (room * 0.9).min(2.0 * room / words_mm(&part.code, 1.0)).clamp(SMALL_MM, LARGEST_CODE_MM);
        let at = self.at(at);
        canvas.words(at + DVec2::new(0.0, size * 0.36), &part.code, size, Anchor::Middle, 0.0, "black");
        let below = at + DVec2::new(0.0, size * 0.36 + SMALL_MM * 1.3);
        if words_mm(&part.name, SMALL_MM) < 2.0 * room && room > size + SMALL_MM {
            canvas.words(below, &part.name, SMALL_MM, Anchor::Middle, 0.0, "#333");
        }
    }
}

/// Steps across a part at which its roomiest spot is looked for.
const STEPS: usize = 8;

/// The spot of a region that is farthest from its edges, among a grid of spots, and how far that is.
fn roomiest(region: &Region) -> (DVec2, f64) {
    let (low, high) = region.bounds();
    let spot = |i: usize| {
        let (x, y) = ((i % STEPS) as f64 + 0.5, (i / STEPS) as f64 + 0.5);
        low + (high - low) * DVec2::new(x, y) / STEPS as f64
    };
    let inside = (0..STEPS * STEPS).map(spot).filter(|p| region.contains(*p));
    let all = inside.map(|p| (p, to_boundary(region, p).0));
    all.max_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(((low + high) / 2.0, 0.0))
}
