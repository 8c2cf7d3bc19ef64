//! The parts put together in space: every fault, named by part and joint, with how much.

use super::blame::{Wrong, culprits};
use super::collide::{Collision, TOUCH_MM, collisions};
use super::joints::{Measure, measured};
use super::openings::{Blocked, blocked};
use super::package::Package;
use super::report::{JointMeasured, Report};
use crate::finding::{Finding, Verdict, worst};

/// Measures a package that was taken apart. `None` when stopped.
#[must_use]
pub fn judge(package: &Package, stop: &dyn Fn() -> bool) -> Option<Report> {
    let mut measures: Vec<Vec<Measure>> = vec![];
    for joint in &package.joints {
        if stop() {
            return None;
        }
        measures.push(measured(package, joint));
    }
    let (hits, pairs) = collisions(package, stop)?;
    let blocked = blocked(package, stop)?;
    let case = Case { package, measures: &measures, hits: &hits, blocked: &blocked };
    let mut findings = package.faults.clone();
    findings.extend(case.findings());
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    let joints = package.joints.iter().zip(&measures).map(|(j, m)| JointMeasured::of(package, j, m)).collect();
    Some(Report {
        verdict: worst(&findings),
        findings,
        parts: package.parts.len(),
        pairs,
        things: package.things.len(),
        joints,
    })
}

/// Everything that was measured.
struct Case<'a> {
    package: &'a Package,
    measures: &'a [Vec<Measure>],
    hits: &'a [Collision],
    blocked: &'a [Blocked],
}

