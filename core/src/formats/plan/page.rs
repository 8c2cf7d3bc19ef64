//! The page: which scale fits, and where each view stands.

use super::canvas::{Anchor, Canvas, PLAIN_MM, Style};
use super::dimensions;
use super::notes::{Title, column, title};
use super::scene::{Place, Scene};
use super::section::{self, Cut};
use super::view::View;
use crate::geom::{DVec2, DVec3};

/// A3, landscape (ISO 216).
const PAGE: DVec2 = DVec2::new(420.0, 297.0);
/// Reductions recommended by ISO 5455 (from memory), and 2.5 between two of them: the widths of many
/// drawers fall just there.
const SCALES: [f64; 8] = [1.0, 2.0, 2.5, 5.0, 10.0, 20.0, 50.0, 100.0];
/// Frame of the page.
const MARGIN_MM: f64 = 10.0;
/// Room for dimensions left of and below a view.
const ROOM_MM: f64 = 24.0;
/// Height of the line that names a view.
const HEAD_MM: f64 = 8.0;
/// Narrowest column of words.
const COLUMN_MM: f64 = 100.0;
/// Size of the title block.
const TITLE: DVec2 = DVec2::new(120.0, 24.0);

/// Draws everything on one page.
pub fn draw(scene: &Scene, about: &Title) -> String {
    let (low, high) = scene.extents();
    let size = high - low;
    let over = SCALES.into_iter().find(|s| fits(size / *s)).unwrap_or(SCALES[SCALES.len() - 1]);
    let scale = 1.0 / over;
    let mut canvas = Canvas::new(PAGE);
    let frame = [DVec2::splat(MARGIN_MM / 2.0), PAGE - DVec2::splat(MARGIN_MM / 2.0)];
    canvas.area(&[corners(frame[0], frame[1])], Style::line("#333", 0.5));

    let on_page = size * scale;
    let left = MARGIN_MM + ROOM_MM;
    let plan_foot = MARGIN_MM + HEAD_MM + on_page.y;
    let section_foot = plan_foot + ROOM_MM + HEAD_MM + on_page.z;
    let right = left + on_page.x + ROOM_MM + 4.0;
    let place = |view: View, x: f64, y: f64| Place { view, corner: DVec2::new(x, y), least: view.flat(low), scale };
    let plan = place(View::PLAN, left, plan_foot);
    let front = place(View::FRONT, left, section_foot);
    let side = place(View::SIDE, right, section_foot);

    scene.seen(&mut canvas, &plan);
    scene.room(&mut canvas, &plan);
    dimensions::plan(scene, &mut canvas, &plan);
    let at = scene.holders.first().map_or(size / 2.0, section::place);
    for (place, letter) in [(&front, 'A'), (&side, 'B')] {
        let cut = Cut { view: place.view, at: place.view.eye.dot(at) };
        scene.cut(&mut canvas, place, &cut);
        scene.room(&mut canvas, place);
        dimensions::heights(scene, &mut canvas, place);
        head(
            &mut canvas,
            DVec2::new(place.corner.x, section_foot - on_page.z - 3.0),
            &format!("Section {letter}–{letter}"),
        );
    }
    head(&mut canvas, DVec2::new(left, MARGIN_MM + HEAD_MM - 3.0), "Plan, the front below");
    cutting_lines(&mut canvas, &plan, at, low, high);
    scene.labels(&mut canvas, &plan);
    let words = DVec2::new(right, MARGIN_MM + HEAD_MM);
    column(scene, &mut canvas, words, DVec2::new(PAGE.x - MARGIN_MM - right, plan_foot - words.y));
    title(&mut canvas, PAGE - DVec2::splat(MARGIN_MM), TITLE, about, &format!("1:{over}"));
    canvas.into_svg("Plan and sections", &format!("scale 1:{over}"))
}

/// Whether the page has room for all views at this size.
fn fits(on_page: DVec3) -> bool {
    let across = 2.0 * MARGIN_MM + 2.0 * ROOM_MM + 4.0 + on_page.x + on_page.y.max(COLUMN_MM);
    let down = 2.0 * MARGIN_MM + 2.0 * HEAD_MM + ROOM_MM + 4.0 + on_page.y + on_page.z + TITLE.y;
    across <= PAGE.x && down <= PAGE.y
}

fn head(canvas: &mut Canvas, at: DVec2, text: &str) {
    canvas.words(at, text, PLAIN_MM, Anchor::Start, 0.0, "black");
}

/// Where the sections cut the plan: a dash inside either end with the section's letter.
fn cutting_lines(canvas: &mut Canvas, plan: &Place, at: DVec3, low: DVec3, high: DVec3) {
    const IN_MM: f64 = 6.0;
    const LONG_MM: f64 = 5.0;
    for (letter, ends, out) in [
        ("A", [DVec3::new(low.x, at.y, 0.0), DVec3::new(high.x, at.y, 0.0)], DVec2::X),
        ("B", [DVec3::new(at.x, low.y, 0.0), DVec3::new(at.x, high.y, 0.0)], DVec2::NEG_Y),
    ] {
        for (end, sign) in ends.into_iter().zip([-1.0, 1.0]) {
            let p = plan.of(end) - out * sign * IN_MM;
            canvas.line(&[p, p + out * sign * LONG_MM], Style::line("#b00000", 0.5));
            canvas.reserve(p, p + out * sign * LONG_MM);
            let beside = out.perp() * 2.2 + out * sign * (LONG_MM * 0.5);
            canvas.words(p + beside + DVec2::new(0.0, 0.9), letter, 2.5, Anchor::Middle, 0.0, "#b00000");
        }
    }
}

fn corners(lo: DVec2, hi: DVec2) -> Vec<DVec2> {
    vec![lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)]
}
