//! Rules that counts must keep, in whole numbers only, so that "fits" is a matter of counting.

use quantity::{BigInt, Exact};

/// A ratio of whole numbers, in whatever terms it is written: only products are compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fraction<N = u64> {
    /// Above the line.
    pub above: N,
    /// Below it.
    pub below: N,
}

/// `least ≤ Π countᵢ^powerᵢ ≤ most`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Product {
    /// The power of each unknown count.
    pub powers: Vec<i32>,
    /// The least it may be.
    pub least: Fraction,
    /// The most.
    pub most: Fraction,
}

/// `times · Π countᵢ^powerᵢ` is a whole number.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Whole {
    /// The power of each unknown count.
    pub powers: Vec<i32>,
    /// What is multiplied with.
    pub times: Fraction,
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
fn fits(x: &Exact) -> Option<Fraction> {
    let word = |n: &BigInt| u64::try_from(n.clone()).ok().filter(|n| *n <= BEYOND);
    Some(Fraction {
        above: word(x.numer())?,
        below: word(x.denom())?,
    })
}

/// The ratio itself, or one as near it as a word allows, below it or above.
fn near(x: &Exact, higher: bool) -> Fraction {
    if let Some(fits) = fits(x) {
        return fits;
    }
    let mut shift = x.numer().bits().max(x.denom().bits()).saturating_sub(59);
    loop {
        let shifted = |n: &BigInt, up: bool| {
            let floor: BigInt = n >> shift;
            u64::try_from(floor + i32::from(up)).unwrap_or(BEYOND)
        };
        let (above, below) = (shifted(x.numer(), higher), shifted(x.denom(), !higher));
        if below > 0 || shift == 0 {
            return Fraction {
                above,
                below: below.max(1),
            };
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
                let is = product(&rule.powers, counts);
                is.at_least(rule.least.widened()) && rule.most.widened().at_least(is)
            }
            Rule::Whole(rule) => {
                let is = product(&rule.powers, counts);
                let below = is.below * u128::from(rule.times.below);
                // What is above may be as long as the word of `times`; only what is left over of it counts.
                (is.above % below)
                    .checked_mul(u128::from(rule.times.above))
                    .map_or_else(
                        || (BigInt::from(is.above) * rule.times.above) % below == BigInt::from(0),
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

impl Fraction {
    /// The same, with room to multiply.
    pub(crate) fn widened(self) -> Fraction<u128> {
        Fraction {
            above: self.above.into(),
            below: self.below.into(),
        }
    }
}

impl Fraction<u128> {
    /// Nothing multiplied yet.
    pub(crate) const ONE: Fraction<u128> = Fraction { above: 1, below: 1 };

    fn at_least(self, other: Fraction<u128>) -> bool {
        self.above * other.below >= other.above * self.below
    }
}

/// The product of counts above and below the line.
fn product(powers: &[i32], counts: &[u16]) -> Fraction<u128> {
    let mut ratio = Fraction::ONE;
    for (power, count) in powers.iter().zip(counts) {
        let count = u128::from(*count);
        for _ in 0..power.unsigned_abs() {
            if *power > 0 {
                ratio.above *= count;
            } else {
                ratio.below *= count;
            }
        }
    }
    ratio
}
