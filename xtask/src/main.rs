//! Runs work on the house. The clock and what machine this is are read here and nowhere else.

use clap::{Parser, Subcommand};
use jiff::Timestamp;
use jiff::tz::TimeZone;
use std::path::Path;
use std::process::ExitCode;
use std::time::Instant;
use xtask::openings::{fleet, study, table};
use xtask::schemas;

/// Work on the house itself.
#[derive(Parser)]
#[command(name = "cargo xtask")]
struct Line {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Play fleets of mis-timed movements and tell how often the plates were spread
    Openings(Openings),
    /// Write the schemas of what the commands print, one for each command
    Schemas,
}

#[derive(clap::Args)]
struct Openings {
    /// Movements of each fleet under each condition
    #[arg(long, default_value_t = 400, value_parser = clap::value_parser!(u64).range(2..1_000_000))]
    movements: u64,
    /// Only this fleet
    #[arg(long)]
    fleet: Option<String>,
    /// Only with readings as stated, not with readings twice and half as bad
    #[arg(long)]
    stated: bool,
    /// Only with hands as the tool supposes them
    #[arg(long)]
    usual: bool,
    /// Each movement as the first of its book, with nothing known of the eye beforehand
    #[arg(long)]
    first: bool,
    /// Beside it the same tool reading at rest, where the sheet says what locks, in place of trial and error
    #[arg(long)]
    rest: bool,
    /// No width was measured: each window that the tool goes by lies off by this part of half its width
    #[arg(long, value_name = "PART", value_parser = part)]
    off: Option<f64>,
    /// After it was read once as it stood while it struck right, where the sheet says what locks
    #[arg(long, requires = "off")]
    stood: bool,
}

/// A part from 0 to 1.
fn part(text: &str) -> Result<f64, String> {
    let part = text.parse().ok().filter(|part| (0.0..=1.0).contains(part));
    part.ok_or_else(|| "a part from 0 to 1 is meant".to_owned())
}

fn main() -> ExitCode {
    match Line::parse().task {
        Task::Openings(asked) => openings(&asked),
        Task::Schemas => write_schemas(),
    }
}

fn write_schemas() -> ExitCode {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("..");
    match schemas::write(&root.join(schemas::FOLDER)) {
        Ok(count) => {
            println!("{count} schemas are in {}", schemas::FOLDER);
            ExitCode::SUCCESS
        }
        Err(why) => {
            eprintln!(
                "the schemas could not be written to {}: {why}",
                schemas::FOLDER
            );
            ExitCode::FAILURE
        }
    }
}

fn openings(asked: &Openings) -> ExitCode {
    let times: &[f64] = if asked.stated {
        &[1.0]
    } else {
        &[1.0, 2.0, 0.5]
    };
    let tool = if asked.first {
        study::Who::First
    } else {
        study::Who::Tool
    };
    let other = if asked.rest {
        study::Who::Resting
    } else {
        study::Who::Trial
    };
    let players = [study::Who::Bound, tool, other];
    let fleets = fleet::all();
    let chosen: Vec<&fleet::Fleet> = fleets
        .iter()
        .filter(|f| (asked.fleet.as_deref()).is_none_or(|name| name == f.name))
        .collect();
    if chosen.is_empty() {
        let names: Vec<&str> = fleets.iter().map(|fleet| fleet.name).collect();
        eprintln!("no such fleet; there are {}", names.join(", "));
        return ExitCode::from(2);
    }
    println!("The study of openings, {}, on {}", today(), machine());
    let begun = Instant::now();
    let mut tallies = Vec::new();
    let hands: &[study::Hands] = if asked.usual {
        &[study::USUAL]
    } else {
        &[study::SURE, study::SLIPPING, study::USUAL, study::CLUMSY]
    };
    if let Some(off) = asked.off {
        println!("No width was measured: the tool's windows lie off by {off} of half their width.");
        if asked.stood {
            println!("Each movement was read once as it stood while it struck right.");
        }
    }
    let course = study::Course {
        times,
        players: &players,
        movements: asked.movements,
        off: asked.off,
        stood: asked.stood,
    };
    for &hands in hands {
        for fleet in &chosen {
            eprintln!(
                "{:>4.0} s: {}, {hands:?}",
                begun.elapsed().as_secs_f64(),
                fleet.name
            );
            tallies.extend(study::play(fleet, hands, &course));
        }
    }
    print!("{}", table::told(&tallies));
    println!("\nIt took {:.0} s.", begun.elapsed().as_secs_f64());
    ExitCode::SUCCESS
}

/// The date by universal time, year first.
fn today() -> String {
    Timestamp::now().to_zoned(TimeZone::UTC).date().to_string()
}

/// What the system says of the processor, and how many of it.
fn machine() -> String {
    let told = std::fs::read_to_string("/proc/cpuinfo").unwrap_or_default();
    let model = told
        .lines()
        .find(|line| line.starts_with("model name"))
        .and_then(|line| line.split_once(": "));
    let cores = std::thread::available_parallelism().map_or(1, usize::from);
    format!(
        "{} ({} cores), of which it uses one",
        model.map_or(std::env::consts::ARCH, |(_, model)| model),
        cores
    )
}
