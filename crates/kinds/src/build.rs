//! What a choice does to a text: what is there, what is gone, which keys are set; and whether a text stands so.

use crate::drive::{drive_by, is_driven};
use crate::kind::{Choice, SetAt, SetKey, TrainSort};
use crate::proportions::{set_usual, usual_keys};
use crate::role::{StrikeWork, first};
use crate::take::{Fresh, drop_train, take_over, take_train, trains_of};
use crate::train::Trains;
use crate::works::works;
use crate::{DescribeFault, Kind, WorkRole};
use quantity::parse_number;
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};

/// Makes a text stand as a choice says.
pub(crate) fn choose(
    text: &mut SheetText,
    kind: &Kind,
    choice: &Choice,
) -> Result<(), DescribeFault> {
    let before = works(text);
    // Known by what is on them, which goes first.
    let leaving: Vec<Vec<String>> = (choice.no_trains.iter())
        .flat_map(|sort| trains_of(text, *sort))
        .collect();
    let mut fresh = Fresh::default();
    for &sort in &choice.trains {
        take_train(text, kind, sort, &mut fresh)?;
    }
    for &role in &choice.there {
        if first(&works(text), role).is_none() {
            take_over(text, kind, role, &mut fresh)?;
        }
    }
    for key in &choice.set {
        for at in of(text, &fresh, key)? {
            if let Some(only) = &key.instead_of
                && text.get(&at, &key.key) != value_of(only)
            {
                continue;
            }
            let value = match (&key.is, key.id_of) {
                (Some(value), _) => value_of(value),
                (None, Some(role)) => id_of(text, &fresh, role).map(SheetValue::Text),
                (None, None) => None,
            };
            if let Some(value) = value {
                text.set(&at, &key.key, &value)?;
                mark(text, kind, &at, key)?;
            }
        }
    }
    for key in &choice.unset {
        unset(text, &fresh, key)?;
    }
    if let Some(drive) = &choice.drive {
        drive_by(text, drive)?;
    }
    let after = works(text);
    for work in &before {
        let role = after.iter().find(|now| same(now, work)).map(|now| now.role);
        if choice.gone.contains(&work.role) && role.is_none_or(|role| choice.gone.contains(&role)) {
            take_away(text, work)?;
        }
    }
    for work in after.iter().filter(|work| choice.gone.contains(&work.role)) {
        take_away(text, work)?;
    }
    for train in &leaving {
        drop_train(text, train)?;
    }
    Ok(())
}

/// Takes keys away of which nobody knows; of what is not there, none.
pub(crate) fn forget(text: &mut SheetText, keys: &[SetKey]) -> Result<(), DescribeFault> {
    for key in keys {
        if key
            .of
            .is_none_or(|role| first(&works(text), role).is_some())
        {
            unset(text, &Fresh::default(), key)?;
        }
    }
    Ok(())
}

fn unset(text: &mut SheetText, fresh: &Fresh, key: &SetKey) -> Result<(), DescribeFault> {
    for at in of(text, fresh, key)? {
        text.unset(&at, &key.key)?;
        if key.at == SetAt::Own && key.of.is_some() {
            let keys = usual_keys(text, &at).into_iter();
            let left: Vec<String> = keys.filter(|usual| *usual != key.key).collect();
            set_usual(text, &at, &left)?;
        }
    }
    Ok(())
}

/// Whether two are one thing: what stands where, by its sort and id.
fn same(one: &StrikeWork, other: &StrikeWork) -> bool {
    one.at.sort() == other.at.sort() && one.id == other.id
}

/// Takes a thing of the works away, if it is there still.
fn take_away(text: &mut SheetText, work: &StrikeWork) -> Result<(), DescribeFault> {
    let at = match &work.at {
        TableAt::Nth(sort, _) => TableAt::Named(*sort, work.id.clone()),
        other => other.clone(),
    };
    match text.table(&at).is_some() {
        true => Ok(text.take_away(&at)?),
        false => Ok(()),
    }
}

/// What a choice's key stands on.
fn of(text: &SheetText, fresh: &Fresh, key: &SetKey) -> Result<Vec<TableAt>, DescribeFault> {
    let Some(role) = key.of else {
        return Ok(vec![TableAt::One(SheetTable::Strike)]);
    };
    let all = works(text);
    if key.all && first(&all, role).is_some() {
        let these = all.iter().filter(|work| work.role == role);
        return Ok(these.filter_map(|work| place(text, work, key.at)).collect());
    }
    let new = fresh.first(role);
    let new = new.and_then(|id| all.iter().find(|work| work.id == *id));
    let work = new
        .or_else(|| first(&all, role))
        .ok_or(DescribeFault::NoWork(role))?;
    Ok(place(text, work, key.at).into_iter().collect())
}

