//! What is written reads back, whatever befalls the text; and what is taken back is as if it had never been.

mod made_up;

use entries::{
    AtMesh, Decimal, Entry, EntryContent, EntryKind, Log, LogFaultKind, LogHeader, LogWarning,
    LoggedPlate, LoggedReading, LoggedSight, LoggedTension, Moved, Oclock, Sight, Work,
};
use proptest::collection::vec;
use proptest::option;
use proptest::prelude::*;
use proptest::sample::{Index, select};

fn header() -> LogHeader {
    LogHeader {
        sheet: "Wren Street “schoolroom”\nclock".to_owned(),
        hash: "5f0c".to_owned(),
    }
}

fn decimal() -> impl Strategy<Value = Decimal> {
    "[+-]?[0-9]{1,4}(\\.[0-9]{0,5})?".prop_map(|text| Decimal::parse(&text).unwrap())
}

fn spread() -> impl Strategy<Value = Option<Decimal>> {
    option::of("[0-9]\\.[0-9]{0,3}[1-9]").prop_map(|s| s.map(|s| Decimal::parse(&s).unwrap()))
}

fn seen() -> impl Strategy<Value = LoggedSight> {
    const SIGHTS: [Sight; 4] = [Sight::In, Sight::EdgeShort, Sight::EdgeAhead, Sight::Rim];
    let oclock = "([1-9]|0[1-9]|1[0-2])(:[0-5][0-9])?".prop_map(|s| Oclock::parse(&s).unwrap());
    prop_oneof![
        (decimal(), spread()).prop_map(|(deg, spread)| LoggedSight::Number { deg, spread }),
        select(&SIGHTS[..]).prop_map(|look| LoggedSight::Look { look }),
        (decimal(), ".{0,9}").prop_map(|(teeth, of)| LoggedSight::Teeth { teeth, of }),
        (oclock, select(&[LoggedPlate::Front, LoggedPlate::Back][..]))
            .prop_map(|(oclock, from)| LoggedSight::Clock { oclock, from }),
        decimal().prop_map(|quarters| LoggedSight::Quarters { quarters }),
        (decimal(), spread()).prop_map(|(notch, spread)| LoggedSight::Notch { notch, spread }),
    ]
}

fn stood() -> impl Strategy<Value = EntryKind> {
    (option::of(1u16..), vec(seen(), 1..4)).prop_map(|(hours, seen)| {
        let reading = |(witness, seen)| LoggedReading {
            witness: format!("witness_{witness}"),
            seen,
        };
        let readings = (1..).zip(seen).map(reading).collect();
        EntryKind::Stood { hours, readings }
    })
}

fn look() -> impl Strategy<Value = EntryKind> {
    let tension = select(
        &[
            LoggedTension::Tensioned,
            LoggedTension::Slack,
            LoggedTension::AtRest,
        ][..],
    );
    (tension, vec(seen(), 1..4)).prop_map(|(tension, seen)| {
        let reading = |(witness, seen)| LoggedReading {
            witness: format!("witness_{witness}"),
            seen,
        };
        let readings = (1..).zip(seen).map(reading).collect();
        EntryKind::Look { tension, readings }
    })
}

fn teeth() -> impl Strategy<Value = i32> {
    any::<i32>().prop_filter("no shift at all", |&teeth| teeth != 0)
}

fn moved() -> impl Strategy<Value = Moved> {
    (".{0,9}", decimal(), spread()).prop_map(|(witness, deg, spread)| Moved {
        witness,
        deg,
        spread,
    })
}

/// Any kind that points at no other entry.
fn says() -> impl Strategy<Value = EntryKind> {
    let shift = vec(teeth(), 1..4).prop_map(|teeth| {
        let at_mesh = |(mesh, teeth)| AtMesh {
            mesh: format!("second.wheel>third.pinion_{mesh}"),
            teeth,
        };
        EntryKind::Shift((1..).zip(teeth).map(at_mesh).collect())
    });
    let slipped = (".{0,9}", teeth());
    let arbor = ".{0,9}";
    prop_oneof![
        look(),
        stood(),
        shift,
        slipped.prop_map(|(mesh, teeth)| EntryKind::Slipped(AtMesh { mesh, teeth })),
        arbor.prop_map(|arbor| EntryKind::Jumped { arbor }),
        moved().prop_map(EntryKind::Bent),
        moved().prop_map(EntryKind::Turned),
        arbor.prop_map(|arbor| EntryKind::ArborOut { arbor }),
        arbor.prop_map(|arbor| EntryKind::ArborIn { arbor }),
        (1..=12u8).prop_map(|hour| EntryKind::Struck { hour }),
        made_up::work().prop_map(EntryKind::Work),
    ]
}

