//! The answer: one sentence, what to hold, what will be seen after, and one touch for what happened.

use super::step::Step;
use crate::desk::Job;
use crate::frame::runs;
use crate::pages::closeup::{self, marks, state};
use crate::plate::Plate;
use entries::{EntryContent, EntryKind};
use maud::{Markup, html};
use movement::{MeshId, Movement, Turning, WitnessId};
use quantity::Degrees;
use report::page::cautions;
use report::page::{self, Of, named};
use report::{say, turn_seen};
use tasks::ShiftDanger;
use timing::{Act, ShiftWay};

/// Whether the sheet names nothing by which it shows that its train is in time.
fn shows_nothing(movement: &Movement) -> bool {
    movement.witnesses().len() == 0 && movement.unjudged().is_empty()
}

/// The sentence of a step; where several shifts are advised, each beside its own glass.
pub(crate) fn sentence(job: &Job, step: Step, plate: &Plate) -> Markup {
    let (locale, noted) = (&job.locale, &job.timing);
    match step {
        Step::Look if shows_nothing(job.movement()) => {
            html! { (say!(locale, "question-locks")) }
        }
        Step::Look => {
            html! { (page::question(locale, job.movement(), &noted.recalled, noted.shifted_last())) }
        }
        Step::Jumped => html! { (say!(locale, "which")) },
        Step::Home => html! { (say!(locale, "timing-home")) },
        Step::Answer if job.advised().len() > 1 => {
            let each = page::shift_sentences(locale, job.movement(), job.advised(), job.view.plate);
            let glasses = plate.arrow_glasses();
            html! {
                @for (i, sentence) in each.into_iter().enumerate() {
                    span.nth {
                        @if let Some(glass) = glasses.get(i) { (glass) }
                        span { (runs(sentence)) " " }
                    }
                }
            }
        }
        Step::Answer => runs(page::answer(
            locale,
            job.movement(),
            &noted.recalled,
            &noted.advice,
            job.view.plate,
        )),
    }
}

/// What stands beneath the sentence, a line each.
pub(crate) fn beneath(job: &Job, step: Step) -> Vec<String> {
    let (locale, noted) = (&job.locale, &job.timing);
    let movement = job.movement();
    let mut lines = Vec::new();
    match step {
        Step::Look => {
            let expected: Vec<(WitnessId, Degrees)> = movement
                .witnesses()
                .filter_map(|(id, _)| Some((id, job.expected(id)?)))
                .collect();
            if noted.shifted_last() {
                let told = noted.told_last();
                lines.extend(page::expected(locale, movement, &expected, told));
            }
        }
        Step::Answer => {
            let several = job.advised().len() > 1;
            for (shift, n) in job.advised().iter().zip(1..) {
                let hold = page::hold(locale, movement, shift).join(" ");
                lines.push(match several {
                    true => format!("{} {hold}", say!(locale, "nth", n = n)),
                    false => hold,
                });
            }
            for turn in job.timing.turns() {
                lines.push(page::turn_beneath(locale, movement, turn).join(" "));
            }
            if !job.advised().is_empty() || !job.timing.turns().is_empty() {
                let after = after(job);
                lines.push(page::after(locale, movement, &after, noted.advice.after));
            }
            lines.extend(page::findings(
                locale,
                movement,
                &noted.recalled,
                &noted.advice.act,
            ));
            lines.extend(page::as_usual(locale, movement, &noted.advice.lacks.usual));
            lines.extend(page::stood_right(locale, movement, &noted.stood));
            if matches!(noted.advice.act, Act::Done | Act::Prove) {
                lines.extend(page::hands_to_be_set(
                    locale,
                    movement,
                    turned_on_arbors(job),
                ));
            }
            if !matches!(
                noted.advice.act,
                Act::Done | Act::Prove | Act::Shift(_) | Act::Turn(_)
            ) {
                let (recalled, chance) = (&noted.recalled, noted.advice.in_window);
                lines.push(page::in_window_now(locale, recalled, chance));
            }
        }
        Step::Home => lines.push(say!(locale, "timing-home-again")),
        Step::Jumped => {}
    }
    lines
}

/// What was read of parts that were turned on their arbors, as the log has it.
fn turned_on_arbors(job: &Job) -> impl Iterator<Item = WitnessId> {
    let log = job.timing.log.of_this_sheet();
    log.filter_map(|entry| match &entry.told {
        EntryContent::Known(EntryKind::Turned(moved)) => {
            job.movement().find_witness(&moved.witness)
        }
        _ => None,
    })
}

