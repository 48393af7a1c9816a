//! Sheets of the samples, damaged: every sum that a command makes of a sheet is made of each, and comes to an end in bounds.
//!
//! A few hundred in the usual run; `TRUNDLE_SHEETS` says how many, `TRUNDLE_SEED` which others, `TRUNDLE_SLOW` in which folder those are kept that take long.
//! The time is told and not held to, but for what hangs; memory is what the system counts (`/proc/self`, Linux only).

use fleet::{absurd, dice, mutate};
use rand::RngExt;
use report::{Locale, Voice, json};
use std::fmt::Write as _;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::sync::OnceLock;
use std::time::{Duration, Instant};
use tasks::{Ask, CountAsk, OilRoom, OilState, PendulumAsk, PowerAsk, Wrongs};
use timing::Eye;

/// How many sheets, if nothing else is said.
const SHEETS: u32 = 300;

/// No sum may work so long, in a build for tests: what the processor works for it, as other things go on beside.
const HANGS: Duration = Duration::from_secs(60);

/// A sum that takes longer than this is told of.
const SLOW: Duration = Duration::from_secs(1);

/// Bytes that a sum may take beside what was there before.
const MOST_TAKEN: u64 = 200 << 20;

/// A sum: what it is called, and how it is made of a sheet.
type Sum = (&'static str, fn(&[u8]));

const SUMS: [Sum; 11] = [
    ("check", check),
    ("count again", count_again),
    ("train", train),
    ("order", order),
    ("look", look),
    ("log", log),
    ("strike", strike),
    ("count", count),
    ("oil", oil),
    ("power", power),
    ("pendulum", pendulum),
];

#[test]
fn every_sum_of_a_damaged_sheet_comes_to_an_end() {
    let sheets =
        std::env::var("TRUNDLE_SHEETS").map_or(SHEETS, |said| said.parse().expect("how many"));
    let samples = samples();
    let seed = std::env::var("TRUNDLE_SEED");
    let mut dice = dice(seed.map_or(16, |said| said.parse().expect("a number")));
    let mut worst: Vec<(Duration, u64)> = vec![(Duration::ZERO, 0); SUMS.len()];
    let mut read = 0;
    for n in 0..sheets {
        let sample = &samples[dice.random_range(0..samples.len())];
        let slipped = match dice.random_bool(0.5) {
            true => mutate(sample, &mut dice),
            false => sample.clone(),
        };
        let sheet = absurd(&slipped, &mut dice);
        read += u32::from(tasks::check(sheet.as_bytes()).is_ok());
        try_all(n, &sheet, &mut worst);
    }
    tell(sheets, read, &worst);
    assert!(read >= sheets / 10, "{read} of {sheets} were read");
}

/// Sheets that come near what a sum may take: a train that stands in as many ways as may be, and sheets of a mebibyte, each full
/// of one thing.
#[test]
fn every_sum_of_a_sheet_that_is_as_long_as_may_be_comes_to_an_end() {
    let mut worst: Vec<(Duration, u64)> = vec![(Duration::ZERO, 0); SUMS.len()];
    let mut full = full();
    let exercise = samples()
        .into_iter()
        .find(|sample| sample.contains("more teeth than the part has"));
    full.push(
        exercise
            .expect("it")
            .replace("pinion = 8\n", "pinion = 700\n"),
    );
    for (n, sheet) in (0..).zip(&full) {
        assert!(sheet.len() <= tasks::MOST_SHEET, "{}", sheet.len());
        try_all(n, sheet, &mut worst);
    }
    tell(u32::try_from(full.len()).unwrap_or(0), 0, &worst);
}

fn samples() -> Vec<String> {
    let folder = Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements"));
    let mut paths: Vec<_> = (folder.read_dir().expect("the samples"))
        .map(|there| there.expect("one").path())
        .filter(|path| path.extension().is_some_and(|ext| ext == "toml"))
        .collect();
    paths.sort();
    paths
        .iter()
        .map(|path| std::fs::read_to_string(path).expect("a sample"))
        .collect()
}

fn try_all(n: u32, sheet: &str, worst: &mut [(Duration, u64)]) {
    for ((name, sum), worst) in SUMS.iter().zip(worst) {
        let before = least_memory();
        let began = worked();
        let tried = catch_unwind(AssertUnwindSafe(|| sum(sheet.as_bytes())));
        let took = worked().saturating_sub(began);
        let taken = most_memory().saturating_sub(before);
        assert!(tried.is_ok(), "{name} of sheet {n} panics:\n{}", cut(sheet));
        assert!(
            took < HANGS,
            "{name} of sheet {n} takes {took:?}:\n{}",
            cut(sheet)
        );
        assert!(
            taken < MOST_TAKEN,
            "{name} of sheet {n} takes {taken} bytes:\n{}",
            cut(sheet)
        );
        if took > SLOW {
            keep(n, name, took, sheet);
        }
        worst.0 = worst.0.max(took);
        worst.1 = worst.1.max(taken);
    }
}

fn cut(sheet: &str) -> String {
    sheet.chars().take(20_000).collect()
}

fn keep(n: u32, name: &str, took: Duration, sheet: &str) {
    if let Some(folder) = std::env::var_os("TRUNDLE_SLOW") {
        let path = Path::new(&folder).join(format!("{name}-{n}-{}ms.toml", took.as_millis()));
        std::fs::write(&path, sheet).expect("the folder that TRUNDLE_SLOW names");
    }
}

fn tell(sheets: u32, read: u32, worst: &[(Duration, u64)]) {
    let mut told = format!("{sheets} sheets, {read} without a fault;");
    for ((name, _), (took, taken)) in SUMS.iter().zip(worst) {
        let _ = write!(told, " {name} at most {took:.1?} and {} MB;", taken >> 20);
    }
    println!("{told}");
}

/// How long the processor worked for this thread, in which the sums are made (proc_pid_schedstat); by the clock where the system does
/// not say.
fn worked() -> Duration {
    static BEGAN: OnceLock<Instant> = OnceLock::new();
    let stat = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let nanoseconds = stat.split(' ').next().and_then(|ns| ns.parse().ok());
    nanoseconds.map_or_else(
        || BEGAN.get_or_init(Instant::now).elapsed(),
        Duration::from_nanos,
    )
}

/// Bytes in memory now; from here on the most is counted anew. Nothing where the system does not say.
fn least_memory() -> u64 {
    // "5" sets the most back to what there is (proc_pid_clear_refs(5)).
    let _ = std::fs::write("/proc/self/clear_refs", "5");
    status("VmRSS:")
}

/// The most bytes that were in memory since.
fn most_memory() -> u64 {
    status("VmHWM:")
}

fn status(name: &str) -> u64 {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix(name));
    let kilobytes = line.and_then(|line| line.trim().trim_end_matches(" kB").parse::<u64>().ok());
    kilobytes.unwrap_or(0) << 10
}

