//! `trundle pendulum`: from what is there to what is wanted.

use crate::output;
use crate::streams::{Failure, print, read_sheet, shown_name, wrong};
use report::json;
use std::path::PathBuf;
use std::process::ExitCode;
use tasks::PendulumAsk;

/// What is there, and what is wanted.
#[derive(clap::Args)]
#[command(after_help = HOW)]
pub(crate) struct Pendulum {
    /// A sheet with an escape wheel, a TOML file; - for standard input
    sheet: Option<PathBuf>,
    /// Beats an hour [default: those of the sheet's train]
    #[arg(long, value_name = "N[/min]")]
    beats: Option<String>,
    /// From the bend of the suspension to the middle of the bob
    #[arg(long, value_name = "LENGTH")]
    length: Option<String>,
    /// Degrees from the equator
    #[arg(long, value_name = "DEG", allow_hyphen_values = true)]
    latitude: Option<String>,
    /// Above the sea
    #[arg(
        long,
        value_name = "LENGTH",
        requires = "latitude",
        allow_hyphen_values = true
    )]
    height: Option<String>,
    /// The latitude it is taken to
    #[arg(
        long,
        value_name = "DEG",
        requires = "latitude",
        allow_hyphen_values = true
    )]
    moved_to: Option<String>,
    /// The height above the sea it is taken to
    #[arg(
        long,
        value_name = "LENGTH",
        requires = "latitude",
        allow_hyphen_values = true
    )]
    moved_up: Option<String>,
    /// How far it swings to one side
    #[arg(long, value_name = "DEG")]
    half_arc: Option<String>,
    /// How far it is to swing
    #[arg(long, value_name = "DEG", requires = "half_arc")]
    arc_to: Option<String>,
    /// What the rod is of: wood, steel, iron, brass, zinc, glass, nickel-steel, quartz
    #[arg(long, value_name = "WORD")]
    rod: Option<String>,
    /// How much warmer it gets
    #[arg(
        long,
        value_name = "DEGREES",
        requires = "rod",
        allow_hyphen_values = true
    )]
    warmer: Option<String>,
    /// What the clock gains in a day; less than nothing where it loses
    #[arg(long, value_name = "RATE", allow_hyphen_values = true)]
    gains: Option<String>,
    /// How far the rating nut goes in one turn
    #[arg(long, value_name = "LENGTH", conflicts_with = "nut_threads")]
    nut_pitch: Option<String>,
    /// Threads of the nut to the inch
    #[arg(long, value_name = "N")]
    nut_threads: Option<String>,
    /// Divisions on the nut's edge
    #[arg(long, value_name = "N")]
    nut_divisions: Option<std::num::NonZeroU16>,
    /// Mass of bob and rod
    #[arg(long, value_name = "MASS")]
    mass: Option<String>,
    /// A small weight to lay on
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    small: Option<String>,
    /// Where it lies below the suspension [default: half way down]
    #[arg(long, value_name = "LENGTH", requires = "small")]
    below: Option<String>,
    /// The suspension spring, all its strips together, free between its chops
    #[arg(long, value_name = "WIDTHxTHICKxLONG")]
    suspension: Option<String>,
    /// A strip in its place [default: one a tenth thicker]
    #[arg(long, value_name = "WIDTHxTHICKxLONG")]
    suspension_to: Option<String>,
    /// What the bob is of, for the air: lead, brass, iron, zinc, mercury
    #[arg(long, value_name = "WORD")]
    bob: Option<String>,
    /// The air now and then, in hectopascals
    #[arg(long, value_name = "FROM..TO", requires = "bob")]
    pressure: Option<String>,
    /// A piece of the pendulum; once for each
    #[arg(long = "part", value_name = "MASS@PLACE", allow_hyphen_values = true)]
    parts: Vec<String>,
    /// The ribbon of a torsion pendulum
    #[arg(long, value_name = "WIDTHxTHICKxLONG")]
    ribbon: Option<String>,
    /// A disc that turns on it
    #[arg(long, value_name = "MASS@DIAMETER", conflicts_with = "balls")]
    disc: Option<String>,
    /// Balls or a ring that turn on it
    #[arg(long, value_name = "MASS@RADIUS")]
    balls: Option<String>,
    #[command(flatten)]
    out: output::Output,
}

const HOW: &str = "\
Lengths are in mm, cm, m or in; masses in g, kg, oz or lb; rates in s/day, min/day or s/week; warmth in C or F. After ~ stands one
standard deviation: 39.14in~0.02. A measurement without it has that of the usual tools.

A pendulum in pieces, places below the suspension:
  --part 5.2kg@980mm:disc=160mm  a bob that is a disc or lens, and how wide it is across
  --part 0.4kg@0..1010mm         a rod of one thickness
  --part 30g@1015mm              a nut, or anything small

On a sheet, on the escape wheel's arbor: pendulum_mm, pendulum_half_arc_deg, pendulum_g, pendulum_nut_mm,
suspension_mm, suspension_wide_mm, suspension_thick_mm, beats_per_turn.";

impl Pendulum {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let text = self.sheet.as_deref().map(read_sheet).transpose()?;
        let name = self.sheet.as_deref().map(shown_name).unwrap_or_default();
        let ask = PendulumAsk {
            beats: self.beats,
            length: self.length,
            latitude: self.latitude,
            height: self.height,
            moved_to: self.moved_to,
            moved_up: self.moved_up,
            half_arc: self.half_arc,
            arc_to: self.arc_to,
            rod: self.rod,
            warmer: self.warmer,
            gains: self.gains,
            nut_pitch: self.nut_pitch,
            nut_threads: self.nut_threads,
            nut_divisions: self.nut_divisions.map(u16::from),
            mass: self.mass,
            small: self.small,
            below: self.below,
            suspension: self.suspension,
            suspension_to: self.suspension_to,
            bob: self.bob,
            pressure: self.pressure,
            parts: self.parts,
            ribbon: self.ribbon,
            disc: self.disc,
            balls: self.balls,
        };
        let told = tasks::pendulum(text.as_deref(), &ask)
            .map_err(|refusal| wrong(&name, text.as_deref().unwrap_or_default(), refusal))?;
        self.out
            .draw(|| report::pendulum::drawing(&self.out.locale(), &told).file())?;
        let name = told.movement.as_ref().map(movement::Movement::name);
        print(&if self.out.json {
            json::text(&json::PendulumAnswer::of(name, &told.said, &told.wants))
        } else {
            report::pendulum::pendulum_text(&self.out.voice(), &told)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}
