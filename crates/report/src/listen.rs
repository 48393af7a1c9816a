//! What was heard, in words: the sentence first, then what to do, then the rest. The command line and the page share them;
//! what must still be told is named by its option or its field. Nothing is worked out here.

mod drawn;
mod unheard;

pub use drawn::{marked, plot, sound};
pub(crate) use unheard::{no_clock, no_number};
pub use unheard::{not_sound, unfit_said};

use crate::en::breaking;
use crate::page::named;
use crate::{Voice, Words, say};
use listen::{
    ComesRound, Due, Findings, HeardWarning, HourFault, Pace, SoundEnd, SwingSide, Within,
};
use quantity::Chance;

/// What an entry of the log keeps beside its figures: how long the recording was, within what bounds, what was struck wrong.
pub fn noted(words: &Words, found: &Findings) -> String {
    let mut said = vec![say!(
        words,
        "listen-noted",
        time = clock(found.heard.seconds)
    )];
    said.extend(bounds(words, found).or_else(|| {
        let pace = found.pace.as_ref()?.per_hour;
        let half = width(pace);
        Some(say!(
            words,
            "listen-noted-beats",
            beats = figures(words, pace.value, half),
            low = figures(words, pace.low, half),
            high = figures(words, pace.high, half)
        ))
    }));
    said.extend(wrong_hours(words, found));
    said.join(" ")
}

/// Everything that was heard, as a terminal takes it.
pub fn listen_text(voice: &Voice, found: &Findings, ended: SoundEnd) -> String {
    let words = voice.words();
    let mut text = vec![sentence(words, found)];
    let mut more = Vec::new();
    more.extend(to_do(voice, found));
    more.extend(headed(beats(voice, found)));
    let blows = [
        strikes(words, found, true),
        wrong_hours(words, found),
        falls(words, found),
        chimes(words, found),
    ]
    .concat();
    if !blows.is_empty() {
        more.push(say!(words, "listen-blows"));
        more.extend(blows.into_iter().map(|line| format!("  {line}")));
    }
    more.extend(rest(words, found, ended));
    if !more.is_empty() {
        text.push(String::new());
        text.extend(more);
    }
    text.push(String::new());
    breaking(&text.join("\n"))
}

/// The first line as it is, the others under it.
fn headed(lines: Vec<String>) -> Vec<String> {
    let under = |(k, line): (usize, String)| if k == 0 { line } else { format!("  {line}") };
    lines.into_iter().enumerate().map(under).collect()
}

/// The answer in a sentence or two, with the bounds of the rate.
pub fn sentence(words: &Words, found: &Findings) -> String {
    findings_text(words, found, true)
}

/// The answer in a sentence or two, the bounds of the rate left to what is told under it.
pub fn answer(words: &Words, found: &Findings) -> String {
    findings_text(words, found, false)
}

fn findings_text(words: &Words, found: &Findings, bounds: bool) -> String {
    if let Some(unfit) = &found.unfit {
        return unfit_said(words, unfit);
    }
    let mut said = Vec::new();
    if let Some(pace) = &found.pace {
        said.push(match &found.rate {
            Some(rate) => rate_said(words, rate, bounds),
            None => say!(
                words,
                "listen-an-hour",
                beats = figures(words, pace.per_hour.value, width(pace.per_hour))
            ),
        });
        said.push(beat_said(words, pace, bounds));
    } else if !found.heard.beats.is_empty() {
        said.push(say!(words, "listen-few"));
    }
    said.extend(struck_said(words, found));
    if let Some(round) = found.comes_round.first() {
        let arbors = arbors(words, round);
        said.push(say!(words, "listen-comes-round", arbors = arbors));
    }
    said.join(" ")
}

fn width(within: Within) -> f64 {
    0.5 * (within.high - within.low)
}

/// A number with no more figures than its uncertainty bears.
fn figures(words: &Words, value: f64, uncertain: f64) -> String {
    let places = if uncertain >= 1.0 {
        0
    } else if uncertain >= 0.1 {
        1
    } else if uncertain >= 0.01 {
        2
    } else {
        3
    };
    words.pointed(format!("{value:.places$}"))
}

/// The same, with no more than two figures after all: what a reader takes in at a glance.
fn glance(words: &Words, value: f64, uncertain: f64) -> String {
    let bears = 10_f64.powf(value.abs().max(1e-9).log10().floor() - 1.0);
    figures(words, value, uncertain.max(bears))
}

/// How messages choose by a number that was written.
fn number_of(written: &str) -> &'static str {
    if written == "1" { "one" } else { "other" }
}

/// A number with at most so many places, and where nothing is left of it, that it is less than what is told.
fn least(words: &Words, x: f64, places: usize) -> String {
    let told = words.decimal(x, places);
    if told == "0" {
        let least = words.pointed(format!("0.{}1", "0".repeat(places - 1)));
        say!(words, "listen-less", least = least)
    } else {
        told
    }
}

