//! Loudness by octaves, some fifteen hundred times a second: what ticks and blows are looked for in.
//!
//! Each octave is split off by a short pair of filters (Daubechies, *Ten Lectures on Wavelets*, 1992, table 6.1, N = 3), the
//! lower half thinned out by two and split again, so that all octaves together cost twice the first. The sound thinned to
//! about twelve thousand samples a second falls out on the way, for bells. The lowest part is differenced: hum and wind
//! weigh little. This decides nothing.

/// Octaves split off the top, at most.
const MOST_SPLITS: usize = 4;
/// Samples that are worked on at once, a multiple of every frame.
const BLOCK: usize = 4096;

const TAPS: usize = 6;
const LOW: [f32; TAPS] = [
    0.332_670_55,
    0.806_891_5,
    0.459_877_5,
    -0.135_011_02,
    -0.085_441_27,
    0.035_226_29,
];

/// One pair of filters with what it remembers of the block before.
#[derive(Debug, Clone)]
struct Split {
    past: [f32; TAPS - 2],
    even: Vec<f32>,
    odd: Vec<f32>,
    low: Vec<f32>,
    high: Vec<f32>,
}

impl Split {
    fn new() -> Split {
        Split {
            past: [0.0; TAPS - 2],
            even: Vec::new(),
            odd: Vec::new(),
            low: Vec::new(),
            high: Vec::new(),
        }
    }

    /// Splits an even number of samples into half as many of each half.
    fn run(&mut self, x: &[f32]) {
        let n = x.len() / 2;
        self.even.clear();
        self.odd.clear();
        let (pairs, _) = self.past.as_chunks::<2>();
        self.even.extend(pairs.iter().map(|p| p[0]));
        self.odd.extend(pairs.iter().map(|p| p[1]));
        let (pairs, _) = x.as_chunks::<2>();
        self.even.extend(pairs.iter().map(|p| p[0]));
        self.odd.extend(pairs.iter().map(|p| p[1]));
        self.low.clear();
        self.low.resize(n, 0.0);
        self.high.clear();
        self.high.resize(n, 0.0);
        let [h0, h1, h2, h3, h4, h5] = LOW;
        let (e, o) = (&self.even[..n + 2], &self.odd[..n + 2]);
        for i in 0..n {
            let (e0, e1, e2) = (e[i], e[i + 1], e[i + 2]);
            let (o0, o1, o2) = (o[i], o[i + 1], o[i + 2]);
            self.low[i] = h0 * e0 + h1 * o0 + h2 * e1 + h3 * o1 + h4 * e2 + h5 * o2;
            self.high[i] = h5 * e0 - h4 * o0 + h3 * e1 - h2 * o1 + h1 * e2 - h0 * o2;
        }
        self.past.copy_from_slice(&x[x.len() - (TAPS - 2)..]);
    }
}

/// Splits sound into octaves as it comes.
#[derive(Debug, Clone)]
pub(crate) struct Bands {
    /// Halvings before anything else, for sound of very many samples a second.
    before: Vec<Split>,
    splits: Vec<Split>,
    /// Samples of the incoming sound in a frame.
    frame: usize,
    /// After how many halvings, the first ones counted too, the sound for bells falls out.
    bell_level: usize,
    rate: f64,
    waiting: Vec<f32>,
    last_low: f32,
}

/// What came out of some sound.
#[derive(Debug, Default)]
pub(crate) struct Octaves {
    /// Mean power of each frame, of each octave from the top, the lowest part last.
    pub(crate) power: Vec<Vec<f32>>,
    /// The sound thinned out for bells.
    pub(crate) thin: Vec<f32>,
}

impl Bands {
    /// For sound of so many samples a second.
    pub(crate) fn new(rate: u32) -> Bands {
        let mut halvings = 0;
        let mut working = rate;
        while working > 66_000 {
            working /= 2;
            halvings += 1;
        }
        // The frame is 0.5 to 1 ms, and the lowest octave that is split off holds at least two samples of it.
        let (splits, frame) = match working {
            30_000.. => (4, 32),
            15_000.. => (3, 16),
            _ => (2, 8),
        };
        let bell_level = match working {
            30_000.. => 2,
            15_000.. => 1,
            _ => 0,
        };
        debug_assert!(splits <= MOST_SPLITS);
        Bands {
            before: vec![Split::new(); halvings],
            splits: vec![Split::new(); splits],
            frame: frame << halvings,
            bell_level,
            rate: f64::from(rate),
            waiting: Vec::with_capacity(BLOCK),
            last_low: 0.0,
        }
    }

