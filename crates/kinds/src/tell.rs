//! What an answer makes of a text.

use crate::answers::first_arbor;
use crate::build::{choose, forget};
use crate::drive::drop_bare;
use crate::follows::all_right;
use crate::kind::{AskedFor, Question};
use crate::moved::moved;
use crate::pace::{forget_pace, set_pace};
use crate::pattern::Beside;
use crate::proportions::{set_spread, set_usual, usual_keys};
use crate::works::works;
use crate::{DescribeFault, Kind, MeasuredWidth, QuestionAnswer, WorkRole};
use movement::Turning;
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};

/// Makes the text stand as is usual for a question or, where it was not answered, as what is said of that.
pub(crate) fn as_usual(
    text: &mut SheetText,
    kind: &Kind,
    question: &Question,
    answered: bool,
) -> Result<(), DescribeFault> {
    let about = question.about;
    if about.is_some_and(|role| place_of(text, role).is_err()) {
        return Ok(());
    }
    let unsaid = question.unsaid.as_ref().filter(|_| !answered);
    match &question.asks {
        AskedFor::Choice { .. } if !answered && !question.unknown.is_empty() => {
            forget(text, &question.unknown)
        }
        AskedFor::Choice { usual, choices } => {
            let usual = unsaid.unwrap_or(usual);
            match choices.iter().find(|choice| choice.id == *usual) {
                Some(choice) => choose(text, kind, choice),
                None => Ok(()),
            }
        }
        AskedFor::Arbor { moves } => {
            let beside = Beside::of(text, kind);
            let place = beside.and_then(|beside| beside.place_of(*moves.first()?).cloned());
            match place {
                Some(arbor) => moved_with(text, kind, moves, &arbor),
                None => Ok(()),
            }
        }
        AskedFor::Count { of, key } => {
            let beside = Beside::of(text, kind);
            let usual = beside.and_then(|beside| {
                let its = works(&beside.pattern);
                let its = crate::role::first(&its, *of)?;
                beside.pattern.get(&its.at, key)
            });
            if let (Some(usual), Ok(at)) = (usual, place_of(text, *of)) {
                text.set(&at, key, &usual)?;
                mark(text, &at, key, true)?;
                come_out(text, kind, &at, key)?;
            }
            Ok(())
        }
        AskedFor::Way { .. } => Ok(()),
        AskedFor::Width { of, key } => match place_of(text, *of) {
            Ok(at) => mark(text, &at, key, true),
            Err(_) => Ok(()),
        },
        AskedFor::Pace => Ok(forget_pace(text)?),
    }
}

/// Makes the text stand as was told.
pub(crate) fn tell(
    text: &mut SheetText,
    kind: &Kind,
    question: &Question,
    answer: &QuestionAnswer,
) -> Result<(), DescribeFault> {
    let none = || DescribeFault::NoAnswer {
        question: question.id.clone(),
    };
    match (&question.asks, answer) {
        (AskedFor::Choice { choices, .. }, QuestionAnswer::Choice(id)) => {
            let choice = choices.iter().find(|choice| choice.id == *id);
            choose(text, kind, choice.ok_or_else(none)?)
        }
        (AskedFor::Arbor { moves }, QuestionAnswer::Arbor(arbor)) => {
            moved_with(text, kind, moves, arbor)
        }
        (AskedFor::Count { of, key }, QuestionAnswer::Count(count)) => {
            let at = place_of(text, *of)?;
            text.set(&at, key, &SheetValue::Whole((*count).into()))?;
            mark(text, &at, key, false)
        }
        (AskedFor::Way { of }, QuestionAnswer::Way(way)) => {
            let all = works(text);
            let on = crate::role::first(&all, *of).and_then(|work| work.on.clone());
            let first = on.and_then(|arbor| first_arbor(text, &arbor));
            let at = TableAt::Arbor(first.ok_or(DescribeFault::NoWork(*of))?);
            let word = match way {
                Turning::Clockwise => "clockwise",
                Turning::Counterclockwise => "counterclockwise",
            };
            Ok(text.set(&at, "runs", &SheetValue::Text(word.to_owned()))?)
        }
        (AskedFor::Width { of, key }, QuestionAnswer::Width(width)) => {
            measured(text, *of, key, width)
        }
        (AskedFor::Pace, QuestionAnswer::Pace(pace)) => set_pace(text, pace),
        _ => Err(none()),
    }
}

