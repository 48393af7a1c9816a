//! The answer to one look, and what it has in common with that of a log.

use super::windows::WindowAnswer;
use super::{First, MeshOpenedBy, Round, SeenFrom, Version};
use crate::{en, near_arbor, others, turn_seen, way_seen};
use movement::{ArborId, HeldBy, MeshAccess, MeshId, Movement, Plate, WitnessId};
use schemars::JsonSchema;
use serde::Serialize;
use timing::{Answer, Cure, Nearest, TurnBy};

/// What `trundle remesh` answers to one look, without a log.
#[derive(Debug, Serialize, JsonSchema)]
pub struct LookAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// What cures it.
    cure: Cures,
    /// Where all stands now.
    now: Stands,
    /// The shifts that cure it, from the held arbor outward; none unless `cure` is "shift", or "turn" and turning alone does not.
    shifts: Vec<Shift>,
    /// The parts that are turned on their arbors; only where `cure` is "turn".
    #[serde(skip_serializing_if = "Vec::is_empty")]
    turns: Vec<PartTurn>,
    /// Where all stands after the shifts are done as said; as `now` where there are none.
    after: Stands,
    /// The chance that all that was read is in its window after the shifts, allowing for a hand that goes the wrong way or slips.
    after_handled: f64,
    /// The witnesses that were not read, in sheet order.
    unread: Vec<String>,
    /// The answer in a sentence.
    why: String,
    /// Whether a sound movement, closed at some wrong teeth, could show this; if not, look for a bent lever or a slipped part first.
    sound: bool,
    /// What stands against closing up.
    lacks: Lacks,
    /// Whether the search was cut short, so that something left untried might be better.
    cut_short: bool,
    /// What was left untried; null where nothing was.
    untried: Option<Untried>,
    /// What can hurt in doing it; absent where nothing does.
    #[serde(skip_serializing_if = "Option::is_none")]
    cautions: Option<Vec<String>>,
    /// Windows that are not on the sheet, worked out from its levers; absent where none was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    windows: Vec<WindowAnswer>,
    /// If it was read at rest, how it was brought to the drop; else absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub at_rest: Option<AtRestAnswer>,
    /// The shifts that come nearest; only where nothing cures it.
    #[serde(skip_serializing_if = "Option::is_none")]
    nearest: Option<Closest>,
}

/// What cures it.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Cures {
    /// All that was read is in its window.
    #[serde(rename = "none needed")]
    NoneNeeded,
    /// Some shifts bring all that was read into its window.
    Shift,
    /// Parts turned on their arbors do, perhaps with shifts.
    Turn,
    /// No shift does.
    #[serde(rename = "no mesh")]
    NoMesh,
    /// None was found that does, and some were left untried.
    #[serde(rename = "not found")]
    NotFound,
}

/// How readings at rest were brought to the drop.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AtRestAnswer {
    /// What locks and was not looked at in its notch: taken to have had as far to go as usual, and all the less surely.
    usual: Vec<String>,
    /// The same in a sentence.
    says: String,
}

impl AtRestAnswer {
    /// With what locks and was not looked at.
    pub fn of(movement: &Movement, usual: &[WitnessId]) -> AtRestAnswer {
        let id = |id: &WitnessId| movement.witness(*id).id.clone();
        AtRestAnswer {
            usual: usual.iter().map(id).collect(),
            says: en::read_at_rest(movement, usual),
        }
    }
}

/// What was left untried.
#[derive(Debug, Serialize, JsonSchema)]
struct Untried {
    /// How many sets of meshes that would come first, if they cure it.
    fewer_meshes: usize,
    /// How many sets of as many meshes, not all of whose places were looked at.
    as_many_meshes: usize,
    /// Whether fewer teeth may lead to a place as good.
    fewer_teeth: bool,
    /// Whether something may come nearer than what is told as nearest.
    nearer: bool,
    /// Whether parts turned on their arbors may do, together with others or with meshes.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    turns: bool,
}

