//! `trundle power`: what drives each train, and what comes of it.

use crate::output;
use crate::streams::{Failure, print, read_sheet, shown_name, wrong};
use report::json;
use std::path::PathBuf;
use std::process::ExitCode;
use tasks::PowerAsk;

/// What drives each train.
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct Power {
    /// The sheet, a TOML file; - for standard input
    sheet: PathBuf,
    /// What another strip would do in its place
    #[arg(long, value_name = "WIDTHxTHICKxLONG")]
    instead: Option<String>,
    /// How long it must run, to find the strip for it [default: the sheet's winding_turns]
    #[arg(long, value_name = "TIME")]
    runs: Option<String>,
    /// Only this arbor
    #[arg(long, value_name = "ARBOR")]
    on: Option<String>,
    #[command(flatten)]
    out: output::Output,
}

const HOW: &str = "\
On the sheet, on the arbor that is wound:
  a spring   spring_width_mm, spring_thick_mm, spring_long_mm, spring_arbor_mm, and barrel_inside_mm,
             or for an open one with a loop end spring_opens_mm, across its outermost coil when let down;
             barrel_high_mm, spring_free_turns (its coils out of the barrel) where they are known
  lost       only barrel_inside_mm, spring_arbor_mm, winding_turns, and barrel_high_mm
  a weight   weight_g, drum_mm, cord_mm, or double_cord_mm where it goes over a pulley, and fall_mm

Let the power down with a proper key before anything is taken apart; take weights off.";

impl Power {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let text = read_sheet(&self.sheet)?;
        let ask = PowerAsk {
            instead: self.instead,
            runs: self.runs,
            on: self.on,
        };
        let powered = tasks::power(&text, &ask)
            .map_err(|refusal| wrong(&shown_name(&self.sheet), &text, refusal))?;
        if self.out.draws() {
            let locale = self.out.locale();
            let nothing = || {
                Failure::Wrong(format!(
                    "trundle: {}",
                    report::power::nothing_to_draw(&locale)
                ))
            };
            let drawing = report::power::drawing(&locale, &powered).ok_or_else(nothing)?;
            self.out.draw(|| drawing.file())?;
        }
        let (movement, driven) = (&powered.movement, &powered.driven);
        print(&if self.out.json {
            json::text(&json::PowerAnswer::of(movement, driven))
        } else {
            report::power::power_text(&self.out.locale(), &powered)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}
