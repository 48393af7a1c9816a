//! What each kind of witness looks like: the table, and pins, arms, steps and vanes. Slots have a file of their own.

use crate::body::{self, Finger};
use crate::figure::{Approach, Figure, Fitting, Shows};
use crate::glass::{CloseUp, GLASS, Motion, RIM, Stands};
use crate::ink::Ink;
use crate::look::{Widths, widths};
use crate::slots::Slots;
use crate::slotted::{Slotted, slanted};
use crate::tooth::polar;
use kurbo::{BezPath, Circle, Point, Rect};
use movement::{Movement, WitnessDrawing, WitnessId};
use std::f64::consts::{PI, TAU};
use std::sync::Arc;

/// What a witness looks like.
pub(crate) fn figure(movement: &Movement, id: WitnessId) -> Arc<dyn Figure> {
    let witness = movement.witness(id);
    let many = witness.repeats.get();
    match witness.kind.looks {
        WitnessDrawing::Slots => Arc::new(Slotted(Slots::of(movement, witness))),
        WitnessDrawing::Pins => Arc::new(Pins(many)),
        WitnessDrawing::Stop => Arc::new(Stop(many)),
        WitnessDrawing::Steps => Arc::new(Steps(many)),
        WitnessDrawing::Vane => Arc::new(Vane),
        WitnessDrawing::Plain if many == 1 => Arc::new(Stop(1)),
        WitnessDrawing::Plain => Arc::new(Pins(many)),
    }
}

/// Circle of pins, as a part of the root circle: the middle of the rim that bears them.
const PINS: f64 = 0.86;
/// Radius of the circle of a locking pin, close up.
const PIN_CIRCLE: f64 = 31.0;

fn all_round(many: u16, first: f64) -> impl Iterator<Item = f64> {
    (0..many).map(move |i| TAU * f64::from(i) / f64::from(many) + first)
}

/// So many pins in a rim, against a hammer's tail.
#[derive(Debug)]
struct Pins(u16);

/// The hammer tail stands between two pins, let go by the last, the next a quarter of the pitch short of it (common
/// practice, no source).
const SHORT_OF_TAIL: f64 = 0.25;

impl Figure for Pins {
    fn fitted(&self, base: f64, _: f64, _: bool) -> (f64, f64) {
        let radius = PINS * base;
        let pitch = TAU * radius / f64::from(self.0);
        (radius, (0.045 * base).clamp(0.3, 1.3).min(0.22 * pitch))
    }

    fn through(&self) -> bool {
        true
    }

    fn shows(&self) -> Option<Shows> {
        Some(Shows::Lobes)
    }

    fn zero(&self, widths: &Widths) -> f64 {
        -SHORT_OF_TAIL * widths.period
    }

    fn shape(&self, ink: &mut Ink, fitting: &Fitting, _: &Widths, _: f64) {
        for angle in all_round(self.0, 0.0) {
            ink.circle("ink", polar(fitting.radius, angle), fitting.size);
        }
    }

    fn against(&self, ink: &mut Ink, fitting: &Fitting, to: Approach, unit: f64) {
        let width = fitting.size.max(0.5 * unit);
        let tail = Finger {
            inner: fitting.radius - fitting.size,
            outer: fitting.radius + to.reach,
            tip: 0.7 * width,
            root: 1.3 * width,
        };
        ink.path("steel", &tail.at(to.angle));
    }

    fn half_period(&self) -> f64 {
        PI / f64::from(self.0)
    }

    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands) {
        let w = glass.witness();
        let period = w.period().to_f64();
        let radius = (GLASS / period.to_radians()).clamp(30.0, 900.0);
        let centre = Point::new(0.0, RIM + radius);
        // The next pin touches the tail where the window ends ahead.
        let short = -self.zero(&widths(glass.movement, glass.fitting.witness));
        let both = (short - w.to.to_f64()).clamp(0.06 * period, 0.16 * period);
        let both = both.to_radians() * radius;
        let (pin, tail) = (0.5 * both, 0.5 * both);
        let first = -PI / 2.0 - glass.ahead * short.to_radians();
        glass.turning(stands, Circle::new(centre, radius), &|ink, bare| {
            for angle in all_round(self.0, first) {
                let at = centre + polar(radius, body::wrapped(angle)).to_vec2();
                // Those that never come into the glass are left out.
                if at.to_vec2().hypot() < GLASS * 2.2 {
                    ink.circle(if bare { "" } else { "pin" }, at, pin);
                }
            }
        });
        glass.open_upright();
        let tail = Finger {
            inner: radius - pin,
            outer: radius + 2.0 * GLASS,
            tip: tail,
            root: 1.9 * tail + 3.0,
        };
        let moved = kurbo::Affine::translate(centre.to_vec2()) * tail.at(-PI / 2.0);
        glass.ink.path("steel", &moved);
        glass.runs(Point::new(0.0, 1000.0), 1000.0 - GLASS + 14.0);
        glass.ink.close("g");
    }
}

