//! Physical objects to be held: their shapes, the liquid in them at any tilt, their mass, where a hand takes them.
//!
//! May import: `units`, `finding`, `geom`.
//!
//! A thing is received as a [`ThingSpec`] and checked into a [`Thing`]. It stands in its own frame: axis +z, base
//! at z = 0. Where it is put and how it leans is the holder's business.

mod attitude;
mod bottle;
mod frustum;
mod grip;
mod lean;
mod liquid;
mod loose;
mod mass;
mod measures;
mod prism;
mod quadrature;
mod revolution;
mod root;
mod round;
mod segment;
mod shaped;
mod solid;
mod spec;
mod straight;
mod thing;

pub use attitude::nose_direction;
pub use grip::{Grip, GripPlace};
pub use lean::LeanWindow;
pub use liquid::{Inside, TipReading, Vessel};
pub use loose::{FILLED_HEIGHT_SHARE, Loose, POURED_SHARE};
pub use mass::{Mass, POLYETHYLENE_G_CM3, STEEL_G_CM3};
pub use measures::Diameters;
pub use prism::Prism;
pub use revolution::Revolution;
pub use solid::Solid;
pub use spec::{
    Attitude, BarSpec, BladeSpec, BlockSpec, BottleSpec, CanSpec, DiscSpec, LooseSpec, RollSpec, ShapeSpec, ThingSpec,
    TubeSpec,
};
pub use thing::Thing;

#[cfg(test)]
mod tests;