/// Sheets of a mebibyte.
fn full() -> Vec<String> {
    let sample = std::fs::read_to_string(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/parlour.toml"
    ))
    .expect("a sample");
    let room = |each: &str| (tasks::MOST_SHEET - sample.len() - 64) / each.len().max(1);
    let filled = |each: &dyn Fn(usize) -> String| {
        let mut sheet = sample.clone();
        for n in 0.. {
            let next = each(n);
            if sheet.len() + next.len() > tasks::MOST_SHEET {
                break;
            }
            sheet.push_str(&next);
        }
        sheet
    };
    let within = |what: &str, fill: &dyn Fn(usize) -> String, end: &str| {
        let mut sheet = sample.clone();
        sheet.push_str(what);
        for n in 0.. {
            let next = fill(n);
            if sheet.len() + next.len() + end.len() > tasks::MOST_SHEET {
                break;
            }
            sheet.push_str(&next);
        }
        sheet + end
    };
    vec![
        filled(&|n| format!("[arbor.a{n}]\npinion = 8\nwheel = 64\n")),
        filled(&|n| {
            format!(
                "[arbor.a{n}]\npinion = 8\nwheel = \"?\"\n[[mesh]]\ndriver = \"a{n}.wheel\"\ndriven = \"a{}.pinion\"\n",
                n + 1
            )
        }),
        filled(&|n| {
            format!(
                "[[witness]]\nid = \"w{n}\"\nsays = \"a mark\"\non = \"third\"\nrepeats = 1\nwindow_deg = [-1, 1]\nbest_deg = 0\n"
            )
        }),
        filled(&|_| "[[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\n".to_owned()),
        filled(&|n| format!("[lever.l{n}]\non = \"x\"\n")),
        filled(&|n| format!("[arbor.third.x{n}]\nwheel = 64\n")),
        filled(&|n| format!("# {n} nothing\n")),
        within("\n[arbor.more]\n", &|n| format!("key_{n}_mm = 1.5\n"), ""),
        within("\n[arbor.more]\nsays = \"", &|_| "ä".to_owned(), "\"\n"),
        within("\nmore = ", &|_| "[".to_owned(), "\n"),
        within("\nmore = [", &|n| format!("{n}, "), "]\n"),
        within("\nmore = ", &|_| "{a=".to_owned(), "\n"),
        within("\n[a", &|_| ".a".to_owned(), "]\n"),
        "\"".repeat(tasks::MOST_SHEET),
        "a = 1\n".repeat(room("a = 1\n")),
        "[[x]]\n".repeat(room("[[x]]\n")),
    ]
}

fn voice() -> Voice {
    Voice::Command(Locale::default())
}

fn check(sheet: &[u8]) {
    match tasks::check(sheet) {
        Ok(sheet) => {
            let (first, _) = sheet.movement.arbors().next().expect("an arbor");
            let train = report::json::TrainAnswer::of(&sheet.movement, first);
            assert!(!report::json::line(&train).is_empty());
        }
        Err(faults) => {
            for fault in &faults.told {
                assert!(!report::en::fault(fault).line.is_empty());
            }
        }
    }
    drop((
        tasks::odd(sheet),
        tasks::odd_open(sheet),
        tasks::check_open(sheet).ok(),
    ));
}

