//! The digest that ties a log to its sheet: made of what was counted, in words that are fixed here and nowhere else.
//!
//! A window that is worked out is none that was counted, and has no line.
//!
//! What a log's sums rest on goes into it: arbors and their ways round, teeth, meshes and their lash, moments, witnesses with
//! their windows, the clock's name. Comments, measurements, what things are called in words and the order of writing may
//! change without harm.

use crate::windows::is_written;
use entries::Log;
use movement::{ArborId, Movement, Plate, Reached, Turning, Witness, WitnessDrawing};
use quantity::{Exact, Repeats, Teeth};
use sha2::{Digest, Sha256};
use std::collections::BTreeSet;
use way::{Change, SheetItem, Value};

/// The counted facts of a sheet as a text that any program can make from the sheet alone: lines that end in a line feed, in
/// the order of their bytes, and the clock's name as the last, without an end.
///
/// | line | what it says |
/// |---|---|
/// | `arbor A runs W` | `W` is `clockwise` or `counterclockwise`, as seen from the front |
/// | `mesh A.P:A.P M R lash L` | driver and driven; `M` is `external` or `internal`, `R` `plates` or `outside`, `L` teeth or `unknown` |
/// | `moment ID A` | the arbor that counts as fixed then; the drop among them |
/// | `part A.P N` | its teeth |
/// | `witness ID A N FROM TO BEST ID` | its arbor, alike places a turn, window and best in degrees, the moment |
/// | `name …` | the clock's name, as it is on the sheet |
///
/// Numbers are whole, or two whole numbers in lowest terms with `/` between, a minus before them.
pub fn counted_facts(movement: &Movement) -> String {
    named(movement, facts(movement, &|_| true))
}

fn named(movement: &Movement, mut lines: Vec<String>) -> String {
    lines.sort();
    lines.push(format!("name {}", movement.name()));
    lines.concat()
}

/// Every line but the name that is of these arbors, in the order of the sheet.
fn facts(movement: &Movement, of: &dyn Fn(ArborId) -> bool) -> Vec<String> {
    let mut lines = Vec::new();
    for (id, arbor) in movement.arbors().filter(|(id, _)| of(*id)) {
        let way = match movement.runs(id, Plate::Front) {
            Turning::Clockwise => "clockwise",
            Turning::Counterclockwise => "counterclockwise",
        };
        lines.push(format!("arbor {} runs {way}\n", arbor.id));
        for part in &arbor.parts {
            let name = format!("{}.{}", arbor.id, part.name);
            lines.push(part_line(&name, part.teeth));
        }
    }
    for (_, mesh) in movement.meshes().filter(|(_, mesh)| of(mesh.driver.arbor)) {
        let (driver, driven) = (
            movement.part_name(mesh.driver),
            movement.part_name(mesh.driven),
        );
        let manner = if mesh.internal {
            "internal"
        } else {
            "external"
        };
        let reached = match mesh.reached {
            Reached::Plates => "plates",
            Reached::Outside => "outside",
        };
        let lash = mesh.lash_teeth.as_ref().map(ratio);
        let lash = lash.as_deref().unwrap_or("unknown");
        lines.push(format!(
            "mesh {driver}:{driven} {manner} {reached} lash {lash}\n"
        ));
    }
    for moment in movement.moments().iter().filter(|moment| of(moment.arbor)) {
        let arbor = &movement.arbor(moment.arbor).id;
        lines.push(format!("moment {} {arbor}\n", moment.id));
    }
    let written = |w: &Witness| is_written(w) && of(w.on);
    for (_, w) in movement.witnesses().filter(|(_, w)| written(w)) {
        let window = [&w.from, &w.to, &w.best].map(|degrees| ratio(degrees.exact()));
        lines.push(format!(
            "witness {} {} {} {} {}\n",
            w.id,
            movement.arbor(w.on).id,
            w.repeats.get(),
            window.join(" "),
            movement.moment(w.at).id
        ));
    }
    lines
}

fn part_line(part: &str, teeth: Teeth) -> String {
    format!("part {part} {}\n", teeth.get())
}

/// The digest of a sheet, as a log begins with it: the first 16 bytes of the SHA-256 of [`counted_facts`], in hexadecimal
/// figures.
pub fn digest(movement: &Movement) -> String {
    figures(&counted_facts(movement))
}

/// What of a sheet its timing hangs on: the lines of the trains that show how they stand, and what shows it.
#[derive(Debug, PartialEq)]
pub(crate) struct TimedFacts {
    lines: Vec<String>,
    witnesses: Vec<TimedBy>,
    /// Whether the window of one is worked out.
    worked_out: bool,
}

/// A witness but for its window.
#[derive(Debug, PartialEq)]
struct TimedBy {
    id: String,
    /// Its arbor, its moment and that moment's arbor.
    names: [String; 3],
    repeats: Repeats,
    looks: WitnessDrawing,
}

impl TimedFacts {
    pub(crate) fn of(movement: &Movement) -> TimedFacts {
        let by = |id: &str, on, at, repeats, looks| {
            let moment = movement.moment(at);
            let arbor = |id| movement.arbor(id).id.clone();
            TimedBy {
                id: id.to_owned(),
                names: [arbor(on), moment.id.clone(), arbor(moment.arbor)],
                repeats,
                looks,
            }
        };
        let judged =
            (movement.witnesses()).map(|(_, w)| by(&w.id, w.on, w.at, w.repeats, w.kind.looks));
        let unjudged =
            (movement.unjudged().iter()).map(|w| by(&w.id, w.on, w.at, w.repeats, w.kind.looks));
        let mut witnesses: Vec<TimedBy> = judged.chain(unjudged).collect();
        witnesses.sort_by(|a, b| a.id.cmp(&b.id));
        let trains: BTreeSet<usize> = (movement.witnesses().map(|(_, w)| w.on))
            .chain(movement.unjudged().iter().map(|w| w.on))
            .map(|on| movement.train_of(on))
            .collect();
        let timed = |arbor| trains.contains(&movement.train_of(arbor));
        let mut lines = facts(movement, &timed);
        lines.sort();
        TimedFacts {
            lines,
            worked_out: !movement.unjudged().is_empty()
                || movement.witnesses().any(|(_, w)| !is_written(w)),
            witnesses,
        }
    }

