//! What concerns a job as a whole: each kind's line, corrections, removals, and how it stood on a day.

mod made_up;

use entries::{
    AtMesh, Day, Decimal, Digest, Emptied, EntryKind, Kept, KeptText, Log, LogFault, LogFaultKind,
    LogHeader, Occasion, Stage, Striking, Unit, Work,
};
use proptest::collection::vec;
use proptest::prelude::*;

const PICTURE: &str = "00112233445566778899aabbccddeeff00112233445566778899aabbccddeeff";

fn begun() -> Log {
    Log::start(LogHeader {
        sheet: "Wren Street schoolroom clock".to_owned(),
        hash: "5f0c".to_owned(),
    })
}

fn here(text: &str) -> KeptText {
    Kept::Here(text.to_owned())
}

fn decimal(text: &str) -> Decimal {
    Decimal::parse(text).unwrap()
}

fn note(text: &str) -> EntryKind {
    EntryKind::Work(Work::Note { says: here(text) })
}

fn intake(owner: &str) -> Work {
    Work::Intake {
        clock: here("the bracket clock from Quay Street"),
        owner: Some(here(owner)),
        reach: Some(here("rings twice")),
        complaint: Some(here("strikes five at four")),
        promised: Day::parse("2026-12-24"),
    }
}

fn fields(of: usize, fields: &[&str]) -> Emptied {
    let fields = fields.iter().map(|&field| field.to_owned()).collect();
    Emptied { of, fields }
}

fn standing(log: &Log) -> Vec<usize> {
    log.standing().map(|entry| entry.n).collect()
}