fn rate_said(words: &Words, rate: &Within, bounds: bool) -> String {
    let half = width(*rate);
    let (low, high) = (
        signed(words, rate.low, half),
        signed(words, rate.high, half),
    );
    if is_kept(rate) {
        return if bounds {
            say!(words, "listen-keeps-within", low = low, high = high)
        } else {
            say!(words, "listen-keeps")
        };
    }
    let way = if rate.value > 0.0 { "gains" } else { "loses" };
    let seconds = if bounds {
        figures(words, rate.value.abs(), half)
    } else {
        glance(words, rate.value.abs(), half)
    };
    let count = number_of(&seconds);
    if bounds {
        say!(
            words,
            "listen-rate-within",
            way = way,
            seconds = seconds,
            count = count,
            low = low,
            high = high
        )
    } else {
        say!(
            words,
            "listen-rate",
            way = way,
            seconds = seconds,
            count = count
        )
    }
}

/// Whether a recording tells no gain and no loss.
fn is_kept(rate: &Within) -> bool {
    rate.low <= 0.0 && rate.high >= 0.0 && rate.value.abs() < 0.5 * width(*rate)
}

fn signed(words: &Words, x: f64, uncertain: f64) -> String {
    let way = if x < 0.0 { "loses" } else { "gains" };
    let much = figures(words, x.abs(), uncertain);
    say!(words, "listen-signed", way = way, much = much)
}

/// The bounds of the rate, for those who read on; nothing where no rate is known.
pub fn bounds(words: &Words, found: &Findings) -> Option<String> {
    let rate = found.rate?;
    let half = width(rate);
    Some(say!(
        words,
        "listen-bounds",
        low = signed(words, rate.low, half),
        high = signed(words, rate.high, half)
    ))
}

/// The ear hears no difference below some hundredths; less than a few thousandths is within what one tick says of another.
fn out_of_beat_ms(pace: &Pace) -> Option<(f64, f64)> {
    let ms = 1e3 * pace.out_of_beat_s;
    let sure = 1e3 * 2.0 * pace.out_of_beat_spread_s;
    (ms > sure.max(2.0)).then_some((ms, sure))
}

fn beat_said(words: &Words, pace: &Pace, bounds: bool) -> String {
    let Some((ms, sure)) = out_of_beat_ms(pace) else {
        return say!(words, "listen-in-beat");
    };
    // No hand sets a crutch to less than a thousandth.
    let much = figures(words, ms, if bounds { sure } else { sure.max(1.0) });
    let count = number_of(&much);
    say!(words, "listen-out-of-beat", much = much, count = count)
}

fn struck_said(words: &Words, found: &Findings) -> Option<String> {
    let strikes = &found.heard.strikes;
    let chimes = found.heard.chimes.len();
    let mut said = Vec::new();
    match (&strikes[..], &found.due) {
        ([], _) => {}
        ([one], _) => {
            let blows = one.blow_times_s.len();
            said.push(say!(words, "listen-struck-once", blows = blows));
        }
        (many, Some(due)) => {
            let wrong: Vec<&Due> = due.iter().filter(|d| d.wrong(strikes).is_some()).collect();
            said.push(match wrong[..] {
                [] => say!(words, "listen-struck-right", count = many.len()),
                [one] => say!(
                    words,
                    "listen-struck-but",
                    count = many.len(),
                    wrong = wrong_said(words, one, found)
                ),
                _ => say!(
                    words,
                    "listen-struck-wrong",
                    count = many.len(),
                    wrong = wrong.len()
                ),
            });
        }
        (many, None) => {
            let counts: Vec<String> = (many.iter())
                .map(|s| s.blow_times_s.len().to_string())
                .collect();
            said.push(say!(words, "listen-struck", counts = words.list(&counts)));
        }
    }
    if chimes > 0 {
        said.push(say!(words, "listen-chimed", count = chimes));
    }
    (!said.is_empty()).then(|| said.join(" "))
}

/// Which hour or half it was.
pub fn due_name(words: &Words, due: &Due) -> String {
    if let Some(bells) = due.bells {
        return say!(words, "listen-bells", count = bells);
    }
    let half = if due.half { "yes" } else { "no" };
    say!(words, "listen-hour", half = half, hour = due.hour)
}

