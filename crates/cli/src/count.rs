//! `trundle count`: the counts that fit where some are missing.

use crate::output;
use crate::progress::Progress;
use crate::streams::{Failure, print, print_table, read_open_sheet, shown_name, tell, wrong};
use report::count::Sets;
use report::{json, tables};
use std::path::PathBuf;
use std::process::ExitCode;
use tasks::{CountAsk, MOST_PATIENCE, Searched};

/// What is not known, and what must come out. Control-C stops it and tells what was found so far.
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct Count {
    /// The sheet, a TOML file; - for standard input
    sheet: PathBuf,
    /// Beats an hour of the pendulum or balance that is there [default: from `pendulum_mm` on the sheet]
    #[arg(long, value_name = "N[/min][~SPREAD]")]
    beats: Option<String>,
    /// How long it runs on one winding (`winding_turns` on the sheet)
    #[arg(long, value_name = "TIME[~SPREAD]")]
    runs: Option<String>,
    /// Turns of one arbor in one turn of another; once for each that is known
    #[arg(long, value_name = "ARBOR:ARBOR=TURNS[~SPREAD]")]
    must: Vec<String>,
    /// The escape wheel, where it is not plain
    #[arg(long, value_name = "ARBOR.PART")]
    escape: Option<String>,
    /// The fewest teeth tried
    #[arg(long, value_name = "TEETH", default_value_t = 6)]
    least: u16,
    /// The most teeth tried
    #[arg(long, value_name = "TEETH", default_value_t = 144)]
    most: u16,
    /// Go on so many times as far as usual, where there are more to be tried
    #[arg(long, value_name = "TIMES", default_value_t = 1, value_parser = clap::value_parser!(u32).range(1..=i64::from(MOST_PATIENCE)))]
    longer: u32,
    /// Tell all that fit
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    out: output::Output,
    /// Print all that fit as a table in CSV and nothing else: a row a set, the likeliest first
    #[arg(long, conflicts_with = "json")]
    csv: bool,
}

const HOW: &str = "\
On the sheet, a count that is lost is \"?\", one in doubt \"72?\". What helps to find it:
  turn_s on an arbor            how long a turn takes: 3600 on the minute hand's, 43200 on the hour hand's
  pendulum_mm on the escape arbor, from the bend of the suspension to the middle of the bob
  wheel_outside_mm on an arbor  a part over its teeth, by its name
  centre_mm in a [[mesh]]       from the middle of one arbor to that of the other
  [strike] and its witnesses    what a blow must do

A measurement without ~SPREAD has that of the usual tools; beats without one are meant exactly.";

impl Count {
    pub(crate) fn run(&self) -> Result<ExitCode, Failure> {
        let text = read_open_sheet(&self.sheet)?;
        let ask = CountAsk {
            beats: self.beats.as_deref(),
            runs: self.runs.as_deref(),
            must: &self.must,
            escape: self.escape.as_deref(),
            teeth: Some((self.least, self.most)),
            patience: self.longer,
        };
        let mut progress = Progress::until_interrupted();
        let locale = self.out.locale();
        let mut look =
            |searched: &Searched<'_>| progress.look(&|| report::count::so_far(&locale, searched));
        let counted = tasks::count_watched(&text, &ask, &mut look)
            .map_err(|refusal| wrong(&shown_name(&self.sheet), &text, refusal))?;
        let (movement, puzzle) = (counted.open.movement(), &counted.puzzle);
        self.out
            .draw(|| report::count::drawing(&locale, &counted).file())?;
        if self.csv {
            let (sets, found) = (Sets::of(&counted), &counted.found);
            // What the table does not say by itself: that there may be more, or what stands in the way.
            if found.is_cut_short() || found.fits.is_empty() {
                for line in sets.how_many(&locale) {
                    tell(&(line + "\n"));
                }
            }
            print_table(&tables::counts(&sets))?;
            return Ok(ExitCode::SUCCESS);
        }
        print(&if self.out.json {
            json::text(&json::CountAnswer::of(movement, puzzle, &counted.found))
        } else {
            report::count::count_text(&Sets::of(&counted), self.all, &self.out.voice())
        })?;
        Ok(ExitCode::SUCCESS)
    }
}
