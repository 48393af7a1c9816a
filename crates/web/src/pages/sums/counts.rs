//! Missing and doubtful counts: all that fit, the likeliest first.

use super::page::{Page, Sum};
use crate::desk::{Refused, Whole};
use crate::fields::{Field, Kind, Question, folded, form, inputs, measured};
use crate::form::said::{Lines, number};
use crate::form::{Fields, along, query};
use crate::frame::{Picture, list};
use crate::searches::{Key, Look, Searches, Stands};
use entries::Log;
use entries::Stage;
use maud::{Markup, html};
use movement::Movement;
use report::count::Sets;
use report::{Words, say};
use serde::Deserialize;
use tasks::{CountAsk, Counted, MOST_PATIENCE, SearchEnd};

/// Missing and doubtful counts.
pub(super) const SUM: Sum = Sum {
    word: "counts",
    stage: Stage::In,
    heavy: true,
    known,
    page,
};

const ASKED: [Field; 2] = [("beats", Kind::Plain), ("runs", Kind::Time)];
const MORE: [Field; 4] = [
    ("must", Kind::Lines),
    ("escape", Kind::Plain),
    ("least", Kind::Plain),
    ("most", Kind::Plain),
];

/// The range that is tried where only one end of it is said: as the command has it.
const USUAL: (u16, u16) = (6, 144);

/// What is asked.
#[derive(Deserialize)]
struct Asked {
    beats: Option<String>,
    runs: Option<String>,
    must: Option<Lines>,
    escape: Option<String>,
    least: Option<String>,
    most: Option<String>,
    /// How many times as far as usual it is to go.
    #[serde(deserialize_with = "number")]
    longer: Option<u32>,
    /// Whether all that fit are told.
    all: bool,
}

impl Asked {
    fn of(asked: &Question<'_>) -> Result<Asked, Refused> {
        Ok(measured(asked.words(), asked.fields, &ASKED).read()?)
    }

    fn patience(&self) -> u32 {
        self.longer.unwrap_or(1).clamp(1, MOST_PATIENCE)
    }

    /// The range to be tried; what is no number is a range that holds none.
    fn teeth(&self) -> Option<(u16, u16)> {
        let said = self.least.is_some() || self.most.is_some();
        let end = |typed: &Option<String>, usual: u16| {
            typed
                .as_ref()
                .map_or(usual, |typed| typed.parse().unwrap_or(0))
        };
        said.then(|| (end(&self.least, USUAL.0), end(&self.most, USUAL.1)))
    }
}

fn page(asked: &Question<'_>, searches: &Searches) -> Page {
    let words = asked.words();
    let form = ask(asked);
    let ask = match Asked::of(asked) {
        Ok(ask) => ask,
        Err(why) => return Page::refused(words, why, form),
    };
    let (patience, all) = (ask.patience(), ask.all);
    match counted(asked, ask, searches) {
        Stands::Done(came) => match *came {
            Ok(counted) => Page {
                answer: Some(answer(words, &counted)),
                picture: Some(Picture {
                    svg: report::count::drawing(words, &counted).svg(),
                    says: say!(words, "sum-drawing", sum = "counts"),
                }),
                told: told(asked, &counted, patience, all),
                form,
                ..Page::default()
            },
            Err(why) => Page::refused(words, why, form),
        },
        Stands::Goes(so_far) => Page {
            told: going_on(asked, &so_far),
            goes_on: true,
            form,
            ..Page::default()
        },
        Stands::NoRoom => Page {
            told: html! { p { (say!(words, "refused-busy")) } },
            goes_on: true,
            form,
            ..Page::default()
        },
        Stands::NotBegun => Page {
            told: html! { p { (say!(words, "count-not-begun")) } },
            form,
            ..Page::default()
        },
    }
}

