//! One meeting: the section through both slabs, who owns what, and what each gives up.

use super::keepout::{Around, Band};
use crate::assembly::{Assembly, Joint, Meeting, Reach};
use crate::finding::{Finding, Verdict};
use crate::joints::{Cuts, Ends, Section, Side, finger, hook, lap, tab};

/// A meeting's section and its cuts.
pub struct Crossing {
    /// The section through both slabs.
    pub section: Section,
    /// What each side gives up.
    pub cuts: Cuts,
}

/// Slabs that meet at less than 20° make slots three thicknesses wide and edges like knives.
const FLATTEST_SIN: f64 = 0.342;

/// Makes one meeting; faults are added to `out`.
pub fn make(around: &Around, i: usize, at: &str, out: &mut Vec<Finding>) -> Option<Crossing> {
    let (assembly, blanks) = (around.assembly, around.blanks);
    let m = &assembly.meetings[i];
    if m.joint == Joint::Rest {
        return None;
    }
    let (pa, pb) = (assembly.panel(m.a), assembly.panel(m.b));
    let names = format!("\"{}\" and \"{}\"", pa.name, pb.name);
    let Some(section) = Section::between(&pa.slab, &pb.slab).filter(|x| x.sin >= FLATTEST_SIN) else {
        out.push(too_flat(assembly, m, &names, at));
        return None;
    };
    let (a, b) = (Ends { blank: &blanks[m.a.0], seed: pa.seed }, Ends { blank: &blanks[m.b.0], seed: pb.seed });
    let up = if section.e.z >= 0.0 { 1.0 } else { -1.0 };
    let mut room = 0.0;
    let made = match m.joint {
        Joint::Corner => {
            let first = if pa.rank >= pb.rank { Side::A } else { Side::B };
            let nominal = around.proportion(m.a).max(around.proportion(m.b));
            finger::cut(&section, &a, &b, first, m.fit_mm, &higher_thirds(assembly, m, &section), nominal)
        }
        Joint::Tab { reach } => {
            never_enters(&section, reach, &names, at, out);
            match tabs(&section, &a, &b, m, around) {
                Ok(tabs) => Some(tab::cut(&section, &a, &tabs, m.fit_mm)),
                Err(longest) => {
                    room = longest;
                    None
                }
            }
        }
        Joint::Hook { depth_share } => hook::cut(&section, &a, &b, up, depth_share, m.fit_mm),
        Joint::Lap { depth_share } => {
            let clear = clear_of_hosts(assembly, m, &section);
            lap::cut(&section, &a, &b, up, depth_share, m.fit_mm, clear)
        }
        Joint::Rest => None,
    };
    if made.is_none() {
        out.push(no_room(around.proportion(m.a), m, room, &names, at));
    }
    made.map(|cuts| Crossing { section, cuts })
}

/// Tabs on the stretches that are free on both panels: with the recommended distance to the host's
/// edges, else with the least. Where not one tab fits, the longest free stretch (mm).
fn tabs(x: &Section, a: &Ends, b: &Ends, m: &Meeting, around: &Around) -> Result<Vec<(f64, f64)>, f64> {
    let mut longest: f64 = 0.0;
    let t = x.slab(Side::A).thickness;
    let (own, host) = (around.strength(m.a), around.strength(m.b));
    let slot = tab::slot_range(x, a, m.fit_mm);
    let (near, sign) = x.near(Side::A, a.seed);
    let tip = a.outermost(x, Side::A);
    let own_u = (near.min(tip) - if sign > 0.0 { t } else { 0.0 }, near.max(tip) + if sign > 0.0 { 0.0 } else { t });
    for per in [EDGE_PER_THICKNESS, LEAST_EDGE_PER_THICKNESS] {
        // webs are measured on the finished slot, which is longer than its tab
        let web = per * host + tab::END_PLAY_MM;
        let Some(ib) = b.blank.shrunk_along(x.e, web).and_then(|inside| inside.inner(x.e, x.ub, slot)) else {
            continue;
        };
        let Some(ia) = a.blank.inner(x.e, x.ua, own_u) else { continue };
        let whole = (ib.0.max(ia.0 + SHOULDER_PER_THICKNESS * own), ib.1.min(ia.1 - SHOULDER_PER_THICKNESS * own));
        if whole.1 <= whole.0 {
            continue;
        }
        let on_b = around.free(x, Side::B, Band { panel: m.b, partner: m.a, u: slot, web }, whole);
        let on_a = Band { panel: m.a, partner: m.b, u: own_u, web: SHOULDER_PER_THICKNESS * own };
        let free: Vec<(f64, f64)> = on_b.into_iter().flat_map(|f| around.free(x, Side::A, on_a, f)).collect();
        let tabs = tab::place(&free, around.proportion(m.a), web);
        if !tabs.is_empty() {
            return Ok(tabs);
        }
        longest = free.iter().map(|f| f.1 - f.0).fold(longest, f64::max);
    }
    Err(longest)
}

