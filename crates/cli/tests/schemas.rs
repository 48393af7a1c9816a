//! Every object that a command prints, of every sheet that there is, held against its published schema by a validator in another
//! language (tests/outside/schemas.py).

use crowd::{FOURTEEN_MARKS, SEEN};
use serde_json::{Value, json};
use std::path::PathBuf;

mod crowd;
#[path = "../../fleet/tests/outside/mod.rs"]
mod library;
mod made;

use made::{ring, ticking, wav};

/// Keys that nothing here has anything but null for. What a recording would have to be long for is held against its schema in
/// `crates/report/tests/schemas.rs`; a new sheet is taken into a log on the bench alone; and no strike here has a tip on a rim at the
/// drops before the last.
const UNSEEN: [&str; 16] = [
    "listen: Beats/drift_s_per_day_per_day",
    "listen: Chime/at_s",
    "listen: Chime/note_times_s",
    "listen: Chime/notes_hz",
    "listen: Chime/order",
    "listen: ComesRound/arbors",
    "listen: ComesRound/by_chance",
    "listen: ComesRound/size_ms",
    "listen: ComesRound/turn_s",
    "listen: Drift/interval",
    "listen: Drift/value",
    "listen: Due/bells",
    "listen: Strike/warning_s",
    "remesh: LoggedAnswer/changed",
    "remesh: Untried/turns",
    "strike: Lock/rim",
];

const MOVEMENTS: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../movements");
const MANTEL: &str = "mantel";
const SCHOOLROOM: &str = "schoolroom";

/// What was asked of the commands, and what they printed, as questions to the validator.
#[derive(Default)]
struct Printed {
    questions: Vec<Value>,
}

impl Printed {
    /// Asks a command, with `--json`. What it refuses is no answer; that is for whoever asks to count.
    fn ask(&mut self, command: &str, args: &[&str]) -> bool {
        self.ask_of(command, args, "")
    }

    /// The same of a sheet on standard input.
    fn ask_of(&mut self, command: &str, args: &[&str], text: &str) -> bool {
        let output = assert_cmd::Command::cargo_bin("trundle")
            .expect("built")
            .arg(command)
            .args(args)
            .arg("--json")
            .write_stdin(text)
            .output()
            .expect("runs");
        let out = String::from_utf8(output.stdout).expect("UTF-8");
        if out.is_empty() {
            return false;
        }
        let object: Value = serde_json::from_str(&out).expect("one object and nothing else");
        assert_eq!(object["trundle"], env!("CARGO_PKG_VERSION"), "{command}");
        self.questions
            .push(json!({ "command": command, "object": object }));
        true
    }

    /// All that a sheet answers by itself.
    fn sheet(&mut self, path: &str) {
        self.ask("check", &[path]);
        let text = std::fs::read(path).expect("a sheet");
        self.ask("count", &[path]);
        let Ok(sheet) = tasks::check(&text) else {
            return;
        };
        for command in ["train", "order", "oil", "power", "pendulum", "strike"] {
            self.ask(command, &[path]);
        }
        let witnesses: Vec<(String, f64)> = (sheet.movement.witnesses())
            .map(|(_, witness)| (witness.id.clone(), witness.best.to_f64()))
            .collect();
        for off in [0.0, 1.5, 60.0] {
            let saw: Vec<String> = (witnesses.iter())
                .map(|(id, best)| format!("--saw={id}={:.2}", best + off))
                .collect();
            let saw: Vec<&str> = saw.iter().map(String::as_str).collect();
            self.ask("remesh", &[&[path], &saw[..]].concat());
            self.ask("remesh", &[&[path], &saw[..saw.len().min(1)]].concat());
            let first = &saw[..saw.len().min(1)];
            self.ask("remesh", &[&[path, "--rest"], first].concat());
        }
    }

    /// A log from its beginning to its end.
    fn log(&mut self, sheet: &str, steps: &[&[&str]]) {
        let folder = tempfile::tempdir().expect("a folder");
        let log = folder.path().join("timing.jsonl");
        let log = log.to_str().expect("a path");
        for step in steps {
            let args = [&[sheet, "--log", log], *step].concat();
            assert!(self.ask("remesh", &args), "{step:?}");
        }
    }
}

