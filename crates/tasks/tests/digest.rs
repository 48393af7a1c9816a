//! The digest that ties a log to its sheet stays what it is, and logs that began with the first one still open.

use entries::{EntryKind, Log, Work};
use movement::Movement;
use tasks::{as_counted, counted_facts, digest, note};
use timing::Eye;

/// The samples, each with its digest and with the one that logs began with at first. The latter were written by the program
/// of that time; a sample that is counted otherwise since has no log from then, and `""`. Both were also made by a Python
/// program from the sheets alone.
const SAMPLES: [(&str, &str, &str); 16] = [
    (
        "attic",
        "862046c86fdceef69cc9d1b800b54903",
        "f188a84f620bb4ac74fd4d71884f834c",
    ),
    (
        "cutter",
        "c8b33a81e69114e680255500b1c02ee3",
        "9290624e3ad060107f20855a65cb4a9e",
    ),
    ("four_nuts", "6cd8720422d7bdc9098880b626cf7373", ""),
    (
        "gallery",
        "2e4b953175642908c42d29408333b983",
        "b5ea4f0865ee0cee5e79e3555d2755a9",
    ),
    (
        "halfpast",
        "c4c2130735e44fd081909f1169652c1b",
        "f1105a4f121a26ab579291626ca63f70",
    ),
    (
        "lattice",
        "a810a5562117aa549ce14d661498e2eb",
        "6f6cbe3dd5041e6e28fff6ad40fc52f8",
    ),
    ("loft", "d4073b4f316bf0b9c9a78b3d5a195051", ""),
    (
        "mantel",
        "d94fc8a18c015c1b475fa59619d4c592",
        "7459209d9763a356cb64fc376a9dd3ce",
    ),
    ("parlour", "f59e9a4afe4d5919e4808567c88a7a0d", ""),
    ("pin_at_the_top", "a89f0ebde21bf45841f100af48d1cb4b", ""),
    (
        "porter",
        "cf34eab7496c36de47675c6a6f801bd9",
        "289c59b4bc00c22bb186762332a2e0d9",
    ),
    ("quarters", "8f44ba42e3a415d0a8e5f40d9984e85d", ""),
    (
        "quay",
        "9f47b3e9fa259157dd38a415802cc77c",
        "cb61443aa26d58beebeefd20477c492c",
    ),
    (
        "schoolroom",
        "27c523e29bc48867bd8de98558e93346",
        "b3c6aa763ea49386d057cd74d832959f",
    ),
    (
        "vestry",
        "1cc647063c8a173b582a1282256a7487",
        "dd840ef408e12e7cbf05161c064c2582",
    ),
    (
        "wharf",
        "d0c6d5ca6a5624f5d2aaab4ddfc28eaf",
        "2fd668b5698f4090d40e6e51dcf86321",
    ),
];

/// Whatever goes into a digest, written in each way it can be.
const EVERY_FACT: &str = r#"
sheet = 1
name = "Wren Street \"number two\" – ½ past"
seen_from = "back"

[arbor.great]
runs = "clockwise"
ring = 96

[arbor.second]
pinion = 8
wheel = 64

[arbor.third]
pinion = 8

[[mesh]]
driver = "great.ring"
driven = "second.pinion"
internal = true
lash_teeth = 0.25

[[mesh]]
driver = "second.wheel"
driven = "third.pinion"
reached = "outside"

[strike]
counted_by = "count wheel"
blows = "hours"
read_at = "second"
blows_per_turn = 2

[[moment]]
id = "lock"
arbor = "third"
says = "locked"

[[witness]]
id = "slot"
on = "great"
says = "the slot"
repeats = 12
window_deg = [-1.25, 1.25]
best_deg = 0.1

[[witness]]
id = "pin"
on = "third"
says = "the pin"
at = "lock"
repeats = 1
window_deg = [-60, 30]
best_deg = -7.5
"#;

/// The digest of the above that its first log began with.
const EVERY_FACT_AT_FIRST: &str = "0191e615aa4b061fe0dcc38ecbf3f8c5";

fn sample(name: &str) -> String {
    let path = format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("a sample")
}

fn counted(sheet: &str) -> Movement {
    as_counted(sheet.as_bytes()).expect("it checks")
}

fn log(digest: &str, further: &str) -> Log {
    let text = format!("{{\"trundle_log\":1,\"sheet\":\"x\",\"hash\":\"{digest}\"}}\n{further}");
    Log::read(text.as_bytes()).expect("a log").0
}

