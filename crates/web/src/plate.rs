//! The drawing of the whole movement, and round glasses over places of it: the arrow, the cam at the drop.

use crate::desk::Job;
use crate::underlay::Under;
use draw::{
    Anchor, Anchored, CloseUp, Drawing, Hold, Lift, LiftWay, Marks, PartTurned, Pose, View, layout,
    scene,
};
use entries::Log;
use maud::{Markup, PreEscaped, html};
use movement::{ArborId, Movement, WitnessId};
use quantity::Degrees;
use report::{Locale, page, say};
use timing::{Rest, Shift, ShiftWay, Turn};

/// The drawing in a page: its text, with all of it in one group that glasses may show again.
pub(crate) struct Plate {
    svg: String,
    letters: f64,
    anchors: Vec<Anchor>,
}

/// The drawing stands in the page under this name, its first arrow under it and `-1`.
const WHOLE: &str = "whole";

/// What the drawing is to show.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Show {
    /// What is to be made to look like the movement; held at the drop.
    Looking,
    /// What is to be made to look like the movement; locked.
    AtRest,
    /// What is to be done.
    Doing,
    /// Arbors, to be touched.
    Choosing,
    /// How it lies there, and nothing to be done.
    Lying,
}

/// A part that is to be turned on its arbor, as it is marked.
fn turned(locale: &Locale, turn: &Turn) -> PartTurned {
    PartTurned {
        at: turn.arbor,
        by: turn.by.degrees(),
        way: match turn.way {
            ShiftWay::Ahead => LiftWay::Ahead,
            ShiftWay::Back => LiftWay::Back,
            ShiftWay::Either => LiftWay::Either,
        },
        says: page::turned_by(locale, &turn.by),
    }
}

/// Where the trains that are timed are locked: what is looked at there, and nothing is held.
fn locked(job: &Job) -> Vec<Hold> {
    let (movement, rest) = (job.movement(), Rest::of(job.movement()));
    let timed = job.timing.recalled.timed.iter();
    let mut trains: Vec<usize> = timed
        .map(|id| movement.train_of(movement.witness(*id).on))
        .collect();
    trains.sort_unstable();
    trains.dedup();
    let stopped = trains.into_iter().filter_map(|train| rest.stopped(train));
    stopped
        .map(|at| Hold {
            at,
            says: say!(job.locale, "locks-here"),
        })
        .collect()
}

impl Plate {
    pub(crate) fn of(job: &Job, show: Show) -> Plate {
        let movement = job.movement();
        let (mut pose, mut after) = (Pose::default(), Pose::default());
        for (id, _) in movement.witnesses() {
            if let Some(place) = job.seen(id) {
                pose = pose.with(id, place);
            } else if let Some(place) = job.expected(id) {
                after = after.with(id, place);
            }
        }
        let doing = show == Show::Doing && !job.advised().is_empty();
        let lifts: Vec<Lift> = if doing {
            job.advised().iter().map(lift).collect()
        } else {
            Vec::new()
        };
        if doing {
            let readings = &job.timing.recalled.last_look;
            for (id, place) in tasks::stands_after(movement, readings, job.advised()) {
                after = after.with(id, place);
            }
        }
        let holds = match show {
            Show::Choosing | Show::Lying => Vec::new(),
            Show::Doing if doing => holds(&job.locale, movement, job.advised()),
            Show::AtRest => locked(job),
            _ => (movement.strike().iter())
                .map(|strike| Hold {
                    at: strike.read_at,
                    says: say!(job.locale, "hold"),
                })
                .collect(),
        };
        let turns: Vec<PartTurned> = match show {
            Show::Doing => (job.timing.turns().iter())
                .map(|turn| turned(&job.locale, turn))
                .collect(),
            _ => Vec::new(),
        };
        let marks = Marks {
            lifts: &lifts,
            turns: &turns,
            holds: &holds,
            after: Some(&after),
        };
        Plate::drawn(&scene(
            movement,
            job.timing.layout(),
            job.view,
            &pose,
            &marks,
        ))
    }

    /// A drawing's text with its body and its arrows each in a group; hidden from screen readers, which are told in words.
    fn drawn(drawing: &Drawing) -> Plate {
        let svg = drawing.svg_in_groups(WHOLE);
        Plate {
            svg: svg.replacen("<svg ", "<svg aria-hidden=\"true\" ", 1),
            letters: drawing.letters(),
            anchors: drawing.anchors().to_vec(),
        }
    }

    /// The same over a photograph.
    pub(crate) fn over(self, under: Option<&Under>) -> Plate {
        let svg = under.map(|under| under.beneath(&self.svg));
        Plate {
            svg: svg.unwrap_or(self.svg),
            ..self
        }
    }

    /// A movement with its levers as the sheet has them, where a run begins.
    pub(crate) fn running(
        movement: &Movement,
        log: &Log,
        view: View,
        begins: Option<&strike::MovementPose>,
    ) -> Plate {
        let mut pose = movement
            .witnesses()
            .fold(Pose::default(), |pose, (id, witness)| {
                pose.with(id, witness.best.clone())
            });
        if let Some(begins) = begins {
            pose = pose.lifted(&begins.levers);
        }
        let laid = layout(movement, &tasks::centres(movement, Some(log)));
        Plate::drawn(&draw::running(movement, &laid, view, &pose))
    }

