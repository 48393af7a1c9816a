//! The frame of all pages, and what several have alike.

use crate::bounds::ANSWERED_WITHIN;
use crate::desk::Refused;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use movement::Movement;
use report::page::cautions::danger;
use report::{Locale, Sentence, say};
use tasks::{SheetWarning, ShiftDanger};

/// Above everything: that the train cannot come out as it was counted.
pub(crate) fn count_again(locale: &Locale, movement: Option<&Movement>) -> Markup {
    let lines = movement.map_or(Vec::new(), |movement| {
        report::count_again(locale, movement, &tasks::count_again(movement))
    });
    html! {
        @if !lines.is_empty() {
            div.refused.again role="note" { @for line in &lines { p { (line) } } }
        }
    }
}

/// What is odd on the sheet, each with its line: to be unfolded, or `open` where it was not read yet.
pub(crate) fn odd(locale: &Locale, warnings: &[SheetWarning], open: bool) -> Markup {
    html! {
        @if !warnings.is_empty() {
            details.odd open[open] {
                summary { (say!(locale, "odd-heading", count = warnings.len())) }
                ul { @for line in report::warnings(locale, warnings) { li { (line) } } }
            }
        }
    }
}

/// What a job is called; one whose clock's name was removed is called so.
pub(crate) fn named(locale: &Locale, name: &str) -> String {
    match name {
        "" => say!(locale, "jobs-nameless"),
        name => name.to_owned(),
    }
}

/// The frame of all pages.
pub(crate) fn frame(locale: &Locale, name: &str, about: Option<&str>, main: &Markup) -> Markup {
    let name = &named(locale, name);
    let program = say!(locale, "program");
    let title = if *name == program {
        program
    } else {
        say!(locale, "title", name = name)
    };
    let (slate, paper) = (say!(locale, "slate"), say!(locale, "paper"));
    let skip = say!(locale, "skip");
    let nothing = say!(locale, "refused-unread");
    html! {
        (DOCTYPE)
        html lang=(locale.tag()) {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1, interactive-widget=resizes-content";
                meta name="color-scheme" content="light dark";
                title { (title) }
                script src="/script/slate.js" {}
                link rel="icon" href="/icon.svg" type="image/svg+xml";
                link rel="preload" href="/serif.woff2" as="font" type="font/woff2" crossorigin;
                link rel="stylesheet" href="/bench.css";
                script src="/script/bench.js" type="module" {}
            }
            body {
                nav aria-label=(skip) { a.skip href="#sentence" { (skip) } }
                header.top {
                    p.name { a href="/jobs" title=(say!(locale, "bench")) { (name) } }
                    @if let Some(about) = about { p.about { (about) } }
                    div.tools {
                        button #aloud.plain type="button" hidden { (say!(locale, "aloud")) }
                        button #slate.plain type="button" hidden data-slate=(slate) data-paper=(paper) { (slate) }
                        a.plain.button href="/settings" title=(say!(locale, "settings")) { (say!(locale, "settings-short")) }
                    }
                }
                (main)
                div #live.visually-hidden aria-live="polite" data-nothing=(nothing) {}
                (unanswered(locale))
            }
        }
    }
}

/// That no answer came, for the page's script to put where it is looked for: its words, and a way to ask again.
fn unanswered(locale: &Locale) -> Markup {
    html! {
        div #unanswered.unanswered role="alert" hidden data-patience=(ANSWERED_WITHIN.as_millis())
            data-silent=(say!(locale, "silent")) data-late=(say!(locale, "late")) data-asking=(say!(locale, "asking-again")) {
            p {}
            button type="button" { (say!(locale, "ask-again")) }
        }
    }
}

/// A page that says only why there is nothing else.
pub(crate) fn refusal(locale: &Locale, refused: &Refused) -> Markup {
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { (refused.say(locale)) }
            p { a.button href="/jobs" { (say!(locale, "jobs")) } }
        }
    };
    frame(locale, &say!(locale, "program"), None, &main)
}

/// A drawing, and what it is a picture of.
pub(crate) struct Picture {
    pub(crate) svg: String,
    pub(crate) says: String,
}

impl Picture {
    pub(crate) fn markup(&self) -> Markup {
        html! {
            figure.lies { div.lies-hold role="img" aria-label=(self.says) { (PreEscaped(&self.svg)) } }
        }
    }
}

/// A sentence, what is to be moved in it in blue.
pub(crate) fn runs(Sentence(runs): Sentence) -> Markup {
    html! {
        @for run in runs {
            @if run.moved { b.moved { (run.text) } } @else { (run.text) }
        }
    }
}

pub(crate) fn list(lines: &[String]) -> Markup {
    html! { ul { @for line in lines { li { (line) } } } }
}

pub(crate) fn mind(locale: &Locale, dangers: &[ShiftDanger], name: &str) -> Markup {
    html! {
        @if !dangers.is_empty() {
            section.mind aria-labelledby=(name) {
                h2 id=(name) { (say!(locale, "cautions")) }
                ul { @for one in dangers { li { (danger(locale, one)) } } }
                p { (say!(locale, "caution-local")) }
            }
        }
    }
}
