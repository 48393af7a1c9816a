//! What was heard, in words: the sentence first, then what to do, then the rest.

use super::numbers::{decimal, odds};
use super::{list, quoted};
use listen::{
    ComesRound, Cycle, Due, Ended, Findings, NotSound, Pace, RATES_HZ, Side, Unfit, Within, Wrong,
};
use quantity::Chance;

/// Everything that was heard.
pub fn listen_text(found: &Findings, ended: Ended) -> String {
    let mut text = vec![sentence(found)];
    let mut more = Vec::new();
    more.extend(to_do(found));
    more.extend(beats(found));
    more.extend(strikes(found));
    more.extend(rest(found, ended));
    if !more.is_empty() {
        text.push(String::new());
        text.extend(more);
    }
    text.push(String::new());
    text.join("\n")
}

/// The answer in a sentence or two.
pub fn sentence(found: &Findings) -> String {
    if let Some(unfit) = &found.unfit {
        return unfit_said(unfit);
    }
    let mut said = Vec::new();
    if let Some(pace) = &found.pace {
        match &found.rate {
            Some(rate) => said.push(rate_said(rate)),
            None => said.push(format!(
                "{} beats an hour.",
                figures(pace.per_hour.value, width(pace.per_hour))
            )),
        }
        said.push(beat_said(pace));
    } else if !found.heard.beats.is_empty() {
        said.push("It ticks, but too few beats were heard to tell the rate.".to_owned());
    }
    if let Some(struck) = struck_said(found) {
        said.push(struck);
    }
    if let Some(round) = found.comes_round.first() {
        said.push(format!("Something comes round with {}.", arbors(round)));
    }
    said.join(" ")
}

fn width(within: Within) -> f64 {
    0.5 * (within.high - within.low)
}

/// A number with no more figures than its uncertainty bears.
fn figures(value: f64, uncertain: f64) -> String {
    let places = if uncertain >= 1.0 {
        0
    } else if uncertain >= 0.1 {
        1
    } else if uncertain >= 0.01 {
        2
    } else {
        3
    };
    format!("{value:.places$}")
}

fn rate_said(rate: &Within) -> String {
    let half = width(*rate);
    let from_to = format!(
        "(from {} to {})",
        signed(rate.low, half),
        signed(rate.high, half)
    );
    if rate.low <= 0.0 && rate.high >= 0.0 && rate.value.abs() < 0.5 * half {
        return format!("Neither gains nor loses, as far as this recording tells {from_to}.");
    }
    let way = if rate.value > 0.0 { "Gains" } else { "Loses" };
    format!(
        "{way} {} seconds a day {from_to}.",
        figures(rate.value.abs(), half)
    )
}

fn signed(x: f64, uncertain: f64) -> String {
    let size = figures(x.abs(), uncertain);
    if x < 0.0 {
        format!("loses {size}")
    } else {
        format!("gains {size}")
    }
}

fn beat_said(pace: &Pace) -> String {
    let ms = 1e3 * pace.out_of_beat_s;
    let sure = 1e3 * 2.0 * pace.out_of_beat_spread_s;
    // The ear hears no difference below some hundredths; less than a few thousandths is within what one tick says of another.
    if ms <= sure.max(2.0) {
        return "In beat.".to_owned();
    }
    let count = figures(ms, sure);
    let noun = if count == "1" {
        "thousandth"
    } else {
        "thousandths"
    };
    format!("Out of beat by {count} {noun} of a second.")
}

fn struck_said(found: &Findings) -> Option<String> {
    let strikes = &found.heard.strikes;
    let chimes = found.heard.chimes.len();
    let mut said = Vec::new();
    match &strikes[..] {
        [] => {}
        [one] => said.push(format!("Struck {}.", times(one.blow_times_s.len()))),
        many => match &found.due {
            Some(due) => {
                let wrong: Vec<&Due> = due.iter().filter(|d| d.wrong(strikes).is_some()).collect();
                said.push(match wrong.len() {
                    0 => format!("Struck {} times, each its number.", many.len()),
                    1 => format!(
                        "Struck {} times; {}.",
                        many.len(),
                        wrong_said(wrong[0], found)
                    ),
                    n => format!("Struck {} times, {n} of them wrong.", many.len()),
                });
            }
            None => {
                let counts: Vec<String> = many
                    .iter()
                    .map(|s| s.blow_times_s.len().to_string())
                    .collect();
                said.push(format!("Struck {}.", list(&counts)));
            }
        },
    }
    if chimes > 0 {
        said.push(if chimes == 1 {
            "One chime.".to_owned()
        } else {
            format!("{chimes} chimes.")
        });
    }
    (!said.is_empty()).then(|| said.join(" "))
}

fn times(n: usize) -> String {
    match n {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        n => format!("{n} times"),
    }
}

fn due_name(due: &Due) -> String {
    if due.half {
        format!("half past {}", due.hour)
    } else {
        format!("{} o'clock", due.hour)
    }
}

