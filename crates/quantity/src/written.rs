//! What can be measured and written: its units, what more than that nothing of a clock has, and how surely it is measured.

use crate::tools::{
    ARC_LEAST, LENGTH_LEAST, LENGTH_PART, MASS_LEAST, MASS_PART, RATE_LEAST, RUN_PART, WARMTH_LEAST,
};
use crate::{
    DecimalError, Duration, Exact, Length, Mass, Measure, Number, Pace, Rate, Slant, Tool, Warmth,
    whole,
};

/// Why what was written is no measurement.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unwritten {
    /// The number is none.
    #[error("the number cannot be read")]
    Number(#[source] DecimalError),
    /// The unit is none of those it may have.
    #[error("unknown unit `{got}`, expected one of: {}", .units.join(", "))]
    Unit {
        /// What was written.
        got: String,
        /// What may be.
        units: Vec<&'static str>,
    },
    /// No unit is written, and none can be meant.
    #[error("no unit, expected one of: {}", .units.join(", "))]
    NoUnit {
        /// What may be.
        units: Vec<&'static str>,
    },
    /// A comma stands before three figures: it may be a point or part thousands.
    #[error("`{point}` or `{whole}`")]
    Thousands {
        /// As the one.
        point: String,
        /// As the other.
        whole: String,
    },
    /// Several measures that are not of one thing: they lie too far apart.
    #[error("measures that are not of one thing")]
    Apart,
    /// More than anything of a clock is.
    #[error("more than anything of a clock is")]
    TooMuch,
    /// A spread that is no number, or less than nothing.
    #[error("the spread is no number from 0")]
    Spread,
}

/// A unit as it is written, and how many of the unit that sums are done in one of it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WrittenUnit {
    /// Its word.
    pub word: &'static str,
    /// What it is called besides.
    pub also: &'static [&'static str],
    over: i64,
    under: i64,
}

impl WrittenUnit {
    const fn new(word: &'static str, also: &'static [&'static str], over: i64) -> WrittenUnit {
        WrittenUnit {
            word,
            also,
            over,
            under: 1,
        }
    }

    const fn part(self, under: i64) -> WrittenUnit {
        WrittenUnit { under, ..self }
    }

    /// How many of the unit that sums are done in it is, exactly.
    pub fn times(&self) -> Exact {
        whole(self.over) / whole(self.under)
    }

    pub(crate) fn is_called(&self, word: &str) -> bool {
        self.word == word || self.also.contains(&word)
    }
}

/// A quantity that can be written with a unit.
pub trait Writable: Measure + 'static {
    /// Its units; the first is meant where none is written, if one may be left out.
    const UNITS: &'static [WrittenUnit];
    /// Whether all measures of one such thing have one sign, and none of them is about nought.
    const ONE_SIGN: bool = true;
    /// Whether a unit may be left out.
    const BARE: bool = true;
    /// More than anything of a clock is, in the unit that sums are done in.
    const MOST: f64;
    /// How surely such a thing is measured where nothing is said, for [`crate::Known::measured`].
    const USUAL: Tool;
}

impl Writable for Length {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("mm", &[], 1),
        // An inch is 25.4 mm exactly (international yard and pound agreement, 1959).
        WrittenUnit::new("in", &["inch", "inches", "\"", "zoll"], 254).part(10),
        WrittenUnit::new("m", &[], 1000),
        WrittenUnit::new("cm", &[], 10),
    ];
    /// Ten kilometres: heights above the sea are lengths too.
    const MOST: f64 = 1e7;
    /// A rule or a calliper in a hand.
    const USUAL: Tool = Tool {
        least: LENGTH_LEAST.value,
        part: LENGTH_PART.value,
    };
}
impl Writable for Mass {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("g", &[], 1),
        WrittenUnit::new("kg", &[], 1000),
        // A pound is 0.453 592 37 kg exactly (the same agreement), and has sixteen ounces.
        WrittenUnit::new("lb", &["lbs"], 45_359_237).part(100_000),
        WrittenUnit::new("oz", &[], 45_359_237).part(1_600_000),
    ];
    /// Ten tonnes.
    const MOST: f64 = 1e7;
    /// A small balance for what is light, scales for what is heavy.
    const USUAL: Tool = Tool {
        least: MASS_LEAST.value,
        part: MASS_PART.value,
    };
}
impl Writable for Duration {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("days", &["d", "day"], 86_400),
        WrittenUnit::new("h", &["hours", "hour"], 3600),
        WrittenUnit::new("weeks", &["week"], 604_800),
        WrittenUnit::new("min", &[], 60),
        WrittenUnit::new("s", &[], 1),
    ];
    /// 8 may be days or hours.
    const BARE: bool = false;
    /// Ten years.
    const MOST: f64 = 3.2e8;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: RUN_PART.value,
    };
}
impl Writable for Rate {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("s/day", &[], 1),
        WrittenUnit::new("min/day", &[], 60),
        WrittenUnit::new("s/week", &[], 1).part(7),
    ];
    const ONE_SIGN: bool = false;
    /// Half a day.
    const MOST: f64 = 43200.0;
    /// Against a good clock over a day or two.
    const USUAL: Tool = Tool {
        least: RATE_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Pace {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("/h", &[], 1),
        WrittenUnit::new("/min", &[], 60),
    ];
    /// Three hundred a second.
    const MOST: f64 = 1e6;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: 0.0,
    };
}
impl Writable for Slant {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("deg", &["°", "degree", "degrees"], 1),
        WrittenUnit::new("'", &["min"], 1).part(60),
        WrittenUnit::new("\"", &[], 1).part(3600),
    ];
    const ONE_SIGN: bool = false;
    /// A turn.
    const MOST: f64 = 360.0;
    /// Half of what is read off a degree plate by eye.
    const USUAL: Tool = Tool {
        least: ARC_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Warmth {
    const UNITS: &'static [WrittenUnit] = &[
        WrittenUnit::new("C", &["°C", "°c"], 1),
        WrittenUnit::new("F", &["°F", "°f"], 5).part(9),
    ];
    const ONE_SIGN: bool = false;
    /// Warmer than any room by far.
    const MOST: f64 = 200.0;
    const USUAL: Tool = Tool {
        least: WARMTH_LEAST.value,
        part: 0.0,
    };
}
impl Writable for Number {
    const UNITS: &'static [WrittenUnit] = &[WrittenUnit::new("", &[], 1)];
    const ONE_SIGN: bool = false;
    const MOST: f64 = 1e6;
    const USUAL: Tool = Tool {
        least: 0.0,
        part: 0.0,
    };
}
