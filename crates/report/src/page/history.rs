//! The log of one job, an entry a line, as it stands beside the drawing.

pub use super::answer::shift_short;
use super::looks::look_of;
use super::{LookChoice, named};
use crate::en::quoted;
use crate::{Locale, say};
use entries::{
    AtMesh, Entry, EntryContent, EntryKind, LoggedReading, LoggedSight, LoggedTension, Moved, Sight,
};
use movement::{Movement, Plate};
use quantity::Degrees;
use timing::SaidReading;

/// What an entry tells.
pub fn entry(locale: &Locale, movement: &Movement, entry: &Entry, from: Plate) -> String {
    let kind = match &entry.told {
        EntryContent::Known(kind) => kind,
        EntryContent::Unknown { kind, .. } => {
            return say!(locale, "log-unknown", kind = quoted(kind));
        }
    };
    let shift = |at: &AtMesh| shift_words(locale, movement, at, from);
    match kind {
        EntryKind::Look { tension, readings } => {
            let seen = all_seen(locale, movement, readings);
            match tension {
                LoggedTension::Tensioned => say!(locale, "log-look", seen = seen),
                LoggedTension::Slack => say!(locale, "log-look-loose", seen = seen),
                LoggedTension::AtRest => say!(locale, "log-look-at-rest", seen = seen),
            }
        }
        EntryKind::Stood { hours, readings } => {
            let seen = all_seen(locale, movement, readings);
            match hours {
                Some(hours) => say!(locale, "log-stood-hours", hours = *hours, seen = seen),
                None => say!(locale, "log-stood", seen = seen),
            }
        }
        EntryKind::Shift(meshes) => {
            let shifts = (meshes.iter().map(shift))
                .reduce(|rest, next| say!(locale, "log-shift-more", rest = rest, next = next));
            say!(locale, "log-shift", shifts = shifts.unwrap_or_default())
        }
        EntryKind::OtherWay { of, mesh: None } => say!(locale, "log-other-way", of = *of),
        EntryKind::OtherWay {
            of,
            mesh: Some(mesh),
        } => {
            let far = (movement.find_mesh(mesh)).and_then(|mesh| movement.far_arbor(mesh));
            let arbor = far.map_or_else(|| quoted(mesh), |far| named(&movement.arbor(far).id));
            say!(locale, "log-other-way-one", of = *of, arbor = arbor)
        }
        EntryKind::Slipped(at) => say!(locale, "log-slipped", shift = shift(at)),
        EntryKind::Jumped { arbor } => say!(locale, "log-jumped", arbor = named(arbor)),
        EntryKind::Bent(moved) => say!(locale, "log-bent", moved = moved_words(locale, moved)),
        EntryKind::Turned(moved) => say!(locale, "log-turned", moved = moved_words(locale, moved)),
        EntryKind::ArborOut { arbor } => say!(locale, "log-out", arbor = named(arbor)),
        EntryKind::ArborIn { arbor } => say!(locale, "log-in", arbor = named(arbor)),
        EntryKind::Struck { hour } => say!(locale, "log-struck", hour = *hour),
        EntryKind::Undo { of } => say!(locale, "log-undo", of = *of),
        EntryKind::Work(work) => crate::work::work(locale, work),
    }
}

fn all_seen(locale: &Locale, movement: &Movement, readings: &[LoggedReading]) -> String {
    let seen: Vec<String> = (readings.iter())
        .map(|r| {
            let look = seen_words(locale, movement, &r.witness, &r.seen);
            say!(locale, "log-seen", name = named(&r.witness), look = look)
        })
        .collect();
    seen.join("; ")
}

fn shift_words(locale: &Locale, movement: &Movement, at: &AtMesh, from: Plate) -> String {
    match movement.find_mesh(&at.mesh) {
        Some(mesh) => shift_short(locale, movement, mesh, at.teeth.into(), from),
        None => say!(
            locale,
            "log-shift-unknown",
            mesh = quoted(&at.mesh),
            count = at.teeth.abs()
        ),
    }
}

fn moved_words(locale: &Locale, moved: &Moved) -> String {
    let number = locale.pointed(moved.deg.text().to_owned());
    say!(
        locale,
        "log-moved",
        name = named(&moved.witness),
        number = number
    )
}

fn seen_words(locale: &Locale, movement: &Movement, witness: &str, seen: &LoggedSight) -> String {
    let written = |text: &str| locale.pointed(text.to_owned());
    match seen {
        LoggedSight::Number { deg, spread } => {
            let spread = spread.as_ref().map(|spread| written(spread.text()));
            let Some(id) = movement.find_witness(witness) else {
                let number = written(deg.text());
                return match spread {
                    None => say!(locale, "seen-number", number = number),
                    Some(spread) => {
                        say!(
                            locale,
                            "seen-number-spread",
                            number = number,
                            spread = spread
                        )
                    }
                };
            };
            let place = deg.degrees();
            let look = look_of(movement, id, &place).say(locale);
            let written_degrees = |place: &Degrees| locale.degrees(place).replace('-', "−");
            let mut degrees = written_degrees(&place);
            let said = SaidReading::Degrees(place, None);
            if let Ok(read) = timing::read(movement, id, &said)
                && read.far_off.is_some()
            {
                let taken = written_degrees(&read.stands);
                degrees = say!(locale, "seen-taken", said = degrees, taken = taken);
            }
            match spread {
                None => say!(locale, "seen-degrees", look = look, degrees = degrees),
                Some(spread) => say!(
                    locale,
                    "seen-degrees-spread",
                    look = look,
                    degrees = degrees,
                    spread = spread
                ),
            }
        }
        LoggedSight::Look { look } => match look {
            Sight::In => say!(locale, "seen-in"),
            Sight::EdgeShort => LookChoice::EdgeShort.say(locale),
            Sight::EdgeAhead => LookChoice::EdgeAhead.say(locale),
            Sight::Rim => say!(locale, "seen-rim"),
        },
        LoggedSight::Teeth { teeth, of } => {
            say!(
                locale,
                "seen-teeth",
                number = written(teeth.text()),
                part = of
            )
        }
        LoggedSight::Quarters { quarters } => {
            say!(locale, "seen-quarters", number = written(quarters.text()))
        }
        LoggedSight::Notch { notch, .. } => {
            say!(locale, "seen-notch", number = written(notch.text()))
        }
        LoggedSight::Clock { oclock, from } => {
            let plate = match from {
                entries::LoggedPlate::Front => "front",
                entries::LoggedPlate::Back => "back",
            };
            say!(locale, "seen-oclock", hour = oclock.text(), plate = plate)
        }
    }
}