/// A kind, or something that points at the entry chosen from those before it.
#[derive(Debug, Clone)]
enum Step {
    Says(EntryKind),
    Undo(Index),
    OtherWay(Index, Option<Index>),
    Correction(Index),
}

fn step() -> impl Strategy<Value = Step> {
    prop_oneof![
        6 => says().prop_map(Step::Says),
        2 => (any::<Index>(), any::<Option<Index>>()).prop_map(|(at, mesh)| Step::OtherWay(at, mesh)),
        3 => any::<Index>().prop_map(Step::Undo),
        3 => any::<Index>().prop_map(Step::Correction),
    ]
}

/// The kinds that these steps make, in order; a step that finds nothing to point at is passed over.
fn kinds(steps: &[Step]) -> Vec<EntryKind> {
    let mut kinds: Vec<EntryKind> = Vec::new();
    for step in steps {
        let shifts = (1..).zip(&kinds).filter_map(|(n, kind)| match kind {
            EntryKind::Shift(meshes) => Some((n, meshes.clone())),
            _ => None,
        });
        let shifts: Vec<(usize, Vec<AtMesh>)> = shifts.collect();
        let correctable = (1..).zip(&kinds).filter_map(|(n, kind)| match kind {
            EntryKind::Work(Work::Sheet { .. }) => None,
            EntryKind::Work(work) => Some((n, Box::new(work.as_corrected().clone()))),
            _ => None,
        });
        let correctable: Vec<(usize, Box<Work>)> = correctable.collect();
        match step {
            Step::Says(kind) => kinds.push(kind.clone()),
            Step::Undo(at) if !kinds.is_empty() => {
                let of = at.index(kinds.len()) + 1;
                kinds.push(EntryKind::Undo { of });
            }
            Step::OtherWay(at, mesh) if !shifts.is_empty() => {
                let (of, meshes) = at.get(&shifts).clone();
                let mesh = mesh.map(|mesh| mesh.get(&meshes).mesh.clone());
                kinds.push(EntryKind::OtherWay { of, mesh });
            }
            Step::Correction(at) if !correctable.is_empty() => {
                let (of, to) = at.get(&correctable).clone();
                kinds.push(EntryKind::Work(Work::Correction { of, to }));
            }
            Step::Undo(_) | Step::OtherWay(..) | Step::Correction(_) => {}
        }
    }
    kinds
}

/// A log of these kinds, and the text a file would hold.
fn written(kinds: &[EntryKind]) -> (Log, String) {
    let mut log = Log::start(header());
    let mut file = log.text().to_owned();
    for (n, kind) in kinds.iter().enumerate() {
        let at = n.is_multiple_of(2).then(|| format!("{n} past “noon”"));
        file.push_str(&log.append(kind, at.as_deref()).unwrap());
    }
    (log, file)
}

fn standing(log: &Log) -> Vec<usize> {
    log.standing().map(|entry| entry.n).collect()
}

