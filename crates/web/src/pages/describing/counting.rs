//! Counting on the drawing: one part at a time is asked for, from the great wheel up.

use super::picture::CountPicture;
use crate::desk::Whole;
use crate::frame::runs;
use maud::{Markup, html};
use movement::PartId;
use report::page::describing::{self as said, Lifters};
use report::{Locale, say};
use tasks::{
    AskedFor, AskedQuestion, BeingCounted, CountPlace, CountState, Described, Follow, PartLook,
    PresentAnswer, WorkRole,
};

/// The place that is asked for, what was typed for it, and what was counted before it.
pub(super) struct AskedPlace<'a> {
    pub(super) part: PartId,
    pub(super) place: &'a CountPlace,
    pub(super) typed: Option<&'a str>,
    pub(super) from: Option<&'a str>,
}

/// The drawing, each part of it to be touched.
pub(super) fn drawing(job: &Whole, counted: &BeingCounted, asked: &AskedPlace<'_>) -> Markup {
    let address = format!("/job/{}/movement", job.id);
    let picture = CountPicture::of(counted, job.view(), Some(asked.part), asked.typed);
    picture.markup(&job.locale, counted, &address)
}

/// The drawing where all is told, each part of it to be touched and counted again.
pub(super) fn counted(job: &Whole, counted: &BeingCounted, says: &str) -> Markup {
    let address = format!("/job/{}/movement", job.id);
    let picture = CountPicture::of(counted, job.view(), None, None);
    html! {
        p.visually-hidden { (says) }
        (picture.markup(&job.locale, counted, &address))
    }
}

/// The question with what follows from what was counted before, and the keys.
pub(super) fn question(job: &Whole, described: &Described, asked: &AskedPlace<'_>) -> Markup {
    let locale = &job.locale;
    let place = asked.place;
    let value = (asked.typed.map(str::to_owned)).unwrap_or_else(|| match place.state {
        CountState::Counted(teeth) | CountState::NotSure(teeth) => teeth.get().to_string(),
        CountState::NotCounted | CountState::Lost => String::new(),
    });
    let has = said::look_key(place.look);
    html! {
        form.counting-form method="post" action=(format!("/job/{}/movement/count", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="at" value=(name(place));
            input type="hidden" name="then" value="";
            // Enter takes the first button of a form.
            button.visually-hidden name="how" value="next" tabindex="-1" aria-hidden="true" {}
            h1 #sentence tabindex="-1" { (runs(said::count(locale, &place.id, place.look))) }
            (follows(job, described, asked.from))
            @if let Some(like) = described.like().filter(|_| place.as_like) {
                p.follows.as-on { (say!(locale, "counting-as-like", like = like)) }
            }
            (how(locale, place.look))
            label.typed {
                span { (say!(locale, "counting-number", has = has)) }
                input #count type="text" name="count" value=(value) inputmode="numeric" autocomplete="off" maxlength="5";
            }
            (keys(locale, &html! { button.primary name="how" value="next" data-next { (say!(locale, "counting-next")) } }))
        }
    }
}

/// A place, `ARBOR.PART`.
pub(super) fn name(place: &CountPlace) -> String {
    format!("{}.{}", place.id.arbor, place.id.part)
}

/// What follows from the counts so far: all that cannot be, and of what can be that which hangs by what was counted last.
pub(super) fn follows(job: &Whole, described: &Described, from: Option<&str>) -> Markup {
    let locale = &job.locale;
    let all = described.follows();
    let lifters = lifters(described);
    let hangs = |follow: &&Follow| {
        let mut parts = follow.between.iter();
        from.is_some_and(|from| {
            parts.any(|part| format!("{}.{}", part.id.arbor, part.id.part) == from)
        })
    };
    // With pins that nobody counted nothing is wrong yet.
    let sure = lifters == Lifters::Counted;
    let mut wrong = all.iter().filter(|follow| !follow.right).peekable();
    let all_right = wrong.peek().is_none();
    let mut told: Vec<&Follow> = wrong.filter(|_| sure).take(1).collect();
    if all_right {
        told.extend(
            all.iter()
                .filter(|follow| follow.right)
                .filter(hangs)
                .take(1),
        );
    }
    html! {
        @for follow in told { p.follows.refused[!follow.right] #beneath { (said::follow(locale, follow, lifters)) } }
    }
}

/// Whether the pins that lift the hammer were told, where they are asked about.
pub(super) fn lifters(described: &Described) -> Lifters {
    match lifters_open(described) {
        Some(_) => Lifters::AsUsual,
        None => Lifters::Counted,
    }
}

/// The question about the pins that lift the hammer, where nobody counted them.
pub(super) fn lifters_open(described: &Described) -> Option<&'static str> {
    let open = |asked: &AskedQuestion| {
        let of_lifters = matches!(
            asked.question.asks,
            AskedFor::Count {
                of: WorkRole::Lifters,
                ..
            }
        );
        of_lifters && !matches!(asked.answer, PresentAnswer::Count(_))
    };
    let asked = described.questions().into_iter().find(open)?;
    Some(&asked.question.id)
}

/// How it is made, and that it cannot be counted or only roughly.
fn how(locale: &Locale, look: PartLook) -> Markup {
    let small = matches!(look, PartLook::Pinion | PartLook::Lantern);
    html! {
        div.how-counted {
            @if small {
                fieldset.made {
                    legend.visually-hidden { (say!(locale, "counting-made")) }
                    @for (word, is) in [("cut", PartLook::Pinion), ("lantern", PartLook::Lantern)] {
                        label {
                            input type="radio" name="form" value=(word) checked[look == is];
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

/// Keys for figures, and the one that goes on.
pub(super) fn keys(locale: &Locale, next: &Markup) -> Markup {
    html! {
        div.number-keys {
            @for digit in 1..=9 { button.digit type="button" data-digit=(digit) { (digit) } }
            button.digit.back type="button" data-digit="back" aria-label=(say!(locale, "counting-back")) {
                svg.back-key viewBox="0 0 30 20" aria-hidden="true" { path d="M9 2h19v16H9L1.5 10z M14 6.5l7 7M21 6.5l-7 7" {} }
            }
            button.digit type="button" data-digit="0" { "0" }
            (next)
        }
    }
}
