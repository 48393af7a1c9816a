//! A movement of which one figure of the works is a little other than the sheet has it.

use crate::{ArborId, Carrier, Does, Movement, RACK, Reach, Shape, Works, WorksFigure};
use quantity::Degrees;

/// Keys that tell where something stands on its arbor.
const PLACES: [&str; 4] = ["at_deg", "notches_deg", "places_deg", "first_deg"];

impl Movement {
    /// The same movement with one figure of its works so much greater, every place of a list alike; nothing where it has no such figure
    /// in degrees. It is not checked again: it is for asking how much a little matters.
    pub fn with_figure(&self, figure: &WorksFigure, by: &Degrees) -> Option<Movement> {
        let mut movement = self.clone();
        movement.works.as_mut()?.alter(figure, by)?;
        Some(movement)
    }
}

impl Works {
    /// Whether a figure is but where something stands on an arbor that carries nothing else: turned on it, that stands as if the arbor
    /// were put in otherwise, and of the works nothing is other.
    pub fn is_place_alone(&self, figure: &WorksFigure) -> bool {
        let carriers = || {
            let tracks = self.tracks.iter().map(|track| match track.carrier {
                Carrier::Arbor(on) => (&track.id, Some(on)),
                Carrier::Hours(_) => (&track.id, None),
            });
            tracks.chain(self.pins.iter().map(|pin| (&pin.id, Some(pin.on))))
        };
        let own = carriers().find(|(id, _)| **id == figure.of);
        let alone = |on: ArborId| carriers().filter(|(_, other)| *other == Some(on)).count() == 1;
        let on = own.and_then(|(_, on)| on);
        PLACES.contains(&figure.key.as_str()) && on.is_some_and(alone)
    }

    /// How many degrees a figure is; nothing where there is none, or where it is a list of places.
    pub fn width(&self, figure: &WorksFigure) -> Option<Degrees> {
        let mut works = self.clone();
        let figures = works.figures(figure)?;
        match &figures[..] {
            [one] if !PLACES.contains(&figure.key.as_str()) => Some((**one).clone()),
            _ => None,
        }
    }

    fn alter(&mut self, figure: &WorksFigure, by: &Degrees) -> Option<()> {
        for angle in self.figures(figure)? {
            *angle = &*angle + by;
        }
        Some(())
    }

    /// Where a figure stands: one angle, or every place of a list.
    fn figures(&mut self, figure: &WorksFigure) -> Option<Vec<&mut Degrees>> {
        let WorksFigure { of, key } = figure;
        if of == RACK {
            let rack = self.rack.as_mut()?;
            return match key.as_str() {
                "tail_deg" => Some(vec![&mut rack.tip]),
                "tooth_deg" => Some(vec![&mut rack.tooth]),
                "free_deg" => Some(vec![&mut rack.free]),
                _ => None,
            };
        }
        if let Some(track) = self.tracks.iter_mut().find(|track| track.id == *of) {
            return match (&mut track.shape, key.as_str()) {
                (Shape::Counts { cut, .. } | Shape::Notches { cut, .. }, "slot_deg") => {
                    Some(vec![&mut cut.width])
                }
                (Shape::Counts { cut, .. } | Shape::Notches { cut, .. }, "ramp_deg") => {
                    Some(vec![&mut cut.ramp])
                }
                (Shape::Notches { middles, .. }, "notches_deg") => {
                    Some(middles.iter_mut().collect())
                }
                (Shape::Lobes { places, .. }, "places_deg" | "first_deg") => {
                    Some(places.iter_mut().collect())
                }
                (Shape::Lobes { rise, .. }, "rise_deg") => Some(vec![rise]),
                (Shape::Lobes { hold, .. }, "hold_deg") => Some(vec![hold]),
                (Shape::Steps { from, .. }, "from_deg") => Some(vec![from]),
                _ => None,
            };
        }
        if let Some(pin) = self.pins.iter_mut().find(|pin| pin.id == *of) {
            return (key == "at_deg").then(|| pin.places.iter_mut().collect());
        }
        let lever = self.levers.iter_mut().find(|lever| lever.id == *of)?;
        match (&mut lever.does, key.as_str()) {
            (Does::Feels(feels), "tip_deg") => Some(vec![&mut feels.tip]),
            (Does::Feels(feels), "lift_deg") => Some(vec![&mut feels.lift]),
            (Does::Stops(stops), "further_deg") => Some(vec![&mut stops.further]),
            (Does::Stops(stops), "below_deg") => match &mut stops.reach {
                Reach::Below(reach) => Some(vec![reach]),
                Reach::Above(_) => None,
            },
            (Does::Stops(stops), "above_deg") => match &mut stops.reach {
                Reach::Above(reach) => Some(vec![reach]),
                Reach::Below(_) => None,
            },
            (Does::Lifts(lifts), "from_deg") => Some(vec![&mut lifts.from]),
            _ => None,
        }
    }
}
