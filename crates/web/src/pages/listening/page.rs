//! The page of listening: the sentence first, then what to do, the plot, the arbor that is to be looked at, the sound, the hours; and
//! under all that what may be listened to next.

use super::said::{FIELDS, KNOWN};
use crate::desk::{Refused, Whole};
use crate::fields::{Question, inputs};
use crate::form::{Fields, along, written};
use crate::frame::{frame, list, mind};
use crate::recordings::{MOST_BYTES, Recording};
use entries::Stage;
use maud::{Markup, PreEscaped, html};
use movement::Movement;
use report::{Locale, listen as said, say, stages};
use std::sync::Arc;
use tasks::listening::{Due, ExpectedClock, Findings, heard_pace};

/// What was heard in a recording, beside what was expected of it.
pub(super) struct Heard {
    /// The entry by which it was noted, where the page follows on that.
    pub(super) noted: Option<usize>,
    pub(super) recording: Arc<Recording>,
    pub(super) found: Findings,
    pub(super) expected: ExpectedClock,
}

/// The page.
pub(super) fn listening(
    job: &Whole,
    asked: &Fields,
    heard: Option<&Heard>,
    why: Option<&Refused>,
) -> Markup {
    let locale = &job.locale;
    // It is listened to where it is proved, and where it is brought to time.
    let stage = match job.state.way.stage {
        Stage::Prove => Stage::Prove,
        _ => Stage::Rate,
    };
    let back = format!("/job/{}/way?stage={}", job.id, stage.word());
    let question = Question {
        job,
        fields: asked,
        foreign: false,
    };
    let dangers = tasks::dangers_of_listening(job.state.movement());
    let main = html! {
        main #main.sum.listening data-job=(job.id) {
            p.back { a.button.plain href=(back) { (say!(locale, "sum-back", stage = stage.word())) } }
            h1 #sentence tabindex="-1" {
                @match heard { Some(heard) => (said::answer(locale, &heard.found)), None => (say!(locale, "listen")) }
            }
            @if let Some(why) = why { p.refused role="alert" { (why.say(locale)) } }
            @if let Some(heard) = heard { (answered(&question, heard)) }
            @else { (mind(locale, &dangers, "mind-first")) }
            (listen(&question, heard))
            @if heard.is_some() { (mind(locale, &dangers, "mind")) }
            script src="/script/listening.js" type="module" {}
        }
    };
    frame(
        locale,
        &job.name,
        Some(&stages::stage(locale, stage)),
        &main,
    )
}

