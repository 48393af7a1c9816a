//! Listening: a recording as bytes, perhaps a sheet, to what was heard, and that to drawings and an entry of the log.

use crate::QuestionFault;
use crate::outline::Outline;
use entries::{Decimal, Kept, Striking, Work};
use kinds::MeasuredPace;
use kinematics::{per_hour, speed};
use listen::{ArborTurn, Cycle, Detector};
pub use listen::{Due, ExpectedClock, Findings, Heard, NotSound, Recorder, SoundEnd, find, unfit};
use movement::{Blows, Movement};
use quantity::{Duration, Known, Length, Slant, parse_known, to_f64, whole};
use std::io::Read;
use std::ops::ControlFlow;
use workshop::pendulum::{escapement, train_beats};

/// What is said beside a sheet, as it was written; each may be left out.
#[derive(Debug, Clone, Copy, Default)]
pub struct ListeningOptions<'a> {
    /// How surely the recorder's clock is known, or by how much it runs fast and how surely.
    pub clock_ppm: Option<&'a str>,
    /// When somebody tapped as the pendulum stood at the left end of its swing, in seconds of the recording.
    pub left_at: Option<&'a str>,
    /// The arc on one side of rest.
    pub arc: Option<&'a str>,
    /// How far one turn of the rating nut moves the bob.
    pub nut: Option<&'a str>,
}

/// What to expect of a clock, from its sheet and what is said beside it; and what is known of the recorder.
///
/// # Errors
/// What was written wrongly.
pub fn expectations(
    movement: Option<&Movement>,
    said: &ListeningOptions<'_>,
) -> Result<(ExpectedClock, Recorder), QuestionFault> {
    let recorder = recorder(said.clock_ppm)?;
    let mut known = movement.map_or_else(ExpectedClock::default, expected);
    let size = |name: &'static str, x: f64| {
        let bad = QuestionFault::NoNumber(name);
        if x > 0.0 { Ok(x) } else { Err(bad) }
    };
    if let Some(arc) = said.arc {
        let deg = parse_known::<Slant>(arc).map_or(0.0, |arc| arc.value.as_deg());
        known.arc_deg = Some(size("arc", deg)?);
    }
    if let Some(nut) = said.nut {
        let mm = parse_known::<Length>(nut).map_or(0.0, |nut| nut.value.as_mm());
        known.nut_mm = Some(size("nut", mm)?);
    }
    if let Some(tap) = said.left_at {
        let seconds = tap.trim().parse::<f64>().ok();
        let seconds = seconds.filter(|s| s.is_finite()).unwrap_or(-1.0);
        known.left_at_s = Some(size("left-at", seconds)?);
    }
    Ok((known, recorder))
}

/// What is known of the recorder's clock: `SPREAD`, or `FAST~SPREAD`, in parts in a million.
///
/// # Errors
/// It is neither.
pub fn recorder(said: Option<&str>) -> Result<Recorder, QuestionFault> {
    let Some(said) = said else {
        return Ok(Recorder::default());
    };
    let number = |text: &str| {
        let number = text.trim().parse::<f64>().ok();
        number.filter(|x| x.is_finite() && x.abs() <= 1e5)
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
        _ => Err(QuestionFault::NoClock(said.to_owned())),
    }
}

/// What to expect of a clock, from its sheet.
pub fn expected(movement: &Movement) -> ExpectedClock {
    let escape = escapement(movement);
    let of_pendulum = |key: &str| {
        let arbor = movement.arbor(escape.as_ref()?.arbor);
        arbor.measured(key).map(to_f64)
    };
    let arbors = escape.as_ref().map_or(Vec::new(), |escape| {
        let of = |(id, arbor): (_, &movement::Arbor)| {
            speed(movement, id, escape.arbor)?;
            let an_hour = per_hour(movement, id)?;
            let turn_s = to_f64(&(whole(3600) / an_hour));
            Some(ArborTurn {
                name: arbor.id.clone(),
                turn_s,
            })
        };
        movement.arbors().filter_map(of).collect()
    });
    ExpectedClock {
        beats_per_hour: escape
            .as_ref()
            .and_then(|escape| train_beats(movement, escape))
            .map(|x| to_f64(&x)),
        arbors,
        cycle: movement.strike().map(|strike| match strike.blows {
            Blows::Hours => Cycle::Hours,
            Blows::HoursAndHalves | Blows::HoursAndPassingHalves => Cycle::HoursAndHalves,
            Blows::HoursAndTenHalves => Cycle::HoursAndTenHalves,
            Blows::ShipsBells => Cycle::ShipsBells,
        }),
        arc_deg: of_pendulum("pendulum_half_arc_deg"),
        nut_mm: of_pendulum("pendulum_nut_mm"),
        ..ExpectedClock::default()
    }
}

