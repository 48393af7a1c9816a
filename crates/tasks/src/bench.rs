//! What the bench page shows beside the advice: where witnesses stand, and where a shift done as said leaves them.

use crate::TimingState;
use entries::{EntryContent, EntryKind};
use kinematics::step;
use movement::{Movement, WitnessId};
use quantity::{Degrees, nearest_alike, whole};
use timing::{Reading, Shift, Turn};

/// Where each witness that was read stands after these shifts, done as said.
pub fn stands_after(
    movement: &Movement,
    readings: &[Reading],
    shifts: &[Shift],
) -> Vec<(WitnessId, Degrees)> {
    readings
        .iter()
        .map(|reading| {
            let witness = movement.witness(reading.witness);
            let mut place = reading.stands.clone();
            for shift in shifts {
                if let Some(step) = step(movement, shift.mesh, reading.witness) {
                    place = &place + &(&step * &whole(shift.signed()));
                }
            }
            (
                reading.witness,
                nearest_alike(&place, &witness.period(), &witness.best),
            )
        })
        .collect()
}

/// Where each witness that was read stands after these parts are turned on their arbors, done as said.
pub fn stands_after_turns(
    movement: &Movement,
    readings: &[Reading],
    turns: &[Turn],
) -> Vec<(WitnessId, Degrees)> {
    let after = |reading: &Reading| {
        let witness = movement.witness(reading.witness);
        let moves = turns.iter().flat_map(|turn| &turn.moves);
        let place = moves
            .filter(|(id, _)| *id == reading.witness)
            .fold(reading.stands.clone(), |place, (_, by)| &place + by);
        let place = nearest_alike(&place, &witness.period(), &witness.best);
        (reading.witness, place)
    };
    readings.iter().map(after).collect()
}

impl TimingState {
    /// Where each witness of the train that is timed most likely stands, where one place is likelier than all others together.
    pub fn likeliest(&self) -> Vec<(WitnessId, Degrees)> {
        let movement = &self.sheet.movement;
        (self.places.iter())
            .filter(|(id, _)| self.recalled.timed.contains(id))
            .filter_map(|(id, places)| {
                let (place, _) = places.iter().find(|(_, chance)| chance.get() > 0.5)?;
                let witness = movement.witness(*id);
                Some((*id, nearest_alike(place, &witness.period(), &witness.best)))
            })
            .collect()
    }

    /// Whether the last thing that counts is a shift, or what was said of one: it is to be looked at.
    pub fn shifted_last(&self) -> bool {
        let last = self.log.of_this_sheet().rfind(|e| e.work().is_none());
        last.is_some_and(|entry| {
            matches!(
                &entry.told,
                EntryContent::Known(
                    EntryKind::Shift(_) | EntryKind::OtherWay { .. } | EntryKind::Slipped(_)
                )
            )
        })
    }

    /// Whether the last thing that counts was said of a shift: that it did not go as said.
    pub fn told_last(&self) -> bool {
        let last = self.log.of_this_sheet().rfind(|e| e.work().is_none());
        last.is_some_and(|entry| {
            matches!(&entry.told, EntryContent::Known(EntryKind::OtherWay { .. }))
        })
    }

    /// Whether anything was shifted yet.
    pub fn shifted(&self) -> bool {
        (self.log.of_this_sheet())
            .any(|entry| matches!(&entry.told, EntryContent::Known(EntryKind::Shift(_))))
    }
}
