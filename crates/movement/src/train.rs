//! The tree of each train: who is joined to whom, how fast, which way, and what lies beyond each mesh.

use crate::{Hop, LoopPath, MeshSide, Turning};
use quantity::{Exact, Teeth, whole};

/// A mesh between two arbors, by index; the first of each pair belongs to the driver.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Link {
    pub(crate) arbors: [usize; 2],
    pub(crate) teeth: [Option<Teeth>; 2],
    pub(crate) internal: bool,
}

impl Link {
    fn other(&self, arbor: usize) -> usize {
        self.arbors[usize::from(self.arbors[0] == arbor)]
    }

    /// The step from `arbor` over this mesh, where both counts are known.
    fn hop(&self, arbor: usize) -> Option<Hop> {
        let here = usize::from(self.arbors[0] != arbor);
        Some(Hop {
            here: self.teeth[here]?,
            there: self.teeth[1 - here]?,
        })
    }
}

/// Both ways round a loop, by the index of its arbors.
pub(crate) struct Loop {
    /// Where the ways part.
    pub(crate) start: usize,
    /// The arbor where they meet: the one that the link which closes the loop drives.
    pub(crate) end: usize,
    pub(crate) ways: [LoopPath; 2],
}

/// Trains as a forest: one tree over the arbors of each train, grown from one of them.
#[derive(Debug, Clone)]
pub(crate) struct Forest {
    /// Which train each arbor is of.
    pub(crate) train: Vec<usize>,
    /// How many trains there are.
    pub(crate) trains: usize,
    /// The link by which each arbor was reached from its parent.
    pub(crate) up: Vec<Option<(usize, usize)>>,
    /// Links between parent and child.
    pub(crate) depth: Vec<usize>,
    /// Arbors in the order they were reached.
    pub(crate) order: Vec<usize>,
    /// Links that close a loop.
    pub(crate) closing: Vec<usize>,
}

/// Grows a tree over each train, from the first of `roots` that is in it.
pub(crate) fn grow(arbors: usize, links: &[Link], roots: &[usize]) -> Forest {
    let mut touching = vec![Vec::new(); arbors];
    for (l, link) in links.iter().enumerate() {
        touching[link.arbors[0]].push(l);
        touching[link.arbors[1]].push(l);
    }
    let mut forest = Forest {
        train: vec![usize::MAX; arbors],
        trains: 0,
        up: vec![None; arbors],
        depth: vec![0; arbors],
        order: Vec::with_capacity(arbors),
        closing: Vec::new(),
    };
    let mut used = vec![false; links.len()];
    for &root in roots.iter().chain(&(0..arbors).collect::<Vec<_>>()) {
        if forest.train[root] != usize::MAX {
            continue;
        }
        let mut next = forest.order.len();
        forest.train[root] = forest.trains;
        forest.order.push(root);
        while next < forest.order.len() {
            let here = forest.order[next];
            next += 1;
            for &l in &touching[here] {
                if std::mem::replace(&mut used[l], true) {
                    continue;
                }
                let there = links[l].other(here);
                if forest.train[there] == usize::MAX {
                    forest.train[there] = forest.trains;
                    forest.up[there] = Some((here, l));
                    forest.depth[there] = forest.depth[here] + 1;
                    forest.order.push(there);
                } else {
                    forest.closing.push(l);
                }
            }
        }
        forest.trains += 1;
    }
    forest.closing.sort_unstable();
    forest
}

impl Forest {
    /// The links from `arbor` up to `ancestor`, nearest first.
    fn climb(&self, mut arbor: usize, ancestor: usize) -> Vec<(usize, usize)> {
        let mut path = Vec::new();
        while arbor != ancestor {
            let Some((parent, link)) = self.up[arbor] else {
                break;
            };
            path.push((parent, link));
            arbor = parent;
        }
        path
    }

    /// Where the ways up from two arbors of one train first meet.
    fn meeting(&self, mut a: usize, mut b: usize) -> usize {
        while a != b {
            let deeper = if self.depth[a] >= self.depth[b] {
                &mut a
            } else {
                &mut b
            };
            match self.up[*deeper] {
                Some((parent, _)) => *deeper = parent,
                None => break,
            }
        }
        a
    }

    /// The loop that link `l` closes.
    pub(crate) fn loop_of(&self, links: &[Link], l: usize) -> Option<Loop> {
        let [a, b] = links[l].arbors;
        let start = self.meeting(a, b);
        let down = |end: usize| {
            let mut steps = self.climb(end, start);
            steps.reverse();
            steps
        };
        let mut over_a = down(a);
        over_a.push((a, l));
        let ways = [walk(links, &over_a)?, walk(links, &down(b))?];
        Some(Loop {
            start,
            end: b,
            ways,
        })
    }

