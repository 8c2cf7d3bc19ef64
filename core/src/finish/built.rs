//! A holder that stands in the space with all its outlines derived.

use super::Finished;
use crate::assembly::Assembly;
use crate::families::Room;
use crate::geom::{DVec3, Frame};

/// A holder in the space.
#[derive(Clone, Debug)]
pub struct Built {
    /// Its letter: the first holder is A. Part codes begin with it.
    pub letter: String,
    /// The tag of its family.
    pub family: &'static str,
    /// Where it stands in the request (`/holders/0`).
    pub at: String,
    /// Panels, meetings, berths, in the holder's own frame.
    pub assembly: Assembly,
    /// Outlines.
    pub finished: Finished,
    /// The holder's own zero, in the space's frame.
    pub origin: DVec3,
    /// Its outer size.
    pub size: Room,
}

impl Built {
    /// Code of one of its parts: letter and number, counted from 1.
    #[must_use]
    pub fn part_code(&self, panel: usize) -> String {
        format!("{}{}", self.letter, panel + 1)
    }
    /// Where a panel stands in the space.
    #[must_use]
    pub fn placement(&self, panel: usize) -> Frame {
        self.assembly.panels[panel].slab.frame.moved(self.origin)
    }
    /// The letters by which people find both partners of a meeting: A … Z, AA, AB …
    #[must_use]
    pub fn joint_letters(meeting: usize) -> String {
        let (mut n, mut letters) = (meeting + 1, String::new());
        while n > 0 {
            n -= 1;
            letters.insert(0, char::from(b'A' + (n % 26) as u8));
            n /= 26;
        }
        letters
    }
}
