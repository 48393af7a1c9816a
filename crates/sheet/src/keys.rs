//! The one table of what may stand on a sheet: each key, the table it stands in, what stands under it, and what is usual.
//!
//! Reading goes by it, forms and lists of keys go by it; what a key means is said elsewhere, row by row.

use crate::fault::ExpectedValue as E;
use crate::fault::{ExpectedValue, SheetTable};
use movement::{LeverKind, WitnessKind};
use quantity::{Bounds, Repeats, Teeth};

/// One key.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// The table it stands in.
    pub table: SheetTable,
    /// The key. On an arbor `PART` stands for a part's own name.
    pub key: &'static str,
    /// What stands under it.
    pub holds: ExpectedValue,
    /// The least and the most that is usual; what is beyond is read all the same, and warned of. From memory, and wide: from
    /// a carriage clock to a tower.
    pub usual: Option<(f64, f64)>,
}

impl SheetTable {
    /// The keys it may have; an arbor's parts and measurements of the writer's own come on top.
    pub fn keys(self) -> Vec<&'static str> {
        let here = ROWS.iter().filter(|row| row.table == self);
        here.map(|row| row.key)
            .filter(|key| !key.starts_with("PART"))
            .collect()
    }
}

/// What a measurement is in, by the end of its key.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum KeyUnit {
    /// `_mm`
    Millimetre,
    /// `_um`
    Micrometre,
    /// `_deg`
    Degree,
    /// `_g`
    Gram,
    /// `_n`
    Newton,
    /// `_nm`
    NewtonMetre,
    /// `_turns`
    Turn,
    /// `_s`
    Second,
    /// `_teeth`
    Tooth,
}

