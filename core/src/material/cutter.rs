//! The machine that cuts: its bed, how fast it goes, and by what process.

use super::cutter_spec::{CutterOwn, CutterSpec, ProcessWord};
use super::data::catalogue;
use super::profile::Process;
use crate::finding::{Finding, Verdict};
use crate::units::DefaultUsed;
use std::collections::BTreeMap;

/// A bed whose reached part is smaller than the smallest sheet cuts nothing.
const LEAST_REACH_MM: f64 = 20.0;

/// How fast a material is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feed {
    /// Speed along the line.
    pub feed_mm_s: f64,
    /// How often over the same line.
    pub passes: u32,
}

/// A machine that can be cut on.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutter {
    /// Name in the list; that of the base for a machine of the caller's.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// How it cuts.
    pub process: Process,
    /// Width and depth of the bed.
    pub bed_mm: [f64; 2],
    /// Strip along each edge of the bed that the head does not reach.
    pub edge_mm: f64,
    /// Speed of the head between cuts.
    pub travel_mm_s: f64,
    /// Acceleration of the head.
    pub acceleration_mm_s2: f64,
    /// Time to break through at the start of each cut.
    pub pierce_s: f64,
    /// Feed when marking.
    pub mark_mm_s: f64,
    /// What a minute costs, if that is known.
    pub cost_per_minute: Option<f64>,
    /// Feed by material.
    pub feeds: BTreeMap<String, Feed>,
    /// The caller's one feed for everything.
    pub feed_for_all: Option<Feed>,
    /// Where the numbers come from.
    pub source: String,
}

/// Feed for a material that the list of feeds does not know: the slowest in the list, an estimate.
const SLOW: Feed = Feed { feed_mm_s: 5.0, passes: 1 };

impl Cutter {
    /// Width and depth that the head reaches.
    #[must_use]
    pub fn reach_mm(&self) -> [f64; 2] {
        self.bed_mm.map(|side| (side - 2.0 * self.edge_mm).max(0.0))
    }

    /// How fast a material of the list is cut here.
    #[must_use]
    pub fn feed(&self, material: &str) -> Feed {
        self.feed_for_all.or_else(|| self.feeds.get(material).copied()).unwrap_or(SLOW)
    }

    /// Checks a received cutter; all faults go to `out`, `at` is its JSON Pointer.
    #[must_use]
    pub fn checked(spec: &CutterSpec, at: &str, out: &mut Vec<Finding>) -> Option<Self> {
        match spec {
            CutterSpec::Named(name) => named(name, at, out),
            CutterSpec::Own(own) => own_machine(own, at, out),
        }
    }

    /// Adds a line for each number that the base gave.
    pub fn note_defaults(&self, spec: &CutterSpec, at: &str, list: &mut Vec<DefaultUsed>) {
        let CutterSpec::Own(own) = spec else { return };
        let mut line = |name: &str, absent: bool, value: f64, unit: &'static str| {
            if absent {
                list.push(DefaultUsed { at: format!("{at}/{name}"), value, unit });
            }
        };
        line("bed_mm/0", own.bed_mm.is_none(), self.bed_mm[0], "mm");
        line("bed_mm/1", own.bed_mm.is_none(), self.bed_mm[1], "mm");
        line("edge_mm", own.edge_mm.is_none(), self.edge_mm, "mm");
        line("travel_mm_s", own.travel_mm_s.is_none(), self.travel_mm_s, "mm/s");
        line("acceleration_mm_s2", own.acceleration_mm_s2.is_none(), self.acceleration_mm_s2, "mm/s²");
        line("pierce_s", own.pierce_s.is_none(), self.pierce_s, "s");
        line("mark_mm_s", own.mark_mm_s.is_none(), self.mark_mm_s, "mm/s");
    }
}

fn named(name: &str, at: &str, out: &mut Vec<Finding>) -> Option<Cutter> {
    let found = catalogue().cutter(name).cloned();
    if found.is_none() {
        let list: Vec<&str> = catalogue().cutters.iter().map(|c| c.id.as_str()).collect();
        let shown: String = name.chars().take(40).collect();
        let mut f = Finding::new("cutter-unknown", Verdict::Refuse, at)
            .have("cutter", shown.as_str())
            .need("one_of", list.join(", "))
            .why(format!(
                "No cutter is called \"{shown}\". Known: {}; or describe your own as an object.",
                list.join(", ")
            ));
        for id in list {
            f = f.cure(format!("Use the cutter {id}."), at, id);
        }
        out.push(f);
    }
    found
}

fn own_machine(own: &CutterOwn, at: &str, out: &mut Vec<Finding>) -> Option<Cutter> {
    let before = out.len();
    own.check_all(at, out);
    let by_process = match own.process {
        Some(ProcessWord::Knife) => "knife-600x400",
        _ => "co2-600x400",
    };
    let base = named(own.base.as_deref().unwrap_or(by_process), &format!("{at}/base"), out);
    let mut c = base?;
    if let Some(p) = own.process {
        c.process = match p {
            ProcessWord::Co2 => Process::Co2,
            ProcessWord::Knife => Process::Knife,
        };
    }
    c.name = own.name.clone().unwrap_or(c.name);
    c.bed_mm = own.bed_mm.unwrap_or(c.bed_mm);
    c.edge_mm = own.edge_mm.unwrap_or(c.edge_mm);
    c.travel_mm_s = own.travel_mm_s.unwrap_or(c.travel_mm_s);
    c.acceleration_mm_s2 = own.acceleration_mm_s2.unwrap_or(c.acceleration_mm_s2);
    c.pierce_s = own.pierce_s.unwrap_or(c.pierce_s);
    c.mark_mm_s = own.mark_mm_s.unwrap_or(c.mark_mm_s);
    c.cost_per_minute = own.cost_per_minute.or(c.cost_per_minute);
    if let Some(feed_mm_s) = own.feed_mm_s {
        c.feed_for_all = Some(Feed { feed_mm_s, passes: own.passes.unwrap_or(1) });
    } else if let Some(passes) = own.passes {
        c.feeds.values_mut().for_each(|f| f.passes = passes);
    }
    if c.reach_mm().iter().any(|side| *side < LEAST_REACH_MM) {
        out.push(
            Finding::new("bed-without-reach", Verdict::Refuse, format!("{at}/edge_mm"))
                .have("reach_mm", c.reach_mm().to_vec())
                .have("edge_mm", c.edge_mm)
                .why("The strips that the head does not reach leave no bed to cut on.")
                .cure("Give the strip that is really out of reach, often 0.", format!("{at}/edge_mm"), 0.0),
        );
    }
    (out.len() == before).then_some(c)
}
