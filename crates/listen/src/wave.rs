//! WAV with plain samples, read fast: whole numbers of 8, 16, 24 or 32 bits, floating point of 32 or 64. What a header says of
//! lengths is not believed further than the bytes go, and nothing is reserved on its word.

use crate::sound::{HeaderFault, MOST_CHANNELS, NotSound, RATES_HZ, SoundEnd, fill};
use std::io::Read;
use std::ops::ControlFlow;

/// Where the samples must begin, at the latest; what stands before them is names and dates.
pub(crate) const LONGEST_HEADER: usize = 64 * 1024;
/// Frames that are read at once.
const FRAMES: usize = 16_384;

/// How samples are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Coding {
    U8,
    I16,
    I24,
    I32,
    F32,
    F64,
}

impl Coding {
    fn bytes(self) -> usize {
        match self {
            Coding::U8 => 1,
            Coding::I16 => 2,
            Coding::I24 => 3,
            Coding::I32 | Coding::F32 => 4,
            Coding::F64 => 8,
        }
    }
}

/// What the header says.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Form {
    coding: Coding,
    channels: usize,
    rate: u32,
    /// Bytes of samples, where the header says so.
    length: Option<u64>,
    /// Where they begin.
    pub(crate) begins: usize,
}

/// Reads a header; nothing if this is no WAV, or one that is packed.
///
/// # Errors
/// What about it contradicts itself.
pub(crate) fn header(start: &[u8]) -> Result<Option<Form>, NotSound> {
    let is = |at: usize, name: &[u8; 4]| start.get(at..at + 4) == Some(&name[..]);
    if !(is(0, b"RIFF") || is(0, b"RF64")) || !is(8, b"WAVE") {
        return Ok(None);
    }
    let mut at = 12;
    let mut form = None;
    while let Some(head) = start.get(at..at + 8) {
        let size = u32::from_le_bytes([head[4], head[5], head[6], head[7]]);
        let body = at + 8;
        match &head[..4] {
            b"fmt " => form = format(start.get(body..).unwrap_or(&[]), size)?,
            b"data" => {
                let Some((coding, channels, rate)) = form else {
                    return Ok(None);
                };
                // A writer into a pipe does not know the length and writes one of these.
                let length = (size != 0 && size != u32::MAX).then_some(u64::from(size));
                return Ok(Some(Form {
                    coding,
                    channels,
                    rate,
                    length,
                    begins: body,
                }));
            }
            _ => {}
        }
        let size = usize::try_from(size).unwrap_or(usize::MAX);
        at = body.saturating_add(size).saturating_add(size % 2);
    }
    if start.len() < LONGEST_HEADER {
        return Err(NotSound::NoSamples);
    }
    Err(NotSound::Header(HeaderFault::NoSamples))
}

type Format = Option<(Coding, usize, u32)>;

fn format(body: &[u8], size: u32) -> Result<Format, NotSound> {
    let Some(b) = body.get(..16).filter(|_| size >= 16) else {
        return Err(NotSound::Header(HeaderFault::BreaksOff));
    };
    let word = |at: usize| u16::from_le_bytes([b[at], b[at + 1]]);
    let mut tag = word(0);
    if tag == 0xFFFE {
        // The extensible form: the tag proper is the start of a longer name.
        tag = match body.get(24..26) {
            Some(tag) if size >= 26 => u16::from_le_bytes([tag[0], tag[1]]),
            _ => {
                return Err(NotSound::Header(HeaderFault::BreaksOff));
            }
        };
    }
    let channels = usize::from(word(2));
    let rate = u32::from_le_bytes([b[4], b[5], b[6], b[7]]);
    let coding = match (tag, word(14)) {
        (1, 8) => Coding::U8,
        (1, 16) => Coding::I16,
        (1, 24) => Coding::I24,
        (1, 32) => Coding::I32,
        (3, 32) => Coding::F32,
        (3, 64) => Coding::F64,
        (1 | 3, _) => return Err(NotSound::Header(HeaderFault::SampleSize)),
        _ => return Ok(None),
    };
    if channels == 0 || channels > MOST_CHANNELS {
        return Err(NotSound::Header(HeaderFault::Channels));
    }
    if usize::from(word(12)) != channels * coding.bytes() {
        return Err(NotSound::Header(HeaderFault::FrameSize));
    }
    if !RATES_HZ.contains(&rate) {
        return Err(NotSound::Rate(rate));
    }
    Ok(Some((coding, channels, rate)))
}

