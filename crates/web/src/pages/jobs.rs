//! The one list of what lies on the bench: each job by its clock, its stage as a word, its next step as a sentence. Another
//! clock comes in here, and a lesson is begun here.

use crate::asked::{Answer, PageRequest, on_to, read, sent, write};
use crate::desk::{Desk, Refused};
use crate::form::Fields;
use crate::form::said::{number, sheet};
use crate::frame::{frame, named};
use crate::pages::entering;
use crate::pages::entering::told::Intake;
use crate::pages::search;
use axum::Router;
use axum::http::StatusCode;
use book::JobId;
use book::{JobLine, Listing};
use entries::Stage;
use maud::{Markup, html};
use report::{Locale, say, stages};
use serde::Deserialize;
use std::sync::Arc;
use tasks::JobState;

pub(super) fn routes() -> Router<Arc<Desk>> {
    Router::new()
        .route("/", read(home))
        .route("/jobs", read(list).merge(write(begin)))
}

/// So many jobs are on a page: more than a bench has at a time, and few enough to be gone over at each look.
const ON_A_PAGE: usize = 24;

/// A job in the list.
struct Line {
    job: JobLine,
    state: Option<JobState>,
}

impl Line {
    fn is_lesson(&self) -> bool {
        (self.state.as_ref()).is_some_and(|gone| tasks::hidden_of(&gone.log).is_some())
    }

    /// Whether its train can be put wrong for a lesson.
    fn teaches(&self) -> bool {
        let counted = (self.state.as_ref()).and_then(JobState::movement);
        counted.is_some_and(|movement| movement.witnesses().len() > 0) && !self.is_lesson()
    }

    fn markup(&self, locale: &Locale) -> Markup {
        let (job, lesson) = (&self.job, self.is_lesson());
        let page = if lesson { "lesson" } else { "way" };
        html! {
            a href=(format!("/job/{}/{page}", job.id)) {
                b { (named(locale, &job.name)) }
                @match &self.state {
                    _ if lesson => span.stage { (say!(locale, "lesson-line")) },
                    Some(gone) if !job.handed_back => {
                        span.stage { (stages::stage(locale, gone.way.stage)) }
                        span.next { (stages::next(locale, &gone.way)) }
                    }
                    _ => span.stage { (say!(locale, "stage-home")) },
                }
            }
        }
    }
}

/// That this machine's clock cannot be right; nothing where it may be, or tells no day.
fn odd_clock(locale: &Locale, desk: &Desk) -> Option<String> {
    /// Years in which nobody opens a bench: before there were machines that tell the day so, and long after this one.
    const BEFORE: &str = "1970-01-01";
    const AFTER: &str = "2100-12-31";
    let day = (desk.today)()?.to_string();
    (day.as_str() < BEFORE || day.as_str() > AFTER).then(|| say!(locale, "clock-odd", day = day))
}

/// Which jobs are listed.
#[derive(Deserialize)]
struct Listed {
    /// Those that went home too.
    home: bool,
    /// Where the page before this one ended.
    #[serde(deserialize_with = "number")]
    after: Option<u64>,
}

/// The list from where it was asked for; what was typed for another clock stands there again.
pub(crate) fn jobs(
    desk: &Desk,
    locale: &Locale,
    asked: &Fields,
    refused: Option<&Refused>,
) -> Result<Markup, Refused> {
    let Listed { home, after } = asked.read()?;
    let which = Listing {
        on_the_bench: !home,
        after,
        most: ON_A_PAGE + 1,
    };
    let mut found = desk.book.list(which)?;
    let more = found.len() > ON_A_PAGE;
    found.truncate(ON_A_PAGE);
    let own = desk.own()?;
    let lines: Vec<Line> = found
        .into_iter()
        .map(|job| {
            let gone = desk.on_the_list(job.id, &own).ok();
            Line { job, state: gone }
        })
        .collect();
    let main = html! {
        main #main.plain-page {
            h1 #sentence tabindex="-1" { @if home { (say!(locale, "jobs-all")) } @else { (say!(locale, "jobs")) } }
            @if let Some(odd) = odd_clock(locale, desk) { p.refused role="status" { (odd) } }
            @if let Some(why) = desk.not_backed_up(locale) { p.refused role="status" { (why) } }
            (search::field(locale, ""))
            ul.jobs {
                @for line in &lines { li { (line.markup(locale)) } }
            }
            p {
                @if let (true, Some(last)) = (more, lines.last()) {
                    a.button href=(format!("/jobs?after={}{}", last.job.last, if home { "&home" } else { "" })) { (say!(locale, "jobs-more")) }
                    " "
                }
                @if home { a.button.plain href="/jobs" { (say!(locale, "jobs")) } }
                @else { a.button.plain href="/jobs?home" { (say!(locale, "jobs-all")) } }
            }
            (another(locale, asked, refused))
            (learn(locale, &lines))
        }
    };
    Ok(frame(locale, &say!(locale, "program"), None, &main))
}

