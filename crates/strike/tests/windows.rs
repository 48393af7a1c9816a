//! Windows from the works. That a place is good is held against runs in which the arbor is turned by what is put in wrong: these are
//! made anew from the sheet, while the search shifts ticks.

mod samples;

use movement::{Movement, Unjudged};
use quantity::{Degrees, fraction};
use samples::{SAMPLES, read, text};
use strike::{BestBy, NoWindows, PlantedFault, WorkedOutWindow, strike, windows};

/// A sheet without what is written of windows and best places.
fn unwritten(name: &str) -> Movement {
    read(&without(&text(name), &["window_deg", "best_deg"]))
}

fn without(text: &str, keys: &[&str]) -> String {
    let kept = text
        .lines()
        .filter(|line| !keys.iter().any(|key| line.starts_with(key)));
    kept.map(|line| format!("{line}\n")).collect()
}

fn deg(text: &str) -> Degrees {
    Degrees::parse(text).expect("a number")
}

/// Whether the strike is right with each of these witnesses turned from where the works have it to a place.
fn is_good(movement: &Movement, at: &[(&WorkedOutWindow, Degrees)]) -> bool {
    let turned: Vec<PlantedFault> = (at.iter())
        .map(|(window, place)| PlantedFault::TurnedArbor {
            arbor: witness(movement, window).on,
            by: place - &window.meant,
        })
        .collect();
    let struck = strike(movement, &turned, false).expect("fit to run");
    struck.is_right()
}

fn witness<'m>(movement: &'m Movement, window: &WorkedOutWindow) -> &'m Unjudged {
    &movement.unjudged()[window.witness]
}

#[test]
fn every_corner_of_every_sample_is_good() {
    for name in SAMPLES {
        let movement = unwritten(name);
        let worked_out = windows(&movement).expect(name);
        assert!(!worked_out.cut_short, "{name}");
        let all = movement.unjudged().len();
        assert_eq!(worked_out.windows.len(), all, "{name}");
        for n in 0..1_usize << all {
            let corner: Vec<_> = (worked_out.windows.iter().enumerate())
                .map(|(w, window)| match n >> w & 1 {
                    0 => (window, window.from.clone()),
                    _ => (window, window.to.clone()),
                })
                .collect();
            assert!(is_good(&movement, &corner), "{name}: {corner:?}");
        }
        for window in &worked_out.windows {
            assert!(window.from <= window.best && window.best <= window.to);
        }
    }
}

/// Gone over in small steps the places of one arbor are good as far as is said and no farther: no gap was passed over.
#[test]
fn small_steps_find_the_same_ends() {
    for name in ["schoolroom", "loft", "parlour", "cutter", "quay"] {
        let movement = unwritten(name);
        let worked_out = windows(&movement).expect(name);
        for window in &worked_out.windows {
            let Some([from, to]) = &window.ends else {
                continue;
            };
            let good = |place: Degrees| is_good(&movement, &[(window, place)]);
            let id = &witness(&movement, window).id;
            let hair = deg("0.001");
            for (end, outward) in [(from, &deg("-1")), (to, &deg("1"))] {
                let beyond = &hair * outward.exact();
                assert_eq!(good(end.raw.clone()), end.inside, "{name} {id}");
                assert!(!good(&end.raw + &beyond), "{name} {id} {beyond:?}");
                assert!(good(&end.raw - &beyond), "{name} {id} {beyond:?}");
            }
            let wide = &to.raw - &from.raw;
            for step in 1..100 {
                let place = &from.raw + &(&wide * &fraction(step, 100));
                assert!(good(place.clone()), "{name} {id} at {}", place.to_f64());
            }
        }
    }
}

