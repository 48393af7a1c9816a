//! Where oil goes and where none: the plan, and its drawing to hang by the bench.

use super::page::{Page, Sum};
use crate::desk::{Refused, Whole};
use crate::fields::{Question, choice, form};
use crate::frame::{Picture, list};
use entries::Stage;
use maud::{Markup, html};
use report::{field, oil, say};
use serde::Deserialize;
use std::collections::BTreeSet;
use tasks::{BoxesFor, OilRoom, OilState, Oiled};

/// Where oil goes.
pub(super) const SUM: Sum = Sum {
    word: "oil",
    stage: Stage::Together,
    heavy: false,
    boxes: BoxesFor::Oil,
    known: known_lines,
    page: |asked, _| page(asked),
};

const STATES: [(&str, OilState); 3] = [
    ("clean", OilState::Clean),
    ("running", OilState::Running),
    ("gummed", OilState::Gummed),
];
const ROOMS: [(&str, OilRoom); 3] = [
    ("lived", OilRoom::Lived),
    ("dusty", OilRoom::Dusty),
    ("cold", OilRoom::Cold),
];

fn chosen<T: Copy + Default>(all: &[(&str, T)], word: Option<&str>) -> T {
    let found = all.iter().find(|(known, _)| Some(*known) == word);
    found.map_or_else(T::default, |(_, meant)| *meant)
}

fn page(asked: &Question<'_>) -> Page {
    let locale = asked.locale();
    let form = ask(asked);
    match oiled(asked) {
        Ok(oiled) => Page {
            answer: Some(oil::answer(locale, &oiled.plan)),
            picture: Some(Picture {
                svg: report::oil::drawing(locale, &oiled).svg(),
                says: say!(locale, "sum-drawing", sum = "oil"),
            }),
            told: answer_markup(asked, &oiled),
            dangers: oiled.dangers(),
            form,
            ..Page::default()
        },
        Err(why) => Page::refused(locale, why, form),
    }
}

/// What is asked: the state of the movement and the room that it goes into, by their words, and the arbors that are worn.
#[derive(Deserialize)]
struct Asked {
    state: Option<String>,
    room: Option<String>,
    worn: Vec<String>,
}

fn oiled(asked: &Question<'_>) -> Result<Oiled, Refused> {
    let Asked { state, room, worn } = asked.fields.read()?;
    let state = chosen(&STATES, state.as_deref());
    let room = chosen(&ROOMS, room.as_deref());
    let worn: Vec<String> = worn.into_iter().filter(|arbor| !arbor.is_empty()).collect();
    Ok(tasks::oil(asked.sheet(), state, room, &worn)?)
}

fn answer_markup(asked: &Question<'_>, oiled: &Oiled) -> Markup {
    let locale = asked.locale();
    let (movement, plan) = (&oiled.movement, &oiled.plan);
    let dry = plan.dry.iter();
    let dry: Vec<String> = dry.map(|dry| oil::dry(locale, movement, *dry)).collect();
    html! {
        @for line in oil::before(locale, movement, plan, oiled.state) { p { (line) } }
        @if let Some(line) = oil::lost(locale, &oiled.lost) { p { (line) } }
        @for (heading, steps) in oil::stages(locale, movement, plan) {
            h2 { (heading) }
            ol.steps { @for (i, step) in steps { li value=(i) { (step) } } }
        }
        h2 { (say!(locale, "oil-dry")) }
        (list(&dry))
        h2 { (say!(locale, "oil-meant")) }
        (list(&oil::kinds(locale, plan)))
        p { (oil::back(locale, plan)) }
        p.quiet { (say!(locale, "oil-source")) }
        p.quiet.on-screen { (say!(locale, "oil-hang")) }
    }
}

fn ask(asked: &Question<'_>) -> Markup {
    let locale = asked.locale();
    let states = STATES.map(|(word, _)| (word, say!(locale, "oil-state", state = word)));
    let rooms = ROOMS.map(|(word, _)| (word, say!(locale, "oil-room", room = word)));
    let ticked: BTreeSet<&str> = (asked.fields.all())
        .filter(|(name, value)| *name == "worn" && !value.is_empty())
        .map(|(_, value)| value)
        .collect();
    let within = html! {
        div.row {
            (choice(asked, "state", &states, "clean"))
            (choice(asked, "room", &rooms, "lived"))
        }
        @if let Some(movement) = asked.job.state.outline() {
            details open[!ticked.is_empty()] {
                summary { (field(locale, "worn")) }
                div.worn {
                    @for (_, arbor) in movement.arbors() {
                        label.check {
                            input type="checkbox" name="worn" value=(arbor.id) checked[ticked.contains(arbor.id.as_str())];
                            span { (report::page::named(&arbor.id)) }
                        }
                    }
                }
            }
        }
    };
    form(asked, &say!(locale, "oil-wanted"), &within)
}

/// How many places are to be oiled.
fn known_lines(job: &Whole) -> Vec<String> {
    let locale = &job.locale;
    match tasks::oil(job.sheet.as_bytes(), OilState::Clean, OilRoom::Lived, &[]) {
        Ok(oiled) => vec![oil::answer(locale, &oiled.plan)],
        Err(_) => vec![say!(locale, "known-out")],
    }
}
