//! Which part is at fault when several joints are: one fault is named once.

/// A pair of parts between which something is wrong, and the joint there, if there is one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wrong {
    /// The two parts.
    pub parts: (usize, usize),
    /// Place in the list of joints.
    pub joint: Option<usize>,
}

impl Wrong {
    fn has(&self, part: usize) -> bool {
        self.parts.0 == part || self.parts.1 == part
    }
}

/// Parts that are wrong at more than half of their joints, and at two at the least: such a part stands
/// elsewhere, or is another one. Each is said with everything that it explains; what is left stands alone.
#[must_use]
pub fn culprits(wrong: &[Wrong], joints_of: &[usize]) -> (Vec<(usize, Vec<Wrong>)>, Vec<Wrong>) {
    let (mut left, mut found) = (wrong.to_vec(), vec![]);
    loop {
        let count = |part: usize| left.iter().filter(|w| w.has(part)).count();
        let at_joints = |part: usize| left.iter().filter(|w| w.has(part) && w.joint.is_some()).count();
        let suspect = (0..joints_of.len())
            .filter(|p| count(*p) >= 2 && (2 * at_joints(*p) > joints_of[*p] || joints_of[*p] == 0))
            // most faults first; of equals the one that has no other joints
            .max_by_key(|p| (count(*p), std::cmp::Reverse(joints_of[*p]), std::cmp::Reverse(*p)));
        let Some(part) = suspect else { return (found, left) };
        let (mine, others): (Vec<Wrong>, Vec<Wrong>) = left.iter().partition(|w| w.has(part));
        found.push((part, mine));
        left = others;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wrong(a: usize, b: usize) -> Wrong {
        Wrong { parts: (a, b), joint: Some(10 * a + b) }
    }

    #[test]
    fn one_slot_is_a_joint_s_fault_and_a_turned_part_its_own() {
        // four walls round a floor (4): each wall has three joints
        let joints = [3, 3, 3, 3, 4];
        assert_eq!(culprits(&[wrong(0, 1)], &joints), (vec![], vec![wrong(0, 1)]));
        let turned = [wrong(0, 1), wrong(0, 3), wrong(0, 4)];
        assert_eq!(culprits(&turned, &joints), (vec![(0, turned.to_vec())], vec![]));
        // two slots of a part with many joints are two faults
        let two = [wrong(4, 0), wrong(4, 1)];
        assert_eq!(culprits(&two, &[3, 3, 3, 3, 8]), (vec![], two.to_vec()));
        let swapped = [wrong(0, 1), wrong(0, 3), wrong(2, 1), wrong(2, 3)];
        let (found, left) = culprits(&swapped, &[3, 4, 3, 4, 4]);
        assert_eq!(found.iter().map(|f| f.0).collect::<Vec<_>>(), [0, 2]);
        assert!(left.is_empty());
    }
}
