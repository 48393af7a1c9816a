//! What is odd about a movement that is good.

use crate::{Blows, Draft, Misgiving, Movement, Place, Remark};
use quantity::{Degrees, Exact};

/// What is odd about a good movement.
pub(crate) fn remarks(movement: &Movement, draft: &Draft) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let written = |id: &str| {
        let same = |w: &crate::DraftWitness| w.id.as_deref() == Some(id);
        draft.witnesses.iter().position(same).unwrap_or(0)
    };
    let levers = (movement.works()).is_some_and(|works| works.levers().len() > 0);
    for witness in movement.unjudged() {
        remarks.push(Remark {
            place: Place::WitnessId(written(&witness.id)),
            what: Misgiving::NoWindow {
                witness: witness.id.clone(),
                levers,
            },
        });
    }
    for (_, witness) in movement.witnesses() {
        let w = written(&witness.id);
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
                    place: Place::WitnessOn(w),
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
                    place: Place::Window(w),
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