/// What may be good to know of a shift, but is not what to do.
pub(crate) fn also(job: &Job, step: Step) -> Markup {
    let locale = &job.locale;
    let movement = job.movement();
    let shifts = if step == Step::Answer {
        job.advised()
    } else {
        &[]
    };
    let mut lines = Vec::new();
    for shift in shifts {
        lines.extend(page::loose(locale, movement, shift));
        lines.extend(page::other_hand(locale, movement, shift, job.view.plate));
    }
    html! {
        @if !lines.is_empty() { section.also { @for line in lines { p { (line) } } } }
    }
}

/// Where what was read stands after what is advised, of those that it moves.
fn after(job: &Job) -> Vec<(WitnessId, Degrees)> {
    let readings = &job.timing.recalled.last_look;
    match job.timing.turns() {
        [] => tasks::stands_after(job.movement(), readings, job.advised()),
        turns => tasks::stands_after_turns(job.movement(), readings, turns),
    }
}

/// Witnesses as they were seen, small, each with what will be seen after.
pub(crate) fn seen(job: &Job) -> Markup {
    let locale = &job.locale;
    let movement = job.movement();
    let after = after(job);
    html! {
        section.seen aria-label=(say!(locale, "seen")) {
            @for reading in &job.timing.recalled.last_look {
                @let id = reading.witness;
                @let look = page::look_of(movement, id, &reading.stands);
                @let ghost = after.iter().find(|(w, place)| *w == id && *place != reading.stands).map(|(_, place)| place);
                figure data-state=(state(Some(look.inside()))) {
                    (closeup::seen(job, id, ghost))
                    figcaption {
                        b { (page::witness_named(locale, movement, id)) }
                        span.looks { (marks()) span { (look.say(locale)) } }
                    }
                }
            }
        }
    }
}

/// That more was entered since, and the way there: shown by the script on a page to which somebody went back.
fn earlier(job: &Job) -> Markup {
    let locale = &job.locale;
    html! {
        div #earlier.earlier role="note" hidden {
            p { (say!(locale, "earlier")) }
            a.button href=(format!("/job/{}", job.id)) { (say!(locale, "earlier-now")) }
        }
    }
}

/// The section with the sentence and what can be touched.
pub(crate) fn section(job: &Job, step: Step, plate: &Plate, at_rest: bool) -> Markup {
    // Of several, each stands beside its own sentence.
    let glass = match job.advised() {
        [_] if step == Step::Answer => plate.arrow_glasses().pop(),
        _ => None,
    };
    html! {
        section #say.say aria-labelledby="sentence" {
            (earlier(job))
            div.told {
                @if let Some(glass) = glass { (glass) }
                (turned_arrow(job, step))
                h1 #sentence tabindex="-1" {
                    @if at_rest { (say!(&job.locale, "question-at-rest")) } @else { (sentence(job, step, plate)) }
                }
            }
            @if step == Step::Jumped { (which(job)) }
            @let lines = beneath(job, step);
            @if !lines.is_empty() { div #beneath.beneath { @for line in lines { p { (line) } } } }
            (touches(job, step))
        }
    }
}

/// The shifts that this page advises: what was done as said was done as said here, whatever would be advised by the time it is told.
fn advised(job: &Job) -> Markup {
    let written = (job.advised().iter())
        .map(|s| format!("{}={}", job.movement().mesh_name(s.mesh), s.signed()));
    html! { @for shift in written { input type="hidden" name="shift" value=(shift); } }
}

/// Which way round a part is turned, drawn: both ways where they come to the same. The sentence beside it says it in words.
fn turned_arrow(job: &Job, step: Step) -> Markup {
    let [turn] = job.timing.turns() else {
        return html! {};
    };
    if step != Step::Answer {
        return html! {};
    }
    let way = turn_seen(job.movement(), turn, job.view.plate);
    let (clockwise, back) = (
        way != Some(Turning::Counterclockwise),
        way != Some(Turning::Clockwise),
    );
    html! {
        svg.turned-arrow viewBox="0 0 48 48" width="72" height="72" aria-hidden="true"
            fill="none" stroke="currentColor" stroke-width="3" stroke-linejoin="round" {
            circle cx="24" cy="24" r="4" fill="currentColor" {}
            @if clockwise { path d="M8 24A16 16 0 0 1 24 8M19 3l6 5-6 5" {} }
            @if back { path d="M40 24A16 16 0 0 0 24 8M29 3l-6 5 6 5" {} }
        }
    }
}

