//! Missing counts as JSON.

use movement::{Movement, PartId};
use quantity::Known;
use serde_json::{Map, Value, json};
use workshop::counts::{Ended, Found, Outcome, Puzzle, What};

/// All that fit, up to so many.
const MOST: usize = 10_000;

/// A length with its spread.
pub(crate) fn known<Q: quantity::Measure>(x: &Known<Q>, of: impl Fn(Q) -> f64) -> Value {
    json!({ "value": of(x.value), "spread": of(x.spread) })
}

/// What is not known, how many sets fit, and each of them, the likeliest first.
pub fn count_json(movement: &Movement, puzzle: &Puzzle, found: &Found) -> Value {
    let name = |part: PartId| movement.part_name(part);
    let fits: Vec<Value> = (found.fits.iter().take(MOST))
        .map(|fit| {
            let counts: Map<String, Value> = (puzzle.blanks.iter().zip(&fit.counts))
                .map(|(blank, count)| (name(blank.part), json!(count)))
                .collect();
            json!({
                "counts": counts,
                "chance": fit.chance.get(),
                "comes_out": fit.outcomes.iter().map(|o| outcome(movement, o)).collect::<Vec<_>>(),
                "modules_mm": fit.modules.iter().map(|(_, m)| known(m, quantity::Length::as_mm)).collect::<Vec<_>>(),
            })
        })
        .collect();
    json!({
        "answer": 1,
        "sheet": movement.name(),
        "unknown": puzzle.blanks.iter().map(|b| json!({
            "part": name(b.part),
            "written": b.written.map(quantity::Teeth::get),
        })).collect::<Vec<_>>(),
        "from": puzzle.bounds.least,
        "to": puzzle.bounds.most,
        "fit": found.fits.len(),
        "cut_short": found.is_cut_short(),
        "ended": match found.ended {
            Ended::Whole => "whole",
            Ended::Full => "more than are listed",
            Ended::Steps => "steps",
            Ended::Stopped => "stopped",
        },
        "likeliest_first": found.likeliest,
        "clashes": puzzle.clashes.iter().map(|clash| json!({
            "arbor": movement.arbor(clash.arbor).id,
            "sheet_s": known(&clash.sheet, quantity::Duration::as_s),
            "asked_s": known(&clash.asked, quantity::Duration::as_s),
        })).collect::<Vec<_>>(),
        "listed": fits.len(),
        "fits": fits,
    })
}

fn outcome(movement: &Movement, outcome: &Outcome) -> Value {
    let what = match outcome.what {
        What::Beats => "beats an hour".to_owned(),
        What::Run(arbor) => format!("hours of a winding of {}", movement.arbor(arbor).id),
        _ => "turns".to_owned(),
    };
    json!({ "what": what, "is": outcome.is, "aim": outcome.aim, "spread": outcome.spread })
}
