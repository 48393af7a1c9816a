//! What every close-up has in common: the glass, what moves in it, the wheel that bears it, the way it runs, its window.

use crate::body::{self, Crossing};
use crate::figure::Fitting;
use crate::ink::{Ink, Tag, degrees, number};
use crate::pitch::Sized;
use crate::tooth::{polar, teeth};
use kurbo::{Affine, Arc, BezPath, Circle, Point};
use movement::{Movement, Witness};
use quantity::Degrees;
use std::f64::consts::{PI, TAU};

/// Radius of the glass, in the loupe's own units.
pub(crate) const GLASS: f64 = 50.0;
/// Where a rim meets the tip: a little below the middle, as the tip is shown above it.
pub(crate) const RIM: f64 = 4.0;

/// Where a witness stands, in degrees.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stands {
    /// Where it stands now.
    pub(crate) place: f64,
    /// Where it will stand afterwards, dotted.
    pub(crate) ghost: Option<f64>,
}

/// How the moving part moves, in the drawing's own frame.
pub(crate) enum Motion {
    /// So far for each degree, to the right and down.
    Slides(f64, f64),
    /// About a point.
    Turns(Point),
}

/// A close-up that is being drawn.
pub(crate) struct CloseUp<'a> {
    pub(crate) movement: &'a Movement,
    pub(crate) fitting: &'a Fitting,
    pub(crate) bearer: Option<&'a Sized>,
    pub(crate) rim: Option<f64>,
    pub(crate) ahead: f64,
    pub(crate) outward: f64,
    pub(crate) ink: Ink,
}

impl CloseUp<'_> {
    pub(crate) fn witness(&self) -> &Witness {
        self.movement.witness(self.fitting.witness)
    }

    /// From a frame in which outward is up to that of the drawing.
    pub(crate) fn upright(&self) -> Affine {
        Affine::rotate(self.outward + PI / 2.0)
    }

    pub(crate) fn open_upright(&mut self) {
        let tag = Tag::new("g", "").turned(body::wrapped(self.outward + PI / 2.0));
        self.ink.open(&tag);
    }

    /// Opens the moving part, or the ghost of it, at a place; two groups.
    pub(crate) fn open_moving(&mut self, class: &str, motion: &Motion, place: f64) {
        let w = self.witness();
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

    pub(crate) fn close_both(&mut self) {
        self.ink.close("g");
        self.ink.close("g");
    }

    /// Which way it runs, as a small arrow within the glass about a point, `out` above it.
    pub(crate) fn runs(&mut self, centre: Point, out: f64) {
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

    /// Something that turns on a circle, with what stands still before it.
    pub(crate) fn turning(
        &mut self,
        stands: Stands,
        circle: Circle,
        shape: &dyn Fn(&mut Ink, bool),
    ) {
        let motion = Motion::Turns(self.upright() * circle.center);
        self.open_moving("moving", &motion, stands.place);
        self.wheel(circle);
        shape(&mut self.ink, false);
        self.close_both();
        if let Some(ghost) = stands.ghost {
            self.open_moving("ghost", &motion, ghost);
            shape(&mut self.ink, true);
            self.close_both();
        }
    }

    /// The wheel that bears the witness, as large as brings its pins to a circle: so much of it as can be seen.
    fn wheel(&mut self, pins: Circle) {
        let scale = pins.radius / self.fitting.radius;
        self.ink.open(&Tag::new("g", "").shift(pins.center));
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

    /// The window as an arc along the glass, from an angle at which the witness stands at place 0.
    pub(crate) fn window(&mut self, zero: f64) {
        let w = self.witness();
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

/// The upper part of a rim too large for the glass, with what half a period either way brings into it.
fn segment(part: &Sized, rim: Option<f64>, fitting: &Fitting) -> BezPath {
    let outer = part.outer();
    let half = (1.4 * GLASS / outer + 1.5 * fitting.what.half_period()).min(PI);
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
        -wanted..wanted + 1,
        part.teeth,
        part.module,
    );
    let end = f64::from(wanted) * pitch;
    path.line_to(polar(inner, end));
    let back = Arc::new(Point::ZERO, (inner, inner), end, -2.0 * end, 0.0);
    path.extend(back.append_iter(0.02));
    path.close_path();
    Affine::rotate(-PI / 2.0) * path
}
