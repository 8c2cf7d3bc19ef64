//! A holder in space: panels, where they meet, and the berths of its things. Nothing here is flat.
//!
//! May import: `units`, `finding`, `geom`, `shadow`, `things`, `spaces`, `material`, `joints`.
//! Knows no finger, tab, slot or opening: `finish` derives them all.

mod berth;
mod meeting;
mod panel;

pub use berth::{Bay, Berth, Opening};
pub use meeting::{Joint, Meeting, Reach};
pub use panel::{Grain, Panel, PanelId, Role, Tool};

/// One holder: all positions are in the holder's own frame (x along the width, y from the front to
/// the back, z up, zero at the left front bottom corner of the box that it was offered).
#[derive(Clone, Debug, Default)]
pub struct Assembly {
    /// The flat parts, in the order in which they are named.
    pub panels: Vec<Panel>,
    /// Where panels touch or cross.
    pub meetings: Vec<Meeting>,
    /// Where things sit.
    pub berths: Vec<Berth>,
    /// Compartments for loose things.
    pub bays: Vec<Bay>,
}

impl Assembly {
    /// Adds a panel and says its id.
    pub fn add(&mut self, panel: Panel) -> PanelId {
        self.panels.push(panel);
        PanelId(self.panels.len() - 1)
    }
    /// The panel of an id that this assembly gave out.
    #[must_use]
    pub fn panel(&self, id: PanelId) -> &Panel {
        &self.panels[id.0]
    }
    /// Adds a meeting.
    pub fn meet(&mut self, a: PanelId, b: PanelId, joint: Joint, fit_mm: f64) {
        self.meetings.push(Meeting { a, b, joint, fit_mm });
    }
    /// The meeting between two panels, if they have one.
    #[must_use]
    pub fn meeting_of(&self, a: PanelId, b: PanelId) -> Option<usize> {
        self.meetings.iter().position(|m| (m.a, m.b) == (a, b) || (m.a, m.b) == (b, a))
    }
}
