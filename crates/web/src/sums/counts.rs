//! Missing and doubtful counts: all that fit, the likeliest first.

use super::fields::{Field, Kind, folded, form, inputs, lines, typed};
use super::{Page, Picture, Question, list};
use crate::form::Fields;
use maud::{Markup, html};
use report::{Words, say};
use tasks::{CountAsk, Counted, Refusal};

const ASKED: [Field; 2] = [("beats", Kind::Plain), ("runs", Kind::Time)];
const MORE: [Field; 4] = [
    ("must", Kind::Lines),
    ("escape", Kind::Plain),
    ("least", Kind::Plain),
    ("most", Kind::Plain),
];

/// The range that is tried where only one end of it is said: as the command has it.
const USUAL: (u16, u16) = (6, 144);

pub(super) fn page(asked: &Question<'_>) -> Page {
    let words = asked.words();
    let form = ask(asked);
    match counted(asked) {
        Ok(counted) => Page {
            answer: Some(answer(words, &counted)),
            picture: Some(Picture {
                svg: counted.drawing(words).svg(),
                says: say!(words, "sum-drawing", sum = "counts"),
            }),
            told: told(asked, &counted),
            form,
            ..Page::default()
        },
        Err(why) => Page::refused(words, why, form),
    }
}

fn counted(asked: &Question<'_>) -> Result<Counted, Refusal> {
    let (words, fields) = (asked.words(), asked.fields);
    let [beats, runs] = ASKED.map(|field| typed(words, fields, field));
    let must = lines(fields, "must");
    let ask = CountAsk {
        beats: beats.as_deref(),
        runs: runs.as_deref(),
        must: &must,
        escape: fields.get("escape"),
        teeth: teeth(fields),
        patience: 1,
    };
    tasks::count(asked.sheet(), &ask, &asked.voice())
}

/// The range to be tried; what is no number is a range that holds none.
fn teeth(fields: &Fields) -> Option<(u16, u16)> {
    let end = |name: &str, usual: u16| {
        let typed = fields.get(name);
        typed.map_or(usual, |typed| typed.parse().unwrap_or(0))
    };
    let said = ["least", "most"]
        .iter()
        .any(|name| fields.get(name).is_some());
    said.then(|| (end("least", USUAL.0), end("most", USUAL.1)))
}

fn answer(words: &Words, counted: &Counted) -> String {
    let sets = counted.sets();
    match sets.sets(words, false).into_iter().next() {
        Some(set) => say!(words, "count-likeliest", set = set.says),
        None => sets.how_many(words).into_iter().next().unwrap_or_default(),
    }
}

fn told(asked: &Question<'_>, counted: &Counted) -> Markup {
    let words = asked.words();
    let sets = counted.sets();
    let all = asked.fields.has("all");
    html! {
        @for clash in sets.clashes(words) { p { (clash) } }
        p { (sets.missing(words)) "." }
        @for line in sets.how_many(words) { p { (line) } }
        ol.sets {
            @for set in sets.sets(words, all) { li { (set.says) (list(&set.gives)) } }
        }
        @if !all && let Some(rest) = sets.rest(&asked.voice()) {
            p { (rest) }
            p { a.button href=(everything(asked.fields)) { (say!(words, "count-all")) } }
        }
        h2 { (say!(words, "count-demands")) }
        (list(&sets.demands(words)))
        @if !counted.found.fits.is_empty() { p.quiet { (say!(words, "count-sure")) } }
    }
}

/// The same question, all that fit told.
fn everything(fields: &Fields) -> String {
    let coded = |text: &str| -> String {
        let each = text.bytes().map(|b| match b {
            b'a'..=b'z' | b'A'..=b'Z' | b'0'..=b'9' | b'-' | b'.' | b'_' => {
                char::from(b).to_string()
            }
            _ => format!("%{b:02X}"),
        });
        each.collect()
    };
    let asked = fields.0.iter();
    let asked: String = asked
        .map(|(name, value)| format!("{}={}&", coded(name), coded(value)))
        .collect();
    format!("?{asked}all")
}

fn ask(asked: &Question<'_>) -> Markup {
    let words = asked.words();
    let within = html! {
        div.row { (inputs(asked, &ASKED)) }
        (folded(asked, &say!(words, "sum-more"), &MORE, &html! {}))
    };
    form(asked, &say!(words, "count-wanted"), &within)
}