/// One pin or several, against an arm that stops them.
#[derive(Debug)]
struct Stop(u16);

impl Figure for Stop {
    fn fitted(&self, base: f64, _: f64, _: bool) -> (f64, f64) {
        (PINS * base, (0.055 * base).clamp(0.5, 1.3))
    }

    fn through(&self) -> bool {
        true
    }

    fn shows(&self) -> Option<Shows> {
        Some(Shows::Pin)
    }

    fn arm(&self) -> Option<&'static str> {
        Some("locking-arm")
    }

    fn zero(&self, _: &Widths) -> f64 {
        0.0
    }

    /// By the pin's own half and the arm's, so that at place 0 the pin stands against it.
    fn beside(&self, fitting: &Fitting, unit: f64) -> Option<f64> {
        let half_arm = 0.9 * unit;
        Some((fitting.size + half_arm) / fitting.radius.max(1.0))
    }

    fn shape(&self, ink: &mut Ink, fitting: &Fitting, _: &Widths, _: f64) {
        for angle in all_round(self.0, 0.0) {
            ink.circle("ink", polar(fitting.radius, angle), fitting.size);
        }
    }

    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands) {
        let centre = Point::ZERO;
        let pin = 3.6;
        glass.turning(stands, Circle::new(centre, PIN_CIRCLE), &|ink, bare| {
            for angle in all_round(self.0, -PI / 2.0) {
                ink.circle(if bare { "" } else { "pin" }, polar(PIN_CIRCLE, angle), pin);
            }
        });
        glass.open_upright();
        let half = 2.6;
        let off = glass.ahead * (pin + half) / PIN_CIRCLE;
        let arm = Finger {
            inner: PIN_CIRCLE - pin,
            outer: 2.0 * GLASS,
            tip: half,
            root: 4.5,
        };
        glass.ink.path("steel", &arm.at(off - PI / 2.0));
        glass.window(-PI / 2.0);
        glass.runs(centre, 17.0);
        glass.ink.close("g");
    }
}

/// The steps of a snail, against the rack's tail: so many alike, or one of twelve.
#[derive(Debug)]
struct Steps(u16);

/// Steps of a snail for the hours of a dial.
const HOURS: u16 = 12;
/// What all steps fall together, as a part of the snail's radius.
const FALL: f64 = 0.45;
/// What a step falls, close up.
const STEP: f64 = 9.0;

impl Steps {
    fn many(&self) -> u16 {
        if self.0 == 1 { HOURS } else { self.0 }
    }
}

impl Figure for Steps {
    fn fitted(&self, base: f64, _: f64, _: bool) -> (f64, f64) {
        (0.8 * base, FALL * 0.8 * base / f64::from(self.many()))
    }

    fn shows(&self) -> Option<Shows> {
        Some(Shows::Steps)
    }

    fn zero(&self, _: &Widths) -> f64 {
        0.0
    }

    /// The step that is read stands as far from the tall one as the third hour; those that come later lie lower.
    fn shape(&self, ink: &mut Ink, fitting: &Fitting, _: &Widths, ahead: f64) {
        let many = self.many();
        let read = many / 4;
        let half = PI / f64::from(many);
        let mut edge = BezPath::new();
        for step in 0..many {
            let later = f64::from(step) - f64::from(read);
            let radius = fitting.radius - fitting.size * later;
            let middle = -ahead * later * 2.0 * half;
            for part in -2..=2 {
                let at = polar(radius, middle - ahead * half * f64::from(part) / 2.0);
                match edge.elements().is_empty() {
                    true => edge.move_to(at),
                    false => edge.line_to(at),
                }
            }
        }
        edge.close_path();
        ink.path("brass", &edge);
    }

    fn against(&self, ink: &mut Ink, fitting: &Fitting, to: Approach, unit: f64) {
        let tail = Finger {
            inner: fitting.radius,
            outer: fitting.radius + to.reach,
            tip: 0.5 * unit,
            root: 0.9 * unit,
        };
        ink.path("steel", &tail.at(to.angle));
    }