/// A part turned on its arbor, by what holds it there; every mesh is left as it is.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct PartTurn {
    /// The part, as arbor.part; what carries an arbor's marks by the name of its track, pins or witness.
    part: String,
    /// By how many quarters, from 1 to 3, where it sits on a square.
    #[serde(skip_serializing_if = "Option::is_none")]
    quarters: Option<u8>,
    /// By how many degrees, where it does not.
    #[serde(skip_serializing_if = "Option::is_none")]
    deg: Option<f64>,
    /// Which way what goes is turned against the rest of its arbor.
    way: Round,
    /// The plate from which that way is seen.
    seen_from: SeenFrom,
    /// What holds it.
    held_by: PartHeldBy,
    /// Whether it is the marks of its arbor that go, and the teeth of the part that stay where they mesh.
    teeth_stay: bool,
    /// Each witness that it moves, in sheet order.
    moves: Vec<WitnessMove>,
}

/// How far a witness is moved.
#[derive(Debug, Serialize, JsonSchema)]
struct WitnessMove {
    /// The witness.
    id: String,
    /// By how many degrees of its arbor, ahead +, back -.
    deg: f64,
}

/// What holds a part on its arbor.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum PartHeldBy {
    /// A square: four places.
    Square,
    /// A friction spring.
    Friction,
    /// A screw.
    Screw,
    /// A collet.
    Collet,
    /// It is pressed on.
    Pressed,
}

/// The shifts whose worst witness misses its window by the least part of it.
#[derive(Debug, Serialize, JsonSchema)]
struct Closest {
    /// The shifts.
    shifts: Vec<Shift>,
    /// Where all stands after them.
    after: Stands,
    /// The witness that misses its window by the greatest part of it.
    worst: String,
    /// By how many degrees of its arbor it misses.
    misses_by_deg: f64,
    /// The same as a part of the window's width.
    part_of_window: f64,
}

/// Where all witnesses stand.
#[derive(Debug, Serialize, JsonSchema)]
struct Stands {
    /// The chance that all that was read is in its window.
    in_window: f64,
    /// Every witness, in sheet order.
    witnesses: Vec<Standing>,
}

/// Where a witness stands; nulls where it was not read.
#[derive(Debug, Serialize, JsonSchema)]
struct Standing {
    /// The witness.
    id: String,
    /// Where it stands, in degrees of its arbor: short of its place -, further on +; of places alike the one nearest its best.
    stands_deg: Option<f64>,
    /// How surely that is known, one standard deviation in degrees.
    spread_deg: Option<f64>,
    /// The chance that it is in its window.
    in_window: Option<f64>,
}

/// A shift: a mesh is opened and closed so many teeth further on.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Shift {
    /// The mesh, as driver>driven.
    mesh: String,
    /// The arbor that is lifted: the one on the far side, seen from the held arbor.
    lift: Option<String>,
    /// By how many teeth, from 1.
    teeth: i64,
    /// Which way the lifted arbor is turned.
    way: Round,
    /// The plate from which that way is seen.
    seen_from: SeenFrom,
    /// The arbor that is held still meanwhile.
    hold: Option<String>,
    /// The other meshes of the lifted arbor that must stay together.
    keep_together: Vec<String>,
    /// Those that may come apart: no witness lies beyond.
    may_come_apart: Vec<String>,
    /// The same shift done from the near side.
    or_near: OrNear,
    /// How the mesh is opened.
    reached: MeshOpenedBy,
    /// Whether a small cock lets one of its wheels out alone, so that the plates stay together.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    cock: bool,
}

/// A shift done by turning the arbor on the near side.
#[derive(Debug, Serialize, JsonSchema)]
struct OrNear {
    /// The arbor that is turned.
    turn: Option<String>,
    /// The arbor that is held still.
    hold: Option<String>,
    /// By how many teeth.
    teeth: i64,
    /// Which way it is turned.
    way: Round,
}

