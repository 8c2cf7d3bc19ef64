//! Every fault by a case that has it and one that has not; and that what the room itself makes is sound.

use super::*;
use crate::geom::testing::{Seeded, mirrored, retold, rounded, v};
use crate::geom::{Vertex, subtract};

fn kinds(r: &Region) -> Vec<FaultKind> {
    let mut k: Vec<_> = faults(r).iter().map(|f| f.kind).collect();
    k.sort();
    k.dedup();
    k
}
fn plate() -> Contour {
    Contour::rect(v(0.0, 0.0), v(100.0, 60.0))
}
fn with(holes: &[Contour]) -> Region {
    Region::new(plate(), holes.to_vec())
}
/// Outer boundary as given, so that its winding is not set right.
fn raw(outer: Contour) -> Region {
    Region { outer, holes: vec![] }
}

#[test]
fn sound_regions_have_no_fault() {
    let tangent = Contour::circle(v(10.0, 30.0), 10.0);
    let corner = Contour::polygon(&[v(50.0, 0.0), v(60.0, 10.0), v(40.0, 10.0)]);
    for r in [
        with(&[]),
        with(&[Contour::circle(v(50.0, 30.0), 10.0), Contour::rect(v(5.0, 5.0), v(20.0, 20.0))]),
        // rings may touch at a point: ISO 19125-1, 6.1.11.1 c
        with(&[tangent]),
        with(&[corner]),
        with(&[Contour::rect(v(20.0, 20.0), v(30.0, 30.0)), Contour::rect(v(30.0, 30.0), v(40.0, 40.0))]),
        raw(rounded(v(0.0, 0.0), v(60.0, 40.0), 5.0)),
        raw(Contour::circle(v(0.0, 0.0), 3.0)),
        // collinear corners are no fault
        raw(Contour::polygon(&[v(0.0, 0.0), v(5.0, 0.0), v(10.0, 0.0), v(10.0, 10.0), v(0.0, 10.0)])),
    ] {
        assert_eq!(faults(&r), vec![], "{r:?}");
    }
}

#[test]
fn each_fault_is_found() {
    use FaultKind::*;
    assert_eq!(kinds(&Region::default()), vec![TooFewVertices]);
    assert_eq!(kinds(&raw(Contour::polygon(&[v(0.0, 0.0), v(9.0, 0.0)]))), vec![TooFewVertices]);
    let mut nan = with(&[]);
    nan.outer.vertices[2].p.y = f64::NAN;
    assert_eq!(faults(&nan).iter().map(|f| (f.kind, f.index)).collect::<Vec<_>>(), vec![(NotFinite, 2)]);
    let twice = [v(0.0, 0.0), v(9.0, 0.0), v(9.0, 0.0), v(9.0, 9.0)];
    let f = faults(&raw(Contour::polygon(&twice)));
    assert_eq!(f.iter().map(|f| (f.kind, f.index)).collect::<Vec<_>>(), vec![(ZeroLengthEdge, 1)]);
    assert!(f[0].to_string().contains("corner 1"), "{}", f[0]);
    assert_eq!(kinds(&raw(plate().reversed())), vec![WrongWinding]);
    let inverted = Region { outer: plate(), holes: vec![Contour::circle(v(50.0, 30.0), 9.0)] };
    assert_eq!(kinds(&inverted), vec![WrongWinding]);
    let bow = [v(0.0, 0.0), v(10.0, 10.0), v(12.0, 0.0), v(0.0, 12.0)];
    assert!(kinds(&raw(Contour::polygon(&bow))).contains(&SelfCrosses));
    let spike = [v(0.0, 0.0), v(9.0, 0.0), v(15.0, 0.0), v(9.0, 0.0), v(9.0, 9.0), v(0.0, 9.0)];
    assert!(kinds(&raw(Contour::polygon(&spike))).contains(&DoubledEdge));
    let pinch = [v(0.0, 0.0), v(10.0, 0.0), v(5.0, 5.0), v(10.0, 10.0), v(0.0, 10.0), v(5.0, 5.0)];
    assert_eq!(kinds(&raw(Contour::polygon(&pinch))), vec![SelfTouches]);
    assert_eq!(kinds(&with(&[Contour::circle(v(200.0, 30.0), 9.0)])), vec![HoleOutside]);
    assert_eq!(kinds(&with(&[Contour::circle(v(100.0, 30.0), 9.0)])), vec![HoleCrossesOuter]);
    let (a, b) = (Contour::circle(v(30.0, 30.0), 9.0), Contour::circle(v(40.0, 30.0), 9.0));
    assert_eq!(kinds(&with(&[a.clone(), b])), vec![HolesOverlap]);
    assert_eq!(kinds(&with(&[a.clone(), Contour::circle(v(31.0, 30.0), 3.0)])), vec![HolesOverlap]);
    assert!(kinds(&with(&[a.clone(), a])).contains(&DoubledEdge));
    assert_eq!(kinds(&with(&[Contour::rect(v(0.0, 20.0), v(10.0, 30.0))])), vec![DoubledEdge]);
    // from edge to edge, touching both
    assert_eq!(kinds(&with(&[Contour::circle(v(50.0, 30.0), 30.0)])), vec![InteriorSplit]);
    // four squares corner to corner around a post
    let ring: Vec<Contour> = [(20.0, 20.0), (30.0, 30.0), (40.0, 20.0), (30.0, 10.0)]
        .map(|(x, y)| Contour::rect(v(x, y), v(x + 10.0, y + 10.0)))
        .to_vec();
    assert_eq!(kinds(&with(&ring)), vec![InteriorSplit]);
    assert_eq!(kinds(&with(&ring[..3])), vec![]);
}

