//! What was acknowledged is there, whenever the program was killed: while it wrote, while it took pictures in, while it
//! brought an older book up to date. What a failure of the machine itself leaves is tried in `power.rs`.

mod earlier;
mod made_up;
mod victim;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};
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
/// The longest that it is left alive once it works is a millisecond doubled so often, 45 ms: some tens of entries. It is as
/// often between one and two milliseconds as between twenty and forty, so how fast the machine is matters little.
const LONGEST_DOUBLINGS: f64 = 5.5;

#[test]
fn whatever_was_acknowledged_is_there_after_five_hundred_kills() {
    victim::work_if_victim();
    let (wrote, total) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let ready = AtomicUsize::new(0);
    thread::scope(|scope| {
        for hand in 0..HANDS {
            let (wrote, total, ready) = (&wrote, &total, &ready);
            scope.spawn(move || {
                let mut chance = Pcg64Mcg::seed_from_u64(u64::try_from(hand).unwrap());
                for (deed, kills) in KILLS {
                    let mine = (0..kills).filter(|kill| kill % HANDS == hand).count();
                    let killed = kill(deed, mine, &mut chance);
                    wrote.fetch_add(killed.at_work, Ordering::Relaxed);
                    total.fetch_add(killed.acknowledged, Ordering::Relaxed);
                    ready.fetch_add(killed.ready, Ordering::Relaxed);
                }
            });
        }
    });
    let (wrote, total, ready) = (wrote.into_inner(), total.into_inner(), ready.into_inner());
    println!(
        "{total} things acknowledged, {wrote} times killed while more and more was, {ready} books brought up to date before the kill"
    );
    let working: usize = KILLS[..2].iter().map(|(_, kills)| kills).sum();
    assert!(
        wrote > working / 8,
        "only {wrote} were killed between one thing acknowledged and the next"
    );
    let migrations = KILLS[2].1;
    assert!(
        (migrations / 10..migrations * 9 / 10).contains(&ready),
        "{ready} of {migrations} were brought up to date before the kill: it comes too late or too early"
    );
}

/// What came of some kills.
#[derive(Debug, Default)]
struct Killed {
    /// So many came after something was acknowledged that was begun while it was already waited for.
    at_work: usize,
    /// So many books were brought up to date before the kill.
    ready: usize,
    acknowledged: usize,
}

fn doubled(often: f64) -> Duration {
    Duration::from_secs_f64(often.exp2() / 1000.0)
}

/// How long an older book takes to be brought up to date here and now: the second longest of four.
fn whole_migration() -> Duration {
    let mut taken: Vec<Duration> = (0..4)
        .map(|_| {
            let folder = tempfile::tempdir().unwrap();
            let path = folder.path().join("bench.book");
            earlier::first(&path, 3, 60);
            let (mut victim, told) = start(TEST, Deed::Migrate, &path);
            told.recv().expect("it begins");
            let began = Instant::now();
            told.recv().expect("it is done");
            let taken = began.elapsed();
            victim.wait().unwrap();
            taken
        })
        .collect();
    taken.sort_unstable();
    taken[2]
}

/// Kills so often over one deed.
fn kill(deed: Deed, kills: usize, chance: &mut Pcg64Mcg) -> Killed {
    let mut killed = Killed::default();
    let migration = match deed {
        Deed::Migrate => whole_migration(),
        Deed::Write | Deed::Upload => Duration::ZERO,
    };
    let mut folder = tempfile::tempdir().unwrap();
    let mut acknowledged = Acknowledged::default();
    for kill in 0..kills {
        if kill % OVER_ONE == 0 || deed == Deed::Migrate {
            killed.acknowledged += acknowledged.total();
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
        if deed == Deed::Migrate || kill % 4 != 0 {
            let first = told.recv_timeout(Duration::from_secs(60));
            acknowledged.note(&first.expect("something is said"));
        }
        let patience = if deed == Deed::Migrate {
            migration.mul_f64(chance.random_range(0.0..1.6))
        } else {
            doubled(chance.random_range(-3.0..LONGEST_DOUBLINGS))
        };
        thread::sleep(patience);
        victim.kill().unwrap();
        let ended = victim.wait().unwrap();
        assert!(deed == Deed::Migrate || !ended.success());
        let before = acknowledged.total();
        for line in told {
            match deed {
                Deed::Migrate => killed.ready += 1,
                Deed::Write | Deed::Upload => acknowledged.note(&line),
            }
        }
        killed.at_work += usize::from(acknowledged.total() > before);
        let found = match deed {
            Deed::Migrate => earlier::inspect(&path, 3, 60),
            Deed::Write | Deed::Upload => inspect(&path, &acknowledged),
        };
        if let Err(wrong) = found {
            panic!("{deed:?}, kill {kill}: {wrong}");
        }
    }
    killed.acknowledged += acknowledged.total();
    killed
}
