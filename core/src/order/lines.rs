//! The lines along which a part may be pushed: normals, common lines and what is square to them.

use crate::assembly::{Assembly, Joint};
use crate::geom::DVec3;
use crate::joints::Section;

/// Lines nearer to one another than this (sine) are one.
const SAME_SIN: f64 = 1e-6;

/// Candidate lines of a holder, each as a unit vector of which either way may be tried: x, y, z of the
/// holder; of each meeting both normals, the common line, and what lies square to it in either plane.
/// A tab leaves a slot along its own plane or along the host's normal, a lap along the common line.
pub fn candidates(assembly: &Assembly) -> Vec<DVec3> {
    let mut all = vec![DVec3::Z, DVec3::Y, DVec3::X];
    let made = assembly.meetings.iter().filter(|m| m.joint != Joint::Rest);
    for m in made {
        let (a, b) = (&assembly.panel(m.a).slab, &assembly.panel(m.b).slab);
        if let Some(x) = Section::between(a, b) {
            for d in [a.frame.z, b.frame.z, x.e, x.ua, x.ub] {
                add(&mut all, d);
            }
        }
    }
    all
}

/// The candidates and the lines square to any two faces, `most` in all. Faces look along the candidates, so
/// that a group of parts that can begin to move at all can begin to move along one of these: the ways that
/// its contacts leave form a cone whose sides are square to their normals, and each of its edges is square
/// to two of them.
pub fn complete(assembly: &Assembly, first: &[DVec3], most: usize) -> Vec<DVec3> {
    let mut normals: Vec<DVec3> = vec![];
    for p in &assembly.panels {
        add(&mut normals, p.slab.frame.z);
    }
    for d in first {
        add(&mut normals, *d);
    }
    let mut all = first.to_vec();
    for (i, n) in normals.iter().enumerate() {
        for m in &normals[i + 1..] {
            if all.len() >= most {
                return all;
            }
            if let Some(d) = n.cross(*m).try_normalize() {
                add(&mut all, d);
            }
        }
    }
    all
}

fn add(all: &mut Vec<DVec3>, d: DVec3) {
    if d.is_finite() && !all.iter().any(|e| e.cross(d).length_squared() < SAME_SIN * SAME_SIN) {
        all.push(d);
    }
}