/// What stands against closing up: nothing does where all lists are empty and both others are false.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct Lacks {
    /// Whether nothing shows how the train stands: no witness is timed.
    blind: bool,
    /// Witnesses that were not read since anything last moved in their train.
    unread: Vec<String>,
    /// Witnesses that were last read outside their window.
    out_of_window: Vec<String>,
    /// Witnesses that were read so far off that a point or a figure may have slipped.
    far_off: Vec<String>,
    /// Where a bent lever or a slipped part is likelier than not: the witnesses it is likeliest at, the likeliest first.
    bent_or_slipped: Vec<String>,
    /// Witnesses whose window is known from usual proportions alone.
    usual_windows: Vec<String>,
    /// What locks and was only inferred to stand in its window, at rest through its notch, and not well inside.
    inferred: Vec<String>,
    /// Whether the chance that all are in is below 0.95.
    unsure: bool,
}

impl LookAnswer {
    /// The answer, with ways round as they are seen from a plate.
    pub fn of(movement: &Movement, answer: &Answer, from: Plate) -> LookAnswer {
        let turns: &[timing::Turn] = match &answer.cure {
            Cure::Turn(turns, _) => turns,
            _ => &[],
        };
        let (cure, shifts, nearest): (_, &[timing::Shift], _) = match &answer.cure {
            Cure::Turn(_, shifts) => (Cures::Turn, shifts, None),
            Cure::NoneNeeded => (Cures::NoneNeeded, &[], None),
            Cure::Shift(shifts) => (Cures::Shift, shifts, None),
            Cure::NoMesh(nearest) => (Cures::NoMesh, &[], Some(nearest)),
            Cure::NotFound(nearest) => (Cures::NotFound, &[], Some(nearest)),
        };
        let spread = shifts
            .iter()
            .any(|shift| movement.mesh(shift.mesh).reached == movement::Reached::Plates);
        LookAnswer {
            answer: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            cure,
            now: stands(movement, &answer.now),
            shifts: self::shifts(movement, shifts, from),
            turns: self::turns(movement, turns, from),
            after: stands(movement, &answer.after),
            after_handled: answer.after_handled.get(),
            unread: witnesses(movement, &answer.unread),
            why: en::why(movement, answer, from),
            sound: answer.sound,
            lacks: lacks(movement, &answer.lacks),
            cut_short: answer.cut_short,
            untried: answer.cut_short.then_some(Untried {
                fewer_meshes: answer.untried.fewer,
                as_many_meshes: answer.untried.as_many,
                fewer_teeth: answer.untried.teeth,
                nearer: answer.untried.nearer,
                turns: answer.untried.turns,
            }),
            cautions: (spread || !turns.is_empty()).then(|| {
                let turned = (!turns.is_empty()).then(en::turning_caution);
                let spread = spread.then(|| en::caution().to_owned());
                turned.into_iter().chain(spread).collect()
            }),
            windows: WindowAnswer::all(movement),
            at_rest: None,
            nearest: nearest.map(|nearest| closest(movement, nearest, from)),
        }
    }
}

fn closest(movement: &Movement, nearest: &Nearest, from: Plate) -> Closest {
    Closest {
        shifts: shifts(movement, &nearest.shifts, from),
        after: stands(movement, &nearest.after),
        worst: movement.witness(nearest.worst.witness).id.clone(),
        misses_by_deg: nearest.worst.by.to_f64(),
        part_of_window: nearest.worst.part,
    }
}

/// Every witness in sheet order.
fn stands(movement: &Movement, stands: &timing::Stands) -> Stands {
    let witnesses = movement.witnesses().map(|(id, witness)| {
        let read = stands.witnesses.iter().find(|s| s.witness == id);
        Standing {
            id: witness.id.clone(),
            stands_deg: read.map(|s| s.stands.to_f64()),
            spread_deg: read.map(|s| s.spread.as_deg()),
            in_window: read.map(|s| s.in_window.get()),
        }
    });
    Stands {
        in_window: stands.in_window.get(),
        witnesses: witnesses.collect(),
    }
}

