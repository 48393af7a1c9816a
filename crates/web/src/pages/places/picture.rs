//! The drawing on which arbors are put where they lie: each may be taken, and the place of each is there for the page's script.

use super::said::{in_unit, unit};
use crate::desk::Whole;
use crate::form::written;
use crate::underlay::Under;
use draw::{Anchored, CountMarks, CountShown, Drawing, DrawnAs, counting};
use maud::{Markup, PreEscaped, html};
use report::page::{self, placing};
use report::say;
use tasks::{CountState, Lying, Placeable};

/// What may be touched is at least so wide as a finger, in heights of the drawing's letters.
const FINGER: f64 = 1.9;
/// Without the script a picture to be touched is so wide, in CSS pixels: the browser tells a touch in them.
pub(super) const PLAIN_WIDE: f64 = 340.0;

/// The drawing, and what may be touched on it.
pub(super) struct LyingPicture<'a> {
    job: &'a Whole,
    lying: &'a Lying,
    drawing: Drawing,
}

/// The frame of a drawing.
pub(super) struct DrawnFrame {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) wide: f64,
}

impl<'a> LyingPicture<'a> {
    pub(super) fn of(job: &'a Whole, lying: &'a Lying) -> LyingPicture<'a> {
        let parts: Vec<CountShown> = (lying.counted.places.iter())
            .map(|(part, place)| CountShown {
                part: *part,
                drawn: match place.state {
                    CountState::NotCounted => DrawnAs::Dotted,
                    CountState::Counted(_) => DrawnAs::Toothed,
                    CountState::NotSure(_) => DrawnAs::Doubtful,
                    CountState::Lost => DrawnAs::Hatched,
                },
                figure: String::new(),
            })
            .collect();
        let marks = CountMarks {
            parts: &parts,
            asked: None,
        };
        let drawing = counting(lying.movement(), &lying.layout, job.view(), &marks);
        LyingPicture {
            job,
            lying,
            drawing,
        }
    }

    /// Its frame, in its user units.
    pub(super) fn frame(&self) -> DrawnFrame {
        let [left, top, wide, _] = numbers(&self.view_box());
        DrawnFrame { left, top, wide }
    }

    fn view_box(&self) -> String {
        let svg = self.drawing.svg();
        let rest = svg.split("viewBox=\"").nth(1);
        let numbers = rest.and_then(|rest| rest.split('"').next());
        numbers.unwrap_or_default().to_owned()
    }

    /// How wide the touch of something is, in user units.
    fn reach(&self, what: &Placeable) -> f64 {
        let own = match what {
            Placeable::Arbor(_) => 0.0,
            Placeable::Pillar(_) | Placeable::Fixture(_) => 3.0,
        };
        f64::max(own, FINGER * self.drawing.letters())
    }

    /// The drawing with all that may be taken on it, over the photograph if there is one. `asked` is what is to be put somewhere: without
    /// the script the drawing itself is touched for it.
    pub(super) fn markup(
        &self,
        under: Option<&Under>,
        asked: Option<&Placeable>,
        plain: bool,
    ) -> Markup {
        let (job, lying) = (self.job, self.lying);
        let view = job.view();
        let f = |v: f64| written(v, 3);
        let svg = self.drawing.svg();
        let svg = svg.replacen("<svg ", "<svg aria-hidden=\"true\" ", 1);
        let svg = under.map_or(svg.clone(), |under| under.beneath(&svg));
        // A place is a straight function of a point of the drawing, each way by itself.
        let along = |at: [f64; 2]| {
            lying
                .of_drawing(view, at)
                .map(|at| (at.right.mm(), at.up.mm()))
        };
        let (zero, one) = (along([0.0, 0.0]), along([1.0, 1.0]));
        let (zero, one) = (zero.unwrap_or_default(), one.unwrap_or_default());
        let DrawnFrame { wide, .. } = self.frame();
        let [_, _, _, high] = numbers(&self.view_box());
        html! {
            div.lies-hold.touched-on {
                (PreEscaped(svg))
                svg.spots viewBox=(self.view_box()) role="group" aria-label=(say!(job.locale, "lie-drawing", plate = page::plate_key(view.plate)))
                    data-right=(f(zero.0)) data-right-by=(f(one.0 - zero.0)) data-up=(f(zero.1)) data-up-by=(f(one.1 - zero.1))
                    data-mm=(in_unit(&job.locale)) data-unit=(unit(&job.locale)) {
                    @for thing in &lying.things {
                        @let word = thing.what.word();
                        @let [x, y] = lying.in_drawing(view, thing.at);
                        @let chosen = asked == Some(&thing.what);
                        a href=(format!("/job/{}/places?what={word}", job.id)) data-what=(word) data-name=(placing::called(&job.locale, &thing.what))
                            data-x=(f(x)) data-y=(f(y)) aria-label=(label(job, thing))
                            class=(if thing.said { "said" } else { "open" }) aria-current=[chosen.then_some("true")] {
                            circle.touch cx=(f(x)) cy=(f(y)) r=(f(self.reach(&thing.what))) {}
                            path.cross d=(cross(x, y, 0.55 * self.drawing.letters())) {}
                        }
                    }
                }
                @if plain {
                    input.plain-touch type="image" src="/icon.svg" name="at" form="put" alt=(say!(job.locale, "lie-how-plain"))
                        width=(f(PLAIN_WIDE)) height=(f((PLAIN_WIDE * high / wide.max(1e-6)).round()));
                }
            }
        }
    }

    /// Where a spot of it lies that is told in parts of its width.
    pub(super) fn spot(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        let DrawnFrame { left, top, wide } = self.frame();
        [left + x * wide, top + y * wide]
    }

    /// The arbors that it shows, by what may be anchored in it.
    pub(super) fn arbors(&self) -> usize {
        let anchors = self.drawing.anchors().iter();
        anchors
            .filter(|at| matches!(at.of, Anchored::Arbor(_)))
            .count()
    }
}

fn label(job: &Whole, thing: &tasks::PlacedThing) -> String {
    let locale = &job.locale;
    let place = match thing.said {
        true => placing::place(locale, thing.at),
        false => say!(locale, "lie-not-said"),
    };
    say!(
        locale,
        "lie-link",
        what = placing::listed(locale, thing),
        place = place
    )
}

/// Two strokes crossing at a point.
pub(super) fn cross(x: f64, y: f64, size: f64) -> String {
    let f = |v: f64| written(v, 4);
    format!(
        "M{} {}H{}M{} {}V{}",
        f(x - size),
        f(y),
        f(x + size),
        f(x),
        f(y - size),
        f(y + size)
    )
}

fn numbers(text: &str) -> [f64; 4] {
    let mut all = text.split(' ').map(|number| number.parse().unwrap_or(0.0));
    [(); 4].map(|()| all.next().unwrap_or(0.0))
}
