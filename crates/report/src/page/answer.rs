//! The answer in one sentence, what to hold, what will be seen after.

use super::kinds::{reads, reads_at_rest, witness_named};
use super::looks::{LookChoice, look_of};
use super::turned::{turn_beneath, turn_sentences};
use super::{arbor_name, drops, plate_key, way};
use crate::{Locale, Sentence, near_arbor, others, runs, say, way_seen};
use draw::View;
use movement::{ArborId, MeshAccess, MeshId, Movement, Plate, Reached, WitnessId};
use quantity::{Chance, Degrees};
use timing::{Act, Advice, Lacks, Recalled, Shift, ShiftWay};

/// What to do, in one sentence.
pub fn answer(
    locale: &Locale,
    movement: &Movement,
    recalled: &Recalled,
    advice: &Advice,
    from: Plate,
) -> Sentence {
    match &advice.act {
        Act::Done if !movement.comes_out() => runs!(locale, "answer-count-again"),
        Act::Done => runs!(locale, "answer-done", odds = locale.odds(advice.in_window)),
        Act::Look(at) => {
            let names = witness_names(locale, movement, at);
            let unread = &advice.lacks.unread;
            let look = if recalled.last_look.is_empty() || at.iter().all(|id| unread.contains(id)) {
                runs!(locale, "answer-look", names = names)
            } else {
                runs!(locale, "answer-look-again", names = names)
            };
            let believed = which_is_believed(locale, movement, advice);
            (believed.into_iter())
                .chain(strike_on(locale, movement, recalled, at))
                .fold(look, Sentence::then)
        }
        Act::Shift(shifts) => (shift_sentences(locale, movement, shifts, from).into_iter())
            .fold(Sentence::default(), Sentence::then),
        Act::Turn(turns) => (turn_sentences(locale, movement, turns, from).into_iter())
            .fold(Sentence::default(), Sentence::then),
        Act::PutIn(arbors) => {
            let names: Vec<String> = (arbors.iter())
                .map(|arbor| arbor_name(movement, *arbor))
                .collect();
            let (count, names) = (arbors.len(), locale.list(&names));
            runs!(locale, "answer-put-in", count = count, names = names)
        }
        Act::Part(at) => {
            let bent: f64 = recalled.bent.iter().map(|(_, chance)| chance.get()).sum();
            let odds = locale.odds(Chance::of(bent));
            let names = witness_names(locale, movement, at);
            if bent < timing::SOUND {
                return runs!(locale, "answer-part-stuck", names = names);
            }
            runs!(locale, "answer-part", names = names, odds = odds)
        }
        Act::Prove => {
            let odds = locale.odds(advice.in_window);
            if advice.lacks.blind {
                runs!(locale, "answer-prove-blind")
            } else if !advice.lacks.usual.is_empty() {
                runs!(locale, "answer-prove-usual", odds = odds)
            } else if !advice.lacks.inferred.is_empty() {
                let names = witness_names(locale, movement, &advice.lacks.inferred);
                runs!(locale, "answer-prove-inferred", names = names, odds = odds)
            } else {
                runs!(locale, "answer-prove", odds = odds)
            }
        }
        Act::NoMesh => runs!(locale, "answer-no-mesh"),
    }
}

fn witness_names(locale: &Locale, movement: &Movement, at: &[WitnessId]) -> String {
    let names: Vec<String> = (at.iter())
        .map(|id| witness_named(locale, movement, *id))
        .collect();
    locale.list(&names)
}

/// Where the last reading is out and all readings together have everything in: which of the two is believed, and till when.
pub fn which_is_believed(
    locale: &Locale,
    movement: &Movement,
    advice: &Advice,
) -> Option<Sentence> {
    let Lacks {
        outside, unsure, ..
    } = &advice.lacks;
    (!outside.is_empty() && !unsure).then(|| {
        let names = witness_names(locale, movement, outside);
        let odds = locale.odds(advice.in_window);
        runs!(locale, "answer-look-believed", names = names, odds = odds)
    })
}

