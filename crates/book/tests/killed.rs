//! What was acknowledged is there, whenever the program was killed: while it wrote, while it took pictures in, while it
//! brought an older book up to date. What a failure of the machine itself leaves is tried in `power.rs`.

mod earlier;
mod made_up;
mod victim;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::Duration;
use victim::{Acknowledged, Deed, inspect, start};

const TEST: &str = "whatever_was_acknowledged_is_there_after_five_hundred_kills";

/// Kills while it does each; five hundred in all, shared among so many hands.
const KILLS: [(Deed, usize); 3] = [
    (Deed::Write, 260),
    (Deed::Upload, 140),
    (Deed::Migrate, 100),
];
const HANDS: usize = 4;
/// After so many kills over one book the next is begun, so that going over it stays quick.
const OVER_ONE: usize = 13;
/// The longest that it is left alive once it works: some tens of entries, or the whole of a migration.
const LONGEST: u64 = 30_000;

#[test]
fn whatever_was_acknowledged_is_there_after_five_hundred_kills() {
    victim::work_if_victim();
    let (wrote, total) = (AtomicUsize::new(0), AtomicUsize::new(0));
    thread::scope(|scope| {
        for hand in 0..HANDS {
            let (wrote, total) = (&wrote, &total);
            scope.spawn(move || {
                let mut chance = Pcg64Mcg::seed_from_u64(u64::try_from(hand).unwrap());
                for (deed, kills) in KILLS {
                    let mine = (0..kills).filter(|kill| kill % HANDS == hand).count();
                    let (w, t) = kill(deed, mine, &mut chance);
                    wrote.fetch_add(w, Ordering::Relaxed);
                    total.fetch_add(t, Ordering::Relaxed);
                }
            });
        }
    });
    let (wrote, total) = (wrote.into_inner(), total.into_inner());
    println!("{total} things acknowledged, {wrote} times killed while at work");
    let working: usize = KILLS[..2].iter().map(|(_, kills)| kills).sum();
    assert!(
        wrote > working / 2,
        "only {wrote} were killed while at work"
    );
}

/// Kills so often over one deed; how often it was at work then, and how much was acknowledged.
fn kill(deed: Deed, kills: usize, chance: &mut Pcg64Mcg) -> (usize, usize) {
    let (mut wrote, mut total) = (0, 0);
    let mut folder = tempfile::tempdir().unwrap();
    let mut acknowledged = Acknowledged::default();
    for kill in 0..kills {
        if kill % OVER_ONE == 0 || deed == Deed::Migrate {
            total += acknowledged.total();
            folder = tempfile::tempdir().unwrap();
            acknowledged = Acknowledged::default();
        }
        let path = folder.path().join("folder").join("bench.book");
        if deed == Deed::Migrate {
            std::fs::create_dir(path.parent().unwrap()).unwrap();
            earlier::first(&path, 3, 60);
        }
        let (mut victim, told) = start(TEST, deed, &path);
        // Every fourth is killed at any instant from its birth, the others while they are sure to be at work.
        if deed != Deed::Migrate && kill % 4 != 0 {
            let first = told.recv_timeout(Duration::from_secs(60));
            acknowledged.note(&first.expect("something is acknowledged"));
        }
        thread::sleep(Duration::from_micros(chance.random_range(0..LONGEST)));
        victim.kill().unwrap();
        let ended = victim.wait().unwrap();
        assert!(deed == Deed::Migrate || !ended.success());
        let before = acknowledged.total();
        for line in told {
            if deed != Deed::Migrate {
                acknowledged.note(&line);
            }
        }
        wrote += usize::from(acknowledged.total() > before);
        let found = match deed {
            Deed::Migrate => earlier::inspect(&path, 3, 60),
            Deed::Write | Deed::Upload => inspect(&path, &acknowledged),
        };
        if let Err(wrong) = found {
            panic!("{deed:?}, kill {kill}: {wrong}");
        }
    }
    (wrote, total + acknowledged.total())
}
