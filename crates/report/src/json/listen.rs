//! What was heard.

use super::{ByName, First, Version};
use crate::Locale;
use crate::listen::sentence;
use listen::{self as heard, Deviation, Findings, Pace, Within};
use schemars::JsonSchema;
use serde::Serialize;

/// Beats whose times are written out, at most; of longer recordings only what they come to.
const MOST_TIMES: usize = 20_000;

/// What `trundle listen` answers: what was heard in a recording, and what it says of the clock. Times are in seconds from its
/// beginning.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ListenAnswer {
    /// The version of this answer's form.
    listen: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The answer in a sentence.
    why: String,
    /// How many seconds were listened to.
    seconds: f64,
    /// How the recording ended.
    ended: Ended,
    /// What was heard of the beat; null where no beats were.
    beats: Option<Beats>,
    /// The hours and halves as they were struck; null where none was heard.
    strikes: Option<Vec<Strike>>,
    /// What the clock strikes; null where too little was heard to tell.
    cycle: Option<Cycle>,
    /// The strikes that were due and not heard.
    missing: Vec<Due>,
    /// Notes of several bells in turn.
    chimes: Vec<Chime>,
    /// What part of the sound is at the end of what a recording can hold.
    clipped: f64,
}

/// How a recording ended.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Ended {
    /// At its end.
    Whole,
    /// Before the end that it promises, or in bytes that are no sound.
    Short,
    /// Whoever listened wanted no more.
    Stopped,
    /// It went on after all that is kept was full.
    Full,
}

/// What was heard of the beat.
#[derive(Debug, Serialize, JsonSchema)]
struct Beats {
    /// Beats heard.
    count: usize,
    /// Beats that there should have been while the clock was heard.
    foretold: usize,
    /// Beats an hour; null where too few follow each other.
    per_hour: Option<f64>,
    /// What it gains in a day, in seconds, less than nothing where it loses; null where no sheet tells the right rate.
    rate_s_per_day: Option<f64>,
    /// From and to, so that the rate lies between 95 times in 100, the recorder's own clock counted in.
    rate_interval: Option<[f64; 2]>,
    /// The same with the recorder's clock taken as true.
    rate_interval_recording: Option<[f64; 2]>,
    /// By how many milliseconds the longer half of the swing is longer than the shorter.
    out_of_beat_ms: Option<f64>,
    /// When each beat fell; null where there are too many to be written out.
    beat_times_s: Option<Vec<f64>>,
    /// How surely each of those is known, one standard deviation in seconds.
    beat_spreads_s: Option<Vec<f64>>,
    /// What the pace tells besides; only where there is one.
    #[serde(flatten)]
    paced: Option<Paced>,
    /// To which side the crutch is to be moved; null where no tap tells it.
    crutch_to: Option<Side>,
    /// By how many degrees at most; null where the arc is not known.
    crutch_deg_at_most: Option<f64>,
    /// Turns of the rating nut: up is more than nothing; null where rate or nut is not known.
    nut_turns: Option<f64>,
    /// What comes round in the beat with the turn of some arbor, the surest first.
    comes_round: Vec<ComesRound>,
}

/// What the pace of the beats tells.
#[derive(Debug, Serialize, JsonSchema)]
struct Paced {
    /// From and to, so that the beats an hour lie between 95 times in 100, the recorder's own clock counted in.
    per_hour_interval: [f64; 2],
    /// The same with the recorder's clock taken as true.
    per_hour_interval_recording: [f64; 2],
    /// Seconds from tick to tick.
    full_period_s: f64,
    /// How surely that is known, one standard deviation in seconds, the recorder's clock apart.
    full_period_spread_s: f64,
    /// How surely `out_of_beat_ms` is known, one standard deviation in milliseconds.
    out_of_beat_spread_ms: f64,
    /// How one beat scatters about an even pace, one standard deviation in milliseconds.
    jitter_ms: f64,
    /// From the first to the last of the beats that this rests on, in seconds.
    span_s: f64,
    /// How the rate changes, in seconds a day for each day; null where the recording is too short to tell.
    drift_s_per_day_per_day: Option<Drift>,
    /// How steady it is: deviations of frequency statistics, by their names, each over times that double, as pairs of that
    /// time in seconds and the deviation.
    deviations: ByName<Vec<[f64; 2]>>,
}

/// A change of the rate.
#[derive(Debug, Serialize, JsonSchema)]
struct Drift {
    /// The change.
    value: f64,
    /// From and to, so that it lies between 95 times in 100.
    interval: [f64; 2],
}

/// A side, seen from the front.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