#[test]
fn every_sample_has_the_digest_it_always_had() {
    let mut files: Vec<String> =
        std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements"))
            .expect("the samples")
            .map(|file| file.expect("a file").path())
            .map(|path| path.file_stem().expect("a name").display().to_string())
            .collect();
    files.sort();
    assert_eq!(files, SAMPLES.map(|(name, ..)| name.to_owned()));
    for (name, today, first) in SAMPLES {
        let movement = counted(&sample(name));
        assert_eq!(
            digest(&movement),
            today,
            "{name}:\n{}",
            counted_facts(&movement)
        );
        for known in [today, first].into_iter().filter(|known| !known.is_empty()) {
            assert!(tasks::belongs(&log(known, ""), &movement), "{name}");
        }
        for (other, today, first) in SAMPLES {
            for strange in [today, first] {
                let mine = tasks::belongs(&log(strange, ""), &movement);
                assert!(!mine || other == name, "{name} {other}");
            }
        }
    }
}

#[test]
fn the_text_of_a_digest_is_as_it_is_documented() {
    let text = "\
arbor great runs counterclockwise
arbor second runs counterclockwise
arbor third runs clockwise
mesh great.ring:second.pinion internal plates lash 1/4
mesh second.wheel:third.pinion external outside lash unknown
moment drop second
moment lock third
part great.ring 96
part second.pinion 8
part second.wheel 64
part third.pinion 8
witness pin third 1 -60 30 -15/2 lock
witness slot great 12 -5/4 5/4 1/10 drop
name Wren Street \"number two\" – ½ past";
    let movement = counted(EVERY_FACT);
    assert_eq!(counted_facts(&movement), text);
    // The first 32 figures that `sha256sum` gives for that text.
    assert_eq!(digest(&movement), "453451a4c50b12b1889e9c9c4b57ec3d");
}

#[test]
fn what_a_log_does_not_rest_on_changes_no_digest_and_what_it_rests_on_does() {
    let before = digest(&counted(EVERY_FACT));
    let changed = |from: &str, to: &str| {
        assert!(EVERY_FACT.contains(from), "{from}");
        digest(&counted(&EVERY_FACT.replacen(from, to, 1)))
    };
    // The third arbor before the second, its mesh before the first, the pin before the slot; words and measurements.
    let blocks: Vec<&str> = EVERY_FACT.split("\n\n").collect();
    let order = [0, 1, 3, 2, 5, 4, 6, 7, 9, 8].map(|n: usize| blocks[n].trim_end());
    assert_eq!(digest(&counted(&order.join("\n\n"))), before);
    assert_eq!(changed("the slot", "the count wheel's slot"), before);
    assert_eq!(changed("ring = 96", "ring = 96\nturn_s = 480"), before);
    for (from, to) in [
        ("ring = 96", "ring = 95"),
        ("runs = \"clockwise\"", "runs = \"counterclockwise\""),
        ("internal = true\n", ""),
        ("lash_teeth = 0.25", "lash_teeth = 0.2"),
        ("reached = \"outside\"\n", ""),
        ("read_at = \"second\"", "read_at = \"third\""),
        ("arbor = \"third\"", "arbor = \"second\""),
        ("repeats = 12", "repeats = 6"),
        ("-1.25, ", "-1.2, "),
        ("1.25]", "1.2]"),
        ("best_deg = 0.1", "best_deg = 0"),
        ("at = \"lock\"\n", ""),
        ("½ past", "half past"),
    ] {
        assert_ne!(changed(from, to), before, "{from} to {to}");
    }
}

#[test]
fn a_log_that_began_with_the_first_digest_goes_on() {
    let look = "{\"n\":1,\"kind\":\"struck\",\"hour\":3}\n";
    let first = log(EVERY_FACT_AT_FIRST, look);
    let noted = note(
        EVERY_FACT.as_bytes(),
        Some(first.text().as_bytes()),
        &[],
        None,
        Eye::default(),
    );
    assert_eq!(noted.expect("it opens").log.text(), first.text());
    // A sheet that was put in later, with its digest of that time.
    let mut later = log("5f0c", "");
    let put_in = EntryKind::Work(Work::Sheet {
        text: EVERY_FACT.to_owned(),
        hash: EVERY_FACT_AT_FIRST.to_owned(),
    });
    later.append(&put_in, None).expect("entered");
    assert!(
        note(
            EVERY_FACT.as_bytes(),
            Some(later.text().as_bytes()),
            &[],
            None,
            Eye::default(),
        )
        .is_ok()
    );
    let other = EVERY_FACT.replacen("ring = 96", "ring = 95", 1);
    for log in [first, later] {
        let refused = note(
            other.as_bytes(),
            Some(log.text().as_bytes()),
            &[],
            None,
            Eye::default(),
        );
        let Err(tasks::Refusal::Question(why)) = refused else {
            panic!("another sheet");
        };
        assert!(matches!(why, tasks::QuestionFault::OtherSheet { .. }));
    }
}
