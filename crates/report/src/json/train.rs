//! How a train moves.

use super::remesh::meshes;
use super::{First, MeshOpenedBy, Ratio, SeenFrom, Version};
use kinematics::{
    meeting, no_witness_beyond, per_blow, per_hour, per_winding, same_teeth_everywhere, speed, step,
};
use movement::{
    ArborId, Lever, LeverKind, Mesh, MeshId, Movement, Plate, ToothForm, Turning, Witness,
};
use schemars::JsonSchema;
use serde::Serialize;

/// What `trundle train` answers: how a movement turns.
#[derive(Debug, Serialize, JsonSchema)]
pub struct TrainAnswer {
    /// The version of this answer's form.
    train: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The name on the sheet.
    sheet: String,
    /// The plate that the sheet is seen from.
    seen_from: SeenFrom,
    /// The arbor for whose one turn `turns` is told.
    per: String,
    /// Every arbor, in sheet order.
    arbors: Vec<Turns>,
    /// Every mesh, in sheet order.
    meshes: Vec<Meets>,
    /// The meshes that no witness lies beyond: any tooth will do there.
    no_witness_beyond: Vec<String>,
    /// What each witness is, in sheet order; those without a window are left out.
    witnesses: Vec<Kind>,
    /// What each lever is, in sheet order.
    levers: Vec<Kind>,
}

/// What a witness or a lever is.
#[derive(Debug, Serialize, JsonSchema)]
struct Kind {
    /// The witness or lever.
    id: String,
    /// Its kind, in the sheet's own words; `plain` where nothing is known.
    kind: &'static str,
    /// Whether the sheet says so; else it follows from tracks, pins and levers.
    written: bool,
}

/// How an arbor turns; null where the sheet does not tell.
#[derive(Debug, Serialize, JsonSchema)]
struct Turns {
    /// The arbor.
    id: String,
    /// Which train it is in, from 1.
    train: usize,
    /// Which way round it runs.
    runs: Runs,
    /// Its toothed parts.
    parts: Vec<Part>,
    /// Its turns in one turn of the arbor `per`; less than nothing where it runs the other way round.
    turns: Option<Ratio>,
    /// Its turns from one blow to the next.
    per_blow: Option<Ratio>,
    /// Its turns in an hour.
    per_hour: Option<Ratio>,
    /// Its turns in one whole winding.
    per_winding: Option<Ratio>,
    /// The beats of its escapement in an hour; only of the escape arbor.
    beats_per_hour: Option<Ratio>,
    /// After how many of its turns all teeth of its train meet again, a whole number that may be long.
    turns_until_all_teeth_meet_again: String,
}

/// Which way round an arbor runs, from either plate.
#[derive(Debug, Serialize, JsonSchema)]
struct Runs {
    /// Seen from the dial side.
    front: Hand,
    /// Seen from the other side.
    back: Hand,
}

/// A way round.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Hand {
    /// As the hands of a clock go, seen from the front.
    Clockwise,
    /// Against them.
    Counterclockwise,
}

/// A toothed part.
#[derive(Debug, Serialize, JsonSchema)]
struct Part {
    /// Its name on the arbor.
    part: String,
    /// How many teeth, leaves or pins.
    teeth: u16,
    /// What they are.
    form: Cutting,
}

/// What teeth are.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
enum Cutting {
    /// Cut teeth or leaves.
    Cut,
    /// The pins of a lantern pinion.
    Lantern,
    /// Pins that move another part on, a place each.
    Pins,
}

/// A mesh, and what one tooth at it does.
#[derive(Debug, Serialize, JsonSchema)]
struct Meets {
    /// The mesh, as driver>driven.
    mesh: String,
    /// Whether the teeth of the one stand inside its rim.
    internal: bool,
    /// How it is opened.
    reached: MeshOpenedBy,
    /// Whether it is in a closed loop, so that it cannot be shifted alone.
    in_loop: bool,
    /// The arbor on its far side, seen from the held arbor; null in a loop.
    far: Option<String>,
    /// When the same two teeth meet again.
    same_teeth_after: Again,
    /// What one tooth ahead does to each witness that it moves.
    one_tooth: Vec<Moved>,
}

/// Whole turns until the same two teeth meet again, as whole numbers that may be long.
#[derive(Debug, Serialize, JsonSchema)]
struct Again {
    /// Turns of the driving part.
    driver_turns: String,
    /// Turns of the driven part.
    driven_turns: String,
}