fn wrong_said(due: &Due, found: &Findings) -> String {
    let name = due_name(due);
    let heard = |k: usize| found.heard.strikes[k].blow_times_s.len();
    match (due.wrong(&found.heard.strikes), &due.heard[..]) {
        (Some(Wrong::Doubled), many) => {
            let counts: Vec<String> = many.iter().map(|&k| heard(k).to_string()).collect();
            format!("{name} was struck {}: {}", times(many.len()), list(&counts))
        }
        (Some(Wrong::Number), [one, ..]) => {
            format!("{name} struck {} for {}", heard(*one), due.blows)
        }
        (Some(Wrong::Late), _) => {
            let late = due.late_s.unwrap_or(0.0) / 60.0;
            let way = if late > 0.0 { "late" } else { "early" };
            format!("{name} came {} minutes {way}", decimal(late.abs(), 0))
        }
        _ => format!("{name} is missing"),
    }
}

fn to_do(found: &Findings) -> Vec<String> {
    let mut text = Vec::new();
    if let (Some(turns), Some(rate)) = (found.nut_turns, &found.rate) {
        let settled = rate.low > 0.0 || rate.high < 0.0;
        if settled {
            let way = if turns > 0.0 { "up" } else { "down" };
            text.push(format!(
                "Turn the rating nut {way} by {} turns, then listen again.",
                decimal(turns.abs(), 2)
            ));
        }
    }
    if let Some(pace) = &found.pace
        && 1e3 * pace.out_of_beat_s > (2e3 * pace.out_of_beat_spread_s).max(2.0)
    {
        match found.crutch {
            Some(side) => {
                let side = if side == Side::Left { "left" } else { "right" };
                let far = found.crutch_deg.map_or(String::new(), |deg| format!(", by no more than {}°", decimal(deg, 2)));
                text.push(format!("Move the foot of the crutch to the {side} against the pendulum{far}; a little, then listen again."));
            }
            None => text.push("Which side is late is known only after a tap at the left end of the swing: --left-at SECONDS.".to_owned()),
        }
    }
    for round in &found.comes_round {
        text.push(format!(
            "Look at {}: lateness of {} thousandths of a second either way comes round every {} seconds; the chance that it is chance: {}.",
            arbors(round),
            decimal(1e3 * round.size_s, 2),
            decimal(round.turn_s, 1),
            chance(round.by_chance),
        ));
    }
    text
}

fn chance(chance: Chance) -> String {
    if chance.get() < 0.005 {
        "less than 1 in 200".to_owned()
    } else {
        odds(chance)
    }
}

fn arbors(round: &ComesRound) -> String {
    let names: Vec<String> = round
        .arbors
        .iter()
        .map(|name| format!("the {name} arbor"))
        .collect();
    match &names[..] {
        [rest @ .., last] if !rest.is_empty() => format!("{} or {last}", rest.join(", ")),
        _ => list(&names),
    }
}

fn beats(found: &Findings) -> Vec<String> {
    let Some(pace) = &found.pace else {
        return Vec::new();
    };
    let mut text = vec![format!(
        "Beats: {} heard in {} minutes, {} an hour (from {} to {}); one beat strays by {} thousandths of a second.",
        pace.beats,
        decimal(pace.span_s / 60.0, 1),
        figures(pace.per_hour.value, width(pace.per_hour)),
        figures(pace.per_hour.low, width(pace.per_hour)),
        figures(pace.per_hour.high, width(pace.per_hour)),
        decimal(1e3 * pace.jitter_s, 2),
    )];
    text.push(format!(
        "  from tick to tick {} s, give or take {} s",
        decimal(pace.full_period_s, 6),
        decimal(pace.full_period_spread_s, 6)
    ));
    if found.rate.is_none() {
        text.push("  whether that gains or loses is known only with a sheet whose train has turn_s and an escape wheel: --sheet SHEET".to_owned());
    }
    if let Some(drift) = pace.drift_s_per_day_per_day() {
        let half = width(drift);
        text.push(format!(
            "  drifts by {} seconds a day for each day (from {} to {})",
            figures(drift.value, half),
            figures(drift.low, half),
            figures(drift.high, half)
        ));
    }
    let steady = pace.deviations(listen::Deviation::OverlappingAllan);
    if !steady.is_empty() {
        let some: Vec<String> = steady
            .iter()
            .step_by(2)
            .map(|(tau, value)| format!("{value:.1e} over {} s", decimal(*tau, 0)))
            .collect();
        text.push(format!(
            "  overlapping Allan deviation: {}",
            some.join("; ")
        ));
    }
    text
}

