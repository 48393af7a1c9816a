//! A part turned on its arbor, in words that the page and the command line share; and what levers are made of, and pins that count.

use super::{lever_called, named, way, witness_named};
use crate::{Locale, Sentence, runs, say, turn_seen};
use kinematics::TurnedThing;
use movement::{
    ArborId, Carrier, HeldBy, Lever, LeverMade, Movement, Plate, Shape, ToothForm, WitnessId, Works,
};
use quantity::{Degrees, to_f64, whole};
use timing::{Act, Turn, TurnBy};

/// A part as it is called: "count wheel".
pub fn part_called(movement: &Movement, thing: TurnedThing) -> String {
    let tracks = |on: ArborId| {
        let tracks = movement.works().into_iter().flat_map(Works::tracks);
        tracks.filter(move |(_, track)| track.carrier == Carrier::Arbor(on))
    };
    // A plate with slots is called what everybody calls it, whatever arbor it is on.
    let counts =
        |on: ArborId| tracks(on).any(|(_, track)| matches!(track.shape, Shape::Counts { .. }));
    match thing {
        TurnedThing::Marks(on) if counts(on) => "count wheel".to_owned(),
        // A drum has pins for many hammers, and goes as a whole.
        TurnedThing::Marks(on) if tracks(on).count() > 1 => named(&movement.arbor(on).id),
        _ => named(&thing.name(movement)).replace('.', " "),
    }
}

/// Each turn in a sentence, numbered where there are several.
pub fn turn_sentences(
    locale: &Locale,
    movement: &Movement,
    turns: &[Turn],
    from: Plate,
) -> Vec<Sentence> {
    let several = turns.len() > 1;
    let each = turns.iter().zip(1..).map(|(turn, n)| {
        let part = part_called(movement, turn.thing);
        let way = way(turn_seen(movement, turn, from));
        let said = match (&turn.by, turn.held_by) {
            (TurnBy::Quarters(count), _) => {
                runs!(
                    locale,
                    "turn-square",
                    part = part,
                    count = *count,
                    way = way
                )
            }
            (TurnBy::Angle(by), HeldBy::Friction) => {
                let (by, face) = (locale.degrees(by), on_a_clock_face(locale, by));
                runs!(
                    locale,
                    "turn-friction",
                    part = part,
                    by = by,
                    way = way,
                    face = face
                )
            }
            (TurnBy::Angle(by), _) => {
                let (by, face) = (locale.degrees(by), on_a_clock_face(locale, by));
                runs!(
                    locale,
                    "turn-slackened",
                    part = part,
                    by = by,
                    way = way,
                    face = face
                )
            }
        };
        match several {
            true => runs!(locale, "nth", n = n).then(said),
            false => said,
        }
    });
    each.collect()
}

/// How far that is on the face of a clock, which everybody can see before them: from two hours on to half an hour, below that to a minute,
/// and below an hour to half a minute.
fn on_a_clock_face(locale: &Locale, by: &Degrees) -> String {
    const HOUR: f64 = 30.0;
    const MINUTE: f64 = 6.0;
    let by = by.to_f64();
    let halves = |of: f64| (2.0 * by / of).round().max(1.0);
    let (unit, halves) = if by >= 2.0 * HOUR {
        ("hours", halves(HOUR))
    } else if by >= HOUR {
        ("minutes", 2.0 * (by / MINUTE).round())
    } else if halves(MINUTE) <= 2.0 {
        ("minute", halves(MINUTE))
    } else {
        ("minutes", halves(MINUTE))
    };
    let whole = (halves / 2.0).floor();
    let count = match (whole, halves > 2.0 * whole) {
        (whole, false) => format!("{whole}"),
        (whole, true) if whole > 0.0 => format!("{whole} 1/2"),
        (_, true) => "1/2".to_owned(),
    };
    say!(locale, "clock-face", count = count, unit = unit)
}

/// By how much a part is turned, short, as it stands at its arrow: "a quarter".
pub fn turned_by(locale: &Locale, by: &TurnBy) -> String {
    match by {
        TurnBy::Quarters(count) => say!(locale, "turned-by", count = *count),
        TurnBy::Angle(by) => locale.degrees(by),
    }
}

/// What goes, what stays, and how far what is read is moved by it: a sentence each.
pub fn turn_beneath(locale: &Locale, movement: &Movement, turn: &Turn) -> Vec<String> {
    let stays = if turn.teeth_stay {
        let on = (movement.witnesses())
            .filter(|(_, witness)| witness.on == turn.arbor)
            .map(|(_, witness)| named(&witness.id));
        match &on.collect::<Vec<_>>()[..] {
            [] => say!(locale, "turn-rest-goes"),
            names => say!(locale, "turn-teeth-stay", names = locale.list(names)),
        }
    } else {
        let part = part_called(movement, turn.thing);
        match turn.thing {
            TurnedThing::Part(_) => say!(locale, "turn-arbor-stays", part = part),
            TurnedThing::Marks(_) => say!(locale, "turn-marks-go", part = part),
        }
    };
    let moves: Vec<String> = (turn.moves.iter())
        .map(|(id, by)| turn_moves(locale, movement, *id, by))
        .collect();
    let mut beneath = vec![
        stays,
        say!(locale, "turn-moves", moves = locale.list(&moves)),
        say!(locale, "turn-no-plates"),
    ];
    let turned = turn.moves.iter().map(|(id, _)| *id);
    beneath.extend(hands_to_be_set(locale, movement, turned));
    beneath
}

