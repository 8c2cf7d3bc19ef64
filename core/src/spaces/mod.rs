//! Drawer, case, shelf, free: readings in, usable room by height out.
//!
//! May import: `units`, `finding`, `geom`, `things`. Knows nothing of sheets: thickness and fit come later.
//!
//! A space is received as a [`SpaceSpec`] and checked into a [`Space`]. Its frame: x along the width, y from
//! the front to the back, z up from the floor.

mod case;
mod case_shape;
mod drawer;
mod free;
mod house;
mod lid;
mod measures;
mod plan;
mod shelf;
mod skew;
mod slam;
mod space;
mod spec;
mod walls;

pub use lid::Lid;
pub use plan::{Plan, square_corner_mm};
pub use skew::Skew;
pub use slam::{Loads, Slam, speed_from_coin_m_s};
pub use space::{Blocked, Entry, Kind, Space};
pub use spec::{CaseSpec, DrawerSpec, FreeSpec, Instrument, LidSpec, RideSpec, ShelfSpec, Side, SlamSpec, SpaceSpec};
pub use walls::Walls;

#[cfg(test)]
mod tests;
