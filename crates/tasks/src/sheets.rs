//! A sheet made or altered by what is said of it in words: begun from a kind of strike, keys set, counts put in.

use crate::{QuestionFault, Refusal};
use kinds::{
    AskedFor, CountState, DescribeFault, Described, Kind, MeasuredPace, MeasuredWidth, PlaceId,
    QuestionAnswer,
};
use movement::{ToothForm, Turning};
use quantity::{Duration, Length, Teeth, parse_known, typed_in};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

impl From<DescribeFault> for Refusal {
    fn from(fault: DescribeFault) -> Refusal {
        match fault {
            DescribeFault::Edit(EditFault::Unreadable(faults)) => Refusal::Sheet(faults),
            other => QuestionFault::NotDescribed(other).into(),
        }
    }
}

/// What is altered, as it was written, in this order.
#[derive(Debug, Clone, Copy, Default)]
pub struct SheetAsk<'a> {
    /// What the clock is called.
    pub name: Option<&'a str>,
    /// `QUESTION=ANSWER` of its kind: a choice, an arbor, a number, a way round, `WIDE/ACROSS`, `SECONDS`, `usual` or `?`.
    pub answers: &'a [String],
    /// `PLACE=VALUE`: `ARBOR.PART`, `ARBOR.KEY`, or as the sheet has it: `arbor.ARBOR.KEY`, `track.ID.KEY`, `strike.KEY`,
    /// `mesh.DRIVER:DRIVEN.KEY`, `KEY`.
    pub set: &'a [String],
    /// `ARBOR.PART` of which the count is lost.
    pub lost: &'a [String],
}

/// The kind of strike that a word says; `_` may stand for a blank.
pub fn kind_called(word: &str) -> Option<&'static Kind> {
    Kind::find(&word.replace('_', " ")).ok()
}

/// The text of a sheet begun from a kind of strike.
///
/// # Errors
/// What is altered cannot be, or cannot be read.
pub fn begin_sheet(kind: &Kind, ask: &SheetAsk<'_>) -> Result<String, Refusal> {
    altered(Described::begin(&kind.id, "", &[])?, ask)
}

/// The text of a sheet that was altered; whoever asks reads it again.
///
/// # Errors
/// The text cannot be taken apart; what is altered cannot be, or cannot be read.
pub fn alter_sheet(text: &[u8], ask: &SheetAsk<'_>) -> Result<String, Refusal> {
    let text = match std::str::from_utf8(text) {
        Ok(text) => text,
        // What is wrong with it reading tells.
        Err(_) => {
            crate::check_counts_apart(text)?;
            return Err(Refusal::Question(QuestionFault::NotSet(String::new())));
        }
    };
    altered(Described::read(text)?, ask)
}

fn altered(mut sheet: Described, ask: &SheetAsk<'_>) -> Result<String, Refusal> {
    if let Some(name) = ask.name {
        let name = SheetValue::Text(name.to_owned());
        sheet.set(&TableAt::One(SheetTable::Sheet), "name", &name)?;
    }
    for written in ask.answers {
        answer(&mut sheet, written)?;
    }
    for written in ask.set {
        set(&mut sheet, written)?;
    }
    for written in ask.lost {
        let place = part(written).ok_or_else(|| QuestionFault::NotSet(written.clone()))?;
        sheet.count(&place, CountState::Lost)?;
    }
    Ok(sheet.text())
}

fn part(written: &str) -> Option<PlaceId> {
    let (arbor, part) = written.trim().split_once('.')?;
    Some(PlaceId {
        arbor: arbor.to_owned(),
        part: part.to_owned(),
    })
}

/// Answers a question of the sheet's kind.
fn answer(sheet: &mut Described, written: &str) -> Result<(), Refusal> {
    let unread = || QuestionFault::NotSet(written.to_owned());
    let (question, said) = written.split_once('=').ok_or_else(unread)?;
    let (question, said) = (question.trim(), said.trim());
    let none = || DescribeFault::NoQuestion {
        got: question.to_owned(),
    };
    let mut questions = sheet.kind().into_iter().flat_map(|kind| &kind.questions);
    let asks = questions.find(|asked| asked.id == question);
    let asks = &asks.ok_or_else(none)?.asks;
    let told = match (said, asks) {
        ("?", _) => QuestionAnswer::DontKnow,
        ("usual", _) => QuestionAnswer::Usual,
        (_, AskedFor::Choice { .. }) => QuestionAnswer::Choice(said.to_owned()),
        (_, AskedFor::Arbor { .. }) => QuestionAnswer::Arbor(said.to_owned()),
        (_, AskedFor::Count { .. }) => {
            QuestionAnswer::Count(said.parse().ok().filter(|n| *n > 0).ok_or_else(unread)?)
        }
        ("clockwise", AskedFor::Way { .. }) => QuestionAnswer::Way(Turning::Clockwise),
        ("counterclockwise" | "anticlockwise", AskedFor::Way { .. }) => {
            QuestionAnswer::Way(Turning::Counterclockwise)
        }
        (_, AskedFor::Way { .. }) => return Err(unread().into()),
        (_, AskedFor::Width { .. }) => {
            let (wide, across) = said.split_once('/').ok_or_else(unread)?;
            let [wide, across] = [wide, across].map(|text| parse_known::<Length>(text.trim()));
            let (wide, across) = (wide.map_err(|_| unread())?, across.map_err(|_| unread())?);
            QuestionAnswer::Width(MeasuredWidth { wide, across })
        }
        (_, AskedFor::Pace) => {
            let seconds = |text: &str| {
                let typed = typed_in::<Duration>(text.trim(), "s");
                typed.map(|typed| typed.known).map_err(|_| unread())
            };
            let (blow, fall) = match said.split_once('/') {
                Some((blow, fall)) => (blow, Some(seconds(fall)?)),
                None => (said, None),
            };
            let blow = seconds(blow)?;
            QuestionAnswer::Pace(MeasuredPace { blow, fall })
        }
    };
    Ok(sheet.answer(question, &told)?)
}

