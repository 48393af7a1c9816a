//! A lesson in the browser: what the answer says of the places under the glasses puts it right in one opening, the wrong way
//! is counted, and what was hidden is in no page before it is asked for.

use crate::browser::{SIZES, at_step, goto, resize, shot, touch, until, value, with_browser};
use crate::served::{Served, serve};
use book::Book;
use entries::{AtMesh, Log, Work};
use movement::{Movement, Plate, Turning};
use thirtyfour::prelude::*;
use timing::{Cure, Hands, SaidReading, ShiftWay, answer, read};

/// What a pupil does with one wheel.
pub(crate) struct Turn {
    pub(crate) mesh: String,
    pub(crate) teeth: i64,
    /// As it is seen from the front.
    front: Turning,
    /// Whether the other way comes to the same places.
    either: bool,
}

impl Turn {
    /// The word of the form for it, as seen from a plate; the wrong one on purpose.
    pub(crate) fn way(&self, from: Plate, wrong: bool) -> &'static str {
        let flips = (from == Plate::Back) != wrong;
        let seen = if flips {
            self.front.reversed()
        } else {
            self.front
        };
        match seen {
            Turning::Clockwise => "clockwise",
            Turning::Counterclockwise => "counterclockwise",
        }
    }
}

fn kept(served: &Served, id: &str) -> (Movement, Log, Vec<AtMesh>) {
    let book = Book::open(&served.book()).expect("it opens");
    let job = book.job(id.parse().expect("a number")).expect("a job");
    let movement = tasks::check(job.sheet.as_bytes()).expect("good").movement;
    let (log, _) = Log::read(job.log.as_bytes()).expect("a log");
    let hidden = log.standing().find_map(|entry| match entry.work() {
        Some(Work::Lesson { hidden }) => Some(hidden.clone()),
        _ => None,
    });
    (movement, log, hidden.expect("a lesson"))
}

/// What the answer says of the places where the witnesses truly stand.
pub(crate) fn told(served: &Served, id: &str) -> Vec<Turn> {
    let (movement, log, hidden) = kept(served, id);
    let stands = tasks::lesson(&movement, &hidden, log.standing()).stands;
    let readings: Vec<_> = (stands.iter())
        .map(|(id, place)| {
            read(&movement, *id, &SaidReading::Degrees(place.clone(), None)).expect("read")
        })
        .collect();
    let Cure::Shift(shifts) = answer(&movement, &readings, Hands::default()).cure else {
        panic!("it can be put right")
    };
    (shifts.iter())
        .map(|shift| {
            let far = movement.far_arbor(shift.mesh).expect("a far side");
            let runs = movement.runs(far, Plate::Front);
            let back = shift.signed() < 0;
            Turn {
                mesh: movement.mesh_name(shift.mesh),
                teeth: shift.teeth,
                front: if back { runs.reversed() } else { runs },
                either: shift.way == ShiftWay::Either,
            }
        })
        .collect()
}

/// What was hidden, as the page would say it; from both plates.
fn secrets(served: &Served, id: &str) -> Vec<String> {
    let (movement, _, hidden) = kept(served, id);
    let locale = report::Locale::default();
    (hidden.iter())
        .flat_map(|at| {
            let mesh = movement.find_mesh(&at.mesh).expect("a mesh");
            [Plate::Front, Plate::Back].map(|plate| {
                report::page::history::shift_short(&locale, &movement, mesh, at.teeth.into(), plate)
            })
        })
        .collect()
}

async fn begin(driver: &WebDriver, served: &Served, wheels: &str) -> String {
    let address = format!("{}/jobs", served.address());
    goto(driver, address).await;
    touch(driver, "details:has(form[action='/lessons']) > summary").await;
    touch(
        driver,
        &format!("form[action='/lessons'] [name=wheels] option[value='{wheels}']"),
    )
    .await;
    touch(driver, "form[action='/lessons'] button").await;
    at_step(driver, "lesson").await;
    let id = value(driver, "return document.querySelector('main').dataset.job").await;
    id.as_str().expect("a number").to_owned()
}

