//! The data of `shared/`, compiled in and parsed once. The core reads no files.

use super::cutter::Cutter;
use super::profile::Profile;
use super::received::{self, Caution, Forbidden};
use std::sync::LazyLock;

macro_rules! shared {
    ($folder:literal: $($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../../shared/", $folder, "/", $name, ".json")))),*]
    };
}

/// One line for each file in `shared/materials` but the never-list: name and text.
pub const MATERIALS: &[(&str, &str)] = shared!("materials":
    "acrylic-cast-3",
    "acrylic-extruded-3",
    "birch-ply-3",
    "birch-ply-4",
    "birch-ply-6",
    "cardboard-3",
    "foam-board-5",
    "hardboard-3",
    "mdf-3",
    "poplar-ply-3",
    "poplar-ply-6",
);

/// One line for each file in `shared/cutters`: name and text.
pub const CUTTERS: &[(&str, &str)] = shared!("cutters": "co2-600x400", "knife-600x400");

/// The never-list: its text.
pub const NEVER: &str = include_str!("../../../shared/materials/never.json");

/// The cautions.
pub(super) const CAUTIONS: &str = include_str!("../../../shared/cautions.json");

/// Everything in `shared/` that the core needs.
#[derive(Debug, Default)]
pub struct Catalogue {
    /// The closed list of materials, by name.
    pub profiles: Vec<Profile>,
    /// The machines, by name.
    pub cutters: Vec<Cutter>,
    /// What must not be cut.
    pub never: Vec<Forbidden>,
    /// The cautions, in the order in which they are printed.
    pub cautions: Vec<Caution>,
}

impl Catalogue {
    /// Parses everything; what does not parse is left out and told. A material that is left out is
    /// an unknown one, and unknown means no.
    pub(super) fn read() -> (Self, Vec<String>) {
        let mut faults = vec![];
        let mut all = Self::default();
        let mut keep = |name: &str, fault: String| faults.push(format!("{name}: {fault}"));
        for (name, text) in MATERIALS {
            match received::profile(text) {
                Ok(p) if p.id == *name => all.profiles.push(p),
                Ok(p) => keep(name, format!("calls itself {}", p.id)),
                Err(e) => keep(name, e),
            }
        }
        for (name, text) in CUTTERS {
            match received::cutter(text) {
                Ok(c) if c.id == *name => all.cutters.push(c),
                Ok(c) => keep(name, format!("calls itself {}", c.id)),
                Err(e) => keep(name, e),
            }
        }
        all.never = received::never(NEVER).unwrap_or_else(|e| {
            keep("never", e);
            vec![]
        });
        all.cautions = received::cautions(CAUTIONS).unwrap_or_else(|e| {
            keep("cautions", e);
            vec![]
        });
        (all, faults)
    }

    /// The profile of a name, exactly as it stands in the list.
    #[must_use]
    pub fn profile(&self, id: &str) -> Option<&Profile> {
        self.profiles.iter().find(|p| p.id == id)
    }

    /// The cutter of a name.
    #[must_use]
    pub fn cutter(&self, id: &str) -> Option<&Cutter> {
        self.cutters.iter().find(|c| c.id == id)
    }
}

/// The data of `shared/`, parsed once.
#[must_use]
pub fn catalogue() -> &'static Catalogue {
    static ALL: LazyLock<Catalogue> = LazyLock::new(|| Catalogue::read().0);
    &ALL
}
