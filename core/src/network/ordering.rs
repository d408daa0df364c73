//! The order in which points are eliminated: approximate minimum degree on the quotient graph
//! (P. R. Amestoy, T. A. Davis, I. S. Duff, SIAM J. Matrix Anal. Appl. 17 (1996) 886–905, without
//! its supervariables). A point is one node, so a network of n points has n nodes, not 2n.

#![expect(clippy::indexing_slicing, reason = "all indices are node numbers below the node count")]

use crate::units::ascending;
use std::cmp::Reverse;
use std::collections::BinaryHeap;

/// Elimination order and, for each node, the later nodes its column of the factor touches.
pub(super) struct Elimination {
    /// Nodes, first eliminated first.
    pub order: Vec<u32>,
    /// For each node, the nodes eliminated after it that its column touches.
    pub column: Vec<Vec<u32>>,
}

struct Quotient {
    /// Neighbours by an original edge.
    edges: Vec<Vec<u32>>,
    /// Elements (eliminated nodes) a node belongs to.
    elements: Vec<Vec<u32>>,
    /// Nodes of each element; empty once absorbed.
    members: Vec<Vec<u32>>,
    degree: Vec<usize>,
    gone: Vec<bool>,
    mark: Vec<u32>,
    stamp: u32,
    /// Members of an element outside the newest one, while it is being made.
    outside: Vec<usize>,
    seen: Vec<u32>,
}

/// Orders the graph with `count` nodes and these edges (any direction, repeats allowed).
pub(super) fn eliminate(count: usize, edges: impl Iterator<Item = (u32, u32)>) -> Elimination {
    let mut q = Quotient::new(count, edges);
    let mut heap: BinaryHeap<Reverse<(usize, u32)>> =
        (0u32..).take(count).map(|i| Reverse((q.degree[i as usize], i))).collect();
    let mut order = Vec::with_capacity(count);
    let mut column = vec![Vec::new(); count];
    while let Some(Reverse((degree, node))) = heap.pop() {
        let i = node as usize;
        if q.gone[i] || q.degree[i] != degree {
            continue;
        }
        q.remove(node);
        for &k in &q.members[i] {
            heap.push(Reverse((q.degree[k as usize], k)));
        }
        column[i].clone_from(&q.members[i]);
        order.push(node);
    }
    Elimination { order, column }
}

impl Quotient {
    fn new(count: usize, edges: impl Iterator<Item = (u32, u32)>) -> Self {
        let mut neighbours = vec![Vec::new(); count];
        for (a, b) in edges.filter(|(a, b)| a != b) {
            neighbours[a as usize].push(b);
            neighbours[b as usize].push(a);
        }
        for list in &mut neighbours {
            ascending(list);
            list.dedup();
        }
        Self {
            degree: neighbours.iter().map(Vec::len).collect(),
            edges: neighbours,
            elements: vec![Vec::new(); count],
            members: vec![Vec::new(); count],
            gone: vec![false; count],
            mark: vec![0; count],
            stamp: 0,
            outside: vec![0; count],
            seen: vec![0; count],
        }
    }

    /// Turns a node into an element whose members are all its neighbours.
    fn remove(&mut self, node: u32) {
        let i = node as usize;
        self.gone[i] = true;
        self.stamp += 1;
        self.mark[i] = self.stamp;
        let mut members = std::mem::take(&mut self.edges[i]);
        let old = std::mem::take(&mut self.elements[i]);
        for &e in &old {
            members.append(&mut self.members[e as usize]);
        }
        members.retain(|&k| {
            let fresh = !self.gone[k as usize] && self.mark[k as usize] != self.stamp;
            self.mark[k as usize] = self.stamp;
            fresh
        });
        ascending(&mut members);
        self.count_outside(&members, &old);
        for &k in &members {
            self.update(k as usize, node, &old, members.len());
        }
        self.members[i] = members;
    }

    /// For every element that shares members with the new one: how many of its members lie outside.
    fn count_outside(&mut self, members: &[u32], old: &[u32]) {
        for &k in members {
            for &e in &self.elements[k as usize] {
                let e = e as usize;
                if old.contains(&(e as u32)) {
                    continue;
                }
                if self.seen[e] != self.stamp {
                    self.seen[e] = self.stamp;
                    self.outside[e] = self.members[e].iter().filter(|&&m| !self.gone[m as usize]).count();
                }
                self.outside[e] = self.outside[e].saturating_sub(1);
            }
        }
    }

    fn update(&mut self, k: usize, node: u32, old: &[u32], size: usize) {
        let (mark, stamp, gone) = (&self.mark, self.stamp, &self.gone);
        // Edges inside the new element are implied by it.
        self.edges[k].retain(|&m| !gone[m as usize] && mark[m as usize] != stamp);
        // Aggressive absorption: an element all of whose members are in the new one adds nothing.
        let (outside, seen) = (&self.outside, &self.seen);
        self.elements[k]
            .retain(|e| !old.contains(e) && (seen[*e as usize] != stamp || outside[*e as usize] > 0));
        let beyond: usize = self.elements[k].iter().map(|&e| outside[e as usize]).sum();
        self.elements[k].push(node);
        self.degree[k] = self.edges[k].len() + size - 1 + beyond;
    }
}
