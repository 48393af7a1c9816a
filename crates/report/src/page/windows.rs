//! Windows that were worked out from the works: what of them is as usual and was not measured, and what bounds them.

use super::good::fall_by;
use super::{lever_called, named, witness_named};
use crate::{Locale, say};
use movement::{
    FallBy, Movement, PointOf, RACK, Shape, WindowLimit, WindowSource, WitnessId, WorksFigure,
};

/// That the windows of these witnesses rest on what is usual, and which one measurement would settle most.
pub fn as_usual(locale: &Locale, movement: &Movement, of: &[WitnessId]) -> Option<String> {
    let names: Vec<String> = (of.iter())
        .map(|id| witness_named(locale, movement, *id))
        .collect();
    let first = movement.measure_first(of);
    let measure = first.and_then(|figure| figure_called(locale, movement, figure));
    (!names.is_empty()).then(|| {
        let names = locale.list(&names);
        match measure {
            Some(measure) => say!(
                locale,
                "windows-usual-measure",
                names = names,
                measure = measure
            ),
            None => say!(locale, "windows-usual", names = names),
        }
    })
}

/// A width of the works in words: "how wide a slot of the count wheel is at its bottom".
fn figure_called(locale: &Locale, movement: &Movement, figure: &WorksFigure) -> Option<String> {
    let works = movement.works()?;
    if figure.of == RACK {
        return Some(say!(locale, "figure-tail"));
    }
    if let Some(track) = works.find_track(&figure.of) {
        let track = works.track(track);
        return Some(match &track.shape {
            Shape::Counts { .. } => say!(locale, "figure-slot"),
            _ => say!(locale, "figure-notch", of = named(&track.id)),
        });
    }
    let lever = works.find_lever(&figure.of)?;
    Some(say!(
        locale,
        "figure-tip",
        of = lever_called(locale, movement, lever)
    ))
}

/// What bounds a window short of it and beyond, where it was worked out.
pub fn bounded(locale: &Locale, movement: &Movement, of: WitnessId) -> Option<[String; 2]> {
    let WindowSource::Works(from) = &movement.witness(of).source else {
        return None;
    };
    let limits = from.limits.as_ref()?;
    Some(limits.each_ref().map(|limit| match limit {
        Some(limit) => {
            let called = limit_called(locale, movement, limit);
            match (limit, from.fall_by.filter(|by| *by != FallBy::Usual)) {
                // Of the points a pin's own is that it leaves the lever time.
                (
                    WindowLimit {
                        point: 5,
                        of: PointOf::Pin(_),
                    },
                    Some(by),
                ) => {
                    say!(locale, "limit-paced", limit = called, by = fall_by(by))
                }
                _ => called,
            }
        }
        None => say!(locale, "limit-none"),
    }))
}

fn limit_called(locale: &Locale, movement: &Movement, limit: &WindowLimit) -> String {
    let point = say!(locale, "point-name", number = limit.point);
    let works = movement.works();
    let of = match limit.of {
        PointOf::Strike => None,
        PointOf::Lever(lever) => Some(lever_called(locale, movement, lever)),
        PointOf::Pin(pin) => works.map(|works| named(&works.pin(pin).id)),
    };
    match of {
        Some(of) => say!(locale, "limit-of", point = point, of = of),
        None => point,
    }
}