    /// A movement with its witnesses where they truly stand.
    pub(crate) fn of_lesson(
        movement: &Movement,
        log: &Log,
        view: View,
        stands: &[(WitnessId, Degrees)],
    ) -> Plate {
        let pose = (stands.iter()).fold(Pose::default(), |pose, (id, place)| {
            pose.with(*id, place.clone())
        });
        let laid = layout(movement, &tasks::centres(movement, Some(log)));
        Plate::drawn(&scene(movement, &laid, view, &pose, &Marks::default()))
    }

    /// The drawing alone.
    pub(crate) fn svg(&self) -> Markup {
        html! { (PreEscaped(&self.svg)) }
    }

    /// The drawing, with its words for those who cannot see it.
    pub(crate) fn markup(&self, job: &Job) -> Markup {
        let advice = &job.timing.advice;
        let says = page::drawing(&job.locale, job.movement(), job.view, advice);
        html! {
            div.lies-hold role="img" aria-label=(says) { (PreEscaped(&self.svg)) }
        }
    }

    /// Each arrow, large, in the order of the shifts: enough of the rim to see its teeth and which way it goes. No glass shows the
    /// arrow of another.
    pub(crate) fn arrow_glasses(&self) -> Vec<Markup> {
        let arrows = (self.anchors.iter()).filter(|at| matches!(at.of, Anchored::Arrow(_)));
        (arrows.zip(1..))
            .map(|(arrow, n)| self.glass(&format!("arrow-{n}"), arrow.at, Some(n)))
            .collect()
    }

    /// The cam that the drop lever leaves, large.
    pub(crate) fn drop_glass(&self, name: &str) -> Option<Markup> {
        let mut anchors = self.anchors.iter();
        let cam = anchors.find(|anchor| matches!(anchor.of, Anchored::Cam(_)))?;
        Some(self.glass(&format!("drop-{name}"), cam.at, None))
    }

    /// A glass over a round place, with one of the arrows in it.
    fn glass(&self, name: &str, over: CloseUp, arrow: Option<usize>) -> Markup {
        let CloseUp { x, y, radius } = over;
        let f = |v: f64| crate::form::written(v, 2);
        let clip = format!("glass-over-{name}");
        let edge = radius * 1.04;
        html! {
            svg.drawing.over aria-hidden="true" font-size=(f(self.letters))
                viewBox=(format!("{} {} {} {}", f(x - edge), f(y - edge), f(2.0 * edge), f(2.0 * edge))) {
                clipPath id=(clip) { circle cx=(f(x)) cy=(f(y)) r=(f(radius)) {} }
                circle.paper cx=(f(x)) cy=(f(y)) r=(f(radius)) {}
                g clip-path=(format!("url(#{clip})")) {
                    use href=(format!("#{WHOLE}")) {}
                    @if let Some(n) = arrow { use href=(format!("#{WHOLE}-{n}")) {} }
                }
                circle.glass font-size=(f(0.28 * radius)) cx=(f(x)) cy=(f(y)) r=(f(radius)) {}
            }
        }
    }
}

/// See it from the other plate, turn it upside down: two buttons, of the form around them or of the one that is named.
pub(crate) fn turning(locale: &Locale, view: View, form: Option<&str>, action: &str) -> Markup {
    html! {
        button.plain form=[form] formaction=(action) name="turn" value="plate" { (say!(locale, "see-from", plate = page::plate_key(view.plate.other()))) }
        button.plain form=[form] formaction=(action) name="turn" value="over" {
            @if view.upside_down { (say!(locale, "upright")) } @else { (say!(locale, "upside")) }
        }
    }
}

/// What is held for each shift, each arbor once; where there are several shifts, for which of them.
fn holds(locale: &Locale, movement: &Movement, shifts: &[Shift]) -> Vec<Hold> {
    let mut held: Vec<(ArborId, Vec<String>)> = Vec::new();
    for (shift, n) in shifts.iter().zip(1..) {
        let Some(near) = report::near_arbor(movement, shift.mesh) else {
            continue;
        };
        match held.iter_mut().find(|(arbor, _)| *arbor == near) {
            Some((_, numbers)) => numbers.push(n.to_string()),
            None => held.push((near, vec![n.to_string()])),
        }
    }
    let says = |numbers: &[String]| match shifts.len() {
        1 => say!(locale, "hold"),
        _ => say!(locale, "hold-for", numbers = locale.list(numbers)),
    };
    (held.into_iter())
        .map(|(at, numbers)| Hold {
            at,
            says: says(&numbers),
        })
        .collect()
}

fn lift(shift: &Shift) -> Lift {
    Lift {
        mesh: shift.mesh,
        teeth: u16::try_from(shift.teeth).unwrap_or(u16::MAX),
        way: match shift.way {
            timing::ShiftWay::Ahead => LiftWay::Ahead,
            timing::ShiftWay::Back => LiftWay::Back,
            timing::ShiftWay::Either => LiftWay::Either,
        },
    }
}