/// From a slot to the host's edge or to another slot, in the host's thicknesses, without a warning
/// (common practice: warn below 2, default 3).
const EDGE_PER_THICKNESS: f64 = 2.0;
/// … and at the very least (common practice: refuse below 1.5).
const LEAST_EDGE_PER_THICKNESS: f64 = 1.5;
/// Beside a tab this much shoulder stays, in the tab's own thicknesses, so that it stops there.
const SHOULDER_PER_THICKNESS: f64 = 1.0;

/// Stretches of the corner's line that third panels of higher rank than both own.
fn higher_thirds(assembly: &Assembly, m: &Meeting, x: &Section) -> Vec<(f64, f64)> {
    let own = assembly.panel(m.a).rank.max(assembly.panel(m.b).rank);
    let corner = |p, q| assembly.meeting_of(p, q).is_some_and(|i| assembly.meetings[i].joint == Joint::Corner);
    (0..assembly.panels.len())
        .map(crate::assembly::PanelId)
        .filter(|c| *c != m.a && *c != m.b && assembly.panel(*c).rank > own)
        .filter(|c| corner(*c, m.a) && corner(*c, m.b))
        .filter_map(|c| x.third(&assembly.panel(c).slab))
        .collect()
}

/// The stretch of a lap's line that lies clear of the panels in which either partner ends with tabs.
fn clear_of_hosts(assembly: &Assembly, m: &Meeting, x: &Section) -> (f64, f64) {
    let mut clear = (f64::NEG_INFINITY, f64::INFINITY);
    let ends = assembly.meetings.iter().filter(|n| matches!(n.joint, Joint::Tab { .. }) && (n.a == m.a || n.a == m.b));
    for n in ends {
        let Some((from, to)) = x.third(&assembly.panel(n.b).slab) else { continue };
        if (from + to) / 2.0 < x.e.dot(assembly.panel(n.a).seed) {
            clear.0 = clear.0.max(to);
        } else {
            clear.1 = clear.1.min(from);
        }
    }
    clear
}

/// A flush tab whose upper face never enters the host is no tab.
fn never_enters(x: &Section, reach: Reach, names: &str, at: &str, out: &mut Vec<Finding>) {
    let (t, host) = (x.slab(Side::A).thickness, x.slab(Side::B).thickness);
    if reach == Reach::Flush && t * x.cos > host {
        out.push(
            Finding::new("tab-never-enters", Verdict::Refuse, at)
                .have("rise_mm", t * x.cos)
                .need("host_thickness_mm", host)
                .why(format!(
                    "Between {names} a flush tab's upper face would stay {:.2} mm above the sheet it should enter.",
                    t * x.cos - host
                )),
        );
    }
}

fn too_flat(assembly: &Assembly, m: &Meeting, names: &str, at: &str) -> Finding {
    let sin = assembly.panel(m.a).slab.frame.z.cross(assembly.panel(m.b).slab.frame.z).length().min(1.0);
    let angle = libm::asin(sin).to_degrees();
    Finding::new("joint-too-flat", Verdict::Refuse, at).have("angle_deg", angle).need("angle_min_deg", 20.0).why(
        format!(
            "{names} meet at {angle:.1}°, {:.1}° too flat: the slot would be wider than three sheets.",
            20.0 - angle
        ),
    )
}

fn no_room(t: f64, m: &Meeting, room: f64, names: &str, at: &str) -> Finding {
    let (code, what, need) = match m.joint {
        Joint::Tab { .. } => ("no-room-for-tabs", "a tab", tab::MIN_TAB_PER_THICKNESS * t),
        _ => ("joint-apart", "a joint", t),
    };
    Finding::new(code, Verdict::Refuse, at).have("room_mm", room).need("room_mm", need).why(format!(
        "Between {names} {room:.1} mm is the longest stretch free for {what}, {:.1} mm too short: openings, other joints and edges take the rest.",
        need - room
    ))
}
