//! Windows that are on no sheet, as they were worked out.

use crate::{Locale, page};
use movement::{Movement, WindowSource};
use schemars::JsonSchema;
use serde::Serialize;

/// The window of a witness for which none is written, worked out from the levers.
#[derive(Debug, Serialize, JsonSchema)]
pub(super) struct WindowAnswer {
    /// The witness.
    id: String,
    /// The first place in which it may stand, in degrees of its arbor.
    from_deg: f64,
    /// The last.
    to_deg: f64,
    /// Where it should stand.
    best_deg: f64,
    /// How surely either end is known, one standard deviation in degrees, by what was measured and what is as usual.
    spread_deg: f64,
    /// Which of the seven points of a good place bounds it at either end, with what that is of; null where the strike goes on as
    /// well wherever it stands, and the window is only what is usual.
    bounded_by: Option<[String; 2]>,
    /// What of the works is as usual, not measured, and moves an end of it, as ID.KEY; what moves it most first.
    usual: Vec<String>,
}

impl WindowAnswer {
    /// Those of a movement, in sheet order.
    pub(super) fn all(movement: &Movement) -> Vec<WindowAnswer> {
        let locale = Locale::default();
        let worked_out = movement.witnesses().filter_map(|(id, witness)| {
            let WindowSource::Works(from) = &witness.source else {
                return None;
            };
            Some(WindowAnswer {
                id: witness.id.clone(),
                from_deg: witness.from.to_f64(),
                to_deg: witness.to.to_f64(),
                best_deg: witness.best.to_f64(),
                spread_deg: from.spread.to_f64(),
                bounded_by: page::bounded(&locale, movement, id),
                usual: (from.rests_on.iter())
                    .map(|figure| format!("{}.{}", figure.of, figure.key))
                    .collect(),
            })
        });
        worked_out.collect()
    }
}