async fn turn(driver: &WebDriver, turns: &[Turn], from: Plate, wrong: bool) {
    for (i, turn) in turns.iter().enumerate() {
        let n = i + 1;
        touch(
            driver,
            &format!("[name='mesh.{n}'] option[value='{}']", turn.mesh),
        )
        .await;
        let field = driver
            .find(By::Name(format!("teeth.{n}")))
            .await
            .expect("a field");
        field
            .send_keys(turn.teeth.to_string())
            .await
            .expect("typed");
        let way = turn.way(from, wrong);
        touch(driver, &format!("[name='way.{n}'][value={way}]")).await;
    }
    touch(driver, "form.lesson .primary").await;
}

async fn says(driver: &WebDriver, text: &str) {
    let script = format!("return document.querySelector('#sentence').textContent === '{text}'");
    until(driver, &script).await;
}

#[test]
fn the_answer_puts_it_right_in_one_opening_from_both_plates_and_upside_down() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, SIZES[1]).await;
        for (wheels, from, over) in [("1", Plate::Back, false), ("2", Plate::Front, true)] {
            let id = begin(driver, &served, wheels).await;
            says(driver, "Which wheel, how many teeth, and which way?").await;
            if from == Plate::Front {
                touch(driver, ".lies [value=plate]").await;
                until(driver, "return document.querySelector('.about').textContent === 'from the front plate'").await;
            }
            if over {
                touch(driver, ".lies [value=over]").await;
                until(driver, "return document.querySelector('.about').textContent === 'from the front plate, upside down'").await;
            }
            let page = served.get(&format!("/job/{id}/lesson")).body;
            for secret in secrets(&served, &id) {
                assert!(!page.contains(&secret), "{secret}");
            }
            shot(driver, &format!("lesson-{wheels}-question")).await;
            turn(driver, &told(&served, &id), from, false).await;
            says(driver, "All is in its window, in one opening.").await;
            shot(driver, &format!("lesson-{wheels}-right")).await;
            let page = served.get(&format!("/job/{id}/lesson")).body;
            assert!(
                secrets(&served, &id)
                    .iter()
                    .any(|secret| page.contains(secret))
            );
        }
    });
}

#[test]
fn the_wrong_way_is_counted_and_what_was_hidden_is_told_to_whoever_asks() {
    with_browser(async |driver| {
        let served = serve(&[]);
        resize(driver, SIZES[0]).await;
        // One in which the wrong way is wrong.
        let mut id = begin(driver, &served, "1").await;
        while told(&served, &id)[0].either {
            id = begin(driver, &served, "1").await;
        }
        turn(driver, &told(&served, &id), Plate::Back, true).await;
        says(driver, "Not yet. Look, and open it again.").await;
        let openings = value(
            driver,
            "return document.querySelector('#beneath').textContent",
        )
        .await;
        assert_eq!(openings, "The plates were spread once.");
        shot(driver, "lesson-not-yet").await;
        // It is no train to be timed with the answer beside it, nor a job with stages; nor does any page of it tell.
        for path in [format!("/job/{id}"), format!("/job/{id}/way")] {
            let answer = served.get(&path);
            assert_eq!(answer.status, 303, "{path}");
        }
        let paths = ["lesson", "record", "record/whole"].map(|page| format!("/job/{id}/{page}"));
        for path in paths
            .iter()
            .map(String::as_str)
            .chain(["/jobs", "/search?for=lesson"])
        {
            let page = served.get(path).body;
            for secret in secrets(&served, &id) {
                // What the pupil did may be the same again, and is told as done.
                let told = page.replace(&format!("Done: {secret}"), "");
                assert!(!told.contains(&secret), "{secret} in {path}");
            }
        }
        touch(driver, "a[href$='?solution']").await;
        until(
            driver,
            "return document.querySelector('.solution') !== null",
        )
        .await;
        let solution = value(
            driver,
            "return document.querySelector('.solution').textContent",
        )
        .await;
        let solution = solution.as_str().unwrap_or_default();
        assert!(
            secrets(&served, &id)
                .iter()
                .any(|secret| solution.contains(secret))
        );
        turn(driver, &told(&served, &id), Plate::Back, false).await;
        says(
            driver,
            "All is in its window, in 2 openings. One would have done.",
        )
        .await;
        // What is right stays so.
        let again = served.post(
            &format!("/job/{id}/lesson"),
            &[
                ("entries", "3"),
                ("mesh.1", "great.wheel>second.pinion"),
                ("teeth.1", "1"),
                ("way.1", "clockwise"),
            ],
        );
        assert_eq!(again.status, 409);
    });
}
