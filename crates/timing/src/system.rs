//! The readings of one look as a system: what each mesh does to each witness that was read, in whole numbers.

use crate::chance::{Target, tie};
use crate::reading::Reading;
use kinematics::{speed, step};
use movement::{MeshAccess, MeshId, Movement, WitnessId};
use num_integer::Integer;
use num_traits::{One, ToPrimitive, Zero};
use quantity::{BigInt, Degrees, Exact, nearest_alike, to_f64};

/// One witness that was read.
#[derive(Debug, Clone)]
pub(crate) struct Axis {
    pub(crate) witness: WitnessId,
    /// Where it was read.
    pub(crate) stands: Degrees,
    pub(crate) from: Degrees,
    pub(crate) to: Degrees,
    pub(crate) best: Degrees,
    pub(crate) period: Degrees,
    /// Degrees of one unit: every step and the period are whole numbers of it.
    pub(crate) unit: Exact,
    /// Units in a period.
    pub(crate) around: BigInt,
    pub(crate) target: Target,
}

impl Axis {
    pub(crate) fn half(&self) -> Degrees {
        &(&self.to - &self.from) * &quantity::fraction(1, 2)
    }

    /// Where it stands after moving so many units, nearest its best.
    pub(crate) fn after(&self, units: &BigInt) -> Degrees {
        let moved = Degrees::deg(&self.unit * Exact::from_integer(units.clone()));
        nearest_alike(&(&self.stands + &moved), &self.period, &self.best)
    }

    /// The units by which it may move to stand from `from` to `to`: first and last.
    pub(crate) fn units(&self, from: &Degrees, to: &Degrees) -> (BigInt, BigInt) {
        let units = |to: &Degrees| (to - &self.stands).exact() / &self.unit;
        (
            units(from).ceil().to_integer(),
            units(to).floor().to_integer(),
        )
    }

    pub(crate) fn unit_f64(&self) -> f64 {
        to_f64(&self.unit)
    }
}

/// A mesh that moves some witness that was read.
#[derive(Debug, Clone)]
pub(crate) struct Mover {
    pub(crate) mesh: MeshId,
    pub(crate) access: MeshAccess,
    /// Units each axis moves a tooth, from 0 up to its period.
    pub(crate) steps: Vec<BigInt>,
    /// Teeth after which every witness that was read is back.
    pub(crate) cycle: BigInt,
}

/// The readings of one look, and what may be done.
#[derive(Debug, Clone)]
pub(crate) struct System {
    pub(crate) axes: Vec<Axis>,
    pub(crate) movers: Vec<Mover>,
}

impl System {
    pub(crate) fn of(movement: &Movement, readings: &[Reading]) -> System {
        let meshes: Vec<MeshId> = movement.meshes().map(|(id, _)| id).collect();
        let mut axes = Vec::new();
        let mut columns: Vec<Vec<BigInt>> = Vec::new();
        for reading in readings {
            let witness = movement.witness(reading.witness);
            let period = witness.period();
            let steps: Vec<Option<Degrees>> = meshes
                .iter()
                .map(|&mesh| step(movement, mesh, reading.witness))
                .collect();
            let common = steps
                .iter()
                .flatten()
                .fold(period.exact().denom().clone(), |common, step| {
                    common.lcm(step.exact().denom())
                });
            let unit = Exact::new(BigInt::one(), common);
            let around = (period.exact() / &unit).to_integer();
            columns.push(
                steps
                    .iter()
                    .map(|step| match step {
                        Some(step) => (step.exact() / &unit).to_integer().mod_floor(&around),
                        None => BigInt::zero(),
                    })
                    .collect(),
            );
            axes.push(Axis {
                witness: reading.witness,
                stands: reading.stands.clone(),
                from: witness.from.clone(),
                to: witness.to.clone(),
                best: witness.best.clone(),
                period,
                unit,
                around,
                target: target(movement, reading),
            });
        }
        let mut targets: Vec<Target> = axes.iter().map(|axis: &Axis| axis.target).collect();
        tie(&mut targets);
        for (axis, target) in axes.iter_mut().zip(targets) {
            axis.target = target;
        }
        let movers = meshes
            .iter()
            .enumerate()
            .map(|(m, &mesh)| {
                let steps: Vec<BigInt> = columns.iter().map(|column| column[m].clone()).collect();
                let cycle = (axes.iter().zip(&steps)).fold(BigInt::one(), |cycle, (axis, step)| {
                    cycle.lcm(&(&axis.around / axis.around.gcd(step)))
                });
                Mover {
                    mesh,
                    access: movement.opened(mesh),
                    steps,
                    cycle,
                }
            })
            .filter(|mover| mover.steps.iter().any(|step| !step.is_zero()))
            .collect();
        System { axes, movers }
    }

    /// Where every witness stands after teeth at some movers.
    pub(crate) fn places(&self, shifts: &[(usize, BigInt)]) -> Vec<Degrees> {
        (self.axes.iter().enumerate())
            .map(|(w, axis)| {
                let units = shifts.iter().fold(BigInt::zero(), |units, (m, teeth)| {
                    units + teeth * &self.movers[*m].steps[w]
                });
                axis.after(&units)
            })
            .collect()
    }

    pub(crate) fn targets(&self) -> Vec<Target> {
        self.axes.iter().map(|axis| axis.target).collect()
    }

    /// The chance that all are in their windows after teeth at some movers, to a double's figures.
    pub(crate) fn chance_after(&self, shifts: &[(usize, BigInt)]) -> f64 {
        let places: Vec<f64> = (self.axes.iter().enumerate())
            .map(|(w, axis)| {
                let units = shifts.iter().fold(BigInt::zero(), |units, (m, teeth)| {
                    units + teeth * &self.movers[*m].steps[w]
                });
                let units = units.mod_floor(&axis.around).to_f64().unwrap_or(0.0);
                axis.stands.to_f64() + units * axis.unit_f64()
            })
            .collect();
        crate::chance::all_in_quickly(&self.targets(), &places)
    }

    /// The chance that all are in their windows when they stand at these places.
    pub(crate) fn chance(&self, places: &[Degrees]) -> f64 {
        let places: Vec<f64> = places.iter().map(Degrees::to_f64).collect();
        crate::chance::all_in(&self.targets(), &places)
    }
}

/// What the chance needs of one reading. Where the ends of the window are known only so surely, that is as if it were read so much
/// worse: either end is passed as likely.
fn target(movement: &Movement, reading: &Reading) -> Target {
    let witness = movement.witness(reading.witness);
    // The drop is the moment of the arbor that is held; the hold sways what is judged then, and nothing else.
    let held = movement
        .strike()
        .filter(|_| movement.moment(witness.at).id == movement::DROP)
        .and_then(|strike| {
            let hold = strike.hold.as_ref()?.to_f64();
            Some(hold * to_f64(&speed(movement, witness.on, strike.read_at)?))
        });
    Target {
        from: witness.from.to_f64(),
        to: witness.to.to_f64(),
        period: witness.period().to_f64(),
        spread: (reading.spread.as_deg()).hypot(witness.window_spread().to_f64()),
        held: held.unwrap_or(0.0),
        tied: false,
    }
}