impl Case<'_> {
    fn code(&self, part: usize) -> &str {
        &self.package.parts[part].code
    }

    fn findings(&self) -> Vec<Finding> {
        let wrong = self.wrong();
        let mut joints_of = vec![0; self.package.parts.len()];
        for j in &self.package.joints {
            joints_of[j.a] += 1;
            joints_of[j.b] += 1;
        }
        let (found, left) = culprits(&wrong, &joints_of);
        let mut all: Vec<Finding> = found.iter().map(|(part, mine)| self.part(*part, mine, joints_of[*part])).collect();
        all.extend(left.iter().map(|w| match w.joint {
            Some(j) => self.joint(j),
            None => self.collision(w.parts),
        }));
        let parts: Vec<usize> = found.iter().map(|f| f.0).collect();
        all.extend(self.blocked.iter().filter(|b| !parts.contains(&b.part)).map(|b| self.opening(b)));
        all
    }

    /// Every joint and every other pair at which something is wrong.
    fn wrong(&self) -> Vec<Wrong> {
        let mut all = vec![];
        for (i, j) in self.package.joints.iter().enumerate() {
            let parts = (j.a.min(j.b), j.a.max(j.b));
            let hit = self.hits.iter().any(|h| h.parts == parts);
            if hit || self.measures[i].iter().any(|m| m.over_mm > 0.0) {
                all.push(Wrong { parts, joint: Some(i) });
            }
        }
        let joined = |h: &Collision| all.iter().any(|w| w.parts == h.parts);
        let free: Vec<Wrong> =
            self.hits.iter().filter(|h| !joined(h)).map(|h| Wrong { parts: h.parts, joint: None }).collect();
        all.extend(free);
        all
    }

    fn hit(&self, parts: (usize, usize)) -> Option<&Collision> {
        self.hits.iter().find(|h| h.parts == parts)
    }

    /// The worst measure of a joint: what is empty before what is off.
    fn worst(&self, joint: usize) -> Option<&Measure> {
        self.measures[joint].iter().filter(|m| m.over_mm > 0.0).max_by(|a, b| a.over_mm.total_cmp(&b.over_mm))
    }

    fn joint(&self, i: usize) -> Finding {
        let j = &self.package.joints[i];
        let (a, b) = (self.code(j.a), self.code(j.b));
        let hit = self.hit((j.a.min(j.b), j.a.max(j.b)));
        let bad: Vec<&Measure> = self.measures[i].iter().filter(|m| m.over_mm > 0.0).collect();
        let empty = bad.iter().filter(|m| m.gap_mm.is_none()).count();
        let code = match (hit, empty) {
            (Some(_), _) => "joint-collides",
            (None, 1..) => "joint-empty",
            (None, 0) => "joint-misses-fit",
        };
        let mut f = Finding::new(code, Verdict::Refuse, j.id.as_str()).have("parts", format!("{a}, {b}"));
        let mut says = vec![];
        if let Some(h) = hit {
            f = f.have("depth_mm", h.depth_mm).need("depth_mm_max", TOUCH_MM + h.squeeze_mm);
            says.push(format!("they stand {:.2} mm in one another", h.depth_mm));
        }
        if empty > 0 {
            f = f.have("empty_places", empty).need("empty_places", 0.0);
            says.push(format!("at {empty} places the partner is not there"));
        }
        let off = bad.iter().filter(|m| m.gap_mm.is_some()).max_by(|p, q| p.over_mm.total_cmp(&q.over_mm));
        if let Some((m, gap)) = off.and_then(|m| Some((m, m.gap_mm?))) {
            f = f.have("gap_mm", gap).have("off_mm", gap - m.want_mm).need("gap_mm", m.want_mm);
            says.push(format!("{} {gap:.2} mm where it should be {:.2}", m.place.name(), m.want_mm));
        }
        f.have("places", bad.len()).why(format!(
            "At joint {} ({}) of {a} and {b}, {}.",
            j.id,
            j.letters,
            says.join("; ")
        ))
    }

    /// A part with everything that is wrong about it.
    fn part(&self, part: usize, mine: &[Wrong], of: usize) -> Finding {
        let code = self.code(part);
        let joints: Vec<&str> =
            mine.iter().filter_map(|w| w.joint).map(|j| self.package.joints[j].id.as_str()).collect();
        let depth = mine.iter().filter_map(|w| self.hit(w.parts)).map(|h| h.depth_mm).fold(0.0, f64::max);
        let off = mine.iter().filter_map(|w| self.worst(w.joint?)?.gap_mm).fold(0.0, |a: f64, g| a.max(g.abs()));
        Finding::new("part-off", Verdict::Refuse, code)
            .have("joints", joints.join(", "))
            .have("depth_mm", depth)
            .have("gap_mm", off)
            .need("joints", "all within their fit")
            .need("depth_mm_max", TOUCH_MM)
            .why(format!(
                "Part {code} misses at {} of its {of} joints ({}), by up to {:.2} mm: it stands elsewhere than its \
                 neighbours ask, or it is another part.",
                joints.len(),
                joints.join(", "),
                depth.max(off)
            ))
    }

    fn collision(&self, parts: (usize, usize)) -> Finding {
        let (a, b) = (self.code(parts.0), self.code(parts.1));
        let (depth, at) = self.hit(parts).map_or((0.0, crate::geom::DVec3::ZERO), |h| (h.depth_mm, h.at));
        Finding::new("parts-collide", Verdict::Refuse, format!("{a}, {b}"))
            .have("depth_mm", depth)
            .have("at_mm", at.to_array().to_vec())
            .need("depth_mm_max", TOUCH_MM)
            .why(format!("Parts {a} and {b} have no joint and stand {depth:.2} mm in one another."))
    }

    fn opening(&self, b: &Blocked) -> Finding {
        let (code, thing) = (self.code(b.part), &self.package.things[b.thing]);
        let (name, what) = match b.inside {
            true => ("opening-too-small", "would stand in"),
            false => ("opening-blocks-way-out", "is kept from coming out by"),
        };
        Finding::new(name, Verdict::Refuse, code)
            .have("thing", super::fault::short(&format!("{} in {}", thing.thing, thing.id)))
            .have("short_mm", b.short_mm)
            .have("area_mm2", b.area_mm2)
            .need("short_mm", 0.0)
            .why(format!(
                "\"{}\" in {} {what} part {code}: it would have to be {:.2} mm thinner all round.",
                super::fault::short(&thing.thing),
                super::fault::short(&thing.id),
                b.short_mm
            ))
    }
}
