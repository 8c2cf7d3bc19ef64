//! Words beside the drawing: title, things with their pockets, findings.

use super::canvas::{Anchor, Canvas, PLAIN_MM, SMALL_MM, Style, words_mm};
use super::scene::Scene;
use crate::finding::Verdict;
use crate::geom::DVec2;

/// What the title block says.
pub struct Title<'a> {
    /// The caller's name for the job.
    pub name: &'a str,
    /// Further lines.
    pub lines: Vec<String>,
    /// The verdict.
    pub verdict: Verdict,
}

/// The title block, its lower right corner at `corner`.
pub fn title(canvas: &mut Canvas, corner: DVec2, size: DVec2, title: &Title, scale: &str) {
    let lo = corner - size;
    canvas.area(&[vec![lo, DVec2::new(corner.x, lo.y), corner, DVec2::new(lo.x, corner.y)]], Style::line("#333", 0.35));
    let name = if title.name.is_empty() { "unnamed" } else { title.name };
    let fits = (size.x - 6.0) / words_mm(name, 1.0).max(1.0);
    canvas.words(lo + DVec2::new(3.0, 6.5), name, fits.min(5.0), Anchor::Start, 0.0, "black");
    let verdict = match title.verdict {
        Verdict::Ok => "ok",
        Verdict::Warn => "warn",
        Verdict::Refuse => "refuse",
    };
    let facts = format!("scale {scale} on A3, lengths in mm, verdict {verdict}");
    for (i, text) in std::iter::once(&facts).chain(&title.lines).enumerate() {
        let at = lo + DVec2::new(3.0, 11.5 + 4.0 * i as f64);
        canvas.words(at, text, SMALL_MM + 0.3, Anchor::Start, 0.0, "#333");
    }
}

/// Things with their pockets, then findings, in a column; what does not fit is counted.
pub fn column(scene: &Scene, canvas: &mut Canvas, corner: DVec2, size: DVec2) {
    let mut lines: Vec<(String, bool)> = vec![("Things and pockets".to_owned(), true)];
    lines.extend(things(scene).into_iter().map(|l| (l, false)));
    let found = scene.findings.iter().filter(|f| f.verdict > Verdict::Ok);
    let texts: Vec<String> = found.map(|f| format!("{} ({}): {}", f.code, f.place, f.why)).collect();
    if !texts.is_empty() {
        lines.push((String::new(), false));
        lines.push((format!("Findings ({})", texts.len()), true));
        lines.extend(texts.into_iter().map(|l| (l, false)));
    }
    const LINE_MM: f64 = 3.8;
    let wide = (size.x / words_mm("x", SMALL_MM)).max(8.0) as usize;
    let rows: Vec<(String, bool)> =
        lines.into_iter().flat_map(|(l, head)| wrapped(&l, wide).into_iter().map(move |w| (w, head))).collect();
    let room = (size.y / LINE_MM) as usize;
    let shown = if rows.len() > room { room.saturating_sub(1) } else { rows.len() };
    for (i, (text, head)) in rows.iter().take(shown).enumerate() {
        let at = corner + DVec2::new(0.0, LINE_MM * (i as f64 + 0.8));
        canvas.words(at, text, if *head { PLAIN_MM - 0.3 } else { SMALL_MM }, Anchor::Start, 0.0, "black");
    }
    if shown < rows.len() {
        let at = corner + DVec2::new(0.0, LINE_MM * (shown as f64 + 0.8));
        let rest = format!("… {} more lines in report.json and bill.json", rows.len() - shown);
        canvas.words(at, &rest, SMALL_MM, Anchor::Start, 0.0, "#333");
    }
}

/// One line a thing: name, number, pockets.
fn things(scene: &Scene) -> Vec<String> {
    let pockets = |thing: usize| -> Vec<String> {
        let mut all = vec![];
        for h in scene.holders {
            let berths = h.assembly.berths.iter().enumerate().filter(|(_, b)| b.thing == thing).map(|(i, _)| i);
            let bays = h.assembly.bays.iter().enumerate().filter(|(_, b)| b.thing == Some(thing)).map(|(i, _)| i);
            all.extend(runs(&berths.chain(bays).collect::<Vec<_>>(), &h.letter));
        }
        all
    };
    let line = |(i, t): (usize, &crate::things::Thing)| {
        let held = pockets(i);
        let at = if held.is_empty() { "no place".to_owned() } else { held.join(", ") };
        format!("{} ({}, {}): {at}", t.id(), t.kind(), t.count())
    };
    scene.job.things.iter().enumerate().map(line).collect()
}

/// Numbers from 0, in order, as pockets from 1: neighbours become one stretch.
fn runs(numbers: &[usize], letter: &str) -> Vec<String> {
    let mut all: Vec<(usize, usize)> = vec![];
    for n in numbers {
        match all.last_mut() {
            Some(last) if last.1 + 1 == *n => last.1 = *n,
            _ => all.push((*n, *n)),
        }
    }
    let said = |(a, b): (usize, usize)| {
        if a == b { format!("{letter}.{}", a + 1) } else { format!("{letter}.{}–{}", a + 1, b + 1) }
    };
    all.into_iter().map(said).collect()
}

/// Words in lines of at most `most` letters; a longer word stands alone and is cut off.
fn wrapped(text: &str, most: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let word: String = word.chars().take(most).collect();
        let Some(line) = lines.last_mut() else { break };
        if line.is_empty() {
            *line = word;
        } else if line.chars().count() + 1 + word.chars().count() <= most {
            line.push(' ');
            line.push_str(&word);
        } else {
            lines.push(format!("  {word}"));
        }
    }
    lines
}
