//! A microphone that is listened to live: its sound comes in a second at a time, is kept as plain WAV, and is listened to anew
//! from its beginning every few seconds for the sentence so far. How many there are and how long each may go on has bounds.

use super::{Keeping, Recordings, locked};
use book::JobId;
use report::Locale;
use std::ops::ControlFlow;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};
use tasks::listening::{ExpectedClock, Hearing, NotSound, Recorder};

/// Microphones at once.
pub(crate) const MOST_LIVE: usize = 2;
/// One that brought nothing for so long is gone.
const SILENT_FOR: Duration = Duration::from_secs(120);
/// Seconds that one may go on: a whole winding is recorded with something else.
pub(crate) const MOST_S: u64 = 4 * 3_600;
/// Seconds between one sentence and the next, and the part of what was heard so far that must be new: so listening anew never
/// takes more than a small part of the time.
const ANEW_S: f64 = 4.0;
const ANEW_PART: f64 = 0.05;
/// Samples a second that a microphone may have.
const RATES: std::ops::RangeInclusive<u32> = 8_000..=192_000;

/// A microphone.
#[derive(Debug)]
pub(crate) struct Live {
    id: u64,
    job: JobId,
    rate: u32,
    samples: u64,
    keeping: Keeping,
    expected: ExpectedClock,
    so_far: Option<String>,
    /// Seconds that the sentence so far rests on.
    told_to: f64,
    busy: bool,
    touched: Instant,
}

/// How a microphone is getting on.
pub(crate) struct Standing {
    pub(crate) seconds: f64,
    /// Samples that have come, as the page counts them.
    pub(crate) samples: u64,
    pub(crate) so_far: Option<String>,
    pub(crate) full: bool,
    /// Whether it is time to listen anew.
    pub(crate) due: bool,
}

impl Recordings {
    /// Begins to listen to a microphone; nothing where it cannot be.
    pub(crate) fn begin(&self, job: JobId, rate: u32, expected: ExpectedClock) -> Option<u64> {
        if !RATES.contains(&rate) {
            return None;
        }
        self.let_go();
        let mut live = locked(&self.live);
        if live.len() >= MOST_LIVE {
            return None;
        }
        let id = self.number();
        let mut keeping = self.receive();
        keeping.write(&header(rate, 0));
        live.push(Arc::new(Mutex::new(Live {
            id,
            job,
            rate,
            samples: 0,
            keeping,
            expected,
            so_far: None,
            told_to: 0.0,
            busy: false,
            touched: Instant::now(),
        })));
        Some(id)
    }

    /// Lets those go that bring nothing any more.
    pub(crate) fn let_go(&self) {
        locked(&self.live).retain(|one| locked(one).touched.elapsed() < SILENT_FOR);
    }

    pub(crate) fn live(&self, job: JobId, id: u64) -> Option<Arc<Mutex<Live>>> {
        let live = locked(&self.live);
        let found = live.iter().find(|one| {
            let one = locked(one);
            one.job == job && one.id == id
        });
        found.cloned()
    }

    /// Ends one, and takes it off the bench.
    pub(crate) fn end(&self, job: JobId, id: u64) -> Option<Arc<Mutex<Live>>> {
        let found = self.live(job, id)?;
        locked(&self.live).retain(|one| !Arc::ptr_eq(one, &found));
        Some(found)
    }
}

impl Live {
    /// Takes more sound, as the page has it: samples as 32-bit floating point, the first of them the one with a number.
    pub(crate) fn hear(&mut self, from: u64, sound: &[u8]) -> Standing {
        self.touched = Instant::now();
        let full = self.samples >= MOST_S * u64::from(self.rate);
        // What came before, its acknowledgement lost, is not taken twice; what leaves a gap is not taken at all.
        if from == self.samples && !full {
            let (samples, _) = sound.as_chunks::<4>();
            self.keeping.write(samples.as_flattened());
            self.samples += u64::try_from(samples.len()).unwrap_or(0);
        }
        let seconds = self.seconds();
        let due = !self.busy && seconds - self.told_to >= ANEW_S.max(ANEW_PART * seconds);
        self.busy |= due;
        Standing {
            seconds,
            samples: self.samples,
            so_far: self.so_far.clone(),
            full: full || self.keeping.is_lost(),
            due,
        }
    }

    fn seconds(&self) -> f64 {
        // Some hours of samples are an exact number.
        self.samples as f64 / f64::from(self.rate)
    }

    /// Ends it: its sound, with what is said of its length put right.
    pub(crate) fn finish(&mut self) -> Keeping {
        let header = header(self.rate, self.samples);
        self.keeping.write_first(&header);
        std::mem::take(&mut self.keeping)
    }
}

/// Listens anew to all that has come of a microphone, for the sentence so far.
pub(crate) fn anew(live: &Mutex<Live>, locale: Locale) {
    let (sound, seconds, expected) = {
        let live = locked(live);
        (live.keeping.so_far(), live.seconds(), live.expected.clone())
    };
    let heard = sound.map(heard);
    let mut live = locked(live);
    live.busy = false;
    live.told_to = seconds;
    if let Some(Ok(hearing)) = heard {
        let found = tasks::listening::find(hearing.heard, &expected, Recorder::default());
        live.so_far = Some(report::listen::answer(&locale, &found));
    }
}

/// Listens to sound to its end.
pub(crate) fn heard(
    sound: impl std::io::Read + Send + Sync + 'static,
) -> Result<Hearing, NotSound> {
    tasks::listening::hear(sound, |_| ControlFlow::Continue(()))
}

/// The header of plain sound of one channel in 32-bit floating point; nought samples where their number is not known yet.
fn header(rate: u32, samples: u64) -> Vec<u8> {
    // Longer than the form can say, it stays unknown.
    let bytes = u32::try_from(4 * samples)
        .ok()
        .filter(|n| *n < u32::MAX - 64);
    let bytes = bytes.filter(|n| *n > 0);
    let mut header = b"RIFF".to_vec();
    header.extend(bytes.map_or(u32::MAX, |n| 36 + n).to_le_bytes());
    header.extend(b"WAVEfmt \x10\0\0\0\x03\0\x01\0");
    header.extend(rate.to_le_bytes());
    header.extend((4 * rate).to_le_bytes());
    header.extend(b"\x04\0\x20\0data");
    header.extend(bytes.unwrap_or(u32::MAX).to_le_bytes());
    header
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_four_hours_no_more_is_taken() {
        let rate = 8_000;
        let mut live = Live {
            id: 1,
            job: "1".parse().expect("a job"),
            rate,
            samples: MOST_S * u64::from(rate) - 2,
            keeping: Keeping::default(),
            expected: ExpectedClock::default(),
            so_far: None,
            told_to: 0.0,
            busy: false,
            touched: Instant::now(),
        };
        let end = MOST_S * u64::from(rate);
        let two = live.hear(end - 2, &[0; 8]);
        assert_eq!((two.samples, two.seconds), (end, 14_400.0));
        let more = live.hear(end, &[0; 8]);
        assert!(more.full);
        assert_eq!(more.samples, end);
    }
}
