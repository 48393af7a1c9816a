//! Rules that counts must keep, in whole numbers only, so that "fits" is a matter of counting.

use quantity::{BigInt, Exact};

/// `least ≤ Π countᵢ^powerᵢ ≤ most`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Product {
    /// The power of each unknown count.
    pub powers: Vec<i32>,
    /// The least it may be, as a ratio of whole numbers.
    pub least: (u64, u64),
    /// The most.
    pub most: (u64, u64),
}

/// `times · Π countᵢ^powerᵢ` is a whole number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Whole {
    /// The power of each unknown count.
    pub powers: Vec<i32>,
    /// What is multiplied with, as a ratio of whole numbers.
    pub times: (u64, u64),
}

/// `Σ weightᵢ · countᵢ + plus ≥ 0`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LinearConstraint {
    /// What each unknown count is multiplied with.
    pub weights: Vec<i64>,
    /// What is added.
    pub plus: i64,
}

/// One rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rule {
    /// Of a product.
    Product(Product),
    /// Of a whole number.
    Whole(Whole),
    /// Of a sum.
    Line(LinearConstraint),
    /// One that no counts keep.
    Never,
}

/// What of a ratio no product of at most six counts of at most a thousand can reach.
const BEYOND: u64 = 1_000_000_000_000_000_000;

/// A ratio of two numbers that fit a machine's word, where it is one.
fn fits(x: &Exact) -> Option<(u64, u64)> {
    let word = |n: &BigInt| u64::try_from(n.clone()).ok().filter(|n| *n <= BEYOND);
    Some((word(x.numer())?, word(x.denom())?))
}

/// The ratio itself, or one as near it as a word allows, below it or above.
fn near(x: &Exact, above: bool) -> (u64, u64) {
    if let Some(fits) = fits(x) {
        return fits;
    }
    let mut shift = x.numer().bits().max(x.denom().bits()).saturating_sub(59);
    loop {
        let shifted = |n: &BigInt, up: bool| {
            let floor: BigInt = n >> shift;
            u64::try_from(floor + i32::from(up)).unwrap_or(BEYOND)
        };
        let pair = (shifted(x.numer(), above), shifted(x.denom(), !above));
        if pair.1 > 0 || shift == 0 {
            return (pair.0, pair.1.max(1));
        }
        shift -= 1;
    }
}

impl Rule {
    /// That `times · Π countᵢ^powerᵢ` lies between two numbers, ends included; the same number twice is that number.
    pub(crate) fn between(powers: Vec<i32>, times: &Exact, least: &Exact, most: &Exact) -> Rule {
        let (low, high) = (least / times, most / times);
        if low == high {
            // A product of so few counts is never a ratio of numbers that long.
            return match fits(&low) {
                Some(is) => Rule::Product(Product {
                    powers,
                    least: is,
                    most: is,
                }),
                None => Rule::Never,
            };
        }
        Rule::Product(Product {
            powers,
            least: near(&low, false),
            most: near(&high, true),
        })
    }

    /// That `times · Π countᵢ^powerᵢ` is a whole number.
    pub(crate) fn whole(powers: Vec<i32>, times: &Exact) -> Rule {
        match fits(times) {
            Some(times) => Rule::Whole(Whole { powers, times }),
            None => Rule::Never,
        }
    }

    /// Whether these counts keep it.
    pub fn keeps(&self, counts: &[u16]) -> bool {
        match self {
            Rule::Never => false,
            Rule::Product(rule) => {
                let (n, d) = product(&rule.powers, counts);
                at_least((n, d), widened(rule.least)) && at_least(widened(rule.most), (n, d))
            }
            Rule::Whole(rule) => {
                let (n, d) = product(&rule.powers, counts);
                let below = d * u128::from(rule.times.1);
                // `n` may be as long as the word of `times`; only what is left over of it counts.
                (n % below)
                    .checked_mul(u128::from(rule.times.0))
                    .map_or_else(
                        || (BigInt::from(n) * rule.times.0) % below == BigInt::from(0),
                        |left| left % below == 0,
                    )
            }
            Rule::Line(line) => {
                let sum: i128 = (line.weights.iter().zip(counts))
                    .map(|(w, x)| i128::from(*w) * i128::from(*x))
                    .sum();
                sum + i128::from(line.plus) >= 0
            }
        }
    }
}

/// A ratio of words, with room to multiply.
pub(crate) fn widened((n, d): (u64, u64)) -> (u128, u128) {
    (u128::from(n), u128::from(d))
}

/// Whether one ratio is at least another.
fn at_least(a: (u128, u128), b: (u128, u128)) -> bool {
    a.0 * b.1 >= b.0 * a.1
}

/// The product of counts above and below the line.
pub(crate) fn product(powers: &[i32], counts: &[u16]) -> (u128, u128) {
    let mut ratio = (1_u128, 1_u128);
    for (power, count) in powers.iter().zip(counts) {
        let count = u128::from(*count);
        for _ in 0..power.unsigned_abs() {
            if *power > 0 {
                ratio.0 *= count;
            } else {
                ratio.1 *= count;
            }
        }
    }
    ratio
}
