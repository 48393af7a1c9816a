//! The whole movement as it lies there, from either plate and either way up.

use crate::anchor::{Anchor, Anchored, CloseUp};
use crate::body::{self, Crossing};
use crate::figure::{Approach, Fitting};
use crate::fitting::bearer;
use crate::ink::{Drawing, Ink, Tag, degrees, path};
use crate::look::widths;
use crate::pitch::Sized;
use crate::tooth::Shape;
use crate::view::{EDGE, LETTERS, Sight};
use crate::{Layout, Marks, Note, Pose, View, arrow, label};
use kurbo::{BezPath, Point};
use movement::{ArborId, Movement};
use std::f64::consts::PI;

/// Around the wheels, for labels and arrows, in units of the drawing's measure.
const MARGIN: f64 = 7.5;

/// Draws a movement from a side, each witness where the pose has it.
///
/// The sheet's own frame is kept: places and lengths in the drawing are millimetres of the layout, mirrored or turned
/// about its middle as the view asks. Every toothed part is a group `g.arbor` with `data-arbor`, `data-part`,
/// `data-cx`, `data-cy` and `data-turn`, the degrees `g.turn` within it is to be rotated by (clockwise) for each degree
/// the arbor goes ahead; every witness likewise `g.witness` with `data-witness`; every arrow `g.arrow`.
pub fn scene(
    movement: &Movement,
    layout: &Layout,
    view: View,
    pose: &Pose,
    marks: &Marks<'_>,
) -> Drawing {
    annotated(Sight::new(movement, layout, view), pose, marks, &[])
}

/// Draws a movement from a side with a few words at arbors; see [`scene`].
pub fn scene_with_notes(
    movement: &Movement,
    layout: &Layout,
    view: View,
    notes: &[Note],
) -> Drawing {
    let sight = Sight::new(movement, layout, view);
    annotated(sight, &Pose::default(), &Marks::default(), notes)
}

fn annotated(sight: Sight<'_>, pose: &Pose, marks: &Marks<'_>, notes: &[Note]) -> Drawing {
    let mut scene = Scene::of(sight, pose, marks, notes);
    scene.plate();
    scene.stand_behind();
    scene.wheels();
    scene.hidden();
    scene.pivots();
    scene.stand_before();
    if scene.sight.layout.machinery.is_some() {
        scene.works();
    } else {
        scene.levers();
    }
    scene.ghosts();
    let arrows = arrow::arrows(&scene.sight, marks);
    label::labels(&mut scene.ink, &scene.sight, marks, notes, &arrows.taken);
    let unit = scene.sight.unit();
    Drawing {
        class: "scene",
        frame: scene.sight.bounds().inflate(MARGIN * unit, MARGIN * unit),
        letters: LETTERS * unit,
        body: scene.written(),
        anchors: [arrows.anchors, scene.anchors()].concat(),
        arrows: arrows.drawn,
    }
}

/// An id that only an outline alike has, so that two drawings may stand on one page (64-bit FNV-1a, from memory).
fn name_of(d: &str) -> String {
    let hash = d.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0000_0100_0000_01b3)
    });
    format!("body-{hash:x}")
}

pub(crate) struct Scene<'a> {
    pub(crate) sight: Sight<'a>,
    marks: &'a Marks<'a>,
    pub(crate) pose: &'a Pose,
    notes: &'a [Note],
    /// The outlines used, each once.
    bodies: Vec<String>,
    pub(crate) ink: Ink,
}

/// Something to draw in its order of depth.
enum Item<'a> {
    Part(&'a Sized),
    Fitting(&'a Fitting),
    Cam,
    Fly(ArborId, f64),
}

impl<'a> Scene<'a> {
    /// Nothing drawn yet.
    pub(crate) fn of(
        sight: Sight<'a>,
        pose: &'a Pose,
        marks: &'a Marks<'a>,
        notes: &'a [Note],
    ) -> Scene<'a> {
        Scene {
            sight,
            marks,
            pose,
            notes,
            bodies: Vec::new(),
            ink: Ink::default(),
        }
    }
}

