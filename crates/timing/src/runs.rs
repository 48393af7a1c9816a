//! Beliefs brought along what happened, and how far: what is entered later goes on from there. A belief follows from what it begins
//! with and from one thing after another, so that one that goes on is just what it would be if all were gone over anew.

use crate::belief::Belief;
use crate::bench::Bench;
use crate::events::Event;
use crate::hands::Handling;
use movement::{MeshId, WitnessId};

/// What is held to be so of what happened, beside what was told.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Course {
    /// A witness of which nothing is known beforehand.
    pub(crate) doubting: Option<WitnessId>,
    /// The place of a shift among all that happened, and how one mesh of it was handled.
    pub(crate) known: Option<(usize, MeshId, Handling)>,
}

impl Course {
    /// Whether it is the same as another so far.
    fn is_as(&self, other: &Course, gone: usize) -> bool {
        let until = |course: &Course| course.known.filter(|(at, ..)| *at < gone);
        self.doubting == other.doubting && until(self) == until(other)
    }
}

/// A belief after so many things that happened.
#[derive(Debug, Clone)]
pub(crate) struct Reached {
    pub(crate) gone: usize,
    pub(crate) belief: Belief,
}

/// What was reached along what happened.
#[derive(Debug, Default)]
pub(crate) struct Runs {
    events: Vec<Event>,
    reached: Vec<(Course, Reached)>,
}

/// So many hypotheses are kept, a hundred bytes each or so: after a look or two hardly a dozen are left of each belief. Where a train may
/// stand in thousands of ways as likely as each other, it is gone over anew.
pub const MOST_HYPOTHESES: usize = 20_000;

/// On the way along what happened.
pub(crate) struct Along<'a> {
    bench: &'a Bench<'a>,
    before: &'a Runs,
    /// So many things happened alike then.
    alike: usize,
    now: Runs,
    /// Hypotheses that may be kept still.
    room: usize,
}

impl<'a> Along<'a> {
    /// Along these events; what was reached before is still known as far as they are the same.
    pub(crate) fn of(bench: &'a Bench<'a>, events: Vec<Event>, before: &'a Runs) -> Along<'a> {
        let both = before.events.iter().zip(&events);
        Along {
            bench,
            before,
            alike: both.take_while(|(then, now)| then == now).count(),
            now: Runs {
                events,
                reached: Vec::new(),
            },
            room: MOST_HYPOTHESES,
        }
    }

    /// What happened.
    pub(crate) fn events(&self) -> &[Event] {
        &self.now.events
    }

    /// Before anything happened.
    pub(crate) fn start(&self, course: Course) -> Reached {
        Reached {
            gone: 0,
            belief: self.bench.start_doubting(course.doubting),
        }
    }

    /// Brings a belief on until so many things happened, from where it stands or from where one came to on the same course before.
    pub(crate) fn bring(&mut self, course: Course, from: Reached, until: usize) -> Reached {
        let before = (self.before.reached.iter()).filter(|(_, then)| then.gone <= self.alike);
        let further = before
            .chain(&self.now.reached)
            .filter(|(other, then)| then.gone <= until && course.is_as(other, then.gone))
            .max_by_key(|(_, then)| then.gone);
        let Reached { gone, mut belief } = match further {
            Some((_, then)) if then.gone > from.gone => then.clone(),
            _ => from,
        };
        for (event, at) in self.now.events[gone..until].iter().zip(gone..) {
            let known = course.known.filter(|(of, ..)| *of == at);
            let known = known.map(|(_, mesh, handling)| (mesh, handling));
            self.bench.go_on(&mut belief, event, known);
        }
        let reached = Reached {
            gone: until,
            belief,
        };
        self.keep(course, &reached);
        reached
    }

    /// What is believed on a course after all that happened.
    pub(crate) fn whole(&mut self, course: Course) -> Belief {
        let all = self.now.events.len();
        self.bring(course, self.start(course), all).belief
    }

    fn keep(&mut self, course: Course, reached: &Reached) {
        if let Some(room) = self.room.checked_sub(reached.belief.hypotheses()) {
            self.room = room;
            self.now.reached.push((course, reached.clone()));
        }
    }

    /// All that was reached.
    pub(crate) fn runs(self) -> Runs {
        self.now
    }
}

impl Bench<'_> {
    /// One thing that happened; `known` says how one mesh of it was handled.
    fn go_on(&self, belief: &mut Belief, event: &Event, known: Option<(MeshId, Handling)>) {
        match event {
            Event::Look(readings, tension) => self.look(belief, readings, *tension),
            Event::Shift(_, meshes) => {
                for &(mesh, teeth, handling) in meshes {
                    let known = known.filter(|(of, _)| *of == mesh);
                    let known = known.map(|(_, handling)| handling);
                    let likely = self.shift_one(belief, mesh, teeth, known.or(handling));
                    if known.is_some() {
                        belief.log_likelihood += libm::log(likely);
                    }
                }
            }
            Event::Moved(mesh, teeth) => self.moved(belief, *mesh, *teeth),
            Event::Lost(arbor) => self.jumped(belief, *arbor),
            Event::Bent(witness, by, spread) => self.bent(belief, *witness, *by, *spread),
            Event::Turned(moves) => self.turned(belief, moves),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bench::Tension;
    use crate::priors::Priors;
    use crate::reading::{SaidReading, read};
    use quantity::{Degrees, whole};

    const SHEET: &[u8] = include_bytes!("../../../movements/schoolroom.toml");

    #[test]
    fn what_was_gone_along_before_is_gone_on_from_only_while_it_is_the_same() {
        let movement = sheet::read(SHEET).unwrap().movement;
        let bench = Bench::of(&movement, Priors::default()).unwrap();
        let star = movement.find_witness("star").unwrap();
        let looks = |at: &[i64]| -> Vec<Event> {
            let look = |at: &i64| {
                let said = SaidReading::Degrees(Degrees::deg(whole(*at)), None);
                let reading = read(&movement, star, &said).unwrap();
                Event::Look(vec![reading], Tension::Tensioned)
            };
            at.iter().map(look).collect()
        };
        let anew = Runs::default();
        let mut along = Along::of(&bench, looks(&[0, 1]), &anew);
        along.whole(Course::default());
        let mut before = along.runs();
        // A mark that only a belief has that goes on from there.
        const MARK: f64 = 1000.0;
        for (_, reached) in &mut before.reached {
            reached.belief.log_likelihood += MARK;
        }
        let marked = |at: &[i64], course: Course| {
            let likelihood = |before| {
                Along::of(&bench, looks(at), before)
                    .whole(course)
                    .log_likelihood
            };
            (likelihood(&before) - likelihood(&anew)).abs() > 0.5 * MARK
        };
        let sound = Course::default();
        assert!(marked(&[0, 1], sound));
        assert!(marked(&[0, 1, 2], sound));
        assert!(!marked(&[0], sound));
        assert!(!marked(&[0, 2], sound));
        assert!(!marked(&[1, 1, 2], sound));
        let doubting = Course {
            doubting: Some(star),
            ..sound
        };
        assert!(!marked(&[0, 1, 2], doubting));
    }
}
