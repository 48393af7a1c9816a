//! The log of one job, an entry a line, as it stands beside the drawing.

use super::bench::{named, reading_short, shift_short};
use super::{list, plate, quoted, teeth};
use entries::{AtMesh, Entry, Kind, Moved, Seen, Sight, Tension, Told};
use movement::{Movement, Plate};

/// What an entry tells.
pub fn entry(movement: &Movement, entry: &Entry, from: Plate) -> String {
    let kind = match &entry.told {
        Told::Known(kind) => kind,
        Told::Unknown { kind, .. } => return format!("Something of a kind {}.", quoted(kind)),
    };
    match kind {
        Kind::Look { tension, readings } => {
            let seen: Vec<String> = (readings.iter())
                .map(|r| {
                    format!(
                        "{} {}",
                        named(&r.witness),
                        seen_words(movement, &r.witness, &r.seen)
                    )
                })
                .collect();
            let loose = match tension {
                Tension::Tensioned => "",
                Tension::Slack => ", the train loose",
            };
            format!("Seen{loose}: {}.", seen.join("; "))
        }
        Kind::Shift(meshes) => {
            let done: Vec<String> = (meshes.iter())
                .map(|at| mesh_words(movement, at, from))
                .collect();
            format!("Done: {}.", done.join("; then "))
        }
        Kind::OtherWay { of } => format!("Number {of} went the other way."),
        Kind::Slipped(at) => format!("Slipped: {}.", mesh_words(movement, at, from)),
        Kind::Jumped { arbor } => {
            format!("The {} arbor jumped out and was put back.", named(arbor))
        }
        Kind::Bent(moved) => format!("Bent: {}.", moved_words(moved)),
        Kind::Turned(moved) => format!("Turned on its arbor: {}.", moved_words(moved)),
        Kind::ArborOut { arbor } => format!("The {} arbor taken out.", named(arbor)),
        Kind::ArborIn { arbor } => format!("The {} arbor put in.", named(arbor)),
        Kind::Struck { hour } => format!("Struck {hour}."),
        Kind::Undo { of } => format!("Number {of} taken back."),
        Kind::Work(work) => super::work::work(work),
    }
}

/// Beside an entry that no longer counts.
pub fn taken_back() -> &'static str {
    "taken back"
}

fn mesh_words(movement: &Movement, at: &AtMesh, from: Plate) -> String {
    match movement.find_mesh(&at.mesh) {
        Some(mesh) => shift_short(movement, mesh, at.teeth.into(), from),
        None => format!("{}, {}", quoted(&at.mesh), teeth(at.teeth.abs().into())),
    }
}

fn moved_words(moved: &Moved) -> String {
    format!("{} by {}°", named(&moved.witness), moved.deg.text())
}

fn seen_words(movement: &Movement, witness: &str, seen: &Seen) -> String {
    match seen {
        Seen::Number { deg, spread } => {
            let sure = spread
                .as_ref()
                .map_or_else(String::new, |spread| format!(" ± {}°", spread.text()));
            match movement.find_witness(witness) {
                Some(id) => {
                    reading_short(movement, id, &deg.degrees()).replace(')', &format!("{sure})"))
                }
                None => format!("{}°{sure}", deg.text()),
            }
        }
        Seen::Look { look } => match look {
            Sight::In => "in".to_owned(),
            Sight::EdgeShort => "short, on the edge".to_owned(),
            Sight::EdgeAhead => "ahead, on the edge".to_owned(),
            Sight::Rim => "on the rim".to_owned(),
        },
        Seen::Teeth { teeth, of } => format!("{} teeth of {of}", teeth.text()),
        Seen::Clock { oclock, from } => format!(
            "at {} o'clock from the {}",
            oclock.text(),
            plate(match from {
                entries::Plate::Front => Plate::Front,
                entries::Plate::Back => Plate::Back,
            })
        ),
    }
}

/// Several arbors in words.
pub fn arbors(names: &[String]) -> String {
    list(&names.iter().map(|n| named(n)).collect::<Vec<_>>())
}