/// What comes round in the beat with the turn of an arbor.
#[derive(Debug, Serialize, JsonSchema)]
struct ComesRound {
    /// The arbors that it may come from.
    arbors: Vec<String>,
    /// Seconds of one turn.
    turn_s: f64,
    /// Half the way from the earliest to the latest beat, in milliseconds.
    size_ms: f64,
    /// The chance that nothing but noise would show as much.
    by_chance: f64,
}

/// An hour or a half, as it was struck.
#[derive(Debug, Serialize, JsonSchema)]
struct Strike {
    /// When its first blow fell.
    at_s: f64,
    /// Blows heard.
    blows: usize,
    /// When each of them fell.
    blow_times_s: Vec<f64>,
    /// How surely those are known, one standard deviation in seconds.
    spread_s: f64,
    /// Mean seconds from blow to blow; null for a single one.
    pace_s: Option<f64>,
    /// The pitch of the bell, in hertz: its strongest partial.
    pitch_hz: f64,
    /// Whether the warning was heard before it.
    warning: Warning,
    /// How many seconds before; null where it was not heard.
    warning_s: Option<f64>,
    /// What was due; only where this answers to something that was.
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<Due>,
    /// What is wrong with it, the gravest alone, or null; only where `due` is there.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schemars(with = "Option<Wrong>")]
    wrong: Option<Option<Wrong>>,
}

/// Whether a warning was heard.
#[derive(Debug, Serialize, JsonSchema)]
enum Warning {
    /// It was.
    #[serde(rename = "heard")]
    Heard,
    /// It was not, though it would have been.
    #[serde(rename = "not heard")]
    NotHeard,
    /// It cannot be told.
    #[serde(rename = "cannot tell")]
    CannotTell,
}

/// A strike that was due.
#[derive(Debug, Serialize, JsonSchema)]
struct Due {
    /// The hour, 1 to 12, at a half the one before it; null of ship's bells, which tell none.
    hour: Option<u8>,
    /// Whether it is the half after that hour; null of ship's bells.
    half: Option<bool>,
    /// Which of the ship's bells it is; null of others.
    bells: Option<usize>,
    /// Blows due.
    blows: usize,
    /// When, by its neighbours.
    due_s: f64,
    /// By how many seconds it came late, less than nothing where it came early; null where it did not come.
    late_s: Option<f64>,
}

/// What is wrong with a strike.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Wrong {
    /// Nothing was heard.
    Missing,
    /// It was struck more than once.
    Doubled,
    /// Another number of blows.
    Number,
    /// Early or late by more than hands can be set wrong.
    Late,
}

/// What a clock strikes.
#[derive(Debug, Serialize, JsonSchema)]
enum Cycle {
    /// The hours.
    #[serde(rename = "hours")]
    Hours,
    /// The hours, and one blow at each half.
    #[serde(rename = "hours and halves")]
    HoursAndHalves,
    /// The hours, and one blow at each half but half past twelve and half past one.
    #[serde(rename = "hours and ten halves")]
    HoursAndTenHalves,
    /// One to eight, one more at each half hour.
    #[serde(rename = "ship's bells")]
    ShipsBells,
}

/// Notes of several bells in turn.
#[derive(Debug, Serialize, JsonSchema)]
struct Chime {
    /// When the first sounded.
    at_s: f64,
    /// When each sounded.
    note_times_s: Vec<f64>,
    /// The pitch of each, in hertz.
    notes_hz: Vec<f64>,
    /// Which bell each is, by pitch: 1 is the highest.
    order: Vec<usize>,
}

impl ListenAnswer {
    /// Everything that was heard.
    pub fn of(found: &Findings, ended: heard::SoundEnd) -> ListenAnswer {
        let heard = &found.heard;
        let strikes = heard.strikes.iter().enumerate();
        let strikes: Vec<Strike> = strikes.map(|(k, s)| strike(k, s, found)).collect();
        let dues = found.due.iter().flatten();
        ListenAnswer {
            listen: First,
            trundle: Version,
            why: sentence(&Locale::default(), found),
            seconds: heard.seconds,
            ended: match (ended, heard.full) {
                (_, true) => Ended::Full,
                (heard::SoundEnd::Whole, _) => Ended::Whole,
                (heard::SoundEnd::Short, _) => Ended::Short,
                (heard::SoundEnd::Stopped, _) => Ended::Stopped,
            },
            beats: (!heard.beats.is_empty()).then(|| beats(found)),
            strikes: (!strikes.is_empty()).then_some(strikes),
            cycle: found.due.as_ref().and(found.cycle).map(cycle),
            missing: dues.filter(|d| d.heard.is_empty()).map(due).collect(),
            chimes: heard.chimes.iter().map(chime).collect(),
            clipped: heard.levels.clipped_part(),
        }
    }
}

fn pair(within: Within) -> [f64; 2] {
    [within.low, within.high]
}

