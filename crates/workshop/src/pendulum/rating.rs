//! Bringing to time: the nut, and small weights laid on.

use super::DAY;
use quantity::{Known, Length, Mass, Number, Rate, propagate};

/// A rating nut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Nut {
    /// How far it goes in one turn.
    pub pitch: Known<Length>,
    /// Divisions on its edge, where it has any.
    pub divisions: Option<u16>,
}

/// A bob that is moved on a light rod takes the centre of swing along within a twentieth (ours; a heavy rod less, which
/// [`super::swing`] tells).
fn taken_along() -> Known<Number> {
    crate::assumed::TAKEN_ALONG.with_spread()
}

/// What a clock gains in a day when its pendulum of this length is made so much longer; it loses.
///
/// # Formula
/// `86400 (√(L/(L + d)) − 1)`, nearly `−43200 d/L`.
/// # Source
/// E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 50; The Modern Clock, Chicago 1905, p. 80.
///
/// ```
/// use quantity::{Known, Length};
/// let gain = workshop::pendulum::by_length(
///     Known::sure(Length::inch(39.14)),
///     Known::sure(Length::inch(-1.0 / 1080.0)),
/// );
/// assert!((gain.value.as_s_per_day() - 1.022).abs() < 0.001);
/// ```
pub fn by_length(length: Known<Length>, longer: Known<Length>) -> Known<Rate> {
    propagate([length.given(), longer.given()], |[length, longer]| {
        DAY * ((length / (length + longer)).sqrt() - 1.0)
    })
}

/// How much longer a pendulum must be for a clock to lose what it gains.
///
/// # Formula
/// `L ((1 + e/86400)² − 1)`.
pub fn change_for(length: Known<Length>, gains: Known<Rate>) -> Known<Length> {
    propagate([length.given(), gains.given()], |[length, gains]| {
        length * ((1.0 + gains / DAY).powi(2) - 1.0)
    })
}

/// What a clock gains in a day for one turn of the nut upward.
pub fn nut_turn(length: Known<Length>, nut: Nut) -> Known<Rate> {
    propagate(
        [length.given(), nut.pitch.given(), taken_along().given()],
        |[length, pitch, along]| DAY * ((length / (length - pitch * along)).sqrt() - 1.0),
    )
}

/// Turns of the nut for a clock that gains so much: down is more than nothing, up is less.
pub fn turns_for(length: Known<Length>, nut: Nut, gains: Known<Rate>) -> Known<Number> {
    propagate(
        [
            length.given(),
            nut.pitch.given(),
            gains.given(),
            taken_along().given(),
        ],
        |[length, pitch, gains, along]| {
            length * ((1.0 + gains / DAY).powi(2) - 1.0) / pitch / along
        },
    )
}

/// What a clock gains in a day with a small weight laid on the rod.
///
/// # Formula
/// `43200 (m/M) (d/l − d²/l²)`, `d` below the suspension: most at the middle, nothing at either end.
/// # Source
/// E. Beckett, A Rudimentary Treatise on Clocks, 8th ed., p. 51.
pub fn laid_on(
    small: Known<Mass>,
    pendulum: Known<Mass>,
    below: Known<Length>,
    length: Known<Length>,
) -> Known<Rate> {
    propagate(
        [
            small.given(),
            pendulum.given(),
            below.given(),
            length.given(),
        ],
        |[small, pendulum, below, length]| {
            let d = below / length;
            DAY / 2.0 * small / pendulum * (d - d * d)
        },
    )
}

/// The small weight that makes a clock gain so much when it is laid on half way down.
pub fn on_the_shoulder(pendulum: Known<Mass>, gain: Known<Rate>) -> Known<Mass> {
    propagate([pendulum.given(), gain.given()], |[pendulum, gain]| {
        pendulum * gain * 8.0 / DAY
    })
}