/// Hands on the samples as one channel.
///
/// # Errors
/// That there are none, or that they cannot be read.
pub(crate) fn decode(
    mut from: impl Read,
    form: Form,
    each: &mut impl FnMut(&[f32], u32) -> ControlFlow<()>,
) -> Result<SoundEnd, NotSound> {
    let frame = form.coding.bytes() * form.channels;
    let mut bytes = vec![0; FRAMES * frame];
    let mut mono = Vec::with_capacity(FRAMES);
    let mut left = form.length;
    let mut heard = false;
    loop {
        let room = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        let want = left.map_or(room, |left| left.min(room));
        let want = usize::try_from(want).unwrap_or(bytes.len());
        let got = match fill(&mut from, &mut bytes[..want]) {
            Ok(got) => got,
            Err(_) if heard => return Ok(SoundEnd::Short),
            Err(error) => return Err(error),
        };
        if let Some(left) = left.as_mut() {
            *left -= u64::try_from(got).unwrap_or(0);
        }
        let whole = &bytes[..got - got % frame];
        if !whole.is_empty() {
            heard = true;
            mono.clear();
            to_mono(whole, form.coding, form.channels, &mut mono);
            if each(&mono, form.rate).is_break() {
                return Ok(SoundEnd::Stopped);
            }
        }
        if got < want || want == 0 || left == Some(0) {
            if !heard {
                return Err(NotSound::NoSamples);
            }
            let short = left.is_some_and(|left| left > 0);
            return Ok(if short {
                SoundEnd::Short
            } else {
                SoundEnd::Whole
            });
        }
    }
}

fn to_mono(bytes: &[u8], coding: Coding, channels: usize, mono: &mut Vec<f32>) {
    match coding {
        Coding::U8 => spread(bytes, channels, mono, |[b]: [u8; 1]| {
            (f32::from(b) - 128.0) / 128.0
        }),
        Coding::I16 => spread(bytes, channels, mono, |b: [u8; 2]| {
            f32::from(i16::from_le_bytes(b)) * (1.0 / 32_768.0)
        }),
        Coding::I24 => spread(bytes, channels, mono, |[a, b, c]: [u8; 3]| {
            whole(i32::from_le_bytes([0, a, b, c]))
        }),
        Coding::I32 => spread(bytes, channels, mono, |b: [u8; 4]| {
            whole(i32::from_le_bytes(b))
        }),
        Coding::F32 => spread(bytes, channels, mono, |b: [u8; 4]| {
            tame(f32::from_le_bytes(b))
        }),
        Coding::F64 => spread(bytes, channels, mono, |b: [u8; 8]| {
            narrow(f64::from_le_bytes(b))
        }),
    }
}

fn whole(x: i32) -> f32 {
    x as f32 / 2_147_483_648.0
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "the last bits are below any sound"
)]
fn narrow(x: f64) -> f32 {
    tame(x as f32)
}

/// What is no number is silence, and nothing is louder than a hundred times full scale.
fn tame(x: f32) -> f32 {
    if x.is_finite() {
        x.clamp(-100.0, 100.0)
    } else {
        0.0
    }
}

fn spread<const N: usize>(
    bytes: &[u8],
    channels: usize,
    mono: &mut Vec<f32>,
    sample: impl Fn([u8; N]) -> f32,
) {
    let (samples, _) = bytes.as_chunks::<N>();
    if channels == 1 {
        mono.extend(samples.iter().map(|&b| sample(b)));
    } else {
        let share = 1.0 / u16::try_from(channels).map_or(f32::INFINITY, f32::from);
        let frames = samples.chunks_exact(channels);
        mono.extend(frames.map(|frame| frame.iter().map(|&b| sample(b)).sum::<f32>() * share));
    }
}