    /// Whether each arbor turns the same way round as the root of its train.
    pub(crate) fn with_root(&self, links: &[Link]) -> Vec<bool> {
        let mut with_root = vec![true; self.order.len()];
        for &arbor in &self.order {
            if let Some((parent, l)) = self.up[arbor] {
                with_root[arbor] = with_root[parent] == links[l].internal;
            }
        }
        with_root
    }

    /// Which links lie on some loop.
    fn looped(&self, links: &[Link]) -> Vec<bool> {
        let mut looped = vec![false; links.len()];
        for &l in &self.closing {
            looped[l] = true;
            let [a, b] = links[l].arbors;
            let top = self.meeting(a, b);
            for end in [a, b] {
                for (_, link) in self.climb(end, top) {
                    looped[link] = true;
                }
            }
        }
        looped
    }
}

/// Turns at the end of a path of `(from arbor, link)` steps.
fn walk(links: &[Link], steps: &[(usize, usize)]) -> Option<LoopPath> {
    let mut way = LoopPath {
        hops: Vec::new(),
        turns: whole(1),
    };
    for &(from, l) in steps {
        let hop = links[l].hop(from)?;
        way.turns *= signed_ratio(hop, links[l].internal);
        way.hops.push(hop);
    }
    Some(way)
}

/// Turns of the arbor beyond a mesh for one turn of the arbor before it: `N·dθ + n·dθ' = 0` for an external mesh.
fn signed_ratio(hop: Hop, internal: bool) -> Exact {
    let ratio = Exact::new(hop.here.get().into(), hop.there.get().into());
    if internal { ratio } else { -ratio }
}

/// The exact ratio tree of a checked movement.
#[derive(Debug, Clone)]
pub(crate) struct Tree {
    pub(crate) train: Vec<usize>,
    pub(crate) trains: usize,
    pub(crate) anchor: Vec<usize>,
    /// Turns of each arbor in one turn of its train's anchor, without direction.
    pub(crate) turns: Vec<Exact>,
    /// Which way each arbor runs, as seen from the sheet's plate.
    pub(crate) runs: Vec<Turning>,
    pub(crate) far: Vec<Option<MeshSide>>,
    pub(crate) depth: Vec<usize>,
    entered: Vec<usize>,
    left: Vec<usize>,
}

impl Tree {
    /// The ratios over a forest whose counts are all known; directions are filled in by the caller.
    pub(crate) fn over(forest: &Forest, links: &[Link]) -> Tree {
        let n = forest.order.len();
        let mut turns = vec![whole(1); n];
        let mut anchor = vec![0; forest.trains];
        let mut children = vec![Vec::new(); n];
        for &arbor in &forest.order {
            match forest.up[arbor] {
                None => anchor[forest.train[arbor]] = arbor,
                Some((parent, l)) => {
                    if let Some(hop) = links[l].hop(parent) {
                        turns[arbor] = &turns[parent]
                            * Exact::new(hop.here.get().into(), hop.there.get().into());
                    }
                    children[parent].push(arbor);
                }
            }
        }
        let looped = forest.looped(links);
        let far = links
            .iter()
            .zip(looped)
            .map(|(link, looped)| {
                let driver_farther = forest.depth[link.arbors[0]] > forest.depth[link.arbors[1]];
                (!looped).then_some(if driver_farther {
                    MeshSide::Driver
                } else {
                    MeshSide::Driven
                })
            })
            .collect();
        let (entered, left) = number(&anchor, &children);
        Tree {
            train: forest.train.clone(),
            trains: forest.trains,
            anchor,
            turns,
            runs: vec![Turning::Clockwise; n],
            far,
            depth: forest.depth.clone(),
            entered,
            left,
        }
    }

    /// Whether `arbor` lies in the part of the tree that hangs from `top`.
    pub(crate) fn within(&self, top: usize, arbor: usize) -> bool {
        (self.entered[top]..self.left[top]).contains(&self.entered[arbor])
    }
}

/// Numbers the arbors so that each subtree is one run of numbers: when each was entered, and when it was left.
fn number(anchors: &[usize], children: &[Vec<usize>]) -> (Vec<usize>, Vec<usize>) {
    let mut entered = vec![0; children.len()];
    let mut left = vec![0; children.len()];
    let mut clock = 0;
    for &anchor in anchors {
        let mut open = vec![(anchor, 0)];
        entered[anchor] = clock;
        clock += 1;
        while let Some((arbor, child)) = open.pop() {
            match children[arbor].get(child) {
                Some(&next) => {
                    open.push((arbor, child + 1));
                    entered[next] = clock;
                    clock += 1;
                    open.push((next, 0));
                }
                None => left[arbor] = clock,
            }
        }
    }
    (entered, left)
}
