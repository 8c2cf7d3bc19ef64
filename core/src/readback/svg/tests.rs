//! Files as editors write them, and files as attackers do.

use super::read;
use crate::geom::Region;
use crate::readback::ReadLimits;
use crate::readback::outline::{Outline, of_file};

fn page(inside: &str) -> String {
    format!(
        "<?xml version=\"1.0\"?>\n<!-- a drawing -->\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"100mm\" height=\"50mm\" viewBox=\"0 0 100 50\">{inside}</svg>\n"
    )
}

fn outline(text: &str) -> Result<Outline, crate::finding::Finding> {
    of_file("x.svg", text.as_bytes(), &ReadLimits::default())
}

fn area(text: &str) -> f64 {
    outline(text).unwrap().pieces.iter().map(Region::area).sum()
}

const PI: f64 = std::f64::consts::PI;

#[test]
fn paths_and_shapes_in_groups_make_a_part() {
    let text = page(
        "<g id=\"edges\"><path d=\"M10,10h20V30H10Z\"/></g><g id=\"openings\" transform=\"translate(5 5)\"><circle cx=\"15\" cy=\"15\" r=\"2\"/></g>\
         <g id=\"mark\"><path d=\"M12 12L14 14\"/></g><text>A1</text><defs><path d=\"M0 0L1 1\"/></defs>",
    );
    let o = outline(&text).unwrap();
    assert_eq!((o.pieces.len(), o.pieces[0].holes.len(), o.marks.len()), (1, 1, 1));
    assert!((o.pieces[0].area() - (400.0 - 4.0 * PI)).abs() < 1e-9);
    // y is up: the page is 50 high
    assert_eq!(o.pieces[0].bounds().0.to_array(), [10.0, 20.0]);
    assert_eq!(o.marks[0][0].to_array(), [12.0, 38.0]);
}

#[test]
fn arcs_keep_their_side_whatever_turns_the_page() {
    let d = "M10 10h20a5 5 0 0 1 0 10h-20z";
    let want = 200.0 + 12.5 * PI;
    for group in ["", "rotate(30)", "rotate(-90 20 20)", "matrix(1 0 0 -1 0 40)", "scale(-1 1)"] {
        let text = page(&format!("<g transform=\"{group}\"><path d=\"{d}\"/></g>"));
        assert!((area(&text) - want).abs() < 1e-6, "{group}: {}", area(&text));
    }
    // the other sweep, the long way round, and flags without blanks
    assert!((area(&page("<path d=\"M10 10h20a5 5 0 0 0 0 10h-20z\"/>")) - (200.0 - 12.5 * PI)).abs() < 1e-6);
    assert!((area(&page("<path d=\"M20 15A5 5 0 1120 15.001z\"/>")) - 25.0 * PI).abs() < 0.01);
    // a quarter circle as an editor's Bézier: within its own error of 3e-4 of the radius
    let quarter = "M10 10h10c0 5.5228 -4.4772 10 -10 10z";
    assert!((area(&page(&format!("<path d=\"{quarter}\"/>"))) - 25.0 * PI).abs() < 0.1);
}

#[test]
fn units_of_the_page_hold() {
    let px = "<svg width=\"96px\" height=\"96\" ><rect x=\"1\" y=\"1\" width=\"9.6\" height=\"9.6\"/></svg>";
    assert!((area(px) - 2.54 * 2.54).abs() < 1e-9);
    let inch = "<svg width=\"1in\" height=\"1in\" viewBox=\"0 0 10 10\"><rect width=\"5\" height=\"5\"/></svg>";
    assert!((area(inch) - 12.7 * 12.7).abs() < 1e-9);
}

#[test]
fn what_cannot_be_read_is_named() {
    let deep = format!("{}{}", "<g>".repeat(100), "</g>".repeat(100));
    let bomb = "<!DOCTYPE svg [<!ENTITY a \"aaaa\"><!ENTITY b \"&a;&a;\">]><svg/>";
    for (text, says) in [
        (page("<use href=\"#a\"/>"), "<use>"),
        (page(&deep), "groups within one another"),
        (bomb.to_owned(), "DTD"),
        (page("<path d=\"M0 0L10 nan\"/>"), "number"),
        (page("<path d=\"M0 0L10 1e999L5 5z\"/>"), "number"),
        (page("<path d=\"M0 0L1e7 0L5 5z\"/>"), "no part has"),
        (page("<path d=\"M0 0L10 0L5 5\"/>"), "open"),
        (page("<path d=\"M0 0A5 3 0 0 0 10 0z\"/>"), "ellipse"),
        (page("<g transform=\"scale(1 2)\"><path d=\"M0 0h1v1z\"/></g>"), "unequally"),
        (page("<g transform=\"skewX(3)\"/>"), "not read"),
        (page("<path d=\"M0 0h1v1z\""), "XML"),
        (page("<g>"), "closes another"),
        ("<svg viewBox=\"0 0 1 1\"/>".to_owned(), "size"),
        ("<svg width=\"10mm\" height=\"10mm\" viewBox=\"0 0 10 20\"/>".to_owned(), "unequally"),
        ("<html/>".to_owned(), "<html>"),
        (String::new(), "no whole SVG"),
    ] {
        let f = outline(&text).unwrap_err();
        assert!(f.why.contains(says) || format!("{:?}", f.need).contains(says), "{says}: {}", f.why);
    }
    assert!(read("x", b"\xff\xfe", &ReadLimits::default()).unwrap_err().why.contains("UTF-8"));
    let few = ReadLimits { vertices: 10, ..ReadLimits::default() };
    let long = page(&format!("<path d=\"M0 0{}\"/>", "h1".repeat(50)));
    assert_eq!(read("x", long.as_bytes(), &few).unwrap_err().code, "too-many-vertices");
}

#[test]
fn cut_or_flipped_files_never_panic_and_no_cut_one_passes() {
    let whole = page(
        "<g id=\"edges\"><path d=\"M10,10h20a5 5 0 0 1 0 10H10Z\"/><rect x=\"12\" y=\"12\" width=\"3\" height=\"4\"/></g>",
    );
    for k in 0..50 {
        assert!(outline(&whole[..whole.len() * k / 50]).is_err(), "{k}");
    }
    for i in 0..whole.len() * 8 {
        let mut bytes = whole.clone().into_bytes();
        bytes[i / 8] ^= 1 << (i % 8);
        let _ = of_file("x.svg", &bytes, &ReadLimits::default());
    }
}
