//! Tabs and fingers bear what hangs on them: the load of a lifted floor, and what a slam throws at a panel.

mod loads;

use self::loads::Pushes;
use super::boards::Board;
use super::bound::Bound;
use super::features::Joined;
use super::floor_sag::stands_on;
use super::masses::sum_g;
use super::outcome::{About, Outcome, Subject};
use super::place::{called, thicker_sheet};
use super::plate::N_PER_G;
use crate::assembly::{Joint, Role};
use crate::finding::Verdict;
use crate::finish::Built;
use crate::material::Stock;

/// What this check is about.
pub const ABOUT: About = About {
    name: "tab-shear",
    rule: "The peak shear in a panel's tabs and fingers, 1.5 times load over area, stays below the sheet's shear strength times 0.583; beyond the full strength it is refused.",
    source: "peak in a rectangle 1.5 V/A (beam theory); duration factor k_mod/γ_M = 0.7/1.2 (BS EN 1995-1-1, as ICE Manual of Structural Design; γ_M from memory); strengths: list of materials",
};

/// Share of its strength that a sheet bears for long: k_mod 0.70 over γ_M 1.2.
const LONG_TERM: f64 = 0.583;
/// Peak over mean shear in a rectangle.
const PEAK: f64 = 1.5;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let boards = subject.boards();
    let pushes = Pushes::of(subject, &boards);
    for (k, board) in boards.iter().enumerate() {
        let area = tab_area_mm2(board.built, board.panel);
        if area <= 0.0 {
            continue;
        }
        let lifted = lifted_n(subject, board);
        if lifted > 0.0 {
            judge(subject, board, Case { square_n: lifted, along_n: 0.0, area, what: "lifted full" }, out);
        }
        for push in pushes.at(k) {
            let case = Case { square_n: push.square_n, along_n: push.along_n, area, what: push.what };
            judge(subject, board, case, out);
        }
    }
}

fn stock_of<'a>(subject: &Subject<'a>, board: &Board) -> &'a Stock {
    &subject.job.stocks[board.built.assembly.panels[board.panel].stock]
}

/// What a panel's tabs have to bear.
struct Case {
    /// Square to the panel: veneers roll off each other, N.
    square_n: f64,
    /// In its plane: the sheet shears through its thickness, N.
    along_n: f64,
    area: f64,
    what: &'static str,
}

/// Area of all tabs, fingers and ears of a panel, mm², as wide as they really are.
fn tab_area_mm2(built: &Built, panel: usize) -> f64 {
    let mut area = 0.0;
    for j in Joined::all(built).filter(|j| !matches!(j.meeting.joint, Joint::Lap { .. })) {
        for cell in j.cells.iter().filter(|c| j.panel(c.owner) == panel) {
            area += j.width_mm(cell) * j.thickness(cell.owner);
        }
    }
    area
}

/// Weight on a level panel when its holder is lifted, with the road's jolts.
fn lifted_n(subject: &Subject, board: &Board) -> f64 {
    if !matches!(board.built.assembly.panels[board.panel].role, Role::Floor | Role::Deck) {
        return 0.0;
    }
    let on: Vec<_> = subject
        .content_lumps(board.holder)
        .into_iter()
        .filter(|l| stands_on(board.built, l) == Some(board.panel))
        .collect();
    let own = subject.panel_lumps(board.holder)[board.panel].mass_g;
    if on.is_empty() { 0.0 } else { (sum_g(&on) + own) * N_PER_G * (1.0 + subject.job.space.loads.down_g) }
}

fn judge(subject: &Subject, board: &Board, case: Case, out: &mut Outcome) {
    let stock = stock_of(subject, board);
    let peak = |n: f64| PEAK * n / case.area;
    let rolling = (peak(case.square_n), stock.profile.rolling_shear_n_mm2.value, "roll off each other");
    let through = (peak(case.along_n), stock.profile.edge_shear_n_mm2.value, "shear through");
    let worse = |a: (f64, f64, &'static str), b| if a.0 / a.1 >= b { a } else { through };
    let (stress, strength, how) = worse(rolling, through.0 / through.1);
    let allowed = LONG_TERM * strength;
    let code = board.built.part_code(board.panel);
    let bound = Bound::most("tabs-shear", "shear_share", 1.0 / LONG_TERM, 1.0);
    let Some((f, _)) = bound.weigh(&code, stress / allowed, out) else { return };
    let most = if f.verdict == Verdict::Refuse { strength } else { allowed };
    let f = f
        .have("peak_n_mm2", stress)
        .have("load_n", case.square_n.max(case.along_n))
        .have("tab_area_mm2", case.area)
        .need("peak_n_mm2", most)
        .why(format!(
            "{}, the tabs and fingers of part {} bear {stress:.2} N/mm² at their peak, {:.2} more than the sheet does{}: its veneers {how}.",
            capital(case.what),
            called(board.built, board.panel),
            stress - most,
            if most < strength { " for long" } else { "" }
        ));
    out.find(thicker_sheet(f, subject, board.built, board.panel));
}

fn capital(text: &str) -> String {
    let mut c = text.chars();
    c.next().map_or_else(String::new, |first| first.to_uppercase().chain(c).collect())
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray_for};
    use super::*;
    use serde_json::json;

    // a tab 10 × 3 under 30 N: mean 1.0, peak 1.5 N/mm²; plywood sheathing's rolling shear 1.72 MPa
    // (MatWeb) times 0.583 allows 1.00
    #[test]
    fn one_tab_of_the_reference() {
        let mut scene = Scene::of(tray_for(
            json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 96}),
            json!([]),
            50.0,
        ));
        scene.job.stocks[0].profile.rolling_shear_n_mm2.value = 1.72;
        let subject = Subject { job: &scene.job, holders: &scene.holders };
        let boards = subject.boards();
        let stressed = |n: f64| {
            let mut out = Outcome::default();
            judge(&subject, &boards[0], Case { square_n: n, along_n: 0.0, area: 30.0, what: "lifted full" }, &mut out);
            (out.measured[0].value, out.findings.first().map(|f| f.verdict))
        };
        let (share, verdict) = stressed(30.0);
        assert!((share - 1.5 / (1.72 * 0.583)).abs() < 1e-9 && verdict == Some(Verdict::Warn), "{share}");
        assert_eq!(stressed(20.0).1, None);
        assert_eq!(stressed(35.0).1, Some(Verdict::Refuse));
    }

    fn tray_of_bolts(grams: f64, floor: &str) -> Vec<(&'static str, Verdict)> {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 96});
        let bolts = json!({"id": "bolts", "mass_g": grams, "shape": {"kind": "loose", "piece_mm": [10, 10, 10]}});
        let mut request = tray_for(drawer, json!([bolts]), 60.0);
        request["holders"][0]["things"] = json!(["bolts"]);
        request["holders"][0]["floor"] = json!(floor);
        request["holders"][0]["floor_raise_mm"] = json!(8.0);
        let out = Scene::of(request).run(run);
        assert!(!out.measured.is_empty());
        out.findings.iter().map(|f| (f.code, f.verdict)).collect()
    }

    #[test]
    fn a_tray_of_bolts_in_a_slammed_drawer() {
        assert_eq!(tray_of_bolts(2000.0, "fingers"), vec![]);
        // 20 kg against the back wall at 5.1 g are 1000 N on some 1000 mm² of fingers
        assert!(!tray_of_bolts(20_000.0, "captured").is_empty());
    }
}