#[test]
fn all_faults_are_reported_at_once() {
    use FaultKind::*;
    let mut r = Region { outer: plate().reversed(), holes: vec![] };
    r.outer.vertices.insert(1, r.outer.vertices[1]);
    r.holes.push(Contour::circle(v(100.0, 30.0), 9.0).reversed());
    r.holes.push(Contour::circle(v(300.0, 30.0), 9.0));
    r.holes.push(Contour::default());
    r.holes.push(Contour { vertices: vec![Vertex { p: v(1.0, f64::INFINITY), bulge: 0.0 }; 3] });
    let want = [ZeroLengthEdge, WrongWinding, HoleCrossesOuter, WrongWinding, HoleOutside, TooFewVertices, NotFinite];
    let have: Vec<_> = faults(&r).iter().map(|f| f.kind).collect();
    for k in want {
        assert!(have.contains(&k), "{k:?} in {have:?}");
    }
}

#[test]
fn what_is_sound_stays_sound_however_told() {
    let mut g = Seeded::new(51);
    for _ in 0..200 {
        let n = 3 + g.below(9);
        let c = g.star(v(0.0, 0.0), 20.0, 60.0, n, true);
        for d in retold(&c) {
            assert_eq!(faults(&Region::new(d, vec![])), vec![]);
        }
        assert_eq!(faults(&Region::new(mirrored(&c), vec![])), vec![]);
        // swap two corners that are not neighbours: nearly always a crossing, and never a panic
        let mut bad = c.clone();
        bad.vertices.swap(0, n / 2);
        let _ = faults(&Region::new(bad, vec![]));
    }
}

#[test]
fn what_the_booleans_make_is_sound() {
    let mut g = Seeded::new(52);
    for case in 0..400 {
        let cuts: Vec<Contour> = (0..1 + g.below(8))
            .map(|_| {
                let at = v(g.below(11) as f64 * 10.0, g.below(7) as f64 * 10.0);
                match g.below(4) {
                    0 => Contour::circle(at, [5.0, 10.0, 7.3][g.below(3)]),
                    1 => Contour::rect(at, at + v(10.0, 20.0)),
                    2 => Contour::rect(v(-20.0, -2.0), v(20.0, 2.0)).turned(g.range(0.0, 6.3)).moved(at),
                    _ => g.star(at, 5.0, 9.0, 6, true),
                }
            })
            .collect();
        let turn = g.range(0.0, 6.3);
        let cuts: Vec<Contour> = cuts.iter().map(|c| c.turned(turn)).collect();
        for part in subtract(&with(&[]).turned(turn), &cuts) {
            assert_eq!(faults(&part), vec![], "case {case}: {part:?}");
        }
    }
}
