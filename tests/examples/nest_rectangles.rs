//! Packs rectangle instances of the literature and counts the sheets.
//!
//! `cargo run --release -p berth-tests --example nest_rectangles -- quick|normal|thorough FILE [EVERY [FROM]]`
//! A line of FILE is one instance: `name;kinds;width;height;w,h,count;w,h,count;...` (the count may be left
//! out). Only each EVERY-th line is packed. Parts may be turned by quarters; no gap, no margin.

use std::collections::BTreeMap;
use std::io::Write as _;
use std::time::Instant;

use berth_core::geom::{Contour, DVec2, Region};
use berth_core::nest::{Effort, NestPart, Rules, SheetSupply, Turns, flaws, nest};

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

fn read(line: &str) -> Outcome<(String, Vec<NestPart>, SheetSupply)> {
    let fields: Vec<&str> = line.trim().split(';').collect();
    let number = |i: usize| -> Outcome<f64> { Ok(fields.get(i).ok_or("a field is missing")?.parse()?) };
    let sheet = SheetSupply { id: 0, width_mm: number(2)?, height_mm: number(3)?, count: None, keep_outs: vec![] };
    let mut parts = vec![];
    for field in &fields[4..] {
        let n: Vec<f64> = field.split(',').map(str::parse).collect::<Result<_, _>>()?;
        for _ in 0..n.get(2).map_or(1, |c| *c as usize) {
            let outer = Contour::rect(DVec2::ZERO, DVec2::new(n[0], n[1]));
            parts.push(NestPart { id: parts.len(), region: Region { outer, holes: vec![] }, turns: Turns::Free });
        }
    }
    Ok((fields[0].to_owned(), parts, sheet))
}

fn main() -> Outcome<()> {
    let args: Vec<String> = std::env::args().collect();
    let effort = match args.get(1).map(String::as_str) {
        Some("quick") => Effort::Quick,
        Some("normal") => Effort::Normal,
        Some("thorough") => Effort::Thorough,
        _ => return Err("usage: nest_rectangles quick|normal|thorough FILE [EVERY [FROM]]".into()),
    };
    let text = std::fs::read_to_string(args.get(2).ok_or("FILE is missing")?)?;
    let every: usize = args.get(3).map_or(Ok(1), |s| s.parse())?;
    let from: usize = args.get(4).map_or(Ok(0), |s| s.parse())?;
    let rules = Rules { gap_mm: 0.0, margin_mm: 0.0 };
    let mut groups: BTreeMap<String, (usize, usize, f64)> = BTreeMap::new();
    for line in text.lines().skip(from).step_by(every) {
        let (name, parts, sheet) = read(line)?;
        let sheets = [sheet];
        let start = Instant::now();
        let layout = nest(&parts, &sheets, &rules, effort, &|| false)?;
        let seconds = start.elapsed().as_secs_f64();
        if !flaws(&parts, &sheets, &rules, &layout).is_empty() {
            return Err(format!("{name}: the layout has flaws").into());
        }
        let group = groups.entry(name.rsplit_once('_').map_or(name.as_str(), |(g, _)| g).to_owned()).or_default();
        *group = (group.0 + 1, group.1 + layout.sheets.len(), group.2 + seconds);
    }
    let mut out = std::io::stdout();
    for (name, (n, sheets, seconds)) in &groups {
        writeln!(out, "{name},{n},{sheets},{seconds:.2}")?;
    }
    let sum = groups.values().fold((0, 0, 0.0), |a, g| (a.0 + g.0, a.1 + g.1, a.2 + g.2));
    writeln!(out, "all,{},{},{:.2}", sum.0, sum.1, sum.2)?;
    Ok(())
}
