//! The way of a job: its stages, what is left at one of them, what to mind, what is known, and what may be entered.

use super::known::known_lines;
use crate::backing::Left;
use crate::desk::{Refused, Whole};
use crate::form::said::lenient as one_of;
use crate::form::{Fields, along};
use crate::frame::{count_again, frame, odd};
use crate::pages::entering::{self, Form};
use crate::pages::sums::Sum;
use entries::{EntryContent, EntryKind, Stage, Work};
use maud::{Markup, html};
use movement::Open;
use paper::put_right;
use report::{say, stages};
use serde::Deserialize;
use std::collections::BTreeSet;
use way::{Done, Item, ToDo};

/// The stage that is asked for.
#[derive(Deserialize)]
struct LookedAt {
    #[serde(deserialize_with = "one_of")]
    stage: Option<Stage>,
}

/// The page of a job's way, at the stage that was asked for, else where the job is. What is `left` of a removal is told above
/// everything.
pub(crate) fn way(
    job: &Whole,
    asked: &Fields,
    refused: Option<&Refused>,
    left: &Left,
) -> Result<Markup, Refused> {
    let locale = &job.locale;
    let LookedAt { stage } = asked.read()?;
    let stage = stage.unwrap_or(job.state.way.stage);
    let here = stage == job.state.way.stage;
    let main = html! {
        main #main.way data-stage=(stage.word()) data-job=(job.id) {
            @if let Some(refused) = refused { p.refused role="alert" { (refused.say(locale)) } }
            @if let Some(Refused::LeftOpen) = refused { (hand_back_all_the_same(job, asked)) }
            (left_of_removal(job, left))
            (count_again(locale, job.state.movement()))
            (odd(locale, &job.state.odd, stage == Stage::In))
            (stages_list(job, stage))
            @if let Some(day) = job.by {
                p.then { (say!(locale, "way-then", day = day.to_string())) " " a.button.plain href=(format!("/job/{}/way", job.id)) { (say!(locale, "way-then-now")) } }
            }
            div.now {
                h1 #sentence tabindex="-1" {
                    @if here { (stages::next(locale, &job.state.way)) } @else { (stages::stage(locale, stage)) }
                }
                p.quiet { (stages::stage(locale, stage)) ": " (stages::stage_about(locale, stage)) "." }
                @if job.by.is_none() && !job.state.way.home { (forward(job, stage, here)) }
                (running(job, stage))
                @if job.by.is_none() { p { (movement_link(job)) } }
            }
            (points(job, stage))
            (known_section(job, stage))
            (mind(job, stage))
            @if job.by.is_none() { (entering::forms(job, stage, asked)?) }
            (log(job))
            (papers(job))
        }
    };
    let about = if job.state.way.home {
        say!(locale, "stage-home")
    } else {
        stages::stage(locale, job.state.way.stage)
    };
    Ok(frame(locale, &job.name, Some(&about), &main))
}

/// What is left of a removal, and what can be done about it.
/// The way to the movement: where it is counted in part, to what is left of it.
fn movement_link(job: &Whole) -> Markup {
    let locale = &job.locale;
    let to = format!("/job/{}/movement", job.id);
    let blanks = job.state.open.iter().flat_map(Open::blanks);
    let left = blanks.filter(|blank| blank.written.is_none()).count();
    html! {
        @if left > 0 {
            a.button href=(to) { (say!(locale, "describe-go-on", count = left)) }
        } @else {
            a.button.plain href=(to) { (say!(locale, "describe-movement")) }
        }
    }
}

fn left_of_removal(job: &Whole, left: &Left) -> Markup {
    let locale = &job.locale;
    let address = format!("/job/{}/remove", job.id);
    html! {
        @if let Some(resists) = &left.resists {
            p.refused role="status" { (resists) }
            @if left.pending {
                form method="post" action=(address) data-whole {
                    input type="hidden" name="entries" value=(job.entries());
                    input type="hidden" name="sure" value="yes";
                    button.plain { (say!(locale, "removal-again")) }
                }
            }
        }
        @if left.standing > 0 {
            p.refused role="status" {
                (say!(locale, "removal-left", count = left.standing)) " "
                a href=(address) { (say!(locale, "removal-look")) }
            }
        }
    }
}