fn count_again(sheet: &[u8]) {
    if let Ok(sheet) = tasks::check(sheet) {
        drop(tasks::count_again(&sheet.movement));
    }
}

/// What a sum is told as has no number without end in it, and nothing that has no words.
fn said(text: &str) {
    let words = || text.split(|c: char| !c.is_alphanumeric());
    let endless = words().find(|word| matches!(*word, "NaN" | "inf"));
    assert_eq!(endless, None, "{text}");
    for raw in ["refused-", "trouble-", "{ $"] {
        assert!(!text.contains(raw), "{raw}: {text}");
    }
}

fn train(sheet: &[u8]) {
    if let Ok((movement, per)) = tasks::train(sheet, None) {
        said(&report::en::train_text(&movement, per));
    }
}

fn order(sheet: &[u8]) {
    if let Ok((movement, order)) = tasks::order(sheet, &[]) {
        said(&report::en::order_text(&movement, &order));
        said(&json::text(&json::OrderAnswer::of(&movement, &order)));
    }
}

/// Every witness seen somewhere, on a sheet that can be read.
fn seen(sheet: &[u8]) -> Option<(Vec<tasks::Seen>, tasks::Sheet)> {
    let sheet = tasks::check(sheet).ok()?;
    let movement = &sheet.movement;
    let spots = ["-12~1", "3", "31~0.2", "-77", "0.4"];
    let all = movement.witnesses().zip(spots.iter().cycle());
    let written: Vec<String> = all
        .map(|((_, witness), at)| format!("{}={at}", witness.id))
        .collect();
    let seen = tasks::written::readings(movement, movement.seen_from(), &written).ok()?;
    Some((seen, sheet))
}

fn look(sheet: &[u8]) {
    if let Some((seen, sheet)) = seen(sheet)
        && let Ok(remesh) = tasks::remesh(sheet, &seen, None)
    {
        let movement = &remesh.sheet.movement;
        said(&json::text(&json::LookAnswer::of(
            movement,
            &remesh.answer,
            remesh.from,
        )));
    }
}

fn log(sheet: &[u8]) {
    let Some((readings, _)) = seen(sheet) else {
        return;
    };
    let saw = Ask::Saw {
        readings,
        tension: entries::LoggedTension::Tensioned,
    };
    let Ok(noted) = tasks::note(sheet, None, &[saw], None, Eye::default()) else {
        return;
    };
    said(&report::en::log_text(&noted));
    let log = noted.log.text();
    for ask in [
        Ask::Done(tasks::Which::All),
        Ask::OtherWay(tasks::Which::All),
    ] {
        let noted = tasks::note(sheet, Some(log.as_bytes()), &[ask], None, Eye::default());
        if let Ok(noted) = noted {
            said(&report::en::log_text(&noted));
        }
    }
}

fn strike(sheet: &[u8]) {
    for watched in [false, true] {
        if let Ok(proved) = tasks::strike(sheet, &Wrongs::default(), watched) {
            let movement = &proved.sheet.movement;
            said(&report::en::strike::strike_text(
                movement,
                &proved.put_in,
                &proved.struck,
            ));
        }
    }
}

fn count(sheet: &[u8]) {
    let ask = CountAsk {
        beats: Some("7200"),
        runs: Some("8days~0.5"),
        must: &[],
        escape: None,
        teeth: None,
        patience: 1,
    };
    if let Ok(counted) = tasks::count(sheet, &ask) {
        let sets = report::count::Sets::of(&counted);
        said(&report::count::drawing(&Locale::default(), &counted).svg());
        said(&report::count::count_text(&sets, true, &voice()));
    }
}

fn oil(sheet: &[u8]) {
    if let Ok(oiled) = tasks::oil(sheet, OilState::default(), OilRoom::default(), &[]) {
        said(&report::oil::drawing(&Locale::default(), &oiled).svg());
        said(&report::oil::poster(&Locale::default(), &oiled).svg());
        said(&report::oil::oil_text(&Locale::default(), &oiled));
    }
}

fn power(sheet: &[u8]) {
    let ask = PowerAsk {
        runs: Some("8days".to_owned()),
        ..PowerAsk::default()
    };
    for ask in [PowerAsk::default(), ask] {
        if let Ok(powered) = tasks::power(sheet, &ask) {
            let drawing = report::power::drawing(&Locale::default(), &powered);
            said(&drawing.map_or_else(String::new, |drawing| drawing.svg()));
            said(&report::power::power_text(&Locale::default(), &powered));
        }
    }
}

fn pendulum(sheet: &[u8]) {
    if let Ok(told) = tasks::pendulum(Some(sheet), &PendulumAsk::default()) {
        said(&report::pendulum::drawing(&Locale::default(), &told).svg());
        said(&report::pendulum::pendulum_text(&voice(), &told));
    }
}