/// What is to be done first where a witness that is to be looked at cannot be read now, though every arbor is in: a slot
/// while the lever lies in the long one.
pub fn strike_on(
    locale: &Locale,
    movement: &Movement,
    recalled: &Recalled,
    at: &[WitnessId],
) -> Option<Sentence> {
    let hidden = at.iter().find(|id| !recalled.readable.contains(id))?;
    let name = witness_named(locale, movement, *hidden);
    Some(runs!(locale, "answer-strike-on", name = name))
}

/// Each shift in a sentence, numbered where there are several.
pub fn shift_sentences(
    locale: &Locale,
    movement: &Movement,
    shifts: &[Shift],
    from: Plate,
) -> Vec<Sentence> {
    let mut sentences = Vec::new();
    for (i, shift) in shifts.iter().enumerate() {
        let Some(far) = movement.far_arbor(shift.mesh) else {
            continue;
        };
        let (arbor, count) = (arbor_name(movement, far), shift.teeth);
        let way = way(way_seen(movement, shift, from));
        let next = match (i, movement.mesh(shift.mesh).reached) {
            (0, Reached::Plates) => {
                runs!(
                    locale,
                    "shift-lift",
                    arbor = arbor,
                    count = count,
                    way = way
                )
            }
            (0, Reached::Outside) => {
                runs!(
                    locale,
                    "shift-free",
                    arbor = arbor,
                    count = count,
                    way = way
                )
            }
            (_, Reached::Plates) => {
                runs!(
                    locale,
                    "shift-then-lift",
                    arbor = arbor,
                    count = count,
                    way = way
                )
            }
            (_, Reached::Outside) => {
                runs!(
                    locale,
                    "shift-then-free",
                    arbor = arbor,
                    count = count,
                    way = way
                )
            }
        };
        sentences.push(match shifts.len() {
            1 => next,
            _ => runs!(locale, "nth", n = i + 1).then(next),
        });
    }
    sentences
}

/// The question before anything is read: after a shift, after an arbor that jumped out, or at first.
pub fn question(
    locale: &Locale,
    movement: &Movement,
    recalled: &Recalled,
    after_shift: bool,
) -> String {
    if after_shift {
        say!(locale, "question-after")
    } else if recalled.readable.is_empty() && !movement.comes_out() {
        say!(locale, "question-nothing-wrong")
    } else if recalled.out.is_empty() && !movement.unjudged().is_empty() {
        say!(locale, "question-no-windows")
    } else if recalled.readable.is_empty() {
        say!(locale, "question-nothing")
    } else {
        say!(locale, "question-first")
    }
}

/// What was done of several shifts, as a button says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Of {
    /// Only this one was done.
    Only,
    /// This one went the other way.
    OtherWay,
}

/// That one of several shifts was done alone or went the other way; `nth` from 1.
pub fn of_several(
    locale: &Locale,
    movement: &Movement,
    mesh: MeshId,
    nth: usize,
    of: Of,
) -> String {
    let far = movement.far_arbor(mesh);
    let arbor = far.map_or_else(String::new, |far| arbor_name(movement, far));
    match of {
        Of::Only => say!(locale, "done-only", n = nth, arbor = arbor),
        Of::OtherWay => say!(locale, "other-way-nth", n = nth, arbor = arbor),
    }
}

/// What to hold, and what stays together: a sentence each.
pub fn hold(locale: &Locale, movement: &Movement, shift: &Shift) -> Vec<String> {
    let (Some(far), Some(near)) = (
        movement.far_arbor(shift.mesh),
        near_arbor(movement, shift.mesh),
    ) else {
        return Vec::new();
    };
    let mut said = vec![say!(
        locale,
        "hold-still",
        arbor = arbor_name(movement, near)
    )];
    let (keep, _) = others(movement, far, shift.mesh);
    if !keep.is_empty() {
        let arbors: Vec<String> = (across(movement, far, &keep).into_iter())
            .map(|arbor| say!(locale, "the-arbor", arbor = arbor))
            .collect();
        let arbor = arbor_name(movement, far);
        said.push(say!(
            locale,
            "hold-keep",
            arbors = locale.list(&arbors),
            arbor = arbor
        ));
    }
    said
}

