//! Sound of a clock, made up from one seed.

/// Samples a second.
pub(crate) const RATE: u32 = 8_000;

/// Sound as 16-bit WAV.
pub(crate) fn wav(samples: &[i16]) -> Vec<u8> {
    let length = u32::try_from(2 * samples.len()).expect("short");
    let mut bytes = b"RIFF".to_vec();
    bytes.extend((36 + length).to_le_bytes());
    bytes.extend(b"WAVEfmt \x10\0\0\0\x01\0\x01\0");
    bytes.extend(RATE.to_le_bytes());
    bytes.extend((2 * RATE).to_le_bytes());
    bytes.extend(b"\x02\0\x10\0data");
    bytes.extend(length.to_le_bytes());
    bytes.extend(samples.iter().flat_map(|x| x.to_le_bytes()));
    bytes
}

/// A made-up clock that ticks twice a second for so long, every second beat 80 samples (10 ms) late: bursts of noise that die away,
/// in noise, all from one seed (a linear congruential generator, D. E. Knuth's constants).
pub(crate) fn ticking(seconds: u32) -> Vec<i16> {
    let mut state = 7_u64;
    let mut noise = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        i32::try_from(state >> 49).expect("15 bits") - 16_384
    };
    (0..seconds * RATE)
        .map(|at| {
            let beat = at % RATE;
            let since = match beat {
                0..2_000 => None,
                2_000..6_080 => Some(beat - 2_000),
                _ => Some(beat - 6_080),
            };
            // Half as loud every 20 samples.
            let tick = since.map_or(0, |n| noise() >> (n / 20).min(20));
            let hiss = noise() / 512;
            i16::try_from((tick + hiss).clamp(-32_768, 32_767)).expect("clamped")
        })
        .collect()
}

/// Strikes a bell of this pitch, hertz, so many seconds from the beginning; it rings on for four.
pub(crate) fn ring(samples: &mut [i16], hertz: f64, at_s: f64) {
    // The lowest partials of a bell, as parts of the first.
    let partials = [1.0, 2.0, 1250.0 / 520.0, 2090.0 / 520.0].map(|part| part * hertz);
    #[expect(clippy::cast_possible_truncation, reason = "far within")]
    let rung = |since: f64| -> i16 {
        let sum: f64 = (partials.iter())
            .map(|hz| (since * hz * std::f64::consts::TAU).sin())
            .sum();
        (3_000.0 * sum * (-1.5 * since).exp()) as i16
    };
    for (k, x) in (0_u32..).zip(samples) {
        let since = f64::from(k) / f64::from(RATE) - at_s;
        if (0.0..4.0).contains(&since) {
            *x = x.saturating_add(rung(since));
        }
    }
}
