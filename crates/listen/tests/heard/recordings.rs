//! The real recordings, marked by hand. Tuned on those that `outside/recordings.toml` names, reported on the rest; and on the same files, in
//! the same run, two general-purpose onset detectors.

use crate::outside::{ask, recordings, root};
use listen::{Detector, Heard, Recorder, SoundEnd, decode, pace};
use serde_json::{Value, json};
use std::ops::ControlFlow;
use std::path::Path;

/// Onsets nearer than this are the same.
const SAME_S: f64 = 0.050;

fn hear(path: &Path) -> Heard {
    let mut ear = None;
    let file = std::fs::File::open(path).expect("a recording");
    let ended = decode(file, |sound, rate| {
        ear.get_or_insert_with(|| Detector::new(rate)).hear(sound);
        ControlFlow::Continue(())
    });
    assert_eq!(ended, Ok(SoundEnd::Whole));
    ear.expect("sound").finish()
}

/// How many of two sorted lists match one to one within [`SAME_S`], the most there can be.
fn matched(truth: &[f64], heard: &[f64]) -> usize {
    let (mut i, mut j, mut n) = (0, 0, 0);
    while i < truth.len() && j < heard.len() {
        if (truth[i] - heard[j]).abs() <= SAME_S {
            (i, j, n) = (i + 1, j + 1, n + 1);
        } else if truth[i] < heard[j] {
            i += 1;
        } else {
            j += 1;
        }
    }
    n
}

#[derive(Default)]
struct Tally {
    matched: usize,
    truth: usize,
    heard: usize,
    exact: usize,
    files: usize,
}

impl Tally {
    fn add(&mut self, truth: &[f64], heard: &[f64]) {
        self.matched += matched(truth, heard);
        self.truth += truth.len();
        self.heard += heard.len();
        self.exact += usize::from(truth.len() == heard.len());
        self.files += 1;
    }

    fn f(&self) -> f64 {
        2.0 * self.matched as f64 / (self.truth + self.heard).max(1) as f64
    }

    fn told(&self, who: &str) {
        println!(
            "{who:22} F {:.3}, count exact in {} of {}",
            self.f(),
            self.exact,
            self.files
        );
    }
}

fn numbers(value: &Value) -> Vec<f64> {
    value
        .as_array()
        .expect("a list")
        .iter()
        .map(|x| x.as_f64().expect("a number"))
        .collect()
}

/// One standard deviation of a full period from so many beats with onsets good to 5 ms: the slope of a straight line.
fn from_onsets_of_5_ms(beats: usize) -> f64 {
    let n = beats as f64;
    2.0 * 0.005 / (n * (n * n - 1.0) / 12.0).sqrt()
}

#[test]
fn every_recording_is_counted_and_timed_better_than_any_general_detector() {
    let Some(folder) = recordings("the real recordings") else {
        return;
    };
    let truth: Value =
        serde_json::from_str(&std::fs::read_to_string(folder.join("truth.json")).expect("truth"))
            .expect("JSON");
    let split: toml::Table = (std::fs::read_to_string(root().join("outside/recordings.toml"))
        .expect("the split"))
    .parse()
    .expect("TOML");
    let files = |part: &str| -> Vec<String> {
        let list = split[part].as_array().expect("a list").iter();
        list.map(|name| name.as_str().expect("a name").to_owned())
            .collect()
    };
    let paths: Vec<String> = (files("tuned_on").iter().chain(&files("reported_on")))
        .map(|name| folder.join(name).display().to_string())
        .collect();
    let others = ask("onsets.py", &json!(paths));
    for part in ["tuned_on", "reported_on"] {
        let mut ours = Tally::default();
        let mut theirs: Vec<(String, Tally)> = Vec::new();
        for name in files(part) {
            let said = &truth[&name];
            let onsets = numbers(&said["onsets_s"]);
            let heard = hear(&folder.join(&name));
            let times: Vec<f64> = match said["kind"].as_str() {
                Some("blows") => heard
                    .strikes
                    .iter()
                    .flat_map(|s| s.blow_times_s.clone())
                    .collect(),
                _ => {
                    assert!(heard.strikes.is_empty(), "{name}: nothing is struck");
                    heard.beats.iter().map(|b| b.at_s).collect()
                }
            };
            assert_eq!(times.len(), onsets.len(), "{name}: the exact count");
            ours.add(&onsets, &times);
            period(&name, said, &heard);
            for (who, answers) in others
                .iter()
                .flat_map(|o| o.as_object().expect("an object"))
            {
                let path = folder.join(&name).display().to_string();
                let at = theirs
                    .iter()
                    .position(|(w, _)| w == who)
                    .unwrap_or_else(|| {
                        theirs.push((who.clone(), Tally::default()));
                        theirs.len() - 1
                    });
                theirs[at].1.add(&onsets, &numbers(&answers[&path]));
            }
        }
        println!("{part}");
        ours.told("listen");
        assert!(ours.f() >= 0.98, "{part}: F {}", ours.f());
        for (who, tally) in &theirs {
            tally.told(who);
            assert!(
                ours.f() > tally.f() && ours.exact > tally.exact,
                "{who} is better"
            );
        }
    }
}

/// The full period, where the truth has one, or that of the ticking after the blows.
fn period(name: &str, said: &Value, heard: &Heard) {
    let keys = [
        ("full_period_s", "full_period_spread_s"),
        ("then_ticking_full_period_s", "then_ticking_spread_s"),
    ];
    let Some((right, spread)) = keys
        .iter()
        .find_map(|(a, b)| Some((said[a].as_f64()?, said[b].as_f64()?)))
    else {
        panic!("{name}: no period");
    };
    let pace = pace(
        &heard.beats,
        Recorder {
            fast_ppm: 0.0,
            spread_ppm: 0.0,
        },
    )
    .unwrap_or_else(|| panic!("{name}: no pace"));
    let own = pace.full_period_spread_s;
    let off = pace.full_period_s - right;
    println!(
        "  {name}: {:.5} s, own {own:.5}; marked {right} ± {spread}; off {off:+.5}",
        pace.full_period_s
    );
    assert!(
        off.abs() <= 3.0 * right.mul_add(0.0, spread.hypot(own)),
        "{name}: period {}",
        pace.full_period_s
    );
    assert!(
        own <= 2.0 * from_onsets_of_5_ms(pace.beats),
        "{name}: own spread {own}"
    );
    if let Some(difference) = said["tick_tock_difference_ms"].as_f64() {
        let stated = said["tick_tock_spread_ms"].as_f64().expect("its spread");
        let ms = 1e3 * pace.out_of_beat_s;
        // The mark is the first edge of a cluster, ours the whole of it: five milliseconds, as one onset is marked, are allowed.
        assert!(
            (ms - difference).abs() <= 3.0 * stated.hypot(5.0),
            "{name}: out of beat {ms}, marked {difference}"
        );
    }
}
