//! Loupes: one witness close up, to scale in itself, at the place it stands.
//!
//! A loupe is drawn as if the lever came from above, turned with the view; where the sheet gives the hour at which the
//! lever stands, it is drawn at that hour.

use crate::body::{self, Crossing};
use crate::fitting::{Fitting, bearer, fittings};
use crate::ink::{Drawing, Ink, Tag, degrees, number};
use crate::lever::told;
use crate::look::widths;
use crate::pitch::{Sized, size};
use crate::scene::zero_of;
use crate::tooth::{polar, teeth};
use crate::{Slots, View, Witnessing};
use kurbo::{Affine, Arc, BezPath, Point, Rect};
use movement::{Movement, WitnessId};
use quantity::{Degrees, fraction};
use std::f64::consts::{PI, TAU};

/// Radius of the glass, in the loupe's own units.
const GLASS: f64 = 50.0;
/// Where the rim meets the tip: a little below the middle, as the tip is shown above it.
const RIM: f64 = 4.0;
/// How many pitches of a count wheel's places are in sight.
const PITCHES: f64 = 1.5;
/// Depth of a slot, to be seen; a sheet does not give it.
const SLOT_DEPTH: f64 = 27.0;
/// Radius of the circle of a locking pin.
const PIN_CIRCLE: f64 = 31.0;

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
    let outward = match told(movement, witness) {
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
    close.draw(place.to_f64(), ghost.map(Degrees::to_f64));
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

/// How the moving part moves, in the drawing's own frame.
enum Motion {
    Slides(f64, f64),
    Turns(Point),
}

struct CloseUp<'a> {
    movement: &'a Movement,
    fitting: &'a Fitting,
    bearer: Option<&'a Sized>,
    rim: Option<f64>,
    ahead: f64,
    outward: f64,
    ink: Ink,
}

