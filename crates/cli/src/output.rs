//! How an answer is told, and where its drawing goes.

use crate::streams::Failure;
use clap::ValueEnum;
use report::{Locale, Voice, machine};
use std::io::Read;
use std::path::{Path, PathBuf};

/// How an answer is told.
#[derive(clap::Args)]
pub(crate) struct Output {
    /// What lengths and weights are told in; they may be written in either
    #[arg(long, value_enum, value_name = "UNIT", default_value = "mm")]
    units: Units,
    /// Draw it, as SVG, into this file
    #[arg(long, value_name = "FILE")]
    drawing: Option<PathBuf>,
    /// Print one JSON object and nothing else
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Clone, Copy, ValueEnum)]
enum Units {
    /// Millimetres and grams
    Mm,
    /// Inches and pounds
    In,
}

impl Output {
    /// In what words it is told.
    pub(crate) fn locale(&self) -> Locale {
        Locale::default().with(match self.units {
            Units::Mm => report::Units::Millimetre,
            Units::In => report::Units::Inch,
        })
    }

    /// The same, and that options ask.
    pub(crate) fn voice(&self) -> Voice {
        Voice::Command(self.locale())
    }

    /// Whether a drawing was asked for.
    pub(crate) fn draws(&self) -> bool {
        self.drawing.is_some()
    }

    /// Writes the drawing where one was asked for.
    pub(crate) fn draw(&self, svg: impl FnOnce() -> String) -> Result<(), Failure> {
        let Some(path) = &self.drawing else {
            return Ok(());
        };
        write_drawing(path, &report::en::breaking(&svg()))
    }
}

/// Writes a drawing into a file: a new one, or one that a drawing of ours is in. Nothing else is written over, and nothing is left
/// of a drawing that has no room.
pub(crate) fn write_drawing(path: &Path, svg: &str) -> Result<(), Failure> {
    let refused = |why: &str| {
        let name = path.display().to_string();
        Failure::Outside(report::en::cannot_use(&name, why))
    };
    let there = path.exists();
    if there && !holds_a_drawing(path) {
        return Err(refused(report::en::something_else()));
    }
    std::fs::write(path, svg).map_err(|error| {
        if !there {
            // Why it could not be written is what is told.
            let _ = std::fs::remove_file(path);
        }
        refused(&machine(&Locale::default(), &error))
    })
}

/// Whether a file begins as our drawings do, or may be written to without harm: a device is no file.
fn holds_a_drawing(path: &Path) -> bool {
    if std::fs::metadata(path).is_ok_and(|there| !there.is_file() && !there.is_dir()) {
        return true;
    }
    let mut begins = Vec::new();
    let read = std::fs::File::open(path).and_then(|file| file.take(400).read_to_end(&mut begins));
    let begins = String::from_utf8_lossy(&begins);
    read.is_ok() && begins.starts_with("<svg ") && begins.contains("class=\"drawing")
}