/// What may come apart freely, and whether no plate need be spread: a sentence each.
pub fn loose(locale: &Locale, movement: &Movement, shift: &Shift) -> Vec<String> {
    let Some(far) = movement.far_arbor(shift.mesh) else {
        return Vec::new();
    };
    let mut said = Vec::new();
    let (_, free) = others(movement, far, shift.mesh);
    if !free.is_empty() {
        let arbors: Vec<String> = (across(movement, far, &free).into_iter().enumerate())
            .map(|(i, arbor)| match i {
                0 => say!(locale, "the-arbor-first", arbor = arbor),
                _ => say!(locale, "the-arbor", arbor = arbor),
            })
            .collect();
        said.push(say!(locale, "loose-free", arbors = locale.list(&arbors)));
    }
    match movement.opened(shift.mesh) {
        MeshAccess::Outside => said.push(say!(locale, "loose-outside")),
        MeshAccess::Cock => said.push(say!(locale, "loose-cock")),
        MeshAccess::Plates => {}
    }
    said
}

/// The arbors that meshes join to one.
fn across(movement: &Movement, to: ArborId, meshes: &[MeshId]) -> Vec<String> {
    (meshes.iter())
        .map(|mesh| {
            let mesh = movement.mesh(*mesh);
            let other = if mesh.driver.arbor == to {
                mesh.driven.arbor
            } else {
                mesh.driver.arbor
            };
            arbor_name(movement, other)
        })
        .collect()
}

/// The same shift said for the other arbor.
pub fn other_hand(
    locale: &Locale,
    movement: &Movement,
    shift: &Shift,
    from: Plate,
) -> Option<String> {
    let near = near_arbor(movement, shift.mesh)?;
    let far = movement.far_arbor(shift.mesh)?;
    let internal = movement.mesh(shift.mesh).internal;
    let turned =
        way_seen(movement, shift, from).map(|way| if internal { way.reversed() } else { way });
    Some(say!(
        locale,
        "other-hand",
        far = arbor_name(movement, far),
        near = arbor_name(movement, near),
        count = shift.teeth,
        way = way(turned)
    ))
}

/// What will be seen after, and how surely.
pub fn after(
    locale: &Locale,
    movement: &Movement,
    stands: &[(WitnessId, Degrees)],
    chance: Chance,
) -> String {
    let odds = locale.odds(chance);
    match stand(locale, movement, stands) {
        None => say!(locale, "after-all", odds = odds),
        Some(stand) => say!(locale, "after", stand = stand, odds = odds),
    }
}

/// What should be seen now if a shift went as said; or, where it was said that it did not, after what was `told`.
pub fn expected(
    locale: &Locale,
    movement: &Movement,
    stands: &[(WitnessId, Degrees)],
    told: bool,
) -> Option<String> {
    let stand = stand(locale, movement, stands)?;
    Some(if told {
        say!(locale, "expected-told", stand = stand)
    } else {
        say!(locale, "expected", stand = stand)
    })
}

/// "slot and star stand at their best; pin stands in, short of its best".
fn stand(locale: &Locale, movement: &Movement, stands: &[(WitnessId, Degrees)]) -> Option<String> {
    let (mut best, mut rest) = (Vec::new(), Vec::new());
    for (id, place) in stands {
        let name = witness_named(locale, movement, *id);
        let look = look_of(movement, *id, place);
        if look == LookChoice::Best {
            best.push(name);
        } else {
            rest.push(say!(
                locale,
                "stand-look",
                name = name,
                look = look.say(locale)
            ));
        }
    }
    match best.len() {
        0 => {}
        1 => rest.insert(0, say!(locale, "stand-best", name = &best[0])),
        _ => rest.insert(
            0,
            say!(locale, "stand-best-all", names = locale.list(&best)),
        ),
    }
    (!rest.is_empty()).then(|| rest.join("; "))
}