impl KeyUnit {
    /// Every unit, and the end of a key that tells it.
    pub const ALL: [(&'static str, KeyUnit); 9] = [
        ("_mm", KeyUnit::Millimetre),
        ("_um", KeyUnit::Micrometre),
        ("_deg", KeyUnit::Degree),
        ("_g", KeyUnit::Gram),
        ("_n", KeyUnit::Newton),
        ("_nm", KeyUnit::NewtonMetre),
        ("_turns", KeyUnit::Turn),
        ("_s", KeyUnit::Second),
        ("_teeth", KeyUnit::Tooth),
    ];

    /// The unit that a key ends in.
    pub fn of(key: &str) -> Option<KeyUnit> {
        let ends = |(end, _): &&(&str, KeyUnit)| key.ends_with(end);
        KeyUnit::ALL.iter().find(ends).map(|(_, unit)| *unit)
    }
}

pub(crate) const PLATES: &[&str] = &["front", "back"];
pub(crate) const WAYS: &[&str] = &["clockwise", "counterclockwise"];
pub(crate) const FORMS: &[&str] = &["lantern", "cut", "pins"];
pub(crate) const REACHED: &[&str] = &["plates", "outside"];
pub(crate) const COUNTERS: &[&str] = &["count wheel", "rack"];
pub(crate) const FIXINGS: &[&str] = &["nut", "screw", "pin"];
/// In the order of [`movement::FixtureKind::ALL`].
pub(crate) const FIXTURES: &[&str] = &["winding square", "bell"];
pub(crate) const PLACED: &[&str] = &["measured", "about"];
pub(crate) const HELD: &[&str] = &["square", "friction", "screw", "collet", "pressed"];
pub(crate) const MADE: &[&str] = &["soft", "hardened"];
/// What can be struck.
pub(crate) const STRUCK: &[&str] = &[
    "hours",
    "hours and halves",
    "hours and ten halves",
    "hours and passing halves",
    "ship's bells",
];

/// Places that a count may have in all.
const PLACES: Bounds = Bounds {
    least: 1,
    most: 1000,
};
const DAY: Bounds = Bounds { least: 1, most: 24 };
const AROUND: Bounds = Bounds {
    least: 1,
    most: 500,
};
const RACK_TEETH: Bounds = Bounds {
    least: 1,
    most: 100,
};

const fn row(table: SheetTable, key: &'static str, holds: ExpectedValue) -> Row {
    Row {
        table,
        key,
        holds,
        usual: None,
    }
}

const fn usual(
    table: SheetTable,
    key: &'static str,
    holds: ExpectedValue,
    least: f64,
    most: f64,
) -> Row {
    Row {
        table,
        key,
        holds,
        usual: Some((least, most)),
    }
}

use SheetTable as T;

/// Every key, by table.
pub const ROWS: &[Row] = &[
    row(T::Sheet, "sheet", E::Version),
    row(T::Sheet, "name", E::Text),
    row(T::Sheet, "seen_from", E::OneOf(PLATES)),
    row(T::Sheet, "like", E::Text),
    row(T::Sheet, "arbor", E::Table),
    row(T::Sheet, "mesh", E::Tables),
    row(T::Sheet, "strike", E::Table),
    row(T::Sheet, "moment", E::Tables),
    row(T::Sheet, "witness", E::Tables),
    row(T::Sheet, "track", E::Tables),
    row(T::Sheet, "pin", E::Tables),
    row(T::Sheet, "lever", E::Tables),
    row(T::Sheet, "rack", E::Table),
    row(T::Sheet, "chime", E::Table),
    row(T::Sheet, "pillar", E::Tables),
    row(T::Sheet, "pivot", E::Tables),
    row(T::Sheet, "fixture", E::Tables),
    row(T::Sheet, "plates", E::Table),
    row(T::Arbor, "runs", E::OneOf(WAYS)),
    row(T::Arbor, "PART", E::Part(Teeth::BOUNDS)),
    usual(T::Arbor, "PART_outside_mm", E::Number, 2.0, 2000.0),
    row(T::Arbor, "held_by", E::Held),
    row(T::Arbor, "lost", E::Names),
    row(T::Arbor, "as_like", E::Names),
    row(T::Arbor, "cock", E::YesNo),
    row(T::Arbor, "spread", E::MeasureSpreads),
    usual(T::Arbor, "at_mm", E::Point, -2000.0, 2000.0),
    usual(T::Arbor, "pivot_mm", E::Number, 0.1, 40.0),
    usual(T::Arbor, "hole_mm", E::Number, 0.1, 45.0),
    usual(T::Arbor, "pivot_long_mm", E::Positive, 0.3, 60.0),
    usual(T::Arbor, "end_shake_mm", E::NotNegative, 0.0, 3.0),
    usual(T::Arbor, "turn_s", E::Positive, 0.5, 3_200_000.0),
    usual(T::Arbor, "winding_turns", E::Positive, 0.5, 300.0),
    usual(T::Arbor, "beats_per_turn", E::Positive, 1.0, 400.0),
    usual(T::Arbor, "pendulum_mm", E::Number, 15.0, 5000.0),
    usual(T::Arbor, "pendulum_half_arc_deg", E::Number, 0.2, 400.0),
    usual(T::Arbor, "pendulum_g", E::Number, 1.0, 400_000.0),
    usual(T::Arbor, "pendulum_nut_mm", E::Number, 0.1, 3.0),
    usual(T::Arbor, "suspension_mm", E::Number, 1.0, 200.0),
    usual(T::Arbor, "suspension_wide_mm", E::Number, 0.5, 120.0),
    usual(T::Arbor, "suspension_thick_mm", E::Number, 0.02, 1.5),
    usual(T::Arbor, "spring_width_mm", E::Number, 1.0, 100.0),
    usual(T::Arbor, "spring_thick_mm", E::Number, 0.05, 2.5),
    usual(T::Arbor, "spring_long_mm", E::Number, 150.0, 8000.0),
    usual(T::Arbor, "spring_arbor_mm", E::Number, 2.0, 60.0),
    usual(T::Arbor, "spring_opens_mm", E::Number, 15.0, 500.0),
    usual(T::Arbor, "spring_free_turns", E::Number, 0.5, 60.0),
    usual(T::Arbor, "barrel_inside_mm", E::Number, 8.0, 200.0),
    usual(T::Arbor, "barrel_high_mm", E::Number, 2.0, 120.0),
    usual(T::Arbor, "weight_g", E::Number, 50.0, 1_000_000.0),
    usual(T::Arbor, "drum_mm", E::Number, 8.0, 1000.0),
    usual(T::Arbor, "cord_mm", E::Number, 0.3, 30.0),
    usual(T::Arbor, "double_cord_mm", E::Number, 0.3, 30.0),
    usual(T::Arbor, "fall_mm", E::Number, 100.0, 50_000.0),
    row(T::Part, "teeth", E::Count(Teeth::BOUNDS)),
    row(T::Part, "form", E::OneOf(FORMS)),
    row(T::Mesh, "driver", E::ArborPart),
    row(T::Mesh, "driven", E::ArborPart),
    row(T::Mesh, "internal", E::YesNo),
    row(T::Mesh, "lash_teeth", E::Lash),
    row(T::Mesh, "reached", E::OneOf(REACHED)),
    usual(T::Mesh, "centre_mm", E::Positive, 2.0, 1500.0),
    row(T::Mesh, "spread", E::MeasureSpreads),
    row(T::Strike, "kind", E::Text),
    row(T::Strike, "asked", E::Table),
    row(T::Strike, "counted_by", E::OneOf(COUNTERS)),
    row(T::Strike, "blows", E::OneOf(STRUCK)),
    row(T::Strike, "read_at", E::Name),
    usual(T::Strike, "blows_per_turn", E::Positive, 0.05, 156.0),
    usual(T::Strike, "hold_deg", E::Hold, 0.0, 20.0),
    row(T::Strike, "cycle_hours", E::Count(DAY)),
    usual(T::Strike, "pace_s", E::Positive, 0.2, 6.0),
    usual(T::Strike, "pace_spread_s", E::NotNegative, 0.0, 1.0),
    usual(T::Strike, "fall_s", E::Positive, 0.01, 0.5),
    usual(T::Strike, "fall_spread_s", E::NotNegative, 0.0, 0.2),
    row(T::Moment, "id", E::Name),
    row(T::Moment, "arbor", E::Name),
    row(T::Moment, "says", E::Text),
    row(T::Witness, "id", E::Name),
    row(T::Witness, "says", E::Text),
    row(T::Witness, "on", E::Name),
    row(T::Witness, "kind", E::Kind(WitnessKind::WORDS)),
    row(T::Witness, "repeats", E::Count(Repeats::BOUNDS)),
    usual(T::Witness, "window_deg", E::Pair, -540.0, 540.0),
    usual(T::Witness, "best_deg", E::Number, -360.0, 360.0),
    row(T::Witness, "at", E::Name),
    row(T::Witness, "slot_deg", E::Positive),
    row(T::Witness, "tip_deg", E::Positive),
    row(T::Witness, "arm_oclock", E::Oclock),
    row(T::Track, "id", E::Name),
    row(T::Track, "on", E::Name),
    row(T::Track, "hours", E::Positive),
    row(T::Track, "counts", E::Counts(PLACES)),
    row(T::Track, "notches_deg", E::Numbers),
    row(T::Track, "places_deg", E::Numbers),
    row(T::Track, "pins", E::Count(AROUND)),
    row(T::Track, "divisions", E::Count(AROUND)),
    row(T::Track, "steps", E::Numbers),
    row(T::Track, "outline", E::Outline),
    row(T::Track, "slot_deg", E::Positive),
    row(T::Track, "ramp_deg", E::NotNegative),
    row(T::Track, "first_deg", E::Number),
    row(T::Track, "at", E::Numbers),
    row(T::Track, "rise_deg", E::Positive),
    row(T::Track, "hold_deg", E::NotNegative),
    row(T::Track, "heights", E::Heights),
    row(T::Track, "from_deg", E::Number),
    row(T::Track, "star_minute", E::Minute),
    row(T::Track, "held_by", E::OneOf(HELD)),
    row(T::Track, "usual", E::KeysBeside),
    row(T::Track, "spread_deg", E::Spreads),
    row(T::Pin, "id", E::Name),
    row(T::Pin, "on", E::Name),
    row(T::Pin, "at_deg", E::Numbers),
    row(T::Pin, "held_by", E::OneOf(HELD)),
    row(T::Pin, "usual", E::KeysBeside),
    row(T::Pin, "spread_deg", E::Spreads),
    row(T::Lever, "id", E::Name),
    row(T::Lever, "on", E::Name),
    row(T::Lever, "kind", E::Kind(LeverKind::WORDS)),
    row(T::Lever, "feels", E::Name),
    row(T::Lever, "tip_deg", E::NotNegative),
    usual(T::Lever, "lift_deg", E::Positive, 0.1, 120.0),
    row(T::Lever, "locks", E::YesNo),
    row(T::Lever, "strikes", E::Text),
    row(T::Lever, "stops", E::Name),
    usual(T::Lever, "below_deg", E::Positive, 0.1, 120.0),
    usual(T::Lever, "above_deg", E::Positive, 0.1, 120.0),
    usual(T::Lever, "further_deg", E::Number, -360.0, 360.0),
    row(T::Lever, "lifts", E::Name),
    row(T::Lever, "made", E::OneOf(MADE)),
    usual(T::Lever, "from_deg", E::NotNegative, 0.0, 120.0),
    row(T::Lever, "usual", E::KeysBeside),
    row(T::Lever, "spread_deg", E::Spreads),
    row(T::Rack, "snail", E::Name),
    usual(T::Rack, "tail_deg", E::NotNegative, 0.0, 60.0),
    row(T::Rack, "teeth", E::Count(RACK_TEETH)),
    usual(T::Rack, "tooth_deg", E::Positive, 0.2, 20.0),
    row(T::Rack, "pallet", E::Name),
    row(T::Rack, "hook", E::Name),
    usual(T::Rack, "free_deg", E::Positive, 0.1, 120.0),
    row(T::Rack, "enters_teeth", E::PartOfTooth),
    row(T::Rack, "usual", E::KeysBeside),
    row(T::Rack, "spread_deg", E::Spreads),
    row(T::Chime, "notes", E::Counts(PLACES)),
    row(T::Pillar, "id", E::Name),
    usual(T::Pillar, "at_mm", E::Point, -2000.0, 2000.0),
    row(T::Pillar, "fixing", E::OneOf(FIXINGS)),
    usual(T::Pillar, "pitch_mm", E::Positive, 0.15, 4.0),
    row(T::Pivot, "id", E::Name),
    usual(T::Pivot, "at_mm", E::Point, -2000.0, 2000.0),
    usual(T::Pivot, "pivot_long_mm", E::Positive, 0.3, 60.0),
    usual(T::Pivot, "end_shake_mm", E::NotNegative, 0.0, 3.0),
    row(T::Fixture, "id", E::Name),
    row(T::Fixture, "kind", E::OneOf(FIXTURES)),
    usual(T::Fixture, "at_mm", E::Point, -2000.0, 2000.0),
    usual(T::Fixture, "across_mm", E::Positive, 1.5, 1000.0),
    row(T::Plates, "placed", E::OneOf(PLACED)),
    row(T::Plates, "lifted", E::OneOf(PLATES)),
    usual(T::Plates, "bends_mm", E::NotNegative, 0.0, 3.0),
    usual(T::Plates, "pin_lift_mm", E::Positive, 0.3, 30.0),
    usual(T::Plates, "thick_mm", E::Positive, 0.5, 30.0),
];

/// What a part is commonly called, so that a slip in it can be told.
pub(crate) const PARTS: &[&str] = &["wheel", "pinion", "count_pinion", "ring", "escape_wheel"];

/// The end of the key that tells a part's size over its teeth.
pub(crate) const OUTSIDE: &str = "_outside_mm";

/// The row of a key, where there is one.
pub fn find(table: SheetTable, key: &str) -> Option<&'static Row> {
    let row = |key: &str| ROWS.iter().find(|row| row.table == table && row.key == key);
    row(key).or_else(|| match table {
        SheetTable::Arbor if key.ends_with(OUTSIDE) => row("PART_outside_mm"),
        _ => None,
    })
}

