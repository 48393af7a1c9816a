//! What stands on a sheet as usual, worked out from its counts: angles as parts of a blow, of a turn, or of what was measured.

use crate::angles::{Angles, Counts, turned};
use crate::fitting::fit;
use crate::kind::{Kind, TrainStepBy};
use crate::pattern::Beside;
use crate::role::{WorkRole, places};
use crate::train::{PartName, read_at};
use crate::works::works;
use num_traits::{ToPrimitive, Zero};
use quantity::{Exact, fraction, whole};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

/// The key that lists those that stand as usual.
pub(crate) const USUAL: &str = "usual";

/// The keys of a table that stand as usual.
pub(crate) fn usual_keys(text: &SheetText, at: &TableAt) -> Vec<String> {
    let listed = text.get(at, USUAL);
    let keys = listed.iter().flat_map(|listed| listed.list());
    keys.filter_map(SheetValue::text)
        .map(str::to_owned)
        .collect()
}

/// Writes which keys of a table stand as usual; none of them, no list.
pub(crate) fn set_usual(
    text: &mut SheetText,
    at: &TableAt,
    keys: &[String],
) -> Result<(), EditFault> {
    if keys.is_empty() {
        return text.unset(at, USUAL).map(|_| ());
    }
    let keys = keys.iter().cloned().map(SheetValue::Text).collect();
    text.set(at, USUAL, &SheetValue::List(keys))
}

/// The key of the table that tells how surely keys were measured.
const SPREAD: &str = "spread_deg";

/// Writes how surely a key of a table was measured, or that nothing is said of it.
pub(crate) fn set_spread(
    text: &mut SheetText,
    at: &TableAt,
    key: &str,
    spread: Option<Exact>,
) -> Result<(), EditFault> {
    let mut spreads = match text.get(at, SPREAD) {
        Some(SheetValue::Table(spreads)) => spreads,
        _ => Vec::new(),
    };
    spreads.retain(|(other, _)| other != key);
    spreads.extend(spread.map(|spread| (key.to_owned(), SheetValue::Decimal(spread))));
    match spreads.is_empty() {
        true => text.unset(at, SPREAD).map(|_| ()),
        false => text.set(at, SPREAD, &SheetValue::Table(spreads)),
    }
}

/// Marks every key that has a proportion as usual, where it is written.
pub(crate) fn mark_all(text: &mut SheetText, kind: &Kind) -> Result<(), EditFault> {
    for work in works(text) {
        let rows = kind.proportions.iter().filter(|row| row.of == work.role);
        let keys: Vec<String> = rows
            .filter(|row| text.get(&work.at, &row.key).is_some())
            .map(|row| row.key.clone())
            .collect();
        set_usual(text, &work.at, &keys)?;
    }
    Ok(())
}

/// Works out anew all that stands as usual, what a turn of the arbor that is held takes in blows, and how many alike places each
/// witness has.
pub(crate) fn derive(text: &mut SheetText, kind: &Kind) -> Result<(), EditFault> {
    // What is struck is known before any angle is, and counts depend on it.
    for proportion in kind.proportions.iter().filter(|row| row.struck) {
        for own in works(text).iter().filter(|work| work.role == proportion.of) {
            let is_usual = usual_keys(text, &own.at).contains(&proportion.key);
            if let Some(struck) = struck(text).filter(|_| is_usual) {
                text.set(&own.at, &proportion.key, &struck)?;
            }
        }
    }
    let beside = Beside::of(text, kind);
    let usual = |part: &PartName| beside.as_ref()?.usual(part);
    let angles = Angles::of(text, kind);
    for proportion in kind.proportions.iter().filter(|row| row.played) {
        let own = angles.works.iter();
        for (nth, own) in own.filter(|work| work.role == proportion.of).enumerate() {
            let counts = Counts {
                text,
                usual: &usual,
            };
            let played = || -> Option<Tune> {
                let change = angles.blow(counts, own.on.as_ref()?)?;
                Tune::of(beside.as_ref()?, own.role, nth)?.played(&change)
            };
            let is_usual = usual_keys(text, &own.at).contains(&proportion.key);
            if let Some(tune) = is_usual.then(played).flatten() {
                text.set(&own.at, DIVISIONS, &SheetValue::Whole(tune.divisions))?;
                let at = tune.at.into_iter().map(SheetValue::Whole).collect();
                text.set(&own.at, &proportion.key, &SheetValue::List(at))?;
            }
        }
    }
    for proportion in (kind.proportions.iter()).filter(|row| !row.struck && !row.played) {
        let own = angles
            .works
            .iter()
            .filter(|work| work.role == proportion.of);
        for (nth, own) in own.enumerate() {
            if !usual_keys(text, &own.at).contains(&proportion.key) {
                continue;
            }
            let counts = Counts {
                text,
                usual: &usual,
            };
            let Some(angle) = angles.usual(counts, proportion, nth, own) else {
                continue;
            };
            let value = match text.get(&own.at, &proportion.key) {
                _ if !proportion.around.is_empty() => apart(&angle, &proportion.around),
                Some(SheetValue::List(list)) => around(&angle, list.len()),
                _ => SheetValue::Decimal(angle),
            };
            text.set(&own.at, &proportion.key, &value)?;
        }
    }
    let counts = Counts {
        text,
        usual: &usual,
    };
    let blow = read_at(text).and_then(|arbor| angles.true_blow(counts, &arbor));
    if let Some(blow) = blow.filter(|blow| !blow.is_zero()) {
        let at = TableAt::One(SheetTable::Strike);
        let per_turn = SheetValue::Decimal(as_written(blow.recip()));
        text.set(&at, "blows_per_turn", &per_turn)?;
    }
    fit(text)?;
    alike(text, kind)
}

