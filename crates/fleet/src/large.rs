//! Movements with as many meshes as any clock has and a witness on each arbor, in shapes that make a search long.

use crate::Dice;
use crate::plan::{
    ArborPlan, MeshPlan, MomentPlan, MovementPlan, PartPlace, PartPlan, StrikePlan, Thousandths,
    WitnessPlan,
};
use rand::RngExt;

/// A movement with so many meshes: a chain or branches, short wheels or long ones, windows of 2 to 60 in 100 of the way
/// from place to place.
pub fn large(meshes: usize, dice: &mut Dice) -> MovementPlan {
    let arbors = (0..=meshes).map(|n| ArborPlan {
        id: format!("arbor{n}"),
        runs: (n == 0).then_some("clockwise"),
        parts: Vec::new(),
        measured: Vec::new(),
    });
    let mut plan = MovementPlan {
        name: "Quay Street works with many wheels".to_owned(),
        seen_from: "front",
        arbors: arbors.collect(),
        meshes: Vec::new(),
        strike: None,
        moments: Vec::new(),
        witnesses: Vec::new(),
    };
    let branch = [0.0, 0.0, 0.3, 0.9][dice.random_range(0..4)];
    let teeth = [(6, 144), (6, 12), (48, 144), (8, 96)][dice.random_range(0..4)];
    let as_made = dice.random_bool(0.4);
    let outside = [0.0, 0.1, 0.6][dice.random_range(0..3)];
    for n in 1..=meshes {
        let from = if dice.random_bool(branch) {
            dice.random_range(0..n)
        } else {
            n - 1
        };
        let (wheel, pinion) = if as_made {
            let pinion = dice.random_range(6..=12);
            (pinion * dice.random_range(4..=9), pinion)
        } else {
            let mut count = || dice.random_range(teeth.0..=teeth.1);
            (count(), count())
        };
        let driver = part(&mut plan.arbors[from], &format!("wheel{n}"), wheel);
        let driven = part(&mut plan.arbors[n], "pinion", pinion);
        plan.meshes.push(MeshPlan {
            driver: PartPlace {
                arbor: from,
                part: driver,
            },
            driven: PartPlace {
                arbor: n,
                part: driven,
            },
            internal: dice.random_bool(0.1),
            lash: None,
            outside: dice.random_bool(outside),
        });
    }
    let read_at = dice.random_range(0..=meshes);
    let hold = dice.random_bool(0.3);
    plan.strike = Some(StrikePlan {
        rack: false,
        halves: false,
        read_at,
        blows_per_turn: 1,
        hold: hold.then(|| "0.5".to_owned()),
    });
    for id in ["lock", "warned"] {
        if dice.random_bool(0.4) {
            plan.moments.push(MomentPlan {
                id: id.to_owned(),
                arbor: dice.random_range(0..=meshes),
            });
        }
    }
    let repeats = [(1, 1), (1, 12), (8, 8), (1, 90)][dice.random_range(0..4)];
    let parts = [(2, 2), (60, 60), (2, 60), (20, 30)][dice.random_range(0..4)];
    let twice = dice.random_bool(0.2);
    for n in 0..meshes {
        // On each arbor but the one it is read at; or two on each of half of them.
        let on = if twice { n / 2 * 2 } else { n };
        let on = on + usize::from(on >= read_at);
        let repeats = dice.random_range(repeats.0..=repeats.1);
        let period = 360_000 / i64::from(repeats);
        let width = period * dice.random_range(parts.0..=parts.1) / 100;
        let best = dice.random_range(-period..=period);
        let from = best - width * dice.random_range(3..=7) / 10;
        let moments = plan.moments.len();
        let at = (moments > 0 && dice.random_bool(0.3)).then(|| dice.random_range(0..moments));
        plan.witnesses.push(WitnessPlan {
            id: format!("witness{n}"),
            on,
            repeats,
            window: (Thousandths(from), Thousandths(from + width)),
            best: Thousandths(best),
            at,
            look: None,
            oclock: None,
        });
    }
    plan
}

fn part(arbor: &mut ArborPlan, name: &str, teeth: u16) -> usize {
    arbor.parts.push(PartPlan {
        name: name.to_owned(),
        teeth,
        lantern: false,
    });
    arbor.parts.len() - 1
}