/// The table that a key of a thing of the works stands in.
fn place(text: &SheetText, work: &StrikeWork, at: SetAt) -> Option<TableAt> {
    let on = work.on.as_ref();
    match at {
        SetAt::Own => Some(work.at.clone()),
        SetAt::Arbor => Some(TableAt::Arbor(on?.clone())),
        SetAt::Mesh => {
            let trains = Trains::of(text);
            let first = trains.first_of(on?)?;
            let above = trains
                .train(first)
                .0
                .get(1)
                .map(|arbor| (*arbor).to_owned())?;
            let own = |side: &str| side.split_once('.').map(|(arbor, _)| arbor.to_owned());
            let mut meshes = text.meshes().into_iter();
            let nth = meshes.position(|[driver, driven]| {
                own(&driver).as_ref() == Some(first) && own(&driven).as_ref() == Some(&above)
            });
            Some(TableAt::Nth(SheetTable::Mesh, nth?))
        }
    }
}

fn id_of(text: &SheetText, fresh: &Fresh, role: WorkRole) -> Option<String> {
    let new = fresh.first(role).cloned();
    new.or_else(|| Some(first(&works(text), role)?.id.clone()))
}

/// A key among the proportions that is set by a choice stands as usual.
fn mark(
    text: &mut SheetText,
    kind: &Kind,
    at: &TableAt,
    key: &SetKey,
) -> Result<(), DescribeFault> {
    let mut rows = kind.proportions.iter();
    if rows.any(|row| Some(row.of) == key.of && row.key == key.key) {
        let mut keys = usual_keys(text, at);
        if !keys.contains(&key.key) {
            keys.push(key.key.clone());
            set_usual(text, at, &keys)?;
        }
    }
    Ok(())
}

fn value_of(value: &toml::Value) -> Option<SheetValue> {
    Some(match value {
        toml::Value::String(text) => SheetValue::Text(text.clone()),
        toml::Value::Integer(n) => SheetValue::Whole(*n),
        toml::Value::Float(number) => SheetValue::Decimal(parse_number(&number.to_string()).ok()?),
        toml::Value::Boolean(yes) => SheetValue::YesNo(*yes),
        toml::Value::Array(list) => {
            SheetValue::List(list.iter().map(value_of).collect::<Option<_>>()?)
        }
        _ => return None,
    })
}

/// Whether a text stands as a choice says.
pub(crate) fn stands(text: &SheetText, kind: &Kind, choice: &Choice) -> bool {
    let all = works(text);
    let there = |role: &WorkRole| first(&all, *role).is_some();
    let value = |key: &SetKey| {
        let at = match key.of {
            Some(role) => place(text, first(&all, role)?, key.at)?,
            None => TableAt::One(SheetTable::Strike),
        };
        text.get(&at, &key.key)
    };
    let is_proportion = |key: &SetKey| {
        let mut rows = kind.proportions.iter();
        rows.any(|row| Some(row.of) == key.of && row.key == key.key)
    };
    let set = |key: &SetKey| {
        let now = value(key);
        if let Some(only) = &key.instead_of {
            return now != value_of(only);
        }
        let Some(now) = now else { return false };
        match (&key.is, key.id_of) {
            (Some(wanted), _) => match value_of(wanted) {
                Some(wanted) if is_proportion(key) => now.list().len() == wanted.list().len(),
                Some(wanted) => now == wanted,
                None => false,
            },
            (None, Some(role)) => {
                now.text().map(str::to_owned) == first(&all, role).map(|w| w.id.clone())
            }
            (None, None) => false,
        }
    };
    let trains = Trains::of(text);
    let runs = |sort: &TrainSort| !trains.of_sort(text, *sort).is_empty();
    choice.there.iter().all(there)
        && choice.trains.iter().all(runs)
        && !choice.no_trains.iter().any(runs)
        && (choice.drive.as_ref()).is_none_or(|drive| is_driven(text, drive))
        && !choice.gone.iter().any(there)
        && choice.set.iter().all(set)
        && choice.unset.iter().all(|key| value(key).is_none())
}