/// All stages, as words in a row; what is left at each is said, and where the job is.
fn stages_list(job: &Whole, looked_at: Stage) -> Markup {
    let locale = &job.locale;
    let way = &job.state.way;
    html! {
        nav.stages aria-label=(say!(locale, "way-stages")) {
            ol {
                @for at in &way.stages {
                    @let left = at.left().count();
                    @let here = at.stage == way.stage && !way.home;
                    li.here[here] {
                        a href=(format!("/job/{}/way?stage={}{}", job.id, at.stage.word(), evening(job, "&")))
                            aria-current=[(at.stage == looked_at).then_some("page")] {
                            (stages::stage(locale, at.stage))
                            @if here { span.visually-hidden { " " (say!(locale, "way-here")) } }
                            small { @if left > 0 { (say!(locale, "way-left", count = left)) } @else if !at.points.is_empty() { (say!(locale, "way-none-left")) } }
                        }
                    }
                }
            }
        }
    }
}

/// What keeps an address at the evening that is looked at.
fn evening(job: &Whole, before: &str) -> String {
    (job.by).map_or_else(String::new, |day| format!("{before}by={day}"))
}

/// On to the next stage, or back to this one; timing the train has a page of its own.
fn forward(job: &Whole, stage: Stage, here: bool) -> Markup {
    let locale = &job.locale;
    let to = |to: Stage, class: &str, says: String| {
        html! {
            form method="post" action=(format!("/job/{}/enter", job.id)) data-whole {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="kind" value="stage";
                input type="hidden" name="to" value=(to.word());
                button class=(class) { (says) }
            }
        }
    };
    let left = job.state.way.at(stage).left().count();
    let times =
        stage == Stage::Together && job.state.struck().is_some_and(|m| m.strike().is_some());
    html! {
        div.forward {
            @if times { a.button.primary[job.state.way.next() == Some(&Item::Timed)] href=(format!("/job/{}", job.id)) { (say!(locale, "way-time")) } }
            @if here {
                @if let Some(next) = job.state.way.onward() {
                    (to(next, if left == 0 { "primary" } else { "" }, say!(locale, "way-on", stage = next.word())))
                }
            } @else {
                (to(stage, "", say!(locale, "way-to-here", stage = stage.word())))
            }
        }
    }
}

/// At the proving, the strike shown running, where the sheet has its levers.
fn running(job: &Whole, stage: Stage) -> Markup {
    let works = job.state.struck().and_then(|movement| movement.works());
    html! {
        @if stage == Stage::Prove && works.is_some() {
            p.forward { a.button href=(format!("/job/{}/strike", job.id)) { (say!(job.locale, "running-link")) } }
        }
    }
}

/// What is to be done at a stage, each with one touch.
fn points(job: &Whole, stage: Stage) -> Markup {
    let locale = &job.locale;
    let at = job.state.way.at(stage);
    html! {
        section.points aria-labelledby="points" {
            h2 #points { (say!(locale, "way-points")) }
            @if at.points.is_empty() { p.quiet { (say!(locale, "way-no-points")) } }
            @for (after_closing, points) in &runs(&at.points) {
                @if *after_closing { h3 { (say!(locale, "do-after-closing")) } }
                ul { @for point in points { li data-done=(if point.done == Done::Open { "no" } else { "yes" }) { (self::point(job, stage, point)) } } }
            }
            @if job.by.is_none() { form.own method="post" action=(format!("/job/{}/own", job.id)) data-whole {
                input type="hidden" name="stage" value=(stage.word());
                label { span { (say!(locale, "way-own")) } input type="text" name="says" maxlength="200"; }
                input type="hidden" name="at" value="points";
                button.plain { (say!(locale, "way-own-add")) }
            } }
        }
    }
}