/// Every sheet of the house.
fn sheets() -> Vec<PathBuf> {
    let root = library::root();
    let folders = [
        "movements",
        "outside/sheets",
        "xtask/fleets",
        "crates/fleet/benches",
    ];
    let mut sheets: Vec<PathBuf> = (folders.iter())
        .flat_map(|folder| std::fs::read_dir(root.join(folder)).expect("a folder"))
        .map(|file| file.expect("a file").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "toml"))
        .collect();
    sheets.sort();
    sheets
}

fn sample(name: &str) -> String {
    format!("{MOVEMENTS}/{name}.toml")
}

/// A sample with something on it otherwise.
fn spoiled(name: &str, changes: &[(&str, &str)]) -> String {
    let text = std::fs::read_to_string(sample(name)).expect("the sample");
    (changes.iter()).fold(text, |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replacen(from, to, 1)
    })
}

#[test]
fn what_every_command_prints_is_as_its_schema_says() {
    let Some(python) = library::python("what the commands print against their schemas") else {
        return;
    };
    let mut printed = Printed::default();
    let sheets = sheets();
    assert!(sheets.len() > 30, "{} sheets", sheets.len());
    for sheet in &sheets {
        printed.sheet(sheet.to_str().expect("a path"));
    }
    assumptions_and_sheets(&mut printed);
    strikes(&mut printed);
    crowded(&mut printed);
    logs(&mut printed);
    held(&mut printed);
    windows_and_stood(&mut printed);
    sums(&mut printed);
    sounds(&mut printed);
    let folder = library::root().join("docs/schemas");
    let commands: Vec<String> = (report::json::schemas().iter())
        .map(|(command, _)| (*command).to_owned())
        .collect();
    let asked = printed.questions;
    let unseen = (commands.iter()).map(|command| json!({ "command": command, "unseen": true }));
    let wrong: Vec<Value> = commands.iter().flat_map(|c| planted(c, &asked)).collect();
    let questions: Vec<Value> = (asked.iter().cloned()).chain(unseen).chain(wrong).collect();
    let script = ["schemas.py", folder.to_str().expect("a path")];
    let answers = library::ask(&python, &script, &questions);
    let (right, more) = answers.split_at(asked.len());
    for (question, answer) in asked.iter().zip(right) {
        let (command, faults) = (&question["command"], &answer["faults"]);
        assert_eq!(*faults, json!([]), "{command}: {}", question["object"]);
    }
    let (unseen, wrong) = more.split_at(commands.len());
    let mut told = Vec::new();
    for (command, answer) in commands.iter().zip(unseen) {
        let keys = answer["unseen"].as_array().expect("a list").iter();
        told.extend(keys.map(|key| format!("{command}: {}", key.as_str().expect("a key"))));
    }
    assert_eq!(told, UNSEEN);
    for (answer, question) in wrong.iter().zip(&questions[asked.len() + commands.len()..]) {
        let faults = answer["faults"].as_array().expect("a list");
        assert!(
            !faults.is_empty(),
            "what was put in wrong is found: {question}"
        );
    }
}

/// An answer of a command with a value of another kind, and with a key that its schema does not name.
fn planted(command: &str, asked: &[Value]) -> [Value; 2] {
    let answer = asked
        .iter()
        .find(|question| question["command"] == *command);
    let answer = answer.unwrap_or_else(|| panic!("{command} was never asked"));
    let (mut kind, mut key) = (answer.clone(), answer.clone());
    kind["object"]["trundle"] = json!(1);
    key["object"]["unnamed"] = json!("x");
    [kind, key]
}

/// A sheet without windows, and how all stood while it struck right.
fn windows_and_stood(printed: &mut Printed) {
    let text = std::fs::read_to_string(sample(SCHOOLROOM)).expect("the sample");
    let kept = (text.lines())
        .filter(|line| !line.starts_with("window_deg") && !line.starts_with("best_deg"));
    let text: String = kept.map(|line| format!("{line}\n")).collect();
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = folder.path().join("unwritten.toml");
    std::fs::write(&sheet, text).expect("written");
    let sheet = sheet.to_str().expect("a path");
    let saw = [
        "--saw",
        "slot=0.1202",
        "--saw",
        "star=1.0417",
        "--saw",
        "pin=9.375notch~0.5",
    ];
    assert!(printed.ask("check", &[sheet]));
    assert!(printed.ask("remesh", &[sheet, "--saw", "slot=-0.1"]));
    printed.log(sheet, &[&[&["--stood=12"], &saw[..]].concat()]);
}