/// So many that nobody counted may there be.
const MOST_USUAL: i64 = 60;

/// Pins that lift the hammer and that nobody counted, as they come out by the counts as these stand now.
pub(crate) fn usual_lifters(text: &mut SheetText, kind: &Kind) -> Result<(), DescribeFault> {
    let all = works(text);
    let Some(at) = crate::role::first(&all, WorkRole::Lifters).map(|work| work.at.clone()) else {
        return Ok(());
    };
    if usual_keys(text, &at).iter().any(|key| key == PINS) && !all_right(text, kind) {
        come_out(text, kind, &at, PINS)?;
    }
    Ok(())
}

const PINS: &str = "pins";

/// Of what nobody counted, the number nearest the usual one with which all that follows from the counts is right; the usual one where
/// none does, or nothing follows yet.
fn come_out(
    text: &mut SheetText,
    kind: &Kind,
    at: &TableAt,
    key: &str,
) -> Result<(), DescribeFault> {
    let Some(SheetValue::Whole(usual)) = text.get(at, key) else {
        return Ok(());
    };
    let mut others: Vec<i64> = (1..=MOST_USUAL).collect();
    others.sort_by_key(|many| ((many - usual).abs(), *many));
    let mut with = text.clone();
    for many in others {
        with.set(at, key, &SheetValue::Whole(many))?;
        if all_right(&with, kind) {
            *text = with;
            return Ok(());
        }
    }
    Ok(())
}

fn place_of(text: &SheetText, role: WorkRole) -> Result<TableAt, DescribeFault> {
    let all = works(text);
    let work = crate::role::first(&all, role).ok_or(DescribeFault::NoWork(role))?;
    Ok(work.at.clone())
}

/// Puts a key among those that stand as usual, or takes it from them.
pub(crate) fn mark(
    text: &mut SheetText,
    at: &TableAt,
    key: &str,
    is: bool,
) -> Result<(), DescribeFault> {
    let mut keys = usual_keys(text, at);
    keys.retain(|usual| usual != key);
    if is {
        keys.push(key.to_owned());
        set_spread(text, at, key, None)?;
    }
    Ok(set_usual(text, at, &keys)?)
}

pub(crate) fn measured(
    text: &mut SheetText,
    of: WorkRole,
    key: &str,
    width: &MeasuredWidth,
) -> Result<(), DescribeFault> {
    let degrees = width.degrees().ok_or(DescribeFault::Width)?;
    let at = place_of(text, of)?;
    text.set(&at, key, &SheetValue::Decimal(degrees.is))?;
    mark(text, &at, key, false)?;
    Ok(set_spread(text, &at, key, Some(degrees.spread))?)
}

/// Moves them; where what is held at the drop is among them, all is read against its arbor.
fn moved_with(
    text: &mut SheetText,
    kind: &Kind,
    roles: &[WorkRole],
    arbor: &str,
) -> Result<(), DescribeFault> {
    let was: Vec<String> = (works(text).into_iter())
        .filter(|work| roles.contains(&work.role))
        .filter_map(|work| work.on)
        .collect();
    moved(text, roles, arbor)?;
    for left in was.iter().filter(|left| *left != arbor) {
        drop_bare(text, left)?;
    }
    if roles.contains(&kind.held) {
        let to = SheetValue::Text(arbor.to_owned());
        text.set(&TableAt::One(SheetTable::Strike), "read_at", &to)?;
    }
    Ok(())
}
