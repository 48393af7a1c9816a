//! What was heard, in words: the sentence first, then what to do, then the rest. The command line and the page share them;
//! what must still be told is named by its option or its field. Nothing is worked out here.

mod drawn;
mod unheard;

pub use drawn::{marked, plot, sound};
pub(crate) use unheard::{no_clock, no_number};
pub use unheard::{not_sound, unfit_said};

use crate::en::breaking;
use crate::page::named;
use crate::{Locale, Voice, say};
use listen::{
    ComesRound, Due, Findings, HeardWarning, HourFault, Pace, SoundEnd, SwingSide, Within,
};
use movement::StrikePace;
use quantity::{Chance, Duration, to_f64};
use tasks::MeasuredPace;

/// What an entry of the log keeps beside its figures: how long the recording was, within what bounds, what was struck wrong.
pub fn note_of_findings(locale: &Locale, found: &Findings) -> String {
    let mut said = vec![say!(
        locale,
        "listen-noted",
        time = clock(found.heard.seconds)
    )];
    said.extend(bounds(locale, found).or_else(|| {
        let pace = found.pace.as_ref()?.per_hour;
        let half = width(pace);
        Some(say!(
            locale,
            "listen-noted-beats",
            beats = figures(locale, pace.value, half),
            low = figures(locale, pace.low, half),
            high = figures(locale, pace.high, half)
        ))
    }));
    said.extend(wrong_hours(locale, found));
    said.join(" ")
}

/// Everything that was heard, as a terminal takes it.
pub fn listen_text(voice: &Voice, found: &Findings, ended: SoundEnd) -> String {
    let locale = voice.locale();
    let mut text = vec![sentence(locale, found)];
    let mut more = Vec::new();
    more.extend(to_do(voice, found));
    more.extend(headed(beats(voice, found)));
    let blows = [
        strikes(locale, found, true),
        wrong_hours(locale, found),
        falls(locale, found),
        chimes(locale, found),
    ]
    .concat();
    if !blows.is_empty() {
        more.push(say!(locale, "listen-blows"));
        more.extend(blows.into_iter().map(|line| format!("  {line}")));
    }
    more.extend(rest(locale, found, ended));
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
pub fn sentence(locale: &Locale, found: &Findings) -> String {
    findings_text(locale, found, true)
}

/// The answer in a sentence or two, the bounds of the rate left to what is told under it.
pub fn answer(locale: &Locale, found: &Findings) -> String {
    findings_text(locale, found, false)
}

fn findings_text(locale: &Locale, found: &Findings, bounds: bool) -> String {
    if let Some(unfit) = &found.unfit {
        return unfit_said(locale, unfit);
    }
    let mut said = Vec::new();
    if let Some(pace) = &found.pace {
        said.push(match &found.rate {
            Some(rate) => rate_said(locale, rate, bounds),
            None => say!(
                locale,
                "listen-an-hour",
                beats = figures(locale, pace.per_hour.value, width(pace.per_hour))
            ),
        });
        said.push(beat_said(locale, pace, bounds));
    } else if !found.heard.beats.is_empty() {
        said.push(say!(locale, "listen-few"));
    }
    said.extend(struck_said(locale, found));
    if let Some(round) = found.comes_round.first() {
        let arbors = arbors(locale, round);
        said.push(say!(locale, "listen-comes-round", arbors = arbors));
    }
    said.join(" ")
}

fn width(within: Within) -> f64 {
    0.5 * (within.high - within.low)
}

/// A number with no more figures than its uncertainty bears.
fn figures(locale: &Locale, value: f64, uncertain: f64) -> String {
    let places = if uncertain >= 1.0 {
        0
    } else if uncertain >= 0.1 {
        1
    } else if uncertain >= 0.01 {
        2
    } else {
        3
    };
    locale.pointed(format!("{value:.places$}"))
}

/// The same, with no more than two figures after all: what a reader takes in at a glance.
fn glance(locale: &Locale, value: f64, uncertain: f64) -> String {
    let bears = 10_f64.powf(value.abs().max(1e-9).log10().floor() - 1.0);
    figures(locale, value, uncertain.max(bears))
}

/// How messages choose by a number that was written.
fn number_of(written: &str) -> &'static str {
    if written == "1" { "one" } else { "other" }
}

/// A number with at most so many places, and where nothing is left of it, that it is less than what is told.
fn least(locale: &Locale, x: f64, places: usize) -> String {
    let told = locale.decimal(x, places);
    if told == "0" {
        let least = locale.pointed(format!("0.{}1", "0".repeat(places - 1)));
        say!(locale, "listen-less", least = least)
    } else {
        told
    }
}

