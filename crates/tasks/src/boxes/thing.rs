//! What is measured in a box: under which key it stands on a sheet, and what it is.

use sheet::SheetTable;

/// What a box holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BoxHolds {
    /// A length.
    Length,
    /// A mass.
    Mass,
    /// An angle.
    Angle,
    /// A plain number.
    Number,
}

/// Something that is measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeasuredThing {
    /// How wide a spring is.
    SpringWidth,
    /// How thick it is.
    SpringThick,
    /// How long it is, laid out.
    SpringLong,
    /// Across the arbor that it is wound on.
    SpringArbor,
    /// How far an open spring opens, across.
    SpringOpens,
    /// Across a barrel, inside.
    BarrelInside,
    /// How high a barrel is, inside.
    BarrelHigh,
    /// Turns of the key from run down to wound up.
    WindingTurns,
    /// How heavy a weight is.
    Weight,
    /// Across the drum.
    Drum,
    /// How thick the cord is.
    Cord,
    /// The same of one that runs over a pulley.
    DoubleCord,
    /// How far the weight falls.
    Fall,
    /// From the bend of the suspension to the middle of the bob.
    Pendulum,
    /// How far it swings to one side.
    HalfArc,
    /// How heavy bob and rod are.
    Bob,
    /// How far the nut goes in one turn.
    NutPitch,
    /// How long the suspension spring is free between its chops.
    Suspension,
    /// How wide it is, all its strips together.
    SuspensionWide,
    /// How thick each strip is.
    SuspensionThick,
    /// Across a pivot.
    Pivot,
    /// Across its hole.
    Hole,
    /// From one arbor's middle to the next.
    Centres,
    /// Across the teeth.
    Outside,
    /// How much a mesh shakes, in parts of a tooth.
    Lash,
}

use BoxHolds as H;
use MeasuredThing as M;
use SheetTable as T;

/// A row: what it is, where it stands on a sheet, under which key, and what it holds.
struct ThingRow {
    thing: M,
    table: T,
    key: &'static str,
    holds: H,
}

const fn on_arbor(thing: M, key: &'static str, holds: H) -> ThingRow {
    let table = T::Arbor;
    ThingRow {
        thing,
        table,
        key,
        holds,
    }
}

const fn on_mesh(thing: M, key: &'static str, holds: H) -> ThingRow {
    let table = T::Mesh;
    ThingRow {
        thing,
        table,
        key,
        holds,
    }
}

const ROWS: [ThingRow; 25] = [
    on_arbor(M::SpringWidth, "spring_width_mm", H::Length),
    on_arbor(M::SpringThick, "spring_thick_mm", H::Length),
    on_arbor(M::SpringLong, "spring_long_mm", H::Length),
    on_arbor(M::SpringArbor, "spring_arbor_mm", H::Length),
    on_arbor(M::SpringOpens, "spring_opens_mm", H::Length),
    on_arbor(M::BarrelInside, "barrel_inside_mm", H::Length),
    on_arbor(M::BarrelHigh, "barrel_high_mm", H::Length),
    on_arbor(M::WindingTurns, "winding_turns", H::Number),
    on_arbor(M::Weight, "weight_g", H::Mass),
    on_arbor(M::Drum, "drum_mm", H::Length),
    on_arbor(M::Cord, "cord_mm", H::Length),
    on_arbor(M::DoubleCord, "double_cord_mm", H::Length),
    on_arbor(M::Fall, "fall_mm", H::Length),
    on_arbor(M::Pendulum, "pendulum_mm", H::Length),
    on_arbor(M::HalfArc, "pendulum_half_arc_deg", H::Angle),
    on_arbor(M::Bob, "pendulum_g", H::Mass),
    on_arbor(M::NutPitch, "pendulum_nut_mm", H::Length),
    on_arbor(M::Suspension, "suspension_mm", H::Length),
    on_arbor(M::SuspensionWide, "suspension_wide_mm", H::Length),
    on_arbor(M::SuspensionThick, "suspension_thick_mm", H::Length),
    on_arbor(M::Pivot, "pivot_mm", H::Length),
    on_arbor(M::Hole, "hole_mm", H::Length),
    on_mesh(M::Centres, "centre_mm", H::Length),
    on_arbor(M::Outside, "PART_outside_mm", H::Length),
    on_mesh(M::Lash, "lash_teeth", H::Number),
];

impl MeasuredThing {
    /// All of them.
    pub fn all() -> impl Iterator<Item = MeasuredThing> {
        ROWS.iter().map(|row| row.thing)
    }

    fn row(self) -> &'static ThingRow {
        // Each has its row, which a test sees to; the first is never meant for another.
        ROWS.iter()
            .find(|row| row.thing == self)
            .unwrap_or(&ROWS[0])
    }

    /// The key under which it stands on a sheet; `PART` stands for a part's own name.
    pub fn key(self) -> &'static str {
        self.row().key
    }

    /// The table that the key stands in.
    pub fn table(self) -> SheetTable {
        self.row().table
    }

    /// What a box for it holds.
    pub fn holds(self) -> BoxHolds {
        self.row().holds
    }

    /// Its key without the unit: how messages choose by it.
    pub fn word(self) -> &'static str {
        let key = self.key();
        let stem = |unit: &str| key.strip_suffix(unit);
        match self {
            // Its length has the stem already.
            M::Bob => "pendulum_bob",
            M::Outside => "outside",
            _ => ["_mm", "_g", "_deg", "_teeth"]
                .into_iter()
                .find_map(stem)
                .unwrap_or(key),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_stands_on_a_sheet() {
        for row in ROWS {
            assert!(
                sheet::keys::find(row.table, row.key).is_some(),
                "{}",
                row.key
            );
            assert_eq!(row.thing.key(), row.key);
        }
    }
}
