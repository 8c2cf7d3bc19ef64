//! Tests of the room `material`.

mod cutter;
mod data;
mod fit;
mod kerf;
mod never;
mod published;
mod stock;

use super::{Cutter, CutterSpec, Stock, StockSpec};
use crate::finding::{Amount, Cure, Finding, Verdict};
use crate::units::decode;
use serde_json::{Value, json};

/// A stock that has nothing wrong with it, as JSON, with some fields put in or replaced.
fn stock_json(changes: Value) -> Value {
    let mut all = json!({"id": "A", "material": "birch-ply-3", "readings_mm": [3.06, 3.10, 3.08], "kerf_mm": 0.18});
    for (k, v) in changes.as_object().unwrap() {
        if v.is_null() {
            all.as_object_mut().unwrap().remove(k);
        } else {
            all[k] = v.clone();
        }
    }
    all
}

fn cutter(name: &str) -> Cutter {
    Cutter::checked(&CutterSpec::Named(name.into()), "/cutter", &mut vec![]).unwrap()
}

fn check_on(machine: &str, changes: Value) -> (Option<Stock>, Vec<Finding>) {
    let spec: StockSpec = decode(stock_json(changes)).unwrap();
    let mut out = vec![];
    let stock = Stock::checked(&spec, &cutter(machine), "/stocks/0", &mut out);
    (stock, out)
}

fn check(changes: Value) -> (Option<Stock>, Vec<Finding>) {
    check_on("co2-600x400", changes)
}

fn codes(out: &[Finding]) -> Vec<(&str, Verdict)> {
    out.iter().map(|f| (f.code, f.verdict)).collect()
}

/// Applies a cure to a stock and its cutter and checks again: a cure must clear its finding.
fn still_there(machine: &str, changes: &Value, cure: &Cure, code: &str) -> bool {
    let mut stock = stock_json(changes.clone());
    let mut machine = machine.to_owned();
    for op in &cure.patch {
        let value = op.value.as_ref().map(|v| serde_json::to_value(v).unwrap());
        if op.path == "/cutter" {
            machine = value.unwrap().as_str().unwrap().to_owned();
            continue;
        }
        let mut path: Vec<&str> = op.path.strip_prefix("/stocks/0/").unwrap().split('/').collect();
        let last = path.pop().unwrap();
        let place = path.iter().fold(&mut stock, |v, k| &mut v[*k]);
        match value {
            Some(v) if place.is_array() => place[last.parse::<usize>().unwrap()] = v,
            Some(v) => place[last] = v,
            None => drop(place.as_object_mut().unwrap().remove(last)),
        }
    }
    let spec: StockSpec = decode(stock).unwrap();
    let mut out = vec![];
    let _ = Stock::checked(&spec, &cutter(&machine), "/stocks/0", &mut out);
    out.iter().any(|f| f.code == code)
}

fn number(f: &Finding, key: &str) -> f64 {
    match f.have.iter().chain(&f.need).find(|(k, _)| *k == key) {
        Some((_, Amount::Number(v))) => *v,
        other => panic!("{key}: {other:?}"),
    }
}
