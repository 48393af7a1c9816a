//! What came of them, and how long and how much it took.

use std::collections::BTreeMap;
use std::fmt;
use std::time::{Duration, Instant};

/// Nothing may take so long: many times what anything does, on a machine that does other things as well.
const HANGS: Duration = Duration::from_secs(60);

/// The most memory that the program may hold, megabytes: what is promised of it. Built for tests it is some ten larger itself.
pub(crate) const MOST_HELD: u64 = if cfg!(debug_assertions) { 220 } else { 200 };

/// How many of each are tried: as many as are at every run of the tests, or as `TRUNDLE_MUTATED` says.
pub(crate) fn how_many(usual: usize) -> usize {
    std::env::var("TRUNDLE_MUTATED").map_or(usual, |n| n.parse().expect("a number"))
}

/// What came of so many.
#[derive(Debug, Default)]
pub(crate) struct Tally {
    outcomes: BTreeMap<String, usize>,
    slowest: Vec<(Duration, String)>,
}

impl Tally {
    /// Does one, and keeps how long it took.
    pub(crate) fn timed<T>(
        &mut self,
        what: impl FnOnce() -> String,
        does: impl FnOnce() -> T,
    ) -> T {
        let began = Instant::now();
        let done = does();
        self.took(began.elapsed(), what);
        done
    }

    /// Keeps how long one took.
    pub(crate) fn took(&mut self, took: Duration, what: impl FnOnce() -> String) {
        let slow = self.slowest.len() < 3 || self.slowest.iter().any(|(least, _)| took > *least);
        if slow || took >= HANGS {
            let what = what();
            assert!(took < HANGS, "{what} took {took:?}");
            self.slowest.push((took, what));
            self.slowest.sort_by(|a, b| b.cmp(a));
            self.slowest.truncate(3);
        }
    }

    /// Counts what came of one.
    pub(crate) fn came(&mut self, outcome: impl Into<String>) {
        *self.outcomes.entry(outcome.into()).or_default() += 1;
    }

    /// How many came to this.
    pub(crate) fn of(&self, outcome: &str) -> usize {
        self.outcomes.get(outcome).copied().unwrap_or(0)
    }
}

impl fmt::Display for Tally {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (outcome, count) in &self.outcomes {
            write!(f, "{count} {outcome}; ")?;
        }
        for (k, (took, what)) in self.slowest.iter().enumerate() {
            let head: String = what.chars().take(160).collect();
            write!(
                f,
                "{} {took:.0?} ({head})",
                if k == 0 { "the slowest" } else { ", then" }
            )?;
        }
        Ok(())
    }
}

/// The most memory that a process held, megabytes: `VmHWM` of proc(5).
pub(crate) fn most_held(of: u32) -> Option<u64> {
    memory(of, "VmHWM:")
}

/// The memory that a process holds now, megabytes: `VmRSS`.
pub(crate) fn holds(of: u32) -> Option<u64> {
    memory(of, "VmRSS:")
}

fn memory(of: u32, which: &str) -> Option<u64> {
    let status = std::fs::read_to_string(format!("/proc/{of}/status")).ok()?;
    let line = status.lines().find(|line| line.starts_with(which))?;
    let kilobytes: u64 = line.split_whitespace().nth(1)?.parse().ok()?;
    Some(kilobytes / 1024)
}
