//! Is that kerf one that a machine can leave.

use super::profile::{Kerf, Profile};
use super::spec::{StockSpec, StripSpec};
use crate::finding::{Finding, Verdict};
use crate::units::{Readings, tidy};

/// The kerf that a test strip shows: the outer cuts lose one kerf in all, the `pieces − 1` inner cuts
/// lose one each, so k = (drawn − measured)/pieces. Derived; common practice with ten pieces.
#[must_use]
pub fn kerf_from_strip(drawn_mm: f64, measured_mm: f64, pieces: f64) -> f64 {
    (drawn_mm - measured_mm) / pieces
}

/// A typed kerf and a strip that differ by more than this contradict each other: kerf differs by
/// 0.02 to 0.05 over one bed (common practice, no source).
const AGREE_MM: f64 = 0.05;

/// Slips of the decimal point that are tried as cures: 1.8 for 0.18, 18 for 0.18, 180 µm for 0.18.
const SLIPS: [f64; 3] = [10.0, 100.0, 1000.0];

/// The kerf of a stock under a process that may cut it, with what is to be said about it.
pub(super) fn kerf(spec: &StockSpec, profile: &Profile, rule: &Kerf, at: &str, out: &mut Vec<Finding>) -> f64 {
    let (strip, strips_at) = shown(spec, rule, at, out);
    let here = format!("{at}/kerf_mm");
    match (spec.kerf_mm, strip) {
        (Some(k), strip) => {
            judge(k, profile, rule, &here, strip, out);
            if let Some(s) = strip
                && (k - s).abs() > AGREE_MM
                && rule.refuse_mm.holds(k)
            {
                out.push(contradiction(k, s, &here));
            }
            k
        }
        (None, Some(s)) => {
            judge(s, profile, rule, &format!("{at}/{strips_at}"), None, out);
            s
        }
        (None, None) => {
            if rule.default_mm > 0.0 {
                out.push(assumed(rule, &here));
            }
            rule.default_mm
        }
    }
}

/// The kerf that strips showed, and where it stands: one strip, or the kerfs of several.
fn shown(spec: &StockSpec, rule: &Kerf, at: &str, out: &mut Vec<Finding>) -> (Option<f64>, &'static str) {
    let one = spec.strip.as_ref().and_then(|s| from_strip(s, rule, at, out));
    let several = spec.kerf_readings_mm.as_ref().map(Readings::mean);
    if let (Some(one), Some(several)) = (one, several)
        && (one - several).abs() > AGREE_MM
    {
        out.push(
            Finding::new("kerf-contradicts-strip", Verdict::Refuse, format!("{at}/kerf_readings_mm"))
                .have("kerf_mm", several)
                .have("strip_kerf_mm", one)
                .need("max_difference_mm", AGREE_MM)
                .why(format!(
                    "The kerf readings say {} mm, but the test strip says {} mm: they differ by {}. Which of the two is this sheet's?",
                    tidy(several),
                    tidy(one),
                    tidy((one - several).abs())
                )),
        );
    }
    match several {
        Some(_) => (several, "kerf_readings_mm"),
        None => (one, "strip/measured_mm"),
    }
}

/// The strip's kerf; a strip that grew has been measured wrong.
fn from_strip(strip: &StripSpec, rule: &Kerf, at: &str, out: &mut Vec<Finding>) -> Option<f64> {
    let k = kerf_from_strip(strip.drawn_mm(), strip.measured_mm, strip.pieces());
    let whole = strip.pieces().fract() == 0.0;
    if whole && (rule.refuse_mm.holds(k) || k >= 0.0) {
        return Some(k);
    }
    let spot = if whole { "measured_mm" } else { "pieces" };
    out.push(
        Finding::new("strip-implausible", Verdict::Refuse, format!("{at}/strip/{spot}"))
            .have("kerf_mm", k)
            .have("pieces", strip.pieces())
            .need("min", 0.0)
            .why(format!(
                "A strip of {} mm cut into {} pieces cannot measure {} mm: pieces are whole, and what is burnt away makes it shorter.",
                tidy(strip.drawn_mm()),
                tidy(strip.pieces()),
                tidy(strip.measured_mm)
            )),
    );
    None
}

fn judge(k: f64, profile: &Profile, rule: &Kerf, here: &str, strip: Option<f64>, out: &mut Vec<Finding>) {
    let (verdict, limit) = if !rule.refuse_mm.holds(k) {
        (Verdict::Refuse, rule.refuse_mm)
    } else if !rule.warn_mm.holds(k) {
        (Verdict::Warn, rule.warn_mm)
    } else {
        return;
    };
    let strip_says = strip.map_or(String::new(), |s| format!(" The strip says {}.", tidy(s)));
    let mut f = Finding::new("kerf-implausible", verdict, here)
        .have("kerf_mm", k)
        .need("min", limit.min)
        .need("max", limit.max)
        .why(format!(
            "Kerf {} mm is outside {} to {} mm by {}; in {} it usually is {} to {}.{strip_says} With a wrong kerf every slot of the sheet is scrap.",
            tidy(k),
            tidy(limit.min),
            tidy(limit.max),
            tidy(limit.off(k)),
            profile.name,
            tidy(rule.usual_mm.min),
            tidy(rule.usual_mm.max)
        ));
    if let Some(s) = strip.filter(|s| rule.warn_mm.holds(*s)) {
        f = f.cure(format!("Use the strip's {} mm.", tidy(s)), here, s);
    }
    let slip = SLIPS.iter().map(|by| k / by).find(|v| *v > 0.0 && rule.warn_mm.holds(*v));
    if let Some(v) = slip.filter(|_| verdict == Verdict::Refuse && here.ends_with("kerf_mm")) {
        f = f.cure(format!("Did you mean {}?", tidy(v)), here, v);
    }
    out.push(f);
}

fn contradiction(k: f64, strip: f64, here: &str) -> Finding {
    Finding::new("kerf-contradicts-strip", Verdict::Refuse, here)
        .have("kerf_mm", k)
        .have("strip_kerf_mm", strip)
        .need("max_difference_mm", AGREE_MM)
        .why(format!(
            "The kerf given is {} mm, but the test strip says {} mm: they differ by {}. Which of the two is this sheet's?",
            tidy(k),
            tidy(strip),
            tidy((k - strip).abs())
        ))
        .cure(format!("Use the strip's {} mm.", tidy(strip)), here, strip)
}

fn assumed(rule: &Kerf, here: &str) -> Finding {
    Finding::new("kerf-assumed", Verdict::Warn, here)
        .have("kerf_mm", rule.default_mm)
        .need("usual_mm", vec![rule.usual_mm.min, rule.usual_mm.max])
        .why(format!(
            "No kerf was given: {} mm is assumed, and machines leave {} to {} mm. Cut a strip of 100 mm, split it into ten, push the pieces together: the kerf is a tenth of what is missing.",
            tidy(rule.default_mm),
            tidy(rule.usual_mm.min),
            tidy(rule.usual_mm.max)
        ))
}
