//! The drawing of the whole movement, and round glasses over places of it: the arrow, the cam at the drop.

use crate::desk::Job;
use draw::{Drawing, Lift, Marks, Pose, View, Way, layout, scene};
use entries::Log;
use maud::{Markup, PreEscaped, html};
use movement::{ArborId, Movement, WitnessId};
use quantity::Degrees;
use report::{Words, page, say};
use timing::Shift;

/// The drawing in a page: its text, with all of it in one group that glasses may show again.
pub(crate) struct Plate {
    svg: String,
}

/// What the drawing is to show.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Show {
    /// What is to be made to look like the movement; held at the drop.
    Looking,
    /// What is to be done.
    Doing,
    /// Arbors, to be touched.
    Choosing,
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
            let readings = &job.noted.recalled.last_look;
            for (id, place) in tasks::stands_after(movement, readings, job.advised()) {
                after = after.with(id, place);
            }
        }
        let held: Option<ArborId> = match (show, job.advised().first()) {
            (Show::Choosing, _) => None,
            (Show::Doing, Some(shift)) => report::near_arbor(movement, shift.mesh),
            _ => movement.strike().map(|strike| strike.read_at),
        };
        let hold = say!(job.words, "hold");
        let marks = Marks {
            lifts: &lifts,
            hold: held.map(|arbor| (arbor, hold.as_str())),
            after: Some(&after),
        };
        let laid = layout(movement, &tasks::centres(movement, Some(&job.noted.log)));
        let drawing = scene(movement, &laid, job.view, &pose, &marks);
        Plate {
            svg: grouped(&drawing),
        }
    }

    /// A movement with its levers as the sheet has them, where a run begins.
    pub(crate) fn running(
        movement: &Movement,
        log: &Log,
        view: View,
        begins: Option<&strike::Pose>,
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
        Plate {
            svg: grouped(&draw::running(movement, &laid, view, &pose)),
        }
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
        let drawing = scene(
            movement,
            &layout(movement, &tasks::centres(movement, Some(log))),
            view,
            &pose,
            &Marks::default(),
        );
        Plate {
            svg: grouped(&drawing),
        }
    }

    /// The drawing alone.
    pub(crate) fn svg(&self) -> Markup {
        html! { (PreEscaped(&self.svg)) }
    }

    /// The drawing, with its words for those who cannot see it.
    pub(crate) fn markup(&self, job: &Job) -> Markup {
        let says = page::drawing(
            &job.words,
            job.movement(),
            (job.view.plate, job.view.upside_down),
            &job.noted.advice,
        );
        html! {
            div.lies-hold role="img" aria-label=(says) { (PreEscaped(&self.svg)) }
        }
    }

    /// The arrow, large: enough of the rim to see its teeth and which way it goes.
    pub(crate) fn arrow_glass(&self) -> Option<Markup> {
        let tag = self.tag("class=\"arrow\"")?;
        let at = |key: &str| number(tag, key);
        let (cx, cy) = (at("data-cx")?, at("data-cy")?);
        let (x0, y0) = (at("data-x0")?, at("data-y0")?);
        let (x1, y1) = (at("data-x1")?, at("data-y1")?);
        let letters = self.letters()?;
        let long = at("data-degrees")?.abs() > 60.0;
        let (x, y, radius) = if long {
            (cx, cy, (x0 - cx).hypot(y0 - cy) + 2.0 * letters)
        } else {
            // A little outward of the arrow, where its numbers stand.
            let apart = (x1 - x0).hypot(y1 - y0);
            let (x, y) = ((x0 + x1) / 2.0, (y0 + y1) / 2.0);
            let out = 0.6 * letters / (x - cx).hypot(y - cy).max(letters);
            let (x, y) = (x + out * (x - cx), y + out * (y - cy));
            (x, y, 0.5 * apart + 1.8 * letters)
        };
        Some(self.glass("arrow", (x, y, radius)))
    }

    /// The cam that the drop lever leaves, large.
    pub(crate) fn drop_glass(&self, name: &str) -> Option<Markup> {
        let tag = self.tag("class=\"cam")?;
        let (x, y) = (number(tag, "data-cx")?, number(tag, "data-cy")?);
        Some(self.glass(&format!("drop-{name}"), (x, y, 4.6 * self.letters()?)))
    }

    fn tag(&self, class: &str) -> Option<&str> {
        let from = self.svg.find(&format!("<g {class}"))?;
        let tag = &self.svg[from..];
        // A bracket within quotation marks is part of a name.
        let mut quoted = false;
        let end = tag.find(|c| {
            quoted ^= c == '"';
            c == '>' && !quoted
        })?;
        Some(&tag[..end])
    }

    fn letters(&self) -> Option<f64> {
        number(&self.svg, "font-size")
    }

    fn glass(&self, name: &str, (x, y, radius): (f64, f64, f64)) -> Markup {
        let f = |v: f64| crate::form::written(v, 2);
        let clip = format!("glass-over-{name}");
        let edge = radius * 1.04;
        html! {
            svg.drawing.over aria-hidden="true" font-size=(f(self.letters().unwrap_or(4.0)))
                viewBox=(format!("{} {} {} {}", f(x - edge), f(y - edge), f(2.0 * edge), f(2.0 * edge))) {
                clipPath id=(clip) { circle cx=(f(x)) cy=(f(y)) r=(f(radius)) {} }
                circle.paper cx=(f(x)) cy=(f(y)) r=(f(radius)) {}
                g clip-path=(format!("url(#{clip})")) { use href="#whole" {} }
                circle.glass font-size=(f(0.28 * radius)) cx=(f(x)) cy=(f(y)) r=(f(radius)) {}
            }
        }
    }
}