/// A locking pin has at least an eighth of a turn to go, a warning pin stands from a quarter to three quarters of a turn from its
/// arm: as KINDS.md has it, and as the sheets that say a window for a warning pin write it.
#[test]
fn pins_stand_as_far_from_their_arms_as_is_usual() {
    let ends = |name: &str, id: &str| {
        let movement = unwritten(name);
        let worked_out = windows(&movement).expect(name);
        let window = (worked_out.windows.into_iter())
            .find(|window| witness(&movement, window).id == id)
            .expect(id);
        let ends = window.ends.clone().expect("judged");
        let points = ends.each_ref().map(|end| {
            let limit = end.limit.as_ref().expect("told");
            limit.first().expect("a point").1.number()
        });
        let [from, to] = ends.map(|end| end.raw);
        (from, to, window.best, points)
    };
    for (name, id) in [("parlour", "pin"), ("quarters", "pin"), ("loft", "stop")] {
        let written = read(&text(name));
        let written = written.witness(written.find_witness(id).expect(id));
        let (from, to, best, points) = ends(name, id);
        let same = (&from, &to, &best) == (&written.from, &written.to, &written.best);
        assert!(same && points == [4, 4], "{name}: {from:?} {to:?} {best:?}");
    }
    for (name, id) in [
        ("schoolroom", "pin"),
        ("halfpast", "stop"),
        ("quay", "stop"),
    ] {
        let (_, to, best, points) = ends(name, id);
        assert_eq!((to, best), (deg("-45"), deg("-72")), "{name}");
        assert_eq!(points[1], 5, "{name}");
    }
}

/// What a reading means does not hang on what is written of its window: place 0 of a pin is at its arm.
#[test]
fn the_works_have_each_witness_where_its_sheet_writes_it() {
    for name in SAMPLES {
        let written = read(&text(name));
        let movement = unwritten(name);
        for window in windows(&movement).expect(name).windows {
            let id = &witness(&movement, &window).id;
            let best = &written.witness(written.find_witness(id).expect(id)).best;
            assert_eq!(&window.meant, best, "{name} {id}");
        }
    }
}

#[test]
fn what_the_strike_does_not_feel_is_not_judged() {
    let movement = unwritten("quay");
    let worked_out = windows(&movement).expect("fit");
    let vane = &worked_out.windows[3];
    assert_eq!(witness(&movement, vane).id, "vane");
    assert!(!vane.is_judged());
    // Half of the 180° after which its two vanes are alike.
    assert_eq!((&vane.from, &vane.to), (&deg("-45"), &deg("45")));
    assert!((worked_out.windows[..3].iter()).all(WorkedOutWindow::is_judged));
}

/// One that is written stays, and the others are worked out with it where the works have it.
#[test]
fn what_is_written_stays() {
    let text = without(
        &text("schoolroom"),
        &["window_deg = [-8.0", "window_deg = [-110"],
    );
    let movement = read(&text);
    let worked_out = windows(&movement).expect("fit");
    let ids: Vec<_> = (worked_out.windows.iter())
        .map(|window| witness(&movement, window).id.as_str())
        .collect();
    assert_eq!(ids, ["star", "pin"]);
    let best: Vec<_> = (worked_out.windows.iter())
        .map(|window| (window.best.clone(), window.best_by))
        .collect();
    let written = |place| (deg(place), BestBy::Written);
    assert_eq!(best, [written("0"), written("-75")]);
}

#[test]
fn works_that_do_not_strike_right_give_no_windows() {
    // Let go too late: the hammer hangs on its pin as the train locks, and as it is warned.
    let wrong = without(&text("schoolroom"), &["window_deg", "best_deg"])
        .replace("first_deg = 25 ", "first_deg = 5 ");
    let Err(NoWindows::Wrong(limit)) = windows(&read(&wrong)) else {
        panic!("the works are wrong");
    };
    assert_eq!(limit.numbers(), [2, 3]);
    assert_eq!(limit.points[0].0, 60, "at one o'clock already");
    let bare = read(&without(&text("lattice"), &["window_deg", "best_deg"]));
    let Err(NoWindows::NoStrike(_)) = windows(&bare) else {
        panic!("there are no levers");
    };
}

/// The same clock with other names of everything, its arbors told in another order, has the same windows.
#[test]
fn names_and_order_are_nothing() {
    let told = without(&text("schoolroom"), &["window_deg", "best_deg"]);
    let mut renamed = told.clone();
    for (n, name) in ["great", "second", "third", "fourth", "fly"]
        .iter()
        .enumerate()
    {
        for (before, after) in [("arbor.", "]"), ("= \"", "."), ("= \"", "\"")] {
            let new = format!("{before}a{n}{after}");
            renamed = renamed.replace(&format!("{before}{name}{after}"), &new);
        }
    }
    assert_ne!(renamed, told);
    let plain = |text: &str| {
        let all = windows(&read(text)).expect("fit").windows;
        all.into_iter()
            .map(|w| (w.from, w.to, w.best))
            .collect::<Vec<_>>()
    };
    assert_eq!(plain(&renamed), plain(&told));
}
