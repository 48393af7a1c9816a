//! What is odd about a movement that is good.

use crate::{Blows, Misgiving, Movement, Place, Remark};
use quantity::{Degrees, Exact};

/// What is odd about a good movement.
pub(crate) fn remarks(movement: &Movement) -> Vec<Remark> {
    let mut remarks = Vec::new();
    for (id, witness) in movement.witnesses() {
        // Ship's bells come in pairs, and what comes round is the pair.
        if let Some(strike) = movement.strike()
            && movement.same_train(strike.read_at, witness.on)
            && strike.blows != Blows::ShipsBells
        {
            let turns = movement.turns(witness.on)
                / movement.turns(strike.read_at)
                / &strike.blows_per_turn;
            let places = &turns * Exact::from_integer(witness.repeats.get().into());
            if !places.is_integer() {
                remarks.push(Remark {
                    place: Place::WitnessOn(id.index()),
                    what: Misgiving::NotWhole {
                        witness: witness.id.clone(),
                        blow: Degrees::turns(&turns),
                        period: witness.period(),
                        places,
                    },
                });
            }
        }
        if let Some(look) = &witness.look {
            let allowed = &(&look.slot - &look.tip) * &quantity::fraction(1, 2);
            if witness.from < -&allowed || witness.to > allowed {
                remarks.push(Remark {
                    place: Place::Window(id.index()),
                    what: Misgiving::WiderThanSlot {
                        witness: witness.id.clone(),
                        allowed,
                        from: witness.from.clone(),
                        to: witness.to.clone(),
                    },
                });
            }
        }
    }
    remarks
}
