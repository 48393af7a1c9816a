//! What was heard, drawn.

use crate::{Locale, say};
use draw::Drawing;
use listen::{ExpectedClock, Findings};
use movement::Movement;
use tasks::listening::Hearing;

/// The plot of how it gains or loses, tick and tock in two inks; nothing without beats.
pub fn plot(locale: &Locale, found: &Findings, expected: &ExpectedClock) -> Option<Drawing> {
    const PARTS: usize = 150;
    let pace = found.pace.as_ref()?;
    let (n0, t0, _) = *pace.late.first()?;
    // Without a sheet, the plot is against the clock's own mean.
    let half_s = 3600.0
        / expected
            .beats_per_hour
            .unwrap_or(pace.per_hour_recorded.value);
    let gained = |n: i64, t: f64| (n - n0) as f64 * half_s - (t - t0);
    let inked = |odd: i64, name: String| {
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
            name,
            points: points.collect(),
        }
    };
    let lines = [
        inked(n0.rem_euclid(2), say!(locale, "listen-tick")),
        inked((n0 + 1).rem_euclid(2), say!(locale, "listen-tock")),
    ];
    let (along, up) = (
        say!(locale, "listen-minutes"),
        say!(locale, "listen-gains-loses"),
    );
    Some(draw::plot(
        &lines,
        draw::Axes {
            along: &along,
            up: &up,
        },
    ))
}

/// The sound from its beginning to its end, what was found marked in it.
pub fn sound(hearing: &Hearing) -> Drawing {
    let heard = &hearing.heard;
    let beats: Vec<(f64, bool)> = (heard.beats.iter())
        .map(|beat| (beat.at_s, beat.n.rem_euclid(2) == 0))
        .collect();
    let blows: Vec<&[f64]> = (heard.strikes.iter())
        .map(|strike| strike.blow_times_s.as_slice())
        .collect();
    draw::strip(&draw::Sounded {
        seconds: heard.seconds,
        loud: hearing.outline.loud(),
        step_s: hearing.outline.step_s(),
        beats: &beats,
        blows: &blows,
    })
}

/// The movement with what comes round at the arbors it may come from; nothing where nothing does.
pub fn marked(locale: &Locale, movement: &Movement, found: &Findings) -> Option<Drawing> {
    let mut notes: Vec<draw::Note> = Vec::new();
    for round in &found.comes_round {
        let line = super::on_the_drawing(locale, round);
        for at in round
            .arbors
            .iter()
            .filter_map(|name| movement.find_arbor(name))
        {
            draw::Note::add(&mut notes, at, line.clone(), true);
        }
    }
    let laid = || draw::layout(movement, &tasks::centres(movement, None));
    let view = draw::View::of_sheet(movement);
    (!notes.is_empty()).then(|| draw::scene_with_notes(movement, &laid(), view, &notes))
}
