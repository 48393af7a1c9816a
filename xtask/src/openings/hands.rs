//! Clumsy hands: a wheel is turned the wrong way, or slips a tooth as the plates close.

use super::dice::Dice;

/// How sure hands are.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hands {
    /// The chance that a wheel is turned the wrong way, as many teeth.
    pub wrong_way: f64,
    /// The chance that it ends a tooth beside where it was meant, either way alike. Who slips did turn the right way.
    pub slip: f64,
}

/// What became of one mesh of an opening.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Went {
    /// As it was meant.
    AsSaid,
    /// As many teeth the other way.
    OtherWay,
    /// One tooth off, one way or the other.
    Slipped,
}

impl Hands {
    /// All that may come of turning so many teeth: what, how likely, how many teeth it then was.
    pub fn outcomes(self, teeth: i64) -> [(Went, f64, i64); 4] {
        let (wrong, slip) = (self.wrong_way, self.slip);
        [
            (Went::AsSaid, (1.0 - wrong) * (1.0 - slip), teeth),
            (Went::OtherWay, wrong * (1.0 - slip), -teeth),
            (Went::Slipped, 0.5 * slip, teeth + 1),
            (Went::Slipped, 0.5 * slip, teeth - 1),
        ]
    }

    /// Turns so many teeth: what came of it.
    pub fn turn(self, teeth: i64, dice: &mut Dice) -> (Went, i64) {
        let mut thrown = dice.even();
        let outcomes = self.outcomes(teeth);
        for (went, chance, done) in outcomes {
            if thrown < chance {
                return (went, done);
            }
            thrown -= chance;
        }
        // Rounding may leave a throw just below 1 over.
        (Went::AsSaid, teeth)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::openings::dice::Purpose;

    #[test]
    fn hands_do_what_is_said_of_them() {
        let hands = Hands {
            wrong_way: 0.10,
            slip: 0.03,
        };
        let n = 400_000u32;
        let mut counts = [0u32; 4];
        for movement in 0..n {
            // New dice each time, as in the study, where a movement takes a throw or two.
            let mut dice = Dice::of(7, movement.into(), Purpose::Hands);
            let (_, done) = hands.turn(3, &mut dice);
            let which = [3, -3, 4, 2]
                .iter()
                .position(|t| *t == done)
                .expect("one of the four");
            counts[which] += 1;
        }
        // Worked by hand: 0.9 · 0.97, 0.1 · 0.97, and half of 0.03 twice.
        let meant = [0.873, 0.097, 0.015, 0.015];
        let n = f64::from(n);
        let off: f64 = (counts.iter().zip(meant))
            .map(|(count, p)| (f64::from(*count) - n * p).powi(2) / (n * p))
            .sum();
        // Chi-squared of three degrees of freedom exceeds 21.1 one time in ten thousand (from memory).
        assert!(off < 21.1, "{counts:?}");
    }
}
