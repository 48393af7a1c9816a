//! The figures that are held to be so.

use super::{First, Version};
use crate::Locale;
use crate::assumed::{self, AssumedByTopic, holds_key, topic, unit_key};
use schemars::JsonSchema;
use serde::Serialize;

/// What `trundle assumptions` answers: every figure that is held to be so where nothing was measured.
#[derive(Debug, Serialize, JsonSchema)]
pub struct AssumptionsAnswer {
    /// The version of this answer's form.
    answer: First,
    /// The version of the program that answers.
    trundle: Version,
    /// The figures, topic by topic.
    assumed: Vec<Figure>,
}

/// A figure.
#[derive(Debug, Serialize, JsonSchema)]
struct Figure {
    /// Its name.
    id: &'static str,
    /// The topic, in words.
    of: String,
    /// The figure, in `unit`.
    value: f64,
    /// Its spread, one standard deviation; 0 where it has none.
    spread: f64,
    /// Its unit: "part" is a part of a whole, "half-window" and "window" half the width and the width of a witness's window, "opening"
    /// openings of the plates, "ppm" parts in a million, "spread" spreads of a measurement, "ratio" none; the others say themselves.
    unit: &'static str,
    /// What it is for.
    what: String,
    /// Why it is so.
    why: String,
    /// Where it is gone by: in timing "with-log" only, "without-log" only, or "both"; "no-log" in sums that no log comes into.
    holds: &'static str,
}

impl AssumptionsAnswer {
    /// All of them.
    pub fn of(locale: &Locale, table: &AssumedByTopic<'_>) -> AssumptionsAnswer {
        let rows = table.iter().flat_map(|(of, rows)| {
            rows.iter().map(move |row| Figure {
                id: row.id,
                of: topic(locale, *of),
                value: row.value,
                spread: row.spread,
                unit: unit_key(row),
                what: assumed::what(locale, row),
                why: assumed::why(locale, row),
                holds: holds_key(row),
            })
        });
        AssumptionsAnswer {
            answer: First,
            trundle: Version,
            assumed: rows.collect(),
        }
    }
}
