//! What is left at each stage, from sheet and log.

use entries::{Day, Decimal, Header, Kept, Kind, Log, Stage, Striking, Work};
use movement::Movement;
use way::{Danger, Done, Facts, Item, Own, Way, dangers};

const SHEET: &str = r#"
sheet = 1
name = "Quay Street bracket clock"
seen_from = "front"
[arbor.great]
runs = "clockwise"
wheel = 84
spring_width_mm = 32
[arbor.second]
pinion = 7
[arbor.going]
runs = "clockwise"
wheel = 96
weight_g = 2600
[arbor.centre]
pinion = 8
[[mesh]]
driver = "great.wheel"
driven = "second.pinion"
[[mesh]]
driver = "going.wheel"
driven = "centre.pinion"
"#;

fn movement(text: &str) -> Movement {
    sheet::read(text.as_bytes()).expect("it checks").movement
}

fn log(told: &[Work]) -> Log {
    let mut log = Log::start(Header {
        sheet: "Quay Street bracket clock".to_owned(),
        hash: "5f0c".to_owned(),
    });
    for work in told {
        log.append(&Kind::Work(work.clone()), Some("2026-03-01"))
            .expect("entered");
    }
    log
}

fn came_in() -> Work {
    Work::Intake {
        clock: Kept::Here("Quay Street bracket clock".to_owned()),
        owner: None,
        reach: None,
        complaint: Some(Kept::Here("strikes thirteen".to_owned())),
        promised: Day::parse("2026-04-01"),
    }
}

fn ticked(stage: Stage, item: &Item) -> Work {
    Work::Check {
        stage,
        item: Kept::Here(item.key()),
    }
}

#[test]
fn each_train_has_its_own_power_to_let_down_and_a_weight_comes_first() {
    let movement = movement(SHEET);
    let way = Way::of(Some(&movement), &log(&[came_in()]), &Facts::default(), &[]);
    let down: Vec<&Item> = way.at(Stage::Down).left().collect();
    assert_eq!(
        down,
        [
            &Item::WeightOff("going".to_owned()),
            &Item::LetDown("great".to_owned()),
            &Item::Apart,
            &Item::Clean
        ]
    );
    let springs = movement_of_two_springs();
    let way = Way::of(Some(&springs), &log(&[came_in()]), &Facts::default(), &[]);
    let lets = way.at(Stage::Down).left();
    assert_eq!(
        lets.filter(|item| matches!(item, Item::LetDown(_))).count(),
        2
    );
}

fn movement_of_two_springs() -> Movement {
    movement(&SHEET.replace("weight_g", "spring_width_mm"))
}

#[test]
fn what_the_log_shows_is_done_and_the_rest_is_ticked_off_or_taken_back() {
    let movement = movement(SHEET);
    let facts = Facts {
        counted: true,
        timed: None,
    };
    let mut log = log(&[came_in()]);
    let way = |log: &Log| Way::of(Some(&movement), log, &facts, &[]);
    assert_eq!(way(&log).stage, Stage::In);
    let left: Vec<Item> = way(&log).here().left().cloned().collect();
    assert_eq!(left, [Item::PictureBefore, Item::Together]);
    let tick = ticked(Stage::In, &Item::Together);
    log.append(&Kind::Work(tick), None).expect("entered");
    let at = way(&log);
    assert_eq!(at.here().points[2].done, Done::Ticked(2));
    assert_eq!(at.next(), Some(&Item::PictureBefore));
    log.append(&Kind::Undo { of: 2 }, None).expect("entered");
    assert_eq!(way(&log).here().points[2].done, Done::Open);
    let on = Work::Stage { to: Stage::Prove };
    log.append(&Kind::Work(on), None).expect("entered");
    assert_eq!(way(&log).stage, Stage::Prove);
    assert_eq!(way(&log).next(), None, "no strike on the sheet");
    assert_eq!(way(&log).onward(), Some(Stage::Rate));
}

#[test]
fn a_trial_of_twelve_hours_proves_the_hours_and_a_shorter_one_does_not() {
    let strikes = std::fs::read(concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../movements/schoolroom.toml"
    ));
    let movement = sheet::read(&strikes.expect("the sample"))
        .expect("it checks")
        .movement;
    for (hours, done) in [
        ("11.9", Done::Open),
        ("12", Done::Shown),
        ("168", Done::Shown),
    ] {
        let ran = Work::TrialRun {
            hours: Decimal::parse(hours).expect("a decimal"),
            rate_s_per_day: Decimal::parse("-4").ok(),
            beat_error_ms: None,
            arc_deg: None,
            struck: Some(Striking::Right),
            says: None,
        };
        let log = log(&[ran]);
        let way = Way::of(Some(&movement), &log, &Facts::default(), &[]);
        assert_eq!(way.at(Stage::Prove).points[0].done, done, "{hours}");
        let rate: Vec<&Item> = way.at(Stage::Rate).left().collect();
        assert_eq!(rate, [&Item::Beat]);
    }
}

#[test]
fn a_train_that_is_only_timed_is_being_put_together() {
    let way = Way::of(None, &log(&[]), &Facts::default(), &[]);
    assert_eq!(way.stage, Stage::Together);
}

#[test]
fn a_shop_adds_points_of_its_own() {
    let own = [Own {
        stage: Stage::Out,
        says: "a card in the case".to_owned(),
    }];
    let item = Item::Own("a card in the case".to_owned());
    let way = |log: &Log| Way::of(None, log, &Facts::default(), &own);
    assert!(
        way(&log(&[]))
            .at(Stage::Out)
            .left()
            .any(|left| *left == item)
    );
    let ticked = ticked(Stage::Out, &item);
    assert!(
        !way(&log(&[ticked]))
            .at(Stage::Out)
            .left()
            .any(|left| *left == item)
    );
}

#[test]
fn what_a_sheet_rules_out_is_not_minded() {
    let weights = movement(&SHEET.replace("spring_width_mm", "weight_g"));
    let springs = movement_of_two_springs();
    let minded = |movement, danger| {
        Stage::ALL
            .map(|stage| dangers(stage, movement).contains(&danger))
            .contains(&true)
    };
    assert!(!minded(Some(&weights), Danger::Springs) && minded(Some(&weights), Danger::Weights));
    assert!(minded(Some(&springs), Danger::Springs) && !minded(Some(&springs), Danger::Weights));
    assert!(minded(None, Danger::Springs) && minded(None, Danger::Weights));
    assert!(!minded(Some(&springs), Danger::Fusee));
    let fusee = movement(
        &SHEET
            .replace("[arbor.going]", "[arbor.fusee]")
            .replace("going.wheel", "fusee.wheel"),
    );
    assert!(minded(Some(&fusee), Danger::Fusee));
}
