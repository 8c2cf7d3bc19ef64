//! A simulated shop whose truth is known: estimates are unbiased, and 95 % intervals hold it in 95 %.

use super::super::{Answer, CombReading, GrainWay, LIMITS_MM, ReadingsRequest, SlotReading, StripReading, take};
use crate::material::{FitsSpec, StockSpec};
use crate::units::Readings;
use serde_json::json;

/// Even and normal numbers from a seed (SplitMix64: Steele, Lea & Flood 2014; Box & Muller 1958).
struct Chance(u64);

impl Chance {
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
    fn normal(&mut self, mean: f64, sd: f64) -> f64 {
        let (u, v) = (1.0 - self.even(), self.even());
        mean + sd * (-2.0 * libm::log(u)).sqrt() * libm::cos(core::f64::consts::TAU * v)
    }
}

/// What is true in one shop, mm.
struct Shop {
    thickness: f64,
    thickness_sd: f64,
    kerf: f64,
    kerf_sd: f64,
    shift: f64,
    blur: f64,
}

impl Shop {
    fn any(c: &mut Chance) -> Self {
        Self {
            thickness: 3.0 + 0.2 * c.even(),
            thickness_sd: 0.012 + 0.010 * c.even(),
            kerf: 0.16 + 0.06 * c.even(),
            kerf_sd: 0.006 + 0.006 * c.even(),
            shift: -0.05 + 0.10 * c.even(),
            blur: 0.006 + 0.030 * c.even(),
        }
    }

    /// What its technician reads: eight calipers, five strips at places of their own, combs in both grain
    /// directions at one more place, with a tongue from one more place.
    fn readings(&self, c: &mut Chance) -> ReadingsRequest {
        let sheet: Vec<f64> = (0..8).map(|_| c.normal(self.thickness, self.thickness_sd)).collect();
        let strips = (0..5).map(|_| {
            let kerf = c.normal(self.kerf, self.kerf_sd);
            // calipers and pieces that close more or less: 0.02 on the whole strip
            let measured = c.normal(100.0 - 10.0 * kerf, 0.02);
            StripReading { drawn_mm: None, pieces: None, measured_mm: Readings::new(vec![measured]) }
        });
        let strips = strips.collect();
        let (kerf, tongue) = (c.normal(self.kerf, self.kerf_sd), c.normal(self.thickness, self.thickness_sd));
        let combs = [GrainWay::Along, GrainWay::Across].map(|grain| {
            // around the width that is expected from the label and a usual kerf
            let first = 3.0 - 0.18 - 0.15 + 0.05 * (c.even() - 0.5);
            let slots = (0..12)
                .map(|i| {
                    let drawn = first + 0.05 * f64::from(i);
                    SlotReading { drawn_mm: drawn, answer: Some(self.feels(drawn + kerf - tongue, c)) }
                })
                .collect();
            CombReading { tongue_mm: None, grain, slots }
        });
        let stock: StockSpec =
            serde_json::from_value(json!({"id": "A", "material": "birch-ply-3", "readings_mm": sheet})).unwrap();
        ReadingsRequest { age_days: None, cutter: None, stock, fits: FitsSpec::default(), strips, combs: combs.into() }
    }

    fn feels(&self, clearance: f64, c: &mut Chance) -> Answer {
        let felt = c.normal(clearance - self.shift, self.blur);
        Answer::ALL[LIMITS_MM.iter().filter(|l| felt > **l).count()]
    }
}

/// Counts how often a truth is held, and how far off estimates are.
#[derive(Default)]
struct Score {
    trials: f64,
    held: f64,
    off: f64,
    off2: f64,
}

impl Score {
    fn add(&mut self, truth: f64, estimate: f64, interval: [f64; 2]) {
        self.trials += 1.0;
        self.held += f64::from(u8::from(interval[0] <= truth && truth <= interval[1]));
        self.off += estimate - truth;
        self.off2 += (estimate - truth) * (estimate - truth);
    }
    /// Coverage in percent, bias in mm, and the bias's own standard error.
    fn said(&self) -> (f64, f64, f64) {
        let bias = self.off / self.trials;
        (100.0 * self.held / self.trials, bias, ((self.off2 / self.trials - bias * bias) / self.trials).sqrt())
    }
}

const SEED: u64 = 20_240;
const TRIALS: u32 = 2_000;

#[test]
fn in_2000_simulated_shops_kerf_and_fit_are_unbiased_and_intervals_honest() {
    let mut c = Chance(SEED);
    let mut scores: [Score; 4] = Default::default();
    let (mut taken, mut refused) = (0, 0);
    while taken < TRIALS {
        let shop = Shop::any(&mut c);
        let request = shop.readings(&mut c);
        let Some(p) = take(&request).0 else {
            refused += 1;
            continue;
        };
        taken += 1;
        let fit = p.fit.unwrap();
        scores[0].add(shop.kerf, p.kerf.mean_mm, p.kerf.mean_interval_mm.unwrap());
        scores[1].add(shop.thickness, p.thickness.mean_mm, p.thickness.mean_interval_mm.unwrap());
        scores[2].add(shop.shift, fit.shift_mm, fit.shift_interval_mm);
        // the next joint: another place's kerf and another place's thickness
        let next = c.normal(shop.kerf, shop.kerf_sd) - c.normal(shop.thickness, shop.thickness_sd);
        let thumb = &p.feels[1];
        scores[3].add(thumb.drawn_slot_mm + next, thumb.fit_mm, thumb.next_clearance_mm);
    }
    eprintln!("seed {SEED}, {TRIALS} shops, {refused} more refused for their readings");
    for (name, score) in ["kerf", "thickness", "fit", "next clearance"].iter().zip(&scores) {
        let (held, bias, error) = score.said();
        eprintln!("{name}: 95 % intervals hold the truth in {held:.2} %, bias {bias:+.5} ± {error:.5} mm");
        assert!((93.5..=96.5).contains(&held), "{name}: {held}");
        assert!(bias.abs() < 3.0 * error + 0.0005, "{name}: {bias} ± {error}");
    }
    assert!(refused < TRIALS / 20, "{refused} refused: the rest is no fair sample");
}
