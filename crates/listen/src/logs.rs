//! Natural logarithms and their inverse to some ten-thousandths, by arithmetic the compiler does on several numbers at once: they are taken
//! some hundred thousand times for a second of sound. Nothing here knows what of.

use std::f32::consts::{LN_2, LOG2_E};

/// The natural logarithm of 1 + x for x from 0: the exponent from the bits, the rest by a polynomial.
pub(crate) fn ln_1p(x: f32) -> f32 {
    let bits = (1.0 + x.min(1e30)).to_bits();
    let exponent = ((bits >> 23) as i32 - 127) as f32;
    let m = f32::from_bits((bits & 0x007F_FFFF) | 0x3F80_0000) - 1.0;
    // log2(1 + m) on [0, 1], fitted with both ends held; off by at most 0.00012.
    let log2 = m * (1.438_724 + m * (-0.677_777 + m * (0.321_179 - m * 0.082_126)));
    (exponent + log2) * LN_2
}

/// e to the power x: the nearest whole power of two from the bits, the rest by Taylor's series, whose fifth term is below 4e-5.
pub(crate) fn exp(x: f32) -> f32 {
    // Added to a number this large, anything is rounded to a whole one, which then stands in the lowest bits.
    const ROUNDS: f32 = 12_582_912.0;
    let turns = x.clamp(-80.0, 80.0) * LOG2_E;
    let rounded = turns + ROUNDS;
    let rest = (turns - (rounded - ROUNDS)) * LN_2;
    let power = f32::from_bits((rounded.to_bits() << 23).wrapping_add(0x3F80_0000));
    power * (1.0 + rest * (1.0 + rest * (0.5 + rest * (1.0 / 6.0 + rest * (1.0 / 24.0)))))
}

/// The greatest of some numbers, none below nought, four at a time.
pub(crate) fn greatest(some: &[f32]) -> f32 {
    let (fours, rest) = some.as_chunks::<4>();
    let mut most = [0.0_f32; 4];
    for four in fours {
        for (most, &x) in most.iter_mut().zip(four) {
            *most = if x > *most { x } else { *most };
        }
    }
    let all = most.iter().chain(rest);
    all.fold(0.0, |most, &x| if x > most { x } else { most })
}

/// The sum of numbers, eight at a time.
pub(crate) fn sum(some: &[f32]) -> f32 {
    let (eights, rest) = some.as_chunks::<8>();
    let mut sums = [0.0_f32; 8];
    for eight in eights {
        for (sum, x) in sums.iter_mut().zip(eight) {
            *sum += x;
        }
    }
    sums.iter().chain(rest).sum()
}

#[cfg(test)]
mod tests {
    use super::{exp, greatest, ln_1p, sum};

    #[test]
    fn they_are_right_to_some_ten_thousandths() {
        for k in 0..4000_u16 {
            let x = f32::from(k) * 0.01 - 20.0;
            assert!((exp(x) / x.exp() - 1.0).abs() < 1e-4, "{x}");
            assert!((ln_1p(x.exp()) - x.exp().ln_1p()).abs() < 2e-4, "{x}");
        }
        let some: Vec<f32> = (0..19_u16).map(|k| f32::from(k * 7 % 19)).collect();
        assert!((sum(&some) - 171.0).abs() < 1e-6 && (greatest(&some) - 18.0).abs() < 1e-6);
    }
}