/// How the search for what was asked stands.
fn counted(asked: &Question<'_>, ask: Asked, searches: &Searches) -> Stands {
    let words = *asked.words();
    let sheet = asked.sheet().to_vec();
    let named = [
        ASKED[0].0, ASKED[1].0, "must", "escape", "least", "most", "longer",
    ];
    let typed = query(asked.fields.filled(named));
    let key = Key {
        job: asked.job.id,
        asked: [words.tag(), &typed, &asked.job.sheet].join("\n"),
    };
    searches.of(&key, !asked.foreign, move |look: Look<'_>| {
        let must = ask.must.as_ref().map(|lines| lines.0.as_slice());
        let ask = CountAsk {
            beats: ask.beats.as_deref(),
            runs: ask.runs.as_deref(),
            must: must.unwrap_or_default(),
            escape: ask.escape.as_deref(),
            teeth: ask.teeth(),
            patience: ask.patience(),
        };
        tasks::count_watched(&sheet, &ask, &mut |searched| {
            look(&|| report::count::so_far(&words, searched))
        })
    })
}

/// That a search goes on: how far it has come, and a way to have it stop.
fn going_on(asked: &Question<'_>, so_far: &str) -> Markup {
    let words = asked.words();
    html! {
        p role="status" { @if so_far.is_empty() { (say!(words, "count-begun")) } @else { (so_far) } }
        p.quiet { (say!(words, "count-goes-on")) }
        form method="post" action=(format!("/job/{}/counts/stop", asked.job.id)) {
            (along(asked.fields.all()))
            button { (say!(words, "count-stop")) }
        }
    }
}

fn answer(words: &Words, counted: &Counted) -> String {
    let sets = Sets::of(counted);
    match sets.sets(words, false).into_iter().next() {
        Some(set) => say!(words, "count-likeliest", set = set.says),
        None => sets.how_many(words).into_iter().next().unwrap_or_default(),
    }
}

fn told(asked: &Question<'_>, counted: &Counted, times: u32, all: bool) -> Markup {
    let words = asked.words();
    let sets = Sets::of(counted);
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
        @if matches!(counted.found.ended, SearchEnd::Steps | SearchEnd::Stopped) && times < MOST_PATIENCE {
            p { a.button href=(on(asked.fields, times)) { (say!(words, "count-on")) } }
        }
        h2 { (say!(words, "count-demands")) }
        (list(&sets.demands(words)))
        @if !counted.found.fits.is_empty() { p.quiet { (say!(words, "count-sure")) } }
    }
}

/// The same question, ten times as far.
fn on(fields: &Fields, times: u32) -> String {
    let others = fields.all().filter(|(name, _)| *name != "longer");
    let times = (times * 10).to_string();
    format!("?{}", query(others.chain([("longer", times.as_str())])))
}

/// The same question, all that fit told.
fn everything(fields: &Fields) -> String {
    format!("?{}", query(fields.all().chain([("all", "")])))
}

fn ask(asked: &Question<'_>) -> Markup {
    let words = asked.words();
    let within = html! {
        div.row { (inputs(asked, &ASKED)) }
        (folded(asked, &say!(words, "sum-more"), &MORE, &html! {}))
    };
    form(asked, &say!(words, "count-wanted"), &within)
}

/// What is on the sheet, and what is missing.
fn known(job: &Whole) -> Vec<String> {
    let words = &job.words;
    let Some(movement) = job.state.outline() else {
        return Vec::new();
    };
    let mut lines = counted_on(words, movement, &job.state.log);
    if let Some(open) = &job.state.open {
        lines.push(say!(words, "known-blanks", count = open.blanks().len()));
    }
    lines
}

/// What is on the sheet, and whether it is drawn to scale.
fn counted_on(words: &Words, movement: &Movement, log: &Log) -> Vec<String> {
    let mut lines = vec![say!(
        words,
        "known-counted",
        trains = movement.trains(),
        arbors = movement.arbors().len(),
        meshes = movement.meshes().len()
    )];
    let centres = tasks::centres(movement, Some(log));
    let (measured, all) = (centres.len(), movement.meshes().len());
    let one = (movement.meshes().next()).map(|(id, _)| movement.mesh_name(id).replace('>', ":"));
    if let Some(mesh) = one {
        lines.push(
            if draw::layout(movement, &centres).to_scale(movement, &centres) {
                say!(words, "known-to-scale")
            } else if measured == all {
                say!(words, "known-no-scale")
            } else {
                say!(
                    words,
                    "known-centres",
                    measured = measured,
                    all = all,
                    mesh = mesh
                )
            },
        );
    }
    lines
}
