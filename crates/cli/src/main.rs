//! The command line. Takes words apart, reads the file, calls one task, prints what it says. No sums here.
//!
//! Exit status: 0 answered; 1 something outside failed; 2 the command line, sheet or reading is wrong; 3 no re-mesh cures it.

mod assumed;
mod bench;
mod book;
mod carets;
mod check;
mod count;
mod listen;
mod logged;
mod oil;
mod output;
mod pendulum;
mod place;
mod power;
mod progress;
mod removal;
mod sheet;
mod streams;
mod strike;

use clap::{Parser, Subcommand, ValueEnum};
use entries::LoggedTension;
use movement::{Movement, Plate};
use report::{Locale, json};
use std::ffi::OsString;
use std::path::PathBuf;
use std::process::ExitCode;
use std::sync::Arc;
use std::sync::atomic::Ordering;
use streams::{Failure, print, read, read_sheet, shown_name, tell, wrong};
use tasks::{Ask, LookAsk, Refusal, Which, written};
use timing::{Act, Cure, Waiting};

/// Times the strike train of a clock: from what you see at the drop, which wheel to shift, how many teeth, which way.
#[derive(Parser)]
#[command(
    name = "trundle",
    version,
    arg_required_else_help = true,
    after_help = "What is held to be so where nothing was measured (how often a hand goes the wrong way, how surely a look is read, …), and why: trundle assumptions"
)]
struct Line {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Open the bench: the movement drawn, what you see set beside it, what to do said; a page for your browser
    Bench(bench::Bench),
    /// Listen to a recording: beats and blows, what they say of the clock, and what to do
    Listen(Box<listen::Listen>),
    /// Keep the bench book: back it up, restore it, verify it, export and import it; remove what names a person
    Book(book::Keeping),
    /// Check sheets: every fault with its line and column, and what is odd about them
    Check(check::Check),
    Sheet(sheet::SheetLine),
    /// List every key that may stand on a sheet: where, what stands there, what is usual, what it means
    Keys {
        /// List the kinds that a witness or a lever may be of instead
        #[arg(long)]
        kinds: bool,
    },
    /// Show how a train moves: turns, ways round, what one tooth does, when the same teeth meet again
    Train {
        /// The sheet, a TOML file; - for standard input
        sheet: PathBuf,
        /// Tell turns for one turn of this arbor [default: the one that is read at]
        #[arg(long, value_name = "ARBOR")]
        per: Option<String>,
        /// Print one JSON object and nothing else
        #[arg(long)]
        json: bool,
    },
    /// Say which wheel to lift, how many teeth, which way
    #[command(after_help = HOW_TO_SAY)]
    Remesh {
        /// The sheet, a TOML file; - for standard input
        sheet: PathBuf,
        /// What you see of a witness at its moment: once for each you can see
        #[arg(long, value_name = "ID=DEG[~SPREAD]", allow_hyphen_values = true)]
        saw: Vec<String>,
        /// It was read at rest: locked, power let down, pressed lightly on
        #[arg(long, conflicts_with = "slack")]
        rest: bool,
        /// The plate you look at now [default: the sheet's seen_from]
        #[arg(long, value_enum)]
        from: Option<From>,
        /// Go on so many times as far as usual, where something was left untried
        #[arg(long, value_name = "TIMES", default_value_t = 1, conflicts_with = "log", value_parser = clap::value_parser!(u32).range(1..=i64::from(tasks::MOST_PATIENCE)))]
        longer: u32,
        /// Print one JSON object and nothing else
        #[arg(long)]
        json: bool,
        #[command(flatten)]
        log: Box<LogLine>,
    },
    /// Run the strike through its hours: blows, falls and margins, what jams or runs on
    Strike(strike::Strike),
    /// Find the counts that are missing or in doubt: all that fit, the likeliest first
    Count(Box<count::Count>),
    /// Plan the oil: where, what kind, how much, in what order, what stays dry, when to come back
    Oil(oil::Oil),
    /// Tell what drives each train: torque, turns, energy, run, and what comes down to the last arbor
    Power(Box<power::Power>),
    /// Tell a pendulum's length, rate and nut: from what is there to what is wanted
    Pendulum(Box<pendulum::Pendulum>),
    /// Tell every figure that is held to be so where nothing was measured, and why
    Assumptions(assumed::Assumptions),
    /// Say in what order arbors go in, and where to hold them
    Order {
        /// The sheet, a TOML file; - for standard input
        sheet: PathBuf,
        /// An arbor that is out; once for each [default: all of them]
        #[arg(long, value_name = "ARBOR")]
        out: Vec<String>,
        /// Print one JSON object and nothing else
        #[arg(long)]
        json: bool,
    },
}

