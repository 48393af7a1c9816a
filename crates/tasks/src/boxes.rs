//! What may be measured for a page of sums, a box each, and how what is typed there comes onto the job's sheet.
//!
//! A box is judged before anything is entered: what is no measure of its kind, is nothing, or is out of all measure is refused; what is
//! far from usual is asked about.

mod thing;
mod which;

pub use thing::{BoxHolds, MeasuredThing};
pub use which::{BoxAt, BoxesFor, DriveChosen, MeasureBox, Undriven, boxes, undriven};

use crate::centres::centres;
use crate::sized::{size_of_places, size_places};
use crate::{QuestionFault, Refusal};
use entries::Work;
use movement::Movement;
use num_traits::Signed;
use quantity::{Exact, Length, Mass, Number, Slant, Teeth, Unwritten, typed_in, whole};
use sheet::SheetTable;
use sheet::edit::{CountWritten, EditFault, SheetText, SheetValue, TableAt};

/// What was typed into a box.
#[derive(Debug, Clone)]
pub struct BoxTyped {
    /// Which.
    pub of: MeasureBox,
    /// As it was typed.
    pub text: String,
    /// The unit that stands beside the box.
    pub unit: &'static str,
    /// Whether it was said that it is so, though it is far from usual.
    pub sure: bool,
}

/// What is wrong with what was typed into a box.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxFault {
    /// The box, by its name.
    pub name: String,
    /// What it is for.
    pub thing: MeasuredThing,
    /// What is wrong.
    pub why: BoxFaultKind,
}

/// In which way it is wrong.
#[derive(Debug, Clone, PartialEq)]
pub enum BoxFaultKind {
    /// It is no measure of its kind.
    Unwritten(Unwritten),
    /// It is nothing, or less.
    NotPositive,
    /// Nothing of a clock is so small or so large.
    Absurd(Box<UsualRange>),
    /// It is far from usual: to be said again if it is so.
    Unusual(Box<UsualRange>),
}

/// What is usual of a measure, in the unit of the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct UsualRange {
    /// The least.
    pub least: Exact,
    /// The most.
    pub most: Exact,
}

/// Why nothing was entered.
#[derive(Debug)]
pub enum BoxesFault {
    /// Something typed is wrong, each with its box.
    Boxes(Vec<BoxFault>),
    /// Nothing was typed.
    Nothing,
    /// The sheet is, with it.
    Wrong(Refusal),
}

/// So many times beyond what is usual, which is wide, is out of all measure.
const FAR: i64 = 10;

/// The sheet with what was typed put in: the entry of it.
///
/// # Errors
/// What is wrong, box by box; then nothing is put in of any.
pub fn put_in(sheet: &str, typed: &[BoxTyped]) -> Result<Work, BoxesFault> {
    if typed.is_empty() {
        return Err(BoxesFault::Nothing);
    }
    let judged: Vec<_> = typed.iter().map(|typed| (typed, judge(typed))).collect();
    let wrong: Vec<BoxFault> = (judged.iter())
        .filter_map(|(typed, judged)| {
            Some(BoxFault {
                name: typed.of.name(),
                thing: typed.of.thing,
                why: judged.as_ref().err()?.clone(),
            })
        })
        .collect();
    if !wrong.is_empty() {
        return Err(BoxesFault::Boxes(wrong));
    }
    let mut text = edited(sheet)?;
    for (typed, value) in judged {
        let Ok(value) = value else { continue };
        let at = match &typed.of.at {
            BoxAt::Arbor(arbor) => TableAt::Arbor(arbor.clone()),
            BoxAt::Mesh { driver, driven } => {
                let meshes = text.meshes();
                let nth =
                    (meshes.iter()).position(|mesh| mesh == &[driver.clone(), driven.clone()]);
                TableAt::Nth(SheetTable::Mesh, nth.unwrap_or(usize::MAX))
            }
        };
        text.set(&at, &typed.of.key, &SheetValue::Decimal(value))
            .map_err(not_edited)?;
    }
    if typed
        .iter()
        .any(|typed| typed.of.thing == MeasuredThing::Centres)
    {
        size(&mut text)?;
    }
    crate::new_sheet(&text.text()).map_err(BoxesFault::Wrong)
}

/// Where places are only about right, a distance that is measured between two of them sizes them all.
fn size(text: &mut SheetText) -> Result<(), BoxesFault> {
    let (open, _) = crate::check_counts_apart(text.text().as_bytes())
        .map_err(|faults| BoxesFault::Wrong(faults.into()))?;
    let movement: &Movement = open.movement();
    match size_of_places(movement, &centres(movement, None)) {
        Some(by) => size_places(text, by).map_err(not_edited),
        None => Ok(()),
    }
}

fn edited(sheet: &str) -> Result<SheetText, BoxesFault> {
    SheetText::new(sheet).map_err(not_edited)
}

fn not_edited(why: EditFault) -> BoxesFault {
    BoxesFault::Wrong(match why {
        EditFault::Unreadable(faults) => Refusal::Sheet(faults),
        other => QuestionFault::NotPutIn(other).into(),
    })
}

/// What was typed, in the unit of the sheet.
fn judge(typed: &BoxTyped) -> Result<Exact, BoxFaultKind> {
    let (text, unit) = (typed.text.as_str(), typed.unit);
    let value = match typed.of.thing.holds() {
        BoxHolds::Length => typed_in::<Length>(text, unit).map(|typed| typed.mean),
        BoxHolds::Mass => typed_in::<Mass>(text, unit).map(|typed| typed.mean),
        BoxHolds::Angle => typed_in::<Slant>(text, unit).map(|typed| typed.mean),
        BoxHolds::Number => typed_in::<Number>(text, unit).map(|typed| typed.mean),
    }
    .map_err(BoxFaultKind::Unwritten)?;
    if !value.is_positive() {
        return Err(BoxFaultKind::NotPositive);
    }
    let Some(usual) = typed.of.usual() else {
        return Ok(value);
    };
    let UsualRange { least, most } = &usual;
    if value < least / whole(FAR) || value > most * whole(FAR) {
        return Err(BoxFaultKind::Absurd(Box::new(usual)));
    }
    match typed.sure || (least..=most).contains(&&value) {
        true => Ok(value),
        false => Err(BoxFaultKind::Unusual(Box::new(usual))),
    }
}

/// A count that was found, for a part on which there was none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountFound {
    /// `ARBOR.PART`.
    pub part: String,
    /// Its teeth.
    pub teeth: Teeth,
}

/// The sheet with counts put in that were found: the entry of it.
///
/// # Errors
/// One of the parts is not there, or was counted already; or the sheet is wrong with it.
pub fn put_counts(sheet: &str, found: &[CountFound]) -> Result<Work, BoxesFault> {
    let (open, _) = crate::check_counts_apart(sheet.as_bytes())
        .map_err(|faults| BoxesFault::Wrong(faults.into()))?;
    let movement: &Movement = open.movement();
    let blank =
        |name: &str| (open.blanks().iter()).any(|blank| movement.part_name(blank.part) == name);
    let mut text = edited(sheet)?;
    for CountFound { part, teeth } in found {
        let unknown = || QuestionFault::UnknownPart(part.clone());
        let halves = part.split_once('.').filter(|_| blank(part));
        let (arbor, of_it) = halves.ok_or_else(|| BoxesFault::Wrong(unknown().into()))?;
        text.set_count(arbor, of_it, CountWritten::Known(*teeth))
            .map_err(not_edited)?;
    }
    if found.is_empty() {
        return Err(BoxesFault::Nothing);
    }
    crate::new_sheet(&text.text()).map_err(BoxesFault::Wrong)
}