impl CloseUp<'_> {
    fn draw(&mut self, place: f64, ghost: Option<f64>) {
        let id = format!("glass-{}", self.movement.witness(self.fitting.witness).id);
        self.ink.open(&Tag::new("clipPath", "").with("id", &id));
        self.ink.circle("", Point::ZERO, GLASS);
        self.ink.close("clipPath");
        self.ink.circle("paper", Point::ZERO, GLASS);
        let inside = Tag::new("g", "in").with("clip-path", &format!("url(#{id})"));
        self.ink.open(&inside);
        match self.fitting.what.clone() {
            Witnessing::Slots(slots) => self.slots(&slots, place, ghost),
            Witnessing::Pins(n) => self.pins(n, place, ghost),
            Witnessing::Stop => self.stop(place, ghost),
            Witnessing::Vane => self.vane(place, ghost),
        }
        self.ink.close("g");
        self.ink.circle("glass", Point::ZERO, GLASS);
    }

    /// From a frame in which outward is up to that of the drawing.
    fn upright(&self) -> Affine {
        Affine::rotate(self.outward + PI / 2.0)
    }

    fn open_upright(&mut self) {
        let tag = Tag::new("g", "").turned(body::wrapped(self.outward + PI / 2.0));
        self.ink.open(&tag);
    }

    /// Opens the moving part, or the ghost of it, at a place; two groups.
    fn open_moving(&mut self, class: &str, motion: &Motion, place: f64) {
        let w = self.movement.witness(self.fitting.witness);
        let tag = Tag::new("g", class)
            .with("data-witness", &w.id)
            .num("data-place", place)
            .with("data-period", &degrees(w.period().to_f64()))
            .with("data-from", &degrees(w.from.to_f64()))
            .with("data-to", &degrees(w.to.to_f64()));
        let tag = match *motion {
            Motion::Slides(dx, dy) => tag
                .with("data-dx", &degrees(dx))
                .with("data-dy", &degrees(dy))
                .shift(Point::new(dx * place, dy * place)),
            Motion::Turns(centre) => {
                let turn = format!(
                    "rotate({} {} {})",
                    degrees(self.ahead * place),
                    number(centre.x),
                    number(centre.y)
                );
                tag.with("data-turn", if self.ahead > 0.0 { "1" } else { "-1" })
                    .point(["data-cx", "data-cy"], centre)
                    .with("transform", &turn)
            }
        };
        self.ink.open(&tag);
        self.open_upright();
    }

    fn close_both(&mut self) {
        self.ink.close("g");
        self.ink.close("g");
    }

    /// Which way it runs, as a small arrow within the glass about a point, `out` above it.
    fn runs(&mut self, centre: Point, out: f64) {
        let reach = 9.0 / out.max(1.0);
        let top = -PI / 2.0;
        let (from, to) = (top - self.ahead * reach, top + self.ahead * reach);
        let at = |angle: f64, out: f64| centre + polar(out, angle).to_vec2();
        let mut path = BezPath::new();
        path.move_to(at(from, out));
        path.quad_to(at(top, out / reach.cos().max(0.3)), at(to, out));
        let back = to - self.ahead * 0.45 * reach;
        path.move_to(at(back, out + 3.0));
        path.line_to(at(to, out));
        path.line_to(at(back, out - 3.0));
        self.ink.path("runs-halo", &path);
        self.ink.path("runs", &path);
    }

    fn slots(&mut self, slots: &Slots, place: f64, ghost: Option<f64>) {
        let widths = widths(self.movement, self.fitting.witness);
        let scale = 2.0 * GLASS / (PITCHES * widths.period);
        let along = self.upright() * Point::new(scale * self.ahead, 0.0);
        let motion = Motion::Slides(along.x, along.y);
        let half = widths.slot * scale / 2.0;
        // The middle of the slot that is read, at place 0; later places follow behind.
        let zero = self.ahead * widths.middle * scale;
        let at = |p: i32| zero - self.ahead * f64::from(p) * widths.period * scale;
        let total = i32::from(slots.places);
        let open = |p: i32| u16::try_from(p.rem_euclid(total)).is_ok_and(|p| slots.open(p));
        let reach = 3;
        let mut edges: Vec<(f64, f64)> = Vec::new();
        for p in (-reach..=reach).filter(|&p| open(p)) {
            let (from, to) = (at(p) - half, at(p) + half);
            let single = slots.cut.iter().all(|&(first, long)| {
                long == 1
                    || (p.rem_euclid(total) - i32::from(first)).rem_euclid(total) >= i32::from(long)
            });
            let pitch = widths.period * scale;
            edges.push(if single {
                (from, to)
            } else {
                // Within a long slot there is no land between places.
                (
                    from - (pitch / 2.0 - half).max(0.0),
                    to + (pitch / 2.0 - half).max(0.0),
                )
            });
        }
        edges.sort_by(|a, b| a.0.total_cmp(&b.0));
        let pitch = widths.period * scale;
        let ends = (f64::from(reach) + 0.5) * pitch;
        let (left, right) = (zero - ends, zero + ends);
        let mut rim = BezPath::new();
        rim.move_to((left, RIM));
        let mut lands = Vec::new();
        let mut from = left;
        for &(a, b) in &edges {
            rim.line_to((a, RIM));
            rim.line_to((a, RIM + SLOT_DEPTH));
            rim.line_to((b, RIM + SLOT_DEPTH));
            rim.line_to((b, RIM));
            lands.push((from, a));
            from = b;
        }
        lands.push((from, right));
        rim.line_to((right, RIM));
        rim.line_to((right, 2.2 * GLASS));
        rim.line_to((left, 2.2 * GLASS));
        rim.close_path();
        self.open_moving("moving", &motion, place);
        self.ink.path("brass", &rim);
        let mut hatch = BezPath::new();
        for (a, b) in lands {
            slanted(&mut hatch, Rect::new(a, RIM, b, RIM + SLOT_DEPTH));
        }
        slanted(
            &mut hatch,
            Rect::new(left, RIM + SLOT_DEPTH, right, GLASS + 4.0),
        );
        self.ink.path("hatch", &hatch);
        self.close_both();
        if let Some(ghost) = ghost {
            self.open_moving("ghost", &motion, ghost);
            let mut slot = BezPath::new();
            slot.move_to((zero - half, RIM));
            slot.line_to((zero - half, RIM + SLOT_DEPTH));
            slot.line_to((zero + half, RIM + SLOT_DEPTH));
            slot.line_to((zero + half, RIM));
            self.ink.path("", &slot);
            self.close_both();
        }
        self.open_upright();
        let tip = widths.tip * scale / 2.0;
        let round = 0.5 * tip.min(4.0);
        let mut path = BezPath::new();
        path.move_to((-tip, -1.3 * GLASS));
        path.line_to((-tip, RIM - 1.0 - round));
        path.quad_to((-tip, RIM - 1.0), (round - tip, RIM - 1.0));
        path.line_to((tip - round, RIM - 1.0));
        path.quad_to((tip, RIM - 1.0), (tip, RIM - 1.0 - round));
        path.line_to((tip, -1.3 * GLASS));
        path.close_path();
        self.ink.path("steel", &path);
        for x in [-tip, tip] {
            let down = Point::new(x, RIM + SLOT_DEPTH + 7.0);
            self.ink.line("dash", Point::new(x, RIM), down);
        }
        self.runs(Point::new(0.0, 1000.0), 1000.0 - RIM - SLOT_DEPTH - 10.0);
        self.ink.close("g");
    }

    /// Something that turns about a point below the rim, with what stands still before it.
    fn turning(
        &mut self,
        (place, ghost): (f64, Option<f64>),
        (centre, radius): (Point, f64),
        shape: &dyn Fn(&mut Ink, bool),
    ) {
        let motion = Motion::Turns(self.upright() * centre);
        self.open_moving("moving", &motion, place);
        self.wheel(centre, radius);
        shape(&mut self.ink, false);
        self.close_both();
        if let Some(ghost) = ghost {
            self.open_moving("ghost", &motion, ghost);
            shape(&mut self.ink, true);
            self.close_both();
        }
    }

    /// The wheel that bears the witness, as large as brings its pins to a radius: so much of it as can be seen.
    fn wheel(&mut self, centre: Point, radius: f64) {
        let scale = radius / self.fitting.radius;
        self.ink.open(&Tag::new("g", "").shift(centre));
        match self.bearer {
            None => {
                let disc = self.fitting.disc.unwrap_or(self.fitting.radius + 1.0);
                self.ink.circle("brass", Point::ZERO, disc * scale);
            }
            Some(part) => {
                let mut part = part.clone();
                part.module *= scale;
                let rim = self.rim.map(|r| r * scale);
                if part.outer() < 1.6 * GLASS {
                    let hub = 0.2 * part.outer();
                    let path = body::body(&part, Crossing { hub, rim });
                    self.ink.path("brass", &path);
                } else {
                    self.ink.path("brass", &segment(&part, rim, self.fitting));
                }
            }
        }
        self.ink.close("g");
    }

    fn pins(&mut self, n: u16, place: f64, ghost: Option<f64>) {
        let w = self.movement.witness(self.fitting.witness);
        let period = w.period().to_f64();
        let radius = (GLASS / period.to_radians()).clamp(30.0, 900.0);
        let centre = Point::new(0.0, RIM + radius);
        // The next pin touches the tail where the window ends ahead.
        let short = -zero_of(self.movement, self.fitting.witness, &self.fitting.what);
        let both = (short - w.to.to_f64()).clamp(0.06 * period, 0.16 * period);
        let both = both.to_radians() * radius;
        let (pin, tail) = (0.5 * both, 0.5 * both);
        let first = -PI / 2.0 - self.ahead * short.to_radians();
        self.turning((place, ghost), (centre, radius), &|ink, bare| {
            for i in 0..n {
                let angle = body::wrapped(TAU * f64::from(i) / f64::from(n) + first);
                let at = centre + polar(radius, angle).to_vec2();
                // Those that never come into the glass are left out.
                if at.to_vec2().hypot() < GLASS * 2.2 {
                    ink.circle(if bare { "" } else { "pin" }, at, pin);
                }
            }
        });
        self.open_upright();
        let inner = radius - pin;
        let reach = body::finger(
            inner,
            radius + 2.0 * GLASS,
            (tail, 1.9 * tail + 3.0),
            -PI / 2.0,
        );
        let moved = Affine::translate(centre.to_vec2()) * reach;
        self.ink.path("steel", &moved);
        self.runs(Point::new(0.0, 1000.0), 1000.0 - GLASS + 14.0);
        self.ink.close("g");
    }

    fn stop(&mut self, place: f64, ghost: Option<f64>) {
        let centre = Point::ZERO;
        let pin = 3.6;
        self.turning((place, ghost), (centre, PIN_CIRCLE), &|ink, bare| {
            let at = Point::new(0.0, -PIN_CIRCLE);
            ink.circle(if bare { "" } else { "pin" }, at, pin);
        });
        self.open_upright();
        let half = 2.6;
        let off = self.ahead * (pin + half) / PIN_CIRCLE;
        let arm = body::finger(PIN_CIRCLE - pin, 2.0 * GLASS, (half, 4.5), off - PI / 2.0);
        self.ink.path("steel", &arm);
        self.window(-PI / 2.0);
        self.runs(centre, 17.0);
        self.ink.close("g");
    }

    fn vane(&mut self, place: f64, ghost: Option<f64>) {
        let centre = Point::ZERO;
        let (length, half) = (40.0, 6.5);
        let motion = Motion::Turns(centre);
        for (class, place) in [("moving", Some(place)), ("ghost", ghost)] {
            let Some(place) = place else { continue };
            self.open_moving(class, &motion, place);
            let metal = if class == "moving" { "steel" } else { "" };
            self.ink.path(metal, &body::vane(length, half));
            self.ink
                .circle(if class == "moving" { "ink" } else { "" }, centre, 2.0);
            self.close_both();
        }
        self.open_upright();
        let wire = Point::new(0.0, -36.0);
        self.ink.line("wire", wire, Point::new(0.0, -1.2 * GLASS));
        self.ink.circle("ink", wire, 2.4);
        self.window(0.0);
        self.window(PI);
        self.runs(centre, 17.0);
        self.ink.close("g");
    }

    /// The window as an arc along the glass, from an angle at which the witness stands at place 0.
    fn window(&mut self, zero: f64) {
        let w = self.movement.witness(self.fitting.witness);
        let at = |d: &Degrees| zero + self.ahead * d.to_f64().to_radians();
        let (from, to) = (at(&w.from), at(&w.to));
        let radius = GLASS - 4.0;
        let mut path = BezPath::new();
        path.move_to(polar(radius - 3.0, from));
        path.line_to(polar(radius, from));
        path.extend(
            Arc::new(Point::ZERO, (radius, radius), from, to - from, 0.0).append_iter(0.05),
        );
        path.line_to(polar(radius - 3.0, to));
        self.ink.path("window", &path);
    }
}

