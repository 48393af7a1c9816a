//! What a log comes to.

use super::remesh::{Lacks, PartTurn, Shift, lacks, shifts, turns, witnesses};
use super::windows::WindowAnswer;
use super::{First, Version};
use crate::{Locale, en, page};
use movement::{Movement, Plate};
use schemars::JsonSchema;
use serde::Serialize;
use timing::{Act, Advice, HowStood, Recalled, StoodAt, StoodRight};

/// What `trundle remesh --log` answers: what to do next, and the chance of each place of each witness.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LoggedAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// What to do next. "done" alone may be acted on by closing up.
    act: Acts,
    /// The witnesses to look at; none unless `act` is "look".
    look_at: Vec<String>,
    /// The arbors that are out, in the order they go in.
    arbors: Vec<String>,
    /// What stands against closing up.
    lacks: Lacks,
    /// The chance that all witnesses of the trains that are timed are in their windows, from all looks.
    in_window: f64,
    /// The shifts that are advised, from the held arbor outward.
    shifts: Vec<Shift>,
    /// The parts that are turned on their arbors; only where `act` is "turn".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    turns: Vec<PartTurn>,
    /// The chance that all are in after that is done, allowing for a hand that goes the wrong way or slips.
    after_handled: f64,
    /// Openings of the plates still to be expected, each mesh moved counting a tenth; null where that is not worked out.
    labour: Option<f64>,
    /// How often the plates were spread so far.
    openings: usize,
    /// Every witness that is timed, with the chance of each of its places.
    witnesses: Vec<Places>,
    /// Windows that are not on the sheet, worked out from its levers; absent where none was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    windows: Vec<WindowAnswer>,
    /// How the shifts that were entered went, so far as the looks tell.
    handled: Vec<Handled>,
    /// The chance that a lever is bent or a part slipped, by its witness.
    bent: Vec<Bent>,
    /// How witnesses stood while it struck right, where that was read.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stood: Vec<StoodAnswer>,
    /// The advice in a sentence.
    why: String,
    /// What else the looks show, a sentence each.
    findings: Vec<String>,
    /// What can hurt in doing it.
    cautions: Vec<String>,
    /// What is otherwise on the sheet than on the one before it in the log, in a sentence; null where nothing is.
    pub changed: Option<String>,
}

/// What to do next.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Acts {
    /// Close it up: nothing stands against it.
    Done,
    /// Look at some witnesses.
    Look,
    /// Shift a mesh or several.
    Shift,
    /// Turn parts on their arbors, then look again.
    Turn,
    /// Put in what is out.
    #[serde(rename = "put in")]
    PutIn,
    /// See to a bent lever or a slipped part first.
    Part,
    /// Close up finger-tight and prove the hours: no look would tell more.
    Prove,
    /// No shift cures it.
    #[serde(rename = "no mesh")]
    NoMesh,
}

/// A witness and where it may stand.
#[derive(Debug, Serialize, JsonSchema)]
struct Places {
    /// The witness.
    id: String,
    /// Whether it can be read as things are.
    readable: bool,
    /// Its likeliest places.
    places: Vec<Place>,
}

/// A place and its chance.
#[derive(Debug, Serialize, JsonSchema)]
struct Place {
    /// Degrees of the witness's arbor: short of its place -, further on +.
    deg: f64,
    /// The chance that it stands there.
    chance: f64,
}

/// How a shift went.
#[derive(Debug, Serialize, JsonSchema)]
struct Handled {
    /// The mesh, as driver>driven.
    mesh: String,
    /// Which shift it was of those since the last look, from 1.
    shift: usize,
    /// The chance that it went as it was said.
    as_said: f64,
    /// The chance that it went the other way.
    other_way: f64,
    /// The chance that it slipped a tooth.
    slipped: f64,
}

/// How a witness stood while it struck right.
#[derive(Debug, Serialize, JsonSchema)]
pub struct StoodAnswer {
    /// The witness.
    id: String,
    /// Where it stood, brought to its moment: degrees of its arbor, short of its place -, further on +.
    stood_deg: f64,
    /// How far from an edge of its window.
    edge: StoodEdge,
    /// So many degrees inside at least, at odds of nineteen in twenty; null where that is not told.
    inside_deg: Option<f64>,
    /// The same in a sentence.
    says: String,
}