fn rate_said(locale: &Locale, rate: &Within, bounds: bool) -> String {
    let half = width(*rate);
    let (low, high) = (
        signed(locale, rate.low, half),
        signed(locale, rate.high, half),
    );
    if is_kept(rate) {
        return if bounds {
            say!(locale, "listen-keeps-within", low = low, high = high)
        } else {
            say!(locale, "listen-keeps")
        };
    }
    let way = if rate.value > 0.0 { "gains" } else { "loses" };
    let seconds = if bounds {
        figures(locale, rate.value.abs(), half)
    } else {
        glance(locale, rate.value.abs(), half)
    };
    let count = number_of(&seconds);
    if bounds {
        say!(
            locale,
            "listen-rate-within",
            way = way,
            seconds = seconds,
            count = count,
            low = low,
            high = high
        )
    } else {
        say!(
            locale,
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

fn signed(locale: &Locale, x: f64, uncertain: f64) -> String {
    let way = if x < 0.0 { "loses" } else { "gains" };
    let much = figures(locale, x.abs(), uncertain);
    say!(locale, "listen-signed", way = way, much = much)
}

/// The bounds of the rate, for those who read on; nothing where no rate is known.
pub fn bounds(locale: &Locale, found: &Findings) -> Option<String> {
    let rate = found.rate?;
    let half = width(rate);
    Some(say!(
        locale,
        "listen-bounds",
        low = signed(locale, rate.low, half),
        high = signed(locale, rate.high, half)
    ))
}

/// The ear hears no difference below some hundredths; less than a few thousandths is within what one tick says of another.
fn out_of_beat_ms(pace: &Pace) -> Option<(f64, f64)> {
    let ms = 1e3 * pace.out_of_beat_s;
    let sure = 1e3 * 2.0 * pace.out_of_beat_spread_s;
    (ms > sure.max(2.0)).then_some((ms, sure))
}

fn beat_said(locale: &Locale, pace: &Pace, bounds: bool) -> String {
    let Some((ms, sure)) = out_of_beat_ms(pace) else {
        return say!(locale, "listen-in-beat");
    };
    // No hand sets a crutch to less than a thousandth.
    let much = figures(locale, ms, if bounds { sure } else { sure.max(1.0) });
    let count = number_of(&much);
    say!(locale, "listen-out-of-beat", much = much, count = count)
}

fn struck_said(locale: &Locale, found: &Findings) -> Option<String> {
    let strikes = &found.heard.strikes;
    let chimes = found.heard.chimes.len();
    let mut said = Vec::new();
    match (&strikes[..], &found.due) {
        ([], _) => {}
        ([one], _) => {
            let blows = one.blow_times_s.len();
            said.push(say!(locale, "listen-struck-once", blows = blows));
        }
        (many, Some(due)) => {
            let wrong: Vec<&Due> = due.iter().filter(|d| d.wrong(strikes).is_some()).collect();
            said.push(match wrong[..] {
                [] => say!(locale, "listen-struck-right", count = many.len()),
                [one] => say!(
                    locale,
                    "listen-struck-but",
                    count = many.len(),
                    wrong = wrong_said(locale, one, found)
                ),
                _ => say!(
                    locale,
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
            said.push(say!(locale, "listen-struck", counts = locale.list(&counts)));
        }
    }
    if chimes > 0 {
        said.push(say!(locale, "listen-chimed", count = chimes));
    }
    (!said.is_empty()).then(|| said.join(" "))
}

/// Which hour or half it was.
pub fn due_name(locale: &Locale, due: &Due) -> String {
    if let Some(bells) = due.bells {
        return say!(locale, "listen-bells", count = bells);
    }
    let half = if due.half { "yes" } else { "no" };
    say!(locale, "listen-hour", half = half, hour = due.hour)
}

/// What is wrong with one hour, as part of a sentence.
fn wrong_said(locale: &Locale, due: &Due, found: &Findings) -> String {
    let name = due_name(locale, due);
    let heard = |k: usize| found.heard.strikes[k].blow_times_s.len();
    match (due.wrong(&found.heard.strikes), &due.heard[..]) {
        (Some(HourFault::Doubled), many) => {
            let counts: Vec<String> = many.iter().map(|&k| heard(k).to_string()).collect();
            say!(
                locale,
                "listen-doubled",
                hour = name,
                times = many.len(),
                counts = locale.list(&counts)
            )
        }
        (Some(HourFault::Number), [one, ..]) => say!(
            locale,
            "listen-miscounted",
            hour = name,
            blows = heard(*one),
            due = due.blows
        ),
        (Some(HourFault::Late), _) => {
            let late = due.late_s.unwrap_or(0.0) / 60.0;
            let way = if late > 0.0 { "late" } else { "early" };
            let minutes = locale.decimal(late.abs(), 0);
            say!(
                locale,
                "listen-late",
                hour = name,
                minutes = minutes,
                way = way
            )
        }
        _ => say!(locale, "listen-missing", hour = name),
    }
}

/// What to do, the surest first.
pub fn to_do(voice: &Voice, found: &Findings) -> Vec<String> {
    let locale = voice.locale();
    let mut text = Vec::new();
    if let (Some(turns), Some(rate)) = (found.nut_turns, &found.rate) {
        let settled = rate.low > 0.0 || rate.high < 0.0;
        if settled {
            let way = if turns > 0.0 { "up" } else { "down" };
            let turns = locale.decimal(turns.abs(), 2);
            text.push(say!(locale, "listen-nut", way = way, turns = turns));
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
                        let deg = locale.decimal(deg, 2);
                        say!(locale, "listen-crutch-by", side = side, degrees = deg)
                    }
                    None => say!(locale, "listen-crutch", side = side),
                }
            }
            None => say!(locale, "listen-which-side", asked = voice.selector()),
        });
    }
    for round in &found.comes_round {
        text.push(say!(
            locale,
            "listen-look-at",
            arbors = arbors(locale, round),
            much = locale.decimal(1e3 * round.size_s, 2),
            turn = locale.decimal(round.turn_s, 1),
            chance = chance(locale, round.by_chance)
        ));
    }
    text
}

/// What comes round, in a few words beside the arbor on a drawing.
fn on_the_drawing(locale: &Locale, round: &ComesRound) -> String {
    say!(
        locale,
        "listen-round-short",
        turn = locale.decimal(round.turn_s, 1)
    )
}

/// The arbor to be looked at, as the drawing shows it.
pub fn guilty(locale: &Locale, round: &ComesRound) -> String {
    let turn = locale.decimal(round.turn_s, 1);
    say!(
        locale,
        "listen-guilty-says",
        arbors = arbors(locale, round),
        turn = turn
    )
}

/// What is seen of the sound, for those who cannot see it.
pub fn strip(locale: &Locale, found: &Findings) -> String {
    let heard = &found.heard;
    say!(
        locale,
        "listen-strip",
        time = clock(heard.seconds),
        beats = heard.beats.len(),
        strikes = heard.strikes.len()
    )
}

fn chance(locale: &Locale, chance: Chance) -> String {
    if chance.get() < 0.005 {
        say!(locale, "listen-rare")
    } else {
        locale.odds(chance)
    }
}

fn arbors(locale: &Locale, round: &ComesRound) -> String {
    let names: Vec<String> = (round.arbors.iter())
        .map(|name| say!(locale, "listen-arbor", arbor = named(name)))
        .collect();
    locale.either(&names)
}

/// What the beats come to: the first line by itself, the others under it.
pub fn beats(voice: &Voice, found: &Findings) -> Vec<String> {
    let locale = voice.locale();
    let Some(pace) = &found.pace else {
        return Vec::new();
    };
    let half = width(pace.per_hour);
    let mut text = vec![say!(
        locale,
        "listen-beats",
        count = pace.beats,
        minutes = locale.decimal(pace.span_s / 60.0, 1),
        beats = figures(locale, pace.per_hour.value, half),
        low = figures(locale, pace.per_hour.low, half),
        high = figures(locale, pace.per_hour.high, half),
        strays = least(locale, 1e3 * pace.jitter_s, 2)
    )];
    text.push(say!(
        locale,
        "listen-period",
        period = locale.decimal(pace.full_period_s, 6),
        spread = least(locale, pace.full_period_spread_s, 6)
    ));
    if found.rate.is_none() {
        text.push(say!(locale, "listen-no-train", asked = voice.selector()));
    }
    if let Some(drift) = pace.drift_s_per_day_per_day() {
        let half = width(drift);
        text.push(say!(
            locale,
            "listen-drifts",
            drift = figures(locale, drift.value, half),
            low = figures(locale, drift.low, half),
            high = figures(locale, drift.high, half)
        ));
    }
    let steady = pace.deviations(listen::Deviation::OverlappingAllan);
    if !steady.is_empty() {
        let some: Vec<String> = (steady.iter().step_by(2))
            .map(|(tau, value)| {
                let value = locale.pointed(format!("{value:.1e}"));
                say!(
                    locale,
                    "listen-steady-over",
                    value = value,
                    seconds = locale.decimal(*tau, 0)
                )
            })
            .collect();
        text.push(say!(locale, "listen-steady", each = some.join("; ")));
    }
    text
}

/// How fast it struck.
pub fn pace_heard(locale: &Locale, pace: &MeasuredPace) -> String {
    let seconds = |seconds: Duration| locale.decimal(seconds.as_s(), 2);
    let (blow, spread) = (seconds(pace.blow.value), seconds(pace.blow.spread));
    say!(locale, "describe-pace-heard", blow = blow, spread = spread)
}

/// The pace that stands on the sheet.
pub fn pace_stands(locale: &Locale, pace: &StrikePace) -> String {
    let blow = locale.decimal(to_f64(&pace.blow.is), 2);
    say!(locale, "listen-pace-stands", blow = blow)
}

/// Every strike as it was heard, a line each; with the hour it answers to, where that is not said beside it.
pub fn strikes(locale: &Locale, found: &Findings, with_hour: bool) -> Vec<String> {
    let line = |(k, strike): (usize, &listen::HeardStrike)| {
        let due = (found.due.iter().flatten())
            .filter(|_| with_hour)
            .find(|due| due.heard.contains(&k));
        let at = clock(strike.blow_times_s[0]);
        let blows = strike.blow_times_s.len();
        let struck = match due {
            Some(due) => {
                let hour = due_name(locale, due);
                say!(
                    locale,
                    "listen-at-hour",
                    at = at,
                    hour = hour,
                    blows = blows
                )
            }
            None => say!(locale, "listen-at", at = at, blows = blows),
        };
        let struck = match strike.pace_s() {
            Some(pace) => say!(
                locale,
                "listen-paced",
                struck = struck,
                pace = locale.decimal(pace, 2)
            ),
            None => struck,
        };
        match found.warnings.get(k) {
            Some(HeardWarning::Heard(lead_s)) => {
                let minutes = locale.decimal(lead_s / 60.0, 1);
                say!(locale, "listen-warned", struck = struck, minutes = minutes)
            }
            Some(HeardWarning::NotHeard) => say!(locale, "listen-unwarned", struck = struck),
            Some(HeardWarning::CannotTell) | None => struck,
        }
    };
    found.heard.strikes.iter().enumerate().map(line).collect()
}

/// What is wrong with one hour, as a line of its own.
pub fn wrong_line(locale: &Locale, due: &Due, found: &Findings) -> String {
    say!(
        locale,
        "listen-wrong",
        wrong = wrong_said(locale, due, found)
    )
}

/// What is wrong with the hours, a line each.
fn wrong_hours(locale: &Locale, found: &Findings) -> Vec<String> {
    let strikes = &found.heard.strikes;
    (found.due.iter().flatten())
        .filter(|due| due.wrong(strikes).is_some())
        .map(|due| wrong_line(locale, due, found))
        .collect()
}

/// How the pace falls from the first strike to the last, where enough were heard.
pub fn falls(locale: &Locale, found: &Findings) -> Vec<String> {
    let falls = listen::pace_falls(&found.heard.strikes).map(|(first, last)| {
        say!(
            locale,
            "listen-pace-falls",
            first = locale.decimal(first, 2),
            last = locale.decimal(last, 2)
        )
    });
    falls.into_iter().collect()
}

/// Every chime, its bells by pitch.
pub fn chimes(locale: &Locale, found: &Findings) -> Vec<String> {
    (found.heard.chimes.iter())
        .map(|chime| {
            let order: Vec<String> = chime.order().iter().map(ToString::to_string).collect();
            say!(
                locale,
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
pub fn rest(locale: &Locale, found: &Findings, ended: SoundEnd) -> Vec<String> {
    let mut text = Vec::new();
    if found.heard.levels.clipped_part() > 1e-4 {
        text.push(say!(locale, "listen-clipped"));
    }
    if found.heard.full {
        let hours = locale.decimal(found.heard.seconds / 3600.0, 1);
        text.push(say!(locale, "listen-full", hours = hours));
    } else {
        let at = clock(found.heard.seconds);
        match ended {
            SoundEnd::Whole => {}
            SoundEnd::Short => text.push(say!(locale, "listen-short", at = at)),
            SoundEnd::Stopped => text.push(say!(locale, "listen-stopped-after", at = at)),
        }
    }
    text
}

/// How far it has listened.
pub fn listened(locale: &Locale, seconds: f64) -> String {
    say!(locale, "listen-heard", time = clock(seconds))
}
