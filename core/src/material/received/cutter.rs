//! A file of `shared/cutters` as it is written, and how it is checked.

use crate::material::cutter::{Cutter, Feed};
use crate::material::profile::Process;
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum ProcessFile {
    Co2,
    Knife,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FeedFile {
    feed_mm_s: f64,
    passes: u32,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct CutterFile {
    id: String,
    name: String,
    process: ProcessFile,
    bed_mm: [f64; 2],
    edge_mm: f64,
    travel_mm_s: f64,
    acceleration_mm_s2: f64,
    pierce_s: f64,
    mark_mm_s: f64,
    cost_per_minute: Option<f64>,
    feeds: BTreeMap<String, FeedFile>,
    source: String,
}

/// Reads and checks one cutter file.
///
/// # Errors
/// What is wrong with the file.
pub(in crate::material) fn cutter(text: &str) -> Result<Cutter, String> {
    let f: CutterFile = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let speeds = [f.travel_mm_s, f.acceleration_mm_s2, f.mark_mm_s, f.bed_mm[0], f.bed_mm[1]];
    let feeds_ok = f.feeds.values().all(|x| x.feed_mm_s > 0.0 && x.passes > 0);
    if !(feeds_ok && speeds.iter().all(|v| v.is_finite() && *v > 0.0) && f.edge_mm >= 0.0 && f.pierce_s >= 0.0) {
        return Err(format!("{}: a speed, a size or a time is not positive", f.id));
    }
    Ok(Cutter {
        id: f.id,
        name: f.name,
        process: match f.process {
            ProcessFile::Co2 => Process::Co2,
            ProcessFile::Knife => Process::Knife,
        },
        bed_mm: f.bed_mm,
        edge_mm: f.edge_mm,
        travel_mm_s: f.travel_mm_s,
        acceleration_mm_s2: f.acceleration_mm_s2,
        pierce_s: f.pierce_s,
        mark_mm_s: f.mark_mm_s,
        cost_per_minute: f.cost_per_minute,
        feeds: f.feeds.into_iter().map(|(id, x)| (id, Feed { feed_mm_s: x.feed_mm_s, passes: x.passes })).collect(),
        feed_for_all: None,
        source: f.source,
    })
}
