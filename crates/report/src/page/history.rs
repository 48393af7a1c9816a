//! The log of one job, an entry a line, as it stands beside the drawing.

pub use super::answer::shift_short;
use super::looks::look_of;
use super::{LookChoice, named};
use crate::en::quoted;
use crate::{Words, say};
use entries::{AtMesh, Entry, EntryContent, EntryKind, LoggedSight, LoggedTension, Moved, Sight};
use movement::{Movement, Plate};
use quantity::Degrees;
use timing::SaidReading;

/// What an entry tells.
pub fn entry(words: &Words, movement: &Movement, entry: &Entry, from: Plate) -> String {
    let kind = match &entry.told {
        EntryContent::Known(kind) => kind,
        EntryContent::Unknown { kind, .. } => {
            return say!(words, "log-unknown", kind = quoted(kind));
        }
    };
    let shift = |at: &AtMesh| shift_words(words, movement, at, from);
    match kind {
        EntryKind::Look { tension, readings } => {
            let seen: Vec<String> = (readings.iter())
                .map(|r| {
                    let look = seen_words(words, movement, &r.witness, &r.seen);
                    say!(words, "log-seen", name = named(&r.witness), look = look)
                })
                .collect();
            let seen = seen.join("; ");
            match tension {
                LoggedTension::Tensioned => say!(words, "log-look", seen = seen),
                LoggedTension::Slack => say!(words, "log-look-loose", seen = seen),
            }
        }
        EntryKind::Shift(meshes) => {
            let shifts = (meshes.iter().map(shift))
                .reduce(|rest, next| say!(words, "log-shift-more", rest = rest, next = next));
            say!(words, "log-shift", shifts = shifts.unwrap_or_default())
        }
        EntryKind::OtherWay { of, mesh: None } => say!(words, "log-other-way", of = *of),
        EntryKind::OtherWay {
            of,
            mesh: Some(mesh),
        } => {
            let far = (movement.find_mesh(mesh)).and_then(|mesh| movement.far_arbor(mesh));
            let arbor = far.map_or_else(|| quoted(mesh), |far| named(&movement.arbor(far).id));
            say!(words, "log-other-way-one", of = *of, arbor = arbor)
        }
        EntryKind::Slipped(at) => say!(words, "log-slipped", shift = shift(at)),
        EntryKind::Jumped { arbor } => say!(words, "log-jumped", arbor = named(arbor)),
        EntryKind::Bent(moved) => say!(words, "log-bent", moved = moved_words(words, moved)),
        EntryKind::Turned(moved) => say!(words, "log-turned", moved = moved_words(words, moved)),
        EntryKind::ArborOut { arbor } => say!(words, "log-out", arbor = named(arbor)),
        EntryKind::ArborIn { arbor } => say!(words, "log-in", arbor = named(arbor)),
        EntryKind::Struck { hour } => say!(words, "log-struck", hour = *hour),
        EntryKind::Undo { of } => say!(words, "log-undo", of = *of),
        EntryKind::Work(work) => crate::work::work(words, work),
    }
}

fn shift_words(words: &Words, movement: &Movement, at: &AtMesh, from: Plate) -> String {
    match movement.find_mesh(&at.mesh) {
        Some(mesh) => shift_short(words, movement, mesh, at.teeth.into(), from),
        None => say!(
            words,
            "log-shift-unknown",
            mesh = quoted(&at.mesh),
            count = at.teeth.abs()
        ),
    }
}

fn moved_words(words: &Words, moved: &Moved) -> String {
    let number = words.pointed(moved.deg.text().to_owned());
    say!(
        words,
        "log-moved",
        name = named(&moved.witness),
        number = number
    )
}

fn seen_words(words: &Words, movement: &Movement, witness: &str, seen: &LoggedSight) -> String {
    let written = |text: &str| words.pointed(text.to_owned());
    match seen {
        LoggedSight::Number { deg, spread } => {
            let spread = spread.as_ref().map(|spread| written(spread.text()));
            let Some(id) = movement.find_witness(witness) else {
                let number = written(deg.text());
                return match spread {
                    None => say!(words, "seen-number", number = number),
                    Some(spread) => {
                        say!(
                            words,
                            "seen-number-spread",
                            number = number,
                            spread = spread
                        )
                    }
                };
            };
            let place = deg.degrees();
            let look = look_of(movement, id, &place).say(words);
            let written_degrees = |place: &Degrees| words.degrees(place).replace('-', "−");
            let mut degrees = written_degrees(&place);
            let said = SaidReading::Degrees(place, None);
            if let Ok(read) = timing::read(movement, id, &said)
                && read.far_off.is_some()
            {
                let taken = written_degrees(&read.stands);
                degrees = say!(words, "seen-taken", said = degrees, taken = taken);
            }
            match spread {
                None => say!(words, "seen-degrees", look = look, degrees = degrees),
                Some(spread) => say!(
                    words,
                    "seen-degrees-spread",
                    look = look,
                    degrees = degrees,
                    spread = spread
                ),
            }
        }
        LoggedSight::Look { look } => match look {
            Sight::In => say!(words, "seen-in"),
            Sight::EdgeShort => LookChoice::EdgeShort.say(words),
            Sight::EdgeAhead => LookChoice::EdgeAhead.say(words),
            Sight::Rim => say!(words, "seen-rim"),
        },
        LoggedSight::Teeth { teeth, of } => {
            say!(
                words,
                "seen-teeth",
                number = written(teeth.text()),
                part = of
            )
        }
        LoggedSight::Clock { oclock, from } => {
            let plate = match from {
                entries::LoggedPlate::Front => "front",
                entries::LoggedPlate::Back => "back",
            };
            say!(words, "seen-oclock", hour = oclock.text(), plate = plate)
        }
    }
}
