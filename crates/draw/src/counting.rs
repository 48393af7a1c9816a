//! A movement that is being counted: what is counted has its real teeth, what is not stands as a dotted circle of usual size,
//! and the part that is asked for is drawn in blue with its figure on it.
//!
//! What counted arbors carry is drawn as the sheet has it, and no lever and no witness. What the counts are, and what stands in for those that are missing, comes in.

use crate::anchor::{Anchor, Anchored, CloseUp};
use crate::figured::Figures;
use crate::ink::{Drawing, Tag};
use crate::laying::machinery;
use crate::lever::Stations;
use crate::pitch::Sized;
use crate::scene::Scene;
use crate::view::{EDGE, Sight};
use crate::{Layout, Marks, Pose, View};
use movement::{ArborId, Carrier, Movement, PartId};

/// Height of the letters, in units of the drawing's measure: larger than elsewhere, as figures are what is read here.
pub(crate) const LETTERS: f64 = 4.9;
/// Around the wheels, for names, in the same.
const MARGIN: f64 = 7.0;

/// How a part is drawn, by how far it is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DrawnAs {
    /// A dotted circle: it is not counted yet.
    Dotted,
    /// With its teeth.
    Toothed,
    /// With its teeth, broken: whoever counted them is not sure.
    Doubtful,
    /// A dotted circle that is hatched: it is lost.
    Hatched,
}

/// A part on the drawing of a movement that is counted.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountShown {
    /// The part.
    pub part: PartId,
    /// How it is drawn; what is dotted or hatched is as large as the movement's own count makes it.
    pub drawn: DrawnAs,
    /// What stands on it; nothing stands where it is empty.
    pub figure: String,
}

/// What is marked on the drawing of a movement that is counted.
#[derive(Debug, Clone, Default)]
pub struct CountMarks<'a> {
    /// The parts that are drawn. One that is not named is not drawn.
    pub parts: &'a [CountShown],
    /// The one that is asked for. Its figure stands on it even where it is empty, for more to be typed.
    pub asked: Option<PartId>,
}

/// Draws a movement that is being counted, the missing counts filled in with stand-ins of usual size.
///
/// Parts are groups as in [`scene`](crate::scene()). What is not counted is a `g.uncounted`, the part that is asked for has the
/// class `lift`, and its figure is `text#asked-figure`. The anchors tell every part, the wide ones first.
pub fn counting(
    movement: &Movement,
    layout: &Layout,
    view: View,
    marks: &CountMarks<'_>,
) -> Drawing {
    let mut laid = layout.clone();
    laid.stations = Stations {
        witnesses: Vec::new(),
        cam: None,
        pivot: None,
    };
    laid.machinery = None;
    let (pose, nothing) = (Pose::default(), Marks::default());
    let sight = Sight::new(movement, &laid, view);
    let mut counting = Counting {
        scene: Scene::of(sight, &pose, &nothing, &[]),
        marks,
    };
    counting.plate();
    counting.scene.stand_behind();
    counting.wheels();
    counting.scene.stand_before();
    counting.carried(layout);
    let anchors = counting.anchors();
    let mut figures = Figures::of(&counting.scene.sight, marks);
    figures.draw(&mut counting.scene.ink);
    let unit = counting.scene.sight.unit();
    Drawing {
        class: "scene counting",
        frame: (counting.scene.sight.bounds()).inflate(MARGIN * unit, MARGIN * unit),
        letters: LETTERS * unit,
        body: counting.scene.written(),
        arrows: Vec::new(),
        anchors,
    }
}

struct Counting<'a> {
    scene: Scene<'a>,
    marks: &'a CountMarks<'a>,
}

