//! Usual widths where counts are such that they find no room: they give way, so that what was counted can stand there and be told to be
//! wrong by what follows from it.

use crate::proportions::usual_keys;
use num_traits::Zero;
use quantity::{Exact, fraction, whole};
use sheet::SheetTable;
use sheet::edit::{EditFault, SheetText, SheetValue, TableAt};

/// Of the way from place to place usual widths take up so much at most.
const ROOM: (i64, i64) = (9, 10);

/// Widths that lie one beside the other from place to place, each so many times.
const BESIDE: [&[(&str, i64)]; 2] = [
    &[("slot_deg", 1), ("ramp_deg", 2)],
    &[("rise_deg", 1), ("hold_deg", 1)],
];

/// Makes usual widths of every track so much less that they have room between its places, and tips that lie on it no wider than half of
/// their slot.
pub(crate) fn fit(text: &mut SheetText) -> Result<(), EditFault> {
    for nth in 0..text.tables(SheetTable::Track).len() {
        let at = TableAt::Nth(SheetTable::Track, nth);
        let Some(gap) = gap(text, &at) else {
            continue;
        };
        fit_slot(text, &at, &(&gap * fraction(ROOM.0, ROOM.1)))?;
        let usual = usual_keys(text, &at);
        for widths in BESIDE {
            let width = |key: &str| text.get(&at, key)?.number();
            let takes = widths
                .iter()
                .filter_map(|(key, times)| Some(width(key)? * whole(*times)));
            let takes = takes.fold(Exact::zero(), |all, width| all + width);
            let room = &gap * fraction(ROOM.0, ROOM.1);
            if takes <= room {
                continue;
            }
            let all: Vec<(&str, Exact)> = (widths.iter())
                .filter(|(key, _)| usual.iter().any(|usual| usual == key))
                .filter_map(|(key, _)| Some((*key, width(key)?)))
                .collect();
            for (key, width) in all {
                let less = hundredths(&(width * &room / &takes));
                text.set(&at, key, &SheetValue::Decimal(less))?;
            }
        }
        fit_tips(text, &at)?;
    }
    Ok(())
}

/// A usual slot is wide enough for a tip in it that was measured.
fn fit_slot(text: &mut SheetText, track: &TableAt, room: &Exact) -> Result<(), EditFault> {
    let is_usual = usual_keys(text, track).iter().any(|key| key == "slot_deg");
    let id = text
        .get(track, "id")
        .and_then(|id| id.text().map(str::to_owned));
    let slot = text.get(track, "slot_deg").and_then(|slot| slot.number());
    let (true, Some(id), Some(slot)) = (is_usual, id, slot) else {
        return Ok(());
    };
    for nth in 0..text.tables(SheetTable::Lever).len() {
        let at = TableAt::Nth(SheetTable::Lever, nth);
        let feels = text
            .get(&at, "feels")
            .and_then(|feels| feels.text().map(str::to_owned));
        let tip = text.get(&at, "tip_deg").and_then(|tip| tip.number());
        let measured = !usual_keys(text, &at).iter().any(|key| key == "tip_deg");
        if let Some(tip) = tip.filter(|tip| measured && tip * whole(2) > slot)
            && feels.as_ref() == Some(&id)
            && tip < *room
        {
            let wide = hundredths(&(tip * whole(2)).min(room.clone()));
            return text.set(track, "slot_deg", &SheetValue::Decimal(wide));
        }
    }
    Ok(())
}

/// Tips that lie in a slot of a track.
fn fit_tips(text: &mut SheetText, track: &TableAt) -> Result<(), EditFault> {
    let slot = text.get(track, "slot_deg").and_then(|slot| slot.number());
    let id = text
        .get(track, "id")
        .and_then(|id| id.text().map(str::to_owned));
    let (Some(slot), Some(id)) = (slot, id) else {
        return Ok(());
    };
    for nth in 0..text.tables(SheetTable::Lever).len() {
        let at = TableAt::Nth(SheetTable::Lever, nth);
        let feels = text
            .get(&at, "feels")
            .and_then(|feels| feels.text().map(str::to_owned));
        let tip = text.get(&at, "tip_deg").and_then(|tip| tip.number());
        let is_usual = usual_keys(text, &at).iter().any(|key| key == "tip_deg");
        if let Some(tip) = tip.filter(|tip| is_usual && *tip >= slot)
            && feels.as_ref() == Some(&id)
        {
            let half = hundredths(&(tip.min(slot.clone()) * fraction(1, 2)));
            text.set(&at, "tip_deg", &SheetValue::Decimal(half))?;
        }
    }
    Ok(())
}

/// To the hundredth below, one at least.
fn hundredths(degrees: &Exact) -> Exact {
    (degrees * whole(100)).floor().max(whole(1)) / whole(100)
}

/// Degrees from place to place of a track, where they are fewest.
fn gap(text: &SheetText, at: &TableAt) -> Option<Exact> {
    let list = |key: &str| -> Option<Vec<Exact>> {
        let value = text.get(at, key)?;
        Some(value.list().iter().filter_map(SheetValue::number).collect())
    };
    let many =
        list("counts").map(|counts| counts.into_iter().fold(Exact::zero(), |all, n| all + n));
    let alike = ["pins", "divisions"].map(|key| text.get(at, key).and_then(|many| many.number()));
    let many = alike
        .into_iter()
        .fold(many, Option::or)
        .filter(|many| !many.is_zero());
    if let Some(many) = many {
        return Some(whole(360) / many);
    }
    let mut places = list("notches_deg").or_else(|| list("places_deg"))?;
    places.sort();
    let first = places.first()?.clone();
    let next = places.iter().skip(1).cloned().chain([first + whole(360)]);
    (places.iter().zip(next))
        .map(|(here, next)| next - here)
        .min()
}