fn assumptions_and_sheets(printed: &mut Printed) {
    assert!(printed.ask("assumptions", &[]));
    let odd = spoiled(SCHOOLROOM, &[("repeats = 9", "repeats = 10")]);
    for text in [
        &odd,
        "",
        "sheet = 1\nname = \"x\"",
        &"[[mesh]]\n".repeat(90),
    ] {
        assert!(printed.ask_of("check", &["-"], text));
    }
}

fn strikes(printed: &mut Printed) {
    let (schoolroom, parlour, quarters) =
        (sample(SCHOOLROOM), sample("parlour"), sample("quarters"));
    for args in [
        &[&schoolroom[..], "--events"][..],
        &[&parlour, "--events"],
        &[&schoolroom, "--shift", "second.wheel:third.pinion=-2"],
        &[&schoolroom, "--bend", "count_lever=2"],
        &[&schoolroom, "--worn", "slots:3=2.5"],
        &[&schoolroom, "--missing", "pins:4"],
        &[&schoolroom, "--slip", "cam=20"],
        &[&schoolroom, "--slip", "pins=-26"],
        &[&schoolroom, "--bend", "drop_lever=5"],
        &[&schoolroom, "--bend", "drop_lever=-5"],
        &[&schoolroom, "--bend", "warning_arm=-30"],
        &[&parlour, "--missing", "tail"],
        &[&quarters, "--bend", "rack=5"],
    ] {
        assert!(printed.ask("strike", args), "{args:?}");
    }
    let busy = spoiled("parlour", &[("turn_s = 3600", "turn_s = 1")]);
    assert!(printed.ask_of("strike", &["-"], &busy), "cut short");
}

/// A train so crowded that not all is tried.
fn crowded(printed: &mut Printed) {
    let saw = SEEN.map(|saw| format!("--saw={saw}"));
    let saw: Vec<&str> = saw.iter().map(String::as_str).collect();
    assert!(printed.ask_of("remesh", &[&["-"], &saw[..]].concat(), FOURTEEN_MARKS));
}

fn logs(printed: &mut Printed) {
    let schoolroom = sample(SCHOOLROOM);
    printed.log(
        &schoolroom,
        &[
            &["--saw=slot=-1.2", "--saw=star=-10", "--saw=pin=-75"],
            &["--done", "--saw=slot=-2.3", "--saw=star=-20"],
            &["--out=fly"],
            &["--in=fly", "--struck=3"],
            &["--bent=slot=0.4"],
        ],
    );
    printed.log(
        &schoolroom,
        &[&["--saw=slot=0", "--saw=star=0", "--saw=pin=-75"]],
    );
    printed.log(
        &sample("lattice"),
        &[&["--saw=stop=5.5"], &["--saw=stop=60"]],
    );
}

/// Parts turned on their arbors, and a wheel that a small cock lets out.
fn held(printed: &mut Printed) {
    let folder = tempfile::tempdir().expect("a folder");
    let count = "[arbor.count]\n";
    let changed = [
        (
            "square",
            vec![(count, "[arbor.count]\nheld_by = \"square\"\n")],
        ),
        (
            "friction",
            vec![(count, "[arbor.count]\nheld_by = \"friction\"\n")],
        ),
        ("cock", vec![("wheel = 48\n", "wheel = 48\ncock = true\n")]),
    ];
    for (name, changes) in changed {
        let path = folder.path().join(format!("{name}.toml"));
        std::fs::write(&path, spoiled(SCHOOLROOM, &changes)).expect("room");
        let path = path.to_str().expect("a path");
        let at = if name == "square" { "2.31" } else { "-1.8" };
        let slot = format!("--saw=slot={at}");
        let saw = [slot.as_str(), "--saw=star=0", "--saw=pin=-30"];
        assert!(printed.ask("remesh", &[&[path], &saw[..]].concat()));
        let saw = [slot.as_str(), "--saw=star=0", "--saw=pin=-75"];
        printed.log(path, &[&saw, &["--done"]]);
    }
}

