//! Two small panels that meet as the holders' panels do.

use crate::assembly::{Assembly, Grain, Joint, Panel, PanelId, Role};
use crate::geom::{DVec3, Frame, HalfSpace, Slab};
use crate::joints::tab::{END_PLAY_MM, TAB_PER_THICKNESS};

/// What a pair is made from.
pub struct Pair {
    /// Thicknesses of the two, mm.
    pub t: [f64; 2],
    /// Their stocks.
    pub stocks: [usize; 2],
    /// The angle between them.
    pub angle_rad: f64,
    /// The thicker label, by which fingers and tabs are proportioned, mm.
    pub label: f64,
}

/// From a slot to the rim, in thicknesses: what a holder keeps without a warning (common practice: 2).
const RIM_PER_T: f64 = 2.0;
/// How far a part reaches from its joint, mm: enough to be held.
const ARM_MM: f64 = 13.0;
/// Height of parts that cross, mm, and at least in thicknesses: half of it holds the other.
const HIGH_MM: f64 = 20.0;
const HIGH_PER_T: f64 = 5.0;
/// A corner has three fingers of three thicknesses.
const CORNER_PER_LABEL: f64 = 9.0;
/// Slack beside what a tab needs, mm.
const SLACK_MM: f64 = 1.0;

impl Pair {
    /// The two, standing; `None` for what is not cut.
    pub fn stood(&self, joint: Joint, fit_mm: f64) -> Option<Assembly> {
        let (a, b) = match joint {
            Joint::Tab { .. } => self.through()?,
            Joint::Corner => self.corner()?,
            Joint::Hook { .. } => self.upright(true)?,
            Joint::Lap { .. } => self.upright(false)?,
            Joint::Rest => return None,
        };
        let mut pair = Assembly::default();
        let (a, b) = (pair.add(a), pair.add(b));
        debug_assert!(a == PanelId(0) && b == PanelId(1));
        pair.meet(a, b, joint, fit_mm);
        Some(pair)
    }

    /// `a` stands on `b`'s upper face, leaning to +y, and reaches through it.
    fn through(&self) -> Option<(Panel, Panel)> {
        let [t, host] = self.t;
        let (sin, cos) = libm::sincos(self.angle_rad);
        let wide = TAB_PER_THICKNESS * self.label + 2.0 * (RIM_PER_T * host + END_PLAY_MM) + SLACK_MM;
        let rim = t / sin / 2.0 + RIM_PER_T * host + SLACK_MM;
        // further down the leaning plate lies further back
        let (back, front) = (-host * cos / sin - rim, rim);
        let arm = ARM_MM;
        let up = DVec3::new(0.0, cos, sin);
        let a = self.panel(0, self.leaning()?, up * (arm / 2.0), across(wide), [(up, arm)]);
        let level = [(DVec3::Y, front), (-DVec3::Y, -back)];
        let b = self.panel(1, self.level(), DVec3::new(0.0, 0.0, -host / 2.0), across(wide), level);
        Some((a, b))
    }

    /// `b` runs to +y, `a` rises from its end.
    fn corner(&self) -> Option<(Panel, Panel)> {
        let wide = CORNER_PER_LABEL * self.label;
        let arm = ARM_MM + self.t[0].max(self.t[1]);
        let (sin, cos) = libm::sincos(self.angle_rad);
        let up = DVec3::new(0.0, cos, sin);
        let a = self.panel(0, self.leaning()?, up * (arm / 2.0), across(wide), [(up, arm)]);
        let seed = DVec3::new(0.0, arm / 2.0, -self.t[1] / 2.0);
        let b = self.panel(1, self.level(), seed, across(wide), [(DVec3::Y, arm)]);
        Some((a, b))
    }

    /// Both upright; they cross, or `a` ends at `b`.
    fn upright(&self, ends: bool) -> Option<(Panel, Panel)> {
        let [t, host] = self.t;
        let high = HIGH_MM.max(HIGH_PER_T * t.max(host));
        let (sin, cos) = libm::sincos(self.angle_rad);
        let (along, normal) = (DVec3::new(cos, sin, 0.0), DVec3::new(-sin, cos, 0.0));
        let level = [(DVec3::Z, high), (-DVec3::Z, 0.0)];
        let middle = DVec3::new(0.0, 0.0, high / 2.0);
        let a_slab = wall(normal, t)?;
        let mut a = self.panel(0, a_slab, middle + along * (ARM_MM / 2.0), level, [(along, ARM_MM)]);
        if !ends {
            a.bounds.push(HalfSpace::beyond(-along * ARM_MM, -along));
        }
        let b_slab = wall(DVec3::Y, host)?;
        let seed = middle + DVec3::X * (-ARM_MM / 2.0);
        let b = self.panel(1, b_slab, seed, level, [(DVec3::X, ARM_MM), (-DVec3::X, ARM_MM)]);
        Some((a, b))
    }

    /// The plate at the pair's angle, its middle through the x axis.
    fn leaning(&self) -> Option<Slab> {
        let (sin, cos) = libm::sincos(self.angle_rad);
        let normal = DVec3::new(0.0, -sin, cos);
        let frame = Frame::new(normal * (-self.t[0] / 2.0), normal, DVec3::X)?;
        Some(Slab { frame, thickness: self.t[0] })
    }

    /// The level plate under z = 0.
    fn level(&self) -> Slab {
        let frame = Frame { origin: DVec3::new(0.0, 0.0, -self.t[1]), ..Frame::WORLD };
        Slab { frame, thickness: self.t[1] }
    }

    fn panel<const N: usize, const M: usize>(
        &self,
        which: usize,
        slab: Slab,
        seed: DVec3,
        first: [(DVec3, f64); N],
        second: [(DVec3, f64); M],
    ) -> Panel {
        let bounds = first.into_iter().chain(second).map(|(d, far)| HalfSpace::beyond(d * far, d)).collect();
        Panel {
            name: if which == 0 { "a".to_owned() } else { "b".to_owned() },
            role: Role::Divider,
            stock: self.stocks[which],
            slab,
            seed,
            bounds,
            rank: 1 - which as u32,
            tools: vec![],
            grain: Grain::Free,
        }
    }
}

fn across(wide: f64) -> [(DVec3, f64); 2] {
    [(DVec3::X, wide / 2.0), (-DVec3::X, wide / 2.0)]
}

/// An upright plate, its middle through the z axis.
fn wall(normal: DVec3, t: f64) -> Option<Slab> {
    Some(Slab { frame: Frame::new(normal * (-t / 2.0), normal, DVec3::Z.cross(normal))?, thickness: t })
}