    /// Whether a log that began with this digest, of which the sheet is not at hand, began with one that says the same of what is timed.
    pub(crate) fn began_with(&self, movement: &Movement, hash: &str) -> bool {
        let timed = || figures(&named(movement, self.lines.clone()));
        !self.worked_out && (hash == digest(movement) || hash == timed())
    }
}

/// Whether a log belongs to this sheet, by the digest of today or by the one that logs began with before it.
pub fn belongs(log: &Log, movement: &Movement) -> bool {
    log.matches(&digest(movement)) || log.matches(&first_digest(movement))
}

/// A count that is looked for is at most so many teeth off what the sheet says now: more than anybody miscounts, and soon tried.
const MOST_OFF: u16 = 100;

/// So much text is gone over for it: every count of a tower with three trains, and a moment of a sheet beyond all measure.
const MOST_TEXT: usize = 100_000_000;

/// The single count, otherwise than the sheet has it, with which a digest is its own; nothing where there is none, or more is
/// otherwise. A digest tells nothing but whether a text is the one it was made of, so each is tried, the nearest first.
pub(crate) fn old_count(hash: &str, movement: &Movement) -> Option<Change> {
    let mut lines = facts(movement, &|_| true);
    let parts: Vec<(String, Teeth)> = (movement.arbors())
        .flat_map(|(arbor, _)| movement.parts(arbor))
        .map(|(id, part)| (movement.part_name(id), part.teeth))
        .collect();
    let places: Vec<Option<usize>> = (parts.iter())
        .map(|(name, teeth)| {
            let line = part_line(name, *teeth);
            lines.iter().position(|l| *l == line)
        })
        .collect();
    let long: usize = lines.iter().map(String::len).sum();
    let mut left = MOST_TEXT / long.max(1);
    for off in 1..=MOST_OFF {
        for ((name, teeth), place) in parts.iter().zip(&places) {
            let place = (*place)?;
            let now = teeth.get();
            let near = [now.checked_sub(off), now.checked_add(off)].into_iter();
            for was in near.flatten().filter_map(|was| Teeth::new(was.into())) {
                left = left.checked_sub(1)?;
                let kept = std::mem::replace(&mut lines[place], part_line(name, was));
                let mut sorted: Vec<&str> = lines.iter().map(String::as_str).collect();
                sorted.sort_unstable();
                let text = format!("{}name {}", sorted.concat(), movement.name());
                let found = figures(&text) == hash;
                lines[place] = kept;
                if found {
                    return Some(Change {
                        of: SheetItem::Count(name.clone()),
                        was: Some(Value::Teeth(Some(was))),
                        now: Some(Value::Teeth(Some(*teeth))),
                    });
                }
            }
        }
    }
    None
}

/// The digest of the first logs. Books and files hold it, so its text never changes: no word, no order, and nothing that
/// came onto sheets later.
fn first_digest(movement: &Movement) -> String {
    let mut text = format!("{}\n", movement.name());
    for (id, arbor) in movement.arbors() {
        let way = match movement.runs(id, Plate::Front) {
            Turning::Clockwise => "Clockwise",
            Turning::Counterclockwise => "Counterclockwise",
        };
        text += &format!("arbor {} {way}\n", arbor.id);
        for part in &arbor.parts {
            text += &format!("part {} {}\n", part.name, part.teeth.get());
        }
    }
    for (_, mesh) in movement.meshes() {
        let (driver, driven) = (
            movement.part_name(mesh.driver),
            movement.part_name(mesh.driven),
        );
        let reached = match mesh.reached {
            Reached::Plates => "Plates",
            Reached::Outside => "Outside",
        };
        let lash = match &mesh.lash_teeth {
            Some(teeth) => format!("Some(\"{}\")", ratio(teeth)),
            None => "None".to_owned(),
        };
        let internal = if mesh.internal { "true" } else { "false" };
        text += &format!("mesh {driver}>{driven} {internal} {reached} {lash}\n");
    }
    for moment in movement.moments() {
        text += &format!("moment {} {}\n", moment.id, movement.arbor(moment.arbor).id);
    }
    for (_, w) in movement.witnesses().filter(|(_, w)| is_written(w)) {
        text += &format!(
            "witness {} {} {} {} {} {} {}\n",
            w.id,
            movement.arbor(w.on).id,
            w.repeats.get(),
            ratio(w.from.exact()),
            ratio(w.to.exact()),
            ratio(w.best.exact()),
            movement.moment(w.at).id
        );
    }
    figures(&text)
}

/// A number as it stands in a digest's text.
fn ratio(number: &Exact) -> String {
    if number.is_integer() {
        number.numer().to_string()
    } else {
        format!("{}/{}", number.numer(), number.denom())
    }
}

fn figures(text: &str) -> String {
    (Sha256::digest(text.as_bytes()).iter().take(16))
        .map(|byte| format!("{byte:02x}"))
        .collect()
}
