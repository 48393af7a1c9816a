//! What is left at each stage, from sheet and log.

use entries::{AtMesh, Day, Decimal, EntryKind, Kept, Log, LogHeader, Stage, Striking, Work};
use movement::{Movement, Reached};
use way::{
    Done, DrivenBy, Item, JobFacts, KnownSheet, Own, SheetItem, StageDanger, Way, changes, dangers,
};

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
    let mut log = Log::start(LogHeader {
        sheet: "Quay Street bracket clock".to_owned(),
        hash: "5f0c".to_owned(),
    });
    for work in told {
        log.append(&EntryKind::Work(work.clone()), Some("2026-03-01"))
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
    let way = Way::of(
        Some(&movement),
        &log(&[came_in()]),
        &JobFacts::default(),
        &[],
    );
    let down: Vec<&Item> = way.at(Stage::Down).left().collect();
    assert_eq!(
        down,
        [
            &Item::WeightOff("going".to_owned()),
            &Item::LetDown("great".to_owned()),
            &Item::Apart
        ]
    );
    let springs = movement_of_two_springs();
    let way = Way::of(
        Some(&springs),
        &log(&[came_in()]),
        &JobFacts::default(),
        &[],
    );
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
    let facts = JobFacts {
        counted: true,
        timed: None,
        as_it_came: None,
    };
    let mut log = log(&[came_in()]);
    let way = |log: &Log| Way::of(Some(&movement), log, &facts, &[]);
    assert_eq!(way(&log).stage, Stage::In);
    let left: Vec<Item> = way(&log).here().left().cloned().collect();
    assert_eq!(
        left,
        [
            Item::PictureBefore,
            Item::Together,
            Item::Tried,
            Item::Agreed
        ]
    );
    let tick = ticked(Stage::In, &Item::Together);
    log.append(&EntryKind::Work(tick), None).expect("entered");
    let at = way(&log);
    assert_eq!(at.here().points[2].done, Done::Ticked(2));
    assert_eq!(at.next(), Some(&Item::PictureBefore));
    log.append(&EntryKind::Undo { of: 2 }, None)
        .expect("entered");
    assert_eq!(way(&log).here().points[2].done, Done::Open);
    let on = Work::Stage { to: Stage::Prove };
    log.append(&EntryKind::Work(on), None).expect("entered");
    assert_eq!(way(&log).stage, Stage::Prove);
    assert_eq!(way(&log).next(), Some(&Item::PoweredUp));
    let left: Vec<Item> = way(&log).here().left().cloned().collect();
    assert_eq!(left, [Item::PoweredUp], "no strike on the sheet");
    assert_eq!(way(&log).onward(), Some(Stage::Rate));
}

const SCHOOLROOM: &str = include_str!("../../../movements/schoolroom.toml");

fn schoolroom() -> Movement {
    movement(SCHOOLROOM)
}

/// What a witness is taken for may follow from levers; that is nothing that the sheet says of the witness.
#[test]
fn a_kind_that_is_written_is_a_change_and_one_that_follows_is_none() {
    let witnesses = |before: &str, after: &str| -> Vec<SheetItem> {
        let (before, after) = (movement(before), movement(after));
        let changes = changes(KnownSheet::Counted(&before), KnownSheet::Counted(&after));
        let of = changes.into_iter().map(|change| change.of);
        of.filter(|of| matches!(of, SheetItem::Witness(_)))
            .collect()
    };
    let bare = SCHOOLROOM.split("\n# Levers").next().expect("a text");
    assert_eq!(witnesses(bare, SCHOOLROOM), []);
    let told = SCHOOLROOM.replacen("id = \"pin\"", "id = \"pin\"\nkind = \"plain\"", 1);
    assert_eq!(
        witnesses(SCHOOLROOM, &told),
        [SheetItem::Witness("pin".to_owned())]
    );
}

fn ran(hours: &str, struck: Striking) -> Work {
    Work::TrialRun {
        hours: Decimal::parse(hours).expect("a decimal"),
        rate_s_per_day: Decimal::parse("-4").ok(),
        beat_error_ms: Decimal::parse("30").ok(),
        arc_deg: None,
        struck: Some(struck),
        says: None,
    }
}