/// See it from the other plate, turn it upside down: two buttons, of the form around them or of the one that is named.
pub(crate) fn turning(words: &Words, view: View, form: Option<&str>, action: &str) -> Markup {
    html! {
        button.plain form=[form] formaction=(action) name="turn" value="plate" { (say!(words, "see-from", plate = page::plate_key(view.plate.other()))) }
        button.plain form=[form] formaction=(action) name="turn" value="over" {
            @if view.upside_down { (say!(words, "upright")) } @else { (say!(words, "upside")) }
        }
    }
}

fn lift(shift: &Shift) -> Lift {
    Lift {
        mesh: shift.mesh,
        teeth: u16::try_from(shift.teeth).unwrap_or(u16::MAX),
        way: match shift.way {
            timing::Way::Ahead => Way::Ahead,
            timing::Way::Back => Way::Back,
            timing::Way::Either => Way::Either,
        },
    }
}

/// A drawing's text with its body in the group `#whole`, which is a drawing of its own as rules for a glass over it see
/// nothing around it; hidden from screen readers, which are told in words.
fn grouped(drawing: &Drawing) -> String {
    let svg = drawing.svg();
    let (Some(head), Some(tail)) = (svg.find('>'), svg.rfind("</svg>")) else {
        return svg;
    };
    format!(
        "{} aria-hidden=\"true\"><g id=\"whole\" class=\"drawing\">{}</g></svg>",
        &svg[..head],
        &svg[head + 1..tail]
    )
}

/// The number an attribute has in a tag, written as short as it can be.
fn number(tag: &str, key: &str) -> Option<f64> {
    let from = tag.find(&format!(" {key}=\""))? + key.len() + 3;
    let value = &tag[from..];
    value[..value.find('"')?].parse().ok()
}

#[cfg(test)]
mod tests {
    use super::number;

    #[test]
    fn numbers_are_found_under_their_own_key() {
        let tag = "<g class=\"arrow\" data-cx=\"-.5\" data-x0=\"12\"";
        assert_eq!(number(tag, "data-cx"), Some(-0.5));
        assert_eq!(number(tag, "data-x0"), Some(12.0));
        assert_eq!(number(tag, "x0"), None);
    }
}
