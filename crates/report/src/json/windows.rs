//! Windows that are on no sheet, as they were worked out.

use crate::{Locale, page};
use movement::{FallBy, Movement, WindowSource};
use schemars::JsonSchema;
use serde::Serialize;

/// By what the time that a lever takes to fall is known.
#[derive(Debug, Serialize, JsonSchema)]
enum FallKnownBy {
    /// A usual part of a turn stands for it, as no pace was measured.
    #[serde(rename = "usual")]
    Usual,
    /// The pace was measured; the time of the fall is as usual.
    #[serde(rename = "pace")]
    Pace,
    /// Pace and fall were measured.
    #[serde(rename = "pace and fall")]
    PaceAndFall,
}

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
    /// By what the time that a lever takes to fall is known, where that bounds it; null where something else does.
    fall_by: Option<FallKnownBy>,
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
                fall_by: from.fall_by.map(|by| match by {
                    FallBy::Usual => FallKnownBy::Usual,
                    FallBy::Pace => FallKnownBy::Pace,
                    FallBy::PaceAndFall => FallKnownBy::PaceAndFall,
                }),
                usual: (from.rests_on.iter())
                    .map(|figure| format!("{}.{}", figure.of, figure.key))
                    .collect(),
            })
        });
        worked_out.collect()
    }
}