/// The key that was probably meant by one that is none, where those of `there` stand already. A key without its unit, or with
/// another, is told first; then the nearest, and of those that stand there only where no other is near.
pub(crate) fn meant(got: &str, table: SheetTable, there: &[&str]) -> Option<&'static str> {
    let got = got.trim().to_lowercase().replace(['-', ' '], "_");
    let keys = || table.keys().into_iter();
    let absent = || keys().filter(|key| !there.contains(key));
    let pick = |of: Vec<&'static str>| {
        let near = movement::near(&got, of.iter().copied());
        near.or_else(|| of.first().copied())
    };
    if let Some(same) = keys().find(|key| *key == got) {
        return Some(same);
    }
    let unitless = absent().filter(|key| stem(key) == Some(&got));
    let other_unit = absent().filter(|key| stem(key).is_some() && stem(key) == stem_of_any(&got));
    // Of two keys of one unit, the unit makes neither more like the other.
    let same_unit = || {
        let (end, _) = KeyUnit::ALL.iter().find(|(end, _)| got.ends_with(end))?;
        let stems = absent().filter_map(|key| key.strip_suffix(end));
        let near = movement::near(got.strip_suffix(end)?, stems)?;
        absent().find(|key| key.strip_suffix(end) == Some(near))
    };
    if let Some(near) = pick(unitless.collect())
        .or_else(|| pick(other_unit.collect()))
        .or_else(same_unit)
    {
        return Some(near);
    }
    if table == SheetTable::Arbor && KeyUnit::of(&got).is_some() {
        return None;
    }
    movement::near(&got, absent())
        .or_else(|| movement::near(&got, keys()))
        .or_else(|| {
            // A unit that was written wrongly on a stem that was, too.
            let stems = absent().filter_map(stem);
            let near = movement::near(stem_of_any(&got)?, stems)?;
            absent().find(|key| stem(key) == Some(near))
        })
}

