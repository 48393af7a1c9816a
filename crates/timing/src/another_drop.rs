//! A train that was read at another drop than the one that is meant.
//!
//! Quarters, changes and pairs of blows come round only after several drops, and at each of those a sound train shows its witnesses
//! elsewhere. Nothing is to be moved then: it is let run on to the drop that is meant, and read there.

use movement::{ArborId, Movement, WitnessId};
use num_traits::{One, ToPrimitive};
use quantity::{BigInt, Degrees, Exact, whole};

/// How a sound train was read that had not run on far enough, or too far.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AnotherDrop {
    /// What was read so: all witnesses of one moment, in sheet order.
    pub read: Vec<WitnessId>,
    /// The arbor that turns from one of these drops to the next.
    pub arbor: ArborId,
    /// Turns of it until the drop that is meant comes.
    pub more: u32,
}

/// So many drops until all comes round again are gone through at most; a chime takes ten, a ship's bell some twenty.
const MOST_DROPS: u32 = 100;

/// Where all witnesses of a moment were read, not all of them in their windows, and all in them after some whole turns more of the
/// arbor of their moment, every mesh left as it is: how many; the fewest. Places are exact, as where a witness stands is decided
/// everywhere.
///
/// # Formula
/// One turn of the moment's arbor puts a witness `t_w/t_A` turns further ahead, by the trains' own counts.
pub fn another_drop(movement: &Movement, stands: &[(WitnessId, Degrees)]) -> Option<AnotherDrop> {
    // Where the counts cannot be right nothing follows from them.
    if !movement.comes_out() {
        return None;
    }
    (movement.moments().iter()).find_map(|moment| {
        let of_it: Vec<WitnessId> = (movement.witnesses())
            .filter(|(_, witness)| movement.moment(witness.at).id == moment.id)
            .map(|(id, _)| id)
            .collect();
        let read: Option<Vec<(WitnessId, &Degrees)>> = (of_it.iter())
            .map(|id| Some((*id, &stands.iter().find(|(read, _)| read == id)?.1)))
            .collect();
        let read = read.filter(|read| !read.is_empty())?;
        let turn = |id: WitnessId| -> Exact {
            movement.turns(movement.witness(id).on) / movement.turns(moment.arbor)
        };
        let round = (read.iter()).fold(BigInt::one(), |round, (id, _)| {
            let places = turn(*id) / (movement.witness(*id).period().exact() / whole(360));
            num_integer::lcm(round, places.denom().clone())
        });
        let round = round.to_u32().filter(|round| *round <= MOST_DROPS)?;
        let all_in = |drops: u32| {
            read.iter().all(|(id, stands)| {
                let on = Degrees::turns(&(turn(*id) * whole(i64::from(drops))));
                movement.witness(*id).admits(&(*stands + &on))
            })
        };
        let more = (0..round).find(|drops| all_in(*drops))?;
        (more > 0).then_some(AnotherDrop {
            read: of_it,
            arbor: moment.arbor,
            more,
        })
    })
}
