//! Bytes that are no sound, and sound in which there is nothing: a clear word each, no panic, no unbounded memory.

use crate::made::voices::Tick;
use crate::made::{Sound, dice, wav_header};
use listen::{Detector, Heard, NotSound, SoundEnd, UnfitSound, decode, unfit};
use rand::RngExt;
use std::io::{Cursor, Read};
use std::ops::ControlFlow;

fn hear(bytes: impl Read + Send + Sync + 'static) -> Result<(Heard, SoundEnd), NotSound> {
    let mut ear = None;
    let ended = decode(bytes, |sound, rate| {
        if ear.get_or_insert_with(|| Detector::new(rate)).hear(sound) {
            ControlFlow::Continue(())
        } else {
            ControlFlow::Break(())
        }
    })?;
    Ok((ear.expect("sound").finish(), ended))
}

fn ticking(seconds: f64, rate: f64) -> Sound {
    let dice = &mut dice(5);
    let tick = Tick::pallet(dice);
    let mut sound = Sound::silent(seconds, rate);
    let mut at = 0.2;
    while at < seconds {
        sound.add(&tick.sound(rate, dice), at, 0.3);
        at += 0.5;
    }
    sound.room(0.002, dice);
    sound
}

#[test]
fn what_is_no_sound_is_said() {
    assert_eq!(hear(Cursor::new(vec![])), Err(NotSound::Empty));
    assert_eq!(
        hear(Cursor::new(b"a page of text, called clock.wav".repeat(40))),
        Err(NotSound::Unknown)
    );
    assert_eq!(
        hear(Cursor::new(b"RIFF\x24\0\0\0WAVEfmt ".to_vec())).err(),
        Some(NotSound::NoSamples)
    );
    assert_eq!(
        hear(Cursor::new(wav_header(48_000, 1, 1000))),
        Err(NotSound::NoSamples)
    );
    assert_eq!(
        hear(Cursor::new(
            [wav_header(1_000, 1, 100), vec![0; 100]].concat()
        )),
        Err(NotSound::Rate(1_000))
    );
    assert_eq!(
        hear(Cursor::new([wav_header(0, 1, 100), vec![0; 100]].concat())),
        Err(NotSound::Rate(0))
    );
    for channels in [0, 65_u16] {
        let bytes = [wav_header(48_000, channels, 1000), vec![0; 1000]].concat();
        assert!(
            matches!(hear(Cursor::new(bytes)), Err(NotSound::Header(_))),
            "{channels} channels"
        );
    }
    let mut wide = wav_header(48_000, 1, 1000);
    wide[34] = 17;
    assert!(matches!(
        hear(Cursor::new([wide, vec![0; 1000]].concat())),
        Err(NotSound::Header(_))
    ));
}

#[test]
fn silence_shortness_loudness_and_noise_are_refused_each_in_its_way() {
    let of = |sound: Sound| unfit(&hear(Cursor::new(sound.wav())).expect("sound").0);
    assert_eq!(of(Sound::silent(20.0, 8_000.0)), Some(UnfitSound::Silent));
    assert!(matches!(
        of(ticking(1.0, 8_000.0)),
        Some(UnfitSound::Short(_))
    ));
    let mut loud = Sound::silent(20.0, 16_000.0);
    loud.room(4.0, &mut dice(1));
    assert!(matches!(of(loud), Some(UnfitSound::Clipped(_))));
    let mut noise = Sound::silent(40.0, 16_000.0);
    noise.room(0.05, &mut dice(2));
    assert_eq!(of(noise), Some(UnfitSound::Nothing));
    let mut talk = Sound::silent(40.0, 16_000.0);
    talk.speech(0.05, &mut dice(3));
    talk.room(0.001, &mut dice(4));
    assert_eq!(of(talk), Some(UnfitSound::Nothing));
}

#[test]
fn a_recording_cut_off_is_heard_as_far_as_it_goes() {
    let bytes = ticking(20.0, 8_000.0).wav();
    let half = bytes[..bytes.len() / 2].to_vec();
    let (heard, ended) = hear(Cursor::new(half)).expect("sound");
    assert_eq!(ended, SoundEnd::Short);
    assert!((heard.seconds - 10.0).abs() < 0.1 && heard.beats.len() >= 18);
    // A pipe does not know its length; that is no harm.
    let mut endless = bytes;
    endless[40..44].copy_from_slice(&u32::MAX.to_le_bytes());
    assert_eq!(
        hear(Cursor::new(endless)).expect("sound").1,
        SoundEnd::Whole
    );
}

#[test]
fn eight_thousand_samples_a_second_will_do_and_so_will_many_more() {
    for rate in [8_000.0, 11_025.0, 22_050.0, 48_000.0, 96_000.0, 192_000.0] {
        let (heard, _) = hear(Cursor::new(ticking(12.0, rate).wav())).expect("sound");
        assert_eq!(heard.beats.len(), 24, "{rate}");
    }
}

#[test]
fn a_header_that_promises_a_hundred_hours_is_not_believed() {
    // Eight bits at 8 kHz: a hundred hours just fit into the field.
    let mut header = wav_header(8_000, 1, 100 * 3600 * 8_000);
    header[28..32].copy_from_slice(&8_000_u32.to_le_bytes());
    header[32..36].copy_from_slice(&[1, 0, 8, 0]);
    // The upper byte of each sample; eight bits are written without a sign.
    let sixteen = ticking(20.0, 8_000.0).wav();
    let (samples, _) = sixteen[44..].as_chunks::<2>();
    let bytes: Vec<u8> = samples.iter().map(|sample| sample[1] ^ 0x80).collect();
    let (heard, ended) = hear(Cursor::new([header, bytes].concat())).expect("sound");
    assert_eq!((ended, heard.beats.len()), (SoundEnd::Short, 40));
}

#[test]
fn damaged_bytes_never_panic() {
    let good = ticking(0.3, 8_000.0).wav();
    let dice = &mut dice(9);
    for _ in 0..4_000 {
        let mut bytes = good.clone();
        for _ in 0..dice.random_range(1..12) {
            let at = dice.random_range(0..60.min(bytes.len()));
            bytes[at] = dice.random();
        }
        bytes.truncate(dice.random_range(0..=bytes.len()));
        let _ = hear(Cursor::new(bytes));
    }
    // Signatures of the other forms, then anything.
    for start in [
        &b"fLaC\0\0\0\x22"[..],
        b"OggS\0\x02",
        b"ID3\x04\0\0\x7f\x7f\x7f\x7f",
        b"\xff\xfb\x90\x00",
        b"RF64\xff\xff\xff\xffWAVE",
    ] {
        for _ in 0..40 {
            let mut bytes = start.to_vec();
            bytes.extend((0..dice.random_range(0..4000)).map(|_| dice.random::<u8>()));
            let _ = hear(Cursor::new(bytes));
        }
    }
}
