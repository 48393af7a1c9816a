//! What is not good about a place, point by point, and what a bend does, in words that the page and the command line share.

use super::struck::{pin_name, time};
use crate::page::{lever_called, named};
use crate::{Locale, say};
use movement::{Does, FallBy, LeverId, LeverMade, Movement, Reach, Shape, Works};
use num_traits::{Signed, Zero};
use quantity::{Degrees, to_f64};
use strike::{FailedPoint, Hour, PlantedFault, Struck};

/// Which of the seven points do not hold at an hour, in a few words; nothing where all do. A wrong number is told by the
/// number itself.
pub fn not_good(locale: &Locale, hour: &Hour) -> Option<String> {
    let mut numbers: Vec<u8> = (strike::points(hour).iter())
        .map(FailedPoint::number)
        .filter(|number| *number > 1)
        .collect();
    numbers.dedup();
    let points: Vec<String> = (numbers.iter())
        .map(|number| say!(locale, "point-name", number = *number))
        .collect();
    (!points.is_empty()).then(|| say!(locale, "point-not-good", points = points.join(", ")))
}

/// How messages choose by how it is known what a pin goes while a lever falls.
pub(super) fn fall_by(by: FallBy) -> &'static str {
    match by {
        FallBy::Usual => "usual",
        FallBy::Pace => "pace",
        FallBy::PaceAndFall => "pace-and-fall",
    }
}

/// What does not hold, a sentence for each point with the hours it is of.
pub fn points(locale: &Locale, movement: &Movement, struck: &Struck) -> Vec<String> {
    let mut told: Vec<(String, Vec<&Hour>)> = Vec::new();
    for hour in &struck.hours {
        for point in strike::points(hour) {
            // Every wrong number stands beside its hour.
            if matches!(
                point,
                FailedPoint::Number { .. } | FailedPoint::Notes { .. }
            ) {
                continue;
            }
            let said = self::point(locale, movement, &point);
            match told.iter_mut().find(|(other, _)| *other == said) {
                Some((_, hours)) => hours.push(hour),
                None => told.push((said, vec![hour])),
            }
        }
    }
    let sentence = |(said, hours): &(String, Vec<&Hour>)| {
        let all = struck.is_whole() && hours.len() == struck.hours.len();
        let times = super::struck::few(locale, hours.iter().map(|hour| time(hour)));
        let at = if all { "all" } else { "some" };
        say!(
            locale,
            "point-at",
            at = at,
            times = times,
            said = said.as_str()
        )
    };
    told.iter().map(sentence).collect()
}

/// One point that does not hold.
pub fn point(locale: &Locale, movement: &Movement, point: &FailedPoint) -> String {
    let lever = |id| lever_called(locale, movement, id);
    let pin = |id| named(&pin_name(movement, id));
    let degrees = |angle: &Degrees| locale.degrees(angle);
    let touched = |by: &Degrees| if by.is_zero() { "touched" } else { "held" };
    match point {
        FailedPoint::Number { blows, owed } => {
            say!(locale, "point-number", blows = *blows, owed = *owed)
        }
        FailedPoint::Early { blows } => say!(locale, "point-early", blows = *blows),
        FailedPoint::Notes { notes, owed } => {
            say!(locale, "point-notes", notes = *notes, owed = *owed)
        }
        FailedPoint::HeldUp { hammer, by } => say!(
            locale,
            "point-held-up",
            how = touched(by),
            hammer = lever(*hammer),
            by = degrees(by)
        ),
        FailedPoint::Lifting { hammer, by } => {
            say!(
                locale,
                "point-lifting",
                hammer = lever(*hammer),
                by = degrees(by)
            )
        }
        FailedPoint::WarningRun { arm, turns } => say!(
            locale,
            "point-warning-run",
            arm = lever(*arm),
            turns = locale.decimal(to_f64(turns), 3)
        ),
        FailedPoint::Unwarned { arm, short } => say!(
            locale,
            "point-unwarned",
            how = if short.is_zero() { "missed" } else { "short" },
            arm = lever(*arm),
            short = degrees(short)
        ),
        FailedPoint::NotDown { by, part } => say!(
            locale,
            "point-not-down",
            lever = lever(*by),
            part = locale.decimal(to_f64(part) * 100.0, 0)
        ),
        FailedPoint::Lead {
            pin: id,
            lead,
            least,
        } => say!(
            locale,
            "point-lead",
            by = fall_by(least.by),
            pin = pin(*id),
            lead = degrees(lead),
            least = degrees(&least.degrees)
        ),
        FailedPoint::InPath { arm, by } => {
            say!(locale, "point-in-path", arm = lever(*arm), by = degrees(by))
        }
        FailedPoint::OverPin { arm } => say!(locale, "point-over-pin", arm = lever(*arm)),
        FailedPoint::PalletIn {
            pallet,
            to_go,
            warned,
        } => say!(
            locale,
            "point-pallet-in",
            pallet = pin(*pallet),
            to_go = degrees(to_go),
            when = if *warned { "warned" } else { "rest" }
        ),
        FailedPoint::HookUp { by, left } => say!(
            locale,
            "point-hook-up",
            how = if left.is_zero() { "held" } else { "left" },
            by = degrees(by),
            left = locale.decimal(to_f64(left), 2)
        ),
    }
}

