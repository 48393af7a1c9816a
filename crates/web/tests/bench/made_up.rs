//! Made-up sound of a clock, for the page to be given: bursts of noise that die away for beats, and a few sines that ring for
//! blows. It is not made as the sound is that listening was tuned on, and shows only that what is there is told.

use std::f64::consts::TAU;

/// A clock as it is to sound.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Clock {
    /// Seconds from beat to beat, on the mean.
    pub(crate) half_s: f64,
    /// By how much every second half is longer than the others, seconds.
    pub(crate) out_s: f64,
    /// Lateness that comes round: so many seconds either way, every so many.
    pub(crate) round: (f64, f64),
}

/// Noise from one seed (a linear congruential generator, D. E. Knuth's constants), from −1 to 1.
pub(crate) fn noise() -> impl FnMut() -> f64 {
    let mut state = 11_u64;
    move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        let bits = i32::try_from(state >> 33).expect("31 bits");
        f64::from(bits) / f64::from(1 << 30) - 1.0
    }
}

/// A clock for so many seconds.
pub(crate) fn ticking(clock: Clock, seconds: f64, rate: u32) -> Vec<f64> {
    let mut noise = noise();
    let samples = whole(seconds * f64::from(rate));
    let mut sound: Vec<f64> = (0..samples).map(|_| 0.002 * noise()).collect();
    let (size, turn) = clock.round;
    let mut n = 0;
    loop {
        let even = f64::from(n) * clock.half_s + if n % 2 == 1 { 0.5 * clock.out_s } else { 0.0 };
        let at = 0.3 + even + size * (TAU * even / turn).sin();
        // The beat is drawn between samples too: it begins where it begins, and lasts some milliseconds.
        let first = whole((at * f64::from(rate)).ceil());
        let long = whole(0.02 * f64::from(rate));
        if first + long >= samples {
            return sound;
        }
        let loud = if n % 2 == 0 { 0.6 } else { 0.5 };
        for (k, sample) in sound[first..first + long].iter_mut().enumerate() {
            let since = f64::from(u32::try_from(first + k).expect("short")) / f64::from(rate) - at;
            *sample += loud * (-since / 0.0025).exp() * (TAU * 2_300.0 * since).sin();
        }
        n += 1;
    }
}

/// Adds blows of a bell, the first at a time, so many.
pub(crate) fn strike(sound: &mut [f64], rate: u32, at_s: f64, blows: u32) {
    for blow in 0..blows {
        let at = at_s + 1.6 * f64::from(blow);
        let first = whole(at * f64::from(rate));
        let long = whole(3.5 * f64::from(rate)).min(sound.len() - first);
        for (k, sample) in sound[first..first + long].iter_mut().enumerate() {
            let since = f64::from(u32::try_from(k).expect("short")) / f64::from(rate);
            let partial = |hz: f64, lasts: f64| (-since / lasts).exp() * (TAU * hz * since).sin();
            *sample += 0.25
                * (partial(620.0, 1.1)
                    + 0.7 * partial(1_290.0, 0.7)
                    + 0.4 * partial(2_130.0, 0.35));
        }
    }
}

/// A quiet room for so many seconds, in 8 bits: noise that comes again only after a minute and a half.
pub(crate) fn room(seconds: usize, rate: u32) -> Vec<f64> {
    let mut noise = noise();
    let some: Vec<f64> = (0..97 * rate).map(|_| 0.012 * noise()).collect();
    let rate = usize::try_from(rate).expect("a rate");
    some.iter().copied().cycle().take(seconds * rate).collect()
}

/// Plain sound of one channel as a file, in 8 or 16 bits.
pub(crate) fn wav(sound: &[f64], rate: u32, bits: u16) -> Vec<u8> {
    let wide = u32::from(bits / 8);
    let length = u32::try_from(sound.len()).expect("short") * wide;
    let mut bytes = b"RIFF".to_vec();
    bytes.extend((36 + length).to_le_bytes());
    bytes.extend(b"WAVEfmt \x10\0\0\0\x01\0\x01\0");
    bytes.extend(rate.to_le_bytes());
    bytes.extend((rate * wide).to_le_bytes());
    bytes.extend((bits / 8).to_le_bytes());
    bytes.extend(bits.to_le_bytes());
    bytes.extend(b"data");
    bytes.extend(length.to_le_bytes());
    for x in sound {
        let x = x.clamp(-1.0, 1.0);
        if bits == 8 {
            bytes.push(u8::try_from(whole((x + 1.0) * 127.5)).expect("8 bits"));
        } else {
            let sample = i32::try_from(whole((x + 1.0) * 32_767.0)).expect("17 bits") - 32_767;
            bytes.extend(i16::try_from(sample).expect("16 bits").to_le_bytes());
        }
    }
    bytes
}

/// A number of samples, from one that is no less than nought.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "rounded down, and no less than nought"
)]
fn whole(x: f64) -> usize {
    x.floor().max(0.0) as usize
}
