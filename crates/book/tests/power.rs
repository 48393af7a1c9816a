//! What was acknowledged is there, at whatever instant power fails; and without syncing it would not be.
//!
//! A kill alone does not show that: what a killed program has written, the machine still carries to the disk. So the calls
//! by which a program reaches its files are written down (by `strace`), and the disk is made again as it may look if power
//! fails between any two of them (`disk/mod.rs`). The same program with syncing off has to fail the same test.
#![cfg(target_os = "linux")]

mod disk;
mod earlier;
mod made_up;
mod victim;

use book::Syncing;
use disk::{Call, Disk, Luck, calls};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;
use std::path::Path;
use victim::{Acknowledged, Deed, inspect, watched};

const TEST: &str = "whatever_was_acknowledged_outlives_a_failure_of_power";

/// Instants that are tried for each deed.
const INSTANTS: usize = 60;

/// Things that are acknowledged while it is watched.
const ENOUGH: usize = 60;

#[test]
fn whatever_was_acknowledged_outlives_a_failure_of_power() {
    victim::work_if_victim();
    for deed in [Deed::Write, Deed::Upload, Deed::Migrate] {
        let Some(tried) = fail_at_instants(deed, Syncing::Each) else {
            return;
        };
        println!("{deed:?}: {tried:?}");
        assert_eq!(tried.wrong, Vec::<String>::new(), "{deed:?}");
        assert!(tried.waiting > INSTANTS / 4, "{deed:?}: {tried:?}");
    }
    for deed in [Deed::Write, Deed::Upload] {
        let Some(tried) = fail_at_instants(deed, Syncing::Never) else {
            return;
        };
        let (lost, instants) = (tried.wrong.len(), tried.instants);
        println!("{deed:?} with syncing off: wrong at {lost} of {instants}");
        assert!(lost > instants / 2, "{deed:?}: syncing makes no difference");
    }
}

/// What came of it.
#[derive(Debug, Default)]
struct Tried {
    instants: usize,
    /// At so many of them something was on its way to the disk.
    waiting: usize,
    wrong: Vec<String>,
}

/// Lets power fail at instants of a deed; nothing where that cannot be tried here.
fn fail_at_instants(deed: Deed, syncing: Syncing) -> Option<Tried> {
    let folder = quick_folder();
    let root = folder.path().join("root");
    std::fs::create_dir(&root).unwrap();
    let path = root.join("folder").join("bench.book");
    if deed == Deed::Migrate {
        std::fs::create_dir(path.parent().unwrap()).unwrap();
        earlier::first(&path, 2, 40);
    }
    let mut disk = Disk::of(&root);
    let trace = match watched(TEST, (deed, syncing), &path, ENOUGH) {
        Ok(trace) => trace,
        Err(why) if std::env::var_os("TRUNDLE_PROVE").is_some() => panic!("{why}"),
        Err(why) => {
            println!(
                "no calls can be written down here ({}): not tried",
                why.trim()
            );
            return None;
        }
    };
    let calls = calls(&trace);
    let mut chance = Pcg64Mcg::seed_from_u64(7);
    let mut instants: Vec<usize> = (0..INSTANTS)
        .map(|_| chance.random_range(0..calls.len()))
        .collect();
    instants.sort_unstable();
    let mut tried = Tried::default();
    let mut acknowledged = Acknowledged::default();
    for (at, call) in calls.iter().enumerate() {
        for _ in instants.iter().filter(|instant| **instant == at) {
            tried.instants += 1;
            tried.waiting += usize::from(disk.waiting());
            for luck in [Luck::None, Luck::Some] {
                let left = quick_folder();
                disk.fail(left.path(), luck, &mut chance);
                let path = left.path().join(path.strip_prefix(&root).unwrap());
                if let Err(wrong) = after(deed, &path, &acknowledged) {
                    tried
                        .wrong
                        .push(format!("before call {at}, {luck:?}: {wrong}"));
                    break;
                }
            }
        }
        disk.take(call);
        if let Call::Say(said) = call
            && let Some((_, kept)) = said.split_once("kept ")
        {
            acknowledged.note(kept.trim_end());
        }
    }
    assert!(acknowledged.any());
    Some(tried)
}

/// A folder in memory where there is one: what is carried to the disk is told by the calls, so no real disk need wait.
fn quick_folder() -> tempfile::TempDir {
    tempfile::tempdir_in("/dev/shm")
        .or_else(|_| tempfile::tempdir())
        .unwrap()
}

fn after(deed: Deed, path: &Path, acknowledged: &Acknowledged) -> Result<(), String> {
    match deed {
        Deed::Migrate => earlier::inspect(path, 2, 40),
        Deed::Write | Deed::Upload => inspect(path, acknowledged),
    }
}
