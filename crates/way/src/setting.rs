//! How an owner winds and sets a clock of this kind, and brings hands and strike together again. Common practice, no source.
//! Nothing is said here that could bend or break something in a hand that does not know the clock.

use movement::{Blows, CountedBy, Movement, Reach, Stops};
use std::collections::BTreeSet;

/// Something that an owner is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Setting {
    /// Wind every train.
    Wind,
    /// Set it by the minute hand, forward only, and wait.
    Set(Waits),
    /// A count wheel strikes another hour than the hands show.
    CountWheelApart(Waits),
    /// A count wheel strikes the hour at the half.
    HalfApart,
    /// Ship's bells by a count wheel are other bells than are due.
    BellsApart,
    /// A rack strikes another hour than the hands show.
    RackApart,
    /// The quarters right themselves.
    ChimeRights,
    /// The quarters do not.
    ChimeApart,
    /// Never turn the minute hand back.
    NeverBack,
    /// Gaining and losing.
    Rate,
}

/// Where the minute hand waits, on its way forward, until what it has let off has been struck.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Waits {
    /// Nowhere: it does not strike.
    Nowhere,
    /// At each hour.
    Hours,
    /// At each hour and half hour.
    Halves,
    /// At each quarter.
    Quarters,
}

/// What an owner is told, in order. Without a sheet nothing is said of how it counts.
pub fn settings(movement: Option<&Movement>) -> Vec<Setting> {
    let strike = movement.map(Movement::strike);
    let chime = movement.and_then(|m| m.works()?.chime()).is_some();
    let waits = match strike {
        Some(None) => Waits::Nowhere,
        _ if chime => Waits::Quarters,
        Some(Some(strike)) if strike.blows == Blows::Hours => Waits::Hours,
        Some(Some(_)) | None => Waits::Halves,
    };
    let mut settings = vec![Setting::Wind, Setting::Set(waits)];
    if let Some(strike) = strike.flatten() {
        settings.push(match (strike.counted_by, strike.blows) {
            (CountedBy::Rack, _) => Setting::RackApart,
            (CountedBy::CountWheel, Blows::ShipsBells) => Setting::BellsApart,
            (CountedBy::CountWheel, _) => Setting::CountWheelApart(waits),
        });
        let halves = matches!(
            strike.blows,
            Blows::HoursAndHalves | Blows::HoursAndTenHalves
        );
        if strike.counted_by == CountedBy::CountWheel && halves {
            settings.push(Setting::HalfApart);
        }
    }
    if chime {
        settings.push(match movement.is_some_and(rights_itself) {
            true => Setting::ChimeRights,
            false => Setting::ChimeApart,
        });
    }
    if waits != Waits::Nowhere {
        settings.push(Setting::NeverBack);
    }
    settings.push(Setting::Rate);
    settings
}

/// Whether a chime rights itself: beside the arm that locks it, another lever arbor comes down before the same pin, and waits
/// there for the hour.
fn rights_itself(movement: &Movement) -> bool {
    let Some(works) = movement.works() else {
        return false;
    };
    let locks = |wanted| {
        let on: BTreeSet<_> = (works.levers())
            .filter(|(_, lever)| {
                let locks = |stops: &Stops| matches!(stops.reach, Reach::Below(_));
                let wanted = |stops: &&Stops| stops.pin == wanted && locks(stops);
                lever.stops().filter(wanted).is_some()
            })
            .map(|(_, lever)| lever.on)
            .collect();
        on.len() > 1
    };
    works.pins().any(|(pin, _)| locks(pin))
}
