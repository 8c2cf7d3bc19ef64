//! How hard a space is shaken: slams, coins, roads.

use super::spec::{RideSpec, SlamSpec};
use crate::finding::{Finding, Verdict};
use crate::units::{DefaultUsed, tidy};

/// Gravity, as the trade reckons with it.
const GRAVITY_M_S2: f64 = 9.81;

/// Coin and typed speed may differ by this share: the coin's friction is an estimate, and a third more or
/// less of it moves the speed by a sixth.
const COIN_AGREES: f64 = 0.2;

/// Something that moves and is stopped.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slam {
    /// Speed when it reaches the stop.
    pub speed_m_s: f64,
    /// Way on which it is stopped.
    pub stop_mm: f64,
}

impl Slam {
    /// Even deceleration in multiples of gravity: v²/(2·s·g). Calculated.
    #[must_use]
    pub fn g(&self) -> f64 {
        self.speed_m_s * self.speed_m_s / (2.0 * self.stop_mm / 1000.0 * GRAVITY_M_S2)
    }

    /// How high a thing of this speed can climb: v²/(2·g). Calculated.
    #[must_use]
    pub fn climb_mm(&self) -> f64 {
        self.speed_m_s * self.speed_m_s / (2.0 * GRAVITY_M_S2) * 1000.0
    }

    /// From a received slam. All faults go to `out`.
    pub(super) fn checked(spec: &SlamSpec, at: &str, out: &mut Vec<Finding>) -> Self {
        spec.check(at, out);
        let coin = spec.coin_slide_mm.map(|s| speed_from_coin_m_s(s, spec.coin_friction()));
        if let (Some(typed), Some(coin)) = (spec.speed_m_s, coin)
            && (typed - coin).abs() > COIN_AGREES * typed.max(coin)
        {
            out.push(
                Finding::new("slam-contradicts-coin", Verdict::Refuse, format!("{at}/speed_m_s"))
                    .have("speed_m_s", typed)
                    .have("coin_speed_m_s", coin)
                    .need("max_difference_m_s", COIN_AGREES * typed.max(coin))
                    .why(format!(
                        "The speed given is {} m/s, but the coin says {} m/s: they differ by {}. Which of the two is this drawer's?",
                        tidy(typed),
                        tidy(coin),
                        tidy((typed - coin).abs())
                    ))
                    .cure(format!("Use the coin's {} m/s.", tidy(coin)), format!("{at}/speed_m_s"), coin),
            );
        }
        Self { speed_m_s: spec.speed_m_s.or(coin).unwrap_or_else(|| spec.speed_m_s()), stop_mm: spec.stop_mm() }
    }
}

impl SlamSpec {
    /// A slam of which nothing was said.
    pub(super) const SILENT: Self = Self { speed_m_s: None, stop_mm: None, coin_slide_mm: None, coin_friction: None };

    /// Adds a line for each default that really stood in: a coin stands in for the speed.
    pub(super) fn note_used(&self, at: &str, list: &mut Vec<DefaultUsed>) {
        let before = list.len();
        self.note_defaults(at, list);
        let unused = if self.coin_slide_mm.is_some() { "/speed_m_s" } else { "/coin_friction" };
        let kept: Vec<DefaultUsed> = list.drain(before..).filter(|d| !d.at.ends_with(unused)).collect();
        list.extend(kept);
    }
}

/// Speed of a drawer that was stopped hard, from how far a coin slid on its floor: √(2·μ·g·s). Calculated.
#[must_use]
pub fn speed_from_coin_m_s(slide_mm: f64, friction: f64) -> f64 {
    (2.0 * friction * GRAVITY_M_S2 * slide_mm / 1000.0).max(0.0).sqrt()
}

/// What the holder must survive, besides gravity, in multiples of it. Things are thrown that way.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Loads {
    /// Towards the back: a drawer that is slammed shut throws everything there.
    pub to_back_g: f64,
    /// Towards the front: a drawer that is pulled against its end stop.
    pub to_front_g: f64,
    /// To the left and to the right.
    pub to_side_g: f64,
    /// Upwards.
    pub up_g: f64,
    /// Downwards.
    pub down_g: f64,
}

impl Loads {
    /// The harder of slam, yank and road in each direction. Faults of the road go to `out`.
    pub(super) fn of(
        slam: Option<Slam>,
        yank: Option<Slam>,
        ride: Option<&RideSpec>,
        at: &str,
        out: &mut Vec<Finding>,
    ) -> Self {
        let mut all =
            Self { to_back_g: slam.map_or(0.0, |s| s.g()), to_front_g: yank.map_or(0.0, |s| s.g()), ..Self::default() };
        if let Some(r) = ride {
            r.check(&format!("{at}/ride"), out);
            all.to_back_g = all.to_back_g.max(r.sideways_g());
            all.to_front_g = all.to_front_g.max(r.sideways_g());
            (all.to_side_g, all.up_g, all.down_g) = (r.sideways_g(), r.up_g(), r.down_g());
        }
        all
    }
}