proptest! {
    #[test]
    fn what_is_written_reads_back(steps in vec(step(), 0..20)) {
        let kinds = kinds(&steps);
        let (log, file) = written(&kinds);
        prop_assert_eq!(log.text(), &file);
        let told = |entry: &Entry| entry.told.clone();
        let said: Vec<EntryContent> = kinds.into_iter().map(EntryContent::Known).collect();
        prop_assert_eq!(log.entries().iter().map(told).collect::<Vec<_>>(), said);
        prop_assert_eq!(Log::read(file.as_bytes()), Ok((log, vec![])));
    }

    #[test]
    fn a_text_cut_anywhere_loses_its_last_line_at_most(steps in vec(step(), 0..8), at in any::<Index>()) {
        let (log, file) = written(&kinds(&steps));
        let cut = at.index(file.len() + 1);
        let bytes = &file.as_bytes()[..cut];
        let ended = bytes.iter().filter(|&&byte| byte == b'\n').count();
        match Log::read(bytes) {
            Ok((read, warnings)) => {
                let kept = read.entries().len();
                prop_assert!(kept + 1 == ended || kept == ended);
                prop_assert_eq!(read.entries(), &log.entries()[..kept]);
                prop_assert_eq!(read.text().as_bytes(), &bytes[..read.text().len()]);
                let torn = bytes.len() - read.text().len();
                let line = ended + 1;
                let told = LogWarning::TornLine { line, kept: read.text().len(), torn };
                prop_assert_eq!(warnings, if torn == 0 { vec![] } else { vec![told] });
            }
            Err(fault) => {
                prop_assert_eq!(ended, 0);
                prop_assert_eq!(fault.what, if cut == 0 { LogFaultKind::Empty } else { LogFaultKind::HeaderTorn });
            }
        }
    }

    #[test]
    fn after_a_cut_it_goes_on(steps in vec(step(), 0..8), at in any::<Index>()) {
        let (_, file) = written(&kinds(&steps));
        let first = file.find('\n').unwrap();
        let cut = first + at.index(file.len() + 1 - first);
        let (mut log, _) = Log::read(&file.as_bytes()[..cut]).unwrap();
        let mut mended = log.text().to_owned();
        mended.push_str(&log.append(&EntryKind::Struck { hour: 7 }, None).unwrap());
        prop_assert_eq!(Log::read(mended.as_bytes()), Ok((log, vec![])));
    }

    #[test]
    fn no_bytes_bring_it_down(
        steps in vec(step(), 0..8),
        changes in vec((any::<Index>(), any::<u8>()), 1..6),
    ) {
        let mut bytes = written(&kinds(&steps)).1.into_bytes();
        for (at, byte) in changes {
            *at.get_mut(&mut bytes) = byte;
        }
        if let Ok((log, _)) = Log::read(&bytes) {
            prop_assert_eq!(log.text().as_bytes(), &bytes[..log.text().len()]);
            prop_assert!(log.standing().count() <= log.entries().len());
        }
    }

    #[test]
    fn nor_do_any_at_all(bytes in vec(any::<u8>(), 0..200)) {
        prop_assert!(Log::read(&bytes).is_err());
    }

    /// Undoing an entry leaves what would stand had neither it nor anything that points at it ever been written.
    #[test]
    fn undo_is_exact(steps in vec(step(), 1..20), at in any::<Index>()) {
        let kinds = kinds(&steps);
        prop_assume!(!kinds.is_empty());
        let undone = at.index(kinds.len()) + 1;
        let (mut log, _) = written(&kinds);
        log.append(&EntryKind::Undo { of: undone }, None).unwrap();

        // Numbers in the other log, by number in this one; nothing for what is not written there.
        let mut renumbered = vec![None; kinds.len() + 1];
        let mut other = Vec::new();
        for (n, kind) in (1..).zip(&kinds) {
            let kind = match kind {
                EntryKind::Undo { of } => renumbered[*of].map(|of| EntryKind::Undo { of }),
                EntryKind::OtherWay { of, mesh } => renumbered[*of].map(|of| EntryKind::OtherWay {
                    of,
                    mesh: mesh.clone(),
                }),
                EntryKind::Work(Work::Correction { of, to }) => renumbered[*of].map(|of| {
                    let to = to.clone();
                    EntryKind::Work(Work::Correction { of, to })
                }),
                kind => Some(kind.clone()),
            };
            if let Some(kind) = kind.filter(|_| n != undone) {
                other.push(kind);
                renumbered[n] = Some(other.len());
            }
        }
        let here: Vec<_> = standing(&log).iter().map(|&n| renumbered[n]).collect();
        let there: Vec<_> = standing(&written(&other).0).into_iter().map(Some).collect();
        prop_assert_eq!(here, there);
    }

    #[test]
    fn undoing_an_undo_changes_nothing(steps in vec(step(), 1..20), at in any::<Index>()) {
        let kinds = kinds(&steps);
        prop_assume!(!kinds.is_empty());
        let (mut log, _) = written(&kinds);
        let before = standing(&log);
        let of = at.index(kinds.len()) + 1;
        log.append(&EntryKind::Undo { of }, None).unwrap();
        log.append(&EntryKind::Undo { of: kinds.len() + 1 }, None).unwrap();
        prop_assert_eq!(standing(&log), before);
    }
}

fn shift(teeth: i32) -> EntryKind {
    let mesh = "second.wheel>third.pinion".to_owned();
    EntryKind::Shift(vec![AtMesh { mesh, teeth }])
}

fn other_way(of: usize, mesh: Option<&str>) -> EntryKind {
    let mesh = mesh.map(str::to_owned);
    EntryKind::OtherWay { of, mesh }
}