/// That the hands are to be set to the strike once a count wheel was turned on its arbor; nothing where none of these is read by its slots.
pub fn hands_to_be_set(
    locale: &Locale,
    movement: &Movement,
    mut turned: impl Iterator<Item = WitnessId>,
) -> Option<String> {
    let counts = turned.any(|id| movement.witness(id).is_any_slot());
    counts.then(|| say!(locale, "turn-count-hands"))
}

/// How far one witness is moved: by half a place where it comes to that, by any number of whole places besides.
fn turn_moves(locale: &Locale, movement: &Movement, id: WitnessId, by: &Degrees) -> String {
    let witness = movement.witness(id);
    let name = named(&witness.id);
    let twice = by.exact() / witness.period().exact() * whole(2);
    if witness.repeats.get() > 1 && twice.is_integer() && !(twice / whole(2)).is_integer() {
        return say!(locale, "turn-half-place", name = name);
    }
    let side = if to_f64(by.exact()) < 0.0 {
        "back"
    } else {
        "ahead"
    };
    let by = locale.degrees(&by.abs());
    say!(locale, "turn-by", name = name, by = by, side = side)
}

/// Of which levers that lie on what these witnesses show, or stop it, the sheet says that they are soft, and of which that they break: a
/// sentence each.
pub fn levers_made(locale: &Locale, movement: &Movement, at: &[WitnessId]) -> Vec<String> {
    let of = |made: LeverMade| -> Vec<String> {
        let Some(works) = movement.works() else {
            return Vec::new();
        };
        let shown = |lever: &Lever| {
            let felt = lever.track().map(|track| &works.track(track).carrier);
            let stopped = lever.stops().map(|stops| works.pin(stops.pin).on);
            at.iter().any(|id| {
                let on = movement.witness(*id).on;
                felt == Some(&Carrier::Arbor(on)) || stopped == Some(on)
            })
        };
        (works.levers())
            .filter(|(_, lever)| lever.made == Some(made) && shown(lever))
            .map(|(id, _)| lever_called(locale, movement, id))
            .collect()
    };
    let soft = of(LeverMade::Soft);
    let hard = of(LeverMade::Hardened);
    let soft = (!soft.is_empty()).then(|| say!(locale, "levers-soft", levers = locale.list(&soft)));
    let hard =
        (!hard.is_empty()).then(|| say!(locale, "levers-hardened", levers = locale.list(&hard)));
    soft.into_iter().chain(hard).collect()
}

/// Of witnesses on an arbor that pins move on, a place each: that no tooth puts them between two places, and where to look.
pub fn moved_by_pins(locale: &Locale, movement: &Movement, at: &[WitnessId]) -> Option<String> {
    let by_pins = |id: &&WitnessId| {
        let witness = movement.witness(**id);
        let pins = |part| movement.part(part).form == ToothForm::Pins;
        witness.repeats.get() > 1
            && (movement.meshes())
                .any(|(_, mesh)| mesh.driven.arbor == witness.on && pins(mesh.driver))
    };
    let names: Vec<String> = (at.iter().filter(by_pins))
        .map(|id| witness_named(locale, movement, *id))
        .collect();
    (!names.is_empty()).then(|| say!(locale, "moved-by-pins", names = locale.list(&names)))
}

/// What is said besides where a lever or a part is looked at first, or no shift cures it.
pub(super) fn first_looked_at(
    locale: &Locale,
    movement: &Movement,
    out: &[WitnessId],
    act: &Act,
) -> Vec<String> {
    let at = match act {
        Act::Part(at) => at,
        Act::NoMesh => out,
        _ => return Vec::new(),
    };
    (moved_by_pins(locale, movement, out).into_iter())
        .chain(levers_made(locale, movement, at))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_angle_is_told_as_on_a_clock_face() {
        let locale = Locale::default();
        for (degrees, said) in [
            (1, "1/2 minute"),
            (3, "1/2 minute"),
            (6, "1 minute"),
            (9, "1 1/2 minutes"),
            (29, "5 minutes"),
            (30, "5 minutes"),
            (45, "8 minutes"),
            (59, "10 minutes"),
            (60, "2 hours"),
            (108, "3 1/2 hours"),
            (180, "6 hours"),
        ] {
            let by = Degrees::deg(whole(degrees));
            assert_eq!(on_a_clock_face(&locale, &by), said, "{degrees}");
        }
    }
}
