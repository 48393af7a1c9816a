//! What is odd about a movement that is good.

use crate::{ArborId, Blows, Draft, DraftPlace, Misgiving, Movement, Remark, WitnessId};
use quantity::{Degrees, Exact};

/// What is odd about a good movement.
pub(crate) fn remarks(movement: &Movement, draft: &Draft) -> Vec<Remark> {
    let mut remarks = Vec::new();
    let written = |id: &str| {
        let same = |w: &crate::DraftWitness| w.id.as_deref() == Some(id);
        draft.witnesses.iter().position(same).unwrap_or(0)
    };
    let levers = (movement.works()).is_some_and(|works| works.levers().len() > 0);
    // From levers windows can be worked out; where they cannot, whoever asks for them is told why.
    let windowless = movement.unjudged().iter().filter(|_| !levers);
    remarks.extend(windowless.map(|witness| Remark {
        place: DraftPlace::WitnessId(written(&witness.id)),
        what: Misgiving::NoWindow {
            witness: witness.id.clone(),
        },
    }));
    for (id, witness) in movement.witnesses() {
        let w = written(&witness.id);
        if let Some(places) = places_by_a_blow(movement, id)
            && !places.is_integer()
        {
            let turns = &places / Exact::from_integer(witness.repeats.get().into());
            remarks.push(Remark {
                place: DraftPlace::WitnessOn(w),
                what: Misgiving::NotWhole {
                    witness: witness.id.clone(),
                    blow: Degrees::turns(&turns),
                    period: witness.period(),
                    places,
                },
            });
        }
        if let Some(look) = &witness.look {
            let allowed = &(&look.slot - &look.tip) * &quantity::fraction(1, 2);
            if witness.from < -&allowed || witness.to > allowed {
                remarks.push(Remark {
                    place: DraftPlace::Window(w),
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

/// By how many of its places a blow moves a witness.
fn places_by_a_blow(movement: &Movement, id: WitnessId) -> Option<Exact> {
    let witness = movement.witness(id);
    movement.places_by_a_blow(witness.on, witness.repeats.get())
}

impl Movement {
    /// By how many places a blow moves an arbor that has so many alike in a turn; nothing off the strike train. Ship's bells come
    /// in pairs, and what comes round is the pair: of them it is not asked.
    ///
    /// Where it is no whole number, some count is wrong.
    pub fn places_by_a_blow(&self, on: ArborId, alike: u16) -> Option<Exact> {
        let strike = self.strike()?;
        if !self.same_train(strike.read_at, on) || strike.blows == Blows::ShipsBells {
            return None;
        }
        let turns = self.turns(on) / self.turns(strike.read_at) / &strike.blows_per_turn;
        Some(turns * Exact::from_integer(alike.into()))
    }

    /// Whether a blow moves every witness of the strike by a whole number of its places. Where it does not, some count is
    /// wrong, and nothing that is worked out from the counts can be trusted.
    pub fn comes_out(&self) -> bool {
        (self.witnesses())
            .filter_map(|(id, _)| places_by_a_blow(self, id))
            .all(|places| places.is_integer())
    }
}
