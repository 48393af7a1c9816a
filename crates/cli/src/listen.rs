//! Listening: opens the recording, says how far it is, prints what was heard.

use crate::{Failure, pretty, print, read, shown_name, wrong};
use clap::Args;
use std::io::{IsTerminal, Read};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use tasks::listening::{Expected, Recorder};

#[derive(Args)]
pub(crate) struct Listen {
    /// The recording: WAV, FLAC, MP3 or Ogg Vorbis; - for standard input
    file: PathBuf,
    /// The clock's sheet: its train says what rate is right and which arbors there are, its strike what is due
    #[arg(long, value_name = "SHEET")]
    sheet: Option<PathBuf>,
    /// The recorder's clock was compared with known time: how surely it is known, or by how much it runs fast and how surely, in
    /// parts in a million, one standard deviation [default: 50]
    #[arg(long, value_name = "[FAST~]SPREAD", allow_hyphen_values = true)]
    clock_ppm: Option<String>,
    /// When somebody tapped, the pendulum at the left end of its swing, in seconds from the beginning
    #[arg(long, value_name = "SECONDS")]
    left_at: Option<f64>,
    /// The pendulum's arc on one side of rest
    #[arg(long, value_name = "DEGREES")]
    arc: Option<f64>,
    /// How far one turn of the rating nut moves the bob
    #[arg(long, value_name = "MILLIMETRES")]
    nut: Option<f64>,
    /// Draw how it gains or loses, tick and tock, into this SVG file
    #[arg(long, value_name = "FILE")]
    plot: Option<PathBuf>,
    /// Print one JSON object and nothing else
    #[arg(long)]
    json: bool,
}

impl Listen {
    pub(crate) fn run(self) -> Result<ExitCode, Failure> {
        let said = |why: String| Failure::Wrong(format!("trundle: {why}"));
        let recorder = recorder(self.clock_ppm.as_deref()).map_err(said)?;
        for (name, value) in [("--arc", self.arc), ("--nut", self.nut)] {
            if value.is_some_and(|x| !(x.is_finite() && x > 0.0)) {
                return Err(said(report::en::listen::bad_number(name)));
            }
        }
        let mut expected = match &self.sheet {
            Some(path) => {
                let text = read(path)?;
                tasks::listening::expected(&text)
                    .map_err(|refusal| wrong(&shown_name(path), &text, refusal))?
            }
            None => Expected::default(),
        };
        expected.left_at_s = self.left_at;
        expected.arc_deg = self.arc;
        expected.nut_mm = self.nut;
        let name = shown_name(&self.file);
        let shown = std::io::stderr().is_terminal();
        let progress = |seconds: f64| {
            if shown {
                eprintln!("{}", report::en::listen::listened(seconds));
            }
            ControlFlow::Continue(())
        };
        let (heard, ended) = tasks::listening::hear(open(&self.file)?, progress)
            .map_err(|why| refused(report::en::listen::not_sound(&name, &why), &why))?;
        let found = tasks::listening::find(heard, &expected, recorder);
        if let Some(path) = &self.plot
            && let Some(svg) = tasks::listening::plot(&found, &expected)
        {
            std::fs::write(path, svg).map_err(|error| {
                Failure::Outside(report::en::cannot_write(&format!(
                    "{}: {error}",
                    path.display()
                )))
            })?;
        }
        if let Some(unfit) = found.unfit {
            return Err(said(format!(
                "{name}: {}",
                report::en::listen::unfit_said(&unfit)
            )));
        }
        print(&if self.json {
            pretty(&report::listen_json(&found, ended))
        } else {
            report::en::listen::listen_text(&found, ended)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}

/// What cannot be read is a failure outside; what is no sound is wrong.
fn refused(said: String, why: &tasks::listening::NotSound) -> Failure {
    match why {
        tasks::listening::NotSound::Io(_) => Failure::Outside(said),
        _ => Failure::Wrong(format!("trundle: {said}")),
    }
}

fn open(path: &Path) -> Result<Box<dyn Read + Send + Sync>, Failure> {
    if path == Path::new("-") {
        return Ok(Box::new(std::io::stdin()));
    }
    match std::fs::File::open(path) {
        Ok(file) => Ok(Box::new(file)),
        Err(error) => Err(Failure::Outside(report::en::cannot_read(
            &shown_name(path),
            &error.to_string(),
        ))),
    }
}

/// `SPREAD`, or `FAST~SPREAD`.
fn recorder(said: Option<&str>) -> Result<Recorder, String> {
    let Some(said) = said else {
        return Ok(Recorder::default());
    };
    let number = |text: &str| {
        text.trim()
            .parse::<f64>()
            .ok()
            .filter(|x| x.is_finite() && x.abs() <= 1e5)
    };
    let (fast, spread) = match said.split_once('~') {
        Some((fast, spread)) => (number(fast), number(spread)),
        None => (Some(0.0), number(said)),
    };
    match (fast, spread) {
        (Some(fast_ppm), Some(spread_ppm)) if spread_ppm >= 0.0 => Ok(Recorder {
            fast_ppm,
            spread_ppm,
        }),
        _ => Err(report::en::listen::bad_clock(said)),
    }
}
