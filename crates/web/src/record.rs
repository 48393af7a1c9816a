//! The records of a job, made from its log as paper has them.

use crate::desk::Whole;
use draw::{Marks, Pose, View, layout, scene};
use entries::{Digest, Entry, Kind, Log, Told};
use movement::{Movement, Plate as Side};
use paper::{Links, Oil, Plate, Record, owners, repairers};
use report::{Words, page as said};

/// Where the style of the records is.
pub(crate) const STYLE: &str = "/paper.css";

/// A record as a page: the owner's, or the whole.
pub(crate) fn record(job: &Whole, whole: bool) -> String {
    let words = job.words;
    let movement = job.gone.movement();
    let told = job.told();
    let winding = winding(&words, movement);
    let plates = movement.map_or_else(Vec::new, |m| plates(&words, m, &job.gone.log));
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
    let settings = ::way::settings(movement).into_iter();
    settings.map(|told| report::setting(words, told)).collect()
}

/// The movement from both plates.
fn plates(words: &Words, movement: &Movement, log: &Log) -> Vec<Plate> {
    let centres = tasks::centres(movement, Some(log));
    let laid = layout(movement, &centres);
    let measured = laid.to_scale(movement, &centres);
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
                measured,
            }
        })
        .to_vec()
}
