//! Which edges can be near each other: a sweep over bounding boxes.

use super::DVec2;

/// Least and greatest x and y.
pub(crate) type Bounds = (DVec2, DVec2);

/// Calls `found(i, j)`, each pair once, for boxes that come within `reach` of each other in x and in y.
/// The order of the calls depends on the boxes only.
pub(crate) fn near_pairs(boxes: &[Bounds], reach: f64, mut found: impl FnMut(usize, usize)) {
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|&i, &j| boxes[i].0.x.total_cmp(&boxes[j].0.x).then(i.cmp(&j)));
    for (k, &i) in order.iter().enumerate() {
        for &j in &order[k + 1..] {
            if boxes[j].0.x > boxes[i].1.x + reach {
                break;
            }
            if boxes[j].0.y <= boxes[i].1.y + reach && boxes[i].0.y <= boxes[j].1.y + reach {
                found(i, j);
            }
        }
    }
}

/// How far apart two boxes are: no edge in one is nearer to an edge in the other.
pub(crate) fn apart(a: &Bounds, b: &Bounds) -> f64 {
    (a.0 - b.1).max(b.0 - a.1).max(DVec2::ZERO).length()
}
