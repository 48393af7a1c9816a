//! Loupes: one witness close up, to scale in itself, at the place it stands.
//!
//! A loupe is drawn as if the lever came from above, turned with the view; where the sheet gives the hour at which the
//! lever stands, it is drawn at that hour.

use crate::View;
use crate::fitting::{bearer, fittings};
use crate::glass::{CloseUp, GLASS, Stands};
use crate::ink::{Drawing, Ink, Tag};
use crate::lever::clock_face_angle;
use crate::pitch::size;
use kurbo::{Point, Rect};
use movement::{Movement, WitnessId};
use quantity::{Degrees, fraction};
use std::f64::consts::PI;

/// Draws a witness close up, standing at `place`; where it will stand afterwards, dotted, at `ghost`.
///
/// What moves is the group `g.moving`, drawn at place 0 and then transformed. A slot slides: one degree of reading moves
/// it by `data-dx`, `data-dy` in the drawing's units. Everything else turns: by `data-turn` degrees, clockwise, about
/// `data-cx`, `data-cy`. `data-period` is the angle after which it looks the same, `data-from` and `data-to` its window.
pub fn loupe(
    movement: &Movement,
    witness: WitnessId,
    place: &Degrees,
    ghost: Option<&Degrees>,
    view: View,
) -> Drawing {
    let pitches = size(movement, &[]);
    let fittings = fittings(movement, &pitches);
    let fitting = fittings.of(witness);
    let ahead = view.ahead(movement, fitting.on);
    let outward = match clock_face_angle(movement, witness) {
        Some(angle) => view.angle(movement, angle),
        None if view.upside_down => PI / 2.0,
        None => -PI / 2.0,
    };
    let mut close = CloseUp {
        movement,
        fitting,
        bearer: bearer(&pitches, fitting.on).filter(|_| fitting.disc.is_none()),
        rim: fittings.rim(fitting.on),
        ahead,
        outward,
        ink: Ink::default(),
    };
    let stands = Stands {
        place: place.to_f64(),
        ghost: ghost.map(Degrees::to_f64),
    };
    draw(&mut close, stands);
    Drawing {
        class: "loupe",
        frame: Rect::new(-GLASS - 2.0, -GLASS - 2.0, GLASS + 2.0, GLASS + 2.0),
        letters: 14.0,
        body: close.ink.out,
        arrows: Vec::new(),
        anchors: Vec::new(),
    }
}

/// Five places for those who would rather choose a picture than drag: far short, on the edge that is short, where it is
/// best, on the edge ahead, far ahead.
pub fn choices(movement: &Movement, witness: WitnessId) -> [Degrees; 5] {
    let w = movement.witness(witness);
    // A third of what lies outside the window on either side stays clear of the alike place beyond.
    let off = &(&w.period() - &w.width()) * &fraction(1, 3);
    [
        &w.from - &off,
        w.from.clone(),
        w.best.clone(),
        w.to.clone(),
        &w.to + &off,
    ]
}

fn draw(close: &mut CloseUp<'_>, stands: Stands) {
    let id = format!("glass-{}", close.witness().id);
    close.ink.open(&Tag::new("clipPath", "").with("id", &id));
    close.ink.circle("", Point::ZERO, GLASS);
    close.ink.close("clipPath");
    close.ink.circle("paper", Point::ZERO, GLASS);
    let inside = Tag::new("g", "in").with("clip-path", &format!("url(#{id})"));
    close.ink.open(&inside);
    let what = &close.fitting.what;
    what.close_up(close, stands);
    close.ink.close("g");
    close.ink.circle("glass", Point::ZERO, GLASS);
}