/// Points in their order, those that are done after each closing up together.
fn runs(points: &[ToDo]) -> Vec<(bool, Vec<&ToDo>)> {
    let mut runs: Vec<(bool, Vec<&ToDo>)> = Vec::new();
    for point in points {
        let after = point.item.after_closing();
        match runs.last_mut() {
            Some((same, run)) if *same == after => run.push(point),
            _ => runs.push((after, vec![point])),
        }
    }
    runs
}

/// What is left open, stage by stage, and one more touch: handing back is asked about once.
fn hand_back_all_the_same(job: &Whole, asked: &Fields) -> Markup {
    let locale = &job.locale;
    html! {
        section.left-open aria-labelledby="left-open" {
            h2 #left-open { (say!(locale, "left-open")) }
            dl {
                @for (stage, left) in job.state.way.open() {
                    dt { (stages::stage(locale, stage)) }
                    @for item in left { dd { (stages::item(locale, item)) } }
                }
            }
            form.forward method="post" action=(format!("/job/{}/enter", job.id)) data-whole {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="stage" value=(Stage::Out.word());
                (along([("kind", "handed-back"), ("sure", "yes")]))
                (along(asked.filled(["to", "says"])))
                button { (say!(locale, "left-open-hand-back")) }
                a.button.primary href=(format!("/job/{}/way", job.id)) { (say!(locale, "left-open-not-yet")) }
            }
        }
    }
}

fn point(job: &Whole, stage: Stage, point: &ToDo) -> Markup {
    let locale = &job.locale;
    let says = stages::item(locale, &point.item);
    let hidden = html! {
        input type="hidden" name="entries" value=(job.entries());
        input type="hidden" name="stage" value=(stage.word());
        input type="hidden" name="at" value="points";
    };
    html! {
        span.mark aria-hidden="true" {}
        span.says { (says) @if job.by.is_some() && point.done != Done::Open { span.visually-hidden { " " (say!(locale, "way-shown")) } } }
        @match point.done {
            _ if job.by.is_some() => {},
            Done::Open if point.item == Item::AsItStood && stage == Stage::In => a.button href=(format!("/job/{}/stood", job.id)) { (say!(locale, "stood-link")) },
            Done::Open if point.item == Item::HandedBack => a.button href=(format!("#{}", entering::HANDED_BACK)) { (say!(locale, "enter-handed-back")) },
            Done::Open => form method="post" action=(format!("/job/{}/enter", job.id)) data-whole {
                (hidden)
                input type="hidden" name="kind" value="check";
                input type="hidden" name="item" value=(point.item.key());
                button aria-label=(say!(locale, "what-of", what = say!(locale, "way-tick"), name = says.clone())) { (say!(locale, "way-tick")) }
            },
            Done::Ticked(n) => form method="post" action=(format!("/job/{}/take-back", job.id)) data-whole {
                (hidden)
                input type="hidden" name="of" value=(n);
                button.plain aria-label=(say!(locale, "what-of", what = say!(locale, "way-untick"), name = says.clone())) { (say!(locale, "way-untick")) }
            },
            Done::Shown => span.quiet { (say!(locale, "way-shown")) },
        }
        @if let (Item::Own(own), None) = (&point.item, job.by) {
            form method="post" action=(format!("/job/{}/own", job.id)) data-whole {
                (hidden)
                input type="hidden" name="drop" value=(own);
                button.plain aria-label=(say!(locale, "what-of", what = say!(locale, "way-own-drop"), name = own.clone())) { (say!(locale, "way-own-drop")) }
            }
        }
    }
}

/// What other rooms computed for a stage; what is not known is said.
fn known_section(job: &Whole, stage: Stage) -> Markup {
    let locale = &job.locale;
    let lines = known_lines(job, stage);
    html! {
        section.known aria-labelledby="known" {
            h2 #known { (say!(locale, "way-known")) }
            ul { @for line in lines { li { (line) } } }
            @for sum in Sum::at(stage) {
                p { a.button href=(format!("/job/{}/{}", job.id, sum.word)) { (sum.name(locale)) } }
            }
            @if matches!(stage, Stage::Prove | Stage::Rate) {
                p { a.button href=(format!("/job/{}/listen", job.id)) { (say!(locale, "listen")) } }
            }
        }
    }
}