/// What is wrong with one hour, as part of a sentence.
fn wrong_said(words: &Words, due: &Due, found: &Findings) -> String {
    let name = due_name(words, due);
    let heard = |k: usize| found.heard.strikes[k].blow_times_s.len();
    match (due.wrong(&found.heard.strikes), &due.heard[..]) {
        (Some(HourFault::Doubled), many) => {
            let counts: Vec<String> = many.iter().map(|&k| heard(k).to_string()).collect();
            say!(
                words,
                "listen-doubled",
                hour = name,
                times = many.len(),
                counts = words.list(&counts)
            )
        }
        (Some(HourFault::Number), [one, ..]) => say!(
            words,
            "listen-miscounted",
            hour = name,
            blows = heard(*one),
            due = due.blows
        ),
        (Some(HourFault::Late), _) => {
            let late = due.late_s.unwrap_or(0.0) / 60.0;
            let way = if late > 0.0 { "late" } else { "early" };
            let minutes = words.decimal(late.abs(), 0);
            say!(
                words,
                "listen-late",
                hour = name,
                minutes = minutes,
                way = way
            )
        }
        _ => say!(words, "listen-missing", hour = name),
    }
}

/// What to do, the surest first.
pub fn to_do(voice: &Voice, found: &Findings) -> Vec<String> {
    let words = voice.words();
    let mut text = Vec::new();
    if let (Some(turns), Some(rate)) = (found.nut_turns, &found.rate) {
        let settled = rate.low > 0.0 || rate.high < 0.0;
        if settled {
            let way = if turns > 0.0 { "up" } else { "down" };
            let turns = words.decimal(turns.abs(), 2);
            text.push(say!(words, "listen-nut", way = way, turns = turns));
        }
    }
    if let Some(pace) = &found.pace
        && out_of_beat_ms(pace).is_some()
    {
        text.push(match found.crutch {
            Some(side) => {
                let side = if side == SwingSide::Left {
                    "left"
                } else {
                    "right"
                };
                match found.crutch_deg {
                    Some(deg) => {
                        let deg = words.decimal(deg, 2);
                        say!(words, "listen-crutch-by", side = side, degrees = deg)
                    }
                    None => say!(words, "listen-crutch", side = side),
                }
            }
            None => say!(words, "listen-which-side", asked = voice.selector()),
        });
    }
    for round in &found.comes_round {
        text.push(say!(
            words,
            "listen-look-at",
            arbors = arbors(words, round),
            much = words.decimal(1e3 * round.size_s, 2),
            turn = words.decimal(round.turn_s, 1),
            chance = chance(words, round.by_chance)
        ));
    }
    text
}

/// What comes round, in a few words beside the arbor on a drawing.
fn on_the_drawing(words: &Words, round: &ComesRound) -> String {
    say!(
        words,
        "listen-round-short",
        turn = words.decimal(round.turn_s, 1)
    )
}

/// The arbor to be looked at, as the drawing shows it.
pub fn guilty(words: &Words, round: &ComesRound) -> String {
    let turn = words.decimal(round.turn_s, 1);
    say!(
        words,
        "listen-guilty-says",
        arbors = arbors(words, round),
        turn = turn
    )
}

/// What is seen of the sound, for those who cannot see it.
pub fn strip(words: &Words, found: &Findings) -> String {
    let heard = &found.heard;
    say!(
        words,
        "listen-strip",
        time = clock(heard.seconds),
        beats = heard.beats.len(),
        strikes = heard.strikes.len()
    )
}

fn chance(words: &Words, chance: Chance) -> String {
    if chance.get() < 0.005 {
        say!(words, "listen-rare")
    } else {
        words.odds(chance)
    }
}

fn arbors(words: &Words, round: &ComesRound) -> String {
    let names: Vec<String> = (round.arbors.iter())
        .map(|name| say!(words, "listen-arbor", arbor = named(name)))
        .collect();
    words.either(&names)
}

/// What the beats come to: the first line by itself, the others under it.
pub fn beats(voice: &Voice, found: &Findings) -> Vec<String> {
    let words = voice.words();
    let Some(pace) = &found.pace else {
        return Vec::new();
    };
    let half = width(pace.per_hour);
    let mut text = vec![say!(
        words,
        "listen-beats",
        count = pace.beats,
        minutes = words.decimal(pace.span_s / 60.0, 1),
        beats = figures(words, pace.per_hour.value, half),
        low = figures(words, pace.per_hour.low, half),
        high = figures(words, pace.per_hour.high, half),
        strays = least(words, 1e3 * pace.jitter_s, 2)
    )];
    text.push(say!(
        words,
        "listen-period",
        period = words.decimal(pace.full_period_s, 6),
        spread = least(words, pace.full_period_spread_s, 6)
    ));
    if found.rate.is_none() {
        text.push(say!(words, "listen-no-train", asked = voice.selector()));
    }
    if let Some(drift) = pace.drift_s_per_day_per_day() {
        let half = width(drift);
        text.push(say!(
            words,
            "listen-drifts",
            drift = figures(words, drift.value, half),
            low = figures(words, drift.low, half),
            high = figures(words, drift.high, half)
        ));
    }
    let steady = pace.deviations(listen::Deviation::OverlappingAllan);
    if !steady.is_empty() {
        let some: Vec<String> = (steady.iter().step_by(2))
            .map(|(tau, value)| {
                let value = words.pointed(format!("{value:.1e}"));
                say!(
                    words,
                    "listen-steady-over",
                    value = value,
                    seconds = words.decimal(*tau, 0)
                )
            })
            .collect();
        text.push(say!(words, "listen-steady", each = some.join("; ")));
    }
    text
}

