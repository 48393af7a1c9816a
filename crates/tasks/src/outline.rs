//! How loud a recording is from its beginning to its end, in memory that does not grow with it: so many steps at most, made twice as
//! long whenever they are full. What is heard in it is not known here.

/// Steps at most; between half of them and all are there once a recording has gone on for some minutes.
const MOST: usize = 16_384;

/// The loudest in each of equal steps.
#[derive(Debug, Clone, PartialEq)]
pub struct Outline {
    /// Samples in a step.
    step: usize,
    rate: f64,
    loud: Vec<f32>,
    /// The loudest of the step that is not full yet, and its samples so far.
    now: f32,
    filled: usize,
}

impl Outline {
    pub(crate) fn new(rate: u32) -> Outline {
        // A hundredth of a second is a whole number of samples at the usual rates.
        let step = usize::try_from(rate / 100).unwrap_or(0).max(1);
        Outline {
            step,
            rate: f64::from(rate),
            loud: Vec::new(),
            now: 0.0,
            filled: 0,
        }
    }

    pub(crate) fn hear(&mut self, mut sound: &[f32]) {
        while !sound.is_empty() {
            let (part, rest) = sound.split_at((self.step - self.filled).min(sound.len()));
            sound = rest;
            self.now = part.iter().fold(self.now, |most, x| most.max(x.abs()));
            self.filled += part.len();
            if self.filled == self.step {
                self.loud.push(self.now);
                (self.now, self.filled) = (0.0, 0);
            }
            if self.loud.len() == MOST {
                let halved = self.loud.chunks(2);
                self.loud = halved
                    .map(|two| two.iter().copied().fold(0.0, f32::max))
                    .collect();
                self.step *= 2;
            }
        }
    }

    /// The loudest in each step, 1 being all that a recording can hold.
    pub fn loud(&self) -> &[f32] {
        &self.loud
    }

    /// Seconds of one step.
    pub fn step_s(&self) -> f64 {
        // Steps are short and few: the number is exact.
        self.step as f64 / self.rate
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_takes_no_more_room_than_an_hour_and_a_tick_stays_where_it_was() {
        let mut outline = Outline::new(8_000);
        let second = vec![0.1; 8_000];
        let mut tick = second.clone();
        tick[4_000] = 0.9;
        for s in 0..4_000 {
            outline.hear(if s == 3_000 { &tick } else { &second });
        }
        assert!((MOST / 2..MOST).contains(&outline.loud().len()));
        let place = outline
            .loud()
            .iter()
            .position(|x| *x > 0.8)
            .expect("it is there");
        let at = place as f64 * outline.step_s();
        assert!(
            (3_000.0..3_001.0).contains(&(at + 0.5)) || (at - 3_000.5).abs() < outline.step_s(),
            "{at}"
        );
        assert_eq!(outline.loud().iter().filter(|x| **x > 0.8).count(), 1);
    }
}
