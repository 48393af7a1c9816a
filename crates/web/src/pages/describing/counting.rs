//! Counting on the drawing: one part at a time is asked for, from the great wheel up.

use super::picture::CountPicture;
use crate::desk::{Refused, Whole};
use crate::frame::runs;
use draw::CountState;
use maud::{Markup, html};
use movement::{Movement, PartId, ToothForm};
use report::{Locale, say};
use tasks::BeingCounted;

/// The part that is asked for, and what was typed for it.
pub(super) struct AskedPart<'a> {
    pub(super) part: PartId,
    pub(super) typed: Option<&'a str>,
    pub(super) refused: Option<&'a Refused>,
}

/// What a part has, in the trade's word: a pinion has leaves, a lantern trundles.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Has {
    Teeth,
    Leaves,
    Trundles,
    Pins,
}

impl Has {
    fn of(movement: &Movement, part: PartId) -> Has {
        let driven = movement.meshes().any(|(_, mesh)| mesh.driven == part);
        let own = movement.part(part);
        match own.form {
            ToothForm::Lantern => Has::Trundles,
            ToothForm::Pins => Has::Pins,
            // The small end of a mesh.
            ToothForm::Cut
                if own.teeth.get() <= 20 && (driven || beside_larger(movement, part)) =>
            {
                Has::Leaves
            }
            ToothForm::Cut => Has::Teeth,
        }
    }

    fn key(self) -> &'static str {
        match self {
            Has::Teeth => "teeth",
            Has::Leaves => "leaves",
            Has::Trundles => "trundles",
            Has::Pins => "pins",
        }
    }
}

/// Whether its arbor bears something with more teeth.
fn beside_larger(movement: &Movement, part: PartId) -> bool {
    let own = movement.part(part).teeth;
    movement
        .parts(part.arbor)
        .any(|(_, other)| other.teeth > own)
}

/// The page's two halves: the drawing, and what is asked with the keys under it.
pub(super) fn counting(
    job: &Whole,
    counted: &BeingCounted,
    asked: &AskedPart<'_>,
) -> (Markup, Markup) {
    let locale = &job.locale;
    let movement = &counted.movement;
    let address = format!("/job/{}/movement", job.id);
    let picture = CountPicture::of(counted, job.view(), Some(asked.part), asked.typed);
    let drawing = picture.markup(locale, counted, &address);
    let has = Has::of(movement, asked.part);
    let part = movement.part(asked.part);
    let state = (counted.parts.iter()).find(|(own, _)| *own == asked.part);
    let stands = state.map_or(CountState::NotYet, |(_, state)| *state);
    let value = (asked.typed.map(str::to_owned))
        .or_else(|| {
            matches!(stands, CountState::Counted | CountState::NotSure)
                .then(|| part.teeth.get().to_string())
        })
        .unwrap_or_default();
    let arbor = movement.arbor(asked.part.arbor).id.replace('_', " ");
    let question = report::runs!(
        locale,
        "counting-question",
        arbor = arbor,
        part = part.name.replace('_', " "),
        has = has.key()
    );
    let asked_markup = html! {
        form.counting-form method="post" action=(format!("{address}/count")) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="at" value=(movement.part_name(asked.part));
            input type="hidden" name="then" value="";
            div.question {
                h1 #sentence tabindex="-1" { (runs(question)) }
                @if let Some(refused) = asked.refused { p #beneath.refused role="alert" { (refused.say(locale)) } }
            }
            (how(locale, has))
            label.typed {
                span { (say!(locale, "counting-number", has = has.key())) }
                input #count type="text" name="count" value=(value) inputmode="numeric" autocomplete="off" maxlength="5";
            }
            (keys(locale))
        }
    };
    (drawing, asked_markup)
}

/// How it is made, and that it cannot be counted or only roughly.
fn how(locale: &Locale, has: Has) -> Markup {
    let small = matches!(has, Has::Leaves | Has::Trundles);
    html! {
        div.how-counted {
            @if small {
                fieldset.made {
                    legend.visually-hidden { (say!(locale, "counting-made")) }
                    @for (word, is) in [("cut", Has::Leaves), ("lantern", Has::Trundles)] {
                        label {
                            input type="radio" name="form" value=(word) checked[has == is];
                            span { (say!(locale, "counting-made-as", form = word)) }
                        }
                    }
                }
            }
            button name="how" value="lost" { (say!(locale, "counting-lost")) }
            button name="how" value="unsure" { (say!(locale, "counting-unsure")) }
        }
    }
}

/// Keys like those of a telephone, and the one that goes on.
fn keys(locale: &Locale) -> Markup {
    html! {
        div.number-keys {
            @for digit in 1..=9 { button.digit type="button" data-digit=(digit) { (digit) } }
            button.digit.back type="button" data-digit="back" aria-label=(say!(locale, "counting-back")) {
                svg.back-key viewBox="0 0 30 20" aria-hidden="true" { path d="M9 2h19v16H9L1.5 10z M14 6.5l7 7M21 6.5l-7 7" {} }
            }
            button.digit type="button" data-digit="0" { "0" }
            button.primary name="how" value="next" data-next { (say!(locale, "counting-next")) }
        }
    }
}
