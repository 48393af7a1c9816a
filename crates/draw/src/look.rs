//! How wide slots and tips are, where the sheet does not say.

use movement::{Movement, WitnessId};

/// Slot and tip of a witness, in degrees of its arbor.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Widths {
    pub(crate) slot: f64,
    pub(crate) tip: f64,
    /// Where the slot's middle stands when the witness is at its place 0, ahead of the tip.
    pub(crate) middle: f64,
    pub(crate) period: f64,
}

/// What is left of the pitch beside the play is land and tip; so much of that is the tip.
const TIP: f64 = 0.3;

/// The widths on the sheet; else those by which the tip touches an edge just where the window ends.
pub(crate) fn widths(movement: &Movement, witness: WitnessId) -> Widths {
    let w = movement.witness(witness);
    let period = w.period().to_f64();
    if let Some(look) = &w.look {
        return Widths {
            slot: look.slot.to_f64(),
            tip: look.tip.to_f64(),
            middle: 0.0,
            period,
        };
    }
    let play = w.width().to_f64();
    let tip = ((period - play) * TIP).max(0.06 * period);
    Widths {
        slot: (tip + play).min(0.82 * period),
        tip,
        middle: -(w.from.to_f64() + w.to.to_f64()) / 2.0,
        period,
    }
}