/// What to remember, and what has happened since.
#[derive(clap::Args, Default)]
#[command(next_help_heading = "With a log")]
struct LogLine {
    /// Remember in this file what is seen and done, and go by all that is in it
    #[arg(long, value_name = "FILE")]
    log: Option<PathBuf>,
    /// The train hung loose for this look, not pressed on
    #[arg(long, requires = "log")]
    slack: bool,
    /// What you see is how it stood while it struck right: at rest, before anything was let down or moved; with the hours that were
    /// watched
    #[arg(long, value_name = "HOURS", requires_all = ["log", "saw"], conflicts_with = "slack", num_args = 0..=1, require_equals = true, value_parser = clap::value_parser!(u16).range(1..))]
    stood: Option<Option<u16>>,
    /// What was advised was done as said; of several shifts only these, by their numbers
    #[arg(long, value_name = "N", requires = "log", num_args = 0..=1, require_equals = true, value_delimiter = ',')]
    done: Option<Vec<usize>>,
    /// This was done instead: teeth ahead +, back -; once for each mesh of one opening
    #[arg(
        long,
        value_name = "DRIVER:DRIVEN=TEETH",
        requires = "log",
        conflicts_with = "done"
    )]
    did: Vec<String>,
    /// The last shift went the other way; of several since the last look only these, by their numbers
    #[arg(long, value_name = "N", requires = "log", num_args = 0..=1, require_equals = true, value_delimiter = ',')]
    other_way: Option<Vec<usize>>,
    /// A mesh slipped so many teeth
    #[arg(long, value_name = "DRIVER:DRIVEN=TEETH", requires = "log")]
    slipped: Vec<String>,
    /// An arbor jumped out and was put back at any tooth
    #[arg(long, value_name = "ARBOR", requires = "log")]
    jumped: Vec<String>,
    /// A lever was bent: its witness stands so much further ahead
    #[arg(long, value_name = "ID=DEG[~SPREAD]", requires = "log")]
    bent: Vec<String>,
    /// A part was turned on its arbor: its witness stands so much further ahead
    #[arg(long, value_name = "ID=DEG[~SPREAD]", requires = "log")]
    turned: Vec<String>,
    /// An arbor was taken out
    #[arg(long, value_name = "ARBOR", requires = "log")]
    out: Vec<String>,
    /// An arbor was put in
    #[arg(long = "in", value_name = "ARBOR", requires = "log")]
    put_in: Vec<String>,
    /// The hour last struck
    #[arg(long, value_name = "HOUR", requires = "log", value_parser = clap::value_parser!(u8).range(1..=12))]
    struck: Option<u8>,
    /// Take back the last entry, or the one with this number
    #[arg(long, value_name = "N", requires = "log", num_args = 0..=1, require_equals = true)]
    undo: Option<Option<usize>>,
}

impl LogLine {
    /// What is to be entered, in the order in which such things happen: what was done, then what is seen.
    fn asks(
        &self,
        movement: &Movement,
        from: Plate,
        look: LookAsk<'_>,
    ) -> Result<Vec<Ask>, Refusal> {
        let mut asks = Vec::new();
        asks.extend(self.undo.map(Ask::Undo));
        asks.extend(self.struck.map(Ask::Struck));
        let these = |numbers: &Vec<usize>| match numbers[..] {
            [] => Which::All,
            _ => Which::These(numbers.clone()),
        };
        let at_mesh = |written: &String| written::at_mesh(movement, written);
        let moved = |written: &String| written::moved(movement, from, written);
        asks.extend(self.done.as_ref().map(|n| Ask::Done(these(n))));
        if !self.did.is_empty() {
            asks.push(Ask::Did(all(&self.did, at_mesh)?));
        }
        asks.extend(self.other_way.as_ref().map(|n| Ask::OtherWay(these(n))));
        asks.extend(all(&self.slipped, at_mesh)?.into_iter().map(Ask::Slipped));
        asks.extend(self.jumped.iter().cloned().map(Ask::Jumped));
        asks.extend(self.out.iter().cloned().map(Ask::Out));
        asks.extend(self.put_in.iter().cloned().map(Ask::In));
        asks.extend(all(&self.bent, moved)?.into_iter().map(Ask::Bent));
        asks.extend(all(&self.turned, moved)?.into_iter().map(Ask::Turned));
        if let Some(hours) = self.stood {
            asks.push(Ask::Stood {
                readings: look.readings.to_vec(),
                hours,
            });
        } else if !look.readings.is_empty() {
            asks.push(Ask::Saw {
                readings: look.readings.to_vec(),
                tension: match (look.at_rest, self.slack) {
                    (true, _) => LoggedTension::AtRest,
                    (false, true) => LoggedTension::Slack,
                    (false, false) => LoggedTension::Tensioned,
                },
            });
        }
        Ok(asks)
    }
}

