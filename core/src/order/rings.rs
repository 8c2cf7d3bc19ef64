//! Groups of a graph in which each reaches each other: Tarjan's algorithm.

/// The groups, each sorted; a group stands behind all groups that it leads to (Tarjan, «Depth-first search
/// and linear graph algorithms», SIAM Journal on Computing 1 (1972) 146; from memory).
pub fn components(graph: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let n = graph.len();
    let (mut number, mut low, mut waiting) = (vec![usize::MAX; n], vec![0; n], vec![false; n]);
    let (mut stack, mut groups, mut next) = (vec![], vec![], 0);
    for start in 0..n {
        if number[start] != usize::MAX {
            continue;
        }
        // a node and which of its edges comes next: no call stack, however long the chain
        let mut path = vec![(start, 0)];
        while let Some((node, edge)) = path.pop() {
            if edge == 0 {
                number[node] = next;
                low[node] = next;
                next += 1;
                stack.push(node);
                waiting[node] = true;
            } else {
                let child = graph[node][edge - 1];
                if waiting[child] {
                    low[node] = low[node].min(low[child]);
                }
            }
            if let Some(child) = graph[node].get(edge) {
                path.push((node, edge + 1));
                if number[*child] == usize::MAX {
                    path.push((*child, 0));
                }
            } else if low[node] == number[node] {
                let at = stack.iter().rposition(|p| *p == node).unwrap_or(0);
                let mut group = stack.split_off(at);
                for p in &group {
                    waiting[*p] = false;
                }
                group.sort_unstable();
                groups.push(group);
            }
        }
    }
    groups
}

/// The groups that lead to no other group.
pub fn leading_nowhere<'g>(graph: &[Vec<usize>], groups: &'g [Vec<usize>]) -> Vec<&'g Vec<usize>> {
    let leads_out = |g: &Vec<usize>| g.iter().any(|i| graph[*i].iter().any(|j| g.binary_search(j).is_err()));
    groups.iter().filter(|g| !leads_out(g)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_rings_and_a_tail() {
        // 0 → 1 → 2 → 0, 2 → 3, 3 ↔ 4, 5 → 0
        let graph = vec![vec![1], vec![2], vec![0, 3], vec![4], vec![3], vec![0]];
        let groups = components(&graph);
        assert_eq!(groups, vec![vec![3, 4], vec![0, 1, 2], vec![5]]);
        assert_eq!(leading_nowhere(&graph, &groups), vec![&vec![3, 4]]);
    }

    #[test]
    fn random_graphs_against_reach_in_any_number_of_steps() {
        let mut seed = 3_u64;
        for _ in 0..200 {
            let mut next = |n: usize| {
                seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
                (seed >> 33) as usize % n
            };
            let n = 2 + next(9);
            let graph: Vec<Vec<usize>> = (0..n).map(|_| (0..next(3)).map(|_| next(n)).collect()).collect();
            // what each reaches in any number of steps
            let reach: Vec<Vec<usize>> = (0..n)
                .map(|i| {
                    let mut all = vec![i];
                    let mut at = 0;
                    while at < all.len() {
                        let news: Vec<usize> = graph[all[at]].iter().copied().filter(|j| !all.contains(j)).collect();
                        all.extend(news);
                        at += 1;
                    }
                    all
                })
                .collect();
            let groups = components(&graph);
            let of = |i: usize| groups.iter().position(|g| g.contains(&i)).unwrap();
            for i in 0..n {
                for j in 0..n {
                    assert_eq!(of(i) == of(j), reach[i].contains(&j) && reach[j].contains(&i), "{graph:?}");
                }
            }
            assert_eq!(groups.iter().map(Vec::len).sum::<usize>(), n);
        }
    }
}