/// What happened where parts are to be turned: as was said, or the other way.
fn touches_of_turns(job: &Job) -> Markup {
    let locale = &job.locale;
    let turns = job.timing.turns();
    let fields: Vec<String> = (turns.iter())
        .flat_map(|turn| tasks::turned_by(job.movement(), turn, false))
        .map(|moved| {
            let spread = moved
                .spread
                .map_or_else(String::new, |s| format!("~{}", s.text()));
            format!("{}={}{spread}", moved.witness, moved.deg.text())
        })
        .collect();
    let touch = |what: &str, class: &str, says: &str| {
        html! {
            form method="post" action=(format!("/job/{}/{what}", job.id)) {
                input type="hidden" name="entries" value=(job.entries());
                @for turn in &fields { input type="hidden" name="moved" value=(turn); }
                button class=(class) data-next[class == "primary"] { (says) }
            }
        }
    };
    let alike = turns.iter().all(|turn| turn.way == ShiftWay::Either);
    html! {
        (touch("turned", "primary", &say!(locale, "done")))
        @if !alike { (touch("turned-other-way", "", &say!(locale, "other-way"))) }
    }
}

/// A form of one button that enters something into the log.
fn touch(job: &Job, what: &str, class: &str, says: &str) -> Markup {
    html! {
        form method="post" action=(format!("/job/{}/{what}", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            @if what != "undo" && !job.timing.recalled.last_look.is_empty() { (advised(job)) }
            button class=(class) data-next[class == "primary"] { (says) }
        }
    }
}

/// The same, about one of several shifts.
fn touch_one(job: &Job, what: &str, mesh: MeshId, nth: usize, of: Of) -> Markup {
    html! {
        form method="post" action=(format!("/job/{}/{what}", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            input type="hidden" name="which" value=(nth);
            @if !job.timing.recalled.last_look.is_empty() { (advised(job)) }
            button { (page::of_several(&job.locale, job.movement(), mesh, nth, of)) }
        }
    }
}

/// What happened, where several shifts are advised: all done, only one of them, one of them the other way.
fn touches_of_several(job: &Job) -> Markup {
    let locale = &job.locale;
    let each = || job.advised().iter().map(|shift| shift.mesh).zip(1..);
    let all = say!(locale, "done-all", count = job.advised().len());
    html! {
        (touch(job, "done", "primary", &all))
        @for (mesh, nth) in each() { (touch_one(job, "done", mesh, nth, Of::Only)) }
        @for (mesh, nth) in each().filter(|(_, nth)| !is_either(&job.advised()[nth - 1])) {
            (touch_one(job, "other-way", mesh, nth, Of::OtherWay))
        }
    }
}

/// Whether one way round is as good as the other.
fn is_either(shift: &timing::Shift) -> bool {
    shift.way == ShiftWay::Either
}

/// That the last shift went the other way; of several since the last look, each of which that was not yet said.
fn other_way(job: &Job) -> Markup {
    let round = &job.timing.recalled.round;
    html! {
        @if round.len() > 1 {
            @for (shifted, nth) in round.iter().zip(1..) {
                @if !shifted.other_way { (touch_one(job, "other-way", shifted.mesh, nth, Of::OtherWay)) }
            }
        } @else {
            (touch(job, "other-way", "", &say!(job.locale, "other-way")))
        }
    }
}

fn touches(job: &Job, step: Step) -> Markup {
    let locale = &job.locale;
    let shifted = !job.advised().is_empty();
    let looked = !job.timing.recalled.last_look.is_empty();
    let here = format!("/job/{}", job.id);
    html! {
        div.touches {
            @match step {
                Step::Look => {
                    @if !job.timing.recalled.readable.is_empty() {
                        button.primary form="reading" data-next { (say!(locale, "ask")) }
                    }
                    @if shows_nothing(job.movement()) {
                        a.button.primary data-next href=(format!("{here}/way?stage=in#sheet")) { (say!(locale, "to-sheet")) }
                    }
                    @if job.timing.shifted_last() { (other_way(job)) }
                    @if looked { a.button href=(here) { (say!(locale, "seen")) } }
                }
                Step::Answer if job.advised().len() > 1 => (touches_of_several(job)),
                Step::Answer if shifted => {
                    (touch(job, "done", "primary", &say!(locale, "done")))
                    @if !job.advised().iter().all(is_either) { (touch(job, "other-way", "", &say!(locale, "other-way"))) }
                }
                Step::Answer if !job.timing.turns().is_empty() => (touches_of_turns(job)),
                Step::Answer => (answered(job, &here)),
                Step::Jumped => a.button href=(here) { (say!(locale, "which-none")) },
                Step::Home => a.button.primary href=(format!("{here}/way")) { (say!(locale, "whole-job")) },
            }
            @if !matches!(step, Step::Jumped | Step::Home) {
                a.button href=(format!("{here}?jumped")) { (say!(locale, "jumped")) }
                @if step == Step::Answer && (shifted || !job.timing.turns().is_empty()) { a.button href=(format!("{here}?look")) { (say!(locale, "look-again")) } }
                @if job.timing.can_undo() { (touch(job, "undo", "", &say!(locale, "undo"))) }
            }
        }
    }
}

/// What is touched where no shift is advised: the first is what the answer says.
fn answered(job: &Job, here: &str) -> Markup {
    let locale = &job.locale;
    let movement = job.movement();
    let close_up = |says: String| {
        html! {
            form method="post" action=(format!("{here}/enter")) data-whole {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="kind" value="stage";
                input type="hidden" name="to" value="prove";
                button.primary data-next { (says) }
            }
        }
    };
    let first = match &job.timing.advice.act {
        Act::Done if !job.movement().comes_out() => None,
        Act::Done => Some(close_up(say!(locale, "prove-on"))),
        Act::Prove => Some(close_up(say!(locale, "prove-finger-tight"))),
        Act::PutIn(arbors) => arbors.first().map(|arbor| {
            let id = &movement.arbor(*arbor).id;
            html! {
                form method="post" action=(format!("{here}/in")) {
                    input type="hidden" name="entries" value=(job.entries());
                    button.primary name="arbor" value=(id) data-next { (say!(locale, "arbor-is-in", arbor = named(id))) }
                }
            }
        }),
        Act::Part(suspects) => Some(set_right(job, here, suspects)),
        Act::Look(_) | Act::Shift(_) | Act::Turn(_) | Act::NoMesh => None,
    };
    let class = if first.is_some() {
        "button"
    } else {
        "button primary"
    };
    html! {
        @if let Some(first) = &first { (first) }
        a class=(class) data-next[first.is_none()] href=(format!("{here}?look")) { (say!(locale, "look-again")) }
    }
}

/// A lever or a part that was off was set right, by eye: which.
fn set_right(job: &Job, here: &str, suspects: &[WitnessId]) -> Markup {
    let locale = &job.locale;
    html! {
        form.row method="post" action=(format!("{here}/set-right")) {
            input type="hidden" name="entries" value=(job.entries());
            label {
                span { (say!(locale, "part-at")) }
                select name="witness" {
                    @for (id, witness) in job.movement().witnesses() {
                        option value=(witness.id) selected[suspects.first() == Some(&id)] { (named(&witness.id)) }
                    }
                }
            }
            button.primary data-next { (say!(locale, "part-set-right")) }
        }
    }
}

/// Which arbor jumped out: one touch, on the drawing or here.
fn which(job: &Job) -> Markup {
    let locale = &job.locale;
    html! {
        form #which.which method="post" action=(format!("/job/{}/jumped", job.id)) {
            input type="hidden" name="entries" value=(job.entries());
            (advised(job))
            @if !job.advised().is_empty() {
                label.check { input type="checkbox" name="done" value="done"; span { (say!(locale, "which-done")) } }
            }
            div.arbors {
                @for (_, arbor) in job.movement().arbors() {
                    button name="arbor" value=(arbor.id) { (named(&arbor.id)) }
                }
            }
        }
    }
}

/// What to mind now, each the first time it arises; everything on request.
pub(crate) fn cautions(job: &Job, step: Step) -> Markup {
    let locale = &job.locale;
    let now = match step {
        Step::Look => job.timing.dangers_of_looking(),
        Step::Jumped | Step::Home => job.timing.dangers_meanwhile(),
        Step::Answer => job.timing.dangers_of_doing(),
    };
    html! {
        @if !now.is_empty() {
            details.mind open {
                summary {
                    b { (say!(locale, "cautions-now")) }
                    span.read-before { " " (say!(locale, "cautions-read", count = now.len())) }
                }
                ul { @for danger in &now { li { (cautions::danger(locale, danger)) } } }
                p { (say!(locale, "caution-local")) }
            }
        }
    }
}

/// All that can be minded.
pub(crate) fn all_cautions(job: &Job) -> Markup {
    let locale = &job.locale;
    html! {
        details.all-cautions {
            summary { (say!(locale, "cautions")) }
            ul {
                @for danger in &ShiftDanger::all_in_timing(job.movement()) { li { (cautions::danger(locale, danger)) } }
            }
            p { (say!(locale, "caution-local")) }
        }
    }
}