fn strikes(found: &Findings) -> Vec<String> {
    let strikes = &found.heard.strikes;
    let mut text = Vec::new();
    for (k, strike) in strikes.iter().enumerate() {
        let due = found
            .due
            .iter()
            .flatten()
            .find(|due| due.heard.contains(&k));
        let hour = due.map_or(String::new(), |due| format!("{}: ", due_name(due)));
        let pace = strike.pace_s().map_or(String::new(), |pace| {
            format!(", {} s from blow to blow", decimal(pace, 2))
        });
        text.push(format!(
            "  at {}  {hour}{} {}{pace}",
            clock(strike.blow_times_s[0]),
            strike.blow_times_s.len(),
            if strike.blow_times_s.len() == 1 {
                "blow"
            } else {
                "blows"
            }
        ));
    }
    for due in found.due.iter().flatten() {
        if due.wrong(strikes).is_some() {
            text.push(format!("  {}.", wrong_said(due, found)));
        }
    }
    if let Some((first, last)) = listen::pace_falls(strikes) {
        text.push(format!(
            "  from blow to blow {} s at the beginning, {} s at the end",
            decimal(first, 2),
            decimal(last, 2)
        ));
    }
    for chime in &found.heard.chimes {
        let order: Vec<String> = chime.order().iter().map(ToString::to_string).collect();
        text.push(format!(
            "  at {}  chime, bells by pitch, 1 the highest: {}",
            clock(chime.notes[0].0),
            order.join(" ")
        ));
    }
    if !text.is_empty() {
        text.insert(0, "Blows:".to_owned());
    }
    text
}

/// A time in the recording.
fn clock(seconds: f64) -> String {
    let tenths = (seconds * 10.0).round();
    let (hours, rest) = ((tenths / 36_000.0).floor(), tenths % 36_000.0);
    let (minutes, rest) = ((rest / 600.0).floor(), rest % 600.0);
    if hours > 0.0 {
        format!("{hours:.0}:{minutes:02.0}:{:04.1}", rest / 10.0)
    } else {
        format!("{minutes:.0}:{:04.1}", rest / 10.0)
    }
}

fn rest(found: &Findings, ended: Ended) -> Vec<String> {
    let mut text = Vec::new();
    if found.heard.levels.clipped_part() > 1e-4 {
        text.push(
            "Some of the recording is cut off, being too loud: further away, or less gain."
                .to_owned(),
        );
    }
    if found.heard.full {
        text.push(format!(
            "Only the first {} hours were listened to: more is not kept.",
            decimal(found.heard.seconds / 3600.0, 1)
        ));
    } else if ended == Ended::Short {
        text.push(format!(
            "The recording breaks off after {}; what is before that was heard.",
            clock(found.heard.seconds)
        ));
    }
    text
}

/// Why a recording is good for nothing, and what would help.
pub fn unfit_said(unfit: &Unfit) -> String {
    match unfit {
        Unfit::Silent => "Nothing is on this recording. Was the microphone on? Lay it on the case or against the backboard.".to_owned(),
        Unfit::Short(s) => format!("Only {} seconds: too short for anything to repeat. Record a minute at least, five for the rate.", decimal(*s, 1)),
        Unfit::Clipped(part) => format!(
            "Too loud: {} in 100 of the recording is cut off, and no beat can be made out. Further away, or less gain.",
            decimal(100.0 * part, 1)
        ),
        Unfit::Nothing => "No clock can be made out. Go nearer, touch the case with the microphone, keep quiet, and record longer.".to_owned(),
    }
}

/// Why bytes are no sound.
pub fn not_sound(name: &str, why: &NotSound) -> String {
    let why = match why {
        NotSound::Empty => "is empty: got no bytes, expected a recording".to_owned(),
        NotSound::Unknown => "is no recording that can be read: expected WAV, FLAC, MP3 or Ogg Vorbis, whatever its name ends in".to_owned(),
        NotSound::Unsupported(what) => format!("is packed in a way that is not read ({}): save it as WAV or FLAC", quoted(what)),
        NotSound::Header(what) => format!("contradicts itself: {what}; record or save it anew"),
        NotSound::Rate(rate) => format!(
            "says it has {rate} samples a second: expected {} to {}",
            RATES_HZ.start(),
            RATES_HZ.end()
        ),
        NotSound::NoSamples => "has a header and no sound after it: it was cut off, or nothing was recorded".to_owned(),
        NotSound::Io(error) => format!("cannot be read: {error}"),
    };
    format!("{name} {why}")
}

/// What is wrong with what was said of the recorder's clock.
pub fn bad_clock(got: &str) -> String {
    format!(
        "--clock-ppm: got {}, expected how surely the recorder's clock is known, as in 0.5, or by how much it runs fast and how surely, as in 12~0.5; parts in a million",
        quoted(got)
    )
}

/// What is wrong with a number.
pub fn bad_number(option: &str) -> String {
    format!("{option}: expected a number greater than nought")
}

/// How far it has listened.
pub fn listened(seconds: f64) -> String {
    format!("{} heard", clock(seconds))
}

/// Words on the plot.
pub const MINUTES: &str = "minutes";
/// Words on the plot.
pub const GAINS_LOSES: &str = "gains / loses, seconds";
/// Words on the plot.
pub const TICK: &str = "tick";
/// Words on the plot.
pub const TOCK: &str = "tock";

/// The cycle, as said in JSON.
pub(crate) fn cycle(cycle: Cycle) -> &'static str {
    match cycle {
        Cycle::Hours => "hours",
        Cycle::HoursAndHalves => "hours and halves",
        Cycle::HoursAndTenHalves => "hours and ten halves",
        Cycle::ShipsBells => "ship's bells",
    }
}