/// What each bend that was put in does: which way the lever's own end goes, and where its arbor then stands.
pub fn bends(locale: &Locale, movement: &Movement, put_in: &[PlantedFault]) -> Vec<String> {
    let Some(works) = movement.works() else {
        return Vec::new();
    };
    let mut told: Vec<String> = (put_in.iter())
        .filter_map(|put_in| match put_in {
            PlantedFault::Bend { lever, by } => Some(bend(locale, movement, works, *lever, by)),
            PlantedFault::BentTail { by } => {
                let tooth = works.rack()?.tooth.exact();
                let teeth = to_f64(&(by.exact() / tooth).abs());
                Some(say!(
                    locale,
                    "bend-tail",
                    way = way(by),
                    by = locale.degrees(&size(by)),
                    teeth = locale.decimal(teeth, 2)
                ))
            }
            _ => None,
        })
        .collect();
    let bent = put_in.iter().filter_map(|put_in| match put_in {
        PlantedFault::Bend { lever, .. } => Some((*lever, works.lever(*lever).made)),
        _ => None,
    });
    let bent: Vec<_> = bent.collect();
    let hardened = bent
        .iter()
        .filter(|(_, made)| *made == Some(LeverMade::Hardened));
    let hardened: Vec<_> = hardened
        .map(|(id, _)| lever_called(locale, movement, *id))
        .collect();
    let unknown = bent.is_empty() || bent.iter().any(|(_, made)| made.is_none());
    if !hardened.is_empty() {
        told.push(say!(
            locale,
            "levers-hardened",
            levers = locale.list(&hardened)
        ));
    }
    // What a lever is made of is asked only where the sheet does not say it.
    if !told.is_empty() && unknown {
        told.push(say!(locale, "bend-soft"));
    }
    told
}

fn way(by: &Degrees) -> &'static str {
    if by.exact().is_negative() {
        "down"
    } else {
        "up"
    }
}

fn size(by: &Degrees) -> Degrees {
    Degrees::deg(by.exact().abs())
}

fn bend(locale: &Locale, movement: &Movement, works: &Works, id: LeverId, by: &Degrees) -> String {
    let lever = works.lever(id);
    let (name, way) = (lever_called(locale, movement, id), way(by));
    let arbor = |id| {
        let name = works.lever_arbors().find(|(other, _)| *other == id);
        named(name.map_or("", |(_, name)| name))
    };
    let (on, by_deg) = (arbor(lever.on), locale.degrees(&size(by)));
    match &lever.does {
        Does::Feels(feels) => match lever.track().map(|track| works.track(track)) {
            Some(track) if matches!(track.shape, Shape::Lobes { .. }) => say!(
                locale,
                "bend-lifted",
                way = if *by >= feels.lift { "off" } else { way },
                lever = name,
                by = by_deg,
                track = named(&track.id),
                arbor = on
            ),
            Some(track) => say!(
                locale,
                "bend-feels",
                way = way,
                lever = name,
                by = by_deg,
                track = named(&track.id),
                arbor = on
            ),
            None => say!(
                locale,
                "bend-hook",
                way = way,
                lever = name,
                by = by_deg,
                arbor = on
            ),
        },
        Does::Stops(stops) => {
            let (Reach::Below(height) | Reach::Above(height)) = &stops.reach;
            say!(
                locale,
                "bend-stops",
                way = way,
                lever = name,
                by = by_deg,
                pin = named(&works.pin(stops.pin).id),
                how = if matches!(stops.reach, Reach::Below(_)) {
                    "below"
                } else {
                    "above"
                },
                arbor = on,
                now = locale.degrees(&(height - by)),
                sound = locale.degrees(height)
            )
        }
        Does::Lifts(lifts) => say!(
            locale,
            "bend-lifts",
            way = way,
            lever = name,
            by = by_deg,
            lifted = arbor(lifts.arbor),
            arbor = on,
            now = locale.degrees(&(&lifts.from - by)),
            sound = locale.degrees(&lifts.from)
        ),
    }
}