impl Scene<'_> {
    /// All that was drawn, after the outlines it refers to.
    pub(crate) fn written(&self) -> String {
        let outlines: String = (self.bodies.iter())
            .map(|d| format!("<path id=\"{}\" d=\"{d}\"/>", name_of(d)))
            .collect();
        format!("<defs>{outlines}</defs>{}", self.ink.out)
    }

    fn movement(&self) -> &Movement {
        self.sight.movement
    }

    /// Where its parts are.
    fn anchors(&self) -> Vec<Anchor> {
        let (movement, layout) = (self.movement(), self.sight.layout);
        let letters = LETTERS * self.sight.unit();
        let round = |of: Anchored, at: Point, radius: f64| Anchor {
            of,
            at: CloseUp {
                x: at.x,
                y: at.y,
                radius,
            },
        };
        let mut anchors = self.standing_anchors();
        // Where tracks are drawn as the sheet has them, no cam stands for them.
        if let Some(cam) = layout.fittings.cam.filter(|_| layout.machinery.is_none()) {
            let at = self.sight.centre(cam.on);
            anchors.push(round(Anchored::Cam(cam.on), at, 4.6 * letters));
        }
        anchors.extend(movement.arbors().map(|(id, _)| {
            let at = self.sight.centre(id);
            round(Anchored::Arbor(id), at, layout.toothed(id))
        }));
        anchors.extend(movement.meshes().map(|(id, mesh)| {
            let [driver, driven] = [mesh.driver, mesh.driven].map(|part| {
                let radius = (layout.pitches.on(part.arbor))
                    .find(|sized| sized.id == part)
                    .map_or(0.0, Sized::pitch_radius);
                (self.sight.centre(part.arbor), radius)
            });
            let whole = (driver.1 + driven.1).max(f64::MIN_POSITIVE);
            let at = driver.0.lerp(driven.0, driver.1 / whole);
            round(Anchored::Mesh(id), at, 4.6 * letters)
        }));
        anchors.extend(layout.fittings.all.iter().map(|fitting| {
            let place = self.pose.of(fitting.witness);
            let place = place
                .unwrap_or(&movement.witness(fitting.witness).best)
                .to_f64();
            let out = crate::tooth::polar(fitting.radius, self.stand(fitting, place));
            let at = self.sight.centre(fitting.on) + out.to_vec2();
            round(Anchored::Witness(fitting.witness), at, 4.6 * letters)
        }));
        anchors
    }

    /// The edge of the plate: only a frame, as its true outline is not known.
    fn plate(&mut self) {
        let unit = self.sight.unit();
        let edge = self.sight.bounds().inflate(EDGE * unit, EDGE * unit);
        let tag = Tag::new("rect", "plate")
            .point(["x", "y"], edge.origin())
            .num("width", edge.width())
            .num("height", edge.height())
            .num("rx", 5.0 * unit);
        self.ink.empty(&tag);
    }

    fn wheels(&mut self) {
        let layout = self.sight.layout;
        let turned_over = self.sight.turned_over();
        let depth = |level: i32| if turned_over { -level } else { level };
        let fitted = |on: ArborId, front: bool| {
            let level = bearer(&layout.pitches, on)
                .or_else(|| layout.pitches.on(on).next())
                .map_or(0, |p| layout.levels[layout.pitches.index(p.id)]);
            // Before the wheel that bears it where `front`; pins go through the rim and are seen from both sides.
            (depth(level), front, 0.0)
        };
        let mut items: Vec<((i32, bool, f64), Item<'_>)> = Vec::new();
        for (part, level) in layout.pitches.parts.iter().zip(&layout.levels) {
            items.push((
                (depth(*level), turned_over, -part.outer()),
                Item::Part(part),
            ));
        }
        // Where tracks and pins are drawn as the sheet has them, they stand for what shows them.
        let schematic = layout.machinery.is_none();
        let alone = |fitting: &&Fitting| fitting.what.shows().is_none();
        for fitting in layout.fittings.all.iter().filter(|f| schematic || alone(f)) {
            let through = fitting.what.through();
            let front = through || !turned_over;
            let key = (fitted(fitting.on, front).0, through || !turned_over, 1.0);
            items.push((key, Item::Fitting(fitting)));
        }
        if let Some(cam) = layout.fittings.cam.filter(|_| schematic) {
            items.push(((fitted(cam.on, true).0, !turned_over, 0.5), Item::Cam));
        }
        for &(fly, length) in &layout.fittings.flies {
            if layout.fittings.all.iter().all(|f| f.on != fly) {
                items.push((
                    (fitted(fly, true).0, !turned_over, 1.0),
                    Item::Fly(fly, length),
                ));
            }
        }
        // Parts behind, then what is before them; from the other plate a fitting is behind its part.
        items.sort_by(|(a, x), (b, y)| {
            let part = |item: &Item<'_>| matches!(item, Item::Part(_));
            let rank = |key: &(i32, bool, f64), item: &Item<'_>| {
                if part(item) {
                    1
                } else if key.1 {
                    2
                } else {
                    0
                }
            };
            b.0.cmp(&a.0)
                .then(rank(a, x).cmp(&rank(b, y)))
                .then(a.2.total_cmp(&b.2))
        });
        let mut levels: Vec<i32> = layout.levels.iter().map(|&l| depth(l)).collect();
        levels.sort_unstable();
        levels.dedup();
        for ((level, _, _), item) in items {
            let rank = levels.iter().position(|&l| l == level).unwrap_or(0);
            let shade = match (3 * rank) / levels.len().max(1) {
                0 => "near",
                1 => "mid",
                _ => "far",
            };
            match item {
                Item::Part(part) => {
                    let class = format!("{shade}{}", self.lifted(part.id.arbor));
                    self.part(part, &class);
                }
                Item::Fitting(fitting) => self.witness(fitting, shade),
                Item::Cam => self.cam(shade),
                Item::Fly(fly, length) => self.fly(fly, length, shade),
            }
        }
    }

    fn lifted(&self, arbor: ArborId) -> &'static str {
        let lifts = self.marks.lifts.iter();
        let mut lifted = lifts.filter_map(|l| self.movement().far_arbor(l.mesh));
        let noted = self.notes.iter().any(|n| n.blue && n.at == arbor);
        if noted || lifted.any(|a| a == arbor) {
            " lift"
        } else {
            ""
        }
    }

    /// The reference of an outline, which is kept once.
    fn body(&mut self, outline: &BezPath) -> String {
        let d = path(outline);
        let reference = format!("#{}", name_of(&d));
        if !self.bodies.contains(&d) {
            self.bodies.push(d);
        }
        reference
    }

    /// A part that nobody counted, as a dotted circle of the size it stands in with; hatched round its edge where it is lost.
    pub(crate) fn uncounted(&mut self, part: &Sized, ink: &str, hatched: bool) {
        let movement = self.movement();
        let tag = Tag::new("g", &format!("uncounted{ink}"))
            .with("data-arbor", &movement.arbor(part.id.arbor).id)
            .with("data-part", &movement.part(part.id).name)
            .shift(self.sight.centre(part.id.arbor));
        let radius = part.pitch_radius();
        self.ink.open(&tag);
        self.ink.circle("circle", Point::ZERO, radius);
        if hatched {
            self.ink
                .path("hatch", &body::hatching(0.88 * radius, radius));
            self.ink.circle("circle", Point::ZERO, 0.88 * radius);
        }
        self.ink.close("g");
    }

    /// A toothed part; `class` says how deep it lies and in which ink it is drawn.
    pub(crate) fn part(&mut self, part: &Sized, class: &str) {
        if !self.movement().is_counted(part.id) {
            return self.uncounted(part, "", false);
        }
        let layout = self.sight.layout;
        let arbor = part.id.arbor;
        let hub = self.hub(part);
        let crossing = Crossing {
            hub,
            rim: bearer(&layout.pitches, arbor)
                .filter(|b| b.id == part.id)
                .and_then(|_| layout.fittings.rim(arbor)),
        };
        let outline = body::body(part, crossing);
        let reference = self.body(&outline);
        let metal = match part.shape {
            Shape::Leaf | Shape::Lantern if part.teeth <= crate::tooth::MOST_LEAVES => "steel",
            _ => "brass",
        };
        let movement = self.movement();
        let names = [
            movement.arbor(arbor).id.clone(),
            movement.part(part.id).name.clone(),
        ];
        let class = format!("arbor {class}");
        let index = layout.pitches.index(part.id);
        let phase = self.sight.angle(layout.phases[index]);
        let tag = Tag::new("g", &class)
            .with("id", &format!("part-{}-{}", names[0], names[1]))
            .with("data-arbor", &names[0])
            .with("data-part", &names[1])
            .with("data-teeth", &part.teeth.to_string())
            .with("data-level", &layout.levels[index].to_string());
        self.turning(tag, arbor, phase);
        if part.shape == Shape::Lantern {
            self.ink.circle("halo", Point::ZERO, part.outer());
        } else {
            self.ink
                .empty(&Tag::new("use", "halo").with("href", &reference));
        }
        self.ink
            .empty(&Tag::new("use", metal).with("href", &reference));
        match part.shape {
            Shape::Lantern => self.ink.circle("line", Point::ZERO, part.outer()),
            Shape::Ring => {
                let lines = body::hatching(part.tooth.root * part.module, part.outer());
                self.ink.path("hatch", &lines);
            }
            _ => {}
        }
        self.ink.close("g");
        self.ink.close("g");
    }

    /// Pinions that lie behind a wheel of their own arbor, as hidden edges are drawn: broken lines.
    fn hidden(&mut self) {
        let layout = self.sight.layout;
        let turned_over = self.sight.turned_over();
        for part in &layout.pitches.parts {
            if !matches!(part.shape, Shape::Leaf | Shape::Lantern) {
                continue;
            }
            let index = layout.pitches.index(part.id);
            let depth = |i: usize| {
                if turned_over {
                    -layout.levels[i]
                } else {
                    layout.levels[i]
                }
            };
            let covered = layout.pitches.on(part.id.arbor).any(|p| {
                p.outer() > part.outer() && depth(layout.pitches.index(p.id)) < depth(index)
            });
            if !covered {
                continue;
            }
            let crossing = Crossing {
                hub: 0.0,
                rim: None,
            };
            let reference = self.body(&body::body(part, crossing));
            let phase = self.sight.angle(layout.phases[index]);
            let class = format!("hidden{}", self.lifted(part.id.arbor));
            let tag = Tag::new("g", &class)
                .with("data-arbor", &self.movement().arbor(part.id.arbor).id)
                .with("data-part", &self.movement().part(part.id).name);
            self.turning(tag, part.id.arbor, phase);
            self.ink
                .empty(&Tag::new("use", "behind").with("href", &reference));
            self.ink.close("g");
            self.ink.close("g");
        }
    }

    /// The solid middle of a wheel: under the pinion it carries, with a collet around.
    fn hub(&self, part: &Sized) -> f64 {
        let pinions = self
            .sight
            .layout
            .pitches
            .on(part.id.arbor)
            .filter(|p| p.id != part.id && p.outer() < 0.5 * part.outer())
            .map(Sized::outer);
        pinions.fold(0.16 * part.outer(), f64::max) + 0.6
    }

    /// Opens the two groups of something that turns about an arbor: where it is, and how it is turned.
    fn turning(&mut self, tag: Tag, arbor: ArborId, angle: f64) {
        let at = self.sight.centre(arbor);
        let ahead = self.sight.ahead(arbor);
        let tag = tag
            .point(["data-cx", "data-cy"], at)
            .with("data-turn", if ahead > 0.0 { "1" } else { "-1" })
            .shift(at);
        self.ink.open(&tag);
        let turned = Tag::new("g", "turn")
            .with("data-at", &degrees(body::wrapped(angle).to_degrees()))
            .turned(body::wrapped(angle));
        self.ink.open(&turned);
    }

    fn cam(&mut self, shade: &str) {
        let layout = self.sight.layout;
        let (Some(cam), Some(station)) = (layout.fittings.cam, layout.stations.cam) else {
            return;
        };
        let ahead = self.sight.ahead(cam.on);
        let class = format!("cam {shade}{}", self.lifted(cam.on));
        let tag = Tag::new("g", &class).with("data-arbor", &self.movement().arbor(cam.on).id);
        let angle = self.sight.angle(station.angle);
        self.turning(tag, cam.on, angle);
        self.ink
            .path("steel", &body::cam(cam.radius, cam.notches, ahead));
        self.ink.close("g");
        self.ink.close("g");
    }

    fn fly(&mut self, on: ArborId, length: f64, shade: &str) {
        let class = format!("fly {shade}{}", self.lifted(on));
        let tag = Tag::new("g", &class).with("data-arbor", &self.movement().arbor(on).id);
        let at = self.sight.layout.centres[on.index()];
        let driver = self.movement().meshes().find(|(_, m)| m.driven.arbor == on);
        let from = driver.map_or(at, |(_, m)| {
            self.sight.layout.centres[m.driver.arbor.index()]
        });
        // Across the line to the wheel that drives it, where it hides least.
        let angle = self.sight.angle((at - from).atan2() + PI / 2.0);
        self.turning(tag, on, angle);
        self.ink.path("steel", &body::vane(length, 0.16 * length));
        self.ink.close("g");
        self.ink.close("g");
    }

    /// The angle of a witness's own zero, three o'clock of its shape, when it stands at `place` degrees.
    fn stand(&self, fitting: &Fitting, place: f64) -> f64 {
        let station = self.sight.layout.stations.witnesses[fitting.witness.index()];
        let ahead = self.sight.ahead(fitting.on);
        let zero = fitting.what.zero(&widths(self.movement(), fitting.witness));
        self.sight.angle(station.angle) + ahead * (place + zero).to_radians()
    }

    fn witness(&mut self, fitting: &Fitting, shade: &str) {
        let read = self.pose.of(fitting.witness).is_some();
        let w = self.movement().witness(fitting.witness);
        let place = self.pose.of(fitting.witness).unwrap_or(&w.best).to_f64();
        let unread = if read { "" } else { " unread" };
        let class = format!("witness {shade}{unread}{}", self.lifted(fitting.on));
        let tag = Tag::new("g", &class)
            .with("id", &format!("witness-{}", w.id))
            .with("data-witness", &w.id)
            .with("data-arbor", &self.movement().arbor(fitting.on).id)
            .num("data-place", place);
        let angle = self.stand(fitting, place);
        self.turning(tag, fitting.on, angle);
        if let Some(radius) = fitting.disc {
            self.ink.circle("brass", Point::ZERO, radius);
        }
        let widths = widths(self.movement(), fitting.witness);
        let ahead = self.sight.ahead(fitting.on);
        (fitting.what).shape(&mut self.ink, fitting, &widths, ahead);
        self.ink.close("g");
        self.ink.close("g");
    }

    /// The ends of all arbors: they lie under nothing.
    fn pivots(&mut self) {
        let unit = self.sight.unit();
        let arbors: Vec<ArborId> = self.movement().arbors().map(|(id, _)| id).collect();
        for arbor in arbors {
            let smallest = self
                .sight
                .layout
                .pitches
                .on(arbor)
                .map(|p| p.tooth.root * p.module)
                .fold(2.2 * unit, f64::min);
            let class = format!("pivot{}", self.lifted(arbor));
            self.ink.open(&Tag::new("g", &class));
            let at = self.sight.centre(arbor);
            self.ink
                .circle("steel", at, (0.6 * smallest).max(0.5 * unit));
            self.ink
                .circle("ink", at, (0.25 * smallest).max(0.25 * unit));
            self.ink.close("g");
        }
    }

    fn levers(&mut self) {
        let layout = self.sight.layout;
        let unit = self.sight.unit();
        self.ink.open(&Tag::new("g", "levers"));
        let mut arms: Vec<(&str, BezPath)> = Vec::new();
        if let Some(pivot) = layout.stations.pivot {
            let mut arm = |what: &'static str, elbow: Point, tip: Point| {
                let mut path = BezPath::new();
                path.move_to(self.sight.point(pivot));
                path.line_to(self.sight.point(elbow));
                path.line_to(self.sight.point(tip));
                arms.push((what, path));
            };
            if let Some(cam) = layout.stations.cam {
                arm("drop-lever", cam.elbow, cam.tip);
            }
            for fitting in &layout.fittings.all {
                let station = layout.stations.witnesses[fitting.witness.index()];
                if let Some(what) = fitting.what.arm() {
                    let tip = self.locking_face(fitting).unwrap_or(station.tip);
                    arm(what, station.elbow, tip);
                }
            }
        }
        for class in ["lever-halo", "lever-edge", "lever"] {
            for (what, arm) in &arms {
                let tag = Tag::new("path", class).with("data-lever", what);
                self.ink.empty(&tag.with("d", &path(arm)));
            }
        }
        if let Some(pivot) = layout.stations.pivot {
            let at = self.sight.point(pivot);
            self.ink.circle("steel", at, label::COLLAR * unit);
            self.ink.circle("ink", at, 0.6 * unit);
        }
        for fitting in &layout.fittings.all {
            let station = layout.stations.witnesses[fitting.witness.index()];
            let at = self.sight.centre(fitting.on);
            let to = Approach {
                angle: self.sight.angle(station.angle),
                reach: (station.elbow - station.tip).hypot(),
            };
            self.ink.open(&Tag::new("g", "tip").shift(at));
            fitting.what.against(&mut self.ink, fitting, to, unit);
            self.ink.close("g");
        }
        self.ink.close("g");
    }

    /// Where the tip of an arm stands that does not come in radially, in the sheet's view.
    fn locking_face(&self, fitting: &Fitting) -> Option<Point> {
        let beside = fitting.what.beside(fitting, self.sight.unit())?;
        let station = self.sight.layout.stations.witnesses[fitting.witness.index()];
        let sheet = View::of_sheet(self.movement());
        let ahead = sheet.ahead(self.movement(), fitting.on);
        let off = ahead * beside;
        let centre = self.sight.layout.centres[fitting.on.index()];
        Some(centre + crate::tooth::polar(fitting.radius, station.angle + off).to_vec2())
    }

    fn ghosts(&mut self) {
        let Some(after) = self.marks.after else {
            return;
        };
        let layout = self.sight.layout;
        for fitting in &layout.fittings.all {
            let Some(place) = after.of(fitting.witness) else {
                continue;
            };
            if self.pose.of(fitting.witness) == Some(place) {
                continue;
            }
            let place = place.to_f64();
            let w = self.movement().witness(fitting.witness);
            let tag = Tag::new("g", "ghost")
                .with("data-witness", &w.id)
                .num("data-place", place);
            let angle = self.stand(fitting, place);
            self.turning(tag, fitting.on, angle);
            let widths = widths(self.movement(), fitting.witness);
            let ahead = self.sight.ahead(fitting.on);
            (fitting.what).ghost(&mut self.ink, fitting, &widths, ahead);
            self.ink.close("g");
            self.ink.close("g");
        }
    }
}
