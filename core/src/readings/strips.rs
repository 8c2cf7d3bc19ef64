//! Test strips → the kerf at each of their places.

use super::request::StripReading;
use crate::finding::{Finding, Verdict};
use crate::material::kerf_from_strip;
use crate::units::tidy;

/// The kerf of each strip that was measured; faults go to `out`.
pub fn kerfs(strips: &[StripReading], out: &mut Vec<Finding>) -> Vec<f64> {
    let mut all = vec![];
    for (i, strip) in strips.iter().enumerate() {
        let at = format!("/strips/{i}");
        strip.check(&at, out);
        if strip.pieces().fract() != 0.0 {
            out.push(
                Finding::new("strip-implausible", Verdict::Refuse, format!("{at}/pieces"))
                    .have("pieces", strip.pieces())
                    .need("pieces", strip.pieces().round())
                    .why("A strip is cut into whole pieces."),
            );
            continue;
        }
        let Some(measured) = &strip.measured_mm else { continue };
        let kerf = kerf_from_strip(strip.drawn_mm(), measured.mean(), strip.pieces());
        if kerf < 0.0 {
            out.push(
                Finding::new("strip-implausible", Verdict::Refuse, format!("{at}/measured_mm"))
                    .have("measured_mm", measured.mean())
                    .need("max", strip.drawn_mm())
                    .why(format!(
                        "A strip of {} mm cannot measure {} mm once it is cut: it came out {} mm longer, and what is burnt away makes it shorter.",
                        tidy(strip.drawn_mm()),
                        tidy(measured.mean()),
                        tidy(measured.mean() - strip.drawn_mm())
                    )),
            );
        } else {
            apart(measured.largest() - measured.smallest(), &format!("{at}/measured_mm"), out);
            // a ten-thousandth is a tenth of what calipers show on ten pieces
            all.push((kerf * 1e4).round() / 1e4);
        }
    }
    all
}

/// Readings of one strip that differ by more than this were not of closed pieces: with ten of them
/// each tenth of a millimetre is 0.01 of kerf.
const APART_MM: f64 = 0.10;

fn apart(by: f64, at: &str, out: &mut Vec<Finding>) {
    if by > APART_MM {
        out.push(
            Finding::new("strip-readings-scatter", Verdict::Warn, at)
                .have("apart_mm", by)
                .need("max", APART_MM)
                .why(format!(
                    "Readings of one strip differ by {} mm, {} more than they should. Brush the char off and push the pieces together.",
                    tidy(by),
                    tidy(by - APART_MM)
                )),
        );
    }
}
