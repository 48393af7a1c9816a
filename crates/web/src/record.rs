//! The records of a job, made from its log as paper has them.

use crate::desk::Whole;
use draw::{Marks, Pose, View, layout, scene};
use entries::{Digest, Kind, Told};
use movement::{CountedBy, Movement, Plate as Side, Reached};
use paper::{Oil, Plate, Record, Style, owners, repairers};
use report::{Words, page as said, say};

/// Where the style of the records is.
pub(crate) const STYLE: &str = "/paper.css";

/// A record as a page: the owner's, or the whole.
pub(crate) fn record(job: &Whole, whole: bool) -> String {
    let words = job.words;
    let movement = job.gone.movement();
    let told = job.told();
    let winding = movement.map(|m| winding(&words, m)).unwrap_or_default();
    let plates = movement.map(|m| plates(&words, m)).unwrap_or_default();
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
    let style = Style::At(STYLE);
    if whole {
        repairers(&record, style)
    } else {
        owners(&record, style)
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
    let mut looked = false;
    let mut openings = 0;
    for entry in job.gone.log.standing() {
        match &entry.told {
            Told::Known(Kind::Look { .. }) => looked = true,
            Told::Known(Kind::Shift(meshes)) => {
                openings += usize::from(meshes.iter().any(|at| {
                    (movement.find_mesh(&at.mesh))
                        .is_some_and(|mesh| movement.mesh(mesh).reached == Reached::Plates)
                }));
            }
            _ => {}
        }
    }
    looked.then_some(openings)
}

/// How the clock is wound and set, a sentence each.
fn winding(words: &Words, movement: &Movement) -> Vec<String> {
    let mut says = vec![say!(words, "wind-all")];
    match movement.strike().map(|strike| strike.counted_by) {
        Some(CountedBy::CountWheel) => says.push(say!(words, "wind-count-wheel")),
        Some(CountedBy::Rack) => says.push(say!(words, "wind-rack")),
        None => {}
    }
    says.push(say!(words, "wind-back"));
    says
}

/// The movement from both plates.
fn plates(words: &Words, movement: &Movement) -> Vec<Plate> {
    let centres = tasks::centres(movement);
    let laid = layout(movement, &centres);
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
                measured: !centres.is_empty(),
            }
        })
        .to_vec()
}