fn done(way: &Way, item: &Item) -> Done {
    let points = way.stages.iter().flat_map(|at| &at.points);
    points
        .filter(|point| point.item == *item)
        .map(|point| point.done)
        .next()
        .expect("on the list")
}

/// A log to which timing entries are added too.
fn told(kinds: &[EntryKind]) -> Log {
    let mut log = log(&[]);
    for kind in kinds {
        log.append(kind, Some("2026-03-01")).expect("entered");
    }
    log
}

#[test]
fn a_trial_of_twelve_hours_proves_the_hours_and_a_shorter_one_does_not() {
    let movement = schoolroom();
    for (hours, proved) in [
        ("11.9", Done::Open),
        ("12", Done::Shown),
        ("168", Done::Shown),
    ] {
        let log = log(&[ran(hours, Striking::Right)]);
        let way = Way::of(Some(&movement), &log, &JobFacts::default(), &[]);
        assert_eq!(done(&way, &Item::Hours), proved, "{hours}");
        // That it was measured does not say that it is in beat and to time.
        for item in [Item::Beat, Item::Rate] {
            assert_eq!(done(&way, &item), Done::Open, "{item:?}");
        }
    }
}

#[test]
fn hours_are_proved_only_by_what_came_last_and_with_nothing_moved_since() {
    let movement = schoolroom();
    let right = EntryKind::Work(ran("24", Striking::Right));
    let wrong = EntryKind::Work(ran("1", Striking::Wrong));
    let shift = EntryKind::Shift(vec![AtMesh {
        mesh: "second.wheel>third.pinion".to_owned(),
        teeth: 1,
    }]);
    let stage = |to| EntryKind::Work(Work::Stage { to });
    for (kinds, proved, tried) in [
        (vec![right.clone()], true, true),
        (vec![right.clone(), wrong.clone()], false, true),
        (vec![wrong, right.clone()], true, true),
        (vec![right.clone(), shift], false, true),
        // Right as it came, and in pieces since.
        (vec![right.clone(), stage(Stage::Down)], false, true),
        (vec![stage(Stage::Down), right], true, false),
    ] {
        let way = Way::of(Some(&movement), &told(&kinds), &JobFacts::default(), &[]);
        let shown = |item| done(&way, &item) == Done::Shown;
        assert_eq!(
            (shown(Item::Hours), shown(Item::Tried)),
            (proved, tried),
            "{kinds:?}"
        );
    }
}

#[test]
fn what_is_done_after_each_closing_up_falls_with_the_next_opening() {
    let movement = schoolroom();
    let closing = [
        (Stage::Together, Item::EndShake),
        (Stage::Together, Item::Spun),
        (Stage::Together, Item::HammerAtRest),
        (Stage::Prove, Item::ByFinger),
        (Stage::Prove, Item::PoweredUp),
        (Stage::Prove, Item::Hours),
    ];
    let ticks = |(stage, item): &(Stage, Item)| EntryKind::Work(ticked(*stage, item));
    let mut kinds: Vec<EntryKind> = closing.iter().map(ticks).collect();
    let clean = (Stage::Look, Item::Clean);
    kinds.push(ticks(&clean));
    let shift = |mesh: &str| {
        EntryKind::Shift(vec![AtMesh {
            mesh: mesh.to_owned(),
            teeth: 1,
        }])
    };
    let outside = movement
        .meshes()
        .find(|(_, mesh)| mesh.reached == Reached::Outside)
        .map(|(id, _)| shift(&movement.mesh_name(id)));
    for (then, falls) in [
        (None, false),
        (Some(shift("second.wheel>third.pinion")), true),
        (
            Some(EntryKind::Jumped {
                arbor: "fly".to_owned(),
            }),
            true,
        ),
        (outside, false),
    ] {
        let log = told(&[&kinds[..], &then.clone().into_iter().collect::<Vec<_>>()].concat());
        let way = Way::of(Some(&movement), &log, &JobFacts::default(), &[]);
        for (_, item) in &closing {
            assert_eq!(
                done(&way, item) == Done::Open,
                falls,
                "{item:?} after {then:?}"
            );
        }
        assert_ne!(done(&way, &clean.1), Done::Open, "it stays clean");
    }
}

