//! What is read and what is said: sheets from files or standard input, answers to standard output, all else to standard error.

use crate::carets;
use report::{Locale, Voice, machine};
use std::io::{Read, Write};
use std::path::Path;
use tasks::{Refusal, SheetWarning};

/// How a command ended, when it did not end well.
pub(crate) enum Failure {
    /// Something outside: a file, a pipe.
    Outside(String),
    /// The command line, sheet or reading is wrong.
    Wrong(String),
}

impl Failure {
    /// As it is told on standard error.
    pub(crate) fn text(&self) -> String {
        match self {
            Failure::Outside(why) => format!("trundle: {why}\n"),
            Failure::Wrong(why) => format!("{}\n", why.trim_end()),
        }
    }

    /// The status that the program ends with.
    pub(crate) fn status(&self) -> u8 {
        match self {
            Failure::Outside(_) => 1,
            Failure::Wrong(_) => 2,
        }
    }
}

/// Reads a sheet that something is asked of, and says what is odd about how it is written.
pub(crate) fn read_sheet(path: &Path) -> Result<Vec<u8>, Failure> {
    read_and_tell(path, tasks::odd)
}

/// The same of a sheet on which counts may be missing.
pub(crate) fn read_open_sheet(path: &Path) -> Result<Vec<u8>, Failure> {
    read_and_tell(path, tasks::odd_open)
}

fn read_and_tell(path: &Path, odd: fn(&[u8]) -> Vec<SheetWarning>) -> Result<Vec<u8>, Failure> {
    let text = read(path)?;
    for odd in odd(&text) {
        tell(&carets::warning(&shown_name(path), &text, &odd));
    }
    Ok(text)
}

/// Reads a sheet, or just more of it than a sheet may have: what is too long need not be read to its end.
pub(crate) fn read(path: &Path) -> Result<Vec<u8>, Failure> {
    let most = u64::try_from(sheet::MOST_BYTES).unwrap_or(u64::MAX);
    let mut text = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin()
            .lock()
            .take(most + 1)
            .read_to_end(&mut text)
    } else {
        std::fs::File::open(path).and_then(|file| file.take(most + 1).read_to_end(&mut text))
    };
    match read {
        Ok(_) => Ok(text),
        Err(error) => Err(Failure::Outside(report::en::cannot_read(
            &shown_name(path),
            &machine(&Locale::default(), &error),
        ))),
    }
}

pub(crate) fn shown_name(path: &Path) -> String {
    if path == Path::new("-") {
        "standard input".to_owned()
    } else {
        path.display().to_string()
    }
}

pub(crate) fn wrong(name: &str, text: &[u8], refusal: Refusal) -> Failure {
    Failure::Wrong(match refusal {
        Refusal::Sheet(faults) => carets::faults(name, text, &faults),
        Refusal::Question(why) => {
            let said = report::unanswered(&Voice::Command(Locale::default()), &why);
            format!("trundle: {}", report::en::breaking(&said))
        }
    })
}

/// Says something on standard error. Where that is closed nobody listens, and nothing more can be said.
pub(crate) fn tell(text: &str) {
    let _ = std::io::stderr().write_all(report::en::harmless(text).as_bytes());
}

/// Prints to standard output; a reader that went away is no failure of ours to shout about, but of the pipe.
pub(crate) fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    out.write_all(report::en::harmless(text).as_bytes())
        .and_then(|()| out.flush())
        .map_err(|error| {
            Failure::Outside(report::en::cannot_write(&machine(
                &Locale::default(),
                &error,
            )))
        })
}

/// Prints a table as CSV; no cell has anything in it that a terminal would obey, or that a reader of tables would reckon out.
pub(crate) fn print_table(table: &report::tables::Rows) -> Result<(), Failure> {
    let mut out = ::book::TableWriter::to(std::io::stdout().lock());
    let mut put = |row: &[String]| {
        let cells: Vec<_> = row.iter().map(|cell| report::en::harmless(cell)).collect();
        out.row(cells.iter().map(AsRef::as_ref))
    };
    let written = table.iter().try_for_each(|row| put(row));
    written.and_then(|()| out.end()?.flush()).map_err(|error| {
        Failure::Outside(report::en::cannot_write(&machine(
            &Locale::default(),
            &error,
        )))
    })
}
