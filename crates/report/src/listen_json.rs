//! What was heard, as JSON: the keys are fixed, more stand beside them.

use crate::Words;
use crate::listen::sentence;
use listen::{Cycle, Deviation, Due, Ended, Findings, Pace, Strike, Warning, Within, Wrong};
use serde_json::{Value, json};

/// Beats whose times are written out, at most; of longer recordings only what they come to.
const MOST_TIMES: usize = 20_000;

/// Everything that was heard; nulls where nothing was.
pub fn listen_json(found: &Findings, ended: Ended) -> Value {
    let strikes: Vec<Value> = (found.heard.strikes.iter().enumerate())
        .map(|(k, s)| strike(k, s, found))
        .collect();
    json!({
        "listen": 1,
        "why": sentence(&Words::default(), found),
        "seconds": found.heard.seconds,
        "ended": match (ended, found.heard.full) {
            (_, true) => "full",
            (Ended::Whole, _) => "whole",
            (Ended::Short, _) => "short",
            (Ended::Stopped, _) => "stopped",
        },
        "beats": beats(found),
        "strikes": if strikes.is_empty() { Value::Null } else { json!(strikes) },
        "cycle": found.due.as_ref().and(found.cycle).map(cycle),
        "missing": found.due.iter().flatten().filter(|d| d.heard.is_empty()).map(due).collect::<Vec<_>>(),
        "chimes": found.heard.chimes.iter().map(|chime| json!({
            "at_s": chime.notes[0].0,
            "note_times_s": chime.notes.iter().map(|n| n.0).collect::<Vec<_>>(),
            "notes_hz": chime.notes.iter().map(|n| n.1).collect::<Vec<_>>(),
            "order": chime.order(),
        })).collect::<Vec<_>>(),
        "clipped": found.heard.levels.clipped_part(),
    })
}

fn pair(within: Within) -> Value {
    json!([within.low, within.high])
}

fn beats(found: &Findings) -> Value {
    let times: Vec<f64> = found.heard.beats.iter().map(|b| b.at_s).collect();
    if times.is_empty() {
        return Value::Null;
    }
    let spreads: Vec<f64> = found
        .heard
        .beats
        .iter()
        .map(|b| f64::from(b.sd_s))
        .collect();
    let short = times.len() <= MOST_TIMES;
    let mut object = json!({
        "count": times.len(),
        "foretold": found.heard.foretold,
        "per_hour": null,
        "rate_s_per_day": found.rate.map(|r| r.value),
        "rate_interval": found.rate.map(pair),
        "rate_interval_recording": found.rate_recorded.map(pair),
        "out_of_beat_ms": null,
        "beat_times_s": short.then_some(times),
        "beat_spreads_s": short.then_some(spreads),
    });
    if let Some(pace) = &found.pace {
        told(&mut object, pace);
    }
    object["crutch_to"] = json!(found.crutch.map(|side| match side {
        listen::Side::Left => "left",
        listen::Side::Right => "right",
    }));
    object["crutch_deg_at_most"] = json!(found.crutch_deg);
    object["nut_turns"] = json!(found.nut_turns);
    object["comes_round"] = json!(
        found
            .comes_round
            .iter()
            .map(|round| json!({
                "arbors": round.arbors,
                "turn_s": round.turn_s,
                "size_ms": 1e3 * round.size_s,
                "by_chance": round.by_chance.get(),
            }))
            .collect::<Vec<_>>()
    );
    object
}

fn told(object: &mut Value, pace: &Pace) {
    object["per_hour"] = json!(pace.per_hour.value);
    object["per_hour_interval"] = pair(pace.per_hour);
    object["per_hour_interval_recording"] = pair(pace.per_hour_recorded);
    object["full_period_s"] = json!(pace.full_period_s);
    object["full_period_spread_s"] = json!(pace.full_period_spread_s);
    object["out_of_beat_ms"] = json!(1e3 * pace.out_of_beat_s);
    object["out_of_beat_spread_ms"] = json!(1e3 * pace.out_of_beat_spread_s);
    object["jitter_ms"] = json!(1e3 * pace.jitter_s);
    object["span_s"] = json!(pace.span_s);
    object["drift_s_per_day_per_day"] = json!(
        pace.drift_s_per_day_per_day()
            .map(|w| json!({ "value": w.value, "interval": pair(w) }))
    );
    for which in Deviation::ALL {
        let rows: Vec<Value> = (pace.deviations(which).into_iter())
            .map(|(tau, value)| json!([tau, value]))
            .collect();
        object["deviations"][which.name()] = json!(rows);
    }
}

fn strike(k: usize, strike: &Strike, found: &Findings) -> Value {
    let answers = found
        .due
        .iter()
        .flatten()
        .find(|due| due.heard.contains(&k));
    let warning = found.warnings.get(k).copied();
    let mut object = json!({
        "at_s": strike.blow_times_s[0],
        "blows": strike.blow_times_s.len(),
        "blow_times_s": strike.blow_times_s,
        "spread_s": strike.spread_s,
        "pace_s": strike.pace_s(),
        "pitch_hz": strike.pitch_hz,
        "warning": match warning {
            Some(Warning::Heard(_)) => "heard",
            Some(Warning::NotHeard) => "not heard",
            Some(Warning::CannotTell) | None => "cannot tell",
        },
        "warning_s": match warning {
            Some(Warning::Heard(lead_s)) => Some(lead_s),
            _ => None,
        },
    });
    if let Some(answers) = answers {
        object["due"] = due(answers);
        object["wrong"] = json!(
            answers
                .wrong(&found.heard.strikes)
                .map(|wrong| match wrong {
                    Wrong::Missing => "missing",
                    Wrong::Doubled => "doubled",
                    Wrong::Number => "number",
                    Wrong::Late => "late",
                })
        );
    }
    object
}

fn due(due: &Due) -> Value {
    // Ship's bells tell no hour.
    let tells = due.bells.is_none();
    json!({
        "hour": tells.then_some(due.hour),
        "half": tells.then_some(due.half),
        "bells": due.bells,
        "blows": due.blows,
        "due_s": due.due_s,
        "late_s": due.late_s,
    })
}

/// What it strikes, as a word.
fn cycle(cycle: Cycle) -> &'static str {
    match cycle {
        Cycle::Hours => "hours",
        Cycle::HoursAndHalves => "hours and halves",
        Cycle::HoursAndTenHalves => "hours and ten halves",
        Cycle::ShipsBells => "ship's bells",
    }
}
