//! The published figures of `outside/strikes.toml`, each row a test of its own name, by running the clock through its hours.

use libtest_mimic::{Arguments, Failed, Trial};
use movement::Movement;
use num_traits::ToPrimitive;
use quantity::{Exact, parse_decimal, whole};
use serde::Deserialize;
use std::process::ExitCode;
use strike::{Event, StrikeEvent, Struck, strike};

const ROOT: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Rows {
    row: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    name: String,
    source: String,
    mark: String,
    sheet: String,
    ask: Ask,
    /// What the answer is multiplied by, to come to the printed unit.
    times: Option<String>,
    /// What is printed as a bound that the answer must lie under.
    below: Option<String>,
    is: String,
    note: Option<String>,
}

/// What is asked of a run.
#[derive(Deserialize)]
#[serde(rename_all = "snake_case", deny_unknown_fields)]
enum Ask {
    /// Blows of the cycle.
    Total,
    /// Blows of so many hours from the start, the cycle going on.
    FirstHours(usize),
    /// Single blows after twelve and before two.
    SinglesBetweenTwelveAndTwo,
    /// Turns of an arbor in the cycle.
    Turns(String),
    /// The warning run, in turns of its wheel, the same at every hour.
    WarningTurns,
    /// From the drop until the pin meets its arm, in turns, the same at every hour.
    LeadTurns,
    /// From the hammer tail at rest to the next pin, in pitches, the same at every hour.
    HammerAtRestPitches,
    /// The longest gap between blows at one time, in the shortest.
    Gaps { of: String, at_minute: u32 },
    /// How many of the shortest gap go into a turn.
    Division { of: String, at_minute: u32 },
    /// Notes of the chime in an hour.
    NotesAnHour,
    /// Degrees of the rack to a tooth.
    RackDegreesATooth,
}

fn main() -> ExitCode {
    let text = std::fs::read_to_string(format!("{ROOT}/outside/strikes.toml")).expect("the rows");
    let rows: Rows = toml::from_str(&text).expect("rows");
    let trials = rows
        .row
        .into_iter()
        .map(|row| Trial::test(row.name.clone(), move || row.check().map_err(Failed::from)))
        .collect();
    libtest_mimic::run(&Arguments::from_args(), trials).exit_code()
}

fn exact(text: &str) -> Exact {
    let number = |s: &str| parse_decimal(s).expect("a number");
    match text.split_once('/') {
        Some((over, under)) => number(over) / number(under),
        None => number(text),
    }
}

fn count(n: usize) -> Exact {
    Exact::from_integer(n.into())
}

impl Row {
    fn check(&self) -> Result<(), String> {
        if self.source.trim().is_empty() || !["seen", "computed"].contains(&self.mark.as_str()) {
            return Err("no source".to_owned());
        }
        assert!(self.note.as_ref().is_none_or(|note| !note.is_empty()));
        let text =
            std::fs::read(format!("{ROOT}/{}.toml", self.sheet)).map_err(|e| e.to_string())?;
        let movement = sheet::read(&text).map_err(|f| format!("{f:#?}"))?.movement;
        let struck = strike(&movement, &[], true).map_err(|unfit| format!("{unfit:?}"))?;
        if let Some(wrong) = struck.hours.iter().find(|hour| !hour.is_number_right()) {
            return Err(format!("{wrong:#?}"));
        }
        let mut got = self
            .ask
            .of(&movement, &struck)
            .ok_or("nothing to answer with")?;
        if let Some(times) = &self.times {
            got *= exact(times);
        }
        if got != exact(&self.is) {
            return Err(format!("got {got}, not {}", self.is));
        }
        match &self.below {
            Some(below) if got >= exact(below) => Err(format!("{got} is not below {below}")),
            _ => Ok(()),
        }
    }
}

impl Ask {
    fn of(&self, movement: &Movement, struck: &Struck) -> Option<Exact> {
        let hours = &struck.hours;
        let locks = || hours.iter().filter_map(|hour| hour.lock.as_ref());
        Some(match self {
            Ask::Total => whole(struck.total().into()),
            Ask::FirstHours(first) => {
                let blows = hours.iter().map(|hour| hour.blows).cycle().take(*first);
                whole(blows.sum::<u32>().into())
            }
            Ask::SinglesBetweenTwelveAndTwo => {
                let between = hours.iter().filter(|hour| hour.minutes < 120);
                count(between.filter(|hour| hour.blows == 1).count())
            }
            Ask::Turns(of) => {
                let arbor = movement.find_arbor(of)?.index();
                let locked = |e: &&Event| matches!(e.seen, StrikeEvent::Locked { .. });
                // All trains have come to rest with the last event that is a lock before the hand moves.
                let at_start = |e: &&Event| e.pose.hours == whole(0);
                let start = struck.events.iter().filter(at_start).rfind(locked)?;
                let end = struck.events.last()?;
                let gone = &end.pose.arbors[arbor] - &start.pose.arbors[arbor];
                gone.exact() / whole(360)
            }
            Ask::WarningTurns => {
                let warned = hours.iter().map(|hour| hour.warned.as_ref());
                the_same(warned.map(|warned| Some(warned?.turns.clone())))?
            }
            Ask::LeadTurns => {
                let leads = locks().map(|lock| Some(lock.lead.as_ref()?.exact() / whole(360)));
                the_same(leads)?
            }
            Ask::HammerAtRestPitches => the_same(locks().map(|lock| {
                let [hammer] = &lock.hammers[..] else {
                    return None;
                };
                let pins = whole(8);
                hammer
                    .at_rest
                    .then(|| hammer.until.exact() / whole(360) * pins)
            }))?,
            Ask::Gaps { of, at_minute } => {
                let gaps = gaps(movement, struck, of, *at_minute)?;
                gaps.iter().max()? / gaps.iter().min()?
            }
            Ask::Division { of, at_minute } => gaps(movement, struck, of, *at_minute)?
                .into_iter()
                .min()?
                .recip(),
            Ask::NotesAnHour => {
                let notes: u32 = hours.iter().take(4).map(|hour| hour.notes).sum();
                whole(notes.into())
            }
            Ask::RackDegreesATooth => movement.works()?.rack()?.tooth.exact().clone(),
        })
    }
}

/// What is the same every time.
fn the_same(mut all: impl Iterator<Item = Option<Exact>>) -> Option<Exact> {
    let first = all.next()??;
    all.all(|other| other.as_ref() == Some(&first))
        .then_some(first)
}

/// Turns of an arbor from blow to blow at one time.
fn gaps(movement: &Movement, struck: &Struck, of: &str, at_minute: u32) -> Option<Vec<Exact>> {
    let arbor = movement.find_arbor(of)?.index();
    let blows = struck.events.iter().filter(|event| {
        let minute = (&event.pose.hours * whole(60)).to_integer().to_u32();
        matches!(event.seen, StrikeEvent::Blow(_)) && minute == Some(at_minute)
    });
    let places: Vec<Exact> = blows
        .map(|e| e.pose.arbors[arbor].exact() / whole(360))
        .collect();
    let next = places.iter().skip(1);
    Some(
        places
            .iter()
            .zip(next)
            .map(|(here, next)| next - here)
            .collect(),
    )
}
