//! From a draft that was looked through to the movement it tells of.

use crate::check::{Checker, Found};
use crate::train::Tree;
use crate::*;
use quantity::Degrees;

impl Checker<'_> {
    /// The movement, where nothing that was written is missing.
    pub(crate) fn build(&self, found: Found) -> Option<Movement> {
        let draft = self.draft;
        let Found {
            forest,
            runs,
            moments,
            on,
            at,
            works,
            frame,
            held,
        } = found;
        let arbors = draft
            .arbors
            .iter()
            .zip(held)
            .map(|(arbor, held)| {
                Some(Arbor {
                    id: arbor.id.clone(),
                    measured: arbor.measured.clone(),
                    spreads: arbor.spreads.clone(),
                    at: arbor.at.clone(),
                    beats_per_turn: arbor.beats_per_turn.clone(),
                    all_held_by: arbor.held_by,
                    cock: arbor.cock,
                    parts: arbor
                        .parts
                        .iter()
                        .zip(held)
                        .map(|(part, held_by)| {
                            Some(Part {
                                name: part.name.clone(),
                                teeth: part.teeth?,
                                form: part.form,
                                held_by,
                            })
                        })
                        .collect::<Option<_>>()?,
                })
            })
            .collect::<Option<Vec<_>>>()?;
        let meshes = self
            .links
            .iter()
            .map(|&(m, _, [driver, driven])| Mesh {
                driver,
                driven,
                internal: draft.meshes[m].internal,
                lash_teeth: draft.meshes[m].lash_teeth.clone(),
                reached: draft.meshes[m].reached,
                measured: draft.meshes[m].measured.clone(),
                spreads: draft.meshes[m].spreads.clone(),
            })
            .collect();
        let moments = moments
            .into_iter()
            .map(|(id, arbor)| {
                let written = draft
                    .moments
                    .iter()
                    .find(|m| m.id.as_deref() == Some(id.as_str()));
                let says = match written {
                    Some(moment) => moment.says.clone(),
                    None => String::new(),
                };
                Some(Moment {
                    id,
                    arbor: ArborId(arbor?),
                    says,
                })
            })
            .collect::<Option<Vec<_>>>()?;
        let strike = match &draft.strike {
            None if draft.strike_unread => return None,
            None => None,
            Some(strike) => Some(Strike {
                counted_by: strike.counted_by,
                blows: strike.blows,
                read_at: moments.first()?.arbor,
                blows_per_turn: strike.blows_per_turn.clone()?,
                hold: strike.hold.clone(),
                cycle_hours: strike.cycle_hours.unwrap_or(12),
                pace: strike.pace.clone(),
            }),
        };
        let mut witnesses = Vec::new();
        let mut unjudged = Vec::new();
        for (w, witness) in draft.witnesses.iter().enumerate() {
            let (id, says) = (witness.id.clone()?, witness.says.clone());
            let (on, repeats, at) = (ArborId(on[w]?), witness.repeats?, MomentId(at[w]?));
            let look = match (&witness.slot, &witness.tip) {
                (Some(slot), Some(tip)) => Some(SlotWidths {
                    slot: slot.clone(),
                    tip: tip.clone(),
                }),
                _ => None,
            };
            // What it is is known only once the whole movement is.
            let kind = witness.kind.unwrap_or(WitnessKind::PLAIN);
            let kind_told = witness.kind.is_some();
            let arm_oclock = witness.arm_oclock.clone();
            match witness.window.clone() {
                Some((from, to)) => witnesses.push(Witness {
                    best: witness.best.clone().unwrap_or_else(|| meant(&from, &to)),
                    id,
                    says,
                    on,
                    kind,
                    kind_told,
                    repeats,
                    from,
                    to,
                    source: WindowSource::Written,
                    at,
                    look,
                    arm_oclock,
                }),
                None => unjudged.push(Unjudged {
                    id,
                    says,
                    on,
                    kind,
                    kind_told,
                    repeats,
                    best: witness.best.clone(),
                    at,
                    look,
                    arm_oclock,
                    place: w,
                }),
            }
        }
        let mut tree = Tree::over(&forest, &self.plain_links());
        tree.runs = runs;
        let mut movement = Movement {
            name: draft.name.clone(),
            seen_from: draft.seen_from?,
            arbors,
            meshes,
            strike,
            moments,
            witnesses,
            unjudged,
            frame: frame?,
            works: match draft.works.is_empty() {
                true => None,
                false => Some(works?),
            },
            tree,
            uncounted: Vec::new(),
        };
        for w in 0..movement.witnesses.len() {
            let witness = &movement.witnesses[w];
            if !witness.kind_told {
                let kind = WitnessKind::of(&movement, witness.on, witness.repeats.get());
                movement.witnesses[w].kind = kind;
            }
        }
        for w in 0..movement.unjudged.len() {
            let witness = &movement.unjudged[w];
            if !witness.kind_told {
                let kind = WitnessKind::of(&movement, witness.on, witness.repeats.get());
                movement.unjudged[w].kind = kind;
            }
        }
        Some(movement)
    }
}

/// Where a witness is meant to stand whose best place nobody wrote: at 0, which is the place that the sheet means, or where
/// its window leaves that out, in the middle of it.
fn meant(from: &Degrees, to: &Degrees) -> Degrees {
    let zero = Degrees::zero();
    if *from <= zero && zero <= *to {
        return zero;
    }
    &(from + to) * &quantity::fraction(1, 2)
}