#[test]
fn each_kind_has_its_line() {
    let cases = [
        (
            intake("Ada Tern"),
            r#""kind":"intake","clock":"the bracket clock from Quay Street","owner":"Ada Tern","reach":"rings twice","complaint":"strikes five at four","promised":"2026-12-24""#.to_owned(),
        ),
        (
            Work::Picture {
                picture: Kept::Here(Digest::parse(PICTURE).unwrap()),
                when: Occasion::Before,
                says: None,
            },
            format!(r#""kind":"picture","picture":"{PICTURE}","when":"before""#),
        ),
        (
            Work::Measurement {
                what: here("third.pinion outside"),
                value: decimal("5.60"),
                unit: Unit::Mm,
                spread: Some(decimal("0.02")),
            },
            r#""kind":"measurement","what":"third.pinion outside","value":"5.60","unit":"mm","spread":"0.02""#.to_owned(),
        ),
        (
            Work::Found {
                part: here("second arbor, back hole"),
                says: here("worn towards the barrel"),
            },
            r#""kind":"found","part":"second arbor, back hole","says":"worn towards the barrel""#.to_owned(),
        ),
        (
            Work::Fitted {
                part: here("a bushing"),
                says: None,
            },
            r#""kind":"fitted","part":"a bushing""#.to_owned(),
        ),
        (
            Work::Oil {
                place: here("all pivots"),
                oil: here("clock oil"),
            },
            r#""kind":"oil","place":"all pivots","oil":"clock oil""#.to_owned(),
        ),
        (
            Work::TrialRun {
                hours: decimal("26"),
                rate_s_per_day: Some(decimal("-12.5")),
                beat_error_ms: Some(decimal("4")),
                arc_deg: None,
                struck: Some(Striking::Right),
                says: None,
            },
            r#""kind":"trial_run","hours":"26","rate_s_per_day":"-12.5","beat_error_ms":"4","struck":"right""#.to_owned(),
        ),
        (
            Work::Note {
                says: here("line\nand “line”"),
            },
            r#""kind":"note","says":"line\nand “line”""#.to_owned(),
        ),
        (
            Work::Check {
                stage: Stage::Down,
                item: here("strike spring let down"),
            },
            r#""kind":"check","stage":"down","item":"strike spring let down""#.to_owned(),
        ),
        (
            Work::Stage {
                to: Stage::Together,
            },
            r#""kind":"stage","to":"together""#.to_owned(),
        ),
        (
            Work::Sheet {
                text: "sheet = 1\n".to_owned(),
                hash: "0a".to_owned(),
            },
            r#""kind":"sheet","text":"sheet = 1\n","hash":"0a""#.to_owned(),
        ),
        (
            Work::HandedBack {
                to: Some(here("Ada Tern")),
                says: None,
            },
            r#""kind":"handed_back","to":"Ada Tern""#.to_owned(),
        ),
        (
            Work::Lesson {
                hidden: vec![AtMesh {
                    mesh: "second.wheel>third.pinion".to_owned(),
                    teeth: -2,
                }],
            },
            r#""kind":"lesson","meshes":[{"mesh":"second.wheel>third.pinion","teeth":-2}]"#.to_owned(),
        ),
        (
            Work::Correction {
                of: 4,
                to: Box::new(Work::Found {
                    part: here("second arbor, front hole"),
                    says: here("worn"),
                }),
            },
            r#""kind":"correction","of":4,"to":{"kind":"found","part":"second arbor, front hole","says":"worn"}"#.to_owned(),
        ),
    ];
    let mut log = begun();
    for (n, (work, line)) in (1..).zip(cases) {
        let line = format!("{{\"n\":{n},{line}}}\n");
        assert_eq!(log.append(&EntryKind::Work(work), None), Ok(line));
    }
    let removed = log.remove(&[fields(1, &["owner", "reach"])], None).unwrap();
    assert_eq!(
        removed.added,
        "{\"n\":15,\"kind\":\"removal\",\"emptied\":[{\"of\":1,\"fields\":[\"owner\",\"reach\"]}]}\n"
    );
    let emptied = "{\"n\":1,\"kind\":\"intake\",\"clock\":\"the bracket clock from Quay Street\",\"owner\":null,\
        \"reach\":null,\"complaint\":\"strikes five at four\",\"promised\":\"2026-12-24\"}";
    assert_eq!(removed.emptied, [(1, emptied.to_owned())]);
    assert_eq!(Log::read(log.text().as_bytes()), Ok((log, vec![])));
}

#[test]
fn a_correction_counts_in_place_of_what_it_corrects() {
    let mut log = begun();
    let mut step = |kind: EntryKind| {
        log.append(&kind, None).unwrap();
        standing(&log)
    };
    let correction = |of, text: &str| {
        let to = Box::new(Work::Note { says: here(text) });
        EntryKind::Work(Work::Correction { of, to })
    };
    assert_eq!(step(note("two pillars bent")), [1]);
    assert_eq!(step(correction(1, "one pillar bent")), [2]);
    // Put right again, once by the first number and once by that of the correction.
    assert_eq!(step(correction(1, "no pillar bent")), [3]);
    assert_eq!(step(correction(3, "a pillar bent")), [4]);
    assert_eq!(step(EntryKind::Undo { of: 4 }), [3]);
    assert_eq!(step(EntryKind::Undo { of: 3 }), [2]);
    // It falls with what it corrects, and comes back with it.
    assert_eq!(step(EntryKind::Undo { of: 1 }), Vec::<usize>::new());
    assert_eq!(step(EntryKind::Undo { of: 7 }), [2]);
    let told = log.entries()[1].work();
    assert_eq!(
        told,
        Some(&Work::Note {
            says: here("one pillar bent")
        })
    );

    let refused = |log: &mut Log, kind: &EntryKind| log.append(kind, None).unwrap_err().what;
    let oil = Work::Oil {
        place: here("pivots"),
        oil: here("oil"),
    };
    let to = Box::new(oil);
    let other = EntryKind::Work(Work::Correction { of: 1, to });
    assert_eq!(
        refused(&mut log, &other),
        LogFaultKind::NotCorrected { of: 1 }
    );
    // What moves the train is undone and said anew, as its place in the order counts.
    log.append(&EntryKind::Struck { hour: 4 }, None).unwrap();
    let struck = correction(9, "five");
    assert_eq!(
        refused(&mut log, &struck),
        LogFaultKind::NotCorrected { of: 9 }
    );
    let itself = correction(10, "itself");
    assert_eq!(
        refused(&mut log, &itself),
        LogFaultKind::PointsNowhere { of: 10, n: 10 }
    );
}

#[test]
fn a_removal_empties_and_stays() {
    let mut log = begun();
    log.append(&EntryKind::Work(intake("Ada Tern")), None)
        .unwrap();
    let to = Box::new(intake("Ada Terne"));
    log.append(&EntryKind::Work(Work::Correction { of: 1, to }), None)
        .unwrap();
    log.append(
        &EntryKind::Work(Work::Picture {
            picture: Kept::Here(Digest::parse(PICTURE).unwrap()),
            when: Occasion::Before,
            says: Some(here("on her table")),
        }),
        None,
    )
    .unwrap();
    log.append(&note("a note"), None).unwrap();
    let personal = log.personal();
    assert_eq!(
        personal,
        [
            fields(1, &["owner", "reach"]),
            fields(2, &["owner", "reach"]),
            fields(3, &["picture"])
        ]
    );
    let before = log.clone();
    assert_eq!(log.holding(&personal), personal);
    assert_eq!(
        log.holding(&[fields(4, &["owner"]), fields(9, &["says"])]),
        []
    );
    log.remove(&personal, Some("2026-03-05")).unwrap();
    assert_eq!(log.holding(&personal), []);
    for gone in ["Tern", "rings", PICTURE] {
        assert!(before.text().contains(gone) && !log.text().contains(gone));
    }
    assert_eq!(log.personal(), []);
    assert_eq!(log.entries().len(), before.entries().len() + 1);
    assert_eq!(standing(&log), [2, 3, 4, 5]);
    assert!(log.text().contains("on her table"));
    assert_eq!(log.clock(), Some("the bracket clock from Quay Street"));

    // It is never taken back, and never only said.
    let undo = log.append(&EntryKind::Undo { of: 5 }, None).unwrap_err();
    assert_eq!(undo.what, LogFaultKind::NotUndone { of: 5 });
    let only_said = EntryKind::Work(Work::Removal {
        emptied: vec![fields(4, &["says"])],
    });
    let refused = log.append(&only_said, None).unwrap_err().what;
    let says = "says".to_owned();
    assert_eq!(
        refused,
        LogFaultKind::NotEmptied {
            of: 4,
            field: says.clone()
        }
    );
    // Nor does it name what is not there, or what cannot be emptied.
    let what = |fault: LogFault| fault.what;
    let twice = log.remove(&[fields(4, &["owner"])], None).map_err(what);
    let field = "owner".to_owned();
    assert_eq!(twice, Err(LogFaultKind::NotEmptied { of: 4, field }));
    let kind = log.remove(&[fields(4, &["kind"])], None);
    assert!(kind.is_err());
    for nowhere in [0, 6] {
        let refused = log.remove(&[fields(nowhere, &["says"])], None);
        assert!(matches!(
            refused.map_err(what),
            Err(LogFaultKind::PointsNowhere { .. })
        ));
    }
    log.remove(&[fields(4, &["says"])], None).unwrap();
    assert!(!log.text().contains("a note"));
}

#[test]
fn what_the_log_comes_to() {
    let mut log = begun();
    let mut enter = |kind: Work| {
        log.append(&EntryKind::Work(kind), None).unwrap();
        let sheet = log
            .sheet()
            .map(|sheet| (sheet.n, sheet.text.to_owned(), sheet.hash.to_owned()));
        (log.stage(), log.handed_back(), sheet, log.matches("5f0c"))
    };
    assert_eq!(enter(intake("Ada Tern")), (Stage::In, false, None, true));
    let to = Stage::Down;
    assert_eq!(enter(Work::Stage { to }), (Stage::Down, false, None, true));
    let sheet = Work::Sheet {
        text: "text".to_owned(),
        hash: "0a".to_owned(),
    };
    let known = Some((3, "text".to_owned(), "0a".to_owned()));
    assert_eq!(enter(sheet), (Stage::Down, false, known.clone(), false));
    let home = Work::HandedBack {
        to: None,
        says: None,
    };
    assert_eq!(enter(home), (Stage::Down, true, known.clone(), false));
    assert_eq!(
        enter(intake("Ada Tern")),
        (Stage::Down, false, known, false)
    );
    log.append(&EntryKind::Undo { of: 3 }, None).unwrap();
    assert!(log.sheet().is_none() && log.matches("5f0c"));
}

#[test]
fn as_it_stood_on_a_day() {
    let mut log = begun();
    let written = [
        Some("2026-03-02 after tea"),
        None,
        Some("1970-01-01"),
        Some("2026-03-04"),
        Some("some day"),
        Some("2026-03-03"),
        Some("2026-03-06"),
    ];
    for at in written {
        log.append(&note("x"), at).unwrap();
    }
    let by = |day: &str| log.entries_by(Day::parse(day).unwrap());
    assert_eq!(by("2026-03-01"), 0);
    assert_eq!(by("2026-03-02"), 3);
    assert_eq!(by("2026-03-03"), 3);
    assert_eq!(by("2026-03-04"), 6);
    assert_eq!(by("2026-03-05"), 6);
    assert_eq!(by("9999-12-31"), 7);
    let then = log.as_it_stood(3);
    assert_eq!(then.entries(), &log.entries()[..3]);
    assert_eq!(Log::read(then.text().as_bytes()), Ok((then, vec![])));
    assert_eq!(log.as_it_stood(99), log);
}

#[test]
fn days_are_those_of_the_calendar() {
    for none in [
        "2026-00-01",
        "2026-13-01",
        "2026-04-31",
        "1900-02-29",
        "0000-01-01",
        "2026-1-01",
        "+026-01-01",
        "2026-01-01 ",
    ] {
        assert_eq!(Day::parse(none), None, "{none}");
    }
    for day in ["2000-02-29", "0001-01-01", "9999-12-31"] {
        assert_eq!(Day::parse(day).unwrap().to_string(), day);
    }
}

proptest! {
    #[test]
    fn what_is_removed_is_gone_and_the_rest_as_it_was(works in vec(made_up::work(), 1..12)) {
        let mut log = begun();
        for work in &works {
            log.append(&EntryKind::Work(work.clone()), None).unwrap();
        }
        let before = log.clone();
        let personal = log.personal();
        if personal.is_empty() {
            return Ok(());
        }
        let removed = log.remove(&personal, None).unwrap();
        prop_assert_eq!(log.personal(), []);
        let touched: Vec<usize> = removed.emptied.iter().map(|(n, _)| *n).collect();
        for (line, n) in before.text().lines().zip(0..) {
            let now = log.text().lines().nth(n).unwrap();
            if touched.contains(&n) {
                prop_assert!(now.matches("null").count() > line.matches("null").count());
            } else {
                prop_assert_eq!(now, line);
            }
        }
        prop_assert_eq!(Log::read(log.text().as_bytes()), Ok((log, vec![])));
    }
}

#[test]
fn a_choice_is_read_by_the_word_that_a_line_has_for_it() {
    fn read<T: serde::de::DeserializeOwned>(word: &str) -> T {
        serde_json::from_value(word.into()).unwrap()
    }
    for stage in Stage::ALL {
        assert_eq!(read::<Stage>(stage.word()), stage);
    }
    for unit in Unit::ALL {
        assert_eq!(read::<Unit>(unit.word()), unit);
    }
    for when in Occasion::ALL {
        assert_eq!(read::<Occasion>(when.word()), when);
    }
}
