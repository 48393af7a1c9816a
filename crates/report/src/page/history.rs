//! The log of one job, an entry a line, as it stands beside the drawing.

pub use super::answer::shift_short;
use super::looks::look_of;
use super::{LookChoice, NotchStep, named, witness_named};
use crate::en::quoted;
use crate::{Locale, say};
use entries::{
    AtMesh, Entry, EntryContent, EntryKind, LoggedReading, LoggedSight, LoggedTension, Moved, Sight,
};
use movement::{Movement, Plate};
use quantity::{Degrees, to_f64};
use timing::{Reading, Rest};

/// What a log is told by.
#[derive(Debug, Clone, Copy)]
pub struct ToldBy<'a> {
    /// The movement, its windows as the log has them.
    pub movement: &'a Movement,
    /// The plate that ways round are told from.
    pub from: Plate,
    /// What was looked at at rest: the number of each entry, and its readings as they stood at the drop by what was known then.
    pub at_rest: &'a [(usize, Vec<Reading>)],
    /// Whether degrees are told beside how it looked.
    pub figures: bool,
}

/// What an entry tells.
pub fn entry(locale: &Locale, by: &ToldBy<'_>, entry: &Entry) -> String {
    let (movement, from) = (by.movement, by.from);
    let kind = match &entry.told {
        EntryContent::Known(kind) => kind,
        EntryContent::Unknown { kind, .. } => {
            return say!(locale, "log-unknown", kind = quoted(kind));
        }
    };
    let shift = |at: &AtMesh| shift_words(locale, movement, at, from);
    match kind {
        EntryKind::Look { tension, .. } => {
            let seen = all_seen(locale, by, entry.n, kind);
            match tension {
                LoggedTension::Tensioned => say!(locale, "log-look", seen = seen),
                LoggedTension::Slack => say!(locale, "log-look-loose", seen = seen),
                LoggedTension::AtRest => say!(locale, "log-look-at-rest", seen = seen),
            }
        }
        EntryKind::Stood { hours, .. } => {
            let seen = all_seen(locale, by, entry.n, kind);
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

/// What was seen of each witness.
fn all_seen(locale: &Locale, by: &ToldBy<'_>, n: usize, kind: &EntryKind) -> String {
    let (readings, at_rest) = match kind {
        EntryKind::Look { tension, readings } => (readings, *tension == LoggedTension::AtRest),
        EntryKind::Stood { readings, .. } => (readings, true),
        _ => return String::new(),
    };
    let then = by.at_rest.iter().filter(|(of, _)| *of == n);
    let then = then.flat_map(|(_, seen)| seen.clone());
    let read: Vec<Reading> = then
        .chain(at_their_moments(by.movement, readings, at_rest))
        .collect();
    let seen: Vec<String> = (readings.iter())
        .map(|said| {
            let of_it = |read: &&Reading| by.movement.witness(read.witness).id == said.witness;
            let look = seen_words(locale, by, &said.seen, read.iter().find(of_it));
            let name = match by.movement.find_witness(&said.witness) {
                Some(id) => witness_named(locale, by.movement, id),
                None => named(&said.witness),
            };
            say!(locale, "log-seen", name = name, look = look)
        })
        .collect();
    seen.join("; ")
}

/// Each of these as it stood at its moment; those that cannot be used, as the sheet is now, are left out.
fn at_their_moments(movement: &Movement, said: &[LoggedReading], at_rest: bool) -> Vec<Reading> {
    let rest = at_rest.then(|| Rest::of(movement));
    let read = |said: &LoggedReading| {
        let id = movement.find_witness(&said.witness)?;
        let seen = timing::reading_as_said(movement, &said.seen).ok()?;
        let read = match &rest {
            Some(rest) => timing::read_at_rest(movement, rest, id, &seen),
            None => timing::read(movement, id, &seen),
        };
        read.ok()
    };
    let read: Vec<Reading> = said.iter().filter_map(read).collect();
    match at_rest {
        true => timing::stood_at_the_drop(movement, &read),
        false => read,
    }
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

/// How a witness looked where it stood at its moment, as the page shows it, and how that was said.
fn seen_words(
    locale: &Locale,
    by: &ToldBy<'_>,
    seen: &LoggedSight,
    read: Option<&Reading>,
) -> String {
    let written = |text: &str| locale.pointed(text.to_owned());
    let look = read.map(|read| look_of(by.movement, read.witness, &read.stands).say(locale));
    let said = match seen {
        LoggedSight::Number { .. } => return number_words(locale, by, seen, read),
        LoggedSight::Look { look } => {
            return match look {
                Sight::In => say!(locale, "seen-in"),
                Sight::EdgeShort => LookChoice::EdgeShort.say(locale),
                Sight::EdgeAhead => LookChoice::EdgeAhead.say(locale),
                Sight::Rim => say!(locale, "seen-rim"),
            };
        }
        LoggedSight::Teeth { teeth, of } => {
            let number = written(teeth.text());
            let pinion = is_pinion(by.movement, of);
            say!(
                locale,
                "seen-teeth",
                number = number,
                pinion = if pinion { "yes" } else { "no" },
                part = of
            )
        }
        LoggedSight::Quarters { quarters } => match quarters.text() {
            "0" | "-0" => say!(locale, "seen-quarters-to-go", count = 0),
            "-1" => say!(locale, "seen-quarters-to-go", count = 1),
            "-2" => say!(locale, "seen-quarters-to-go", count = 2),
            "-3" => say!(locale, "seen-quarters-to-go", count = 3),
            number => say!(locale, "seen-quarters", number = written(number)),
        },
        LoggedSight::Notch { notch, .. } => {
            let way = read.and_then(|read| Rest::notch(by.movement, read.witness));
            match way.filter(|_| !by.figures) {
                Some(way) => {
                    let part = to_f64(&(notch.exact() / way.exact()));
                    let step = NotchStep::nearest(part).say(locale);
                    say!(locale, "seen-in-notch", step = step)
                }
                None => say!(locale, "seen-notch", number = written(notch.text())),
            }
        }
        LoggedSight::Clock { oclock, from } => {
            let plate = match from {
                entries::LoggedPlate::Front => "front",
                entries::LoggedPlate::Back => "back",
            };
            say!(locale, "seen-oclock", hour = oclock.text(), plate = plate)
        }
    };
    match look {
        Some(look) => say!(locale, "seen-besides", look = look, said = said),
        None => said,
    }
}

/// Whether a part is driven by one with more teeth, so that its teeth are leaves.
fn is_pinion(movement: &Movement, part: &str) -> bool {
    let Some(part) = movement.find_part(part) else {
        return false;
    };
    let teeth = |part| movement.part(part).teeth;
    (movement.meshes()).any(|(_, m)| m.driven == part && teeth(m.driver) > teeth(m.driven))
}

/// The same of what was said in degrees: they stand beside the look where figures are told, and alone where no look is known.
fn number_words(
    locale: &Locale,
    by: &ToldBy<'_>,
    seen: &LoggedSight,
    read: Option<&Reading>,
) -> String {
    let LoggedSight::Number { deg, spread } = seen else {
        return String::new();
    };
    let written = |text: &str| locale.pointed(text.to_owned());
    let spread = spread.as_ref().map(|spread| written(spread.text()));
    let Some(read) = read else {
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
    let look = look_of(by.movement, read.witness, &read.stands).say(locale);
    // What was far off was a figure that slipped: it is told wherever it is.
    if !by.figures && read.far_off.is_none() {
        return look;
    }
    let written_degrees = |place: &Degrees| locale.degrees(place).replace('-', "−");
    let mut degrees = written_degrees(&deg.degrees());
    if read.far_off.is_some() {
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