/// Of one shift: each mesh once, and nothing more once all of it is said to have gone the other way.
#[test]
fn meshes_that_went_the_other_way_count_once() {
    let mut log = Log::start(header());
    let mut step = |kind: EntryKind| {
        log.append(&kind, None).unwrap();
        standing(&log)
    };
    let mesh = |name: &str| AtMesh {
        mesh: name.to_owned(),
        teeth: 1,
    };
    step(EntryKind::Shift(vec![mesh("a.b>c.d"), mesh("c.e>f.g")]));
    assert_eq!(step(other_way(1, Some("c.e>f.g"))), [1, 2]);
    assert_eq!(step(other_way(1, Some("c.e>f.g"))), [1, 2]);
    assert_eq!(step(other_way(1, Some("a.b>c.d"))), [1, 2, 4]);
    assert_eq!(step(other_way(1, None)), [1, 2, 4, 5]);
    assert_eq!(step(other_way(1, Some("a.b>c.d"))), [1, 2, 4, 5]);
    assert_eq!(step(EntryKind::Undo { of: 2 }), [1, 3, 4, 5]);
    assert_eq!(step(EntryKind::Undo { of: 1 }), [] as [usize; 0]);
}

#[test]
fn what_counts_after_each_step() {
    let mut log = Log::start(header());
    let mut step = |kind: EntryKind| {
        log.append(&kind, None).unwrap();
        standing(&log)
    };
    assert_eq!(step(EntryKind::Struck { hour: 9 }), [1]);
    assert_eq!(step(shift(2)), [1, 2]);
    assert_eq!(step(other_way(2, None)), [1, 2, 3]);
    // Taking back the shift takes what was said of it along, and bringing it again brings both.
    assert_eq!(step(EntryKind::Undo { of: 2 }), [1]);
    assert_eq!(step(EntryKind::Undo { of: 4 }), [1, 2, 3]);
    assert_eq!(step(EntryKind::Undo { of: 5 }), [1]);
    assert_eq!(step(EntryKind::Undo { of: 6 }), [1, 2, 3]);
    assert_eq!(step(EntryKind::Undo { of: 3 }), [1, 2]);
    // Said again it counts; said twice it counts once, and taking one of the two back leaves the other.
    assert_eq!(step(other_way(2, None)), [1, 2, 9]);
    assert_eq!(step(other_way(2, None)), [1, 2, 9]);
    assert_eq!(step(EntryKind::Undo { of: 9 }), [1, 2, 10]);
    // What is taken back twice comes again only when both are.
    assert_eq!(step(EntryKind::Undo { of: 1 }), [2, 10]);
    assert_eq!(step(EntryKind::Undo { of: 1 }), [2, 10]);
    assert_eq!(step(EntryKind::Undo { of: 12 }), [2, 10]);
    assert_eq!(step(EntryKind::Undo { of: 13 }), [1, 2, 10]);
}

