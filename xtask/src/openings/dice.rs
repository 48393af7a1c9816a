//! Chance from fixed seeds: the same study gives the same figures on every machine.

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;

/// What a throw is for. Hands and eyes throw apart, so that a player who looks more often meets the same hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Purpose {
    /// Which movements make up a fleet.
    Fleet,
    /// What hands do.
    Hands,
    /// What eyes see.
    Eyes,
    /// How a movement stood while it struck right.
    Stood,
}

/// Dice for one purpose.
#[derive(Debug, Clone)]
pub struct Dice(Pcg64);

impl Dice {
    /// The dice of one movement of one fleet, for one purpose.
    pub fn of(fleet: u64, movement: u64, purpose: Purpose) -> Dice {
        let purpose = match purpose {
            Purpose::Fleet => 0,
            Purpose::Hands => 1,
            Purpose::Eyes => 2,
            Purpose::Stood => 3,
        };
        Dice(Pcg64::seed_from_u64(
            (fleet << 40) | (movement << 8) | purpose,
        ))
    }

    /// A number from 0 up to 1, each as likely.
    pub fn even(&mut self) -> f64 {
        self.0.random()
    }

    /// A whole number below `n`, each as likely.
    pub fn below(&mut self, n: usize) -> usize {
        self.0.random_range(0..n)
    }

    /// A standard normal number.
    ///
    /// # Formula
    /// `√(−2 ln u) · cos 2πv` for even `u`, `v` (the polar form of two normals; the second is thrown away).
    pub fn normal(&mut self) -> f64 {
        let (u, v) = (1.0 - self.even(), self.even());
        // From libm, so that no machine's own logarithm rounds otherwise.
        libm::sqrt(-2.0 * libm::log(u)) * libm::cos(2.0 * std::f64::consts::PI * v)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The largest distance of the empirical from the true distribution, times √n, exceeds 1.63 one time in a hundred
    /// (Kolmogorov's distribution, from memory).
    const ONE_IN_A_HUNDRED: f64 = 1.63;

    #[test]
    fn normal_numbers_are_normal() {
        let mut dice = Dice::of(1, 2, Purpose::Eyes);
        let mut thrown: Vec<f64> = (0..40_000).map(|_| dice.normal()).collect();
        thrown.sort_by(f64::total_cmp);
        let n = thrown.len() as f64;
        let farthest = (thrown.iter().enumerate())
            .map(|(i, x)| {
                let true_share = 0.5 * libm::erfc(-x / std::f64::consts::SQRT_2);
                (true_share - i as f64 / n)
                    .abs()
                    .max((true_share - (i + 1) as f64 / n).abs())
            })
            .fold(0.0, f64::max);
        assert!(farthest * n.sqrt() < ONE_IN_A_HUNDRED, "{farthest}");
    }

    #[test]
    fn purposes_and_movements_throw_apart() {
        let first = |fleet, movement, purpose| Dice::of(fleet, movement, purpose).below(1 << 40);
        let all = [
            first(1, 1, Purpose::Hands),
            first(1, 1, Purpose::Eyes),
            first(1, 2, Purpose::Hands),
            first(2, 1, Purpose::Hands),
        ];
        for (i, a) in all.iter().enumerate() {
            assert!(all.iter().skip(i + 1).all(|b| a != b));
        }
        assert_eq!(first(1, 1, Purpose::Hands), first(1, 1, Purpose::Hands));
    }
}
