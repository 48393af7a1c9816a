//! No sentence tells to close up but those of an answer that the rule of closing up has found done. "Finger-tight, and prove"
//! is another thing: it is said where nothing would tell more.

use movement::{Movement, Plate};
use quantity::Chance;
use report::{Lang, Locale, Usage, en, page};
use std::path::{Path, PathBuf};
use timing::{Act, Advice, Bench, Lacks, Priors};

/// How sentences tell to close up, in either language, and what makes another thing of it.
const TELLS: [&str; 7] = [
    "close up",
    "close it up",
    "close the plates",
    "close the movement",
    "leave the train as it is",
    "werk schließen",
    "schließen, und",
];
const FINGER_TIGHT: [&str; 2] = ["finger-tight", "fingerfest"];

fn tells(text: &str) -> bool {
    let text = text.to_lowercase();
    TELLS.iter().any(|tells| text.contains(tells))
        && !FINGER_TIGHT.iter().any(|not| text.contains(not))
}

/// Messages of a catalogue that tell to close up, by their keys.
fn keys_that_tell(catalogue: &str) -> Vec<&str> {
    let mut key = "";
    let mut found = Vec::new();
    for line in catalogue.lines().filter(|line| !line.starts_with('#')) {
        if let Some((name, _)) = line.split_once(" =")
            && !line.starts_with(' ')
        {
            key = name;
        }
        if tells(line) && !found.contains(&key) {
            found.push(key);
        }
    }
    found
}

#[test]
fn two_messages_tell_to_close_up() {
    for catalogue in [
        include_str!("../words/en.ftl"),
        include_str!("../words/de.ftl"),
    ] {
        assert_eq!(keys_that_tell(catalogue), ["answer-done", "prove-on"]);
    }
    assert_eq!(
        keys_that_tell("a-b =\n   .. Close up now.\nc = closes"),
        ["a-b"]
    );
}

fn sources(folder: &Path, into: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            sources(&path, into);
        } else if path.extension().is_some_and(|ext| ext == "rs") {
            into.push(path);
        }
    }
}

/// Lines of the sources that tell to close up, beside the condition that they stand under.
#[test]
fn two_sentences_of_the_command_line_do_and_one_button() {
    let crates = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    let mut found = Vec::new();
    for name in ["report", "cli", "web", "paper", "tasks", "way", "draw"] {
        let mut paths = Vec::new();
        sources(&crates.join(name).join("src"), &mut paths);
        for path in paths {
            let text = std::fs::read_to_string(&path).expect("a source");
            let lines: Vec<&str> = text.lines().collect();
            for (i, line) in lines.iter().enumerate() {
                let comment = line.trim_start().starts_with("//");
                let by_key = line.contains("\"prove-on\"") || line.contains("\"answer-done\"");
                if !comment && (by_key || (line.contains('"') && tells(line))) {
                    let above = i.saturating_sub(2);
                    found.push(lines[above..=i].join("\n"));
                }
            }
        }
    }
    assert_eq!(found.len(), 4, "{found:#?}");
    for said in &found {
        let under = said.contains("Act::Done") || said.contains("lacks.nothing()");
        assert!(under, "{said}");
    }
}

fn schoolroom() -> Movement {
    let path = format!(
        "{}/../../movements/schoolroom.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let text = std::fs::read(path).expect("sample sheet");
    sheet::read(&text).expect("good sheet").movement
}

#[test]
fn of_all_acts_only_done_is_told_so() {
    let movement = schoolroom();
    let bench = Bench::of(&movement, Priors::default()).expect("few places");
    let header = entries::LogHeader {
        sheet: "x".to_owned(),
        hash: "0".to_owned(),
    };
    let recalled = bench
        .recall(&entries::Log::start(header))
        .expect("a belief");
    let star = movement.find_witness("star").expect("a witness");
    let fourth = movement.find_arbor("fourth").expect("an arbor");
    let shift = timing::Shift {
        mesh: movement
            .find_mesh("second.wheel>third.pinion")
            .expect("a mesh"),
        teeth: 2,
        way: timing::ShiftWay::Ahead,
    };
    let acts = [
        Act::Done,
        Act::Look(vec![star]),
        Act::Shift(vec![shift]),
        Act::PutIn(vec![fourth]),
        Act::Part(vec![star]),
        Act::Prove,
        Act::NoMesh,
    ];
    for act in acts {
        let cases = [
            (false, vec![], vec![]),
            (false, vec![star], vec![]),
            (false, vec![], vec![star]),
            (true, vec![], vec![]),
        ];
        for (blind, usual, inferred) in cases {
            let advice = Advice {
                act: act.clone(),
                lacks: Lacks {
                    blind,
                    usual,
                    inferred,
                    ..Lacks::default()
                },
                in_window: Chance::of(0.97),
                after: Chance::of(0.97),
                shift_now: vec![shift],
                labour: 1.0,
            };
            let from = Plate::Back;
            let mut said = vec![en::advice(&movement, &recalled, &advice, from)];
            for lang in [Lang::English, Lang::German] {
                let locale = Locale::of(lang, Usage::British);
                said.push(page::answer(&locale, &movement, &recalled, &advice, from).text());
            }
            for said in said {
                assert_eq!(tells(&said), act == Act::Done, "{act:?}: {said}");
            }
        }
    }
}