fn beats(found: &Findings) -> Beats {
    let beats = &found.heard.beats;
    let short = beats.len() <= MOST_TIMES;
    let pace = found.pace.as_ref();
    let comes_round = found.comes_round.iter().map(|round| ComesRound {
        arbors: round.arbors.clone(),
        turn_s: round.turn_s,
        size_ms: 1e3 * round.size_s,
        by_chance: round.by_chance.get(),
    });
    Beats {
        count: beats.len(),
        foretold: found.heard.foretold,
        per_hour: pace.map(|pace| pace.per_hour.value),
        rate_s_per_day: found.rate.map(|r| r.value),
        rate_interval: found.rate.map(pair),
        rate_interval_recording: found.rate_recorded.map(pair),
        out_of_beat_ms: pace.map(|pace| 1e3 * pace.out_of_beat_s),
        beat_times_s: short.then(|| beats.iter().map(|b| b.at_s).collect()),
        beat_spreads_s: short.then(|| beats.iter().map(|b| f64::from(b.sd_s)).collect()),
        paced: pace.map(paced),
        crutch_to: found.crutch.map(|side| match side {
            heard::SwingSide::Left => Side::Left,
            heard::SwingSide::Right => Side::Right,
        }),
        crutch_deg_at_most: found.crutch_deg,
        nut_turns: found.nut_turns,
        comes_round: comes_round.collect(),
    }
}

fn paced(pace: &Pace) -> Paced {
    let rows = |which| {
        let rows = pace.deviations(which).into_iter();
        rows.map(|(tau, value)| [tau, value]).collect()
    };
    let deviations = Deviation::ALL.into_iter();
    Paced {
        per_hour_interval: pair(pace.per_hour),
        per_hour_interval_recording: pair(pace.per_hour_recorded),
        full_period_s: pace.full_period_s,
        full_period_spread_s: pace.full_period_spread_s,
        out_of_beat_spread_ms: 1e3 * pace.out_of_beat_spread_s,
        jitter_ms: 1e3 * pace.jitter_s,
        span_s: pace.span_s,
        drift_s_per_day_per_day: pace.drift_s_per_day_per_day().map(|within| Drift {
            value: within.value,
            interval: pair(within),
        }),
        deviations: deviations
            .map(|which| (which.name().to_owned(), rows(which)))
            .collect(),
    }
}

fn strike(k: usize, strike: &heard::HeardStrike, found: &Findings) -> Strike {
    let mut dues = found.due.iter().flatten();
    let answers = dues.find(|due| due.heard.contains(&k));
    let (warning, warning_s) = match found.warnings.get(k) {
        Some(heard::HeardWarning::Heard(lead_s)) => (Warning::Heard, Some(*lead_s)),
        Some(heard::HeardWarning::NotHeard) => (Warning::NotHeard, None),
        Some(heard::HeardWarning::CannotTell) | None => (Warning::CannotTell, None),
    };
    Strike {
        at_s: strike.blow_times_s[0],
        blows: strike.blow_times_s.len(),
        blow_times_s: strike.blow_times_s.clone(),
        spread_s: strike.spread_s,
        pace_s: strike.pace_s(),
        pitch_hz: strike.pitch_hz,
        warning,
        warning_s,
        due: answers.map(due),
        wrong: answers.map(|due| due.wrong(&found.heard.strikes).map(wrong)),
    }
}

fn wrong(wrong: heard::HourFault) -> Wrong {
    match wrong {
        heard::HourFault::Missing => Wrong::Missing,
        heard::HourFault::Doubled => Wrong::Doubled,
        heard::HourFault::Number => Wrong::Number,
        heard::HourFault::Late => Wrong::Late,
    }
}

fn due(due: &heard::Due) -> Due {
    // Ship's bells tell no hour.
    let tells = due.bells.is_none();
    Due {
        hour: tells.then_some(due.hour),
        half: tells.then_some(due.half),
        bells: due.bells,
        blows: due.blows,
        due_s: due.due_s,
        late_s: due.late_s,
    }
}

fn cycle(cycle: heard::Cycle) -> Cycle {
    match cycle {
        heard::Cycle::Hours => Cycle::Hours,
        heard::Cycle::HoursAndHalves => Cycle::HoursAndHalves,
        heard::Cycle::HoursAndTenHalves => Cycle::HoursAndTenHalves,
        heard::Cycle::ShipsBells => Cycle::ShipsBells,
    }
}

fn chime(chime: &heard::Chime) -> Chime {
    Chime {
        at_s: chime.notes[0].0,
        note_times_s: chime.notes.iter().map(|n| n.0).collect(),
        notes_hz: chime.notes.iter().map(|n| n.1).collect(),
        order: chime.order(),
    }
}
