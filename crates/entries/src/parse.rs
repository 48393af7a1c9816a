//! From a line to an entry: each kind's fields, and what they may be; those of the timing here, the others in
//! `parse_work`.

use crate::line::{Line, Object, Value};
use crate::parse_work::work;
use crate::pointed::{at_mesh, pointed_at, shifted};
use crate::{
    AtMesh, Entry, EntryContent, EntryKind, LogFault, LogFaultKind, LoggedPlate, LoggedReading,
    LoggedSight, LoggedTension, Moved, Sight, Work,
};
use std::collections::HashSet;

const TENSIONS: [(&str, LoggedTension); 3] = [
    ("tensioned", LoggedTension::Tensioned),
    ("slack", LoggedTension::Slack),
    ("at-rest", LoggedTension::AtRest),
];

const SIGHTS: [(&str, Sight); 4] = [
    ("in", Sight::In),
    ("edge-short", Sight::EdgeShort),
    ("edge-ahead", Sight::EdgeAhead),
    ("rim", Sight::Rim),
];

const PLATES: [(&str, LoggedPlate); 2] =
    [("front", LoggedPlate::Front), ("back", LoggedPlate::Back)];

/// The entry that `line` is, coming right after the `earlier` ones.
pub(crate) fn entry(line: Line<'_>, earlier: &[Entry]) -> Result<Entry, LogFault> {
    let mut object = line.object()?;
    let n = earlier.len() + 1;
    let number = object.need("n")?;
    let got = number.count()?;
    if usize::try_from(got) != Ok(n) {
        return Err(number.fault(LogFaultKind::OutOfOrder { got, expected: n }));
    }
    let at = object.take("at").map(Value::text).transpose()?;
    let name = object.need("kind")?.text()?;
    let told = match kind(&name, &mut object, earlier)? {
        Some(kind) => {
            object.finish()?;
            EntryContent::Known(kind)
        }
        None => {
            object.finish_unknown()?;
            EntryContent::Unknown {
                kind: name,
                line: line.text.to_owned(),
            }
        }
    };
    Ok(Entry { n, at, told })
}

/// What an entry of this kind says; nothing where there is no such kind.
fn kind(name: &str, o: &mut Object<'_>, earlier: &[Entry]) -> Result<Option<EntryKind>, LogFault> {
    Ok(Some(match name {
        "look" => EntryKind::Look {
            tension: o.need("tension")?.one_of(&TENSIONS)?,
            readings: readings(o.need("readings")?)?,
        },
        "stood" => EntryKind::Stood {
            hours: o.take("hours").map(Value::hours).transpose()?,
            readings: readings(o.need("readings")?)?,
        },
        "shift" => EntryKind::Shift(shifted(o)?),
        "other_way" => {
            let value = o.need("of")?;
            let of = pointed_at(value, earlier)?;
            let Some(EntryKind::Shift(meshes)) = earlier[of - 1].known_kind() else {
                return Err(value.fault(LogFaultKind::NotAShift { of }));
            };
            EntryKind::OtherWay {
                of,
                mesh: o
                    .take("mesh")
                    .map(|mesh| one_of(mesh, of, meshes))
                    .transpose()?,
            }
        }
        "slipped" => EntryKind::Slipped(at_mesh(o, &mut HashSet::new())?),
        "jumped" => EntryKind::Jumped { arbor: arbor(o)? },
        "bent" => EntryKind::Bent(moved(o)?),
        "turned" => EntryKind::Turned(moved(o)?),
        "arbor_out" => EntryKind::ArborOut { arbor: arbor(o)? },
        "arbor_in" => EntryKind::ArborIn { arbor: arbor(o)? },
        "struck" => EntryKind::Struck {
            hour: o.need("hour")?.hour()?,
        },
        "undo" => {
            let value = o.need("of")?;
            let of = pointed_at(value, earlier)?;
            if matches!(
                earlier[of - 1].known_kind(),
                Some(EntryKind::Work(Work::Removal { .. }))
            ) {
                return Err(value.fault(LogFaultKind::NotUndone { of }));
            }
            EntryKind::Undo { of }
        }
        _ => return Ok(work(name, o, earlier)?.map(EntryKind::Work)),
    }))
}

fn arbor(object: &mut Object<'_>) -> Result<String, LogFault> {
    object.need("arbor")?.text()
}

fn readings(list: Value<'_>) -> Result<Vec<LoggedReading>, LogFault> {
    let mut named = HashSet::new();
    let mut reading = |mut object: Object<'_>| {
        let name = object.need("witness")?;
        let witness = name.text()?;
        if !named.insert(witness.clone()) {
            return Err(name.fault(LogFaultKind::Twice { name: witness }));
        }
        let seen = stands(&mut object)?;
        object.finish()?;
        Ok(LoggedReading { witness, seen })
    };
    list.list()?.into_iter().map(&mut reading).collect()
}

/// Where a witness stands, in the one way it was said.
fn stands(object: &mut Object<'_>) -> Result<LoggedSight, LogFault> {
    if let Some(deg) = object.take("deg") {
        let deg = deg.decimal()?;
        let spread = object.take("spread").map(Value::spread).transpose()?;
        return Ok(LoggedSight::Number { deg, spread });
    }
    if let Some(look) = object.take("look") {
        let look = look.one_of(&SIGHTS)?;
        return Ok(LoggedSight::Look { look });
    }
    if let Some(teeth) = object.take("teeth") {
        let teeth = teeth.decimal()?;
        let of = object.need("of")?.text()?;
        return Ok(LoggedSight::Teeth { teeth, of });
    }
    if let Some(oclock) = object.take("oclock") {
        let oclock = oclock.oclock()?;
        let from = object.need("from")?.one_of(&PLATES)?;
        return Ok(LoggedSight::Clock { oclock, from });
    }
    if let Some(quarters) = object.take("quarters") {
        let quarters = quarters.decimal()?;
        return Ok(LoggedSight::Quarters { quarters });
    }
    if let Some(notch) = object.take("notch") {
        let notch = notch.decimal()?;
        let spread = object.take("spread").map(Value::spread).transpose()?;
        return Ok(LoggedSight::Notch { notch, spread });
    }
    Err(object.fault(LogFaultKind::NotSeen))
}

/// One of the meshes of shift `of`.
fn one_of(value: Value<'_>, of: usize, meshes: &[AtMesh]) -> Result<String, LogFault> {
    let mesh = value.text()?;
    match meshes.iter().any(|at| at.mesh == mesh) {
        true => Ok(mesh),
        false => Err(value.fault(LogFaultKind::NotInShift { of, mesh })),
    }
}

fn moved(object: &mut Object<'_>) -> Result<Moved, LogFault> {
    Ok(Moved {
        witness: object.need("witness")?.text()?,
        deg: object.need("deg")?.decimal()?,
        spread: object.take("spread").map(Value::spread).transpose()?,
    })
}
