//! The drawing that is counted on: the movement as far as it is known, with a place to be touched for each part.

use draw::{Anchor, Anchored, CountMarks, CountShown, CountState, Drawing, View, counting, layout};
use maud::{Markup, PreEscaped, html};
use movement::{Movement, PartId};
use report::{Locale, say};
use tasks::BeingCounted;

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
pub(super) fn figure(movement: &Movement, part: PartId, state: CountState) -> String {
    let teeth = movement.part(part).teeth.get();
    match state {
        CountState::Counted => teeth.to_string(),
        CountState::NotSure => format!("{teeth}?"),
        CountState::Lost => "?".to_owned(),
        CountState::NotYet => String::new(),
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
        let parts: Vec<CountShown> = (counted.parts.iter())
            .map(|&(part, state)| CountShown {
                part,
                state,
                figure: match typed.filter(|_| asked == Some(part)) {
                    Some(typed) => typed.to_owned(),
                    None => figure(movement, part, state),
                },
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
        let frame = svg
            .split("viewBox=\"")
            .nth(1)
            .and_then(|rest| rest.split('"').next());
        CountPicture {
            frame: frame.unwrap_or_default().to_owned(),
            svg: svg.replacen("<svg ", "<svg aria-hidden=\"true\" ", 1),
            anchors: drawing.anchors().to_vec(),
            letters: drawing.letters(),
        }
    }

    /// The drawing, each part a link to where it is counted.
    pub(super) fn markup(&self, locale: &Locale, counted: &BeingCounted, address: &str) -> Markup {
        let f = |v: f64| crate::form::written(v, 2);
        let movement = &counted.movement;
        let state = |part: PartId| counted.parts.iter().find(|(own, _)| *own == part);
        let named = |part: PartId| {
            let figure = state(part).map(|(part, state)| figure(movement, *part, *state));
            let name = movement.part_name(part).replace(['.', '_'], " ");
            match figure.filter(|figure| !figure.is_empty()) {
                Some(figure) => say!(locale, "counting-part-counted", part = name, count = figure),
                None => say!(locale, "counting-part-open", part = name),
            }
        };
        html! {
            div.lies-hold.touched-on {
                (PreEscaped(&self.svg))
                svg.spots viewBox=(self.frame) {
                    @for anchor in &self.anchors {
                        @if let Anchored::Part(part) = anchor.of {
                            a href=(format!("{address}?at={}", movement.part_name(part))) aria-label=(named(part)) {
                                circle cx=(f(anchor.at.x)) cy=(f(anchor.at.y)) r=(f(anchor.at.radius.max(FINGER * self.letters))) {}
                            }
                        }
                    }
                }
            }
        }
    }
}