/// The chance that something is bent, or has slipped, from which it is said beside another that this leaves it out. Ours.
const BENT_MATTERS: f64 = 0.05;

/// The chance that all is in its window, as it stands; with the condition under which it holds, where that is in doubt.
pub fn in_window_now(locale: &Locale, recalled: &Recalled, chance: Chance) -> String {
    let odds = locale.odds(chance);
    if may_be_bent(recalled) {
        say!(locale, "in-window-sound", odds = odds)
    } else {
        say!(locale, "in-window-now", odds = odds)
    }
}

/// Whether it is likely enough that some lever is bent, or some part has slipped, to be said beside a chance that leaves it out.
pub fn may_be_bent(recalled: &Recalled) -> bool {
    let bent: f64 = recalled.bent.iter().map(|(_, chance)| chance.get()).sum();
    bent >= BENT_MATTERS
}

/// The movement as it lies there, for those who cannot see the drawing.
pub fn drawing(locale: &Locale, movement: &Movement, view: View, advice: &Advice) -> String {
    let (from, over) = (view.plate, if view.upside_down { "yes" } else { "no" });
    let mut said = say!(locale, "drawing", plate = plate_key(from), over = over);
    if let Act::Shift(shifts) = &advice.act {
        let sentences = shift_sentences(locale, movement, shifts, from);
        for (sentence, shift) in sentences.iter().zip(shifts) {
            for line in std::iter::once(sentence.text()).chain(hold(locale, movement, shift)) {
                said.push(' ');
                said += &line;
            }
        }
    }
    if let Act::Turn(turns) = &advice.act {
        let sentences = turn_sentences(locale, movement, turns, from);
        for (sentence, turn) in sentences.iter().zip(turns) {
            for line in std::iter::once(sentence.text()).chain(turn_beneath(locale, movement, turn))
            {
                said.push(' ');
                said += &line;
            }
        }
    }
    said
}

/// From which plate, and which way up, it is looked at.
pub fn seen_from(locale: &Locale, from: Plate, upside_down: bool) -> String {
    let over = if upside_down { "yes" } else { "no" };
    say!(locale, "seen-from", plate = plate_key(from), over = over)
}

/// How to take a reading, line by line.
pub fn how_to_read(locale: &Locale, movement: &Movement, id: WitnessId) -> Vec<String> {
    let witness = movement.witness(id);
    let moment = movement.moment(witness.at);
    let held = arbor_name(movement, moment.arbor);
    let second = if moment.id == "drop" {
        let drops = drops(movement);
        say!(locale, "how-second-drop", arbor = held, drops = drops)
    } else {
        say!(locale, "how-second", moment = &moment.says, arbor = held)
    };
    let mut lines = vec![
        say!(locale, "how-first"),
        second,
        say!(locale, "how-third", witness = &witness.says),
    ];
    lines.extend(reads(locale, movement, id));
    lines
}

/// How to take a reading at rest, line by line.
pub fn how_to_read_at_rest(locale: &Locale, movement: &Movement, id: WitnessId) -> Vec<String> {
    let mut lines = vec![
        say!(locale, "how-first-at-rest"),
        say!(locale, "how-second-at-rest"),
        say!(locale, "how-third", witness = &movement.witness(id).says),
    ];
    lines.extend(reads_at_rest(locale, movement, id));
    lines
}

/// A shift in a few words, for the log: "second, two teeth counterclockwise".
pub fn shift_short(
    locale: &Locale,
    movement: &Movement,
    mesh: MeshId,
    signed: i64,
    from: Plate,
) -> String {
    let shift = Shift {
        mesh,
        teeth: signed.abs(),
        way: if signed < 0 {
            ShiftWay::Back
        } else {
            ShiftWay::Ahead
        },
    };
    let lifted = (movement.far_arbor(mesh)).map(|far| arbor_name(movement, far));
    say!(
        locale,
        "log-shift-one",
        arbor = lifted.unwrap_or_default(),
        count = shift.teeth,
        way = way(way_seen(movement, &shift, from))
    )
}
