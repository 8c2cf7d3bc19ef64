//! Nests one instance file and writes the layout for an outside judge.
//!
//! `cargo run --release -p berth-tests --example nest_instance -- quick|normal|thorough OUT_DIR INSTANCE.json...`
//! An instance has `sheet`, `spacing` and `parts` (`outer`, `holes`, `rots`); a solution is a list of
//! `{id, sheet, outer, holes}` in sheet coordinates. One line of JSON a file goes to standard output.

use std::io::Write as _;
use std::path::Path;
use std::time::Instant;

use berth_core::geom::{Contour, DVec2, Region};
use berth_core::nest::{Effort, Layout, NestPart, Rules, SheetSupply, Turns, flaws, nest};
use serde_json::{Value, json};

type Outcome<T> = Result<T, Box<dyn std::error::Error>>;

fn points(v: &Value) -> Vec<DVec2> {
    let at = |p: &Value, i: usize| p[i].as_f64().unwrap_or(f64::NAN);
    v.as_array().into_iter().flatten().map(|p| DVec2::new(at(p, 0), at(p, 1))).collect()
}

fn read_parts(instance: &Value) -> Vec<NestPart> {
    let part = |(id, p): (usize, &Value)| {
        let holes = p["holes"].as_array().into_iter().flatten().map(|h| Contour::polygon(&points(h)).cw()).collect();
        let region = Region { outer: Contour::polygon(&points(&p["outer"])).ccw(), holes };
        let turns = if p["rots"].as_array().map_or(0, Vec::len) == 4 { Turns::Free } else { Turns::Locked };
        NestPart { id, region, turns }
    };
    instance["parts"].as_array().into_iter().flatten().enumerate().map(part).collect()
}

fn solution(layout: &Layout, parts: &[NestPart]) -> Value {
    let mut out = vec![];
    for (number, sheet) in layout.sheets.iter().enumerate() {
        for place in &sheet.places {
            let turn = DVec2::from_angle(place.turn_deg.to_radians());
            let lay = |c: &Contour| -> Vec<[f64; 2]> {
                let to = |p: DVec2| turn.rotate(p) + DVec2::new(place.dx_mm, place.dy_mm);
                c.vertices.iter().map(|v| to(v.p).to_array()).collect()
            };
            let region = &parts[place.part].region;
            let holes: Vec<_> = region.holes.iter().map(lay).collect();
            out.push(json!({"id": place.part, "sheet": number, "outer": lay(&region.outer), "holes": holes}));
        }
    }
    Value::from(out)
}

fn one(path: &str, effort: Effort, out_dir: &str) -> Outcome<Value> {
    let instance: Value = serde_json::from_str(&std::fs::read_to_string(path)?)?;
    let spacing = instance["spacing"].as_f64().ok_or("spacing is not a number")?;
    let parts = read_parts(&instance);
    let size = |i: usize| instance["sheet"][i].as_f64().ok_or("sheet is not two numbers");
    let sheets = [SheetSupply { id: 0, width_mm: size(0)?, height_mm: size(1)?, count: None, keep_outs: vec![] }];
    let rules = Rules { gap_mm: spacing, margin_mm: spacing };
    let start = Instant::now();
    let layout = nest(&parts, &sheets, &rules, effort, &|| false)?;
    let seconds = start.elapsed().as_secs_f64();
    let name = Path::new(path).file_stem().and_then(|s| s.to_str()).unwrap_or("instance");
    std::fs::write(Path::new(out_dir).join(format!("{name}.json")), solution(&layout, &parts).to_string())?;
    let last = layout.sheets.last();
    Ok(json!({
        "instance": name,
        "sheets": layout.sheets.len(),
        "offcut": last.map_or([0.0; 2], |s| [s.largest_offcut.width_mm, s.largest_offcut.height_mm]),
        "utilisation": layout.sheets.iter().map(|s| (s.utilisation * 1e3).round() / 1e3).collect::<Vec<_>>(),
        "seconds": (seconds * 1e4).round() / 1e4,
        "flaws": flaws(&parts, &sheets, &rules, &layout).len(),
    }))
}

fn main() -> Outcome<()> {
    let args: Vec<String> = std::env::args().collect();
    let effort = match args.get(1).map(String::as_str) {
        Some("quick") => Effort::Quick,
        Some("normal") => Effort::Normal,
        Some("thorough") => Effort::Thorough,
        _ => return Err("usage: nest_instance quick|normal|thorough OUT_DIR INSTANCE.json...".into()),
    };
    let out_dir = args.get(2).ok_or("OUT_DIR is missing")?;
    for path in &args[3..] {
        writeln!(std::io::stdout(), "{}", one(path, effort, out_dir)?)?;
    }
    Ok(())
}
