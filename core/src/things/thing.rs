//! A thing, checked: one that contradicts itself cannot be built.

use super::grip::{Grip, GripPlace};
use super::liquid::Vessel;
use super::loose::Loose;
use super::mass::Mass;
use super::measures::Diameters;
use super::shaped::{Around, Content, Shaped};
use super::solid::Solid;
use super::spec::{ShapeSpec, ThingSpec};
use crate::finding::{Finding, Verdict};
use crate::units::{check_name, tidy};

/// A physical object to be held, and how many of it there are.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    id: String,
    kind: &'static str,
    count: usize,
    shaped: Shaped,
}

impl Thing {
    /// The thing that a spec describes; `at` is the spec's JSON Pointer. All faults are added to `out`; `None`
    /// when one of them refuses.
    pub fn checked(spec: &ThingSpec, at: &str, out: &mut Vec<Finding>) -> Option<Self> {
        let before = out.len();
        let shape_at = format!("{at}/shape");
        check_name(&spec.id, &format!("{at}/id"), out);
        spec.check(at, out);
        spec.shape.check(&shape_at, out);
        let count = whole_count(spec.count(), at, out);
        check_fill_has_meaning(spec, at, out);
        let around = Around { fill: spec.fill(), mass_g: spec.mass_g, count };
        let mut shaped = spec.shape.shaped(&around, &shape_at, out);
        if let Some(s) = &mut shaped
            && let Some(height) = spec.grip_height_mm
        {
            check_grip(height, &s.solid, at, out);
            s.grip = Grip::at(&s.solid, height, GripPlace::Given);
        }
        if out[before..].iter().any(|f| f.verdict == Verdict::Refuse) {
            return None;
        }
        if shaped.is_none() {
            // every way to no shape should have said why; if one did not, the caller still gets a refusal
            out.push(
                Finding::new("no-shape", Verdict::Refuse, shape_at).why("These measures make no solid: measure again."),
            );
        }
        Some(Self { id: spec.id.clone(), kind: spec.shape.tag(), count, shaped: shaped? })
    }
    /// The caller's name for it.
    #[must_use]
    pub fn id(&self) -> &str {
        &self.id
    }
    /// The word for its shape: `bottle`, `can`, …
    #[must_use]
    pub fn kind(&self) -> &'static str {
        self.kind
    }
    /// How many there are. For loose parts the number of pieces.
    #[must_use]
    pub fn count(&self) -> usize {
        self.count
    }
    /// Its outside. For loose parts the box round one piece.
    #[must_use]
    pub fn solid(&self) -> &Solid {
        &self.shaped.solid
    }
    /// Smallest and largest diameter that its place must take; `None` for what is not round.
    #[must_use]
    pub fn diameters(&self) -> Option<Diameters> {
        self.shaped.diameters
    }
    /// Across the hole through the middle of a roll or disc, mm.
    #[must_use]
    pub fn bore_mm(&self) -> Option<f64> {
        self.shaped.bore_mm
    }
    /// The inside of a bottle or tube.
    #[must_use]
    pub fn liquid(&self) -> Option<&Vessel> {
        self.shaped.vessel.as_ref().map(|v| &v.0)
    }
    /// Whether something can run out of it when its tip comes under the liquid.
    #[must_use]
    pub fn can_drip(&self) -> bool {
        self.liquid().is_some_and(|v| !v.capped() && v.fill() > 0.0)
    }
    /// Whether it stands under pressure.
    #[must_use]
    pub fn pressurised(&self) -> bool {
        self.shaped.pressurised
    }
    /// Piece size and number, for loose parts.
    #[must_use]
    pub fn loose(&self) -> Option<&Loose> {
        self.shaped.loose.as_ref()
    }
    /// The mass of one (of one piece, for loose parts).
    #[must_use]
    pub fn mass(&self) -> &Mass {
        &self.shaped.mass
    }
    /// Where a hand takes it.
    #[must_use]
    pub fn grip(&self) -> Grip {
        self.shaped.grip
    }
    /// Height of the centre of mass along the axis, mm, standing, at the stated fill.
    #[must_use]
    pub fn centre_of_mass_mm(&self) -> f64 {
        self.centre_of_mass_leaning_mm(90.0, self.liquid().map_or(0.0, Vessel::fill)).0
    }
    /// Centre of mass, mm, at a lean (degrees) and a fill: along the axis, and off it towards the upper side
    /// (negative: the liquid hangs low). What holds no liquid is taken as solid all through.
    #[must_use]
    pub fn centre_of_mass_leaning_mm(&self, lean_deg: f64, fill: f64) -> (f64, f64) {
        let Some((vessel, Content { shell, density_g_cm3 })) = &self.shaped.vessel else {
            return (self.shaped.solid.centroid_mm(), 0.0);
        };
        let liquid = fill.clamp(0.0, 1.0) * vessel.body_volume_mm3() / 1000.0 * density_g_cm3;
        let (along, across) = vessel.liquid_centre_mm(lean_deg, fill);
        let all = liquid + shell.grams;
        ((liquid * along + shell.grams * shell.centre_mm) / all, liquid * across / all)
    }
}

impl ShapeSpec {
    fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        match self {
            Self::Bottle(s) => s.shaped(around, at, out),
            Self::Tube(s) => s.shaped(around, at, out),
            Self::Can(s) => s.shaped(around, at, out),
            Self::Roll(s) => s.shaped(around, at, out),
            Self::Disc(s) => s.shaped(around, at, out),
            Self::Bar(s) => s.shaped(around, at, out),
            Self::Block(s) => s.shaped(around),
            Self::Blade(s) => s.shaped(around, at, out),
            Self::Loose(s) => s.shaped(around, at, out),
        }
    }
}

/// The count as a whole number; a refusal when it is none.
fn whole_count(count: f64, at: &str, out: &mut Vec<Finding>) -> usize {
    if count.is_finite() && count.fract() != 0.0 {
        let at = format!("{at}/count");
        out.push(
            Finding::new("count-not-whole", Verdict::Refuse, &at)
                .have("count", count)
                .need("count", count.ceil())
                .why(format!("{} of a thing: a count is a whole number.", tidy(count)))
                .cure("take the next whole number", &at, count.ceil()),
        );
    }
    count as usize
}

fn check_fill_has_meaning(spec: &ThingSpec, at: &str, out: &mut Vec<Finding>) {
    if spec.fill.is_some() && !matches!(spec.shape, ShapeSpec::Bottle(_) | ShapeSpec::Tube(_)) {
        out.push(
            Finding::new("fill-ignored", Verdict::Warn, format!("{at}/fill"))
                .why(format!("A {} has no tip that liquid could run from: its fill is not used.", spec.shape.tag())),
        );
    }
}

fn check_grip(height_mm: f64, solid: &Solid, at: &str, out: &mut Vec<Finding>) {
    let over = height_mm - solid.height();
    if over > 0.0 {
        let at = format!("{at}/grip_height_mm");
        out.push(
            Finding::new("grip-above-thing", Verdict::Refuse, &at)
                .have("grip_height_mm", height_mm)
                .need("height_mm", solid.height())
                .why(format!("The hand would take it {} above its upper end.", tidy(over)))
                .cure("take it at its upper end", &at, solid.height()),
        );
    }
}