/// A recording that was listened to.
#[derive(Debug, Clone, PartialEq)]
pub struct Hearing {
    /// What was heard.
    pub heard: Heard,
    /// How it ended.
    pub ended: SoundEnd,
    /// How loud it was.
    pub outline: Outline,
}

/// Listens to the end, telling with each second how many were heard; the answer may stop it.
///
/// # Errors
/// Why it is no sound.
pub fn hear(
    from: impl Read + Send + Sync + 'static,
    mut on: impl FnMut(f64) -> ControlFlow<()>,
) -> Result<Hearing, NotSound> {
    const TOLD_EVERY_S: f64 = 1.0;
    let mut ear: Option<(Detector, Outline)> = None;
    let mut told = 0.0;
    let ended = listen::decode(from, |sound, rate| {
        let (ear, outline) = ear.get_or_insert_with(|| (Detector::new(rate), Outline::new(rate)));
        outline.hear(sound);
        if !ear.hear(sound) {
            return ControlFlow::Break(());
        }
        if ear.seconds() - told >= TOLD_EVERY_S {
            told = ear.seconds();
            return on(told);
        }
        ControlFlow::Continue(())
    })?;
    let (ear, outline) = ear.ok_or(NotSound::NoSamples)?;
    Ok(Hearing {
        heard: ear.finish(),
        ended,
        outline,
    })
}

/// What was heard, as an entry of the log: a run of so many hours, its rate and its beat with no more figures than they bear, and
/// what is said of them; nothing where nothing was heard that an entry could hold.
pub fn entry(found: &Findings, says: Option<Kept<String>>) -> Option<Work> {
    let figure = |text: &str| Decimal::parse(text).ok();
    let strikes = &found.heard.strikes;
    let struck = (found.due.as_ref().filter(|due| !due.is_empty())).map(|due| {
        let right = due.iter().all(|due| due.wrong(strikes).is_none());
        if right {
            Striking::Right
        } else {
            Striking::Wrong
        }
    });
    Some(Work::TrialRun {
        hours: figure(&short(found.heard.seconds / 3600.0, 3))?,
        rate_s_per_day: (found.rate)
            .and_then(|rate| figure(&good_to(rate.value, 0.5 * (rate.high - rate.low)))),
        beat_error_ms: (found.pace.as_ref()).and_then(|pace| {
            let spread = 2e3 * pace.out_of_beat_spread_s;
            figure(&good_to(1e3 * pace.out_of_beat_s, spread))
        }),
        arc_deg: None,
        struck,
        says,
    })
}

/// A number with so many figures.
fn short(x: f64, figures: i32) -> String {
    let first = x.abs().max(1e-9).log10().floor();
    let places = (0..=9_u8).find(|p| f64::from(*p) >= f64::from(figures - 1) - first);
    format!("{x:.*}", usize::from(places.unwrap_or(9)))
}

/// A number down to the first figure of what it is good to.
fn good_to(x: f64, spread: f64) -> String {
    let first = spread.abs().max(1e-9).log10().floor();
    let places = (0..=9_u8).find(|p| f64::from(*p) >= -first).unwrap_or(9);
    let text = format!("{x:.*}", usize::from(places));
    let nought = text.bytes().all(|b| matches!(b, b'-' | b'0' | b'.'));
    if nought {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    }
}

/// How fast it struck in a recording; nothing where no two blows of one strike were heard.
///
/// The spread is that of one step from blow to blow, as they scatter: a pin must find the lever down at every hour.
pub fn heard_pace(heard: &Heard) -> Option<MeasuredPace> {
    let strikes = || heard.strikes.iter();
    let steps: Vec<f64> = strikes()
        .flat_map(|strike| strike.blow_times_s.windows(2).map(|pair| pair[1] - pair[0]))
        .collect();
    let n = f64::from(u32::try_from(steps.len()).ok()?);
    let mean = steps.iter().sum::<f64>() / n;
    let off: f64 = steps.iter().map(|step| (step - mean).powi(2)).sum();
    // One step alone is as sure as its two blows are.
    let blows = strikes().map(|strike| strike.spread_s * f64::sqrt(2.0));
    let spread = blows.fold((off / (n - 1.0).max(1.0)).sqrt(), f64::max);
    (n > 0.0).then(|| MeasuredPace {
        blow: Known::new(Duration::s(mean), Duration::s(spread)),
        fall: None,
    })
}
