//! Floor, rim, height and slope of a case: enough must be given, and none may contradict another.

use super::spec::CaseSpec;
use crate::finding::{Finding, Verdict};
use crate::units::{Row, tidy};

/// A slope that follows from floor, rim and height must be one that could have been given.
const SLOPE: Row = Row {
    name: "slope_deg",
    what: "Lean of the walls, from floor, rim and height.",
    unit: "deg",
    min: -30.0,
    max: 30.0,
    default: None,
};

/// How far a slope is off that was taken with a protractor, ± (common practice, no source).
const PROTRACTOR_DEG: f64 = 0.5;

/// Height, and the slopes of both pairs of walls in radians, from whatever was given.
pub(super) fn shape(spec: &CaseSpec, u: f64, at: &str, out: &mut Vec<Finding>) -> Option<(f64, [f64; 2])> {
    let height = spec.height_mm.as_ref().map(crate::units::Readings::smallest);
    let slope = spec.slope_deg.map(f64::to_radians);
    match (height, spec.rim_mm, slope) {
        (Some(h), None, slope) => Some((h, [slope.unwrap_or(0.0); 2])),
        (Some(h), Some(rim), slope) => {
            let slopes = [0, 1].map(|i| libm::atan2(rim[i] - spec.floor_mm[i], 2.0 * h));
            for s in slopes {
                SLOPE.check(s.to_degrees(), &format!("{at}/rim_mm"), out);
            }
            if let Some(slope) = slope {
                rim_contradicts_slope(spec.floor_mm, rim, h, slope, u, at, out);
            }
            Some((h, slopes))
        }
        (None, Some(rim), Some(slope)) if slope > 0.0 => height_from_slope(spec.floor_mm, rim, slope, u, at, out),
        _ => {
            out.push(
                Finding::new("case-incomplete", Verdict::Refuse, format!("{at}/height_mm"))
                    .have("given", given(spec).as_str())
                    .need("one_of", "floor + height, floor + height + slope, floor + height + rim, floor + rim + slope")
                    .why(format!(
                        "From {} the height of the case does not follow. Measure from the floor to the rim.",
                        given(spec)
                    )),
            );
            None
        }
    }
}

fn given(spec: &CaseSpec) -> String {
    let mut words = vec!["floor"];
    words.extend(spec.rim_mm.map(|_| "rim"));
    words.extend(spec.slope_deg.map(|s| if s > 0.0 { "slope" } else { "a slope of 0" }));
    words.join(", ")
}

/// How far a side at the rim may be off when it is reckoned from floor, height and slope.
fn tolerance_mm(height: f64, slope: f64, u: f64) -> f64 {
    let steeper = libm::tan(slope + PROTRACTOR_DEG.to_radians()) - libm::tan(slope);
    2.0 * u + 2.0 * u * libm::tan(slope) + 2.0 * height * steeper
}

fn rim_contradicts_slope(floor: [f64; 2], rim: [f64; 2], h: f64, slope: f64, u: f64, at: &str, out: &mut Vec<Finding>) {
    let most = tolerance_mm(h, slope, u);
    for (i, side) in ["width", "depth"].into_iter().enumerate() {
        let reckoned = floor[i] + 2.0 * h * libm::tan(slope);
        let off = (rim[i] - reckoned).abs();
        if off > most {
            let measured_deg = libm::atan2(rim[i] - floor[i], 2.0 * h).to_degrees();
            out.push(
                Finding::new("case-contradicts", Verdict::Refuse, format!("{at}/rim_mm/{i}"))
                    .have("rim_mm", rim[i])
                    .have("rim_from_slope_mm", reckoned)
                    .have("slope_deg", slope.to_degrees())
                    .have("slope_from_rim_deg", measured_deg)
                    .need("max_difference_mm", most)
                    .why(format!(
                        "The {side} at the rim is given as {} mm, but floor, height and a slope of {}° make it {} mm: {} mm apart, {} more than the readings explain (the rim says {}°). Measure again.",
                        tidy(rim[i]),
                        tidy(slope.to_degrees()),
                        tidy(reckoned),
                        tidy(off),
                        tidy(off - most),
                        tidy(measured_deg)
                    )),
            );
        }
    }
}

/// Height from floor, rim and slope; width and depth must agree on it.
fn height_from_slope(
    floor: [f64; 2],
    rim: [f64; 2],
    slope: f64,
    u: f64,
    at: &str,
    out: &mut Vec<Finding>,
) -> Option<(f64, [f64; 2])> {
    let [by_width, by_depth] = [0, 1].map(|i| (rim[i] - floor[i]) / (2.0 * libm::tan(slope)));
    let most = 2.0 * u / libm::tan(slope);
    let height = by_width.min(by_depth);
    if (by_width - by_depth).abs() > most || height <= 0.0 {
        out.push(
            Finding::new("case-contradicts", Verdict::Refuse, format!("{at}/rim_mm"))
                .have("height_from_width_mm", by_width)
                .have("height_from_depth_mm", by_depth)
                .need("max_difference_mm", most)
                .why(format!(
                    "With a slope of {}° the widths make the case {} mm high and the depths {} mm: one of the measures is wrong. Measure the height.",
                    tidy(slope.to_degrees()),
                    tidy(by_width),
                    tidy(by_depth)
                )),
        );
        return None;
    }
    Some((height, [slope; 2]))
}
