//! At which leans a thing goes: the liquid sets the smallest, the height the largest.

use super::liquid::Vessel;
use super::root::crossing;
use super::solid::Solid;

/// Steps in which leans are tried before the ends are refined. A window narrower than 4° is no window
/// (common practice, no source), so one that a step of half a degree misses is not missed.
const STEP_DEG: f64 = 0.5;

/// Accuracy of the ends of a window, degrees: 1e-7° at the end of a 300 mm thing is 5e-7 mm.
const END_TOL_DEG: f64 = 1e-7;

/// The leans at which a thing goes, degrees above the horizontal.
#[derive(Clone, Debug, PartialEq)]
pub struct LeanWindow {
    /// Smallest lean at which the tip is clear of the liquid; 0 for what holds none; `None` when no lean is enough.
    pub liquid_min_deg: Option<f64>,
    /// Largest lean, coming up from lying, under the height; `None` when even lying it is too high.
    pub height_max_deg: Option<f64>,
    /// All ranges between 0 and 90 in which both hold, in order. A thing that may lie and may stand but not
    /// lean half-way has two.
    pub open_deg: Vec<(f64, f64)>,
}

impl LeanWindow {
    /// The widest range, the flatter one of two that are as wide; `None` when there is none.
    #[must_use]
    pub fn widest_deg(&self) -> Option<(f64, f64)> {
        let width = |w: &(f64, f64)| w.1 - w.0;
        self.open_deg.iter().copied().fold(None, |best: Option<(f64, f64)>, w| match best {
            Some(b) if width(&b) >= width(&w) => Some(b),
            _ => Some(w),
        })
    }
    /// The middle of the widest range: where both ends are farthest.
    #[must_use]
    pub fn middle_deg(&self) -> Option<f64> {
        self.widest_deg().map(|(lo, hi)| (lo + hi) / 2.0)
    }
    /// Whether a lean lies in one of the ranges.
    #[must_use]
    pub fn holds(&self, lean_deg: f64) -> bool {
        self.open_deg.iter().any(|&(lo, hi)| lo <= lean_deg && lean_deg <= hi)
    }
}

/// All ranges of leans from 0 to 90 in which `slack` is not negative, their ends refined.
fn ranges(mut slack: impl FnMut(f64) -> f64) -> Vec<(f64, f64)> {
    let steps = (90.0 / STEP_DEG) as usize;
    let mut found = Vec::new();
    let (mut before, mut opened) = (0.0, None);
    for i in 0..=steps {
        let here = i as f64 * STEP_DEG;
        let good = slack(here) >= 0.0;
        let mut edge = || crossing(before, here, END_TOL_DEG, &mut slack).unwrap_or(here);
        match (good, opened) {
            (true, None) => opened = Some(if i == 0 { 0.0 } else { edge() }),
            (false, Some(from)) => {
                found.push((from, edge()));
                opened = None;
            }
            _ => {}
        }
        before = here;
    }
    found.extend(opened.map(|from| (from, 90.0)));
    found
}

impl Vessel {
    /// Smallest lean from 0 to 90 degrees at which the lower lip of the bore is `margin_mm` above the liquid at the
    /// stated fill; `None` when it is not even when standing.
    #[must_use]
    pub fn lean_min_for_margin(&self, margin_mm: f64) -> Option<f64> {
        ranges(|lean| self.worst_margin_mm(lean) - margin_mm).first().map(|r| r.0)
    }
}

impl Solid {
    /// Largest lean, degrees, up to which the thing stays under a clear height when it is raised from lying;
    /// `None` when even lying it is too high. 90 when it may be raised all the way.
    #[must_use]
    pub fn lean_max_for_height(&self, clear_mm: f64) -> Option<f64> {
        ranges(|lean| clear_mm - self.height_when_leaning(lean)).first().filter(|r| r.0 == 0.0).map(|r| r.1)
    }
    /// The window of leans under a clear height (mm, for the thing alone: less floor and top clearance), with the
    /// tip of an open vessel `margin_mm` above its liquid. A capped vessel, and what holds no liquid, may lie.
    #[must_use]
    pub fn lean_window(&self, vessel: Option<&Vessel>, margin_mm: f64, clear_mm: f64) -> LeanWindow {
        let open = vessel.filter(|v| !v.capped());
        let slack = |lean: f64| {
            let height = clear_mm - self.height_when_leaning(lean);
            let liquid = || open.map_or(f64::INFINITY, |v| v.worst_margin_mm(lean) - margin_mm);
            // where the height fails already the liquid need not be computed
            if height < 0.0 { height } else { height.min(liquid()) }
        };
        LeanWindow {
            liquid_min_deg: open.map_or(Some(0.0), |v| v.lean_min_for_margin(margin_mm)),
            height_max_deg: self.lean_max_for_height(clear_mm),
            open_deg: ranges(slack),
        }
    }
}
