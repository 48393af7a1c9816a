//! What a log shows besides the answer, and how arbors go in.

use super::arbor_name;
use super::kinds::witness_named;
use super::turned::first_looked_at;
use crate::{Locale, say};
use movement::{ArborId, MeshId, Movement, WitnessId};
use std::collections::BTreeSet;
use timing::{Act, AnotherDrop, Held, OrderStep, Reading, Recalled, Settle};

/// That what was read is sound at another drop, and how far on the one is that is meant.
pub fn run_on(locale: &Locale, movement: &Movement, another: &AnotherDrop) -> String {
    let arbor = arbor_name(movement, another.arbor);
    say!(
        locale,
        "finding-another-drop",
        more = another.more,
        arbor = arbor
    )
}

/// What each of these readings was taken as, where it was said so far off that a point or a figure may have slipped.
pub fn taken<'a>(
    locale: &Locale,
    movement: &Movement,
    readings: impl IntoIterator<Item = &'a Reading>,
) -> Vec<String> {
    let far = readings.into_iter().filter_map(|reading| {
        let far = reading.far_off.as_ref()?;
        Some(say!(
            locale,
            "far-off",
            name = witness_named(locale, movement, reading.witness),
            said = locale.degrees(&far.said),
            off = if far.turn { "turn" } else { "places" },
            place = locale.degrees(&reading.stands)
        ))
    });
    far.collect()
}

/// A shift that went wrong, a lever that seems bent: a sentence each. Where the lever comes first, the answer has said so.
pub fn findings(
    locale: &Locale,
    movement: &Movement,
    recalled: &Recalled,
    act: &Act,
) -> Vec<String> {
    let newest = recalled.newest.iter().filter_map(|(_, r)| r.as_ref());
    let mut found = taken(locale, movement, newest);
    let out = |(id, reading): &(WitnessId, Option<Reading>)| {
        let stands = reading.as_ref().map(|reading| &reading.stands);
        stands
            .is_some_and(|stands| !movement.witness(*id).admits(stands))
            .then_some(*id)
    };
    let out: Vec<WitnessId> = recalled.newest.iter().filter_map(out).collect();
    found.extend(first_looked_at(locale, movement, &out, act));
    let another = recalled.another_drop(movement);
    found.extend(another.map(|another| run_on(locale, movement, &another)));
    for handled in &recalled.handled {
        let mesh = movement.mesh_name(handled.mesh);
        let mesh = match (handled.nth, movement.far_arbor(handled.mesh)) {
            ((_, 1), _) | (_, None) => mesh,
            ((nth, _), Some(far)) => {
                let arbor = arbor_name(movement, far);
                say!(locale, "shift-of", n = nth, arbor = arbor, mesh = mesh)
            }
        };
        if handled.other_way.get() >= 0.5 {
            let odds = locale.odds(handled.other_way);
            found.push(say!(locale, "finding-other-way", mesh = mesh, odds = odds));
        } else if handled.slipped.get() >= 0.5 {
            let odds = locale.odds(handled.slipped);
            found.push(say!(locale, "finding-slipped", mesh = mesh, odds = odds));
        }
    }
    for (id, chance) in &recalled.bent {
        let answered = matches!(act, Act::Part(at) if at.contains(id));
        if chance.get() >= timing::SOUND && !answered {
            let witness = witness_named(locale, movement, *id);
            let odds = locale.odds(*chance);
            found.push(say!(locale, "finding-bent", witness = witness, odds = odds));
        }
    }
    found
}

/// One arbor going in.
pub fn put_in(locale: &Locale, movement: &Movement, step: &OrderStep) -> String {
    let arbor = &movement.arbor(step.arbor).id;
    let name = |id: &WitnessId| movement.witness(*id).id.clone();
    let mut said = if !step.settles.is_empty() {
        let places: Vec<String> = (step.settles.iter())
            .map(|settle| set(locale, movement, settle))
            .collect();
        say!(locale, "put-in", arbor = arbor, places = places.join("; "))
    } else if !step.later.is_empty() {
        say!(locale, "put-in-later", arbor = arbor)
    } else if step.ring {
        say!(locale, "put-in-ring", arbor = arbor)
    } else {
        say!(locale, "put-in-any", arbor = arbor)
    };
    if step.plates_closed {
        said = say!(locale, "put-in-closed", said = said);
    }
    let chosen: BTreeSet<MeshId> = step.settles.iter().flat_map(|s| s.at.clone()).collect();
    let mut others: Vec<ArborId> = Vec::new();
    for mesh in chosen.into_iter().map(|mesh| movement.mesh(mesh)) {
        for end in [mesh.driver.arbor, mesh.driven.arbor] {
            if end != step.arbor && !others.contains(&end) {
                others.push(end);
            }
        }
    }
    if others.len() > 1 {
        let others: Vec<String> = (others.into_iter())
            .map(|other| say!(locale, "the-arbor", arbor = &movement.arbor(other).id))
            .collect();
        said = say!(
            locale,
            "put-in-at-once",
            said = said,
            arbors = locale.list(&others)
        );
    }
    if !step.settles.is_empty() && !step.later.is_empty() {
        said = say!(locale, "put-in-rest-later", said = said);
    }
    if step.ring && !(step.settles.is_empty() && step.later.is_empty()) {
        said = say!(locale, "put-in-ring-too", said = said);
    }
    if step.ring_later {
        said = say!(locale, "put-in-ring-later", said = said);
    }
    if !step.check.is_empty() {
        let names: Vec<String> = step.check.iter().map(name).collect();
        said = say!(
            locale,
            "put-in-check",
            said = said,
            names = locale.list(&names)
        );
    }
    said
}

/// A witness to be set: where, how far off it may be, and what is held.
fn set(locale: &Locale, movement: &Movement, settle: &Settle) -> String {
    let witness = movement.witness(settle.witness);
    let place = say!(
        locale,
        "put-in-witness",
        witness = &witness.id,
        degrees = locale.degrees(&witness.best),
        least = locale.degrees(&witness.from),
        most = locale.degrees(&witness.to)
    );
    let arbor = &movement.arbor(settle.hold(movement)).id;
    let moment = &movement.moment(witness.at).id;
    match settle.held {
        Held::Witness(other) => {
            let other = movement.witness(other);
            say!(
                locale,
                "put-in-against",
                place = place,
                arbor = arbor,
                held = &other.id,
                degrees = locale.degrees(&other.best)
            )
        }
        Held::Moment if moment == movement::DROP => {
            say!(locale, "put-in-drop", place = place, arbor = arbor)
        }
        Held::Moment => {
            say!(
                locale,
                "put-in-place",
                place = place,
                arbor = arbor,
                moment = moment
            )
        }
    }
}
