//! Joints read off finished outlines: how wide what is left really is.

use crate::assembly::{Joint, Meeting};
use crate::finish::{Built, FinishedPanel};
use crate::geom::DVec2;
use crate::joints::{Cell, Section, Side};

/// A meeting with both finished parts, in the coordinates of their common line.
pub(super) struct Joined<'a> {
    pub(super) built: &'a Built,
    /// Which meeting of its holder.
    pub(super) index: usize,
    pub(super) meeting: &'a Meeting,
    pub(super) cells: &'a [Cell],
    pub(super) x: Section,
}

impl<'a> Joined<'a> {
    /// All meetings of a holder at which something is cut.
    pub(super) fn all(built: &'a Built) -> impl Iterator<Item = Self> + 'a {
        let pairs = built.assembly.meetings.iter().zip(&built.finished.meetings);
        pairs.enumerate().filter(|(_, (m, _))| m.joint != Joint::Rest).filter_map(
            move |(index, (meeting, finished))| {
                let slab = |id: crate::assembly::PanelId| &built.assembly.panel(id).slab;
                let x = Section::between(slab(meeting.a), slab(meeting.b))?;
                Some(Self { built, index, meeting, cells: &finished.cells, x })
            },
        )
    }

    /// Which panel of the holder stands on a side.
    pub(super) fn panel(&self, side: Side) -> usize {
        match side {
            Side::A => self.meeting.a.0,
            Side::B => self.meeting.b.0,
        }
    }

    fn finished(&self, side: Side) -> &'a FinishedPanel {
        &self.built.finished.panels[self.panel(side)]
    }

    /// Thickness of a side's panel.
    pub(super) fn thickness(&self, side: Side) -> f64 {
        self.x.slab(side).thickness
    }

    /// The place across the line, in a side's plane, at which it is half-way through the other slab.
    pub(super) fn half_way(&self, side: Side) -> f64 {
        let (lo, hi) = self.x.range(side, &self.x.crossing());
        (lo + hi) / 2.0
    }

    /// A side's material along the line, at a place across it: sorted from and to, in places along the line.
    pub(super) fn along(&self, side: Side, across: f64) -> Vec<(f64, f64)> {
        let f = &self.x.slab(side).frame;
        let start = self.x.across(side) * across - f.origin;
        let origin = DVec2::new(f.x.dot(start), f.y.dot(start));
        self.finished(side).region.intervals(origin, f.dir_own(self.x.e).truncate())
    }

    /// How wide the owner of a cell really is along the line, half-way through the other slab; 0 when
    /// nothing of it is there.
    pub(super) fn width_mm(&self, cell: &Cell) -> f64 {
        let middle = (cell.from + cell.to) / 2.0;
        let stretch = self.along(cell.owner, self.half_way(cell.owner));
        stretch.into_iter().find(|i| i.0 <= middle && middle <= i.1).map_or(0.0, |i| i.1 - i.0)
    }
}
