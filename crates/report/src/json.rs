//! Answers as JSON. The keys that scripts hold on to are those of the contract; more stand beside them.

use crate::{en, near_arbor, others, way_seen};
use kinematics::{
    meeting, no_witness_beyond, per_blow, per_hour, per_winding, same_teeth_everywhere, speed, step,
};
use movement::{ArborId, Form, MeshId, Movement, Plate, Reached};
use quantity::{Exact, to_f64};
use serde_json::{Value, json};
use timing::{Act, Advice, Answer, Cure, Held, Lacks, PutIn, Recalled, Shift, Stands};

/// The answer to one look, as the contract fixes it.
pub fn remesh_json(movement: &Movement, answer: &Answer, from: Plate) -> Value {
    let (cure, shifts, nearest) = match &answer.cure {
        Cure::NoneNeeded => ("none needed", Vec::new(), None),
        Cure::Shift(shifts) => ("shift", shifts.clone(), None),
        Cure::NoMesh(nearest) => ("no mesh", Vec::new(), Some(nearest)),
        Cure::NotFound(nearest) => ("not found", Vec::new(), Some(nearest)),
    };
    let spread = shifts
        .iter()
        .any(|shift| movement.mesh(shift.mesh).reached == Reached::Plates);
    let mut object = json!({
        "answer": 1,
        "sheet": movement.name(),
        "cure": cure,
        "now": stands(movement, &answer.now),
        "shifts": shifts_json(movement, &shifts, from),
        "after": stands(movement, &answer.after),
        "after_handled": answer.after_handled.get(),
        "unread": answer.unread.iter().map(|&w| movement.witness(w).id.clone()).collect::<Vec<_>>(),
        "why": en::why(movement, answer, from),
        "sound": answer.sound,
        "lacks": lacks_json(movement, &answer.lacks),
        "cut_short": answer.cut_short,
        "untried": answer.cut_short.then(|| json!({
            "fewer_meshes": answer.untried.fewer,
            "as_many_meshes": answer.untried.as_many,
            "fewer_teeth": answer.untried.teeth,
            "nearer": answer.untried.nearer,
        })),
    });
    if spread {
        object["cautions"] = json!([en::caution()]);
    }
    if let Some(nearest) = nearest {
        object["nearest"] = json!({
            "shifts": shifts_json(movement, &nearest.shifts, from),
            "after": stands(movement, &nearest.after),
            "worst": movement.witness(nearest.worst.witness).id,
            "misses_by_deg": nearest.worst.by.to_f64(),
            "part_of_window": nearest.worst.part,
        });
    }
    object
}

fn shifts_json(movement: &Movement, shifts: &[Shift], from: Plate) -> Vec<Value> {
    shifts
        .iter()
        .map(|shift| shift_json(movement, shift, from))
        .collect()
}

fn shift_json(movement: &Movement, shift: &Shift, from: Plate) -> Value {
    let id = |arbor: Option<ArborId>| arbor.map(|arbor| movement.arbor(arbor).id.clone());
    let far = movement.far_arbor(shift.mesh);
    let (keep, free) = far.map_or_else(Default::default, |far| others(movement, far, shift.mesh));
    let names = |meshes: Vec<MeshId>| -> Vec<String> {
        meshes.into_iter().map(|m| movement.mesh_name(m)).collect()
    };
    let mesh = movement.mesh(shift.mesh);
    let way = way_seen(movement, shift, from);
    let near_way = way.map(|way| if mesh.internal { way.reversed() } else { way });
    json!({
        "mesh": movement.mesh_name(shift.mesh),
        "lift": id(far),
        "teeth": shift.teeth,
        "way": way.map_or("either", en::turning),
        "seen_from": en::plate(from),
        "hold": id(near_arbor(movement, shift.mesh)),
        "keep_together": names(keep),
        "may_come_apart": names(free),
        "or_near": {
            "turn": id(near_arbor(movement, shift.mesh)),
            "hold": id(far),
            "teeth": shift.teeth,
            "way": near_way.map_or("either", en::turning),
        },
        "reached": if mesh.reached == Reached::Plates { "plates" } else { "outside" },
    })
}