    /// Octaves, the lowest part counted.
    pub(crate) fn count(&self) -> usize {
        self.splits.len() + 1
    }

    /// Frames a second.
    pub(crate) fn frames_a_second(&self) -> f64 {
        self.rate / whole(self.frame)
    }

    /// Samples a second of the sound that is thinned out for bells.
    pub(crate) fn thin_a_second(&self) -> f64 {
        self.rate / whole(1 << (self.bell_level + self.before.len()))
    }

    /// Takes sound of any length; what does not fill a block waits for the next.
    pub(crate) fn hear(&mut self, mut sound: &[f32], out: &mut Octaves) {
        out.power.resize_with(self.count(), Vec::new);
        let block = BLOCK << self.before.len();
        if !self.waiting.is_empty() {
            let take = sound.len().min(block - self.waiting.len());
            self.waiting.extend_from_slice(&sound[..take]);
            sound = &sound[take..];
            if self.waiting.len() < block {
                return;
            }
            let waiting = std::mem::take(&mut self.waiting);
            self.block(&waiting, out);
            self.waiting = waiting;
            self.waiting.clear();
        }
        let whole = sound.chunks_exact(block);
        let rest = whole.remainder();
        for part in whole {
            self.block(part, out);
        }
        self.waiting.extend_from_slice(rest);
    }

    /// What still waits, filled up with silence to a whole frame and cut there.
    pub(crate) fn finish(&mut self, out: &mut Octaves) {
        out.power.resize_with(self.count(), Vec::new);
        let mut waiting = std::mem::take(&mut self.waiting);
        waiting.truncate(waiting.len() - waiting.len() % self.frame);
        if waiting.len() >= self.frame {
            self.block(&waiting, out);
        }
    }

    fn block(&mut self, sound: &[f32], out: &mut Octaves) {
        let mut frame = self.frame >> self.before.len();
        let lowest = self.splits.len();
        let mut input = sound;
        for split in &mut self.before {
            split.run(input);
            input = &split.low;
        }
        if self.bell_level == 0 {
            out.thin.extend_from_slice(input);
        }
        for (level, split) in self.splits.iter_mut().enumerate() {
            split.run(input);
            frame /= 2;
            power(&split.high, frame, &mut out.power[level]);
            input = &split.low;
            if self.bell_level == level + 1 {
                // Each halving makes the sound louder by the root of two; for bells it is undone.
                let scale = 0.5_f32.powf(0.5 * whole32(level + 1));
                out.thin.extend(input.iter().map(|x| x * scale));
            }
        }
        let lowest = &mut out.power[lowest];
        let mut last = self.last_low;
        for part in input.chunks_exact(frame) {
            let mut sum = 0.0;
            for &x in part {
                sum += (x - last) * (x - last);
                last = x;
            }
            lowest.push(sum / whole32(frame));
        }
        self.last_low = last;
    }
}

fn power(x: &[f32], frame: usize, out: &mut Vec<f32>) {
    let share = 1.0 / whole32(frame);
    match frame {
        // The usual frames, of a length the compiler knows.
        16 => out.extend(x.as_chunks::<16>().0.iter().map(|p| squares(p) * share)),
        8 => out.extend(x.as_chunks::<8>().0.iter().map(|p| squares(p) * share)),
        4 => out.extend(x.as_chunks::<4>().0.iter().map(|p| squares(p) * share)),
        2 => out.extend(x.as_chunks::<2>().0.iter().map(|p| squares(p) * share)),
        _ => out.extend(x.chunks_exact(frame).map(|p| squares(p) * share)),
    }
}

fn squares(x: &[f32]) -> f32 {
    x.iter().map(|x| x * x).sum()
}

/// A count as a number; counts here are far below where that could lose anything.
pub(crate) fn whole(n: usize) -> f64 {
    n as f64
}

pub(crate) fn whole32(n: usize) -> f32 {
    n as f32
}

/// The nearest count to a number that is none below nought; nought for what is below or no number.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded, and held between nought and what fits"
)]
pub(crate) fn count(x: f64) -> usize {
    x.round().clamp(0.0, 9.0e15) as usize
}

/// The nearest whole number.
#[expect(clippy::cast_possible_truncation, reason = "numbers of beats")]
pub(crate) fn whole_number(x: f64) -> i64 {
    x.round() as i64
}
