//! The drawing that is counted on: the movement as far as it is known, with a place to be touched for each part.

use draw::{Anchor, Anchored, CountMarks, CountShown, Drawing, DrawnAs, View, counting, layout};
use maud::{Markup, PreEscaped, html};
use movement::PartId;
use report::page::describing as said;
use report::{Locale, say};
use tasks::{BeingCounted, CountState};

/// What may be touched is at least so wide as a finger, in heights of the drawing's letters.
const FINGER: f64 = 1.9;

/// The drawing, and where it is touched.
pub(super) struct CountPicture {
    svg: String,
    frame: String,
    anchors: Vec<Anchor>,
    letters: f64,
}

/// What stands on a part.
fn figure(state: CountState) -> (DrawnAs, String) {
    match state {
        CountState::NotCounted => (DrawnAs::Dotted, String::new()),
        CountState::Counted(teeth) => (DrawnAs::Toothed, teeth.get().to_string()),
        CountState::NotSure(teeth) => (DrawnAs::Doubtful, format!("{}?", teeth.get())),
        CountState::Lost => (DrawnAs::Hatched, "?".to_owned()),
    }
}

impl CountPicture {
    /// A movement with what is asked for, and what is typed for it so far.
    pub(super) fn of(
        counted: &BeingCounted,
        view: View,
        asked: Option<PartId>,
        typed: Option<&str>,
    ) -> CountPicture {
        let movement = &counted.movement;
        let parts: Vec<CountShown> = (counted.places.iter())
            .map(|(part, place)| {
                let (drawn, figure) = figure(place.state);
                let figure = match (asked == Some(*part), typed) {
                    (true, Some(typed)) => typed.to_owned(),
                    (true, None) if figure.is_empty() => "?".to_owned(),
                    _ => figure,
                };
                CountShown {
                    part: *part,
                    drawn,
                    figure,
                }
            })
            .collect();
        let marks = CountMarks {
            parts: &parts,
            asked,
        };
        CountPicture::drawn(&counting(movement, &layout(movement, &[]), view, &marks))
    }

    fn drawn(drawing: &Drawing) -> CountPicture {
        let svg = drawing.svg();
        let frame = svg.split("viewBox=\"").nth(1);
        let frame = frame.and_then(|rest| rest.split('"').next());
        CountPicture {
            frame: frame.unwrap_or_default().to_owned(),
            svg: svg.replacen("<svg ", "<svg aria-hidden=\"true\" ", 1),
            anchors: drawing.anchors().to_vec(),
            letters: drawing.letters(),
        }
    }

    /// The drawing by itself, told in words.
    pub(super) fn alone(&self, says: &str) -> Markup {
        html! { div.lies-hold.touched-on role="img" aria-label=(says) { (PreEscaped(&self.svg)) } }
    }

    /// The drawing, each part a link to where it is counted.
    pub(super) fn markup(&self, locale: &Locale, counted: &BeingCounted, address: &str) -> Markup {
        let f = |v: f64| crate::form::written(v, 2);
        let named = |part: PartId| {
            let (_, place) = counted.places.iter().find(|(own, _)| *own == part)?;
            let name = said::part(locale, &place.id);
            let (_, figure) = figure(place.state);
            Some(match figure.is_empty() {
                false => say!(locale, "counting-part-counted", part = name, count = figure),
                true => say!(locale, "counting-part-open", part = name),
            })
        };
        html! {
            div.lies-hold.touched-on {
                (PreEscaped(&self.svg))
                svg.spots viewBox=(self.frame) {
                    @for anchor in &self.anchors {
                        @if let Anchored::Part(part) = anchor.of {
                            a href=(format!("{address}?at={}", counted.movement.part_name(part))) aria-label=[named(part)] {
                                circle cx=(f(anchor.at.x)) cy=(f(anchor.at.y)) r=(f(anchor.at.radius.max(FINGER * self.letters))) {}
                            }
                        }
                    }
                }
            }
        }
    }
}