/// Every witness in sheet order, those not read as nulls.
fn stands(movement: &Movement, stands: &Stands) -> Value {
    let witnesses: Vec<Value> = movement
        .witnesses()
        .map(|(id, witness)| {
            let read = stands.witnesses.iter().find(|s| s.witness == id);
            json!({
                "id": witness.id,
                "stands_deg": read.map(|s| s.stands.to_f64()),
                "spread_deg": read.map(|s| s.spread.as_deg()),
                "in_window": read.map(|s| s.in_window.get()),
            })
        })
        .collect();
    json!({ "in_window": stands.in_window.get(), "witnesses": witnesses })
}

fn exact(x: &Exact) -> Value {
    json!({ "exact": x.to_string(), "number": to_f64(x) })
}

/// The motion of a movement, in turns for one turn of `per`.
pub fn train_json(movement: &Movement, per: ArborId) -> Value {
    let escapement = workshop::pendulum::escapement(movement);
    let beats = |id: ArborId| {
        let here = escapement.as_ref().filter(|e| e.arbor == id)?;
        workshop::pendulum::train_beats(movement, here)
    };
    let arbors: Vec<Value> = movement
        .arbors()
        .map(|(id, arbor)| {
            let parts: Vec<Value> = arbor
                .parts
                .iter()
                .map(|part| {
                    let form = match part.form {
                        Form::Cut => "cut",
                        Form::Lantern => "lantern",
                        Form::Pins => "pins",
                    };
                    json!({ "part": part.name, "teeth": part.teeth.get(), "form": form })
                })
                .collect();
            json!({
                "id": arbor.id,
                "train": movement.train_of(id) + 1,
                "runs": {
                    "front": en::turning(movement.runs(id, Plate::Front)),
                    "back": en::turning(movement.runs(id, Plate::Back)),
                },
                "parts": parts,
                "turns": speed(movement, id, per).as_ref().map(exact),
                "per_blow": per_blow(movement, id).as_ref().map(exact),
                "per_hour": per_hour(movement, id).as_ref().map(exact),
                "per_winding": per_winding(movement, id).as_ref().map(exact),
                "beats_per_hour": beats(id).as_ref().map(exact),
                "turns_until_all_teeth_meet_again": same_teeth_everywhere(movement, id).to_string(),
            })
        })
        .collect();
    let meshes: Vec<Value> = movement
        .meshes()
        .map(|(id, mesh)| {
            let again = meeting(movement, id);
            let one_tooth: Vec<Value> = movement
                .witnesses()
                .filter_map(|(w, witness)| {
                    let step = step(movement, id, w)?;
                    (!step.is_zero()).then(|| {
                        json!({
                            "witness": witness.id,
                            "deg": step.to_f64(),
                            "exact_deg": step.exact().to_string(),
                        })
                    })
                })
                .collect();
            json!({
                "mesh": movement.mesh_name(id),
                "internal": mesh.internal,
                "reached": if mesh.reached == Reached::Plates { "plates" } else { "outside" },
                "in_loop": movement.far_side(id).is_none(),
                "far": movement.far_arbor(id).map(|far| movement.arbor(far).id.clone()),
                "same_teeth_after": {
                    "driver_turns": again.driver_turns.to_string(),
                    "driven_turns": again.driven_turns.to_string(),
                },
                "one_tooth": one_tooth,
            })
        })
        .collect();
    let free: Vec<String> = no_witness_beyond(movement)
        .into_iter()
        .map(|mesh| movement.mesh_name(mesh))
        .collect();
    json!({
        "train": 1,
        "sheet": movement.name(),
        "seen_from": en::plate(movement.seen_from()),
        "per": movement.arbor(per).id,
        "arbors": arbors,
        "meshes": meshes,
        "no_witness_beyond": free,
    })
}

