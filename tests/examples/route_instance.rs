//! Nests instance files, routes every sheet at each effort, and writes the sheets for another router.
//!
//! `cargo run --release -p berth-tests --example route_instance -- SHEETS INSTANCE.json... > sheets.jsonl`
//! Stops after that many sheets. One line of JSON a sheet: the vertices of every contour, which other one has to
//! come before it, and order, travel and milliseconds at each effort.

use std::io::Write as _;
use std::time::Instant;

use berth_core::geom::{Contour, DVec2, Region};
use berth_core::nest::{Effort, NestPart, Rules, SheetLayout, SheetSupply, Turns, nest};
use berth_core::route::{Motion, Role, Route, RouteContour, route};
use serde_json::{Value, json};

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

/// The usual cutter; only the way counts here.
const MOTION: Motion =
    Motion { feed_mm_s: 12.0, passes: 1, travel_mm_s: 250.0, accel_mm_s2: 2000.0, pierce_s: 0.2, mark_mm_s: 100.0 };
const EFFORTS: [(&str, Effort); 3] =
    [("quick", Effort::Quick), ("normal", Effort::Normal), ("thorough", Effort::Thorough)];

fn points(v: &Value) -> Vec<DVec2> {
    let at = |p: &Value, i: usize| p[i].as_f64().unwrap_or(f64::NAN);
    v.as_array().into_iter().flatten().map(|p| DVec2::new(at(p, 0), at(p, 1))).collect()
}

fn read_parts(instance: &Value) -> Vec<NestPart> {
    let part = |(id, p): (usize, &Value)| {
        let holes = p["holes"].as_array().into_iter().flatten().map(|h| Contour::polygon(&points(h))).collect();
        let turns = if p["rots"].as_array().map_or(0, Vec::len) == 4 { Turns::Free } else { Turns::Locked };
        NestPart { id, region: Region::new(Contour::polygon(&points(&p["outer"])), holes), turns }
    };
    instance["parts"].as_array().into_iter().flatten().enumerate().map(part).collect()
}

fn laid(parts: &[NestPart], sheet: &SheetLayout) -> Vec<RouteContour> {
    let mut all = vec![];
    for place in &sheet.places {
        let shift = DVec2::new(place.dx_mm, place.dy_mm);
        let region = parts[place.part].region.turned(place.turn_deg.to_radians()).moved(shift);
        all.push(RouteContour { contour: region.outer, role: Role::Edge, part: place.part });
        let holes = region.holes.into_iter();
        all.extend(holes.map(|contour| RouteContour { contour, role: Role::Opening, part: place.part }));
    }
    all
}

/// Pairs of contours of which the first has to come before the second: an opening before its edge, and
/// whatever lies in an opening before it.
fn pairs(all: &[RouteContour]) -> Vec<[usize; 2]> {
    let inside = |a: &RouteContour, b: &RouteContour| {
        b.contour.area().abs() > a.contour.area().abs() && b.contour.contains(a.contour.vertices[0].p)
    };
    let first = |a: &RouteContour, b: &RouteContour| (a.part == b.part || b.role == Role::Opening) && inside(a, b);
    let index = 0..all.len();
    index
        .clone()
        .flat_map(|i| index.clone().map(move |k| [i, k]))
        .filter(|[i, k]| i != k && first(&all[*i], &all[*k]))
        .collect()
}

fn sheet(name: &str, all: &[RouteContour]) -> Value {
    // the same work each time: the shortest of three runs is the one least disturbed by others on the machine
    let ours = |effort: Effort| -> (Route, f64) {
        let run = |_| {
            let start = Instant::now();
            let made = route(all, &MOTION, effort);
            (made, start.elapsed().as_secs_f64() * 1e3)
        };
        (0..3).map(run).min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or_default()
    };
    let vertices = |c: &RouteContour| c.contour.vertices.iter().map(|v| v.p.to_array()).collect::<Vec<_>>();
    let mut line = json!({
        "sheet": name,
        "contours": all.iter().map(vertices).collect::<Vec<_>>(),
        "before": pairs(all),
    });
    for (word, effort) in EFFORTS {
        let (made, ms) = ours(effort);
        line[word] = json!({"order": made.order, "travel_mm": made.travel_mm, "ms": (ms * 1e3).round() / 1e3});
    }
    line
}

fn main() -> Outcome<()> {
    let args: Vec<String> = std::env::args().collect();
    let most: usize = args.get(1).ok_or("usage: route_instance SHEETS INSTANCE.json...")?.parse()?;
    let mut made = 0;
    for path in &args[2..] {
        let instance: Value = serde_json::from_str(&std::fs::read_to_string(path)?)?;
        let number = |v: &Value| v.as_f64().ok_or_else(|| format!("{path}: a number is missing"));
        let gap_mm = number(&instance["spacing"])?;
        let (width_mm, height_mm) = (number(&instance["sheet"][0])?, number(&instance["sheet"][1])?);
        let parts = read_parts(&instance);
        let sheets = [SheetSupply { id: 0, width_mm, height_mm, count: None, keep_outs: vec![] }];
        let layout = nest(&parts, &sheets, &Rules { gap_mm, margin_mm: gap_mm }, Effort::Quick, &|| false)?;
        for (k, one) in layout.sheets.iter().enumerate() {
            if made == most {
                return Ok(());
            }
            writeln!(std::io::stdout(), "{}", sheet(&format!("{path} {}", k + 1), &laid(&parts, one)))?;
            made += 1;
        }
    }
    if made < most { Err(format!("{made} sheets of {most}: give more instances").into()) } else { Ok(()) }
}
