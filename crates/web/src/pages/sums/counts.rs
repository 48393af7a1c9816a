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
use report::{Locale, say};
use serde::Deserialize;
use tasks::{BoxesFor, CountAsk, Counted, MOST_PATIENCE, SearchEnd};

/// Missing and doubtful counts.
pub(super) const SUM: Sum = Sum {
    word: "counts",
    stage: Stage::In,
    heavy: true,
    boxes: BoxesFor::Counts,
    known: known_lines,
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
        Ok(measured(asked.locale(), asked.fields, &ASKED).read()?)
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
    let locale = asked.locale();
    let form = ask(asked);
    let ask = match Asked::of(asked) {
        Ok(ask) => ask,
        Err(why) => return Page::refused(locale, why, form),
    };
    let (patience, all) = (ask.patience(), ask.all);
    match counted(asked, ask, searches) {
        Stands::Done(came) => match *came {
            Ok(counted) => Page {
                answer: Some(answer(locale, &counted)),
                picture: Some(Picture {
                    svg: report::count::drawing(locale, &counted).svg(),
                    says: say!(locale, "sum-drawing", sum = "counts"),
                }),
                told: answer_markup(asked, &counted, patience, all),
                form,
                ..Page::default()
            },
            Err(why) => Page::refused(locale, why, form),
        },
        Stands::Goes(so_far) => Page {
            told: going_on(asked, &so_far),
            goes_on: true,
            form,
            ..Page::default()
        },
        Stands::NoRoom => Page {
            told: html! { p { (say!(locale, "refused-busy")) } },
            goes_on: true,
            form,
            ..Page::default()
        },
        Stands::NotBegun => Page {
            told: html! { p { (say!(locale, "count-not-begun")) } },
            form,
            ..Page::default()
        },
    }
}

/// How the search for what was asked stands.
fn counted(asked: &Question<'_>, ask: Asked, searches: &Searches) -> Stands {
    let locale = *asked.locale();
    let sheet = asked.sheet().to_vec();
    let named = [
        ASKED[0].0, ASKED[1].0, "must", "escape", "least", "most", "longer",
    ];
    let typed = query(asked.fields.filled(named));
    let key = Key {
        job: asked.job.id,
        asked: [locale.tag(), &typed, &asked.job.sheet].join("\n"),
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
            look(&|| report::count::so_far(&locale, searched))
        })
    })
}

/// That a search goes on: how far it has come, and a way to have it stop.
fn going_on(asked: &Question<'_>, so_far: &str) -> Markup {
    let locale = asked.locale();
    html! {
        p role="status" { @if so_far.is_empty() { (say!(locale, "count-begun")) } @else { (so_far) } }
        p.quiet { (say!(locale, "count-goes-on")) }
        form method="post" action=(format!("/job/{}/counts/stop", asked.job.id)) {
            (along(asked.fields.all()))
            button { (say!(locale, "count-stop")) }
        }
    }
}

fn answer(locale: &Locale, counted: &Counted) -> String {
    let sets = Sets::of(counted);
    match sets.sets(locale, false).into_iter().next() {
        Some(set) => say!(locale, "count-likeliest", set = set.says),
        None => sets.how_many(locale).into_iter().next().unwrap_or_default(),
    }
}

fn answer_markup(asked: &Question<'_>, counted: &Counted, times: u32, all: bool) -> Markup {
    let locale = asked.locale();
    let sets = Sets::of(counted);
    html! {
        @for clash in sets.clashes(locale) { p { (clash) } }
        p { (sets.missing(locale)) "." }
        @for line in sets.how_many(locale) { p { (line) } }
        ol.sets {
            @for (n, set) in sets.sets(locale, all).into_iter().enumerate() {
                li { (set.says) (list(&set.gives)) (put_in(asked, counted, n)) }
            }
        }
        @if !all && let Some(rest) = sets.rest(&asked.voice()) {
            p { (rest) }
            p { a.button href=(everything(asked.fields)) { (say!(locale, "count-all")) } }
        }
        @if matches!(counted.found.ended, SearchEnd::Steps | SearchEnd::Stopped) && times < MOST_PATIENCE {
            p { a.button href=(on(asked.fields, times)) { (say!(locale, "count-on")) } }
        }
        h2 { (say!(locale, "count-demands")) }
        (list(&sets.demands(locale)))
        @if !counted.found.fits.is_empty() { p.quiet { (say!(locale, "count-sure")) } }
    }
}

/// One touch that puts a set of counts on the sheet.
fn put_in(asked: &Question<'_>, counted: &Counted, set: usize) -> Markup {
    let locale = asked.locale();
    let Some(fit) = counted.found.fits.get(set) else {
        return html! {};
    };
    let movement = counted.open.movement();
    let counts = (counted.puzzle.blanks.iter().zip(&fit.counts))
        .map(|(blank, teeth)| format!("{}={teeth}", movement.part_name(blank.part)));
    html! {
        form method="post" action=(format!("/job/{}/counts/found", asked.job.id)) {
            input type="hidden" name="entries" value=(asked.job.entries());
            @for count in counts { input type="hidden" name="count" value=(count); }
            button { (say!(locale, "box-count-found")) }
        }
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
    let locale = asked.locale();
    let within = html! {
        div.row { (inputs(asked, &ASKED)) }
        (folded(asked, &say!(locale, "sum-more"), &MORE, &html! {}))
    };
    form(asked, &say!(locale, "count-wanted"), &within)
}

/// What is on the sheet, and what is missing.
fn known_lines(job: &Whole) -> Vec<String> {
    let locale = &job.locale;
    let Some(movement) = job.state.outline() else {
        return Vec::new();
    };
    let mut lines = counted_on(locale, movement, &job.state.log);
    if let Some(open) = &job.state.open {
        lines.push(say!(locale, "known-blanks", count = open.blanks().len()));
    }
    lines
}

/// What is on the sheet, and whether it is drawn to scale.
fn counted_on(locale: &Locale, movement: &Movement, log: &Log) -> Vec<String> {
    let mut lines = vec![say!(
        locale,
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
                say!(locale, "known-to-scale")
            } else if measured == all {
                say!(locale, "known-no-scale")
            } else {
                say!(
                    locale,
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
