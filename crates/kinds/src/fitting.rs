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
        let room = gap * fraction(ROOM.0, ROOM.1);
        fit_slot(text, &at, &room)?;
        let usual = usual_keys(text, &at);
        for widths in BESIDE {
            let width = |key: &str| text.get(&at, key)?.number();
            let takes = widths
                .iter()
                .filter_map(|(key, times)| Some(width(key)? * whole(*times)));
            let takes = takes.fold(Exact::zero(), |all, width| all + width);
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

/// The tips that lie on a track: where each stands, how wide it is, and whether that is usual.
fn tips(text: &SheetText, track: &TableAt) -> Vec<(TableAt, Exact, bool)> {
    let said = |at: &TableAt, key: &str| Some(text.get(at, key)?.text()?.to_owned());
    let Some(id) = said(track, "id") else {
        return Vec::new();
    };
    let levers = 0..text.tables(SheetTable::Lever).len();
    let tip = |nth| {
        let at = TableAt::Nth(SheetTable::Lever, nth);
        let tip = text.get(&at, "tip_deg")?.number()?;
        let is_usual = usual_keys(text, &at).iter().any(|key| key == "tip_deg");
        (said(&at, "feels")? == id).then_some((at, tip, is_usual))
    };
    levers.filter_map(tip).collect()
}

/// A usual slot is wide enough for a tip in it that was measured.
fn fit_slot(text: &mut SheetText, track: &TableAt, room: &Exact) -> Result<(), EditFault> {
    let is_usual = usual_keys(text, track).iter().any(|key| key == "slot_deg");
    let slot = text.get(track, "slot_deg").and_then(|slot| slot.number());
    let Some(slot) = slot.filter(|_| is_usual) else {
        return Ok(());
    };
    let wider =
        |(_, tip, usual): &(TableAt, Exact, bool)| !usual && tip * whole(2) > slot && tip < room;
    let Some((_, tip, _)) = tips(text, track).into_iter().find(wider) else {
        return Ok(());
    };
    let wide = hundredths(&(tip * whole(2)).min(room.clone()));
    text.set(track, "slot_deg", &SheetValue::Decimal(wide))
}

/// Usual tips that lie in a slot of a track.
fn fit_tips(text: &mut SheetText, track: &TableAt) -> Result<(), EditFault> {
    let Some(slot) = text.get(track, "slot_deg").and_then(|slot| slot.number()) else {
        return Ok(());
    };
    for (at, tip, is_usual) in tips(text, track) {
        if is_usual && tip >= slot {
            let half = hundredths(&(&slot * fraction(1, 2)));
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
