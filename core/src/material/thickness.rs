//! Is that sheet what it is said to be, and even enough for slots.

use super::data::catalogue;
use super::profile::{Process, Profile, Thickness};
use crate::finding::{Finding, Verdict};
use crate::units::{Band, Readings, tidy};

/// Spread of readings over a sheet. Common practice, no source: up to 0.10 use it, up to 0.20 for
/// parts without joints, beyond that no slot holds on the whole sheet.
const SPREAD: Band = Band {
    code: "thickness-spread",
    key: "spread_mm",
    unit: "mm",
    refuse_below: f64::NEG_INFINITY,
    warn_below: f64::NEG_INFINITY,
    warn_above: 0.10,
    refuse_above: 0.20,
    good: 0.0,
    why: "The sheet is not even enough: slots that fit at one end are loose or will not close at the other. Take another sheet, or loosen the fits.",
};

/// The thickness that the parts are made for, and the spread of the readings. `place` is where the readings
/// stand and where the stock does, which names the material.
pub(super) fn thickness(
    readings: Option<&Readings>,
    profile: &Profile,
    process: Process,
    (place, at): (&str, &str),
    out: &mut Vec<Finding>,
) -> (f64, f64) {
    let known = &profile.thickness;
    let here = format!("{place}/readings_mm");
    let Some(readings) = readings else {
        out.push(assumed(known, &here));
        return (known.nominal_mm, 2.0 * known.scatter_mm);
    };
    let all = readings.all();
    for (i, r) in all.iter().enumerate() {
        if !known.plausible_mm.holds(*r) {
            let spot = if all.len() > 1 { format!("{here}/{i}") } else { here.clone() };
            out.push(implausible(*r, profile, process, &spot, at));
        }
    }
    let mean = readings.mean();
    if known.plausible_mm.holds(mean) && !known.usual_mm.holds(mean) {
        out.push(unusual(mean, profile, &here));
    }
    let spread = readings.largest() - readings.smallest();
    out.extend(SPREAD.finding(spread, &here));
    (mean, spread)
}

fn assumed(known: &Thickness, here: &str) -> Finding {
    Finding::new("thickness-assumed", Verdict::Warn, here)
        .have("thickness_mm", known.nominal_mm)
        .need("usual_mm", vec![known.usual_mm.min, known.usual_mm.max])
        .why(format!(
            "No readings were given, so the label is believed: {} mm. Such sheets truly are {} to {} mm, which is more than a fit. Take at least eight caliper readings.",
            tidy(known.nominal_mm),
            tidy(known.usual_mm.min),
            tidy(known.usual_mm.max)
        ))
}

fn unusual(mean: f64, profile: &Profile, here: &str) -> Finding {
    let usual = profile.thickness.usual_mm;
    Finding::new("thickness-unusual", Verdict::Warn, here)
        .have("thickness_mm", mean)
        .need("min", usual.min)
        .need("max", usual.max)
        .why(format!(
            "{} usually is {} to {} mm thick; {} mm is outside by {}. Wipe the caliper's jaws and look for a burr.",
            profile.name,
            tidy(usual.min),
            tidy(usual.max),
            tidy(mean),
            tidy(usual.off(mean))
        ))
}

fn implausible(reading: f64, profile: &Profile, process: Process, spot: &str, at: &str) -> Finding {
    let plausible = profile.thickness.plausible_mm;
    let mut f = Finding::new("thickness-implausible", Verdict::Refuse, spot)
        .have("reading_mm", reading)
        .need("min", plausible.min)
        .need("max", plausible.max)
        .why(format!(
            "{} is {} to {} mm thick, whoever made it; {} mm is outside by {}. Measure again, or name the sheet it really is.",
            profile.name,
            tidy(plausible.min),
            tidy(plausible.max),
            tidy(reading),
            tidy(plausible.off(reading))
        ));
    let twins = catalogue().profiles.iter().filter(|p| {
        p.family == profile.family && p.id != profile.id && p.thickness.usual_mm.holds(reading) && permitted(p, process)
    });
    for twin in twins {
        f = f.cure(format!("It may be {}.", twin.name), format!("{at}/material"), twin.id.as_str());
    }
    f
}

fn permitted(p: &Profile, process: Process) -> bool {
    p.treatment(process).kerf.is_some()
}
