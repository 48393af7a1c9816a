//! The published figures of `outside/`, each row a test of its own name, worked by this project's own motion.
//!
//! What a row holds and asks is in [`row`] and [`ask`]; a train written in the row itself becomes a sheet in [`train`].
//! Pendulum lengths are carried in the data and not checked here.

mod ask;
mod beats;
mod row;
mod train;

use libtest_mimic::{Arguments, Failed, Trial};
use row::Rows;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// The files whose rows ask of a sheet or of a train.
const FILES: [&str; 6] = [
    "going", "dials", "barrels", "striking", "setups", "meetings",
];

fn main() -> ExitCode {
    let mut trials = Vec::new();
    let mut asked = BTreeSet::new();
    for file in FILES {
        let rows: Rows = read(&format!("{file}.toml"));
        trials.push(Trial::test(format!("{file}: every row says its source"), {
            let told = rows.told();
            move || told.map_err(Failed::from)
        }));
        for row in rows.row {
            asked.extend(row.sheet.clone());
            trials.push(trial(file, &row.name.clone(), move || row.check()));
        }
    }
    for row in read::<beats::Table>("beats.toml").train {
        trials.push(trial("beats", &row.name.clone(), move || row.check()));
    }
    for name in sheets() {
        let asked = asked.contains(&name);
        trials.push(trial("sheets", &name.clone(), move || good(&name, asked)));
    }
    let mut names = BTreeSet::new();
    for trial in &trials {
        assert!(
            names.insert(trial.name()),
            "two rows are called {}",
            trial.name()
        );
    }
    libtest_mimic::run(&Arguments::from_args(), trials).exit_code()
}

fn trial(
    file: &str,
    name: &str,
    check: impl FnOnce() -> Result<(), String> + Send + 'static,
) -> Trial {
    Trial::test(format!("{file}: {name}"), move || {
        check().map_err(Failed::from)
    })
}

/// A sheet must be read without a fault or a warning, and some row must ask it something.
fn good(name: &str, asked: bool) -> Result<(), String> {
    let sheet = sheet::read(&std::fs::read(sheet_path(name)).map_err(|e| e.to_string())?)
        .map_err(|faults| format!("{faults:#?}"))?;
    if !sheet.warnings.is_empty() {
        return Err(format!("{:#?}", sheet.warnings));
    }
    asked.then_some(()).ok_or("no row asks it anything".into())
}

fn outside() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../outside")
}

/// Where the sheet of this name is.
fn sheet_path(name: &str) -> PathBuf {
    outside().join("sheets").join(format!("{name}.toml"))
}

/// The names of all sheets, in order.
fn sheets() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(outside().join("sheets"))
        .expect("outside/sheets")
        .map(|entry| entry.expect("a file of outside/sheets").path())
        .filter_map(|path| Some(path.file_stem()?.to_str()?.to_owned()))
        .collect();
    names.sort();
    names
}

fn read<T: serde::de::DeserializeOwned>(file: &str) -> T {
    let text = std::fs::read_to_string(outside().join(file)).expect(file);
    toml::from_str(&text).unwrap_or_else(|error| panic!("{file}: {error}"))
}
