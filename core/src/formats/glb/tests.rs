//! The model's triangles against exact volumes: closed, and looking outward.

use super::mesh::Mesh;
use crate::families::ALL;
use crate::geom::{Contour, DVec2, Region};
use crate::make::tests::made;
use crate::things::{Prism, Revolution, Solid};

/// Signed volume by the divergence theorem, mm³: positive when every face looks outward and none is missing.
fn volume(m: &Mesh) -> f64 {
    let p = |i: u32| m.positions[i as usize].map(|v| f64::from(v) * 1000.0);
    m.indices
        .chunks_exact(3)
        .map(|t| {
            let (a, b, c) = (p(t[0]), p(t[1]), p(t[2]));
            (a[0] * (b[1] * c[2] - b[2] * c[1])
                + a[1] * (b[2] * c[0] - b[0] * c[2])
                + a[2] * (b[0] * c[1] - b[1] * c[0]))
                / 6.0
        })
        .sum()
}

/// Every corner's normal is a unit vector on the outer side of its triangle.
fn looks_out(m: &Mesh) {
    let v = |i: u32| crate::geom::DVec3::from_array(m.positions[i as usize].map(f64::from)) * 1000.0;
    for t in m.indices.chunks_exact(3) {
        let n = (v(t[1]) - v(t[0])).cross(v(t[2]) - v(t[0]));
        for i in t {
            let own = crate::geom::DVec3::from_array(m.normals[*i as usize].map(f64::from));
            assert!((own.length() - 1.0).abs() < 1e-5);
            assert!(n.length() < 1e-6 || own.dot(n.normalize()) > 0.5, "{own} {n}");
        }
    }
}

#[test]
fn a_plate_with_a_hole_is_closed() {
    let outer = Contour::rect(DVec2::ZERO, DVec2::new(60.0, 40.0));
    let r = Region::new(outer, vec![Contour::circle(DVec2::new(30.0, 20.0), 12.0)]);
    let m = Mesh::plate(&r, 3.1);
    assert!((volume(&m) / (r.area() * 3.1) - 1.0).abs() < 1e-3);
    looks_out(&m);
}

#[test]
fn things_are_closed_and_as_large_as_they_are() {
    let bottle = Revolution::new(vec![(0.0, 19.0), (60.0, 19.0), (60.0, 12.0), (75.0, 8.0), (90.0, 0.0)]).unwrap();
    for solid in [Solid::Revolution(bottle), Solid::Prism(Prism::hexagon(10.0, 80.0).unwrap())] {
        let m = Mesh::solid(&solid);
        assert!((volume(&m) / solid.volume_mm3() - 1.0).abs() < 5e-3, "{} {}", volume(&m), solid.volume_mm3());
        looks_out(&m);
    }
}

#[test]
fn the_file_says_its_own_length_and_holds_every_node() {
    for about in ALL {
        let made = made((about.example)());
        let bytes = super::bytes(&made).unwrap();
        let word = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().unwrap());
        assert_eq!((word(0), word(4), word(8) as usize), (super::MAGIC, 2, bytes.len()));
        let json: serde_json::Value = serde_json::from_slice(&bytes[20..20 + word(12) as usize]).unwrap();
        let berths: usize = made.holders.iter().map(|h| h.assembly.berths.len()).sum();
        let nodes = json["nodes"].as_array().unwrap();
        assert_eq!(nodes.len(), 1 + made.holders.len() + made.parts.len() + berths);
        for part in &made.parts {
            assert!(nodes.iter().any(|n| n["extras"]["code"] == part.code.as_str()));
        }
    }
}
