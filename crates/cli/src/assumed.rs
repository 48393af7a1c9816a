//! `trundle assumptions`: the figures that are held to be so where nothing was measured.

use crate::streams::{Failure, print};
use report::{Locale, assumed, json};
use std::process::ExitCode;

/// How the table is told.
#[derive(clap::Args)]
pub(crate) struct Assumptions {
    /// As a page in Markdown, which `docs/assumptions.md` is
    #[arg(long, conflicts_with = "json")]
    markdown: bool,
    /// Print one JSON object and nothing else
    #[arg(long)]
    json: bool,
}

impl Assumptions {
    pub(crate) fn run(&self) -> Result<ExitCode, Failure> {
        let (locale, table) = (Locale::default(), &tasks::ASSUMPTIONS);
        print(&if self.json {
            json::text(&json::AssumptionsAnswer::of(&locale, table))
        } else if self.markdown {
            assumed::page(&locale, table)
        } else {
            assumed::text(&locale, table)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}