#[test]
fn each_kind_has_its_line() {
    let d = |text: &str| Decimal::parse(text).unwrap();
    let reading = |witness: &str, seen| LoggedReading {
        witness: witness.to_owned(),
        seen,
    };
    let at_mesh = |mesh: &str, teeth| AtMesh {
        mesh: mesh.to_owned(),
        teeth,
    };
    let moved = |deg, spread| Moved {
        witness: "slot".to_owned(),
        deg,
        spread,
    };
    let arbor = || "fly".to_owned();
    let number = |deg, spread| LoggedSight::Number { deg, spread };
    let of = "second.wheel".to_owned();
    let from = LoggedPlate::Back;
    let oclock = Oclock::parse("7:30").unwrap();
    let cases = [
        (
            EntryKind::Look {
                tension: LoggedTension::Tensioned,
                readings: vec![
                    reading("slot", number(d("-1.20"), Some(d("0.1")))),
                    reading(
                        "star",
                        LoggedSight::Look {
                            look: Sight::EdgeShort,
                        },
                    ),
                    reading("lifts", LoggedSight::Teeth { teeth: d("-2"), of }),
                    reading("pin", LoggedSight::Clock { oclock, from }),
                ],
            },
            concat!(
                r#""kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"-1.20","spread":"0.1"},"#,
                r#"{"witness":"star","look":"edge-short"},{"witness":"lifts","teeth":"-2","of":"second.wheel"},"#,
                r#"{"witness":"pin","oclock":"7:30","from":"back"}]"#
            ),
        ),
        (
            shift(2),
            r#""kind":"shift","mesh":"second.wheel>third.pinion","teeth":2"#,
        ),
        (
            EntryKind::Shift(vec![at_mesh("a.b>c.d", -1), at_mesh("c.e>f.g", 3)]),
            r#""kind":"shift","meshes":[{"mesh":"a.b>c.d","teeth":-1},{"mesh":"c.e>f.g","teeth":3}]"#,
        ),
        (
            EntryKind::OtherWay { of: 2, mesh: None },
            r#""kind":"other_way","of":2"#,
        ),
        (
            EntryKind::OtherWay {
                of: 3,
                mesh: Some("c.e>f.g".to_owned()),
            },
            r#""kind":"other_way","of":3,"mesh":"c.e>f.g""#,
        ),
        (
            EntryKind::Slipped(at_mesh("a.b>c.d", 1)),
            r#""kind":"slipped","mesh":"a.b>c.d","teeth":1"#,
        ),
        (
            EntryKind::Jumped { arbor: arbor() },
            r#""kind":"jumped","arbor":"fly""#,
        ),
        (
            EntryKind::Bent(moved(d("0.50"), None)),
            r#""kind":"bent","witness":"slot","deg":"0.50""#,
        ),
        (
            EntryKind::Turned(moved(d("-3"), Some(d(".5")))),
            r#""kind":"turned","witness":"slot","deg":"-3","spread":".5""#,
        ),
        (
            EntryKind::ArborOut { arbor: arbor() },
            r#""kind":"arbor_out","arbor":"fly""#,
        ),
        (
            EntryKind::ArborIn { arbor: arbor() },
            r#""kind":"arbor_in","arbor":"fly""#,
        ),
        (
            EntryKind::Struck { hour: 12 },
            r#""kind":"struck","hour":12"#,
        ),
        (EntryKind::Undo { of: 7 }, r#""kind":"undo","of":7"#),
    ];
    let mut log = Log::start(header());
    for (n, (kind, line)) in (1..).zip(&cases) {
        let line = format!("{{\"n\":{n},{line}}}\n");
        assert_eq!(log.append(kind, None), Ok(line));
    }
}

/// Order of fields, spaces, a list of one, line ends and strange kinds are kept as they came.
#[test]
fn what_others_wrote_stays_as_it_is() {
    let strange = r#"{ "bell" : [1e999, "\ud800", {"b":1,"b":2}], "kind":"rang", "n":2 }"#;
    let text = format!(
        "\u{feff}{}\r\n{}\r\n{strange}\r\n{}",
        r#" {"hash":"5F0C","trundle_log":1, "sheet":"Quay Street"}"#,
        r#"{"kind":"shift","meshes":[{"teeth":2,"mesh":"second.wheel>third.pinion"}],"at":"","n":1}"#,
        r#"{"n":3,"kind":"undo","of":2}"#,
    );
    let (mut log, warnings) = Log::read(text.as_bytes()).unwrap();
    assert_eq!(warnings, []);
    assert_eq!(log.text(), text);
    assert_eq!(log.header().sheet, "Quay Street");
    assert!(log.matches("5F0C") && !log.matches("5f0c"));
    assert_eq!(log.entries()[0].told, EntryContent::Known(shift(2)));
    assert_eq!(log.entries()[0].at.as_deref(), Some(""));
    let unknown = EntryContent::Unknown {
        kind: "rang".to_owned(),
        line: strange.to_owned(),
    };
    assert_eq!(log.entries()[1].told, unknown);
    assert_eq!(standing(&log), [1]);
    // The last line had no end: what is appended begins with one.
    let added = log.append(&EntryKind::Undo { of: 3 }, None).unwrap();
    assert_eq!(added, "\n{\"n\":4,\"kind\":\"undo\",\"of\":3}\n");
    assert_eq!(log.text(), format!("{text}{added}"));
    assert_eq!(standing(&log), [1, 2]);
}

#[test]
fn hours_on_a_face() {
    for good in ["1", "07", "12:00", "7:05", "10:59"] {
        assert_eq!(Oclock::parse(good).unwrap().text(), good);
    }
    for bad in [
        "", "0", "13", "7:", "7:5", "7:60", "7:005", "+7:30", "7:+5", ":30", "007", "7:30 ", "٧",
    ] {
        assert_eq!(Oclock::parse(bad), None, "{bad}");
    }
}