pub(super) fn shifts(movement: &Movement, shifts: &[timing::Shift], from: Plate) -> Vec<Shift> {
    let one = |shift| self::shift(movement, shift, from);
    shifts.iter().map(one).collect()
}

pub(super) fn turns(movement: &Movement, turns: &[timing::Turn], from: Plate) -> Vec<PartTurn> {
    turns
        .iter()
        .map(|turn| self::turn(movement, turn, from))
        .collect()
}

fn turn(movement: &Movement, turn: &timing::Turn, from: Plate) -> PartTurn {
    let (quarters, deg) = match &turn.by {
        TurnBy::Quarters(quarters) => (Some(*quarters), None),
        TurnBy::Angle(angle) => (None, Some(angle.to_f64())),
    };
    let moves = turn.moves.iter().map(|(id, by)| WitnessMove {
        id: movement.witness(*id).id.clone(),
        deg: by.to_f64(),
    });
    PartTurn {
        part: turn.thing.name(movement),
        quarters,
        deg,
        way: turn_seen(movement, turn, from).into(),
        seen_from: from.into(),
        held_by: match turn.held_by {
            HeldBy::Square => PartHeldBy::Square,
            HeldBy::Friction => PartHeldBy::Friction,
            HeldBy::Screw => PartHeldBy::Screw,
            HeldBy::Collet => PartHeldBy::Collet,
            HeldBy::Pressed => PartHeldBy::Pressed,
        },
        teeth_stay: turn.teeth_stay,
        moves: moves.collect(),
    }
}

fn shift(movement: &Movement, shift: &timing::Shift, from: Plate) -> Shift {
    let id = |arbor: Option<ArborId>| arbor.map(|arbor| movement.arbor(arbor).id.clone());
    let far = movement.far_arbor(shift.mesh);
    let (keep, free) = far.map_or_else(Default::default, |far| others(movement, far, shift.mesh));
    let mesh = movement.mesh(shift.mesh);
    let way = way_seen(movement, shift, from);
    let near_way = way.map(|way| if mesh.internal { way.reversed() } else { way });
    Shift {
        mesh: movement.mesh_name(shift.mesh),
        lift: id(far),
        teeth: shift.teeth,
        way: way.into(),
        seen_from: from.into(),
        hold: id(near_arbor(movement, shift.mesh)),
        keep_together: meshes(movement, &keep),
        may_come_apart: meshes(movement, &free),
        or_near: OrNear {
            turn: id(near_arbor(movement, shift.mesh)),
            hold: id(far),
            teeth: shift.teeth,
            way: near_way.into(),
        },
        reached: mesh.reached.into(),
        cock: movement.opened(shift.mesh) == MeshAccess::Cock,
    }
}

pub(super) fn lacks(movement: &Movement, lacks: &timing::Lacks) -> Lacks {
    let names = |ids: &[WitnessId]| witnesses(movement, ids);
    Lacks {
        blind: lacks.blind,
        unread: names(&lacks.unread),
        out_of_window: names(&lacks.outside),
        far_off: names(&lacks.far_off),
        bent_or_slipped: names(&lacks.parts),
        usual_windows: names(&lacks.usual),
        inferred: names(&lacks.inferred),
        unsure: lacks.unsure,
    }
}

pub(super) fn witnesses(movement: &Movement, ids: &[WitnessId]) -> Vec<String> {
    ids.iter()
        .map(|id| movement.witness(*id).id.clone())
        .collect()
}

pub(super) fn meshes(movement: &Movement, ids: &[MeshId]) -> Vec<String> {
    ids.iter().map(|id| movement.mesh_name(*id)).collect()
}
