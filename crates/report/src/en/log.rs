//! The timing log in words: what is wrong with it, what it comes to, what to do next.

use super::remesh::{shifts_words, stands_of};
use super::{caution, degrees, list, odds, plate, quoted};
use entries::{Expected, LogFault, Place, Warning, What};
use movement::{Movement, Plate, Reached, WitnessId};
use quantity::{Chance, Degrees};
use timing::{Act, Advice, PutIn, RecallFault, Recalled};

/// A log that cannot be read.
pub fn log_fault(fault: &LogFault) -> String {
    let place = match &fault.place {
        Place::Text => "the log".to_owned(),
        Place::Line { line } => format!("the log, line {line},"),
        Place::Column { line, column } => format!("the log, line {line}, column {column},"),
        Place::Field {
            line,
            column,
            field,
        } => format!("the log, line {line}, column {column}, {}", quoted(field)),
    };
    let what = match &fault.what {
        What::TooLong { bytes } => format!(
            "has {bytes} bytes; expected at most {}: is this the right file?",
            entries::MOST_BYTES
        ),
        What::Empty => "is empty; expected a first line that names its sheet".to_owned(),
        What::NoHeader => "does not begin as a timing log does; is this the right file?".to_owned(),
        What::HeaderTorn => "breaks off in its first line: nothing was ever entered; remove the file and begin again".to_owned(),
        What::OtherVersion { got } => format!("is of version {got}; expected 1; a newer program wrote it"),
        What::NotUtf8 => "is not UTF-8 from here on; expected text as this program writes it".to_owned(),
        What::NotJson => "is no JSON from here on; expected a line as this program writes it".to_owned(),
        What::Blank => "is blank; expected an entry on each line".to_owned(),
        What::NotAnObject => "is no object; expected an entry in braces".to_owned(),
        What::Missing => "is missing; expected it in an entry of this kind".to_owned(),
        What::NotSeen => "says nothing that was seen; expected `deg`, `look`, `teeth` with `of`, or `oclock` with `from`".to_owned(),
        What::Stray => "does not belong in an entry of this kind, and might matter; expected only what this kind has".to_owned(),
        What::Doubled => "is there twice; expected it once".to_owned(),
        What::Wrong { got, expected } => format!("is {}; expected {}", quoted(got), expected_words(expected)),
        What::Twice { name } => format!("names {} twice; expected each once in one entry", quoted(name)),
        What::OutOfOrder { got, expected } => format!(
            "has the number {got}; expected {expected}: was a line taken out, doubled or moved by hand?"
        ),
        What::PointsNowhere { of, n } => format!("is {of} in entry {n}; expected an earlier entry"),
        What::NotCorrected { of } => format!(
            "does not put entry {of} right; expected the same kind, and one that is not told anew instead"
        ),
        What::NotEmptied { of, field } => format!(
            "names {} of entry {of}; expected a field that was there and has been emptied",
            quoted(field)
        ),
        What::NotUndone { of } => format!("is {of}, a removal; what was removed does not come back"),
        What::NotAShift { of } => format!("is {of}, which is no shift; expected the number of a shift"),
    };
    format!("{place} {what}")
}

fn expected_words(expected: &Expected) -> String {
    match expected {
        Expected::Text => "text".to_owned(),
        Expected::Decimal => "a plain decimal in quotation marks".to_owned(),
        Expected::Spread => "a plain decimal above 0 in quotation marks".to_owned(),
        Expected::Oclock => "a place on a clock face such as `\"7:30\"`".to_owned(),
        Expected::Count => "a whole number from 0".to_owned(),
        Expected::Hour => "an hour from 1 to 12".to_owned(),
        Expected::Teeth => "a whole number of teeth other than 0".to_owned(),
        Expected::OneOf(words) => {
            let words: Vec<String> = words.iter().map(|word| format!("`{word}`")).collect();
            words.join(" or ")
        }
        Expected::Day => "a day such as `\"2026-03-01\"`".to_owned(),
        Expected::Digest => "a picture's name, 64 small hexadecimal figures".to_owned(),
        Expected::Names => "a list with words in it".to_owned(),
        Expected::List => "a list with something in it".to_owned(),
        Expected::Object => "an object in braces".to_owned(),
    }
}

