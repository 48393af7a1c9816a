//! Listening: opens the recording, says how far it is, prints what was heard.

use crate::output::write_drawing;
use crate::progress::stop_on_interrupt;
use crate::streams::{Failure, print, read_sheet, shown_name, tell, wrong};
use clap::Args;
use report::{Locale, Voice, json, listen as said, machine};
use std::io::{IsTerminal, Read};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::atomic::Ordering;
use std::time::{Duration, Instant};
use tasks::QuestionFault;
use tasks::listening::ExpectedClock;

/// How often it is said, where somebody looks on, how far it is.
const SHOWN_EVERY: Duration = Duration::from_secs(5);

#[derive(Args)]
pub(crate) struct Listen {
    /// The recording: WAV, FLAC, MP3 or Ogg Vorbis; - for standard input. Control-C stops it and tells what was heard so far
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
        let locale = Locale::default();
        let voice = Voice::Command(locale);
        let odd = |why: String| Failure::Wrong(format!("trundle: {why}"));
        let recorder = tasks::listening::recorder(self.clock_ppm.as_deref())
            .map_err(|why| wrong("", b"", why.into()))?;
        for (name, value) in [("arc", self.arc), ("nut", self.nut)] {
            if value.is_some_and(|x| !(x.is_finite() && x > 0.0)) {
                return Err(wrong("", b"", QuestionFault::NoNumber(name).into()));
            }
        }
        let mut expected = match &self.sheet {
            Some(path) => {
                let text = read_sheet(path)?;
                let sheet = tasks::check(&text)
                    .map_err(|faults| wrong(&shown_name(path), &text, faults.into()))?;
                tasks::listening::expected(&sheet.movement)
            }
            None => ExpectedClock::default(),
        };
        expected.left_at_s = self.left_at;
        expected.arc_deg = self.arc.or(expected.arc_deg);
        expected.nut_mm = self.nut.or(expected.nut_mm);
        let name = shown_name(&self.file);
        let stopped = stop_on_interrupt();
        let mut shown = std::io::stderr().is_terminal().then(Instant::now);
        let progress = |seconds: f64| {
            if let Some(last) = &mut shown
                && last.elapsed() > SHOWN_EVERY
            {
                *last = Instant::now();
                tell(&format!("{}\n", said::listened(&locale, seconds)));
            }
            if stopped.load(Ordering::Relaxed) {
                ControlFlow::Break(())
            } else {
                ControlFlow::Continue(())
            }
        };
        let heard = tasks::listening::hear(open(&self.file)?, progress)
            .map_err(|why| refused(said::not_sound(&voice, &name, &why), &why))?;
        let ended = heard.ended;
        let found = tasks::listening::find(heard.heard, &expected, recorder);
        if let Some(path) = &self.plot
            && let Some(plot) = said::plot(&locale, &found, &expected)
        {
            write_drawing(path, &plot.file_to_scale())?;
        }
        if let Some(unfit) = found.unfit {
            let why = said::unfit_said(&locale, &unfit);
            return Err(odd(format!("{name}: {why}")));
        }
        print(&if self.json {
            json::text(&json::ListenAnswer::of(&found, ended))
        } else {
            said::listen_text(&voice, &found, ended)
        })?;
        Ok(ExitCode::SUCCESS)
    }
}

/// What cannot be read is a failure outside; what is no sound is wrong.
fn refused(said: String, why: &tasks::listening::NotSound) -> Failure {
    match why {
        tasks::listening::NotSound::Io(..) => Failure::Outside(said),
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
            &machine(&Locale::default(), &error),
        ))),
    }
}