#[test]
fn without_a_sheet_nothing_is_taken_for_done() {
    let way = Way::of(None, &log(&[came_in()]), &JobFacts::default(), &[]);
    for at in &way.stages {
        assert!(at.left().count() > 0, "{:?}", at.stage);
    }
    assert_eq!(done(&way, &Item::Hours), Done::Open, "it may strike");
}

#[test]
fn oil_goes_in_before_the_test_and_the_beat_is_set_in_the_case() {
    let movement = schoolroom();
    let way = Way::of(Some(&movement), &log(&[]), &JobFacts::default(), &[]);
    let all: Vec<&Item> = (way.stages.iter())
        .flat_map(|at| at.points.iter().map(|point| &point.item))
        .collect();
    let at = |item: &Item| all.iter().position(|other| *other == item).expect("there");
    assert!(at(&Item::Oiled) < at(&Item::ByFinger));
    assert!(at(&Item::Cased) < at(&Item::Beat) && at(&Item::Beat) < at(&Item::HandedBack));
    assert!(at(&Item::AsItStood) < at(&Item::Apart));
}

#[test]
fn a_point_that_was_ticked_at_another_stage_once_is_done() {
    let log = log(&[
        ticked(Stage::Down, &Item::Clean),
        ticked(Stage::Out, &Item::Cased),
    ]);
    let way = Way::of(None, &log, &JobFacts::default(), &[]);
    assert_eq!(done(&way, &Item::Clean), Done::Ticked(1));
    assert_eq!(done(&way, &Item::Cased), Done::Ticked(2));
}

#[test]
fn gone_home_is_at_no_other_stage_and_coming_in_again_begins_anew() {
    let home = Work::HandedBack {
        to: None,
        says: None,
    };
    let mut log = log(&[came_in(), ticked(Stage::In, &Item::Together), home]);
    let way = |log: &Log| Way::of(None, log, &JobFacts::default(), &[]);
    let gone = way(&log);
    assert!(gone.home && gone.stage == Stage::Out && gone.next().is_none());
    assert!(
        gone.open()
            .iter()
            .any(|(_, left)| left.contains(&&Item::Clean)),
        "what was left is told"
    );
    assert!(
        gone.open()
            .iter()
            .all(|(_, left)| !left.contains(&&Item::HandedBack))
    );
    // Its coming in is put right, and it is gone still.
    let right = Work::Correction {
        of: 1,
        to: Box::new(came_in()),
    };
    log.append(&EntryKind::Work(right), None).expect("entered");
    assert!(way(&log).home && log.handed_back());
    log.append(&EntryKind::Work(came_in()), None)
        .expect("entered");
    let again = way(&log);
    assert_eq!((again.home, again.stage), (false, Stage::In));
    assert_eq!(done(&again, &Item::Together), Done::Open);
    // Ticking that it was handed back hands nothing back.
    log.append(
        &EntryKind::Work(ticked(Stage::Out, &Item::HandedBack)),
        None,
    )
    .expect("entered");
    assert_eq!(done(&way(&log), &Item::HandedBack), Done::Open);
}

#[test]
fn a_train_that_is_only_timed_is_being_put_together() {
    let way = Way::of(None, &log(&[]), &JobFacts::default(), &[]);
    assert_eq!(way.stage, Stage::Together);
}

