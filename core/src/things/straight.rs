//! Bars, blocks, blades and loose pieces.

use super::loose::Loose;
use super::mass::Mass;
use super::measures::DiameterGiven;
use super::prism::Prism;
use super::revolution::Revolution;
use super::shaped::{Around, Shaped, TooLarge};
use super::solid::Solid;
use super::spec::{BarSpec, BladeSpec, BlockSpec, LooseSpec};
use crate::finding::{Finding, Verdict};

impl BarSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let weigh = |s: &Solid| Mass::given_or(around.mass_g, Mass::of_steel(s.volume_mm3(), self.density_g_cm3));
        match (&self.diameter_mm, &self.across_flats_mm) {
            (Some(readings), None) => {
                let range = self.diameter_range_mm.as_ref();
                let across = DiameterGiven { readings, range, tape_mm: self.circumference_mm }.checked(at, out);
                let solid = Solid::Revolution(Revolution::cylinder(across.largest_mm, self.length_mm)?);
                let mass = weigh(&solid);
                Some(Shaped { diameters: Some(across), ..Shaped::plain(solid, mass) })
            }
            (None, Some(flats)) => {
                self.check_nothing_round(at, out);
                let solid = Solid::Prism(Prism::hexagon(flats.largest(), self.length_mm)?);
                let mass = weigh(&solid);
                Some(Shaped::plain(solid, mass))
            }
            (round, _) => {
                let (field, why) = match round {
                    Some(_) => ("across_flats_mm", "A bar is round or hexagonal: leave out one of the two measures."),
                    None => ("diameter_mm", "A bar needs diameter_mm (round) or across_flats_mm (hexagonal)."),
                };
                out.push(Finding::new("bar-needs-one", Verdict::Refuse, format!("{at}/{field}")).why(why));
                None
            }
        }
    }
    fn check_nothing_round(&self, at: &str, out: &mut Vec<Finding>) {
        let given = [
            ("diameter_range_mm", self.diameter_range_mm.is_some()),
            ("circumference_mm", self.circumference_mm.is_some()),
        ];
        for (field, _) in given.iter().filter(|g| g.1) {
            out.push(
                Finding::new("bar-needs-one", Verdict::Refuse, format!("{at}/{field}"))
                    .why(format!("{field} belongs to a round bar; this one is hexagonal: leave it out.")),
            );
        }
    }
}

impl BlockSpec {
    pub(super) fn shaped(&self, around: &Around) -> Option<Shaped> {
        let prism = Prism::block(self.width_mm.largest(), self.depth_mm.largest(), self.height_mm.largest())?;
        let mass = Mass::of_block(prism.volume_mm3(), self.density_g_cm3);
        Some(Shaped::plain(Solid::Prism(prism), Mass::given_or(around.mass_g, mass)))
    }
}

impl BladeSpec {
    /// The axis runs along the blade's length, its thickness along x, its height on edge along y.
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let thick = self.thickness_mm.largest();
        TooLarge {
            code: "blade-thicker-than-wide",
            field: ("thickness_mm", thick),
            limit: ("width_mm", self.width_mm),
            may_equal: true,
            why: "A blade is thinner than it is wide: turn the two round, or call it a bar or a block.",
        }
        .check(at, out);
        let prism = Prism::block(thick, self.width_mm, self.length_mm)?;
        let mass = Mass::of_steel(prism.volume_mm3(), self.density_g_cm3);
        Some(Shaped::plain(Solid::Prism(prism), Mass::given_or(around.mass_g, mass)))
    }
}

impl LooseSpec {
    /// The solid is the box round one piece; the mass is that of one piece.
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let piece = match *self.piece_mm.all() {
            [side] => [side; 3],
            [a, b, c] => [a, b, c],
            ref other => {
                out.push(
                    Finding::new("piece-needs-three", Verdict::Refuse, format!("{at}/piece_mm"))
                        .have("numbers", other.len())
                        .need("numbers", 3.0)
                        .why("A piece is one number (a cube) or three (the sides of the box round it)."),
                );
                return None;
            }
        };
        let boxed: f64 = piece.iter().product();
        if let Some(volume) = self.piece_volume_mm3.filter(|v| *v > boxed * (1.0 + 1e-9)) {
            out.push(
                Finding::new("piece-larger-than-box", Verdict::Refuse, format!("{at}/piece_volume_mm3"))
                    .have("piece_volume_mm3", volume)
                    .need("piece_volume_max_mm3", boxed)
                    .why(format!(
                        "A piece of {volume} mm3 cannot be in a box of {boxed} mm3 (over by {:.1} %): measure again.",
                        100.0 * (volume / boxed - 1.0)
                    )),
            );
        }
        let loose = Loose::new(piece, self.piece_volume_mm3.unwrap_or(boxed), around.count)?;
        let mass = Mass::of_steel(loose.piece_volume_mm3(), self.density_g_cm3);
        let solid = Solid::Prism(Prism::block(piece[0], piece[1], piece[2])?);
        Some(Shaped { loose: Some(loose), ..Shaped::plain(solid, Mass::given_or(around.mass_g, mass)) })
    }
}
