//! The timing log on the command line: what it comes to, what to do next.

use super::numbers::breaking;
use super::remesh::{shifts_words, stands_of};
use super::{caution, list, odds, plate};
use crate::page::cautions::danger;
use crate::{Locale, page, say};
use entries::LogWarning;
use movement::{Movement, Plate, Reached, WitnessId};
use quantity::{Chance, Degrees};
use tasks::{ShiftDanger, TimingState};
use timing::{Act, Advice, Order, OrderStep, Recalled};

/// A log that was read all the same.
pub fn log_warning(warning: &LogWarning) -> String {
    let LogWarning::TornLine { line, torn, .. } = warning;
    format!("line {line} of the log breaks off and was left out ({torn} bytes)")
}

/// What to do next, in one sentence or two.
pub fn advice(movement: &Movement, recalled: &Recalled, advice: &Advice, from: Plate) -> String {
    let shift = || shifts_words(movement, &advice.shift_now, from);
    let seen = format!("as you look at it from the {}", plate(from));
    let names = |at: &[WitnessId]| {
        let names: Vec<String> = (at.iter())
            .map(|id| movement.witness(*id).id.clone())
            .collect();
        list(&names)
    };
    // What is likelier not to be all of it is a step, and is said to be one.
    let is_a_step = advice.after.get() < 0.5;
    match &advice.act {
        Act::Done if movement.comes_out() => format!(
            "All is in its window, {}: close up, and prove it through the hours.",
            odds(advice.in_window)
        ),
        Act::Look(at) => {
            let unread = &advice.lacks.unread;
            let first = if recalled.last_look.is_empty() || at.iter().all(|id| unread.contains(id)) {
                "Look"
            } else {
                "Look again"
            };
            let instead = if advice.shift_now.is_empty() {
                String::new()
            } else {
                format!(" If it must be now: {}, {seen}.", shift())
            };
            let first = format!(
                "{first} before anything is opened or closed, at {}: it is soon done and may save an opening.{instead}",
                names(at)
            );
            let locale = Locale::default();
            (page::which_is_believed(&locale, movement, advice).into_iter())
                .chain(page::strike_on(&locale, movement, recalled, at))
                .fold(first, |first, then| format!("{first} {}", breaking(&then.text())))
        }
        Act::Shift(_) => {
            let whole = recalled.timed.len() == movement.witnesses().len();
            let all = if whole {
                "all"
            } else {
                "all of this train"
            };
            let what = match is_a_step {
                true => format!("{}, {seen}: the first step of several.", shift()),
                false => format!(
                    "{}, {seen}: then {all} is in, {}.",
                    shift(),
                    odds(advice.after)
                ),
            };
            super::remesh::capital(&what)
        }
        Act::Done | Act::PutIn(_) | Act::Part(_) | Act::Prove => {
            let said = page::answer(&Locale::default(), movement, recalled, advice, from);
            breaking(&said.text())
        }
        Act::Turn(turns) => {
            let what = super::remesh::turned_words(movement, turns, &[], from);
            let what = super::remesh::capital(&what);
            let then = match is_a_step {
                true => "it is the first step of several".to_owned(),
                false => format!("then all is in, {}", odds(advice.after)),
            };
            format!("{what}, {seen}, and look again: {then}; no plates are spread for it.")
        }
        Act::NoMesh => "No re-mesh brings all of it into its windows: look for a bent lever or a slipped part; bend only a soft \
             lever, and last."
            .to_owned(),
    }
}

/// What the log shows besides: a shift that went wrong, a lever that seems bent.
pub fn findings(movement: &Movement, recalled: &Recalled, act: &Act) -> Vec<String> {
    let found = page::findings(&Locale::default(), movement, recalled, act);
    found.iter().map(|said| breaking(said)).collect()
}

/// One arbor going in.
pub fn put_in(movement: &Movement, step: &OrderStep) -> String {
    page::put_in(&Locale::default(), movement, step)
}

/// The chances of each witness's places.
pub type PlaceChances = [(WitnessId, Vec<(Degrees, Chance)>)];

/// All that the log comes to, as text for people.
pub fn log_text(noted: &TimingState) -> String {
    let movement = &noted.sheet.movement;
    let (recalled, advised, from) = (&noted.recalled, &noted.advice, noted.from);
    let mut text = vec![
        format!("{}, seen from the {}", movement.name(), plate(from)),
        String::new(),
    ];
    text.extend(super::remesh::count_first(movement));
    text.push(advice(movement, recalled, advised, from));
    text.extend(page::as_usual(
        &Locale::default(),
        movement,
        &advised.lacks.usual,
    ));
    text.extend(findings(movement, recalled, &advised.act));
    text.extend(page::stood_right(
        &Locale::default(),
        movement,
        &noted.stood,
    ));
    let spread = |s: &timing::Shift| movement.mesh(s.mesh).reached == Reached::Plates;
    if matches!(advised.act, Act::Shift(_)) {
        let several = advised.shift_now.len() > 1;
        for (shift, nth) in advised.shift_now.iter().zip(1..) {
            text.push(String::new());
            if several {
                text.push(super::remesh::numbered(movement, shift, from, nth));
            }
            super::remesh::handling(movement, shift, from, &mut text);
        }
    }
    if let Act::Turn(turns) = &advised.act {
        for turn in turns {
            text.push(String::new());
            super::remesh::turning_text(movement, turn, from, &mut text);
        }
    }
    let mut cautions = Vec::new();
    // Also where a shift is told beside what is to be done first.
    if advised.shift_now.iter().any(spread) {
        cautions.push(caution().to_owned());
    }
    let others = noted.dangers().into_iter();
    cautions.extend(
        others
            .filter(|danger| *danger != ShiftDanger::Springs)
            .map(|one| breaking(&danger(&Locale::default(), &one))),
    );
    if !cautions.is_empty() {
        text.push(String::new());
    }
    text.extend(cautions.iter().map(|says| format!("Caution. {says}")));
    text.push(String::new());
    let openings = format!("Openings so far: {}.", recalled.openings);
    text.push(if advised.lacks.blind {
        openings
    } else {
        let if_sound = match page::may_be_bent(recalled) {
            true => ", if no lever is bent and no part has slipped",
            false => "",
        };
        let odds = odds(advised.in_window);
        format!("All in window now{if_sound}: {odds}. {openings}")
    });
    for (id, places) in &noted.places {
        text.push(stands_of(
            movement,
            *id,
            places,
            recalled.readable.contains(id),
        ));
    }
    text.push(String::new());
    text.join("\n")
}

/// How arbors go in, as text for people.
pub fn order_text(movement: &Movement, order: &Order) -> String {
    let steps = &order.steps;
    if steps.is_empty() {
        return "All arbors are in. With nothing known to be wrong, leave them in.\n".to_owned();
    }
    let mut text = vec![
        "No power in any spring, and no weight on, while an arbor is out: nothing would stop the train. Press it on by finger."
            .to_owned(),
    ];
    for (i, step) in steps.iter().enumerate() {
        text.push(format!("{:3}. {}", i + 1, put_in(movement, step)));
    }
    if order.cut_short {
        text.push(say!(&Locale::default(), "order-cut-short"));
    }
    text.push(String::new());
    text.join("\n")
}
