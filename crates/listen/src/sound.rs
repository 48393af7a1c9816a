//! Sound in: bytes to one channel of samples, a piece at a time, from a file or from a pipe, so that a day of it takes no more
//! memory than a second. Plain WAV is read here; FLAC, MP3, Ogg Vorbis and packed WAV by the decoder library. Nothing is
//! believed of a header but what the bytes bear out. This does not resample, and hears nothing yet.

use crate::wave;
use std::fmt;
use std::io::{Cursor, Read};
use std::ops::ControlFlow;
use symphonia::core::codecs::audio::{AudioDecoder, AudioDecoderOptions};
use symphonia::core::errors::Error;
use symphonia::core::formats::probe::Hint;
use symphonia::core::formats::{FormatOptions, FormatReader, TrackType};
use symphonia::core::io::{MediaSourceStream, ReadOnlySource};
use symphonia::core::meta::MetadataOptions;

/// Samples a second that can be listened to: below, a tick has no edge; above, nobody records.
pub const RATES_HZ: std::ops::RangeInclusive<u32> = 6_000..=400_000;
/// Channels that are believed.
pub const MOST_CHANNELS: usize = 64;

/// Why bytes are not sound that can be listened to.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum NotSound {
    /// No bytes at all.
    #[error("no bytes")]
    Empty,
    /// None of the forms that are read.
    #[error("no form of sound that is read")]
    Unknown,
    /// A form that is known, in a way that is not read.
    #[error("a known form in a way that is not read: {0}")]
    Unsupported(String),
    /// A header that contradicts itself.
    #[error("the header contradicts itself: {0}")]
    Header(HeaderFault),
    /// So many samples a second.
    #[error("{0} samples a second, expected {RATES_HZ:?}")]
    Rate(u32),
    /// A header, and no sound after it.
    #[error("a header and no sound after it")]
    NoSamples,
    /// It cannot be read on: what the machine refuses, and in its words.
    #[error("it cannot be read on: {1}")]
    Io(std::io::ErrorKind, String),
}

/// What of a header contradicts itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeaderFault {
    /// Nothing in it holds together.
    Nonsense,
    /// Its description of the samples breaks off.
    BreaksOff,
    /// No samples begin where a header may still be.
    NoSamples,
    /// Samples of a size that nothing has.
    SampleSize,
    /// No channels, or more than [`MOST_CHANNELS`].
    Channels,
    /// A frame that is not as large as its samples.
    FrameSize,
}

impl fmt::Display for HeaderFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            HeaderFault::Nonsense => write!(f, "nothing in it holds together"),
            HeaderFault::BreaksOff => write!(f, "it breaks off"),
            HeaderFault::NoSamples => write!(f, "no samples begin"),
            HeaderFault::SampleSize => write!(f, "the size of the samples"),
            HeaderFault::Channels => write!(f, "the channels, expected 1 to {MOST_CHANNELS}"),
            HeaderFault::FrameSize => write!(f, "the size of a frame"),
        }
    }
}

/// How sound ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SoundEnd {
    /// At its end.
    Whole,
    /// Before the end its header promised, or in bytes that could not be decoded.
    Short,
    /// Because the listener wanted no more.
    Stopped,
}

/// Decodes sound and hands on each piece as one channel, with its samples a second; the listener stops it by `Break`.
///
/// # Errors
/// Why there is nothing to listen to. What breaks off after some sound is no error but [`SoundEnd::Short`].
pub fn decode(
    mut from: impl Read + Send + Sync + 'static,
    mut each: impl FnMut(&[f32], u32) -> ControlFlow<()>,
) -> Result<SoundEnd, NotSound> {
    let mut start = vec![0; wave::LONGEST_HEADER];
    let got = fill(&mut from, &mut start)?;
    start.truncate(got);
    if start.is_empty() {
        return Err(NotSound::Empty);
    }
    match wave::header(&start)? {
        Some(form) => {
            let rest = start.split_off(form.begins);
            wave::decode(Cursor::new(rest).chain(from), form, &mut each)
        }
        None => unpack(Cursor::new(start).chain(from), &mut each),
    }
}

