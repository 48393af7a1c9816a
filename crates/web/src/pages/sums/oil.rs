//! Where oil goes and where none: the plan, and its drawing to hang by the bench.

use super::page::{Page, Sum};
use crate::desk::Whole;
use crate::fields::{Question, choice, form};
use crate::frame::{Picture, list};
use entries::Stage;
use maud::{Markup, html};
use report::{field, oil, say};
use tasks::{OilRoom, OilState, Oiled, Refusal};

/// Where oil goes.
pub(super) const SUM: Sum = Sum {
    word: "oil",
    stage: Stage::Together,
    heavy: false,
    known,
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
    let words = asked.words();
    let form = ask(asked);
    match oiled(asked) {
        Ok(oiled) => Page {
            answer: Some(oil::answer(words, &oiled.plan)),
            picture: Some(Picture {
                svg: report::oil::drawing(words, &oiled).svg(),
                says: say!(words, "sum-drawing", sum = "oil"),
            }),
            told: told(asked, &oiled),
            dangers: oiled.dangers(),
            form,
            ..Page::default()
        },
        Err(why) => Page::refused(words, why, form),
    }
}

fn worn<'a>(asked: &Question<'a>) -> Vec<&'a str> {
    let fields = asked.fields.0.iter();
    let worn = fields.filter(|(name, value)| name == "worn" && !value.is_empty());
    worn.map(|(_, value)| value.as_str()).collect()
}

fn oiled(asked: &Question<'_>) -> Result<Oiled, Refusal> {
    let state = chosen(&STATES, asked.fields.get("state"));
    let room = chosen(&ROOMS, asked.fields.get("room"));
    let worn: Vec<String> = worn(asked).into_iter().map(str::to_owned).collect();
    tasks::oil(asked.sheet(), state, room, &worn)
}

fn told(asked: &Question<'_>, oiled: &Oiled) -> Markup {
    let words = asked.words();
    let (movement, plan) = (&oiled.movement, &oiled.plan);
    let dry = plan.dry.iter();
    let dry: Vec<String> = dry.map(|dry| oil::dry(words, movement, *dry)).collect();
    html! {
        @for line in oil::before(words, movement, plan, oiled.state) { p { (line) } }
        @if let Some(line) = oil::lost(words, &oiled.lost) { p { (line) } }
        @for (heading, steps) in oil::stages(words, movement, plan) {
            h2 { (heading) }
            ol.steps { @for (i, step) in steps { li value=(i) { (step) } } }
        }
        h2 { (say!(words, "oil-dry")) }
        (list(&dry))
        h2 { (say!(words, "oil-meant")) }
        (list(&oil::kinds(words, plan)))
        p { (oil::back(words, plan)) }
        p.quiet { (say!(words, "oil-source")) }
        p.quiet.on-screen { (say!(words, "oil-hang")) }
    }
}

fn ask(asked: &Question<'_>) -> Markup {
    let words = asked.words();
    let states = STATES.map(|(word, _)| (word, say!(words, "oil-state", state = word)));
    let rooms = ROOMS.map(|(word, _)| (word, say!(words, "oil-room", room = word)));
    let ticked = worn(asked);
    let within = html! {
        div.row {
            (choice(asked, "state", &states, "clean"))
            (choice(asked, "room", &rooms, "lived"))
        }
        @if let Some(movement) = asked.job.state.outline() {
            details open[!ticked.is_empty()] {
                summary { (field(words, "worn")) }
                div.worn {
                    @for (_, arbor) in movement.arbors() {
                        label.check {
                            input type="checkbox" name="worn" value=(arbor.id) checked[ticked.contains(&arbor.id.as_str())];
                            span { (report::page::named(&arbor.id)) }
                        }
                    }
                }
            }
        }
    };
    form(asked, &say!(words, "oil-wanted"), &within)
}

/// How many places are to be oiled.
fn known(job: &Whole) -> Vec<String> {
    let words = &job.words;
    match tasks::oil(job.sheet.as_bytes(), OilState::Clean, OilRoom::Lived, &[]) {
        Ok(oiled) => vec![oil::answer(words, &oiled.plan)],
        Err(_) => vec![say!(words, "known-out")],
    }
}