/// How far from an edge of its window a witness stood.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum StoodEdge {
    /// Well inside.
    Inside,
    /// Near an edge.
    Near,
    /// Read outside, though it struck right: its window is not gone by that.
    Outside,
    /// Read too roughly to tell.
    #[serde(rename = "cannot tell")]
    CannotTell,
}

impl StoodAnswer {
    /// Of each witness that was read so.
    pub fn all(movement: &Movement, stood: &StoodRight) -> Vec<StoodAnswer> {
        let one = |at: &StoodAt| {
            let (edge, inside_deg) = match &at.told {
                HowStood::Inside(by) => (StoodEdge::Inside, Some(by.to_f64())),
                HowStood::NearAnEdge => (StoodEdge::Near, None),
                HowStood::Outside => (StoodEdge::Outside, None),
                HowStood::CannotTell => (StoodEdge::CannotTell, None),
            };
            StoodAnswer {
                id: movement.witness(at.witness).id.clone(),
                stood_deg: at.place.to_f64(),
                edge,
                inside_deg,
                says: page::how_it_stood(&Locale::default(), movement, at),
            }
        };
        stood.each.iter().map(one).collect()
    }
}

/// The chance that what bears on a witness is bent or slipped.
#[derive(Debug, Serialize, JsonSchema)]
struct Bent {
    /// The witness.
    id: String,
    /// The chance.
    chance: f64,
}

impl LoggedAnswer {
    /// What the log comes to, with ways round as they are seen from a plate.
    pub fn of(
        movement: &Movement,
        recalled: &Recalled,
        advice: &Advice,
        places: &en::PlaceChances,
        from: Plate,
    ) -> LoggedAnswer {
        let id = |w: &movement::WitnessId| movement.witness(*w).id.clone();
        let (act, look_at) = match &advice.act {
            Act::Done => (Acts::Done, Vec::new()),
            Act::Look(at) => (Acts::Look, witnesses(movement, at)),
            Act::Shift(_) => (Acts::Shift, Vec::new()),
            Act::Turn(_) => (Acts::Turn, Vec::new()),
            Act::PutIn(_) => (Acts::PutIn, Vec::new()),
            Act::Part(_) => (Acts::Part, Vec::new()),
            Act::Prove => (Acts::Prove, Vec::new()),
            Act::NoMesh => (Acts::NoMesh, Vec::new()),
        };
        let of_witness = |(w, places): &(movement::WitnessId, Vec<_>)| {
            let each =
                places
                    .iter()
                    .map(
                        |(place, chance): &(quantity::Degrees, quantity::Chance)| Place {
                            deg: place.to_f64(),
                            chance: chance.get(),
                        },
                    );
            Places {
                id: id(w),
                readable: recalled.readable.contains(w),
                places: each.collect(),
            }
        };
        let handled = recalled.handled.iter().map(|h| Handled {
            mesh: movement.mesh_name(h.mesh),
            shift: h.nth.0,
            as_said: h.as_said.get(),
            other_way: h.other_way.get(),
            slipped: h.slipped.get(),
        });
        let bent = recalled.bent.iter().map(|(w, chance)| Bent {
            id: id(w),
            chance: chance.get(),
        });
        let arbors = advice.lacks.arbors.iter();
        LoggedAnswer {
            answer: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            act,
            look_at,
            arbors: arbors.map(|a| movement.arbor(*a).id.clone()).collect(),
            lacks: lacks(movement, &advice.lacks),
            in_window: advice.in_window.get(),
            shifts: shifts(movement, &advice.shift_now, from),
            turns: match &advice.act {
                Act::Turn(advised) => turns(movement, advised, from),
                _ => Vec::new(),
            },
            after_handled: advice.after.get(),
            labour: Some(advice.labour).filter(|labour| labour.is_finite()),
            openings: recalled.openings,
            witnesses: places.iter().map(of_witness).collect(),
            windows: WindowAnswer::all(movement),
            handled: handled.collect(),
            bent: bent.collect(),
            stood: Vec::new(),
            why: en::advice(movement, recalled, advice, from),
            findings: en::findings(movement, recalled, &advice.act),
            cautions: match &advice.act {
                Act::Turn(_) => vec![en::turning_caution(), en::caution().to_owned()],
                _ => vec![en::caution().to_owned()],
            },
            changed: None,
        }
    }
}