/// What can hurt at a stage, and whose rules to follow.
fn mind(job: &Whole, stage: Stage) -> Markup {
    let locale = &job.locale;
    let dangers = way::dangers(stage, job.state.movement(), job.state.driven);
    html! {
        @if !dangers.is_empty() {
            section.mind aria-labelledby="mind" {
                h2 #mind { (say!(locale, "cautions")) }
                ul { @for danger in dangers { li { (stages::danger(locale, danger)) } } }
                p { (stages::danger_local(locale)) }
            }
        }
    }
}

/// All that was entered, each with what can be done about it.
fn log(job: &Whole) -> Markup {
    let locale = &job.locale;
    let log = &job.state.log;
    let counts: BTreeSet<usize> = log.standing().map(|entry| entry.n).collect();
    let mended = put_right(log);
    html! {
        section.log aria-label=(say!(locale, "log")) {
            h2 { (say!(locale, "log")) }
            @if log.entries().is_empty() { p.quiet { (say!(locale, "log-empty")) } }
            ol {
                @for (entry, told) in log.entries().iter().zip(job.entry_texts()) {
                    @if !matches!(entry.told, EntryContent::Known(EntryKind::Undo { .. })) {
                        @let stands = counts.contains(&entry.n);
                        li.back[!stands] id=(format!("entry-{}", entry.n)) value=(entry.n) {
                            @if let Some(at) = &entry.at { time { (at) } " " }
                            @if stands { (told) } @else {
                                s { (told) } " "
                                @if mended.contains(&entry.n) { (say!(locale, "log-mended")) } @else { (say!(locale, "log-taken-back")) }
                            }
                            @if let Some(digest) = entry.work().and_then(Work::picture) {
                                a.thumb href=(format!("/picture/{}", digest.text())) {
                                    img src=(format!("/picture/{}/small", digest.text())) alt=(say!(locale, "record-picture-of", n = entry.n)) loading="lazy";
                                }
                            }
                            @if job.by.is_none() && stands && entry.work().is_some() && !entering::lasting(entry) {
                                span.acts {
                                    form method="post" action=(format!("/job/{}/take-back", job.id)) data-whole {
                                        input type="hidden" name="entries" value=(job.entries());
                                        input type="hidden" name="of" value=(entry.n);
                                        button.plain aria-label=(say!(locale, "way-number", what = say!(locale, "way-take-back"), n = entry.n)) { (say!(locale, "way-take-back")) }
                                    }
                                    @if Form::of(entry.work()).is_some() {
                                        a.button.plain href=(format!("/job/{}/way?right={}#right", job.id, entry.n))
                                            aria-label=(say!(locale, "way-number", what = say!(locale, "way-put-right"), n = entry.n)) { (say!(locale, "way-put-right")) }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}

/// The records, the job on another day, and what a person may have removed.
fn papers(job: &Whole) -> Markup {
    let locale = &job.locale;
    html! {
        section.papers {
            h2 { (say!(locale, "way-papers")) }
            p {
                a.button href=(format!("/job/{}/record{}", job.id, evening(job, "?"))) { (say!(locale, "record-owner")) }
                " "
                a.button href=(format!("/job/{}/record/whole{}", job.id, evening(job, "?"))) { (say!(locale, "record-repairer")) }
            }
            form.row method="get" action=(format!("/job/{}/way", job.id)) {
                label { span { (say!(locale, "way-by")) } input type="date" name="by" value=[job.by.map(|day| day.to_string())] required; }
                button.plain { (say!(locale, "way-by-show")) }
            }
            @if job.by.is_none() && !job.state.log.personal().is_empty() {
                p.removal { a.button.plain href=(format!("/job/{}/remove", job.id)) { (say!(locale, "way-remove")) } }
            }
        }
    }
}