/// The key that was probably meant by what was taken for a toothed part: a measurement, or a usual part with a slip in it.
pub(crate) fn meant_of_part(name: &str, there: &[&str]) -> Option<&'static str> {
    if PARTS.contains(&name) {
        return None;
    }
    meant(name, SheetTable::Arbor, there).or_else(|| movement::near(name, PARTS.iter().copied()))
}

/// A key without the unit it ends in.
fn stem(key: &'static str) -> Option<&'static str> {
    let ends = KeyUnit::ALL.iter().map(|(end, _)| end);
    ends.filter_map(|end| key.strip_suffix(end)).next()
}

/// What was written without its last word, which was to be a unit.
fn stem_of_any(got: &str) -> Option<&str> {
    got.rsplit_once('_').map(|(stem, _)| stem)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_key_stands_twice_in_one_table() {
        for (i, row) in ROWS.iter().enumerate() {
            let twice = |other: &Row| other.table == row.table && other.key == row.key;
            assert!(!ROWS[..i].iter().any(twice), "{row:?}");
        }
    }

    #[test]
    fn the_key_that_was_meant() {
        for (table, got, key) in [
            (SheetTable::Arbor, "spring_width_cm", "spring_width_mm"),
            (SheetTable::Arbor, "spring_widht_mm", "spring_width_mm"),
            (SheetTable::Arbor, "spring-width-mm", "spring_width_mm"),
            (SheetTable::Arbor, "pivot", "pivot_mm"),
            (SheetTable::Arbor, "weight", "weight_g"),
            (SheetTable::Arbor, "weigth_kg", "weight_g"),
            (SheetTable::Arbor, "turns_s", "turn_s"),
            (SheetTable::Arbor, "pendulum_cm", "pendulum_mm"),
            (SheetTable::Witness, "tip_rad", "tip_deg"),
            (SheetTable::Witness, "repeat", "repeats"),
            (SheetTable::Lever, "lift", "lift_deg"),
            (SheetTable::Sheet, "pillars", "pillar"),
            (SheetTable::Arbor, "pviot_mm", "pivot_mm"),
            (SheetTable::Arbor, "pivot_mn", "pivot_mm"),
        ] {
            assert_eq!(meant(got, table, &[]), Some(key), "{got}");
        }
        assert_eq!(meant("no", SheetTable::Witness, &["id"]), Some("on"));
        assert_eq!(meant("colour", SheetTable::Strike, &[]), None);
        assert_eq!(meant("rim_mm", SheetTable::Arbor, &[]), None);
    }

    #[test]
    fn each_usual_range_has_some_width() {
        for row in ROWS {
            assert!(row.usual.is_none_or(|(from, to)| from < to), "{row:?}");
        }
    }
}
