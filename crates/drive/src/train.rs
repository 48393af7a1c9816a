//! Torque down a train: what of it is left at each arbor.

use movement::{ArborId, Mesh, Movement};
use quantity::{Energy, Known, Number, Torque, propagate, to_f64};
use std::f64::consts::TAU;

/// What comes through one mesh and its pivots: between nothing lost and the three quarters that The Modern Clock, Chicago
/// 1905, p. 267, gives for a whole train of three or four meshes (0.25 to the third root is 0.63).
pub fn through_a_mesh() -> Known<Number> {
    crate::assumed::THROUGH_A_MESH.with_spread()
}

/// Torque at one arbor.
#[derive(Debug, Clone, PartialEq)]
pub struct At {
    /// The arbor.
    pub arbor: ArborId,
    /// How many meshes it has come through.
    pub meshes: u16,
    /// If nothing were lost.
    pub lossless: Known<Torque>,
    /// As much as is likely to be left.
    pub likely: Known<Torque>,
}

/// Torque at every arbor that is driven from `from`, nearest first.
///
/// # Formula
/// Torque goes down as speed goes up: `T' = T · n/N` at each mesh, less what the mesh takes.
pub fn down_the_train(movement: &Movement, from: ArborId, torque: Known<Torque>) -> Vec<At> {
    let mut all = vec![At {
        arbor: from,
        meshes: 0,
        lossless: torque,
        likely: torque,
    }];
    let mut next = 0;
    while next < all.len() {
        let (here, meshes) = (all[next].arbor, all[next].meshes);
        next += 1;
        let driven: Vec<&Mesh> = movement
            .meshes()
            .map(|(_, mesh)| mesh)
            .filter(|mesh| mesh.driver.arbor == here)
            .collect();
        for mesh in driven {
            let arbor = mesh.driven.arbor;
            if all.iter().any(|at| at.arbor == arbor) {
                continue;
            }
            let Some(turns) = kinematics::speed(movement, arbor, from) else {
                continue;
            };
            let (turns, meshes) = (to_f64(&turns), meshes + 1);
            all.push(At {
                arbor,
                meshes,
                lossless: propagate([torque.given()], |[t]| t / turns),
                likely: propagate(
                    [torque.given(), through_a_mesh().given()],
                    |[t, through]| t / turns * through.powi(i32::from(meshes)),
                ),
            });
        }
    }
    all
}

/// What the hammer is lifted with.
#[derive(Debug, Clone, PartialEq)]
pub struct Blow {
    /// The arbor that lifts it.
    pub arbor: ArborId,
    /// Turns of it for each blow.
    pub turns: f64,
    /// What the train can give for each blow, after what is lost on the way.
    pub energy: Known<Energy>,
}

/// What is there for the hammer at each blow, at the arbor that lifts it.
pub fn at_blow(movement: &Movement, train: &[At]) -> Option<Blow> {
    let lifting = movement.lifting()?;
    let at = train.iter().find(|at| at.arbor == lifting)?;
    let turns = to_f64(&kinematics::per_blow(movement, at.arbor)?);
    Some(Blow {
        arbor: at.arbor,
        turns,
        energy: propagate([at.likely.given()], |[t]| t * turns * TAU / 1000.0),
    })
}
