//! Where two panels touch or cross, and the joint that is made there.

use super::PanelId;

/// How far a tab reaches.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reach {
    /// To the host's far face, nowhere proud of it.
    Flush,
    /// Beyond the host's far face by this much (mm), to be wedged or sanded.
    Proud(f64),
}

/// The joint of a meeting. A panel *ends* at the other or *passes* it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Joint {
    /// Both end: fingers, an odd count, the panel of higher rank has the end ones.
    Corner,
    /// `a` ends at `b` with tabs through slots.
    Tab {
        /// How far the tabs reach.
        reach: Reach,
    },
    /// `a` ends at `b` and hangs in a slot of `b` that is open to the top (along +z of the holder).
    Hook {
        /// Share of the common height that the slot takes from the top.
        depth_share: f64,
    },
    /// Both pass: `a` is slotted from its top, `b` from its bottom (along z of the holder).
    Lap {
        /// Share of the common height that `a`'s slot takes from the top.
        depth_share: f64,
    },
    /// `a` stops short of `b`'s near face by the fit; nothing is cut.
    Rest,
}

/// Two panels that touch or cross.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Meeting {
    /// First panel: the one that enters, where one does.
    pub a: PanelId,
    /// Second panel: the host, where there is one.
    pub b: PanelId,
    /// What is made.
    pub joint: Joint,
    /// Finished slot less what enters, mm (negative: squeezed).
    pub fit_mm: f64,
}