/// A log that was read all the same.
pub fn log_warning(warning: &Warning) -> String {
    let Warning::TornLine { line, torn, .. } = warning;
    format!("line {line} of the log breaks off and was left out ({torn} bytes)")
}

/// A log of another sheet.
pub fn other_sheet(sheet: &str, log: &str) -> String {
    format!(
        "the log is of another sheet, {}, or this one, {}, was changed since: expected the sheet it was begun with",
        quoted(log),
        quoted(sheet)
    )
}

/// A log that cannot be summed up.
pub fn recall_fault(fault: &RecallFault) -> String {
    match fault {
        RecallFault::UnknownKind { n, kind } => format!(
            "entry {n} of the log is of a kind {} that this program does not know; what it tells may matter, so nothing is said; a newer program may know it",
            quoted(kind)
        ),
        RecallFault::UnknownName { n, name } => {
            format!(
                "entry {n} of the log names {}, which is not on this sheet",
                quoted(name)
            )
        }
        RecallFault::OnALoop { n, mesh } => format!(
            "entry {n} of the log shifts {}, which closes a loop and cannot be shifted alone",
            quoted(mesh)
        ),
        RecallFault::Reading { n, witness, fault } => {
            super::reading_fault(&format!("{witness} (entry {n})"), fault)
        }
        RecallFault::ArborOut { n, witness, arbor } => format!(
            "entry {n} reads `{witness}` while the {arbor} arbor is out; expected a witness whose arbors are in"
        ),
        RecallFault::LongSlot { n, witness, hour } => format!(
            "entry {n} reads `{witness}` after {hour} was struck: the lever then lies in the long slot that serves twelve and one, \
             whose middle is elsewhere; let it strike on to two, or read the others"
        ),
    }
}

/// More places than can be kept apart.
pub fn too_many_places() -> String {
    format!(
        "this train's meshes can stand in more than {} ways, too many to keep a belief on each; `trundle remesh SHEET --saw …` answers without a log",
        timing::MOST_WAYS
    )
}

/// Done, but nothing was advised.
pub fn nothing_advised() -> String {
    "no shift is advised now, so none can have been done as said; say what was done with `--did DRIVER:DRIVEN=TEETH`".to_owned()
}

/// The other way, but nothing was shifted.
pub fn no_shift_yet() -> String {
    "no shift is in the log yet that could have gone the other way".to_owned()
}

/// Nothing to take back.
pub fn nothing_to_undo() -> String {
    "nothing is in the log that could be taken back".to_owned()
}

/// An arbor that was not out.
pub fn not_out(arbor: &str) -> String {
    format!("the {arbor} arbor is in; expected one that was taken out")
}

/// A mesh and its teeth that cannot be read.
pub fn bad_mesh(movement: &Movement, written: &str) -> String {
    let meshes: Vec<String> = (movement.meshes())
        .map(|(id, _)| format!("`{}`", movement.mesh_name(id).replace('>', ":")))
        .collect();
    format!(
        "{} is no mesh with teeth; expected DRIVER:DRIVEN=TEETH, teeth a whole number other than 0, the mesh one of {}",
        quoted(written),
        list(&meshes)
    )
}

/// Something that must be said in degrees.
pub fn by_degrees_only(written: &str) -> String {
    format!(
        "{} cannot be read; expected WITNESS=DEG or WITNESS=DEG~SPREAD in plain decimals",
        quoted(written)
    )
}

/// What to do next, in one sentence or two.
pub fn advice(movement: &Movement, recalled: &Recalled, advice: &Advice, from: Plate) -> String {
    let shift = || shifts_words(movement, &advice.shift_now, from);
    let seen = format!("as you look at it from the {}", plate(from));
    match &advice.act {
        Act::Done => format!(
            "All is in its window, {}: close up, and prove it through the hours.",
            odds(advice.in_window)
        ),
        Act::Look(at) => {
            let names: Vec<String> = at.iter().map(|id| movement.witness(*id).id.clone()).collect();
            let first = if recalled.last_look.is_empty() { "Look" } else { "Look again" };
            let instead = if advice.shift_now.is_empty() {
                String::new()
            } else {
                format!(" If it must be now: {}, {seen}.", shift())
            };
            format!(
                "{first} before anything is opened, at {}: it costs nothing and may save an opening.{instead}",
                list(&names)
            )
        }
        Act::Shift(_) => {
            let what = format!("{}, {seen}: then all is in, {}.", shift(), odds(advice.after));
            super::remesh::capital(&what)
        }
        Act::NoMesh => "No re-mesh brings all of it into its windows: look for a bent lever or a slipped part; bend only a soft \
             lever, and last."
            .to_owned(),
    }
}

