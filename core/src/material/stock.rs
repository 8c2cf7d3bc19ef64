//! A checked stock: sheets that may be cut, with everything that the stages below need to know.

use super::batch::{Batch, batches};
use super::cutter::{Cutter, Feed};
use super::identify::identify;
use super::kerf::kerf;
use super::profile::{Grain, Known, Process, Profile};
use super::sheet::{USUAL_MARGIN_MM, gap, margin, usual_gap_mm};
use super::spec::{KerfApplied, StockSpec};
use super::spread::{Spread, next_kerf, next_thickness};
use super::supply::Supply;
use crate::finding::{Finding, Verdict};
use crate::units::{DefaultUsed, tidy};

/// Sheets of one material and lot that may be cut on the job's cutter.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// Name within the request.
    pub id: String,
    /// What the caller calls the material.
    pub material: String,
    /// Which delivery, when the caller said so.
    pub lot: Option<String>,
    /// What is known of the material, with the caller's own numbers in it.
    pub profile: Profile,
    /// True thickness: the mean of the readings, or the label's. Where sheets of the stock differ, that of
    /// the thickest: no holder grows by another sheet.
    pub thickness_mm: f64,
    /// What outer sizes and patterns are reckoned from: the label's thickness, so that another reading
    /// changes none of them.
    pub label_mm: f64,
    /// The thickest sheet that sizes are planned for.
    pub planned_mm: f64,
    /// The largest spread of the readings of a sheet; without readings, what such sheets usually scatter.
    pub spread_mm: f64,
    /// Full width of the burnt line.
    pub kerf_mm: f64,
    /// What the cut file makes up for: the kerf, or 0 when the machine does it.
    pub drawn_kerf_mm: f64,
    /// Where the thickness at the next joint lies.
    pub next_thickness: Spread,
    /// Where the kerf at the next joint lies.
    pub next_kerf: Spread,
    /// The sheets at hand, those that are alike together; at least one.
    pub supplies: Vec<Supply>,
    /// The same by thickness, the thickest first.
    pub batches: Vec<Batch>,
    /// Whether each part keeps the direction of its grain on the sheet.
    pub keeps_grain: bool,
    /// Whether the caller spoke of grain, so that no part is laid across it.
    pub insists_on_grain: bool,
    /// Step by which parts without grain may be turned on the sheet, degrees.
    pub turn_step_deg: f64,
    /// Strip along each edge of the sheet without parts, what the head cannot reach included.
    pub margin_mm: f64,
    /// Gap between parts.
    pub gap_mm: f64,
    /// How it is cut.
    pub process: Process,
    /// How fast.
    pub feed: Feed,
}

impl Stock {
    /// Checks a received stock against the cutter; all faults go to `out`. `None` when anything was
    /// refused. `at` is the stock's JSON Pointer.
    #[must_use]
    pub fn checked(spec: &StockSpec, cutter: &Cutter, at: &str, out: &mut Vec<Finding>) -> Option<Self> {
        let before = out.len();
        spec.check_all(at, out);
        let margin_mm = margin(spec, cutter, at, out);
        let mut supplies = Supply::all(spec, cutter, margin_mm, at, out);
        let listed = identify(spec, cutter.process, at, out)?;
        let profile = with_own_numbers(listed, spec);
        Supply::measure(&mut supplies, spec, &profile, cutter.process, at, out);
        let thickness_mm = supplies.iter().map(|s| s.thickness_mm).fold(0.0, f64::max);
        let spread_mm = supplies.iter().map(|s| s.spread_mm).fold(0.0, f64::max);
        let machine = spec.kerf_applied_by == KerfApplied::Machine;
        let kerf_mm = match &profile.treatment(cutter.process).kerf {
            // where the machine widens the cut, nothing in the file hangs on an assumed kerf
            Some(rule) if machine && !spec.says_kerf() => rule.default_mm,
            Some(rule) => kerf(spec, &profile, rule, at, out),
            None => 0.0,
        };
        let gap_mm = gap(spec, &supplies, margin_mm, cutter.process, at, out);
        far_from_base(spec, listed, at, out);
        let keeps_grain = spec.keep_grain.unwrap_or(profile.grain == Grain::Locked);
        let insists_on_grain =
            spec.keep_grain == Some(true) || spec.grain.is_some() || spec.sheets.iter().any(|s| s.grain.is_some());
        let refused = out.iter().skip(before).any(|f| f.verdict == Verdict::Refuse);
        let next_thickness = next_thickness(spec, &profile.thickness);
        let next_kerf = next_kerf(spec, profile.treatment(cutter.process).kerf.as_ref(), kerf_mm);
        (!refused).then(|| Self {
            id: spec.id.clone(),
            material: spec.material.clone(),
            lot: spec.lot.clone(),
            feed: cutter.feed(&profile.id),
            label_mm: spec.stands_for.as_ref().map_or(profile.thickness.nominal_mm, |s| s.label_mm),
            planned_mm: match &spec.stands_for {
                Some(s) => s.thickest_mm,
                None => profile.thickness.usual_mm.max.max(thickness_mm),
            },
            thickness_mm,
            spread_mm,
            next_thickness,
            next_kerf,
            profile,
            kerf_mm,
            drawn_kerf_mm: if machine { 0.0 } else { kerf_mm },
            batches: batches(&supplies),
            supplies,
            keeps_grain,
            insists_on_grain,
            turn_step_deg: spec.turn_step_deg(),
            margin_mm,
            gap_mm,
            process: cutter.process,
        })
    }