/// What a log comes to: what to do next, and the chance of each place of each witness.
pub fn log_json(
    movement: &Movement,
    recalled: &Recalled,
    advice: &Advice,
    places: &en::PlaceChances,
    from: Plate,
) -> Value {
    let id = |w: &movement::WitnessId| movement.witness(*w).id.clone();
    let (act, look_at): (&str, Vec<String>) = match &advice.act {
        Act::Done => ("done", Vec::new()),
        Act::Look(at) => ("look", at.iter().map(id).collect()),
        Act::Shift(_) => ("shift", Vec::new()),
        Act::PutIn(_) => ("put in", Vec::new()),
        Act::Part(_) => ("part", Vec::new()),
        Act::Prove => ("prove", Vec::new()),
        Act::NoMesh => ("no mesh", Vec::new()),
    };
    let witnesses: Vec<Value> = places
        .iter()
        .map(|(w, places)| {
            let places: Vec<Value> = places
                .iter()
                .map(|(place, chance)| json!({ "deg": place.to_f64(), "chance": chance.get() }))
                .collect();
            json!({ "id": id(w), "readable": recalled.readable.contains(w), "places": places })
        })
        .collect();
    let handled: Vec<Value> = recalled
        .handled
        .iter()
        .map(|h| {
            json!({
                "mesh": movement.mesh_name(h.mesh),
                "shift": h.nth.0,
                "as_said": h.as_said.get(),
                "other_way": h.other_way.get(),
                "slipped": h.slipped.get(),
            })
        })
        .collect();
    let bent: Vec<Value> = recalled
        .bent
        .iter()
        .map(|(w, chance)| json!({ "id": id(w), "chance": chance.get() }))
        .collect();
    json!({
        "answer": 1,
        "sheet": movement.name(),
        "act": act,
        "look_at": look_at,
        "arbors": advice.lacks.arbors.iter().map(|a| movement.arbor(*a).id.clone()).collect::<Vec<_>>(),
        "lacks": lacks_json(movement, &advice.lacks),
        "in_window": advice.in_window.get(),
        "shifts": shifts_json(movement, &advice.shift_now, from),
        "after_handled": advice.after.get(),
        "labour": Some(advice.labour).filter(|labour| labour.is_finite()),
        "openings": recalled.openings,
        "witnesses": witnesses,
        "handled": handled,
        "bent": bent,
        "why": en::advice(movement, recalled, advice, from),
        "findings": en::findings(movement, recalled, &advice.act),
        "cautions": [en::caution()],
    })
}

/// What stands against closing up; all empty, and sure, where nothing does.
fn lacks_json(movement: &Movement, lacks: &Lacks) -> Value {
    let names = |ids: &[movement::WitnessId]| -> Vec<String> {
        ids.iter()
            .map(|id| movement.witness(*id).id.clone())
            .collect()
    };
    json!({
        "blind": lacks.blind,
        "unread": names(&lacks.unread),
        "out_of_window": names(&lacks.outside),
        "far_off": names(&lacks.far_off),
        "bent_or_slipped": names(&lacks.parts),
        "usual_windows": names(&lacks.usual),
        "unsure": lacks.unsure,
    })
}

/// The order in which arbors go in.
pub fn order_json(movement: &Movement, order: &[PutIn]) -> Value {
    let names = |meshes: &[MeshId]| -> Vec<String> {
        meshes.iter().map(|m| movement.mesh_name(*m)).collect()
    };
    let steps: Vec<Value> = order
        .iter()
        .map(|step| {
            let settles: Vec<Value> = step
                .settles
                .iter()
                .map(|settle| {
                    let witness = movement.witness(settle.witness);
                    json!({
                        "id": witness.id,
                        "best_deg": witness.best.to_f64(),
                        "window_deg": [witness.from.to_f64(), witness.to.to_f64()],
                        "hold": movement.arbor(settle.hold(movement)).id,
                        "at": movement.moment(witness.at).id,
                        "against": match settle.held {
                            Held::Moment => None,
                            Held::Witness(other) => Some(movement.witness(other).id.clone()),
                        },
                        "meshes": names(&settle.at),
                    })
                })
                .collect();
            let check = step.check.iter().map(|w| movement.witness(*w).id.clone());
            json!({
                "arbor": movement.arbor(step.arbor).id,
                "meshes": names(&step.meshes),
                "settles": settles,
                "any_tooth": names(&step.any),
                "made_up_later": names(&step.later),
                "ring": step.ring,
                "ring_later": step.ring_later,
                "plates_closed": step.plates_closed,
                "check": check.collect::<Vec<_>>(),
                "says": en::put_in(movement, step),
            })
        })
        .collect();
    let sure = order.iter().all(|step| step.check.is_empty());
    json!({ "order": 1, "sheet": movement.name(), "steps": steps, "sure": sure })
}