/// Another clock comes in: its name is enough, and a sheet can come later.
fn another(locale: &Locale, typed: &Fields, refused: Option<&Refused>) -> Markup {
    html! {
        details.begin open[refused.is_some()] {
            summary { (say!(locale, "another")) }
            form.another method="post" action="/jobs" data-whole {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            @if let Some(Refused::InHand(job)) = refused {
                p.forward {
                    a.button.primary href=(format!("/job/{}", job.id)) { (say!(locale, "in-hand-open", n = job.id.to_string())) }
                    button name="as-another" value="yes" { (say!(locale, "in-hand-another")) }
                }
            }
            (entering::another(locale, typed))
            details open[typed.get("sheet").is_some()] {
                summary { (say!(locale, "describe-as-text")) }
                label {
                    span { (say!(locale, "another-sheet")) }
                    textarea name="sheet" rows="8" spellcheck="false" { (typed.get("sheet").unwrap_or_default()) }
                }
            }
            @if !matches!(refused, Some(Refused::InHand(_))) { button.primary { (say!(locale, "put-on")) } }
            }
        }
    }
}

/// A lesson with the movement of a job that is there.
fn learn(locale: &Locale, lines: &[Line]) -> Markup {
    html! {
        @if lines.iter().any(Line::teaches) {
            details.begin {
                summary { (say!(locale, "lesson")) }
                form.another method="post" action="/lessons" data-whole {
                p.quiet { (say!(locale, "lesson-about")) }
                label {
                    span { (say!(locale, "lesson-which")) }
                    select name="job" { @for Line { job, .. } in lines.iter().filter(|line| line.teaches()) { option value=(job.id) { (job.name) } } }
                }
                label {
                    span { (say!(locale, "lesson-wheels")) }
                    select name="wheels" { option value="1" { "1" } option value="2" { "2" } }
                }
                button { (say!(locale, "lesson-begin")) }
                }
            }
        }
    }
}

/// Where work goes on with a job: its train is timed on a page of its own.
fn address(desk: &Desk, id: JobId) -> String {
    let gone = (desk.book.job(id).ok())
        .and_then(|kept| tasks::job(kept.sheet.as_bytes(), kept.log.as_bytes(), &[]).ok());
    match gone {
        Some(gone) if gone.struck().is_some() && gone.way.stage == Stage::Together => {
            format!("/job/{id}")
        }
        _ => format!("/job/{id}/way"),
    }
}

fn home(asked: &PageRequest) -> Answer {
    Ok(match asked.desk.book.current()? {
        Some(id) => on_to(&address(&asked.desk, id)),
        None => on_to("/jobs"),
    })
}

fn list(asked: &PageRequest) -> Answer {
    let page = jobs(&asked.desk, &asked.locale, &asked.fields, None)?;
    Ok(sent(StatusCode::OK, page))
}

/// Another clock: its sheet, and whatever is told of it.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Another {
    #[serde(deserialize_with = "sheet")]
    sheet: Option<String>,
    /// That it is another, though a job has just this sheet.
    as_another: bool,
    clock: Option<String>,
    complaint: Option<String>,
    owner: Option<String>,
    reach: Option<String>,
    promised: Option<String>,
}

impl Another {
    fn is_told_of(&self) -> bool {
        let told = [&self.clock, &self.complaint, &self.owner, &self.reach];
        told.into_iter()
            .chain([&self.promised])
            .any(Option::is_some)
    }
}

/// A clock comes in. One that has no name of its own goes by that of its sheet; a sheet without anything else is put on the
/// bench to have its train timed, or its missing counts found. Where a job has just this sheet, it is asked whether that job or
/// another is meant.
fn begin(asked: &PageRequest) -> Answer {
    let PageRequest { desk, fields, .. } = asked;
    let another: Another = fields.read()?;
    let begun = match &another.sheet {
        Some(sheet) if !another.is_told_of() => {
            put_on(desk, sheet, another.as_another).map(|id| address(desk, id))
        }
        // How does it strike? Where there is no sheet yet, that is asked first.
        sheet => {
            let page = if sheet.is_some() { "way" } else { "movement" };
            come_in(desk, fields, &another).map(|id| format!("/job/{id}/{page}"))
        }
    };
    match begun {
        Ok(address) => Ok(on_to(&address)),
        Err(why) => {
            let page = jobs(desk, &asked.locale, fields, Some(&why))?;
            Ok(sent(why.status(), page))
        }
    }
}

fn put_on(desk: &Desk, sheet: &str, as_another: bool) -> Result<JobId, Refused> {
    match desk.in_hand(sheet)? {
        Some(job) if !as_another => Err(Refused::InHand(job)),
        _ => Ok(desk.put_on(sheet)?),
    }
}

fn come_in(desk: &Desk, fields: &Fields, another: &Another) -> Result<JobId, Refused> {
    let intake: Intake = match (&another.clock, &another.sheet) {
        (None, Some(sheet)) => {
            let movement = tasks::as_counted(sheet.as_bytes()).map_err(tasks::Refusal::from)?;
            fields.clone().with("clock", movement.name()).read()?
        }
        _ => fields.read()?,
    };
    let clock = intake.clock.as_str().to_owned();
    let sheet = another.sheet.as_deref().unwrap_or_default();
    Ok(desk.come_in(&clock, sheet, &intake.into())?)
}