    /// Adds a line for each default that was taken.
    pub fn note_defaults(&self, spec: &StockSpec, at: &str, list: &mut Vec<DefaultUsed>) {
        let mut add = |name: &str, absent: bool, value: f64, unit: &'static str| {
            if absent {
                list.push(DefaultUsed { at: format!("{at}/{name}"), value, unit });
            }
        };
        let assumed = spec.has_plain_sheets() || spec.sheets.iter().any(|s| s.readings_mm.is_none());
        let label = self.profile.thickness.nominal_mm;
        add("readings_mm", spec.readings_mm.is_none() && assumed, label, "mm");
        add("kerf_mm", !spec.says_kerf(), self.kerf_mm, "mm");
        add("gap_mm", spec.gap_mm.is_none(), self.gap_mm, "mm");
        let [w, h] = self.supplies.first().map_or([0.0; 2], |s| s.size_mm);
        let plain = spec.has_plain_sheets() && spec.sheet_mm.is_none();
        add("sheet_mm/0", plain, w, "mm");
        add("sheet_mm/1", plain, h, "mm");
        let listed = self.supplies.iter().skip(usize::from(spec.has_plain_sheets()));
        for ((i, sheet), supply) in spec.sheets.iter().enumerate().zip(listed) {
            let of_bed = sheet.sheet_mm.is_none() && spec.sheet_mm.is_none();
            add(&format!("sheets/{i}/sheet_mm/0"), of_bed, supply.size_mm[0], "mm");
            add(&format!("sheets/{i}/sheet_mm/1"), of_bed, supply.size_mm[1], "mm");
            add(&format!("sheets/{i}/count"), sheet.count.is_none(), 1.0, "1");
        }
        spec.note_defaults(at, list);
        if let Some(strip) = &spec.strip {
            strip.note_defaults(&format!("{at}/strip"), list);
        }
    }

    /// Width and height of the largest sheet's part that may hold parts.
    #[must_use]
    pub fn usable_mm(&self) -> [f64; 2] {
        let largest = self.supplies.iter().map(|s| s.usable_mm(self.margin_mm));
        largest.max_by(|a, b| (a[0] * a[1]).total_cmp(&(b[0] * b[1]))).unwrap_or_default()
    }

    /// Which batch a part of this thickness is cut from: the nearest.
    #[must_use]
    pub fn batch_of(&self, thickness_mm: f64) -> usize {
        let off = |b: &usize| (self.batches[*b].thickness_mm - thickness_mm).abs();
        (0..self.batches.len()).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap_or(0)
    }

    /// The gap between parts that the trade takes here.
    #[must_use]
    pub fn usual_gap_mm(&self) -> f64 {
        usual_gap_mm(self.supplies.iter().map(|s| s.thickness_mm).fold(0.0, f64::max))
    }

    /// The margin that the trade takes.
    pub const USUAL_MARGIN_MM: f64 = USUAL_MARGIN_MM;

    /// Mass in g of a part of this area and thickness.
    #[must_use]
    pub fn mass_g(&self, area_mm2: f64, thickness_mm: f64) -> f64 {
        // 1 kg/m³ is 1e-6 g/mm³
        area_mm2 * thickness_mm * self.profile.density_kg_m3.value * 1e-6
    }
}

/// The caller's own numbers in the place of the list's.
fn with_own_numbers(listed: &Profile, spec: &StockSpec) -> Profile {
    let mut p = listed.clone();
    if let Some(nominal) = spec.nominal_mm {
        let t = &mut p.thickness;
        let by = nominal - t.nominal_mm;
        (t.usual_mm, t.plausible_mm, t.nominal_mm) = (t.usual_mm.moved(by), t.plausible_mm.moved(by), nominal);
    }
    let mean = spec.e_along_n_mm2.zip(spec.e_across_n_mm2).map(|(a, b)| (a + b) / 2.0);
    let own = [
        (&mut p.density_kg_m3, spec.density_kg_m3),
        (&mut p.e_along_n_mm2, spec.e_along_n_mm2),
        (&mut p.e_across_n_mm2, spec.e_across_n_mm2),
        (&mut p.e_flat_n_mm2, spec.e_flat_n_mm2.or(mean)),
        (&mut p.rolling_shear_n_mm2, spec.rolling_shear_n_mm2),
        (&mut p.edge_shear_n_mm2, spec.edge_shear_n_mm2),
    ];
    for (place, value) in own {
        if let Some(value) = value {
            *place = Known { value, source: "given with the request".to_owned() };
        }
    }
    if listed.id != spec.material {
        p.name = format!("{} (cut as {})", spec.material, listed.id);
    }
    p
}

/// A label this far from the base's is cut with another kerf and feed than the base's.
const NEAR_BASE_MM: f64 = 1.0;

/// Own thickness on a base of another thickness: kerf and feed are then the base's, and doubtful.
fn far_from_base(spec: &StockSpec, listed: &Profile, at: &str, out: &mut Vec<Finding>) {
    let Some(nominal) = spec.nominal_mm else { return };
    let base = listed.thickness.nominal_mm;
    let off = (nominal - base).abs();
    if off > NEAR_BASE_MM {
        out.push(
            Finding::new("base-of-other-thickness", Verdict::Warn, format!("{at}/nominal_mm"))
                .have("nominal_mm", nominal)
                .have("base_mm", base)
                .need("max_difference_mm", NEAR_BASE_MM)
                .why(format!(
                    "Kerf and feed are taken from {}, which is {} mm thick: {} mm away from these sheets. Take a base of nearly their thickness, or measure kerf and feed.",
                    listed.id,
                    tidy(base),
                    tidy(off)
                )),
        );
    }
}
