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
use quantity::{
    Exact, Length, Mass, Measure, Number, Slant, SpreadFrom, Teeth, Typed, Unwritten, fraction,
    parse_decimal, to_f64, two_figures, typed_in, whole,
};
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
        let key = &typed.of.key;
        text.set(&at, key, &SheetValue::Decimal(value.is))
            .and_then(|()| set_spread(&mut text, &at, key, value.spread))
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

/// A measure in the unit of the sheet, and how surely it is known where that was told, by a spread or by several measures.
struct Judged {
    is: Exact,
    spread: Option<f64>,
}

impl Judged {
    fn of<Q: Measure>(typed: &Typed<Q>) -> Judged {
        Judged {
            is: typed.mean.clone(),
            spread: match typed.spread_from {
                SpreadFrom::Usual => None,
                SpreadFrom::Said | SpreadFrom::Several => Some(typed.known.spread.base()),
            },
        }
    }
}

/// The end of what is typed of a thread that is told by its turns to the inch.
const TO_THE_INCH: [&str; 3] = ["tpi", "threads per inch", "per inch"];

/// A thread told by its turns to the inch: what one of them is, in millimetres.
///
/// # Formula
/// 25.4 mm over the turns to the inch; of a spread the same part.
fn thread(text: &str) -> Option<Result<Judged, Unwritten>> {
    let lower = text.trim().to_lowercase();
    let turns = TO_THE_INCH.iter().find_map(|end| lower.strip_suffix(end))?;
    let inch = fraction(254, 10);
    Some(typed_in::<Number>(turns.trim(), "").map(|typed| {
        let turns = Judged::of(&typed);
        if !turns.is.is_positive() {
            return turns;
        }
        let is = inch / &turns.is;
        let spread = (turns.spread).map(|spread| spread * to_f64(&is) / to_f64(&turns.is));
        Judged { is, spread }
    }))
}

/// Writes how surely a measurement is known, with two figures, or that nothing is said of it.
fn set_spread(
    text: &mut SheetText,
    at: &TableAt,
    key: &str,
    spread: Option<f64>,
) -> Result<(), EditFault> {
    const SPREAD: &str = "spread";
    let mut spreads = match text.get(at, SPREAD) {
        Some(SheetValue::Table(spreads)) => spreads,
        _ => Vec::new(),
    };
    spreads.retain(|(other, _)| other != key);
    if let Some(spread) = spread.filter(|spread| *spread > 0.0) {
        let written = format!("{spread:.*}", two_figures(spread));
        if let Ok(spread) = parse_decimal(&written)
            && spread.is_positive()
        {
            spreads.push((key.to_owned(), SheetValue::Decimal(spread)));
        }
    }
    match spreads.is_empty() {
        true => text.unset(at, SPREAD).map(drop),
        false => text.set(at, SPREAD, &SheetValue::Table(spreads)),
    }
}

/// What was typed, in the unit of the sheet.
fn judge(typed: &BoxTyped) -> Result<Judged, BoxFaultKind> {
    let (text, unit) = (typed.text.as_str(), typed.unit);
    let thread = match typed.of.thing {
        MeasuredThing::NutPitch => thread(text),
        _ => None,
    };
    let judged = match (thread, typed.of.thing.holds()) {
        (Some(thread), _) => thread,
        (None, BoxHolds::Length) => typed_in::<Length>(text, unit).map(|typed| Judged::of(&typed)),
        (None, BoxHolds::Mass) => typed_in::<Mass>(text, unit).map(|typed| Judged::of(&typed)),
        (None, BoxHolds::Angle) => typed_in::<Slant>(text, unit).map(|typed| Judged::of(&typed)),
        (None, BoxHolds::Number) => typed_in::<Number>(text, unit).map(|typed| Judged::of(&typed)),
    }
    .map_err(BoxFaultKind::Unwritten)?;
    let value = &judged.is;
    if !value.is_positive() {
        return Err(BoxFaultKind::NotPositive);
    }
    let Some(usual) = typed.of.usual() else {
        return Ok(judged);
    };
    let UsualRange { least, most } = &usual;
    if *value < least / whole(FAR) || *value > most * whole(FAR) {
        return Err(BoxFaultKind::Absurd(Box::new(usual)));
    }
    match typed.sure || (least..=most).contains(&value) {
        true => Ok(judged),
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