/// What the log shows besides: a shift that went wrong, a lever that seems bent.
pub fn findings(movement: &Movement, recalled: &Recalled) -> Vec<String> {
    let mut found = Vec::new();
    for handled in &recalled.handled {
        let mesh = movement.mesh_name(handled.mesh);
        if handled.other_way.get() >= 0.5 {
            found.push(format!(
                "What you see fits {mesh} having gone the other way, {}.",
                odds(handled.other_way)
            ));
        } else if handled.slipped.get() >= 0.5 {
            found.push(format!(
                "What you see fits {mesh} having slipped a tooth, {}.",
                odds(handled.slipped)
            ));
        }
    }
    for (id, chance) in &recalled.bent {
        if chance.get() >= 0.5 {
            found.push(format!(
                "No meshing of a sound movement shows {} so: a bent lever or a slipped part there, {}. Look for it first.",
                movement.witness(*id).id,
                odds(*chance)
            ));
        }
    }
    found
}

/// One arbor going in.
pub fn put_in(movement: &Movement, step: &PutIn) -> String {
    let arbor = &movement.arbor(step.arbor).id;
    if step.settles.is_empty() {
        return format!("put the {arbor} arbor in, anyhow");
    }
    let places: Vec<String> = step
        .settles
        .iter()
        .map(|id| {
            let witness = movement.witness(*id);
            let moment = movement.moment(witness.at);
            format!(
                "{} at {} while the {} arbor is held at the {}",
                witness.id,
                degrees(&witness.best),
                movement.arbor(moment.arbor).id,
                moment.id
            )
        })
        .collect();
    format!("put the {arbor} arbor in with {}", list(&places))
}

/// The chances of each witness's places.
pub type PlaceChances = [(WitnessId, Vec<(Degrees, Chance)>)];

/// All that the log comes to, as text for people.
pub fn log_text(
    movement: &Movement,
    recalled: &Recalled,
    advised: &Advice,
    places: &PlaceChances,
    from: Plate,
) -> String {
    let mut text = vec![
        format!("{}, seen from the {}", movement.name(), plate(from)),
        String::new(),
        advice(movement, recalled, advised, from),
    ];
    text.extend(findings(movement, recalled));
    let spread = |s: &timing::Shift| movement.mesh(s.mesh).reached == Reached::Plates;
    if matches!(advised.act, Act::Shift(_)) {
        for shift in &advised.shift_now {
            text.push(String::new());
            super::remesh::handling(movement, shift, from, &mut text);
        }
        if advised.shift_now.iter().any(spread) {
            text.push(String::new());
            text.push(format!("Caution. {}", caution()));
        }
    }
    text.push(String::new());
    text.push(format!(
        "All in window now: {}. Openings so far: {}.",
        odds(advised.in_window),
        recalled.openings
    ));
    for (id, places) in places {
        text.push(stands_of(
            movement,
            *id,
            places,
            recalled.readable.contains(id),
        ));
    }
    text.push(String::new());
    text.join("\n")
}

/// How arbors go in, as text for people.
pub fn order_text(movement: &Movement, steps: &[PutIn]) -> String {
    if steps.is_empty() {
        return "All arbors are in. With nothing known to be wrong, leave them in.\n".to_owned();
    }
    let mut text = vec![
        "No power in any spring, and no weight on, while an arbor is out: nothing would stop the train. Press it on by finger."
            .to_owned(),
    ];
    for (i, step) in steps.iter().enumerate() {
        text.push(format!("{:3}. {}", i + 1, put_in(movement, step)));
    }
    text.push(String::new());
    text.join("\n")
}