fn all<T>(
    said: &[String],
    read: impl Fn(&String) -> Result<T, Refusal>,
) -> Result<Vec<T>, Refusal> {
    said.iter().map(read).collect()
}

const HOW_TO_SAY: &str = "\
Ways to say what you see; ahead (further on the way it runs) is +, short of it is -:
  --saw slot=-1.2                   in degrees of the witness's own arbor
  --saw slot=-1.2~0.1               with its spread, one standard deviation
  --saw slot=edge-short             as it looks: in, edge-short, edge-ahead, rim (needs slot_deg and tip_deg)
  --saw star=-2teeth:second.wheel   in teeth of a part
  --saw star=-1quarter              in quarters of the way from one of its places to the next
  --saw pin=9.5notch                at rest only: how far what locks went, in degrees of the held arbor since the tip fell into its notch
  --saw pin=7:30oclock              as on a clock face, from the plate of --from (needs arm_oclock)

What is taken where nothing is said (a look's spread, how the train is held, hands that go the wrong way): trundle assumptions

Before the plates are spread, let every spring down with a proper key or clamp it, and take weights off.";

#[derive(Clone, Copy, ValueEnum)]
enum From {
    /// The dial side
    Front,
    /// The other one
    Back,
}

impl std::convert::From<From> for Plate {
    fn from(from: From) -> Plate {
        match from {
            From::Front => Plate::Front,
            From::Back => Plate::Back,
        }
    }
}

/// Options that may be followed by numbers.
const NUMBERED: [&str; 4] = ["--done", "--other-way", "--undo", "--stood"];

/// The command line with the numbers after such an option joined to it: what follows and is no number is the sheet.
fn joined(words: impl Iterator<Item = OsString>) -> Vec<OsString> {
    let mut joined: Vec<OsString> = Vec::new();
    for word in words {
        let number = (word.to_str())
            .is_some_and(|w| !w.is_empty() && w.bytes().all(|b| b.is_ascii_digit() || b == b','));
        match joined.last_mut() {
            Some(last) if number && NUMBERED.iter().any(|option| last == option) => {
                last.push("=");
                last.push(word);
            }
            _ => joined.push(word),
        }
    }
    joined
}

fn main() -> ExitCode {
    let line = match Line::try_parse_from(joined(std::env::args_os())) {
        Ok(line) => line,
        Err(said) if said.use_stderr() => {
            tell(&said.render().to_string());
            return ExitCode::from(2);
        }
        Err(said) => said.exit(),
    };
    run(line.command).unwrap_or_else(|failure| {
        tell(&failure.text());
        ExitCode::from(failure.status())
    })
}

fn run(command: Command) -> Result<ExitCode, Failure> {
    match command {
        Command::Assumptions(assumptions) => assumptions.run(),
        Command::Bench(bench) => bench.run(),
        Command::Listen(listen) => listen.run(),
        Command::Strike(strike) => strike.run(),
        Command::Book(keeping) => keeping.run(),
        Command::Count(count) => count.run(),
        Command::Oil(oil) => oil.run(),
        Command::Power(power) => power.run(),
        Command::Pendulum(pendulum) => pendulum.run(),
        Command::Check(check) => check.run(),
        Command::Sheet(sheet) => sheet.run(),
        Command::Keys { kinds } => {
            let page = match kinds {
                true => report::en::kinds(),
                false => report::en::keys(),
            };
            print(&page)?;
            Ok(ExitCode::SUCCESS)
        }
        Command::Train {
            sheet,
            per,
            json: as_json,
        } => {
            let text = read_sheet(&sheet)?;
            let (movement, per) = tasks::train(&text, per.as_deref())
                .map_err(|refusal| wrong(&shown_name(&sheet), &text, refusal))?;
            if as_json {
                print(&json::text(&json::TrainAnswer::of(&movement, per)))?;
            } else {
                print(&report::en::train_text(&movement, per))?;
            }
            Ok(ExitCode::SUCCESS)
        }
        Command::Order {
            sheet,
            out,
            json: as_json,
        } => {
            let text = read_sheet(&sheet)?;
            let ordered = progress::told_while(
                || tasks::order(&text, &out),
                |waited| report::en::order_still(waited.as_secs()),
            );
            let (movement, order) =
                ordered.map_err(|refusal| wrong(&shown_name(&sheet), &text, refusal))?;
            print(&if as_json {
                json::text(&json::OrderAnswer::of(&movement, &order))
            } else {
                report::en::order_text(&movement, &order)
            })?;
            Ok(ExitCode::SUCCESS)
        }
        Command::Remesh {
            sheet,
            saw,
            rest,
            from,
            longer,
            json: as_json,
            log,
        } => {
            let text = read(&sheet)?;
            let name = shown_name(&sheet);
            let wrong = |refusal| wrong(&name, &text, refusal);
            let sheet = tasks::check_timed(&text).map_err(|faults| wrong(faults.into()))?;
            for warning in &sheet.warnings {
                tell(&carets::warning(&name, &text, warning));
            }
            for line in check::again(&sheet.movement) {
                tell(&(line + "\n"));
            }
            let from = from.map(Plate::from);
            let plate = from.unwrap_or(sheet.movement.seen_from());
            let saw = written::readings(&sheet.movement, plate, &saw);
            if let Some(path) = &log.log {
                let readings = saw.map_err(wrong)?;
                let look = LookAsk {
                    readings: &readings,
                    at_rest: rest,
                };
                let asks = log.asks(&sheet.movement, plate, look);
                let asks = asks.map_err(wrong)?;
                let read_of = logged::SheetRead {
                    name: &name,
                    text: &text,
                    sheet: Arc::new(sheet),
                };
                let timing = progress::told_while(
                    || logged::note(path, &read_of, &asks, from),
                    |waited| report::en::still_at_it(waited.as_secs()),
                )?;
                flag(&timing.sheet.movement, look);
                return tell_timing(&timing, as_json);
            }
            let saw = saw.map_err(wrong)?;
            let look = LookAsk {
                readings: &saw,
                at_rest: rest,
            };
            let waiting = Waiting::until(progress::stop_on_interrupt());
            let remesh = progress::told_while(
                || tasks::remesh_watched(sheet, look, from, longer, &waiting),
                |_| report::en::remesh_so_far(waiting.steps(), longer),
            );
            if waiting.stop.load(Ordering::Relaxed) {
                tell(&format!("{}\n", report::en::remesh_stopped()));
            }
            let remesh = remesh.map_err(wrong)?;
            let movement = &remesh.sheet.movement;
            flag(movement, look);
            if as_json {
                let mut answer = json::LookAnswer::of(movement, &remesh.answer, remesh.from);
                let usual = remesh.at_rest.as_deref();
                answer.at_rest = usual.map(|usual| json::AtRestAnswer::of(movement, usual));
                print(&json::text(&answer))?;
            } else {
                let text = report::en::remesh_text(movement, &remesh.answer, remesh.from);
                let at_rest = remesh.at_rest.as_deref().map(|usual| {
                    let said = report::en::read_at_rest(movement, usual);
                    format!("{said}\n")
                });
                print(&(text + &at_rest.unwrap_or_default()))?;
            }
            Ok(match remesh.answer.cure {
                Cure::NoMesh(_) => ExitCode::from(3),
                _ => ExitCode::SUCCESS,
            })
        }
    }
}

/// Readings that are answered, and that may be slips.
fn flag(movement: &Movement, look: LookAsk<'_>) {
    for (seen, reading) in tasks::far_off(movement, look) {
        tell(&format!(
            "trundle: {}\n",
            report::en::far_off(&timing::written(seen), &reading)
        ));
    }
}

fn tell_timing(timing: &tasks::TimingState, as_json: bool) -> Result<ExitCode, Failure> {
    let movement = &timing.sheet.movement;
    let (recalled, advice, places) = (&timing.recalled, &timing.advice, &timing.places[..]);
    let changed = tasks::since_before(&timing.log, movement);
    let changed = (!changed.is_empty()).then(|| report::changed(&Locale::default(), &changed));
    print(&if as_json {
        let mut answer = json::LoggedAnswer::of(movement, recalled, advice, places, timing.from);
        answer.changed = changed;
        answer.stood = json::StoodAnswer::all(movement, &timing.stood);
        json::text(&answer)
    } else {
        let text = report::en::log_text(timing);
        [Some(text), changed.map(|line| line + "\n")]
            .into_iter()
            .flatten()
            .collect()
    })?;
    Ok(match advice.act {
        Act::NoMesh => ExitCode::from(3),
        _ => ExitCode::SUCCESS,
    })
}
