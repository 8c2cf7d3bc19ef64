//! Files as editors write them, and files as attackers do.

use super::read;
use crate::geom::Segment;
use crate::readback::ReadLimits;
use crate::readback::outline::of_file;

/// A file from its entities, with units.
fn file(units: &str, entities: &str) -> String {
    format!(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n{units}\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    )
}

fn area(text: &str) -> Result<f64, crate::finding::Finding> {
    Ok(of_file("x.dxf", text.as_bytes(), &ReadLimits::default())?.pieces.iter().map(crate::geom::Region::area).sum())
}

const SQUARE: &str =
    "0\nLWPOLYLINE\n8\nEDGES 2\n90\n4\n70\n1\n10\n0\n20\n0\n10\n10\n20\n0\n10\n10\n20\n10\n10\n0\n20\n10\n";
const HOLE: &str = "0\nCIRCLE\n8\n0\n10\n5\n20\n5\n40\n2\n";

#[test]
fn lines_arcs_circles_and_polylines_make_a_part() {
    // a stadium of 10 × 4 of two lines and two arcs, and an old-style polyline as its opening
    let text = file(
        "4",
        "0\nLINE\n8\n0\n10\n0\n20\n0\n11\n10\n21\n0\n0\nARC\n8\n0\n10\n10\n20\n2\n40\n2\n50\n270\n51\n90\n\
         0\nLINE\n8\nx\n10\n0\n20\n4\n11\n10\n21\n4\n0\nARC\n8\n0\n10\n0\n20\n2\n40\n2\n50\n90\n51\n270\n\
         0\nPOLYLINE\n8\n0\n66\n1\n70\n1\n0\nVERTEX\n8\n0\n10\n4\n20\n1\n42\n1\n0\nVERTEX\n8\n0\n10\n6\n20\n1\n42\n1\n0\nSEQEND\n\
         0\nTEXT\n8\n0\n10\n0\n20\n0\n1\nA3\n0\nLINE\n8\nmark\n10\n1\n20\n1\n11\n2\n21\n2\n",
    );
    let o = of_file("x.dxf", text.as_bytes(), &ReadLimits::default()).unwrap();
    let want = 40.0 + std::f64::consts::PI * 4.0 - std::f64::consts::PI;
    assert_eq!((o.pieces.len(), o.pieces[0].holes.len(), o.marks.len()), (1, 1, 1));
    assert!((o.pieces[0].area() - want).abs() < 1e-9, "{}", o.pieces[0].area());
}

#[test]
fn units_of_the_header_hold() {
    let mm = area(&file("4", SQUARE)).unwrap();
    for (unit, mm_each) in [("0", 1.0), ("1", 25.4), ("5", 10.0)] {
        let got = area(&file(unit, SQUARE)).unwrap();
        assert!((got - mm * mm_each * mm_each).abs() < 1e-9 * got, "{unit}: {got}");
    }
    assert!(area(&file("14", SQUARE)).unwrap_err().why.contains("$INSUNITS 14"));
}

#[test]
fn what_cannot_be_read_is_named() {
    let spline = "0\nSPLINE\n8\n0\n";
    let insert = "0\nINSERT\n8\n0\n2\nA\n10\n0\n20\n0\n";
    let count = SQUARE.replace("90\n4", "90\n2000000000");
    for (entities, says) in [
        (format!("{SQUARE}{spline}"), "no arc"),
        (format!("{SQUARE}{insert}"), "explode"),
        (count, "says 2000000000"),
        (SQUARE.replace("10\n10\n20\n0\n", "10\nnan\n20\n0\n"), "nan"),
        (SQUARE.replace("10\n10\n20\n0\n", "10\n1e999\n20\n0\n"), "1e999"),
        (SQUARE.replace("10\n10\n20\n0\n", "10\n1e9\n20\n0\n"), "no part has"),
        (SQUARE.replace("70\n1", "70\n0"), "open"),
        (format!("{SQUARE}{SQUARE}"), "runs along another"),
        (format!("{SQUARE}{}", HOLE.replace("10\n5\n", "10\n9\n")), "cross"),
        (SQUARE.replace("8\nEDGES 2", "8\n0\n210\n0\n220\n0\n230\n-1"), "extrusion"),
        (String::new(), "no closed contour"),
        (HOLE.replace("40\n2", "40\n-2"), "radius"),
    ] {
        let f = area(&file("4", &entities)).unwrap_err();
        assert!(f.why.contains(says), "{says}: {}", f.why);
        assert!(!f.have.is_empty() && !f.need.is_empty());
    }
    let many = ReadLimits { vertices: 3, ..ReadLimits::default() };
    assert_eq!(read("x", file("4", SQUARE).as_bytes(), &many).unwrap_err().code, "too-many-vertices");
}

#[test]
fn two_squares_side_by_side_are_two_pieces() {
    let other = "0\nLWPOLYLINE\n8\n0\n90\n3\n70\n1\n10\n20\n20\n0\n10\n30\n20\n0\n10\n30\n20\n10\n";
    let o = of_file("x.dxf", file("4", &format!("{SQUARE}{other}{HOLE}")).as_bytes(), &ReadLimits::default()).unwrap();
    assert_eq!((o.pieces.len(), o.pieces.iter().map(|p| p.holes.len()).sum::<usize>()), (2, 1));
}

/// A whole circle given as an arc closes in itself.
#[test]
fn a_full_arc_is_a_circle() {
    let text = file("4", "0\nARC\n8\n0\n10\n0\n20\n0\n40\n5\n50\n0\n51\n360\n");
    assert!((area(&text).unwrap() - 25.0 * std::f64::consts::PI).abs() < 1e-9);
}

#[test]
fn cut_or_flipped_files_never_panic_and_no_cut_one_passes() {
    let whole = file("4", &format!("{SQUARE}{HOLE}"));
    for k in 0..50 {
        assert!(area(&whole[..whole.len() * k / 50]).is_err(), "{k}");
    }
    for i in 0..whole.len() * 8 {
        let mut bytes = whole.clone().into_bytes();
        bytes[i / 8] ^= 1 << (i % 8);
        if let Ok(lines) = read("x", &bytes, &ReadLimits::default()) {
            assert!(lines.iter().flat_map(super::Line::segments).all(|s: Segment| s.a.is_finite()));
        }
    }
}
