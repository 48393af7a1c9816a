//! What is to be counted, from the great wheel up, and how each count stands.

use crate::DescribeFault;
use crate::angles::Usual;
use crate::train::{PartName, Trains, read_at};
use movement::ToothForm;
use quantity::Teeth;
use sheet::edit::{CountWritten, SheetText, SheetValue, TableAt};

/// The key on an arbor that lists its parts of which the count is lost.
pub(crate) const LOST: &str = "lost";
/// The key on an arbor that lists its parts of which the count is that of a like clock, and was not counted on this one.
pub(crate) const AS_LIKE: &str = "as_like";

/// A part that is counted: its arbor and its own name there.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct PlaceId {
    /// The arbor.
    pub arbor: String,
    /// The part.
    pub part: String,
}

/// How a part looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PartLook {
    /// Cut teeth that drive, or an escape wheel's.
    Wheel,
    /// Cut leaves that are driven.
    Pinion,
    /// Trundles between discs.
    Lantern,
    /// Pins that move another part on.
    Pins,
}

/// How a count stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CountState {
    /// Not counted yet.
    NotCounted,
    /// Counted.
    Counted(Teeth),
    /// It can no longer be counted.
    Lost,
    /// Counted, but not for sure.
    NotSure(Teeth),
}

/// A part to be counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountPlace {
    /// Which.
    pub id: PlaceId,
    /// How it looks. A count wheel's teeth are a wheel's, though they are driven.
    pub look: PartLook,
    /// How its count stands.
    pub state: CountState,
    /// Whether its count is that of the like clock that the sheet was begun from, and was not counted on this one.
    pub as_like: bool,
    /// What is usual there, for this kind of strike; only a hint.
    pub usual: Option<Teeth>,
}

/// Every place, from the great wheel up, the strike train first.
pub(crate) fn places(text: &SheetText, usual: Usual<'_>) -> Vec<CountPlace> {
    let trains = Trains::of(text);
    let order = trains.order(read_at(text).as_deref());
    let parts = order.iter().flat_map(|arbor| trains.counted(text, arbor));
    parts
        .map(|part| CountPlace {
            look: look(text, &trains, &part),
            state: state(text, &part),
            as_like: listed(text, &part.0, AS_LIKE).contains(&part.1),
            usual: usual(&part),
            id: PlaceId {
                arbor: part.0,
                part: part.1,
            },
        })
        .collect()
}

pub(crate) fn look(text: &SheetText, trains: &Trains, part: &PartName) -> PartLook {
    match text.form(&part.0, &part.1) {
        Some(ToothForm::Lantern) => return PartLook::Lantern,
        Some(ToothForm::Pins) => return PartLook::Pins,
        _ => {}
    }
    let driven = trains.pairs.iter().any(|pair| pair.driven == *part);
    let drives_on = trains.pairs.iter().any(|pair| pair.driver.0 == part.0);
    // What is driven and drives nothing further is a pinion only where it is driven up: by a part with more teeth, as far
    // as that is known.
    let more = trains.pairs.iter().find(|pair| pair.driven == *part);
    let [own, its] = [Some(part), more.map(|pair| &pair.driver)]
        .map(|part| part.and_then(|(arbor, name)| known(text.count(arbor, name))));
    match (driven, own, its) {
        (false, ..) => PartLook::Wheel,
        (true, Some(own), Some(its)) if own >= its => PartLook::Wheel,
        (true, Some(_), Some(_)) => PartLook::Pinion,
        // What was put in as a wheel is called so before it is counted.
        (true, ..) if part.1.starts_with("wheel") => PartLook::Wheel,
        (true, ..) if drives_on => PartLook::Pinion,
        // Two ends of a train cannot be told apart before they are counted: a fly is higher up than a count wheel.
        (true, ..) => match more.is_some_and(|pair| alone_driver(trains, &pair.driver)) {
            true => PartLook::Wheel,
            false => PartLook::Pinion,
        },
    }
}

/// Whether a part is a second driver on its arbor, as a pinion for the count wheel is.
fn alone_driver(trains: &Trains, driver: &PartName) -> bool {
    let others = trains.pairs.iter();
    let mut others = others.filter(|pair| pair.driver.0 == driver.0 && pair.driver != *driver);
    others.next().is_some()
}

pub(crate) fn known(count: Option<CountWritten>) -> Option<Teeth> {
    match count? {
        CountWritten::Blank => None,
        CountWritten::Known(teeth) | CountWritten::Doubtful(teeth) => Some(teeth),
    }
}

/// The parts of an arbor that one of its keys lists.
pub(crate) fn listed(text: &SheetText, arbor: &str, key: &str) -> Vec<String> {
    let at = TableAt::Arbor(arbor.to_owned());
    let listed = text.get(&at, key);
    let parts = listed.iter().flat_map(|listed| listed.list());
    parts
        .filter_map(SheetValue::text)
        .map(str::to_owned)
        .collect()
}

fn state(text: &SheetText, part: &PartName) -> CountState {
    match text.count(&part.0, &part.1) {
        Some(CountWritten::Known(teeth)) => CountState::Counted(teeth),
        Some(CountWritten::Doubtful(teeth)) => CountState::NotSure(teeth),
        Some(CountWritten::Blank) | None => match listed(text, &part.0, LOST).contains(&part.1) {
            true => CountState::Lost,
            false => CountState::NotCounted,
        },
    }
}

/// The keys of an arbor that list parts of it by how their counts stand.
pub(crate) const LISTS: [&str; 2] = [LOST, AS_LIKE];

/// Takes a part from all that its arbor lists.
pub(crate) fn unlist(text: &mut SheetText, place: &PlaceId) -> Result<(), DescribeFault> {
    (LISTS.iter()).try_for_each(|key| set_listed(text, place, key, false))
}

/// Puts a part among those that a key of its arbor lists, or takes it from them.
pub(crate) fn set_listed(
    text: &mut SheetText,
    place: &PlaceId,
    key: &str,
    is: bool,
) -> Result<(), DescribeFault> {
    let at = TableAt::Arbor(place.arbor.clone());
    let mut parts = listed(text, &place.arbor, key);
    if parts.contains(&place.part) == is {
        return Ok(());
    }
    parts.retain(|part| *part != place.part);
    if is {
        parts.push(place.part.clone());
    }
    match parts.is_empty() {
        true => text.unset(&at, key).map(|_| ())?,
        false => {
            let parts = parts.into_iter().map(SheetValue::Text).collect();
            text.set(&at, key, &SheetValue::List(parts))?;
        }
    }
    Ok(())
}
