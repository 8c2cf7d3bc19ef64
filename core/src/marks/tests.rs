//! Marks are where a person looks for them, and never where they would be cut.

use super::glyphs::strokes;
use super::lettering::Lettering;
use super::of_panel;
use crate::families::ALL;
use crate::geom::{DVec2, Segment, to_boundary};
use crate::make::tests::made;

fn segments(lines: &[Vec<DVec2>]) -> Vec<Segment> {
    lines.iter().flat_map(|l| l.windows(2).map(|w| Segment::line(w[0], w[1]))).collect()
}

#[test]
fn every_letter_that_a_code_can_hold_is_drawn_within_its_grid() {
    for c in ('A'..='Z').chain('0'..='9').chain(['-', '.', '/']) {
        let glyph = strokes(c).unwrap();
        assert!(!glyph.is_empty(), "{c}");
        for (x, y) in glyph.iter().flat_map(|s| s.iter()) {
            assert!((0.0..=4.0).contains(x) && (0.0..=6.0).contains(y), "{c}");
        }
        assert!(glyph.iter().all(|s| s.len() >= 2 && s.windows(2).all(|w| w[0] != w[1])), "{c}");
    }
    let all: Vec<_> = ('A'..='Z').chain('0'..='9').map(|c| strokes(c).unwrap()).collect();
    for (i, a) in all.iter().enumerate() {
        assert!(all[i + 1..].iter().all(|b| a != b), "two letters look the same");
    }
    assert!(strokes('ü').is_none());
}

/// An L written along +x has its foot to the right of its stem; a mirror would put it left.
#[test]
fn words_are_not_mirrored_whichever_way_they_stand() {
    for up in [DVec2::Y, DVec2::X, DVec2::NEG_Y, DVec2::new(0.6, 0.8)] {
        let l = Lettering::of("L", 6.0, up);
        let (head, corner, foot) = (l.lines[0][0], l.lines[0][1], l.lines[0][2]);
        assert!((head - corner).dot(up) > 5.9);
        assert!((foot - corner).perp_dot(head - corner) > 0.0, "{up}");
    }
}

#[test]
fn marks_stay_clear_of_every_cut_and_of_each_other() {
    let mut seen = 0;
    for about in ALL {
        let made = made((about.example)());
        for (part, built) in made.parts.iter().map(|p| (p, &made.holders[p.holder])) {
            let marks = of_panel(built, part.panel);
            assert_eq!(marks.lines, part.marks);
            for s in segments(&marks.lines) {
                for p in [s.a, s.mid(), s.b] {
                    assert!(part.finished.contains(p), "{} {p}", part.code);
                    let (off, _) = to_boundary(&part.finished, p);
                    assert!(off >= 1.0 - 1e-5, "{} {p}: {off}", part.code);
                    seen += 1;
                }
            }
        }
    }
    assert!(seen > 500, "{seen}");
}

#[test]
fn both_partners_of_every_joint_carry_its_letters() {
    for about in ALL {
        let made = made((about.example)());
        for joint in made.joints.iter().filter(|j| j.kind != "rest") {
            for part in [joint.a, joint.b].map(|i| &made.parts[i]) {
                assert!(!part.marks_left_out.contains(&joint.letters), "{} lacks {}", part.code, joint.letters);
            }
        }
    }
}

#[test]
fn a_part_too_small_for_letters_says_so() {
    let mut made = made((ALL[0].example)());
    let built = &mut made.holders[0];
    let small = crate::geom::Contour::rect(DVec2::ZERO, DVec2::new(30.0, 4.0));
    built.finished.panels[0].region = crate::geom::Region::new(small, vec![]);
    let marks = of_panel(built, 0);
    assert!(marks.lines.is_empty());
    assert!(marks.left_out.contains(&"A1".to_owned()) && marks.left_out.contains(&"UP".to_owned()));
}