/// Every strike as it was heard, a line each; with the hour it answers to, where that is not said beside it.
pub fn strikes(words: &Words, found: &Findings, with_hour: bool) -> Vec<String> {
    let line = |(k, strike): (usize, &listen::HeardStrike)| {
        let due = (found.due.iter().flatten())
            .filter(|_| with_hour)
            .find(|due| due.heard.contains(&k));
        let at = clock(strike.blow_times_s[0]);
        let blows = strike.blow_times_s.len();
        let struck = match due {
            Some(due) => {
                let hour = due_name(words, due);
                say!(words, "listen-at-hour", at = at, hour = hour, blows = blows)
            }
            None => say!(words, "listen-at", at = at, blows = blows),
        };
        let struck = match strike.pace_s() {
            Some(pace) => say!(
                words,
                "listen-paced",
                struck = struck,
                pace = words.decimal(pace, 2)
            ),
            None => struck,
        };
        match found.warnings.get(k) {
            Some(HeardWarning::Heard(lead_s)) => {
                let minutes = words.decimal(lead_s / 60.0, 1);
                say!(words, "listen-warned", struck = struck, minutes = minutes)
            }
            Some(HeardWarning::NotHeard) => say!(words, "listen-unwarned", struck = struck),
            Some(HeardWarning::CannotTell) | None => struck,
        }
    };
    found.heard.strikes.iter().enumerate().map(line).collect()
}

/// What is wrong with one hour, as a line of its own.
pub fn wrong_line(words: &Words, due: &Due, found: &Findings) -> String {
    say!(words, "listen-wrong", wrong = wrong_said(words, due, found))
}

/// What is wrong with the hours, a line each.
fn wrong_hours(words: &Words, found: &Findings) -> Vec<String> {
    let strikes = &found.heard.strikes;
    (found.due.iter().flatten())
        .filter(|due| due.wrong(strikes).is_some())
        .map(|due| wrong_line(words, due, found))
        .collect()
}

/// How the pace falls from the first strike to the last, where enough were heard.
pub fn falls(words: &Words, found: &Findings) -> Vec<String> {
    let falls = listen::pace_falls(&found.heard.strikes).map(|(first, last)| {
        say!(
            words,
            "listen-pace-falls",
            first = words.decimal(first, 2),
            last = words.decimal(last, 2)
        )
    });
    falls.into_iter().collect()
}

/// Every chime, its bells by pitch.
pub fn chimes(words: &Words, found: &Findings) -> Vec<String> {
    (found.heard.chimes.iter())
        .map(|chime| {
            let order: Vec<String> = chime.order().iter().map(ToString::to_string).collect();
            say!(
                words,
                "listen-chime",
                at = clock(chime.notes[0].0),
                order = order.join(" ")
            )
        })
        .collect()
}

/// A time in the recording.
pub fn clock(seconds: f64) -> String {
    let tenths = (seconds * 10.0).round();
    let (hours, rest) = ((tenths / 36_000.0).floor(), tenths % 36_000.0);
    let (minutes, rest) = ((rest / 600.0).floor(), rest % 600.0);
    if hours > 0.0 {
        format!("{hours:.0}:{minutes:02.0}:{:04.1}", rest / 10.0)
    } else {
        format!("{minutes:.0}:{:04.1}", rest / 10.0)
    }
}

/// What else there is to say of the recording.
pub fn rest(words: &Words, found: &Findings, ended: SoundEnd) -> Vec<String> {
    let mut text = Vec::new();
    if found.heard.levels.clipped_part() > 1e-4 {
        text.push(say!(words, "listen-clipped"));
    }
    if found.heard.full {
        let hours = words.decimal(found.heard.seconds / 3600.0, 1);
        text.push(say!(words, "listen-full", hours = hours));
    } else {
        let at = clock(found.heard.seconds);
        match ended {
            SoundEnd::Whole => {}
            SoundEnd::Short => text.push(say!(words, "listen-short", at = at)),
            SoundEnd::Stopped => text.push(say!(words, "listen-stopped-after", at = at)),
        }
    }
    text
}

/// How far it has listened.
pub fn listened(words: &Words, seconds: f64) -> String {
    say!(words, "listen-heard", time = clock(seconds))
}