#[test]
fn a_shop_adds_points_of_its_own() {
    let own = [Own {
        stage: Stage::Out,
        says: "a card in the case".to_owned(),
    }];
    let item = Item::Own("a card in the case".to_owned());
    let way = |log: &Log| Way::of(None, log, &JobFacts::default(), &own);
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
            .map(|stage| dangers(stage, movement, DrivenBy::Unknown).contains(&danger))
            .contains(&true)
    };
    // Nothing of it is measured: what was told of it counts.
    let unmeasured = movement(
        &SHEET
            .replace("spring_width_mm = 32", "pivot_mm = 2")
            .replace("weight_g = 2600", "pivot_mm = 2"),
    );
    let told = |by, danger| {
        Stage::ALL
            .map(|stage| dangers(stage, Some(&unmeasured), by).contains(&danger))
            .contains(&true)
    };
    for danger in [StageDanger::Weights, StageDanger::Tower] {
        assert!(told(DrivenBy::Unknown, danger) && told(DrivenBy::Weight, danger));
        assert!(!told(DrivenBy::Spring, danger));
    }
    assert!(!told(DrivenBy::Weight, StageDanger::Springs));
    assert!(
        !minded(Some(&weights), StageDanger::Springs)
            && minded(Some(&weights), StageDanger::Weights)
    );
    assert!(
        minded(Some(&springs), StageDanger::Springs)
            && !minded(Some(&springs), StageDanger::Weights)
    );
    assert!(minded(None, StageDanger::Springs) && minded(None, StageDanger::Weights));
    assert!(!minded(Some(&springs), StageDanger::Fusee));
    let fusee = movement(
        &SHEET
            .replace("[arbor.going]", "[arbor.fusee]")
            .replace("going.wheel", "fusee.wheel"),
    );
    assert!(minded(Some(&fusee), StageDanger::Fusee));
}

#[test]
fn as_it_stood_is_read_before_anything_is_touched_and_only_where_it_struck_right() {
    let movement = schoolroom();
    let offered = |kinds: &[EntryKind], as_it_came: Option<bool>| {
        let facts = JobFacts {
            as_it_came,
            ..JobFacts::default()
        };
        let way = Way::of(Some(&movement), &told(kinds), &facts, &[]);
        let points = &way.at(Stage::In).points;
        points.iter().any(|point| point.item == Item::AsItStood)
    };
    let came = || EntryKind::Work(came_in());
    let tried = |struck| EntryKind::Work(ran("1", struck));
    let check = |item: &Item| EntryKind::Work(ticked(Stage::Down, item));
    let shift = || {
        EntryKind::Shift(vec![entries::AtMesh {
            mesh: "second.wheel>third.pinion".to_owned(),
            teeth: 1,
        }])
    };
    assert!(offered(&[came()], Some(true)));
    assert!(offered(&[came(), tried(Striking::Right)], None));
    // Nobody knows, it struck wrong, or it came in pieces.
    assert!(!offered(&[came()], None));
    assert!(!offered(&[came()], Some(false)));
    assert!(!offered(&[came(), tried(Striking::Right)], Some(false)));
    assert!(!offered(&[came(), tried(Striking::Wrong)], Some(true)));
    // Let down, taken apart, taken out, moved.
    for item in [
        Item::Power(String::new()),
        Item::LetDown("great".to_owned()),
    ] {
        assert!(!offered(&[came(), check(&item)], Some(true)), "{item:?}");
    }
    assert!(!offered(&[came(), check(&Item::Apart)], Some(true)));
    assert!(!offered(&[came(), shift()], Some(true)));
    let out = EntryKind::ArborOut {
        arbor: "fly".to_owned(),
    };
    assert!(!offered(&[came(), out], Some(true)));
    // A look moves nothing, and what is called alike is another point.
    let other = Item::Own("let downstairs know".to_owned());
    assert!(offered(&[came(), check(&other)], Some(true)));
}

#[test]
fn as_it_stood_is_done_once_it_was_read_and_stays_so_when_it_was_taken_apart() {
    let movement = schoolroom();
    let stood = EntryKind::Stood {
        hours: Some(12),
        readings: vec![entries::LoggedReading {
            witness: "slot".to_owned(),
            seen: entries::LoggedSight::Look {
                look: entries::Sight::In,
            },
        }],
    };
    let apart = EntryKind::Work(ticked(Stage::Down, &Item::Apart));
    let log = told(&[EntryKind::Work(came_in()), stood, apart]);
    let way = Way::of(Some(&movement), &log, &JobFacts::default(), &[]);
    for stage in [Stage::In, Stage::Down] {
        let points = &way.at(stage).points;
        let point = points.iter().find(|point| point.item == Item::AsItStood);
        assert_eq!(
            point.map(|point| point.done),
            Some(Done::Shown),
            "{stage:?}"
        );
    }
}
