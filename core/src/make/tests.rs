//! Every family's example, from request to sheets, judged by the solids.

use super::{Answer, make};
use crate::families::ALL;
use crate::finish::Built;
use crate::job::{Limits, read};
use crate::made::Made;
use crate::solid::{Plate, contacts, overlap};

/// Makes a request that must not be refused.
pub fn made(request: serde_json::Value) -> Made {
    let request = read(request).unwrap();
    match make(&request, &Limits::default(), &|| false) {
        Answer::Made(m) => *m,
        Answer::Refused(r) => panic!("refused: {:#?}", r.findings),
        Answer::Stopped => panic!("stopped"),
    }
}

/// Every pair of panels that stands deeper in one another than its fit squeezes, and every contact
/// that misses its fit by more than 0.02 mm.
pub fn faults(built: &Built) -> Vec<String> {
    let mut faults = vec![];
    let panels = &built.assembly.panels;
    let plate = |i: usize| Plate { slab: &panels[i].slab, region: &built.finished.panels[i].region };
    for i in 0..panels.len() {
        for j in i + 1..panels.len() {
            let squeeze = built
                .assembly
                .meeting_of(crate::assembly::PanelId(i), crate::assembly::PanelId(j))
                .map_or(0.0, |m| (-built.assembly.meetings[m].fit_mm).max(0.0));
            if let Some(o) = overlap(plate(i), plate(j))
                && o.depth_mm > 0.02 + squeeze
            {
                faults.push(format!("{} × {}: {o:?}", panels[i].name, panels[j].name));
            }
        }
    }
    for c in contacts(&built.assembly, &built.finished) {
        let m = &built.assembly.meetings[c.meeting];
        let off = (c.gap_mm - c.want_mm).abs();
        if !(off <= 0.02) || !c.filled {
            faults.push(format!("{} → {}: {c:?}", panels[m.a.0].name, panels[m.b.0].name));
        }
    }
    faults
}

#[test]
fn every_familys_example_goes_together() {
    for about in ALL {
        let made = made((about.example)());
        for built in &made.holders {
            let faults = faults(built);
            assert!(
                faults.is_empty(),
                "{}: {} faults, first {:#?}",
                about.tag,
                faults.len(),
                &faults[..faults.len().min(6)]
            );
        }
    }
}
