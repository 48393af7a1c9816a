//! Listening: a recording as bytes, perhaps a sheet, to what was heard.

use crate::{Refusal, check};
use kinematics::{per_hour, speed};
use listen::{Cycle, Ear, Turning};
pub use listen::{Ended, Expected, Findings, Heard, NotSound, Recorder};
use movement::{Blows, Movement, PartId};
use quantity::{Exact, to_f64, whole};
use report::en::listen::{GAINS_LOSES, MINUTES, TICK, TOCK};
use std::io::Read;
use std::ops::ControlFlow;

/// What to expect, from a sheet.
///
/// # Errors
/// The sheet's faults.
pub fn expected(sheet: &[u8]) -> Result<Expected, Refusal> {
    let movement = check(sheet)?.movement;
    let escape = escape_wheel(&movement);
    let arbors = escape.map_or(Vec::new(), |escape| {
        let of = |(id, arbor): (_, &movement::Arbor)| {
            speed(&movement, id, escape.arbor)?;
            let an_hour = per_hour(&movement, id)?;
            let turn_s = to_f64(&(whole(3600) / an_hour));
            Some(Turning {
                name: arbor.id.clone(),
                turn_s,
            })
        };
        movement.arbors().filter_map(of).collect()
    });
    Ok(Expected {
        beats_per_hour: escape
            .and_then(|escape| beats_per_hour(&movement, escape))
            .map(|x| to_f64(&x)),
        arbors,
        cycle: movement.strike().map(|strike| match strike.blows {
            Blows::Hours => Cycle::Hours,
            Blows::HoursAndHalves | Blows::HoursAndPassingHalves => Cycle::HoursAndHalves,
            Blows::HoursAndTenHalves => Cycle::HoursAndTenHalves,
            Blows::ShipsBells => Cycle::ShipsBells,
        }),
        ..Expected::default()
    })
}

/// The escape wheel: a part in no mesh, on an arbor that is called so, or a part that is.
fn escape_wheel(movement: &Movement) -> Option<PartId> {
    let meshed = |part: PartId| {
        movement
            .meshes()
            .any(|(_, mesh)| mesh.driver == part || mesh.driven == part)
    };
    movement
        .arbors()
        .flat_map(|(id, arbor)| movement.parts(id).map(move |(part, p)| (arbor, part, p)))
        .filter(|(_, part, _)| !meshed(*part))
        .find(|(arbor, _, part)| arbor.id.contains("escape") || part.name.contains("escape"))
        .map(|(_, part, _)| part)
}

/// Each tooth of the escape wheel beats twice.
fn beats_per_hour(movement: &Movement, escape: PartId) -> Option<Exact> {
    let teeth = movement.part(escape).teeth.get();
    Some(per_hour(movement, escape.arbor)? * whole(2 * i64::from(teeth)))
}

/// Listens to the end, telling now and then how many seconds were heard; that word may stop it.
///
/// # Errors
/// Why it is no sound.
pub fn hear(
    from: impl Read + Send + Sync + 'static,
    mut on: impl FnMut(f64) -> ControlFlow<()>,
) -> Result<(Heard, Ended), NotSound> {
    const TOLD_EVERY_S: f64 = 600.0;
    let mut ear: Option<Ear> = None;
    let mut told = 0.0;
    let ended = listen::decode(from, |sound, rate| {
        let ear = ear.get_or_insert_with(|| Ear::new(rate));
        if !ear.hear(sound) {
            return ControlFlow::Break(());
        }
        if ear.seconds() - told >= TOLD_EVERY_S {
            told = ear.seconds();
            return on(told);
        }
        ControlFlow::Continue(())
    })?;
    let heard = ear.ok_or(NotSound::NoSamples)?.finish();
    Ok((heard, ended))
}

/// What was heard beside what was expected.
pub fn find(heard: Heard, expected: &Expected, recorder: Recorder) -> Findings {
    listen::find(heard, expected, recorder)
}

/// The plot of how it gains or loses, tick and tock in two inks, as an SVG file; nothing without a rate.
pub fn plot(found: &Findings, expected: &Expected) -> Option<String> {
    const PARTS: usize = 150;
    let pace = found.pace.as_ref()?;
    let (n0, t0, _) = *pace.late.first()?;
    // Without a sheet, the plot is against the clock's own mean.
    let half_s = 3600.0
        / expected
            .beats_per_hour
            .unwrap_or(pace.per_hour_recorded.value);
    let gained = |n: i64, t: f64| (n - n0) as f64 * half_s - (t - t0);
    let inked = |odd: i64, name: &str| {
        let mine: Vec<(f64, f64)> = (pace.late.iter())
            .filter(|(n, _, _)| n.rem_euclid(2) == odd)
            .map(|&(n, t, _)| ((t - t0) / 60.0, gained(n, t)))
            .collect();
        let part = mine.len().div_ceil(PARTS).max(1);
        let points = mine.chunks(part).map(|some| {
            let n = some.len() as f64;
            let mean = |of: fn(&(f64, f64)) -> f64| some.iter().map(of).sum::<f64>() / n;
            let (x, y) = (mean(|p| p.0), mean(|p| p.1));
            let spread = (some.iter().map(|p| (p.1 - y).powi(2)).sum::<f64>() / n).sqrt();
            (x, y, spread.max(pace.jitter_s))
        });
        draw::Inked {
            name: name.to_owned(),
            points: points.collect(),
        }
    };
    let lines = [
        inked(n0.rem_euclid(2), TICK),
        inked((n0 + 1).rem_euclid(2), TOCK),
    ];
    Some(draw::plot(
        &lines,
        draw::Axes {
            along: MINUTES,
            up: GAINS_LOSES,
        },
    ))
}