/// All that was heard.
fn answered(asked: &Question<'_>, heard: &Heard) -> Markup {
    let locale = asked.locale();
    let voice = asked.voice();
    let found = &heard.found;
    let to_do = said::to_do(&voice, found);
    let plot = report::listen::plot(locale, found, &heard.expected);
    let told = [
        said::bounds(locale, found).into_iter().collect(),
        said::beats(&voice, found),
        said::rest(locale, found, heard.recording.hearing.ended),
    ]
    .concat();
    html! {
        @if !to_do.is_empty() {
            section.to-do aria-labelledby="to-do" { h2 #to-do { (say!(locale, "listen-to-do")) } (list(&to_do)) }
        }
        (note(asked, heard))
        div.part {
            @if let Some(plot) = plot {
                figure.plotted {
                    div role="img" aria-label=(say!(locale, "listen-plot", answer = said::answer(locale, found))) { (PreEscaped(plot.svg())) }
                    figcaption.quiet { (say!(locale, "listen-plot-about")) }
                }
            }
            @if !told.is_empty() { div.lines { (list(&told)) } }
        }
        (guilty(asked, found))
        (struck(asked, found))
        (pace(asked, heard))
        (sound(asked, heard))
    }
}

/// The movement, with what comes round at the arbors it may come from.
fn guilty(asked: &Question<'_>, found: &Findings) -> Markup {
    let locale = asked.locale();
    let movement = asked.job.state.movement();
    let marked = movement.and_then(|m| report::listen::marked(locale, m, found));
    let says = (found.comes_round.first()).map(|round| said::guilty(locale, round));
    html! {
        @if let (Some(drawing), Some(says)) = (marked, says) {
            section.guilty aria-labelledby="guilty" {
                h2 #guilty { (say!(locale, "listen-guilty")) }
                figure.lies { div.lies-hold role="img" aria-label=(says) { (PreEscaped(drawing.svg())) } figcaption { (says) } }
            }
        }
    }
}

/// The sound from beginning to end; played where it was kept.
fn sound(asked: &Question<'_>, heard: &Heard) -> Markup {
    let locale = asked.locale();
    let recording = &heard.recording;
    let strip = report::listen::sound(&recording.hearing);
    let seconds = recording.hearing.heard.seconds;
    let source = format!("/job/{}/listen/sound/{}", recording.job, recording.id);
    let says = said::strip(locale, &heard.found);
    html! {
        section.sounded aria-labelledby="sounded" {
            h2 #sounded { (say!(locale, "listen-sound")) }
            p.quiet { (say!(locale, "listen-sound-about")) }
            div #strip role="img" aria-label=(says) data-seconds=(written(seconds, 2)) data-name=(say!(locale, "listen-place"))
                data-place=(say!(locale, "listen-place-at", at = "{at}", all = said::clock(seconds))) { (PreEscaped(strip.svg())) }
            @if let Some(sound) = &recording.sound {
                audio #played controls preload="metadata" aria-label=(say!(locale, "listen-sound")) { source src=(source) type=(sound.kind); }
                p.quiet.touched { (say!(locale, "listen-play-about")) }
            } @else {
                p.quiet { (say!(locale, "listen-not-kept")) }
            }
        }
    }
}

/// The hours as they were struck, each beside what was due; what is wrong is told in words, and by the shape of its marks.
fn struck(asked: &Question<'_>, found: &Findings) -> Markup {
    let (locale, job) = (asked.locale(), asked.job);
    let strikes = &found.heard.strikes;
    let wrong = (found.due.iter().flatten()).any(|due| due.wrong(strikes).is_some());
    let works = job.state.movement().is_some_and(|m| m.works().is_some());
    let lines = said::strikes(locale, found, found.due.is_none());
    let more = [said::falls(locale, found), said::chimes(locale, found)].concat();
    html! {
        @if !lines.is_empty() || !more.is_empty() {
            section.struck aria-labelledby="struck" {
                h2 #struck { (say!(locale, "listen-hours")) }
                @match &found.due {
                    Some(due) => {
                        p.quiet { (say!(locale, "listen-hours-about")) }
                        ol.as-struck { @for due in due { (hour(locale, due, found, &lines)) } }
                    }
                    None => (list(&lines)),
                }
                @if !more.is_empty() { (list(&more)) }
                @if wrong && works { p.forward { a.button href=(format!("/job/{}/strike", job.id)) { (say!(locale, "listen-what-strikes-so")) } } }
            }
        }
    }
}

/// How fast it struck, to be put on the sheet of a train with levers: how much time a lever has to fall follows from it.
fn pace(asked: &Question<'_>, heard: &Heard) -> Markup {
    let (locale, job) = (asked.locale(), asked.job);
    let strike = job.state.movement().filter(|m| m.works().is_some());
    let strike = strike.and_then(Movement::strike);
    let pace = heard_pace(&heard.found.heard);
    html! {
        @if let (Some(strike), Some(pace)) = (strike, pace) {
            section.paced aria-labelledby="paced" {
                h2 #paced { (say!(locale, "listen-pace")) }
                p { (said::pace_heard(locale, &pace)) }
                @if let Some(stands) = &strike.pace { p.quiet { (said::pace_stands(locale, stands)) } }
                form method="post" action=(format!("/job/{}/listen/pace", job.id)) data-whole {
                    input type="hidden" name="entries" value=(job.entries());
                    input type="hidden" name="sound" value=(heard.recording.id);
                    (along(asked.fields.filled(FIELDS)))
                    button { (say!(locale, "listen-pace-put")) }
                }
            }
        }
    }
}

fn hour(locale: &Locale, due: &Due, found: &Findings, lines: &[String]) -> Markup {
    let strikes = &found.heard.strikes;
    let wrong = due.wrong(strikes).is_some();
    let counts: Vec<usize> = (due.heard.iter())
        .map(|&k| strikes[k].blow_times_s.len())
        .collect();
    let heard = due.heard.iter().filter_map(|&k| lines.get(k));
    html! {
        li data-state=(if wrong { "wrong" } else { "right" }) {
            b { (said::due_name(locale, due)) }
            span.blows {
                @if counts.is_empty() { (blows(0, due.blows)) }
                @for count in counts { (blows(count, due.blows)) }
            }
            span {
                @if wrong { strong { (said::wrong_line(locale, due, found)) " " } }
                @for line in heard { span.quiet { (line) } " " }
            }
        }
    }
}

/// A mark for each blow: filled where it was heard, open where it was due and was not, standing apart where it was too many.
fn blows(heard: usize, due: usize) -> Markup {
    const PITCH: usize = 9;
    let all = heard.max(due);
    let wide = PITCH * all + if heard > due { 6 } else { 2 };
    html! {
        svg aria-hidden="true" viewBox=(format!("0 0 {wide} 14")) width=(wide) height="14" {
            @for k in 0..all {
                @let x = PITCH * k + 1 + if k >= due { 4 } else { 0 };
                path class=(if k >= heard { "open" } else if k >= due { "over" } else { "heard" }) d=(format!("M{x} 1h7l-3.5 12z")) {}
            }
        }
    }
}

/// One touch, and it stands in the log; or that it does.
fn note(asked: &Question<'_>, heard: &Heard) -> Markup {
    let (locale, job) = (asked.locale(), asked.job);
    let standing = |n: &usize| job.state.log.standing().any(|entry| entry.n == *n);
    let stands = heard.noted.filter(standing);
    html! {
        @if let Some(n) = stands {
            div.noted {
                p { (say!(locale, "listen-noted-as", n = n)) }
                form method="post" action=(format!("/job/{}/take-back", job.id)) data-whole {
                    input type="hidden" name="entries" value=(job.entries());
                    input type="hidden" name="of" value=(n);
                    input type="hidden" name="stage" value=(Stage::Rate.word());
                    button.plain { (say!(locale, "way-take-back")) }
                }
            }
        } @else if tasks::listening::entry(&heard.found, None).is_some() {
            form.noting method="post" action=(format!("/job/{}/listen/note", job.id)) data-whole {
                input type="hidden" name="entries" value=(job.entries());
                input type="hidden" name="sound" value=(heard.recording.id);
                (along(asked.fields.filled(FIELDS)))
                button.primary { (say!(locale, "listen-note")) }
            }
        }
    }
}

/// What may be listened to: the microphone by the script, a file without it too; and what is known beside it.
fn listen(asked: &Question<'_>, heard: Option<&Heard>) -> Markup {
    let (locale, job) = (asked.locale(), asked.job);
    let action = format!("/job/{}/listen", job.id);
    let chosen = say!(locale, "listen-chosen");
    let open = asked.fields.filled(FIELDS).next().is_some();
    // What is known of the clock and the recorder, whichever recording it is.
    let lasting = FIELDS.into_iter().filter(|name| *name != "left-at");
    let known = html! {
        details open[open] {
            summary { (say!(locale, "listen-known")) }
            div.row { (inputs(asked, &KNOWN)) }
            p.quiet { (say!(locale, "listen-known-about")) }
            @if heard.is_some() { button { (say!(locale, "sum-ask")) } }
        }
    };
    html! {
        @if let Some(heard) = heard {
            section.ask {
                form method="get" action=(action) {
                    input type="hidden" name="sound" value=(heard.recording.id);
                    (known)
                }
            }
        }
        section.ask.ears aria-labelledby="ask" {
            h2 #ask { @if heard.is_some() { (say!(locale, "listen-again")) } @else { (say!(locale, "listen-how")) } }
            (microphone(locale, &action, heard.is_none()))
            form #recording method="post" action=(action) enctype="multipart/form-data" data-whole data-most=(MOST_BYTES)
                data-long=(Refused::TooLong.say(locale)) data-stopped=(say!(locale, "listen-stopped")) data-silent=(say!(locale, "silent"))
                data-far=(say!(locale, "listen-far", part = "{part}")) {
                label.file { span { (chosen) } input type="file" name="recording" accept="audio/*,.wav,.flac,.mp3,.ogg,.oga" required; }
                @if heard.is_none() { (known) } @else { (along(asked.fields.filled(lasting))) }
                button { (say!(locale, "listen-do")) }
                div #sending hidden {
                    progress max="1" value="0" aria-label=(say!(locale, "listen-sending")) {}
                    p role="status" {}
                    button #stop-sending type="button" { (say!(locale, "listen-stop")) }
                }
            }
            p.quiet { (say!(locale, "listen-forms")) }
        }
    }
}

/// The microphone, hidden where there is no script. What may become of it is said by the script in these words.
fn microphone(locale: &Locale, action: &str, fresh: bool) -> Markup {
    html! {
        div #microphone data-begin=(format!("{action}/live"))
            data-refused=(say!(locale, "microphone-refused")) data-absent=(say!(locale, "microphone-absent"))
            data-failed=(say!(locale, "microphone-failed")) data-gone=(say!(locale, "silent")) {
            button #listen-now.primary[fresh] type="button" { (say!(locale, "listen-now")) }
            p.quiet { (say!(locale, "listen-now-about")) }
            div #hearing hidden {
                p.so-far #so-far aria-live="polite" { (say!(locale, "listen-hearing")) }
                p #so-long.quiet {}
                div.touches {
                    button #left-end type="button" data-marked=(say!(locale, "listen-marked", at = "{at}")) { (say!(locale, "listen-left")) }
                    button #stop-now.primary type="button" { (say!(locale, "listen-end")) }
                }
                p.quiet #marked {}
                p.quiet { (say!(locale, "listen-left-about")) }
            }
        }
    }
}