impl Counting<'_> {
    fn shown(&self, part: PartId) -> Option<&CountShown> {
        self.marks.parts.iter().find(|shown| shown.part == part)
    }

    /// The parts that are drawn with their states, those behind first and the one that is asked for last.
    fn drawn(&self) -> Vec<(Sized, DrawnAs)> {
        let layout = self.scene.sight.layout;
        let over = self.scene.sight.turned_over();
        let mut drawn: Vec<(Sized, DrawnAs)> = (layout.pitches.parts.iter())
            .filter_map(|sized| Some((sized.clone(), self.shown(sized.id)?.drawn)))
            .collect();
        // What is only dotted hides nothing.
        let rank = |sized: &Sized, state: DrawnAs| match state {
            _ if self.marks.asked == Some(sized.id) => 2,
            DrawnAs::Dotted | DrawnAs::Hatched => 0,
            DrawnAs::Toothed | DrawnAs::Doubtful => 1,
        };
        let depth = |sized: &Sized| {
            let level = layout.levels[layout.pitches.index(sized.id)];
            if over { level } else { -level }
        };
        drawn.sort_by(|(a, x), (b, y)| {
            (rank(a, *x).cmp(&rank(b, *y)))
                .then(depth(a).cmp(&depth(b)))
                .then(b.outer().total_cmp(&a.outer()))
        });
        drawn
    }

    fn plate(&mut self) {
        let unit = self.scene.sight.unit();
        let edge = (self.scene.sight.bounds()).inflate(EDGE * unit, EDGE * unit);
        let tag = Tag::new("rect", "plate")
            .point(["x", "y"], edge.origin())
            .num("width", edge.width())
            .num("height", edge.height())
            .num("rx", 5.0 * unit);
        self.scene.ink.empty(&tag);
    }

    fn wheels(&mut self) {
        let drawn = self.drawn();
        let layout = self.scene.sight.layout;
        let mut levels: Vec<i32> = (drawn.iter())
            .map(|(sized, _)| layout.levels[layout.pitches.index(sized.id)])
            .collect();
        levels.sort_unstable();
        levels.dedup();
        if self.scene.sight.turned_over() {
            levels.reverse();
        }
        for (sized, state) in &drawn {
            let asked = self.marks.asked == Some(sized.id);
            let level = layout.levels[layout.pitches.index(sized.id)];
            let rank = levels.iter().position(|&l| l == level).unwrap_or(0);
            let shade = match (3 * rank) / levels.len().max(1) {
                0 => "near",
                1 => "mid",
                _ => "far",
            };
            match state {
                DrawnAs::Toothed | DrawnAs::Doubtful => {
                    let ink = if asked { " lift" } else { "" };
                    let sure = match state {
                        DrawnAs::Doubtful => " unsure",
                        _ => "",
                    };
                    self.scene.part(sized, &format!("{shade}{ink}{sure}"));
                }
                DrawnAs::Dotted | DrawnAs::Hatched => self.dotted(sized, *state, asked),
            }
        }
        let arbors: Vec<ArborId> = (self.scene.sight.movement.arbors())
            .map(|(id, _)| id)
            .filter(|arbor| self.is_drawn(*arbor))
            .collect();
        for arbor in arbors {
            let at = self.scene.sight.centre(arbor);
            let size = 0.55 * self.scene.sight.unit();
            self.scene.ink.circle("ink", at, size);
        }
    }

    /// Whether something of an arbor is drawn.
    fn is_drawn(&self, arbor: ArborId) -> bool {
        (self.marks.parts.iter()).any(|shown| shown.part.arbor == arbor)
    }

    /// What arbors carry beside teeth, as far as the sheet has it: slots, notches and pins, on those that are counted.
    fn carried(&mut self, layout: &Layout) {
        let movement = self.scene.sight.movement;
        let (Some(works), Some(made)) = (movement.works(), machinery(movement, layout)) else {
            return;
        };
        let counted: Vec<ArborId> = (movement.arbors())
            .map(|(id, _)| id)
            .filter(|arbor| {
                let mut own = (self.marks.parts.iter()).filter(|s| s.part.arbor == *arbor);
                self.is_drawn(*arbor)
                    && own.all(|s| matches!(s.drawn, DrawnAs::Toothed | DrawnAs::Doubtful))
            })
            .collect();
        self.scene.rounds(works, &made, |carrier| match carrier {
            Carrier::Arbor(on) => counted.contains(on),
            Carrier::Hours(_) => false,
        });
    }

    /// A part that has no teeth yet; one that is lost is hatched round its edge.
    fn dotted(&mut self, sized: &Sized, state: DrawnAs, asked: bool) {
        let hatched = state == DrawnAs::Hatched;
        self.scene
            .uncounted(sized, if asked { " lift" } else { "" }, hatched);
    }

    /// Every arbor and every part, wide ones before those that lie on them.
    fn anchors(&self) -> Vec<Anchor> {
        let (sight, layout) = (&self.scene.sight, self.scene.sight.layout);
        let anchor = |of: Anchored, arbor: ArborId, radius: f64| {
            let at = sight.centre(arbor);
            let at = CloseUp {
                x: at.x,
                y: at.y,
                radius,
            };
            Anchor { of, at }
        };
        let arbors = (sight.movement.arbors())
            .map(|(id, _)| anchor(Anchored::Arbor(id), id, layout.toothed(id)));
        let mut parts: Vec<Anchor> = (layout.pitches.parts.iter())
            .filter(|sized| self.shown(sized.id).is_some())
            .map(|sized| anchor(Anchored::Part(sized.id), sized.id.arbor, sized.outer()))
            .collect();
        parts.sort_by(|a, b| b.at.radius.total_cmp(&a.at.radius));
        let standing = self.scene.standing_anchors();
        arbors.chain(parts).chain(standing).collect()
    }
}
