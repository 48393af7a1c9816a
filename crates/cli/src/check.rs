//! `trundle check`: whether sheets are right.

use crate::carets;
use crate::streams::{Failure, print, read, shown_name, tell};
use movement::{Blank, Movement};
use report::{Locale, json};
use sheet::{Faults, SheetWarning};
use std::path::PathBuf;
use std::process::ExitCode;
use tasks::WindowsTrouble;

/// The sheets to check.
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct Check {
    /// The sheets, TOML files; - for standard input
    #[arg(required = true, value_name = "SHEET")]
    sheets: Vec<PathBuf>,
    /// Print one JSON object for each sheet, on a line of its own, and nothing else
    #[arg(long)]
    json: bool,
}

const HOW: &str = "\
Every sheet is told of, whatever is wrong with others.
Exit status: 0 all are good; 1 one could not be read; 2 one has faults.
With --json faults are the answer, so they stand on standard output.";

/// A sheet without faults.
struct Good {
    movement: Movement,
    /// Why windows that are not on it cannot be worked out, where its levers should tell them.
    no_windows: Option<WindowsTrouble>,
    /// Its counts that are missing or in doubt, where one is missing.
    blanks: Vec<Blank>,
    warnings: Vec<SheetWarning>,
}

impl Check {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let (mut unread, mut faulty) = (false, false);
        for path in &self.sheets {
            let text = match read(path) {
                Ok(text) => text,
                Err(failure) => {
                    tell(&failure.text());
                    unread = true;
                    continue;
                }
            };
            let name = shown_name(path);
            let good = good(&text);
            faulty |= good.is_err();
            match (&good, self.json) {
                (Ok(good), true) => print(&as_json(&name, good))?,
                (Ok(good), false) => print(&as_text(&name, &text, good))?,
                (Err(faults), true) => {
                    print(&(json::line(&json::CheckAnswer::faulty(&name, faults)) + "\n"))?;
                }
                (Err(faults), false) => tell(&carets::faults(&name, &text, faults)),
            }
        }
        Ok(match (unread, faulty) {
            (true, _) => ExitCode::from(1),
            (_, true) => ExitCode::from(2),
            _ => ExitCode::SUCCESS,
        })
    }
}

fn good(text: &[u8]) -> Result<Good, Faults> {
    if let Ok(Some((open, warnings))) = tasks::check_open_warned(text) {
        return Ok(Good {
            movement: open.movement().clone(),
            no_windows: None,
            blanks: open.blanks().to_vec(),
            warnings,
        });
    }
    let sheet = tasks::check(text)?;
    let (movement, no_windows) = match tasks::work_windows_out(&sheet.movement) {
        Ok(movement) => (movement, None),
        Err(why) => (sheet.movement, why),
    };
    Ok(Good {
        movement,
        no_windows,
        blanks: Vec::new(),
        warnings: sheet.warnings,
    })
}

impl Good {
    /// What cannot come out; of a sheet on which counts are missing that is not asked.
    fn again(&self) -> Vec<String> {
        match self.blanks[..] {
            [] => again(&self.movement),
            _ => Vec::new(),
        }
    }
}

/// What cannot come out as it was counted, a line each.
pub(crate) fn again(movement: &Movement) -> Vec<String> {
    let again = tasks::count_again(movement);
    report::count_again(&Locale::default(), movement, &again)
}

fn as_text(name: &str, text: &[u8], good: &Good) -> String {
    let mut out = match &good.blanks[..] {
        [] => report::en::good_sheet(&good.movement, good.no_windows.is_none()),
        blanks => report::count::open_sheet(&Locale::default(), &good.movement, blanks),
    };
    for warning in &good.warnings {
        out += &carets::warning(name, text, warning);
    }
    for line in good.again() {
        out += &(line + "\n");
    }
    for line in report::en::windows(&good.movement) {
        out += &(line + "\n");
    }
    if let Some(why) = &good.no_windows {
        out += &(report::no_windows_of(&Locale::default(), &good.movement, why) + "\n");
    }
    out
}

fn as_json(name: &str, good: &Good) -> String {
    let (movement, blanks) = (&good.movement, &good.blanks);
    let answer = json::CheckAnswer::good(name, movement, blanks, &good.warnings, good.again());
    json::line(&answer) + "\n"
}
