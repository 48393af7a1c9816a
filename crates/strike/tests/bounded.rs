//! A run is bounded by what is counted of it, whatever the sheet says, and cut short with its hours right.

mod samples;

use movement::Movement;
use samples::{SAMPLES, read, text};
use std::fmt::Write;
use std::sync::Arc;
use strike::bounds::{MOST_EVENTS, MOST_PLACES_SHOWN};
use strike::{End, Event, NoStrike, Struck, strike};

/// Places of arbors and lever arbors, and of the hand, that a run keeps: what takes memory.
fn kept(struck: &Struck) -> usize {
    let poses = struck.motion.iter();
    poses
        .map(|pose| 1 + pose.arbors.len() + pose.levers.len())
        .sum()
}

/// What is kept at most: the last event may come on top.
fn is_bounded(movement: &Movement, struck: &Struck) -> bool {
    let levers = movement
        .works()
        .map_or(0, |works| works.lever_arbors().len());
    let one = 1 + movement.arbors().len() + levers;
    // What an event shows is one of the poses, and no copy of it.
    let shared = |event: &Event| Arc::ptr_eq(&event.pose, &struck.motion[event.step]);
    assert!(struck.events.iter().all(shared));
    struck.events.len() <= MOST_EVENTS && kept(struck) <= MOST_PLACES_SHOWN + 2 * one
}

/// The parlour clock with another time of its centre arbor's turn.
fn hurried(seconds: &str) -> Movement {
    let sheet = text("parlour");
    assert!(sheet.contains("turn_s = 3600"));
    read(&sheet.replace("turn_s = 3600", &format!("turn_s = {seconds}")))
}

#[test]
fn what_clocks_do_is_shown_whole() {
    let mut most = 0;
    for name in SAMPLES {
        let movement = read(&text(name));
        let struck = strike(&movement, &[], true).expect("fit to run");
        assert!(!struck.cut_short, "{name}");
        assert_eq!(struck.end, End::SamePlace, "{name}");
        most = most.max(kept(&struck));
    }
    println!("the most that a sample keeps: {most} places");
    assert!(most * 2 < MOST_PLACES_SHOWN, "{most}");
}

#[test]
fn a_mistyped_time_of_turning_is_cut_short_and_its_hours_are_those_of_an_unwatched_run() {
    for seconds in ["1", "7", "0.01", "0.000001"] {
        let movement = hurried(seconds);
        let watched = strike(&movement, &[], true).expect("fit to run");
        assert!(watched.cut_short, "{seconds}");
        assert!(
            is_bounded(&movement, &watched),
            "{seconds}: {}",
            kept(&watched)
        );
        assert!(watched.last_good().is_none(), "what came last is not kept");
        let unwatched = strike(&movement, &[], false).expect("fit to run");
        assert!(unwatched.events.is_empty() && !unwatched.cut_short);
        println!(
            "{seconds}: {:?}, {} hours",
            watched.end,
            watched.hours.len()
        );
        // Where both come to their end they tell the same; else each tells what it came to.
        let both = watched.hours.len().min(unwatched.hours.len());
        let past = both.saturating_sub(usize::from(!watched.is_whole()));
        assert_eq!(watched.hours[..past], unwatched.hours[..past], "{seconds}");
        for hour in &watched.hours {
            assert!(hour.too_low.len() <= 12, "{}", hour.too_low.len());
        }
    }
    assert_eq!(
        strike(&hurried("0.000001"), &[], true).expect("fit").end,
        End::LeftOff
    );
}

/// A train of so many arbors that speeds up tenfold at each, the last of which lifts a hammer, and nothing that stops it.
fn racing(arbors: usize) -> String {
    let mut sheet = "sheet = 1\nname = \"Invented race\"\nseen_from = \"front\"\n".to_owned();
    for n in 0..arbors {
        let runs = if n == 0 { "runs = \"clockwise\"\n" } else { "" };
        let _ = writeln!(sheet, "[arbor.a{n}]\n{runs}wheel = 100\npinion = 10");
    }
    for n in 1..arbors {
        let _ = writeln!(
            sheet,
            "[[mesh]]\ndriver = \"a{}.wheel\"\ndriven = \"a{n}.pinion\"",
            n - 1
        );
    }
    let _ = writeln!(
        sheet,
        "[strike]\ncounted_by = \"count wheel\"\nblows = \"hours\"\nread_at = \"a0\"\nblows_per_turn = 1\n\
         [[witness]]\nid = \"w\"\nsays = \"a place\"\non = \"a0\"\nrepeats = 1\nwindow_deg = [-5, 5]\nbest_deg = 0\n\
         [[track]]\nid = \"pins\"\non = \"a{}\"\npins = 8\nfirst_deg = 20\nrise_deg = 10\n\
         [[track]]\nid = \"slow\"\non = \"a0\"\npins = 1\nfirst_deg = 20\nrise_deg = 10\n\
         [[lever]]\nid = \"hammer\"\non = \"hammer\"\nfeels = \"pins\"\nlift_deg = 20\nstrikes = \"the bell\"\n\
         [[lever]]\nid = \"other\"\non = \"other\"\nfeels = \"slow\"\nlift_deg = 20\nstrikes = \"the bell\"",
        arbors - 1
    );
    sheet
}

#[test]
fn a_train_that_races_is_left_off() {
    let movement = read(&racing(12));
    for watched in [true, false] {
        let struck = strike(&movement, &[], watched).expect("fit to run");
        assert_eq!(struck.end, End::LeftOff);
        assert!(!struck.is_whole() && !struck.is_right());
        assert!(is_bounded(&movement, &struck));
    }
}

#[test]
fn levers_that_lift_each_other_over_and_over_are_refused_and_not_worked_out() {
    // Each arbor is lifted by the next in two ways: the heights that matter would double at every one.
    let mut sheet = text("schoolroom");
    for n in 0..40 {
        let lifted = match n {
            0 => "levers".to_owned(),
            n => format!("more{}", n - 1),
        };
        for (k, from) in [(0, n + 1), (1, 3 * n + 2)] {
            let _ = write!(
                sheet,
                "\n[[lever]]\nid = \"l{n}_{k}\"\non = \"more{n}\"\nlifts = \"{lifted}\"\nfrom_deg = 0.0{from:02}\n"
            );
        }
    }
    assert_eq!(
        strike(&read(&sheet), &[], true).err(),
        Some(NoStrike::TooMany)
    );
}

#[test]
fn a_jagged_edge_under_many_wide_tips_is_refused_and_not_worked_out() {
    let mut sheet = text("schoolroom");
    let points: Vec<String> = (0..400)
        .map(|n| {
            format!(
                "[{}, {}]",
                f64::from(n) * 0.9,
                0.1 + 0.002 * f64::from(n % 7 * 61 % 100)
            )
        })
        .collect();
    let _ = write!(
        sheet,
        "\n[[track]]\nid = \"jagged\"\non = \"third\"\noutline = [{}]\n",
        points.join(", ")
    );
    for n in 0..20 {
        let _ = write!(
            sheet,
            "\n[[lever]]\nid = \"f{n}\"\non = \"feels{n}\"\nfeels = \"jagged\"\ntip_deg = 6.5\nlift_deg = 8\n"
        );
    }
    assert_eq!(
        strike(&read(&sheet), &[], true).err(),
        Some(NoStrike::TooMany)
    );
}