/// By how much one tooth moves a witness.
#[derive(Debug, Serialize, JsonSchema)]
struct Moved {
    /// The witness.
    witness: String,
    /// Degrees of its arbor: further on +, back -.
    deg: f64,
    /// The same exactly, as a whole number or a fraction.
    exact_deg: String,
}

impl TrainAnswer {
    /// The motion of a movement, in turns for one turn of `per`.
    pub fn of(movement: &Movement, per: ArborId) -> TrainAnswer {
        let arbors = movement.arbors();
        let joined = movement.meshes();
        TrainAnswer {
            train: First,
            trundle: Version,
            sheet: movement.name().to_owned(),
            seen_from: movement.seen_from().into(),
            per: movement.arbor(per).id.clone(),
            arbors: arbors.map(|(id, _)| turns(movement, per, id)).collect(),
            meshes: joined.map(|(id, mesh)| meets(movement, id, mesh)).collect(),
            no_witness_beyond: meshes(movement, &no_witness_beyond(movement)),
            witnesses: witnesses(movement),
            levers: levers(movement),
        }
    }
}

fn witnesses(movement: &Movement) -> Vec<Kind> {
    let kind = |witness: &Witness| Kind {
        id: witness.id.clone(),
        kind: witness.kind.word(),
        written: witness.kind_told,
    };
    movement.witnesses().map(|(_, w)| kind(w)).collect()
}

fn levers(movement: &Movement) -> Vec<Kind> {
    let Some(works) = movement.works() else {
        return Vec::new();
    };
    let kind = |lever: &Lever| Kind {
        id: lever.id.clone(),
        kind: LeverKind::of(lever, works).word(),
        written: lever.kind.is_some(),
    };
    works.levers().map(|(_, lever)| kind(lever)).collect()
}

fn turns(movement: &Movement, per: ArborId, id: ArborId) -> Turns {
    let arbor = movement.arbor(id);
    let parts = arbor.parts.iter().map(|part| Part {
        part: part.name.clone(),
        teeth: part.teeth.get(),
        form: match part.form {
            ToothForm::Cut => Cutting::Cut,
            ToothForm::Lantern => Cutting::Lantern,
            ToothForm::Pins => Cutting::Pins,
        },
    });
    let seen = |from| match movement.runs(id, from) {
        Turning::Clockwise => Hand::Clockwise,
        Turning::Counterclockwise => Hand::Counterclockwise,
    };
    let escapement = workshop::pendulum::escapement(movement).filter(|e| e.arbor == id);
    let beats = escapement.and_then(|here| workshop::pendulum::train_beats(movement, &here));
    Turns {
        id: arbor.id.clone(),
        train: movement.train_of(id) + 1,
        runs: Runs {
            front: seen(Plate::Front),
            back: seen(Plate::Back),
        },
        parts: parts.collect(),
        turns: speed(movement, id, per).as_ref().map(Ratio::of),
        per_blow: per_blow(movement, id).as_ref().map(Ratio::of),
        per_hour: per_hour(movement, id).as_ref().map(Ratio::of),
        per_winding: per_winding(movement, id).as_ref().map(Ratio::of),
        beats_per_hour: beats.as_ref().map(Ratio::of),
        turns_until_all_teeth_meet_again: same_teeth_everywhere(movement, id).to_string(),
    }
}

fn meets(movement: &Movement, id: MeshId, mesh: &Mesh) -> Meets {
    let again = meeting(movement, id);
    let one_tooth = movement.witnesses().filter_map(|(w, witness)| {
        let step = step(movement, id, w).filter(|step| !step.is_zero())?;
        Some(Moved {
            witness: witness.id.clone(),
            deg: step.to_f64(),
            exact_deg: step.exact().to_string(),
        })
    });
    let far = movement.far_arbor(id);
    Meets {
        mesh: movement.mesh_name(id),
        internal: mesh.internal,
        reached: mesh.reached.into(),
        in_loop: movement.far_side(id).is_none(),
        far: far.map(|far| movement.arbor(far).id.clone()),
        same_teeth_after: Again {
            driver_turns: again.driver_turns.to_string(),
            driven_turns: again.driven_turns.to_string(),
        },
        one_tooth: one_tooth.collect(),
    }
}
