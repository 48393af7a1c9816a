//! What drives each train: turns, torque, what is stored, how long it runs, and what another strip would do.

use super::page::{Page, Sum};
use crate::desk::{Refused, Whole};
use crate::fields::{Field, Kind, Question, choice, form, inputs, measured};
use crate::frame::{Picture, list};
use entries::Stage;
use maud::{Markup, html};
use report::{power, say};
use serde::Deserialize;
use tasks::{BoxesFor, Driven, PowerAsk, Powered, ShiftDanger};

/// What drives each train.
pub(super) const SUM: Sum = Sum {
    word: "power",
    stage: Stage::Down,
    heavy: false,
    boxes: BoxesFor::Power,
    known: known_lines,
    page: |asked, _| page(asked),
};

const ASKED: [Field; 2] = [("instead", Kind::Length), ("runs", Kind::Time)];

fn page(asked: &Question<'_>) -> Page {
    let locale = asked.locale();
    let form = ask(asked);
    if let Some(lacks) = uncounted(asked) {
        return Page {
            first: vec![ShiftDanger::LetDown],
            ..Page::refused(locale, Refused::Told(lacks), form)
        };
    }
    match powered(asked) {
        Ok(powered) => {
            let answers = powered.driven.iter();
            let answers: Vec<String> = answers
                .map(|driven| power::answer(locale, &powered.movement, driven))
                .collect();
            Page {
                answer: Some(answers.join(" ")),
                first: powered.dangers(),
                told: html! {
                    @for driven in &powered.driven { (part(asked, &powered, driven)) }
                    p.quiet { (power::spreads(locale)) }
                },
                form,
                ..Page::default()
            }
        }
        Err(why) => Page {
            // A spring is let down whether it is known or not.
            first: vec![ShiftDanger::LetDown],
            ..Page::refused(locale, why, form)
        },
    }
}

/// That counts are missing, where they are: no fault of what was typed.
fn uncounted(asked: &Question<'_>) -> Option<String> {
    let (locale, state) = (asked.locale(), &asked.job.state);
    match (&state.sheet, &state.open) {
        (None, Some(_)) => Some(say!(locale, "box-counts-missing")),
        (None, None) if asked.job.sheet.trim().is_empty() => Some(say!(locale, "box-no-counts")),
        _ => None,
    }
}

/// What is asked.
#[derive(Deserialize)]
struct Asked {
    instead: Option<String>,
    runs: Option<String>,
    on: Option<String>,
}

impl From<Asked> for PowerAsk {
    fn from(asked: Asked) -> PowerAsk {
        let Asked { instead, runs, on } = asked;
        PowerAsk { instead, runs, on }
    }
}

fn powered(asked: &Question<'_>) -> Result<Powered, Refused> {
    let ask: Asked = measured(asked.locale(), asked.fields, &ASKED).read()?;
    Ok(tasks::power(asked.sheet(), &ask.into())?)
}

/// One arbor: its picture, and all that comes of it beside.
fn part(asked: &Question<'_>, powered: &Powered, driven: &Driven) -> Markup {
    let locale = asked.locale();
    let picture = power::drawn(locale, driven).map(|drawing| Picture {
        svg: drawing.svg(),
        says: say!(locale, "sum-drawing", sum = "power"),
    });
    html! {
        section.driven {
            h2 { (power::heading(locale, &powered.movement, driven)) }
            @if let Some(picture) = &picture { (picture.markup()) } @else { p.quiet { (power::nothing_to_draw(locale)) } }
            ul {
                @for line in power::lines(locale, &powered.movement, driven) {
                    li { (line.says) @if !line.beneath.is_empty() { (list(&line.beneath)) } }
                }
            }
        }
    }
}

fn ask(asked: &Question<'_>) -> Markup {
    let locale = asked.locale();
    let mut arbors = vec![("", say!(locale, "power-on-all"))];
    let movement = asked.job.state.outline();
    let wound = movement.map(::way::sources).unwrap_or_default();
    arbors.extend((wound.iter()).map(|source| {
        let name = report::page::named(&source.arbor);
        (source.arbor.as_str(), name)
    }));
    let within = html! {
        div.row { (inputs(asked, &ASKED)) (choice(asked, "on", &arbors, "")) }
    };
    form(asked, &say!(locale, "power-wanted"), &within)
}

/// What each spring or weight gives.
fn known_lines(job: &Whole) -> Vec<String> {
    let locale = &job.locale;
    let ask = PowerAsk::default();
    match tasks::power(job.sheet.as_bytes(), &ask) {
        Ok(powered) => {
            let each = powered.driven.iter();
            let mut lines: Vec<String> = each
                .map(|driven| report::power::answer(locale, &powered.movement, driven))
                .collect();
            lines.push(say!(locale, "known-wound"));
            lines
        }
        Err(_) => vec![say!(locale, "known-down")],
    }
}