fn sums(printed: &mut Printed) {
    let (mantel, attic) = (sample(MANTEL), sample("attic"));
    let lost = [(
        "spring_width_mm = 19\nspring_thick_mm = 0.40\nspring_long_mm = 1400\n",
        "",
    )];
    let barrel = "barrel_inside_mm = 40\nbarrel_high_mm = 20\nspring_arbor_mm = 13.3\n";
    let weight = "weight_g = 5500\ndrum_mm = 48\ndouble_cord_mm = 1.6\nfall_mm = 1200\n";
    let worn = [("pivot_mm = 0.9", "pivot_mm = 0.9\nhole_mm = 1.1")];
    for (command, args, changes) in [
        (
            "power",
            &["--instead=19x0.45x1500mm", "--on=going_great"][..],
            &[][..],
        ),
        ("power", &["--runs=8days", "--on=going_great"], &[]),
        ("power", &["--on=going_great"], &lost),
        ("power", &["--on=going_great"], &[lost[0], (barrel, weight)]),
        (
            "oil",
            &["--state=running", "--room=dusty", "--worn=escape"],
            &worn,
        ),
        ("oil", &["--state=gummed", "--room=cold"], &worn),
        ("pendulum", &["--gains=60"], &[]),
    ] {
        let sheet = spoiled(MANTEL, changes);
        let args = [&["-"], args].concat();
        assert!(printed.ask_of(command, &args, &sheet), "{args:?}");
    }
    for (command, args) in [
        ("oil", &[&mantel[..]][..]),
        (
            "count",
            &[
                &attic,
                "--beats=7488",
                "--runs=30h",
                "--must=hour:centre=1/12~0.01",
            ],
        ),
        ("count", &[&attic, "--beats=7000~1"]),
        (
            "pendulum",
            &[
                "--beats=3600",
                "--latitude=51.5",
                "--half-arc=2",
                "--arc-to=2.5",
                "--rod=steel",
                "--warmer=10C",
                "--gains=10",
                "--nut-threads=30",
                "--nut-divisions=60",
                "--mass=6kg",
                "--small=1g",
                "--suspension=10x0.15x15mm",
                "--suspension-to=10x0.12x15mm",
                "--bob=lead",
                "--pressure=980..1030",
                "--moved-to=40",
            ],
        ),
        (
            "pendulum",
            &[
                "--suspension=10x0.15x15mm",
                "--part=5.2kg@980mm:disc=160mm",
                "--part=0.4kg@0..1010mm",
                "--beats=3600",
            ],
        ),
        (
            "pendulum",
            &["--ribbon=0.5x0.1x150mm", "--disc=300g@80mm", "--beats=480"],
        ),
    ] {
        assert!(printed.ask(command, args), "{command} {args:?}");
    }
}

/// A clock that ticks, strikes and chimes, made up here.
fn sounds(printed: &mut Printed) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("clock.wav");
    // A bell is louder than a tick.
    let mut samples: Vec<i16> = ticking(36 * 60).iter().map(|x| x / 8).collect();
    let (three, half) = (60.0, 60.0 + 1800.0);
    for at in [three, three + 1.6, three + 3.2, half] {
        ring(&mut samples, 520.0, at);
    }
    for (at, hertz) in [
        (600.0, 1320.0),
        (600.8, 1176.0),
        (601.6, 1056.0),
        (602.4, 792.0),
    ] {
        ring(&mut samples, hertz, at);
    }
    std::fs::write(&file, wav(&samples)).expect("written");
    let file = file.to_str().expect("a path");
    let (mantel, halfpast) = (sample(MANTEL), sample("halfpast"));
    for args in [
        &[file][..],
        &[file, "--sheet", &halfpast],
        &[
            file,
            "--sheet",
            &mantel,
            "--left-at=10.3",
            "--arc=3",
            "--nut=0.5",
        ],
        &[concat!(
            env!("CARGO_MANIFEST_DIR"),
            "/tests/mutated/samples/ticking.flac"
        )],
    ] {
        assert!(printed.ask("listen", args), "{args:?}");
    }
}
