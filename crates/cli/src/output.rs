//! How an answer is told, and where its drawing goes.

use crate::streams::Failure;
use clap::ValueEnum;
use report::{Voice, Words, machine};
use std::path::PathBuf;

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
    pub(crate) fn words(&self) -> Words {
        Words::default().with(match self.units {
            Units::Mm => report::Units::Millimetre,
            Units::In => report::Units::Inch,
        })
    }

    /// The same, and that options ask.
    pub(crate) fn voice(&self) -> Voice {
        Voice::Command(self.words())
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
        std::fs::write(path, report::en::breaking(&svg())).map_err(|error| {
            let name = path.display().to_string();
            Failure::Outside(report::en::cannot_use(
                &name,
                &machine(&Words::default(), &error),
            ))
        })
    }
}
