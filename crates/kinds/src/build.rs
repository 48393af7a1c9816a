//! What a choice does to a text: what is there, what is gone, which keys are set; and whether a text stands so.

use crate::kind::{Choice, SetKey};
use crate::pattern::Beside;
use crate::proportions::{set_usual, usual_keys};
use crate::role::{StrikeWork, first, works};
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
    let mut fresh: Vec<(WorkRole, String)> = Vec::new();
    for &role in &choice.there {
        if first(&works(text), role).is_none() {
            take_over(text, kind, role, &mut fresh)?;
        }
    }
    for key in &choice.set {
        let Some(at) = of(text, &fresh, key)? else {
            continue;
        };
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
    for key in &choice.unset {
        if let Some(at) = of(text, &fresh, key)? {
            text.unset(&at, &key.key)?;
            let keys = usual_keys(text, &at).into_iter();
            let left: Vec<String> = keys.filter(|usual| *usual != key.key).collect();
            set_usual(text, &at, &left)?;
        }
    }
    for &role in &choice.gone {
        while let Some(work) = first(&works(text), role) {
            let at = work.at.clone();
            text.take_away(&at)?;
        }
    }
    Ok(())
}

/// What a choice's key stands on.
fn of(
    text: &SheetText,
    fresh: &[(WorkRole, String)],
    key: &SetKey,
) -> Result<Option<TableAt>, DescribeFault> {
    let Some(role) = key.of else {
        return Ok(Some(TableAt::One(SheetTable::Strike)));
    };
    let all = works(text);
    let new = fresh.iter().find(|(fresh, _)| *fresh == role);
    let new = new.and_then(|(_, id)| all.iter().find(|work| work.id == *id));
    let found = new.or_else(|| first(&all, role));
    found
        .map(|work| Some(work.at.clone()))
        .ok_or(DescribeFault::NoWork(role))
}

fn id_of(text: &SheetText, fresh: &[(WorkRole, String)], role: WorkRole) -> Option<String> {
    let new = fresh.iter().find(|(fresh, _)| *fresh == role);
    new.map(|(_, id)| id.clone())
        .or_else(|| Some(first(&works(text), role)?.id.clone()))
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

/// Takes what the pattern has of this over, onto the arbors that stand for the pattern's, and puts it down as fresh.
fn take_over(
    text: &mut SheetText,
    kind: &Kind,
    role: WorkRole,
    fresh: &mut Vec<(WorkRole, String)>,
) -> Result<(), DescribeFault> {
    let beside = Beside::of(text, kind).ok_or(DescribeFault::NoWork(role))?;
    let lain = Lain {
        its: works(&beside.pattern),
        beside,
    };
    let its = lain.its.iter();
    for work in its.filter(|work| work.role == role) {
        let Some(from) = lain.beside.pattern.table(&work.at) else {
            continue;
        };
        let sort = work.at.sort();
        let mut id = work.id.clone();
        while text.nth(sort, &id).is_some() {
            id.push_str("_2");
        }
        let at = text.add(sort, &id)?;
        for key in from.keys().iter().filter(|key| *key != "id") {
            let Some(value) = from.get(key) else {
                continue;
            };
            let value = match value.text() {
                Some(named) => {
                    let mine = lain.mine(text, fresh, work, key);
                    SheetValue::Text(mine.unwrap_or_else(|| named.to_owned()))
                }
                None => value,
            };
            text.set(&at, key, &value)?;
        }
        let rows = kind.proportions.iter().filter(|row| row.of == role);
        let usual: Vec<String> = rows
            .filter(|row| from.get(&row.key).is_some())
            .map(|row| row.key.clone())
            .collect();
        set_usual(text, &at, &usual)?;
        fresh.push((role, id));
    }
    Ok(())
}

/// A pattern with its works, beside a text.
struct Lain {
    beside: Beside,
    its: Vec<StrikeWork>,
}

impl Lain {
    /// What the text calls that which stands under a key of the pattern: an arbor of the train, or what is felt, stopped or lifted.
    fn mine(
        &self,
        text: &SheetText,
        fresh: &[(WorkRole, String)],
        work: &StrikeWork,
        key: &str,
    ) -> Option<String> {
        let pattern = &self.beside.pattern;
        let named = pattern.table(&work.at)?.text(key)?;
        let is_lever = work.at.sort() == SheetTable::Lever;
        match key {
            "on" if !is_lever => self.beside.mine(&named).cloned(),
            "feels" | "stops" => {
                let twin = self.its.iter().find(|twin| twin.id == named)?;
                id_of(text, fresh, twin.role)
            }
            // A lever arbor is known by what else is on it.
            "on" | "lifts" => {
                let here = |twin: &&StrikeWork| {
                    let table = pattern.table(&twin.at);
                    let on = table.and_then(|table| table.text("on"));
                    twin.at.sort() == SheetTable::Lever && on.as_ref() == Some(&named)
                };
                let mine = works(text);
                let arbor =
                    |twin: &StrikeWork| text.table(&first(&mine, twin.role)?.at)?.text("on");
                self.its.iter().filter(here).find_map(arbor)
            }
            _ => None,
        }
    }
}

/// Whether a text stands as a choice says.
pub(crate) fn stands(text: &SheetText, kind: &Kind, choice: &Choice) -> bool {
    let all = works(text);
    let there = |role: &WorkRole| first(&all, *role).is_some();
    let value = |key: &SetKey| {
        let at = match key.of {
            Some(role) => first(&all, role)?.at.clone(),
            None => TableAt::One(SheetTable::Strike),
        };
        text.get(&at, &key.key)
    };
    let is_proportion = |key: &SetKey| {
        let mut rows = kind.proportions.iter();
        rows.any(|row| Some(row.of) == key.of && row.key == key.key)
    };
    let set = |key: &SetKey| {
        let Some(now) = value(key) else { return false };
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
    choice.there.iter().all(there)
        && !choice.gone.iter().any(there)
        && choice.set.iter().all(set)
        && choice.unset.iter().all(|key| value(key).is_none())
}
