//! What warmth does to a rod.

use super::DAY;
use quantity::{Known, Number, Rate, Warmth, propagate};

/// What a rod is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rod {
    /// Deal, along the grain, dry and varnished.
    Deal,
    /// Tempered steel.
    Steel,
    /// Iron.
    Iron,
    /// Brass.
    Brass,
    /// Zinc.
    Zinc,
    /// Glass.
    Glass,
    /// Steel with 36 parts of nickel, of the common grade.
    NickelSteel,
    /// Fused quartz.
    Quartz,
}

impl Rod {
    /// Every material, by the word it is asked for with.
    pub const ALL: [(&'static str, Rod); 8] = [
        ("wood", Rod::Deal),
        ("steel", Rod::Steel),
        ("iron", Rod::Iron),
        ("brass", Rod::Brass),
        ("zinc", Rod::Zinc),
        ("glass", Rod::Glass),
        ("nickel-steel", Rod::NickelSteel),
        ("quartz", Rod::Quartz),
    ];

    /// How much of itself it grows for each degree Celsius.
    ///
    /// # Source
    /// E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 53, of 1000 °F, for deal, steel, iron, brass, zinc and
    /// flint glass; Smithsonian Physical Tables, table 239, for quartz; a common encyclopaedia for the nickel steel. The
    /// spreads are those between published tables: one part in three for wood and nickel steel, one in twenty for metals.
    pub fn growth(self) -> Known<Number> {
        let (per_celsius, part) = match self {
            Rod::Deal => (4.14e-6, 0.3),
            Rod::Steel => (11.52e-6, 0.05),
            Rod::Iron => (12.6e-6, 0.05),
            Rod::Brass => (18.0e-6, 0.05),
            Rod::Zinc => (28.8e-6, 0.05),
            Rod::Glass => (8.64e-6, 0.05),
            Rod::NickelSteel => (1.2e-6, 0.33),
            Rod::Quartz => (0.57e-6, 0.1),
        };
        Known::within(Number::plain(per_celsius), part)
    }
}

/// What a clock gains in a day when its rod is so much warmer; it loses.
///
/// # Formula
/// `86400 (1/√(1 + α ΔT) − 1)`, nearly `−43200 α ΔT`.
pub fn warmer(rod: Rod, by: Known<Warmth>) -> Known<Rate> {
    propagate([rod.growth().given(), by.given()], |[growth, by]| {
        DAY * (1.0 / (1.0 + growth * by).sqrt() - 1.0)
    })
}