const DIVISIONS: &str = "divisions";

/// A drum plays no more changes in a turn than this.
const MOST_CHANGES: i64 = 40;

/// One bell's pins in a turn of a drum, a pin a change.
struct Tune {
    divisions: i64,
    at: Vec<i64>,
}

impl Tune {
    /// The usual one of the nth bell.
    fn of(beside: &Beside, role: WorkRole, nth: usize) -> Option<Tune> {
        let all = works(&beside.pattern);
        let own = all.iter().filter(|work| work.role == role).nth(nth)?;
        let whole = |value: &SheetValue| value.number()?.to_integer().to_i64();
        Some(Tune {
            divisions: whole(&beside.pattern.get(&own.at, DIVISIONS)?)?,
            at: (beside.pattern.get(&own.at, "at")?.list().iter())
                .map(whole)
                .collect::<Option<_>>()?,
        })
    }

    /// The same on a drum that turns so far in a change; nothing where that is no whole number of changes in a turn.
    fn played(&self, change: &Exact) -> Option<Tune> {
        let usual = i64::try_from(self.at.len()).ok()?;
        if usual == 0 || change.is_zero() || !change.recip().is_integer() {
            return None;
        }
        let changes = change.recip().to_i64()?;
        if !(1..=MOST_CHANGES).contains(&changes) {
            return None;
        }
        let pin = |nth: i64| -> Option<i64> {
            let own = self.at.get(usize::try_from(nth % usual).ok()?)?;
            Some(own + nth / usual * self.divisions)
        };
        Some(Tune {
            divisions: self.divisions / usual * changes,
            at: (0..changes).map(pin).collect::<Option<_>>()?,
        })
    }
}

/// Blows in a turn as a sheet can say them, to the thousandth; where counts give a fraction that it cannot say, something was
/// counted wrongly, and what is meant is a whole number.
fn as_written(per_turn: Exact) -> Exact {
    match (&per_turn * whole(1000)).is_integer() {
        true => per_turn,
        false => per_turn.round().max(whole(1)),
    }
}

/// Places at these parts of a turn beyond the first.
fn apart(first: &Exact, parts: &[[i64; 2]]) -> SheetValue {
    let place = |[part, of]: &[i64; 2]| {
        let angle = first + whole(360) * fraction(*part, *of);
        SheetValue::Decimal(turned(&((angle * whole(10)).round() / whole(10))))
    };
    SheetValue::List(parts.iter().map(place).collect())
}

/// What the count wheel counts from one time to the next through the cycle: blows or, of ship's bells, pairs and single ones.
fn struck(text: &SheetText) -> Option<SheetValue> {
    let strike = text.table(&TableAt::One(SheetTable::Strike))?;
    let hours = strike
        .get("cycle_hours")
        .map_or(Some(whole(12)), |hours| hours.number())?;
    let hours = i64::try_from(hours.to_integer()).ok()?;
    let (bells, halves, silent): (bool, bool, &[i64]) = match strike.text("blows")?.as_str() {
        "hours" | "hours and passing halves" => (false, false, &[]),
        "hours and halves" => (false, true, &[]),
        "hours and ten halves" => (false, true, &[1, 3]),
        "ship's bells" => (true, true, &[]),
        _ => return None,
    };
    let at = |half: i64| match (bells, half % 2) {
        (true, _) => Some(((half - 1) % 8 + 2) / 2),
        (false, 0) => Some((half / 2 - 1) % 12 + 1),
        (false, _) => (halves && !silent.contains(&(half % 24))).then_some(1),
    };
    let counts = (1..=hours * 2).filter_map(at).map(SheetValue::Whole);
    Some(SheetValue::List(counts.collect()))
}

/// So many places alike all round, the first of them given.
fn around(first: &Exact, places: usize) -> SheetValue {
    let all = i64::try_from(places).unwrap_or(1).max(1);
    let place = |nth| turned(&(first + whole(360) * fraction(nth, all)));
    SheetValue::List(
        (0..all)
            .map(|nth| SheetValue::Decimal(place(nth)))
            .collect(),
    )
}

/// What a pin is that is read against an arm.
const STOPPED: [WorkRole; 4] = [
    WorkRole::LockingPin,
    WorkRole::WarningPin,
    WorkRole::PalletTail,
    WorkRole::ChimePin,
];

/// Alike places of each witness of a train's works: as many as what is on its arbor has.
fn alike(text: &mut SheetText, kind: &Kind) -> Result<(), EditFault> {
    let all = works(text);
    let by_blow = kind.step == TrainStepBy::Blow;
    for nth in 0..text.tables(SheetTable::Witness).len() {
        let at = TableAt::Nth(SheetTable::Witness, nth);
        let said = |key| Some(text.get(&at, key)?.text()?.to_owned());
        let (on, kind) = (said("on"), said("kind"));
        let roles: &[WorkRole] = match kind.as_deref().and_then(movement::WitnessKind::called) {
            Some(kind) => match kind.looks {
                // Where places are unlike, which of them it is stands on the sheet.
                movement::WitnessDrawing::Slots if by_blow => &[WorkRole::CountWheel],
                movement::WitnessDrawing::Pins if by_blow => &[WorkRole::Lifters],
                movement::WitnessDrawing::Stop => &STOPPED,
                _ => &[],
            },
            None => &[],
        };
        let mut here = all.iter().filter(|work| work.on == on);
        let work = here.find(|work| roles.contains(&work.role));
        let repeats = work.and_then(|work| places(text, work));
        if let Some(repeats) = repeats {
            text.set(&at, "repeats", &SheetValue::Decimal(repeats))?;
        }
    }
    Ok(())
}