/// Tables of which a sheet has one.
const ONES: [(&str, SheetTable); 4] = [
    ("strike", SheetTable::Strike),
    ("rack", SheetTable::Rack),
    ("chime", SheetTable::Chime),
    ("plates", SheetTable::Plates),
];

/// Tables of which it has several, each with an id.
const LISTS: [(&str, SheetTable); 8] = [
    ("moment", SheetTable::Moment),
    ("witness", SheetTable::Witness),
    ("track", SheetTable::Track),
    ("pin", SheetTable::Pin),
    ("lever", SheetTable::Lever),
    ("pillar", SheetTable::Pillar),
    ("pivot", SheetTable::Pivot),
    ("fixture", SheetTable::Fixture),
];

/// Sets what `PLACE=VALUE` says.
fn set(sheet: &mut Described, written: &str) -> Result<(), Refusal> {
    let unread = || Refusal::Question(QuestionFault::NotSet(written.to_owned()));
    let (place, said) = written.split_once('=').ok_or_else(unread)?;
    let (at, key) = table(sheet, place.trim()).ok_or_else(unread)?;
    let said = said.trim();
    if said.is_empty() || said.contains('\n') {
        return Err(unread());
    }
    let TableAt::Arbor(arbor) = &at else {
        return Ok(sheet.set(&at, &key, &value(said))?);
    };
    let place = PlaceId {
        arbor: arbor.clone(),
        part: key.clone(),
    };
    let there = sheet.counts().iter().any(|known| known.id == place);
    match sheet.set(&at, &key, &value(said)) {
        Err(DescribeFault::Edit(EditFault::NoKey { .. })) => {}
        other if !there => return Ok(other?),
        _ => {}
    }
    // A toothed part: how it is made, or its count.
    match said {
        "cut" => sheet.form(&place, ToothForm::Cut)?,
        "lantern" => sheet.form(&place, ToothForm::Lantern)?,
        "pins" => sheet.form(&place, ToothForm::Pins)?,
        _ => sheet.count(&place, count(said).ok_or_else(unread)?)?,
    }
    Ok(())
}

fn count(said: &str) -> Option<CountState> {
    let teeth = |text: &str| Teeth::pins(text.parse().ok()?);
    Some(match said.strip_suffix('?') {
        Some("") => CountState::NotCounted,
        Some(doubtful) => CountState::NotSure(teeth(doubtful)?),
        None => CountState::Counted(teeth(said)?),
    })
}

/// The table that a place is in, and its key there.
fn table(sheet: &Described, place: &str) -> Option<(TableAt, String)> {
    if let Some(mesh) = place.strip_prefix("mesh.") {
        let (mesh, key) = mesh.rsplit_once('.')?;
        let (driver, driven) = mesh.split_once(':')?;
        let text = SheetText::new(&sheet.text()).ok()?;
        let mut meshes = text.meshes().into_iter();
        let nth = meshes.position(|[one, other]| one == driver && other == driven)?;
        return Some((TableAt::Nth(SheetTable::Mesh, nth), key.to_owned()));
    }
    let words: Vec<&str> = place.split('.').collect();
    let named = |list: &'static [(&str, SheetTable)], word: &str| {
        let found = list.iter().find(|(heading, _)| *heading == word);
        found.map(|(_, table)| *table)
    };
    let (at, key) = match words[..] {
        [key] => (TableAt::One(SheetTable::Sheet), key),
        [one, key] => match named(&ONES, one) {
            Some(table) => (TableAt::One(table), key),
            None => (TableAt::Arbor(one.to_owned()), key),
        },
        ["arbor", arbor, key] => (TableAt::Arbor(arbor.to_owned()), key),
        [list, id, key] => (TableAt::Named(named(&LISTS, list)?, id.to_owned()), key),
        _ => return None,
    };
    (!key.is_empty()).then(|| (at, key.to_owned()))
}

/// What a value says: as a sheet would write it, or else a text.
fn value(said: &str) -> SheetValue {
    let as_written = SheetText::new(&format!("name = {said}")).ok();
    let read = as_written.and_then(|text| text.get(&TableAt::One(SheetTable::Sheet), "name"));
    read.unwrap_or_else(|| SheetValue::Text(said.to_owned()))
}
