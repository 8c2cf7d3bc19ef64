//! `bill.csv`: the bill for spreadsheets (RFC 4180), one table; a text never becomes a formula
//! (OWASP, "CSV Injection").

use super::bill::{Bill, PartRow, SheetRow, ThingRow};
use super::{File, PackageFault, bill};
use crate::made::Made;

/// One cell.
enum Cell<'a> {
    Empty,
    Number(f64),
    Text(&'a str),
    Own(String),
}

/// Columns, with their units in their names.
const COLUMNS: [&str; 20] = [
    "row",
    "id",
    "name",
    "holder",
    "stock",
    "material",
    "width_mm",
    "height_mm",
    "thickness_mm",
    "thickness_min_mm",
    "thickness_max_mm",
    "grain_deg",
    "sheet",
    "file",
    "cut_mm",
    "minutes",
    "mass_g",
    "cost",
    "pocket",
    "count",
];

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(vec![("bill.csv".to_owned(), table(&bill::of(made)?).into_bytes())])
}

fn table(bill: &Bill) -> String {
    let mut text = String::new();
    line(&mut text, &COLUMNS.map(Cell::Text));
    bill.parts.iter().for_each(|p| line(&mut text, &part(p)));
    bill.sheets.iter().for_each(|s| line(&mut text, &sheet(s)));
    bill.things.iter().for_each(|t| line(&mut text, &thing(t)));
    line(&mut text, &total(bill));
    text
}

fn number(v: Option<f64>) -> Cell<'static> {
    v.map_or(Cell::Empty, Cell::Number)
}

fn count(v: Option<usize>) -> Cell<'static> {
    number(v.map(|n| n as f64))
}

fn part<'a>(p: &'a PartRow) -> [Cell<'a>; 20] {
    [
        Cell::Text("part"),
        Cell::Text(p.code),
        Cell::Text(p.name),
        Cell::Text(p.holder),
        Cell::Text(p.stock),
        Cell::Text(p.material),
        Cell::Number(p.size_mm[0]),
        Cell::Number(p.size_mm[1]),
        Cell::Number(p.thickness_mm),
        Cell::Number(p.thickness_valid_mm[0]),
        Cell::Number(p.thickness_valid_mm[1]),
        number(p.grain_deg),
        count(p.sheet),
        Cell::Text(&p.file),
        Cell::Number(p.cut_mm),
        Cell::Number(p.minutes),
        Cell::Number(p.mass_g),
        Cell::Empty,
        Cell::Empty,
        Cell::Number(1.0),
    ]
}

fn sheet<'a>(s: &'a SheetRow) -> [Cell<'a>; 20] {
    let mut row = blank("sheet");
    row[1] = Cell::Own(s.number.to_string());
    row[2] = Cell::Own(s.parts.join(" "));
    row[4] = Cell::Text(s.stock);
    row[5] = Cell::Text(s.material);
    row[6] = Cell::Number(s.size_mm[0]);
    row[7] = Cell::Number(s.size_mm[1]);
    row[8] = Cell::Number(s.thickness_mm);
    row[12] = Cell::Number(s.number as f64);
    row[13] = Cell::Text(&s.file);
    row[14] = Cell::Number(s.cut_mm);
    row[15] = Cell::Number(s.minutes);
    row[17] = number(s.cost);
    row[19] = Cell::Number(1.0);
    row
}

fn thing<'a>(t: &'a ThingRow) -> [Cell<'a>; 20] {
    let mut row = blank("thing");
    row[1] = Cell::Text(t.thing);
    row[2] = Cell::Text(t.kind);
    row[3] = t.holder.map_or(Cell::Empty, Cell::Text);
    row[18] = count(t.pocket);
    row[19] = Cell::Number(t.count as f64);
    row
}

fn total<'a>(bill: &'a Bill) -> [Cell<'a>; 20] {
    let t = &bill.totals;
    let mut row = blank("total");
    row[1] = Cell::Text(&bill.job);
    row[2] = Cell::Text(bill.name);
    row[12] = Cell::Number(t.sheets as f64);
    row[14] = Cell::Number(t.cut_mm);
    row[15] = Cell::Number(t.minutes);
    row[16] = Cell::Number(t.mass_g);
    row[17] = number(t.cost);
    row[19] = Cell::Number(t.parts as f64);
    row
}

fn blank(kind: &'static str) -> [Cell<'static>; 20] {
    let mut row = [const { Cell::Empty }; 20];
    row[0] = Cell::Text(kind);
    row
}

fn line(text: &mut String, cells: &[Cell]) {
    for (i, cell) in cells.iter().enumerate() {
        if i > 0 {
            text.push(',');
        }
        match cell {
            Cell::Empty => {}
            Cell::Number(v) => text.push_str(&v.to_string()),
            Cell::Text(t) => text.push_str(&quoted(t)),
            Cell::Own(t) => text.push_str(&quoted(t)),
        }
    }
    text.push_str("\r\n");
}

/// A text cell: quoted, quotes doubled, and with a `'` before what a spreadsheet would run.
fn quoted(text: &str) -> String {
    const STARTS: [char; 11] = ['=', '+', '-', '@', '\t', '\r', '\n', '\u{FF1D}', '\u{FF0B}', '\u{FF0D}', '\u{FF20}'];
    let guard = if text.starts_with(STARTS) { "'" } else { "" };
    format!("\"{guard}{}\"", text.replace('"', "\"\""))
}

#[cfg(test)]
mod tests {
    use super::quoted;

    // OWASP, "CSV Injection", the two worked rows, and the characters that it names
    #[test]
    fn what_a_spreadsheet_would_run_is_text() {
        assert_eq!(quoted("=1+2\";=1+2"), "\"'=1+2\"\";=1+2\"");
        assert_eq!(quoted("=1+2'\" ;,=1+2"), "\"'=1+2'\"\" ;,=1+2\"");
        for start in ["=", "+", "-", "@", "\t", "\r", "\n", "＝"] {
            assert!(quoted(&format!("{start}x")).starts_with("\"'"), "{start:?}");
        }
        assert_eq!(quoted("plain, text"), "\"plain, text\"");
    }
}
