//! What a family gets to see: the room it is offered, its stocks, fits and things.

use crate::material::{Fits, Role, Stock};
use crate::spaces::Space;
use crate::things::Thing;

/// A box: width along x, depth along y, height along z, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Along x.
    pub width_mm: f64,
    /// Along y.
    pub depth_mm: f64,
    /// Along z.
    pub height_mm: f64,
}

/// A thing that a holder is to hold.
#[derive(Clone, Copy)]
pub struct Wanted<'a> {
    /// Which of the job's things.
    pub index: usize,
    /// The thing.
    pub thing: &'a Thing,
}

/// What a family gets to see.
pub struct Context<'a> {
    /// JSON Pointer of this holder in the request.
    pub at: &'a str,
    /// The space in which it stands.
    pub space: &'a Space,
    /// The box that it is offered, clearances taken off.
    pub room: Room,
    /// All stocks of the job.
    pub stocks: &'a [Stock],
    /// The fits that hold in each stock.
    pub fits: &'a [Fits],
    /// Which stock its panels are cut from.
    pub panels: usize,
    /// Which stock its floor is cut from.
    pub floor: usize,
    /// Which stock its inner parts are cut from.
    pub inner: usize,
    /// Its things, in the order asked for.
    pub things: Vec<Wanted<'a>>,
}

impl Context<'_> {
    /// True thickness of a stock, mm.
    #[must_use]
    pub fn t(&self, stock: usize) -> f64 {
        self.stocks[stock].thickness_mm
    }
    /// The thickness up to which places are laid out, mm: the true one; in a prototype no more than that
    /// of the sheets it stands for, so that things keep their pitch and walls grow into the webs.
    #[must_use]
    pub fn laid_t(&self, stock: usize) -> f64 {
        self.t(stock).min(self.stocks[stock].planned_mm)
    }
    /// What the label of a stock says its thickness is, mm: what a natural outer size is reckoned from,
    /// so that another reading changes no outer size.
    #[must_use]
    pub fn label(&self, stock: usize) -> f64 {
        self.stocks[stock].label_mm
    }
    /// The fit of a use in a slotted sheet of this stock, mm.
    #[must_use]
    pub fn fit(&self, host: usize, role: Role) -> f64 {
        self.fits[host].mm(role)
    }
}
