//! The page of a job, and the frame of all pages.

use crate::answer;
use crate::desk::{Job, Refused};
use crate::form::Fields;
use crate::history::history;
use crate::plate::{Plate, Show, turning};
use crate::reading;
use crate::telling;
use maud::{DOCTYPE, Markup, html};
use movement::Movement;
use report::{Words, page as said, say};
use tasks::Warning;
use timing::Act;

/// Where in the round of looking and doing a page is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Step {
    /// Witnesses are to be read.
    Look,
    /// What to do is said.
    Answer,
    /// An arbor jumped out: which?
    Jumped,
    /// The clock went home: nothing is to be done before it comes in again.
    Home,
}

impl Step {
    /// The step that was asked for, or that follows from the log: what was looked at is answered, an arbor that
    /// is out goes in first, all else is to be looked at.
    pub(crate) fn of(job: &Job, asked: &Fields) -> Step {
        if job.home() {
            Step::Home
        } else if asked.has("jumped") {
            Step::Jumped
        } else if asked.has("look") {
            Step::Look
        } else if !job.noted.recalled.last_look.is_empty()
            || matches!(job.noted.advice.act, Act::PutIn(_))
        {
            Step::Answer
        } else {
            Step::Look
        }
    }

    /// The name of the first, where none is said.
    pub(crate) const LOOK: &'static str = "look";

    fn name(self) -> &'static str {
        match self {
            Step::Look => Step::LOOK,
            Step::Answer => "answer",
            Step::Jumped => "jumped",
            Step::Home => "home",
        }
    }
}

/// The page of a job.
pub(crate) fn page(job: &Job, asked: &Fields, refused: Option<&Refused>) -> Markup {
    let words = &job.words;
    let step = Step::of(job, asked);
    let plate = Plate::of(
        job,
        match step {
            Step::Look => Show::Looking,
            Step::Answer => Show::Doing,
            Step::Jumped => Show::Choosing,
            Step::Home => Show::Lying,
        },
    );
    let main = html! {
        main #main.job data-step=(step.name()) data-job=(job.id) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(words)) } }
            (count_again(words, Some(job.movement())))
            (odd(words, &job.noted.sheet.warnings, job.entries() == 0))
            figure.lies {
                (plate.markup(job))
                figcaption {
                    (view(job, step))
                }
            }
            div.beside {
                @if step != Step::Answer { (answer::cautions(job, step)) }
                @match step {
                    Step::Look => (reading::reading(job, &plate, asked)),
                    Step::Answer => (answer::seen(job)),
                    Step::Jumped | Step::Home => {},
                }
                @if step == Step::Answer { (answer::cautions(job, step)) }
                (answer::say(job, step, &plate))
                @if step == Step::Home {
                    (history(job))
                } @else {
                    (answer::also(job, step))
                    (telling::order(job))
                    (history(job))
                    (telling::telling(job))
                    (answer::all_cautions(job))
                    p.whole { a.button href=(format!("/job/{}/way", job.id)) { (say!(words, "whole-job")) } }
                    p.keys { (say!(words, "keys")) }
                }
            }
        }
    };
    let about = said::seen_from(words, job.view.plate, job.view.upside_down);
    frame(words, &job.name, Some(&about), &main)
}

/// Above everything: that the train cannot come out as it was counted.
pub(crate) fn count_again(words: &Words, movement: Option<&Movement>) -> Markup {
    let lines = movement.map_or(Vec::new(), |movement| {
        report::count_again(words, movement, &tasks::count_again(movement))
    });
    html! {
        @if !lines.is_empty() {
            div.refused.again role="note" { @for line in &lines { p { (line) } } }
        }
    }
}

/// What is odd on the sheet, each with its line: to be unfolded, or `open` where it was not read yet.
pub(crate) fn odd(words: &Words, warnings: &[Warning], open: bool) -> Markup {
    html! {
        @if !warnings.is_empty() {
            details.odd open[open] {
                summary { (say!(words, "odd-heading", count = warnings.len())) }
                ul { @for line in report::warnings(words, warnings) { li { (line) } } }
            }
        }
    }
}

/// See it from the other plate, turn it upside down. While it is looked at, what is being read goes along.
fn view(job: &Job, step: Step) -> Markup {
    let action = format!("/job/{}/view", job.id);
    html! {
        @if step == Step::Look { (turning(&job.words, job.view, Some("reading"), &action)) } @else {
            form method="post" action=(action) {
                input type="hidden" name="step" value=(step.name());
                (turning(&job.words, job.view, None, &action))
            }
        }
    }
}

/// The frame of all pages.
pub(crate) fn frame(words: &Words, name: &str, about: Option<&str>, main: &Markup) -> Markup {
    let program = say!(words, "program");
    let title = if name == program {
        program
    } else {
        say!(words, "title", name = name)
    };
    let (slate, paper) = (say!(words, "slate"), say!(words, "paper"));
    let skip = say!(words, "skip");
    let (silent, nothing) = (say!(words, "silent"), say!(words, "refused-unread"));
    html! {
        (DOCTYPE)
        html lang=(words.tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1, interactive-widget=resizes-content";
                meta name="color-scheme" content="light dark";
                title { (title) }
                script src="/slate.js" {}
                link rel="icon" href="/icon.svg" type="image/svg+xml";
                link rel="preload" href="/serif.woff2" as="font" type="font/woff2" crossorigin;
                link rel="stylesheet" href="/bench.css";
                script src="/bench.js" defer {}
            }
            body {
                nav aria-label=(skip) { a.skip href="#sentence" { (skip) } }
                header.top {
                    p.name { a href="/jobs" title=(say!(words, "bench")) { (name) } }
                    @if let Some(about) = about { p.about { (about) } }
                    div.tools {
                        button #aloud.plain type="button" hidden { (say!(words, "aloud")) }
                        button #slate.plain type="button" hidden data-slate=(slate) data-paper=(paper) { (slate) }
                        a.plain.button href="/settings" title=(say!(words, "settings")) { (say!(words, "settings-short")) }
                    }
                }
                (main)
                div #live.visually-hidden aria-live="polite" data-silent=(silent) data-nothing=(nothing) {}
            }
        }
    }
}

/// A page that says only why there is nothing else.
pub(crate) fn refusal(words: &Words, refused: &Refused) -> Markup {
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { (refused.say(words)) }
            p { a.button href="/jobs" { (say!(words, "jobs")) } }
        }
    };
    frame(words, &say!(words, "program"), None, &main)
}