/// Reads until the buffer is full or there is no more.
pub(crate) fn fill(from: &mut impl Read, buffer: &mut [u8]) -> Result<usize, NotSound> {
    let mut got = 0;
    while got < buffer.len() {
        match from.read(&mut buffer[got..]) {
            Ok(0) => break,
            Ok(n) => got += n,
            Err(error) if error.kind() == std::io::ErrorKind::Interrupted => {}
            Err(error) => return Err(NotSound::Io(error.kind(), error.to_string())),
        }
    }
    Ok(got)
}

/// Packed sound, by the decoder library, which is given no name to guess from: a wrong extension misleads nobody.
fn unpack(
    from: impl Read + Send + Sync + 'static,
    each: &mut impl FnMut(&[f32], u32) -> ControlFlow<()>,
) -> Result<SoundEnd, NotSound> {
    let stream = MediaSourceStream::new(Box::new(ReadOnlySource::new(from)), Default::default());
    let mut format = symphonia::default::get_probe()
        .probe(
            &Hint::new(),
            stream,
            FormatOptions::default(),
            MetadataOptions::default(),
        )
        .map_err(|error| match error {
            Error::IoError(error) if error.kind() != std::io::ErrorKind::UnexpectedEof => {
                NotSound::Io(error.kind(), error.to_string())
            }
            Error::DecodeError(_) | Error::LimitError(_) => NotSound::Header(HeaderFault::Nonsense),
            _ => NotSound::Unknown,
        })?;
    let track = format
        .default_track(TrackType::Audio)
        .ok_or(NotSound::NoSamples)?;
    let id = track.id;
    let parameters = (track.codec_params.as_ref())
        .and_then(|parameters| parameters.audio())
        .ok_or(NotSound::NoSamples)?;
    let mut decoder = symphonia::default::get_codecs()
        .make_audio_decoder(parameters, &AudioDecoderOptions::default())
        .map_err(|error| NotSound::Unsupported(error.to_string()))?;
    let mut heard = false;
    let ended = packets(format.as_mut(), id, decoder.as_mut(), &mut heard, each)?;
    if heard {
        Ok(ended)
    } else {
        Err(NotSound::NoSamples)
    }
}

fn packets(
    format: &mut dyn FormatReader,
    id: u32,
    decoder: &mut dyn AudioDecoder,
    heard: &mut bool,
    each: &mut impl FnMut(&[f32], u32) -> ControlFlow<()>,
) -> Result<SoundEnd, NotSound> {
    let (mut planes, mut mono): (Vec<Vec<f32>>, Vec<f32>) = (Vec::new(), Vec::new());
    let mut first_rate = None;
    let mut spoilt = false;
    loop {
        let packet = match format.next_packet() {
            Ok(Some(packet)) => packet,
            Ok(None) => break,
            Err(Error::IoError(error)) if error.kind() != std::io::ErrorKind::UnexpectedEof => {
                if *heard {
                    return Ok(SoundEnd::Short);
                }
                return Err(NotSound::Io(error.kind(), error.to_string()));
            }
            Err(_) => {
                spoilt = true;
                break;
            }
        };
        if packet.track_id != id {
            continue;
        }
        let Ok(sound) = decoder.decode(&packet) else {
            // A packet that cannot be read leaves a gap of unknown length: what is after it has no time.
            spoilt = true;
            if *heard {
                break;
            }
            continue;
        };
        let rate = sound.spec().rate();
        if *first_rate.get_or_insert(rate) != rate {
            spoilt = true;
            break;
        }
        if !RATES_HZ.contains(&rate) {
            return Err(NotSound::Rate(rate));
        }
        if sound.frames() == 0 {
            continue;
        }
        sound.copy_to_vecs_planar(&mut planes);
        let Some((first, others)) = planes.split_first() else {
            return Err(NotSound::Header(HeaderFault::Channels));
        };
        mono.clear();
        mono.extend_from_slice(first);
        for plane in others {
            for (sum, x) in mono.iter_mut().zip(plane) {
                *sum += x;
            }
        }
        if !others.is_empty() {
            let share = 1.0 / planes_len(&planes);
            mono.iter_mut().for_each(|x| *x *= share);
        }
        *heard = true;
        if each(&mono, rate).is_break() {
            return Ok(SoundEnd::Stopped);
        }
    }
    Ok(if spoilt {
        SoundEnd::Short
    } else {
        SoundEnd::Whole
    })
}

fn planes_len(planes: &[Vec<f32>]) -> f32 {
    u16::try_from(planes.len()).map_or(f32::INFINITY, f32::from)
}
