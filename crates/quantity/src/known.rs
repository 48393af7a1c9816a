//! What is measured: each quantity with its unit in its name, and its spread beside it.

/// A quantity of nature, kept as a plain number of one unit that sums are done in.
pub trait Measure: Copy {
    /// So many of the unit that sums are done in.
    fn of(base: f64) -> Self;
    /// As many of that unit.
    fn base(self) -> f64;
}

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident { $(#[$base_doc:meta])* $base:ident, $as_base:ident; $($(#[$unit_doc:meta])* $unit:ident, $as_unit:ident = $times:expr;)* }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
        pub struct $name(f64);
        impl $name {
            $(#[$base_doc])*
            pub fn $base(x: f64) -> $name {
                $name(x)
            }
            $(#[$base_doc])*
            pub fn $as_base(self) -> f64 {
                self.0
            }
            $(
                $(#[$unit_doc])*
                pub fn $unit(x: f64) -> $name {
                    $name(x * $times)
                }
                $(#[$unit_doc])*
                pub fn $as_unit(self) -> f64 {
                    self.0 / $times
                }
            )*
        }
        impl Measure for $name {
            fn of(base: f64) -> $name {
                $name(base)
            }
            fn base(self) -> f64 {
                self.0
            }
        }
    };
}

measure!(
    /// A length.
    Length {
        /// In millimetres.
        mm, as_mm;
        /// In inches of exactly 25.4 mm.
        inch, as_inch = Length::MM_IN_INCH;
        /// In metres.
        metres, as_metres = 1000.0;
    }
);
impl Length {
    /// Millimetres in an inch, by definition since 1959 (NIST Special Publication 811, from memory).
    pub const MM_IN_INCH: f64 = 25.4;
}

measure!(
    /// A mass.
    Mass {
        /// In grams.
        g, as_g;
        /// In kilograms.
        kg, as_kg = 1000.0;
        /// In pounds of exactly 453.59237 g.
        lb, as_lb = 453.592_37;
        /// In ounces, sixteen to the pound.
        oz, as_oz = 28.349_523_125;
    }
);
measure!(
    /// A turning moment.
    Torque {
        /// In newton millimetres.
        n_mm, as_n_mm;
    }
);
measure!(
    /// Energy, or work.
    Energy {
        /// In joules.
        joules, as_joules;
    }
);
measure!(
    /// A stretch of time.
    Duration {
        /// In seconds.
        s, as_s;
        /// In hours.
        hours, as_hours = 3600.0;
        /// In days of 24 hours.
        days, as_days = 86400.0;
    }
);
measure!(
    /// How much a clock gains; what it loses is less than nothing.
    Rate {
        /// In seconds a day.
        s_per_day, as_s_per_day;
    }
);
measure!(
    /// How often something happens.
    Pace {
        /// So many an hour.
        per_hour, as_per_hour;
    }
);
measure!(
    /// An acceleration, such as that of falling.
    Gravity {
        /// In metres a second, each second.
        m_per_s2, as_m_per_s2;
    }
);
measure!(
    /// A stress, or a stiffness of a material.
    Stress {
        /// In newtons on a square millimetre, which are megapascals.
        mpa, as_mpa;
        /// In gigapascals.
        gpa, as_gpa = 1000.0;
    }
);
measure!(
    /// A number of nothing in particular: turns, coils, parts of a whole.
    Number {
        /// As it is.
        plain, as_plain;
    }
);
measure!(
    /// An angle that was measured.
    Slant {
        /// In degrees.
        deg, as_deg;
    }
);
measure!(
    /// A difference of temperature.
    Warmth {
        /// In degrees of the Celsius scale.
        celsius, as_celsius;
        /// In degrees of the Fahrenheit scale.
        fahrenheit, as_fahrenheit = 5.0 / 9.0;
    }
);
measure!(
    /// Mass in a volume.
    Density {
        /// In kilograms a cubic metre.
        kg_per_m3, as_kg_per_m3;
    }
);

/// A quantity and how surely it is known: one standard deviation.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Known<Q> {
    /// The likeliest.
    pub value: Q,
    /// One standard deviation; nothing where it is fixed by count or by definition.
    pub spread: Q,
}

/// How surely a tool measures, as one standard deviation: the larger of the two.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tool {
    /// At least so much, in the unit that sums are done in.
    pub least: f64,
    /// And at least such a part of what is measured.
    pub part: f64,
}

impl<Q: Measure> Known<Q> {
    /// A value with its spread; the spread's sign does not matter.
    pub fn new(value: Q, spread: Q) -> Known<Q> {
        let spread = Q::of(spread.base().abs());
        Known { value, spread }
    }

    /// A value that has no spread.
    pub fn sure(value: Q) -> Known<Q> {
        Known::new(value, Q::of(0.0))
    }

    /// With a spread that is so large a part of the value.
    pub fn within(value: Q, part: f64) -> Known<Q> {
        Known::new(value, Q::of(value.base() * part))
    }

    /// As a tool measures.
    pub fn measured(value: Q, tool: Tool) -> Known<Q> {
        let of_it = tool.part * value.base().abs();
        Known::new(value, Q::of(tool.least.max(of_it)))
    }

    /// Value and spread as plain numbers, to go into [`propagate`].
    pub fn given(&self) -> Given {
        Given {
            value: self.value.base(),
            spread: self.spread.base(),
        }
    }

    /// Whether it is a finite number with a finite spread.
    pub fn is_finite(&self) -> bool {
        self.value.base().is_finite() && self.spread.base().is_finite()
    }
}

/// A plain number that goes into a sum, with its spread.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Given {
    /// The likeliest.
    pub value: f64,
    /// One standard deviation.
    pub spread: f64,
}

/// What follows from several numbers that are independent of each other, with its spread.
///
/// # Formula
/// `s² = Σ ((f(x + sₓ) − f(x − sₓ)) / 2)²`: the first-order law, with each number moved by its own spread.
///
/// ```
/// use quantity::{Known, Length, propagate};
/// let side = Known::new(Length::mm(10.0), Length::mm(0.1));
/// let area: Known<quantity::Number> = propagate([side.given(), side.given()], |[a, b]| a * b);
/// assert!((area.value.as_plain() - 100.0).abs() < 1e-12);
/// assert!((area.spread.as_plain() - 2.0_f64.sqrt()).abs() < 1e-12);
/// ```
pub fn propagate<Q: Measure, const N: usize>(
    from: [Given; N],
    f: impl Fn([f64; N]) -> f64,
) -> Known<Q> {
    let value = f(from.map(|x| x.value));
    let mut variance = 0.0;
    for i in 0..N {
        if from[i].spread == 0.0 {
            continue;
        }
        let moved = |by: f64| {
            let mut x = from.map(|x| x.value);
            x[i] += by * from[i].spread;
            f(x)
        };
        variance += ((moved(1.0) - moved(-1.0)) / 2.0).powi(2);
    }
    Known::new(Q::of(value), Q::of(variance.sqrt()))
}
