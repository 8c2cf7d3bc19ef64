//! What each stage costs from spec to package, and how the whole grows with the count of things.
//!
//! `cargo bench -p berth-tests --bench stages`. Absolute times hold for one machine and one run; the ratios
//! printed at the end are what to compare.

#![allow(clippy::unwrap_used, clippy::print_stdout)] // a bench that cannot go on stops, and it prints

use berth_core::arrange::{arrange, context};
use berth_core::checks::{Subject, run_all};
use berth_core::finish::{Built, finish};
use berth_core::formats;
use berth_core::geom::{Contour, DVec2, Region};
use berth_core::job::{Job, Limits, Request, read};
use berth_core::kerf::drawn;
use berth_core::made::Made;
use berth_core::make::{Answer, make};
use berth_core::nest::{Effort, NestPart, Rules, SheetSupply, Turns, nest};
use berth_core::order::find;
use serde_json::{Value, json};
use std::time::{Duration, Instant};

/// The demo drawer of the bicycle workshop.
fn demo() -> Value {
    serde_json::from_str(include_str!("../../shared/examples/bench-drawer.json")).unwrap()
}

/// A free-standing row of deck racks for `n` light cells, fifty to a rack.
fn cells(n: usize) -> Value {
    let racks = n.div_ceil(50);
    let things: Vec<Value> = (0..racks)
        .map(|i| {
            let count = (n - i * 50).min(50);
            json!({"id": format!("cells {i}"), "count": count, "shape": {"kind": "can", "diameter_mm": 10.5, "overall_mm": 44.5}})
        })
        .collect();
    let holders: Vec<Value> = (0..racks)
        .map(|i| json!({"family": "deck-rack", "things": [format!("cells {i}")], "stock": "A", "depth_mm": 290}))
        .collect();
    json!({
        "name": "Light cells",
        "space": {"kind": "free", "width_mm": 3000, "depth_mm": 300, "height_mm": 200},
        "cutter": "co2-600x400",
        "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10], "kerf_mm": 0.18}],
        "things": things,
        "holders": holders
    })
}

fn request(value: Value) -> Request {
    read(value).unwrap()
}

fn checked(r: &Request) -> Job {
    let (mut out, mut defaults) = (vec![], vec![]);
    Job::checked(r, &Limits::default(), &mut out, &mut defaults).unwrap_or_else(|| panic!("{out:#?}"))
}

fn built(job: &Job) -> Vec<Built> {
    let nominal: Vec<f64> = job.stocks.iter().map(|s| s.profile.thickness.nominal_mm).collect();
    let mut out = vec![];
    job.holders
        .iter()
        .zip(arrange(job))
        .enumerate()
        .map(|(i, (h, stand))| {
            let assembly = h.spec.family().build(&context(job, h, stand.room), &mut out).unwrap();
            let finished = finish(&assembly, &nominal, &h.at, &mut out).unwrap();
            Built {
                letter: Built::joint_letters(i),
                family: h.spec.tag(),
                at: h.at.clone(),
                assembly,
                finished,
                origin: stand.origin,
                size: stand.size,
            }
        })
        .collect()
}

fn made(r: &Request) -> Made {
    match make(r, &Limits::default(), &|| false) {
        Answer::Made(m) => *m,
        other => panic!("{other:#?}"),
    }
}

#[divan::bench]
fn a_read(b: divan::Bencher) {
    b.with_inputs(demo).bench_values(|v| read(v).unwrap());
}

#[divan::bench]
fn b_check_request(b: divan::Bencher) {
    let r = request(demo());
    b.bench(|| checked(&r));
}

#[divan::bench]
fn c_place_and_finish(b: divan::Bencher) {
    let job = checked(&request(demo()));
    b.bench(|| built(&job));
}

#[divan::bench]
fn d_run_checks(b: divan::Bencher) {
    let job = checked(&request(demo()));
    let holders = built(&job);
    b.bench(|| run_all(&Subject { job: &job, holders: &holders }));
}

#[divan::bench]
fn d_order_of_assembly(b: divan::Bencher) {
    let job = checked(&request(demo()));
    let holders = built(&job);
    b.bench(|| holders.iter().map(|h| find(&h.assembly, &h.finished, &|| false)).collect::<Vec<_>>());
}

#[divan::bench(args = [10, 100, 1000], sample_count = 5, sample_size = 1)]
fn d_order_of_things(b: divan::Bencher, n: usize) {
    let job = checked(&request(cells(n)));
    let holders = built(&job);
    b.bench(|| holders.iter().map(|h| find(&h.assembly, &h.finished, &|| false)).collect::<Vec<_>>());
}

