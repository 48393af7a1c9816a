//! What is put in wrong before the strike is run: wheels shifted, levers bent, parts worn, missing or slipped.

use movement::{ArborId, LeverId, MeshId, MeshSide, Movement, PinId, TrackId};
use num_traits::Zero;
use quantity::{Degrees, Exact, whole};

/// Something that is not as the sheet has it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum PlantedFault {
    /// A mesh closed with its far side so many teeth further ahead.
    Shift {
        /// The mesh; nothing moves where it closes a loop.
        mesh: MeshId,
        /// Teeth, ahead positive.
        teeth: i64,
    },
    /// A lever bent on its arbor.
    Bend {
        /// Which.
        lever: LeverId,
        /// Degrees of the lever arbor by which the lever's own end goes up. A tip that lies on a track then has to sink
        /// farther to touch, so its arbor stands so much lower; an arm that stops or lifts stands so much higher where
        /// its arbor is.
        by: Degrees,
    },
    /// The rack's tail bent up off its snail: the rack has to fall so much farther.
    BentTail {
        /// Degrees of the rack.
        by: Degrees,
    },
    /// Slots with both edges worn back.
    Worn {
        /// Their track.
        track: TrackId,
        /// Which, in the order they come, from 0; nothing for all.
        slot: Option<usize>,
        /// Degrees of the track at each edge.
        by: Degrees,
    },
    /// A lifting pin or lobe that is not there.
    MissingLobe {
        /// Its track.
        track: TrackId,
        /// Which, as written, from 0.
        lobe: usize,
    },
    /// A pin for an arm that is not there.
    MissingPin {
        /// Which.
        pin: PinId,
        /// Which of its places, as written, from 0.
        place: usize,
    },
    /// A track turned on what carries it.
    SlippedTrack {
        /// Which.
        track: TrackId,
        /// Degrees ahead.
        by: Degrees,
    },
    /// Pins turned with their wheel on its arbor.
    SlippedPin {
        /// Which.
        pin: PinId,
        /// Degrees ahead.
        by: Degrees,
    },
    /// An arbor turned with all that is fixed on it, while every other stays where it is: its tracks and its pins together.
    TurnedArbor {
        /// Which.
        arbor: ArborId,
        /// Degrees ahead.
        by: Degrees,
    },
}

impl PlantedFault {
    /// Adds another of the same part to this one: told twice, it is both together. Gives whether it was of the same part; if
    /// not, nothing is added.
    pub fn add(&mut self, other: &PlantedFault) -> bool {
        use PlantedFault::{Bend, BentTail, SlippedPin, SlippedTrack, Worn};
        match (&mut *self, other) {
            (PlantedFault::Shift { mesh, teeth }, PlantedFault::Shift { mesh: m, teeth: t })
                if mesh == m =>
            {
                *teeth += t;
            }
            (Bend { lever, by }, Bend { lever: l, by: more }) if lever == l => *by = &*by + more,
            (BentTail { by }, BentTail { by: more }) => *by = &*by + more,
            (
                Worn { track, slot, by },
                Worn {
                    track: t,
                    slot: s,
                    by: more,
                },
            ) if (&*track, &*slot) == (t, s) => *by = &*by + more,
            (SlippedTrack { track, by }, SlippedTrack { track: t, by: more }) if track == t => {
                *by = &*by + more;
            }
            (SlippedPin { pin, by }, SlippedPin { pin: p, by: more }) if pin == p => {
                *by = &*by + more;
            }
            (
                PlantedFault::TurnedArbor { arbor, by },
                PlantedFault::TurnedArbor { arbor: a, by: more },
            ) if arbor == a => *by = &*by + more,
            // What is missing cannot be missing twice.
            (this, other) => return this == other,
        }
        true
    }
}

/// The arbor that a train is timed by: the one whose seconds the sheet gives.
pub(crate) fn timed_by(movement: &Movement, train: usize) -> Option<(ArborId, &Exact)> {
    (movement.arbors())
        .filter(|(id, _)| movement.train_of(*id) == train)
        .find_map(|(id, arbor)| Some((id, arbor.measured("turn_s")?)))
}

/// Turns that an arbor stands ahead of where the sheet has it, from all shifts together and as it was turned itself. In a going train that is reckoned
/// from the arbor that times it, since the hands are set by that.
pub(crate) fn ahead(movement: &Movement, arbor: ArborId, put_in: &[PlantedFault]) -> Exact {
    let shifted = shifted(movement, arbor, put_in);
    let shifted = match timed_by(movement, movement.train_of(arbor)) {
        Some((hand, _)) => {
            let speed = movement.turns(arbor) / movement.turns(hand);
            shifted - self::shifted(movement, hand, put_in) * speed
        }
        None => shifted,
    };
    shifted
        + slips(put_in, |put_in| match put_in {
            PlantedFault::TurnedArbor { arbor: a, by } if *a == arbor => Some(by),
            _ => None,
        })
}

/// Turns that an arbor goes ahead.
///
/// # Formula
/// Each arbor beyond the mesh goes `t / T_far` of a turn of the far arbor ahead, by its own speed.
fn shifted(movement: &Movement, arbor: ArborId, put_in: &[PlantedFault]) -> Exact {
    let mut sum = Exact::zero();
    for put_in in put_in {
        let PlantedFault::Shift { mesh, teeth } = put_in else {
            continue;
        };
        if movement.beyond(*mesh, arbor)
            && let Some(side) = movement.far_side(*mesh)
        {
            let part = movement.mesh(*mesh).part(side);
            sum += whole(*teeth) / one_turn(movement, *mesh, side) * movement.turns(arbor)
                / movement.turns(part.arbor);
        }
    }
    sum
}

fn one_turn(movement: &Movement, mesh: MeshId, side: MeshSide) -> Exact {
    let part = movement.mesh(mesh).part(side);
    Exact::from_integer(movement.part(part).teeth.get().into())
}

/// Turns that a track stands ahead on what carries it.
pub(crate) fn track_slip(track: TrackId, put_in: &[PlantedFault]) -> Exact {
    slips(put_in, |put_in| match put_in {
        PlantedFault::SlippedTrack { track: t, by } if *t == track => Some(by),
        _ => None,
    })
}

/// Turns that pins stand ahead on their arbor.
pub(crate) fn pin_slip(pin: PinId, put_in: &[PlantedFault]) -> Exact {
    slips(put_in, |put_in| match put_in {
        PlantedFault::SlippedPin { pin: p, by } if *p == pin => Some(by),
        _ => None,
    })
}

fn slips<'a>(
    put_in: &'a [PlantedFault],
    of: impl Fn(&'a PlantedFault) -> Option<&'a Degrees>,
) -> Exact {
    summed(put_in, of) / whole(360)
}

/// How far a lever's own end is bent up, in degrees of its arbor.
pub(crate) fn bend(lever: LeverId, put_in: &[PlantedFault]) -> Exact {
    summed(put_in, |put_in| match put_in {
        PlantedFault::Bend { lever: l, by } if *l == lever => Some(by),
        _ => None,
    })
}

/// How far the rack's tail is bent up off its snail, in degrees of the rack.
pub(crate) fn tail_bend(put_in: &[PlantedFault]) -> Exact {
    summed(put_in, |put_in| match put_in {
        PlantedFault::BentTail { by } => Some(by),
        _ => None,
    })
}

fn summed<'a>(
    put_in: &'a [PlantedFault],
    of: impl Fn(&'a PlantedFault) -> Option<&'a Degrees>,
) -> Exact {
    (put_in.iter().filter_map(of)).fold(Exact::zero(), |sum, by| sum + by.exact())
}
