//! Scenes for the checks' own tests: a request carried as far as finished holders.

use super::{Outcome, Subject};
use crate::arrange::{arrange, context};
use crate::assembly::{Berth, Opening, Tool};
use crate::finish::{Built, finish};
use crate::geom::{Contour, DVec3, Frame};
use crate::job::{Job, Limits, read};
use serde_json::Value;

/// A checked job and its finished holders, free to be spoilt.
pub struct Scene {
    pub job: Job,
    pub holders: Vec<Built>,
}

impl Scene {
    /// Carries a request as far as finished holders.
    pub fn of(request: Value) -> Self {
        let request = read(request).unwrap();
        let (mut findings, mut defaults) = (vec![], vec![]);
        let job = Job::checked(&request, &Limits::default(), &mut findings, &mut defaults)
            .unwrap_or_else(|| panic!("{findings:#?}"));
        let mut holders = vec![];
        for ((i, holder), stand) in job.holders.iter().enumerate().zip(arrange(&job)) {
            let cx = context(&job, holder, stand.room);
            let Some(assembly) = holder.spec.family().build(&cx, &mut findings) else { continue };
            let Some(finished) = finish(&assembly, &[], &holder.at, &mut findings) else { continue };
            holders.push(Built {
                letter: Built::joint_letters(i),
                family: holder.spec.tag(),
                at: holder.at.clone(),
                assembly,
                finished,
                origin: stand.origin,
                size: stand.size,
            });
        }
        assert!(!holders.is_empty(), "{findings:#?}");
        Self { job, holders }
    }

    /// Runs one check.
    pub fn run(&self, check: fn(&Subject, &mut Outcome)) -> Outcome {
        let mut out = Outcome::default();
        check(&Subject { job: &self.job, holders: &self.holders }, &mut out);
        out
    }

    /// A panel of a holder by its name.
    pub fn panel(&self, holder: usize, name: &str) -> usize {
        self.holders[holder].assembly.panels.iter().position(|p| p.name == name).unwrap()
    }
}

/// A tray of 3 × 2 compartments in a bench drawer, of 3.09 mm plywood.
pub fn tray() -> Value {
    (crate::families::compartments::ABOUT.example)()
}

/// The tray in 3.10 mm plywood with shapes cut out of one of its panels, in the panel's own plane.
pub fn with_cuts(panel: &str, cuts: &[Contour]) -> Scene {
    let mut request = tray();
    request["stocks"][0]["readings_mm"] = serde_json::json!([3.1]);
    request["holders"][0]["columns"] = serde_json::json!(1);
    request["holders"][0]["rows"] = serde_json::json!(1);
    request["holders"][0]["things"] = serde_json::json!([]);
    request["things"] = serde_json::json!([]);
    let mut scene = Scene::of(request);
    let at = scene.panel(0, panel);
    let built = &mut scene.holders[0];
    let tools = cuts.iter().map(|c| Tool { name: "test", contour: c.clone() });
    built.assembly.panels[at].tools.extend(tools);
    let mut findings = vec![];
    built.finished = finish(&built.assembly, &[], &built.at, &mut findings).unwrap();
    assert!(findings.is_empty(), "{findings:#?}");
    scene
}

/// A tray without dividers, of 3.10 mm plywood, that is as large as its space allows and holds
/// nothing yet.
pub fn tray_for(space: Value, things: Value, height_mm: f64) -> Value {
    serde_json::json!({
        "space": space,
        "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.1], "kerf_mm": 0.18}],
        "things": things,
        "holders": [{"family": "compartments", "stock": "A", "columns": 1, "rows": 1, "height_mm": height_mm}]
    })
}

/// Puts a thing of the job into the first holder as it is, passing through no panel.
pub fn lay(scene: &mut Scene, thing: usize, pose: Frame, way_out: DVec3) {
    let solid = scene.job.things[thing].solid().clone();
    scene.holders[0].assembly.berths.push(Berth { thing, solid, pose, way_out, openings: vec![] });
}

/// Puts a thing of the job into the first holder, through openings that are cut for it.
pub fn lay_through(scene: &mut Scene, thing: usize, pose: Frame, way_out: DVec3, openings: Vec<Opening>) {
    let solid = scene.job.things[thing].solid().clone();
    scene.holders[0].assembly.berths.push(Berth { thing, solid, pose, way_out, openings });
    refinish(scene);
}

/// Derives the outlines of the first holder anew.
pub fn refinish(scene: &mut Scene) {
    let built = &mut scene.holders[0];
    let mut findings = vec![];
    built.finished = finish(&built.assembly, &[], &built.at, &mut findings).unwrap();
    assert!(findings.is_empty(), "{findings:#?}");
}
