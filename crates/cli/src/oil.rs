//! `trundle oil`: where oil goes, and where none.

use crate::output;
use crate::streams::{Failure, print, read_open_sheet, shown_name, wrong};
use clap::ValueEnum;
use report::json;
use std::path::PathBuf;
use std::process::ExitCode;

/// Where oil goes.
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct Oil {
    /// The sheet, a TOML file; - for standard input
    sheet: PathBuf,
    /// What the movement is like
    #[arg(long, value_enum, default_value = "clean")]
    state: State,
    /// Where it goes afterwards
    #[arg(long, value_enum, default_value = "lived")]
    room: Room,
    /// An arbor whose holes are worn; once for each
    #[arg(long, value_name = "ARBOR")]
    worn: Vec<String>,
    #[command(flatten)]
    out: output::Output,
}

const HOW: &str = "\
On the sheet, on an arbor: pivot_mm and hole_mm tell how much oil, and which hole to look at before it. The drawing is to
scale where the sheet has `centre_mm`.";

#[derive(Clone, Copy, ValueEnum)]
enum State {
    /// Cleaned, being put together
    Clean,
    /// Going, and not opened
    Running,
    /// Old oil in it, green, brown or thick
    Gummed,
}

#[derive(Clone, Copy, ValueEnum)]
enum Room {
    /// A room people live in
    Lived,
    /// Dust, smoke, a fire
    Dusty,
    /// A tower, a church: cold and damp
    Cold,
}

impl Oil {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let text = read_open_sheet(&self.sheet)?;
        let state = match self.state {
            State::Clean => tasks::OilState::Clean,
            State::Running => tasks::OilState::Running,
            State::Gummed => tasks::OilState::Gummed,
        };
        let room = match self.room {
            Room::Lived => tasks::OilRoom::Lived,
            Room::Dusty => tasks::OilRoom::Dusty,
            Room::Cold => tasks::OilRoom::Cold,
        };
        let oiled = tasks::oil(&text, state, room, &self.worn)
            .map_err(|refusal| wrong(&shown_name(&self.sheet), &text, refusal))?;
        self.out
            .draw(|| report::oil::poster(&self.out.locale(), &oiled).file_to_scale())?;
        let (movement, plan) = (&oiled.movement, &oiled.plan);
        print(&if self.out.json {
            json::text(&json::OilAnswer::of(movement, plan))
        } else {
            report::oil::oil_text(&self.out.locale(), &oiled)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}