#[divan::bench]
fn e_draw_for_the_kerf(b: divan::Bencher) {
    let job = checked(&request(demo()));
    let holders = built(&job);
    b.bench(|| {
        holders.iter().flat_map(|h| &h.finished.panels).map(|p| drawn(&p.region, 0.18).unwrap()).collect::<Vec<_>>()
    });
}

/// The nest of every stock of something made, at `quick`.
fn nest_all(m: &Made) -> usize {
    let stocks = m.job.stocks.iter().enumerate();
    stocks
        .map(|(s, stock)| {
            let parts: Vec<NestPart> = (m.parts.iter().enumerate())
                .filter(|(_, p)| p.stock == s)
                .map(|(id, p)| NestPart { id, region: p.drawn.clone(), turns: Turns::Free })
                .collect();
            let rules = Rules { gap_mm: stock.gap_mm, margin_mm: stock.margin_mm };
            // as many as needed of the first size: offcuts of the demo are another matter
            stock.supplies.first().map_or(0, |supply| quick(&parts, supply.size_mm, rules))
        })
        .sum()
}

fn quick(parts: &[NestPart], [width_mm, height_mm]: [f64; 2], rules: Rules) -> usize {
    let supply = SheetSupply { id: 0, width_mm, height_mm, count: None, keep_outs: vec![] };
    nest(parts, &[supply], &rules, Effort::Quick, &|| false).unwrap().sheets.len()
}

/// Panels, angles and discs of `n` different sizes.
fn mixed_parts(n: usize) -> Vec<NestPart> {
    let part = |id: usize| {
        // spread over the range without a pattern: steps of a golden section
        let spread = |k: f64, low: f64, high: f64| low + (high - low) * (id as f64 * k).fract();
        let (a, b) = (spread(0.618_033_988, 30.0, 180.0), spread(0.754_877_666, 20.0, 120.0));
        let outer = match id % 5 {
            0 => Contour::circle(DVec2::ZERO, b / 3.0),
            1 => {
                Contour::polygon(&[(0.0, 0.0), (a, 0.0), (a, 18.0), (18.0, 18.0), (18.0, b), (0.0, b)].map(DVec2::from))
            }
            _ => Contour::rect(DVec2::ZERO, DVec2::new(a, b)),
        };
        NestPart { id, region: Region { outer: outer.ccw(), holes: vec![] }, turns: Turns::Free }
    };
    (0..n).map(part).collect()
}

#[divan::bench]
fn f_nest_quick(b: divan::Bencher) {
    let m = made(&request(demo()));
    b.bench(|| nest_all(&m));
}

#[divan::bench]
fn g_write_package(b: divan::Bencher) {
    let m = made(&request(demo()));
    b.bench(|| formats::package(&m).unwrap());
}

#[divan::bench]
fn h_spec_to_package(b: divan::Bencher) {
    let r = request(demo());
    b.bench(|| formats::package(&made(&r)).unwrap());
}

#[divan::bench(args = [10, 100, 1000], sample_count = 5, sample_size = 1)]
fn i_things(b: divan::Bencher, n: usize) {
    let r = request(cells(n));
    b.bench(|| formats::package(&made(&r)).unwrap());
}

/// The middle of five runs.
fn median(mut run: impl FnMut()) -> Duration {
    let mut times: Vec<Duration> = (0..5)
        .map(|_| {
            let start = Instant::now();
            run();
            start.elapsed()
        })
        .collect();
    times.sort();
    times[2]
}

fn main() {
    divan::main();
    let whole = |n: usize| {
        let r = request(cells(n));
        median(|| drop(formats::package(&made(&r)).unwrap())).as_secs_f64()
    };
    let (ten, hundred, thousand) = (whole(10), whole(100), whole(1000));
    println!("\nspec to package, ratios in this run (tenfold things each):");
    println!("  100 things / 10 things    {:6.1}", hundred / ten);
    println!("  1000 things / 100 things  {:6.1}", thousand / hundred);
    let r = request(demo());
    let m = made(&r);
    let share = median(|| divan::black_box_drop(nest_all(&m))).as_secs_f64()
        / median(|| drop(formats::package(&made(&r)).unwrap())).as_secs_f64();
    println!("\nnest at quick / spec to package, demo drawer: {share:.2}");
    let nested = |n: usize| {
        let parts = mixed_parts(n);
        median(|| divan::black_box_drop(quick(&parts, [600.0, 400.0], Rules { gap_mm: 2.0, margin_mm: 2.0 })))
            .as_secs_f64()
    };
    let (ten, hundred, thousand) = (nested(10), nested(100), nested(1000));
    println!("nest at quick, ratios in this run (tenfold parts each, all different):");
    println!("  100 parts / 10 parts      {:6.1}", hundred / ten);
    println!("  1000 parts / 100 parts    {:6.1}", thousand / hundred);
}
