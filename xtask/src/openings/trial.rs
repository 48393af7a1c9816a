//! Trial and error, as it is done at the bench without sums (common practice, no source).
//!
//! The repairer looks at all witnesses and takes the one that is farthest out of its window, reckoned in half windows. He
//! spreads the plates at the mesh nearest to that witness of those that move it, and turns it one tooth the way that would
//! bring the witness nearer if all went well; then closes and looks again. If all witnesses together look worse than
//! before, he undoes it, one tooth back, and tries the next thing he has not tried from there: the same mesh the other way,
//! then the next mesh that moves that witness, then those of the next witness that is out. What did not make it worse he
//! leaves, and begins anew from there. When he has tried everything he begins again. When all looks in window he calls it
//! done; if it then does not lock, he looks once more, and if all still looks in he takes the witness that is farthest from
//! its best. After thirty openings he puts it aside. His eyes and hands are those of every other player.

use super::bench::{Move, Player, Sight};
use super::eyes::Seen;
use super::world::World;

/// The player.
#[derive(Debug, Clone)]
pub struct Trial<'a> {
    world: &'a World,
    /// What was tried from where it stands now: meshes by their place in [`World::meshes`], and ahead or back.
    tried: Vec<(usize, i64)>,
    /// The last shift that stands to be judged, and how far out all was before it.
    judged: Option<((usize, i64), f64)>,
    /// Whether it was called done and did not lock.
    doubted: bool,
}

impl<'a> Trial<'a> {
    /// At the bench with one movement.
    pub fn of(world: &'a World) -> Trial<'a> {
        Trial {
            world,
            tried: Vec::new(),
            judged: None,
            doubted: false,
        }
    }

    fn seen(&mut self, seen: &[Seen]) -> Move {
        let windows = || self.world.witnesses.iter().zip(seen);
        let out = |(w, seen): (&super::world::Witness, &Seen)| {
            (seen.deg - w.to).max(w.from - seen.deg).max(0.0) / (0.5 * (w.to - w.from))
        };
        let together: f64 = windows().map(out).sum();
        if let Some(((mesh, teeth), before)) = self.judged.take() {
            if together > before {
                return self.shift(mesh, -teeth);
            }
            self.tried.clear();
        }
        let mut suspects: Vec<(f64, usize)> = windows()
            .map(out)
            .zip(0..)
            .filter(|(out, _)| *out > 0.0)
            .collect();
        if suspects.is_empty() {
            if !self.doubted {
                return Move::Done;
            }
            let off = |(w, seen): (&super::world::Witness, &Seen)| {
                (seen.deg - w.best).abs() / (0.5 * (w.to - w.from))
            };
            suspects = windows().map(off).zip(0..).collect();
        }
        suspects.sort_by(|a, b| b.0.total_cmp(&a.0));
        let mut things = Vec::new();
        for (_, w) in suspects {
            let short = seen[w].deg < self.world.witnesses[w].best;
            for &mesh in &self.world.witnesses[w].moved_by {
                let forward = self.world.meshes[mesh].step_deg[w] > 0.0;
                let nearer = if short == forward { 1 } else { -1 };
                things.extend([(mesh, nearer), (mesh, -nearer)]);
            }
        }
        let untried = things.iter().find(|thing| !self.tried.contains(thing));
        let Some(&(mesh, teeth)) = untried.or(things.first()) else {
            unreachable!("every witness is moved by some mesh");
        };
        if untried.is_none() {
            self.tried.clear();
        }
        self.tried.push((mesh, teeth));
        self.judged = Some(((mesh, teeth), together));
        self.doubted = false;
        self.shift(mesh, teeth)
    }

    fn shift(&self, mesh: usize, teeth: i64) -> Move {
        Move::Shift(vec![(self.world.meshes[mesh].id, teeth)])
    }
}

impl Player for Trial<'_> {
    fn play(&mut self, sight: &Sight) -> Move {
        match sight {
            Sight::Seen(seen) => return self.seen(seen),
            Sight::Put => *self = Trial::of(self.world),
            Sight::NotInWindow => self.doubted = true,
            Sight::Shifted => {}
        }
        Move::Look(self.world.witnesses.iter().map(|w| w.id).collect())
    }
}
