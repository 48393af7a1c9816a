//! How a witness stands at rest as it goes into the sums of belief: against where it and what locks stood at the drop.
//!
//! At rest a witness reads `x + k·L`, `L` what the lock still had to go at the drop: a row over two witnesses, their doubts with it. As
//! what locks is itself in doubt, another of its arms may be the one that it came to.

use crate::chance::normal_between;
use crate::rest::{Rest, StandsAtRest};
use movement::Movement;
use quantity::to_f64;

/// What is read of one witness, as a sum over witnesses.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Row {
    /// The witness.
    pub(crate) witness: usize,
    /// The one that locks, if it was read at rest, and how fast the first turns beside it.
    pub(crate) lock: Option<(usize, f64)>,
    /// Degrees that are added besides.
    pub(crate) further: f64,
}

impl Row {
    /// Of a witness as it stands at its moment.
    pub(crate) fn plain(witness: usize) -> Row {
        Row {
            witness,
            lock: None,
            further: 0.0,
        }
    }

    /// The covariance of a witness with what is read, from that of witnesses with each other: a square table of `n` rows.
    pub(crate) fn with(&self, covariance: &[f64], n: usize, v: usize) -> f64 {
        let own = covariance[v * n + self.witness];
        // What locks goes the less far the further on it stands.
        (self.lock).map_or(own, |(lock, turns)| own - turns * covariance[v * n + lock])
    }

    /// The covariance of what is read with what is read.
    pub(crate) fn beside(&self, covariance: &[f64], n: usize, other: &Row) -> f64 {
        let own = other.with(covariance, n, self.witness);
        (self.lock).map_or(own, |(lock, turns)| {
            own - turns * other.with(covariance, n, lock)
        })
    }
}

/// Less likely than this, what locks came to no other arm.
const NO_ARM: f64 = 1e-9;

/// Every witness at rest.
#[derive(Debug, Clone)]
pub(crate) struct Resting {
    rows: Vec<Row>,
    /// For each witness that locks, its arms, and after how many degrees they come again.
    arms: Vec<Option<(Vec<f64>, f64)>>,
}

impl Resting {
    pub(crate) fn of(movement: &Movement, rest: &Rest) -> Resting {
        let row = |at: &StandsAtRest, w: usize| match at {
            StandsAtRest::RunsOn(degrees) => Row {
                further: degrees.to_f64(),
                ..Row::plain(w)
            },
            StandsAtRest::WithLock { lock, turns } => Row {
                lock: Some((lock.index(), to_f64(turns))),
                ..Row::plain(w)
            },
            StandsAtRest::AsItIs | StandsAtRest::Locks { .. } | StandsAtRest::Unknown => {
                Row::plain(w)
            }
        };
        let arms = |id| {
            let arms = rest.arms(id)?;
            let at = arms.at.iter().map(quantity::Degrees::to_f64).collect();
            Some((at, arms.round.to_f64()))
        };
        Resting {
            rows: (movement.witnesses())
                .map(|(id, _)| row(rest.at_rest(id), id.index()))
                .collect(),
            arms: movement.witnesses().map(|(id, _)| arms(id)).collect(),
        }
    }

    /// What is read of a witness at rest.
    pub(crate) fn row(&self, witness: usize) -> Row {
        self.rows[witness]
    }

    /// How far what locks goes from where it is likely to stand, in doubt by so much: to each arm that it may come to, and how likely.
    pub(crate) fn leads(&self, lock: usize, at: f64, spread: f64) -> Vec<(f64, f64)> {
        let Some((arms, round)) = &self.arms[lock] else {
            return Vec::new();
        };
        let spread = spread.max(f64::MIN_POSITIVE);
        let reach = REACH * spread;
        // The arm before the first that it may come to, and all from there on.
        let first = libm::floor((at - reach) / round) - 1.0;
        let rounds = libm::ceil((2.0 * reach) / round) + 3.0;
        let mut ahead = Vec::new();
        let mut turn = first;
        while turn < first + rounds {
            ahead.extend(arms.iter().map(|arm| arm + turn * round - at));
            turn += 1.0;
        }
        let to = (ahead.windows(2)).map(|pair| {
            let likely = normal_between(pair[0] / spread, pair[1] / spread);
            (pair[1], likely)
        });
        to.filter(|(_, likely)| *likely > NO_ARM).collect()
    }
}

/// Beyond so many spreads it stands nowhere.
const REACH: f64 = 8.0;
