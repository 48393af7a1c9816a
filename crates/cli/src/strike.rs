//! The strike run through its hours.

use crate::streams::{Failure, print, print_table, read_sheet, shown_name, tell, wrong};
use clap::Args;
use report::{json, tables};
use std::path::PathBuf;
use std::process::ExitCode;
use tasks::Wrongs;

/// The status where the strike is not as it should be.
const NOT_AS_EXPECTED: u8 = 4;

#[derive(Args)]
pub(crate) struct Strike {
    /// The sheet, a TOML file; - for standard input
    sheet: PathBuf,
    /// Close a mesh so many teeth wrong: its far side ahead +, back -
    #[arg(
        long,
        value_name = "DRIVER:DRIVEN=TEETH",
        allow_hyphen_values = true,
        help_heading = "Put in wrong"
    )]
    shift: Vec<String>,
    /// Bend a lever, or the rack's tail by rack=DEG: up +, down -
    ///
    /// Up is the way that the lever's own end goes. Where its tip lies on a track, it has to sink farther to touch: its arbor, and all else on it, stands lower. An arm that stops or lifts stands higher where its arbor is. A tail or lever that pins lift is met later by them and lifted less; between pins it lies on its stop. The rack's tail, told as rack, lets the rack fall farther. Down is the other way.
    #[arg(long, value_name = "LEVER=DEG", help_heading = "Put in wrong")]
    bend: Vec<String>,
    /// Wear the edges of slots back, all or the Nth as they come
    #[arg(long, value_name = "TRACK[:N]=DEG", help_heading = "Put in wrong")]
    worn: Vec<String>,
    /// Leave out a pin: of a track that lifts, or one that is stopped
    #[arg(long, value_name = "TRACK:N", help_heading = "Put in wrong")]
    missing: Vec<String>,
    /// Turn a track, or pins, on the arbor: ahead +, back -
    #[arg(long, value_name = "TRACK=DEG", help_heading = "Put in wrong")]
    slip: Vec<String>,
    /// Tell every event too, in order, and with --json where everything stands at each
    #[arg(long)]
    events: bool,
    /// Exit 4 where an hour is struck wrong or a place is not good
    #[arg(long)]
    expect: bool,
    /// Print one JSON object and nothing else
    #[arg(long)]
    json: bool,
    /// Print a table as CSV and nothing else: a row an hour, with --events a row an event
    #[arg(long, conflicts_with = "json")]
    csv: bool,
}

impl Strike {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let text = read_sheet(&self.sheet)?;
        let name = shown_name(&self.sheet);
        let wrongs = Wrongs {
            shift: self.shift,
            bend: self.bend,
            worn: self.worn,
            missing: self.missing,
            slip: self.slip,
        };
        let proved =
            tasks::strike(&text, &wrongs, true).map_err(|refusal| wrong(&name, &text, refusal))?;
        let (movement, struck) = (&proved.sheet.movement, &proved.struck);
        if self.json {
            let put_in = &proved.put_in;
            let answer = json::StrikeAnswer::of(movement, put_in, struck, self.events);
            print(&json::text(&answer))?;
        } else if self.csv {
            for line in report::en::strike::beside_the_table(movement, struck, self.events) {
                tell(&(line + "\n"));
            }
            print_table(&match self.events {
                true => tables::events(movement, struck),
                false => tables::hours(movement, struck),
            })?;
        } else {
            let mut out = report::en::strike::strike_text(movement, &proved.put_in, struck);
            if self.events {
                out += "\n";
                out += &report::en::strike::events_text(movement, &struck.events);
            }
            print(&out)?;
        }
        Ok(match self.expect && !struck.is_right() {
            true => ExitCode::from(NOT_AS_EXPECTED),
            false => ExitCode::SUCCESS,
        })
    }
}