/// Strokes at 45° over a rectangle.
fn slanted(path: &mut BezPath, over: Rect) {
    const STEP: f64 = 5.0;
    if over.width() < 0.5 {
        return;
    }
    let mut c = ((over.x0 + over.y0) / STEP).ceil() * STEP;
    // A stroke is x + y = c, cut to the rectangle.
    while c < over.x1 + over.y1 {
        let from = Point::new((c - over.y1).max(over.x0), (c - over.x0).min(over.y1));
        let to = Point::new((c - over.y0).min(over.x1), (c - over.x1).max(over.y0));
        if (to.x - from.x) > 0.3 {
            path.move_to(from);
            path.line_to(to);
        }
        c += STEP;
    }
}

/// The upper part of a rim too large for the glass, with what half a period either way brings into it.
fn segment(part: &Sized, rim: Option<f64>, fitting: &Fitting) -> BezPath {
    let outer = part.outer();
    let half_period = match fitting.what {
        Witnessing::Pins(n) => PI / f64::from(n),
        _ => PI,
    };
    let half = (1.4 * GLASS / outer + 1.5 * half_period).min(PI);
    let pitch = TAU / f64::from(part.teeth);
    let reach = i32::from(part.teeth) / 2;
    let wanted = (0..reach)
        .find(|&i| f64::from(i) * pitch > half)
        .unwrap_or(reach);
    let inner = rim.unwrap_or(part.tooth.root * part.module * 0.9);
    let mut path = BezPath::new();
    teeth(
        &mut path,
        &part.tooth,
        (-wanted, wanted + 1, part.teeth),
        part.module,
    );
    let end = f64::from(wanted) * pitch;
    path.line_to(polar(inner, end));
    let back = Arc::new(Point::ZERO, (inner, inner), end, -2.0 * end, 0.0);
    path.extend(back.append_iter(0.02));
    path.close_path();
    Affine::rotate(-PI / 2.0) * path
}