    fn half_period(&self) -> f64 {
        PI / f64::from(self.many())
    }

    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands) {
        let pitch = 360.0 / f64::from(self.many());
        let scale = 2.0 * GLASS / (1.5 * pitch);
        let along = glass.upright() * Point::new(scale * glass.ahead, 0.0);
        let motion = Motion::Slides(along.x, along.y);
        let ahead = glass.ahead;
        // Each step as where it begins and ends, and how deep it lies.
        let reach = 2;
        let mut steps: Vec<(f64, f64, f64)> = (-reach..=reach)
            .map(|later| {
                let middle = -ahead * f64::from(later) * pitch * scale;
                let half = pitch * scale / 2.0;
                (middle - half, middle + half, RIM + STEP * f64::from(later))
            })
            .collect();
        steps.sort_by(|a, b| a.0.total_cmp(&b.0));
        let (left, right) = (steps[0].0, steps[steps.len() - 1].1);
        let bottom = 2.2 * GLASS;
        let mut rim = BezPath::new();
        rim.move_to((left, bottom));
        let mut hatch = BezPath::new();
        for &(from, to, deep) in &steps {
            rim.line_to((from, deep));
            rim.line_to((to, deep));
            slanted(&mut hatch, Rect::new(from, deep, to, GLASS + 4.0));
        }
        rim.line_to((right, bottom));
        rim.close_path();
        glass.open_moving("moving", &motion, stands.place);
        glass.ink.path("brass", &rim);
        glass.ink.path("hatch", &hatch);
        glass.close_both();
        if let Some(ghost) = stands.ghost {
            glass.open_moving("ghost", &motion, ghost);
            let half = pitch * scale / 2.0;
            let ends = [-half, half].map(|x| Point::new(x, RIM));
            glass.ink.line("", ends[0], ends[1]);
            glass.close_both();
        }
        glass.open_upright();
        let tail = Finger {
            inner: -RIM,
            outer: 1.3 * GLASS,
            tip: 3.0,
            root: 5.0,
        };
        glass.ink.path("steel", &tail.at(-PI / 2.0));
        glass.runs(Point::new(0.0, 1000.0), 1000.0 - RIM - 40.0);
        glass.ink.close("g");
    }
}

/// The fly, its two vanes against a wire they must clear.
#[derive(Debug)]
struct Vane;

impl Figure for Vane {
    fn fitted(&self, _: f64, room: f64, _: bool) -> (f64, f64) {
        let radius = (0.72 * room).clamp(4.0, 30.0);
        (radius, (0.16 * radius).clamp(0.8, 2.6))
    }

    fn is_fly(&self) -> bool {
        true
    }

    fn shows(&self) -> Option<Shows> {
        None
    }

    fn rise(&self, _: f64) -> f64 {
        3.0
    }

    fn zero(&self, _: &Widths) -> f64 {
        90.0
    }

    fn shape(&self, ink: &mut Ink, fitting: &Fitting, _: &Widths, _: f64) {
        ink.path("steel", &body::vane(fitting.radius, fitting.size));
    }

    fn against(&self, ink: &mut Ink, fitting: &Fitting, to: Approach, unit: f64) {
        let wire = polar(0.86 * fitting.radius, to.angle);
        ink.line("wire", wire, polar(1.2 * fitting.radius, to.angle));
        ink.circle("ink", wire, 0.6 * unit);
    }

    fn close_up(&self, glass: &mut CloseUp<'_>, stands: Stands) {
        let centre = Point::ZERO;
        let (length, half) = (40.0, 6.5);
        let motion = Motion::Turns(centre);
        for (class, place) in [("moving", Some(stands.place)), ("ghost", stands.ghost)] {
            let Some(place) = place else { continue };
            glass.open_moving(class, &motion, place);
            let moving = class == "moving";
            let vane = body::vane(length, half);
            glass.ink.path(if moving { "steel" } else { "" }, &vane);
            glass
                .ink
                .circle(if moving { "ink" } else { "" }, centre, 2.0);
            glass.close_both();
        }
        glass.open_upright();
        let wire = Point::new(0.0, -36.0);
        glass.ink.line("wire", wire, Point::new(0.0, -1.2 * GLASS));
        glass.ink.circle("ink", wire, 2.4);
        glass.window(0.0);
        glass.window(PI);
        glass.runs(centre, 17.0);
        glass.ink.close("g");
    }
}
