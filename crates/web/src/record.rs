//! The records of a job, made from its log as paper has them.

use crate::desk::Whole;
use draw::{Marks, Mm, Pose, View, layout, scene};
use entries::{Digest, Entry, Kind, Log, Told, Unit, Work};
use movement::{CountedBy, MeshId, Movement, Plate as Side};
use paper::{Links, Oil, Plate, Record, owners, repairers};
use report::{Length, Words, page as said, say};
use std::collections::BTreeMap;

/// Where the style of the records is.
pub(crate) const STYLE: &str = "/paper.css";

/// A record as a page: the owner's, or the whole.
pub(crate) fn record(job: &Whole, whole: bool) -> String {
    let words = job.words;
    let movement = job.gone.movement();
    let told = job.told();
    let winding = winding(&words, movement);
    let plates = movement.map_or_else(Vec::new, |m| plates(&words, m, &centres(m, &job.gone.log)));
    let picture = |digest: &Digest| format!("/picture/{}", digest.text());
    let record = Record {
        words,
        clock: &job.name,
        day: job.day,
        log: &job.gone.log,
        told: &told,
        picture: &picture,
        winding: &winding,
        openings: openings(job),
        oil: oil(job),
        plates: &plates,
        sheet: &job.sheet,
    };
    let back = format!("/job/{}/way", job.id);
    let links = Links {
        style: STYLE,
        back: &back,
    };
    if whole {
        repairers(&record, links)
    } else {
        owners(&record, links)
    }
}

/// When to come back for the oil, as its plan says, and where that is.
fn oil(job: &Whole) -> Oil {
    let [look, again] =
        tasks::oil_back(job.gone.movement()).map(|time| report::measures::years(&job.words, &time));
    Oil {
        look,
        again,
        plan: (job.gone.sheet.is_some()).then(|| format!("/job/{}/oil", job.id)),
    }
}

/// How often the plates were spread to put the train in time; nothing where it was never looked at.
fn openings(job: &Whole) -> Option<usize> {
    let movement = job.gone.movement()?;
    let looked = |entry: &Entry| matches!(entry.told, Told::Known(Kind::Look { .. }));
    let log = &job.gone.log;
    (log.standing().any(looked)).then(|| tasks::openings(movement, log.standing()))
}

/// How the clock is wound and set, a sentence each.
fn winding(words: &Words, movement: Option<&Movement>) -> Vec<String> {
    let strike = movement.map(Movement::strike);
    let silent = matches!(strike, Some(None));
    let mut says = vec![say!(words, "wind-all")];
    says.push(if silent {
        say!(words, "wind-set-silent")
    } else {
        say!(words, "wind-set")
    });
    match strike.flatten().map(|strike| strike.counted_by) {
        Some(CountedBy::CountWheel) => says.push(say!(words, "wind-count-wheel")),
        Some(CountedBy::Rack) => says.push(say!(words, "wind-rack")),
        None => {}
    }
    if !silent {
        says.push(say!(words, "wind-back"));
    }
    says.push(say!(words, "wind-rate"));
    says
}

/// The distances between arbors that were measured, each at a mesh: those on the sheet, and where the log has a measure of
/// `second.wheel:third.pinion`, the last of those that count.
pub(crate) fn centres(movement: &Movement, log: &Log) -> Vec<(MeshId, Mm)> {
    let mut centres: BTreeMap<MeshId, Mm> = tasks::centres(movement).into_iter().collect();
    for entry in log.standing() {
        let Some(Work::Measurement {
            what, value, unit, ..
        }) = entry.work()
        else {
            continue;
        };
        let mesh = what.here().and_then(|what| movement.find_mesh(what.trim()));
        let number = value.text().parse::<f64>().ok().filter(|x| *x > 0.0);
        let mm = match unit {
            Unit::Mm => number,
            Unit::Um => number.map(|um| um / 1000.0),
            Unit::In => number.map(|inches| inches * Length::MM_IN_INCH),
            _ => None,
        };
        if let (Some(mesh), Some(mm)) = (mesh, mm.and_then(Mm::of)) {
            centres.insert(mesh, mm);
        }
    }
    centres.into_iter().collect()
}

/// The movement from both plates.
fn plates(words: &Words, movement: &Movement, centres: &[(MeshId, Mm)]) -> Vec<Plate> {
    let laid = layout(movement, centres);
    [Side::Front, Side::Back]
        .map(|plate| {
            let view = View {
                plate,
                upside_down: false,
            };
            let marks = Marks::default();
            Plate {
                caption: said::seen_from(words, plate, false),
                drawing: scene(movement, &laid, view, &Pose::default(), &marks),
                measured: centres.len() == movement.meshes().len(),
            }
        })
        .to_vec()
}
