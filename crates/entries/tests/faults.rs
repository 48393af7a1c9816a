//! Every way in which a log is refused, with its place.

use entries::{
    EntryKind, ExpectedField, Log, LogFault, LogFaultKind, LogHeader, LogPlace, LogWarning,
    MOST_BYTES,
};

const FIRST: &str = r#"{"trundle_log":1,"sheet":"Quay Street","hash":"0a"}"#;

/// The fault of a log whose further lines are these, each with its end.
fn refused(further: &[&str]) -> LogFault {
    let mut text = format!("{FIRST}\n");
    for line in further {
        text.push_str(line);
        text.push('\n');
    }
    Log::read(text.as_bytes()).expect_err(&text)
}

fn line(line: usize, what: LogFaultKind) -> LogFault {
    let place = LogPlace::Line { line };
    LogFault { place, what }
}

fn column(line: usize, column: usize, what: LogFaultKind) -> LogFault {
    let place = LogPlace::Column { line, column };
    LogFault { place, what }
}

/// A fault of a field whose value begins right after `before`.
fn field(line: usize, before: &str, field: &str, what: LogFaultKind) -> LogFault {
    let place = LogPlace::Field {
        line,
        column: before.chars().count() + 1,
        field: field.to_owned(),
    };
    LogFault { place, what }
}

fn wrong(got: &str, expected: ExpectedField) -> LogFaultKind {
    let got = got.to_owned();
    LogFaultKind::Wrong { got, expected }
}

#[test]
fn what_is_no_text_of_a_log() {
    let whole = |what| LogFault {
        place: LogPlace::Text,
        what,
    };
    let fault = |bytes: &[u8]| Log::read(bytes).unwrap_err();
    assert_eq!(fault(b""), whole(LogFaultKind::Empty));
    assert_eq!(fault("\u{feff}\r\n".as_bytes()), whole(LogFaultKind::Empty));
    let bytes = MOST_BYTES + 1;
    assert_eq!(
        fault(&vec![b' '; bytes]),
        whole(LogFaultKind::TooLong { bytes })
    );
    assert_eq!(
        Log::read(&vec![b' '; MOST_BYTES]).unwrap_err(),
        whole(LogFaultKind::Empty)
    );
    assert_eq!(fault(b"sheet = 1\n"), line(1, LogFaultKind::NoHeader));
    assert_eq!(fault(b"sheet = 1"), line(1, LogFaultKind::NoHeader));
    assert_eq!(fault(b"[1]\n"), line(1, LogFaultKind::NoHeader));
    assert_eq!(
        fault(b"{\"n\":1,\"kind\":\"struck\",\"hour\":3}\n"),
        line(1, LogFaultKind::NoHeader)
    );
    assert_eq!(
        fault(b"{\"trundle_log\":1,\"she"),
        line(1, LogFaultKind::HeaderTorn)
    );
    assert_eq!(fault(b"\x89PNG\r\n"), column(1, 1, LogFaultKind::NotUtf8));
    let mut text = format!("{FIRST}\n{{\"kö").into_bytes();
    text.extend(b"\xff\":1}\n");
    assert_eq!(fault(&text), column(2, 5, LogFaultKind::NotUtf8));
}

#[test]
fn a_first_line_that_is_wrong() {
    let fault = |text: &str| Log::read(text.as_bytes()).unwrap_err();
    assert_eq!(
        fault("{\"trundle_log\":2,\"titel\":\"?\"}\n"),
        field(
            1,
            "{\"trundle_log\":",
            "trundle_log",
            LogFaultKind::OtherVersion { got: 2 }
        )
    );
    assert_eq!(
        fault("{\"trundle_log\":\"1\"}\n"),
        field(
            1,
            "{\"trundle_log\":",
            "trundle_log",
            wrong("\"1\"", ExpectedField::Count)
        )
    );
    assert_eq!(
        fault("{\"trundle_log\":1,\"sheet\":\"Quay Street\"}\n"),
        field(1, "", "hash", LogFaultKind::Missing)
    );
    assert_eq!(
        fault("{\"trundle_log\":1 \"sheet\":\"\"}\n"),
        column(1, 18, LogFaultKind::NotJson)
    );
    assert_eq!(
        fault(&FIRST.replace("\"hash\":", "\"bells\":2,\"hash\":")),
        field(
            1,
            "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"bells\":",
            "bells",
            LogFaultKind::Stray
        )
    );
}

#[test]
fn a_line_that_is_no_object() {
    assert_eq!(
        refused(&[r#"{"n":1,"kind":"rüber",,"#]),
        column(2, 23, LogFaultKind::NotJson)
    );
    assert_eq!(
        refused(&[r#"{"n":1,"kind":"struck","hour":3"#]),
        column(2, 31, LogFaultKind::NotJson)
    );
    // Well formed, but half a letter makes no name.
    assert_eq!(
        refused(&[r#"{"n":1,"kind":"shift","meshes":[{"\ud800":1}]}"#]),
        column(2, 41, LogFaultKind::NotJson)
    );
    assert_eq!(refused(&["17"]), line(2, LogFaultKind::NotAnObject));
    assert_eq!(
        refused(&[r#"{"n":1,"kind":"struck","hour":3}"#, "", "{}"]),
        line(3, LogFaultKind::Blank)
    );
}

#[test]
fn a_number_that_is_not_the_next() {
    let struck = |n: &str| format!(r#"{{"n":{n},"kind":"struck","hour":3}}"#);
    let out = |got, expected| LogFaultKind::OutOfOrder { got, expected };
    let of_line = |number, what| field(number, "{\"n\":", "n", what);
    assert_eq!(refused(&[&struck("0")]), of_line(2, out(0, 1)));
    assert_eq!(
        refused(&[&struck("1"), &struck("1")]),
        of_line(3, out(1, 2))
    );
    assert_eq!(
        refused(&[&struck("1"), &struck("3"), &struck("2")]),
        of_line(3, out(3, 2))
    );
    assert_eq!(
        refused(&[&struck("18446744073709551615")]),
        of_line(2, out(u64::MAX, 1))
    );
    for bad in ["-1", "1.0", "\"1\"", "null"] {
        assert_eq!(
            refused(&[&struck(bad)]),
            of_line(2, wrong(bad, ExpectedField::Count))
        );
    }
}

#[test]
fn a_pointer_at_nothing() {
    let shift = r#"{"n":1,"kind":"shift","mesh":"a.b>c.d","teeth":2}"#;
    for kind in ["undo", "other_way"] {
        let before = format!("{{\"n\":2,\"kind\":\"{kind}\",\"of\":");
        for of in [0, 2, 3, u64::MAX] {
            assert_eq!(
                refused(&[shift, &format!("{before}{of}}}"), &shift.replace('1', "3")]),
                field(3, &before, "of", LogFaultKind::PointsNowhere { of, n: 2 })
            );
        }
    }
    let struck = r#"{"n":1,"kind":"struck","hour":3}"#;
    let before = r#"{"n":2,"kind":"other_way","of":"#;
    for first in [struck, r#"{"n":1,"kind":"rang"}"#] {
        assert_eq!(
            refused(&[first, &format!("{before}1}}")]),
            field(3, before, "of", LogFaultKind::NotAShift { of: 1 })
        );
    }
}

/// Each line is the first entry; the value that is wrong stands between the angle marks.
#[test]
fn a_value_that_cannot_be() {
    let words = |words: &[&'static str]| ExpectedField::OneOf(words.to_vec());
    let nines = format!(
        r#"{{"n":1,"kind":"bent","witness":"slot","deg":«"{}"»}}"#,
        "9".repeat(61)
    );
    let cases = [
        (
            r#"{"n":1,"at":«5»,"kind":"struck","hour":3}"#,
            "at",
            ExpectedField::Text,
        ),
        (r#"{"n":1,"kind":«7»}"#, "kind", ExpectedField::Text),
        (
            r#"{"n":1,"kind":"struck","hour":«0»}"#,
            "hour",
            ExpectedField::Hour,
        ),
        (
            r#"{"n":1,"kind":"struck","hour":«13»}"#,
            "hour",
            ExpectedField::Hour,
        ),
        (
            r#"{"n":1,"kind":"struck","hour":«"3"»}"#,
            "hour",
            ExpectedField::Hour,
        ),
        (
            r#"{"n":1,"kind":"stood","hours":«0»,"readings":[{"witness":"slot","deg":"0"}]}"#,
            "hours",
            ExpectedField::Hours,
        ),
        (
            r#"{"n":1,"kind":"stood","hours":«"12"»,"readings":[{"witness":"slot","deg":"0"}]}"#,
            "hours",
            ExpectedField::Hours,
        ),
        (
            r#"{"n":1,"kind":"jumped","arbor":«null»}"#,
            "arbor",
            ExpectedField::Text,
        ),
        (
            r#"{"n":1,"kind":"slipped","mesh":"a.b>c.d","teeth":«0»}"#,
            "teeth",
            ExpectedField::Teeth,
        ),
        (
            r#"{"n":1,"kind":"slipped","mesh":"a.b>c.d","teeth":«1.0»}"#,
            "teeth",
            ExpectedField::Teeth,
        ),
        (
            r#"{"n":1,"kind":"slipped","mesh":"a.b>c.d","teeth":«2147483648»}"#,
            "teeth",
            ExpectedField::Teeth,
        ),
        (
            r#"{"n":1,"kind":"shift","meshes":«[]»}"#,
            "meshes",
            ExpectedField::List,
        ),
        (
            r#"{"n":1,"kind":"shift","meshes":[«"a.b>c.d"»]}"#,
            "meshes",
            ExpectedField::Object,
        ),
        (
            r#"{"n":1,"kind":"bent","witness":"slot","deg":«-1.2»}"#,
            "deg",
            ExpectedField::Decimal,
        ),
        (
            r#"{"n":1,"kind":"bent","witness":"slot","deg":«"1e3"»}"#,
            "deg",
            ExpectedField::Decimal,
        ),
        (&nines, "deg", ExpectedField::Decimal),
        (
            r#"{"n":1,"kind":"turned","witness":"slot","deg":"1","spread":«"0.0"»}"#,
            "spread",
            ExpectedField::Spread,
        ),
        (
            r#"{"n":1,"kind":"turned","witness":"slot","deg":"1","spread":«"-1"»}"#,
            "spread",
            ExpectedField::Spread,
        ),
        (
            r#"{"n":1,"kind":"turned","witness":"slot","deg":"1","spread":«"wide"»}"#,
            "spread",
            ExpectedField::Spread,
        ),
        (
            r#"{"n":1,"kind":"look","tension":«"tight"»}"#,
            "tension",
            words(&["tensioned", "slack", "at-rest"]),
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":«{}»}"#,
            "readings",
            ExpectedField::List,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"slot","look":«"out"»}]}"#,
            "look",
            words(&["in", "edge-short", "edge-ahead", "rim"]),
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"pin","oclock":«"13:00"»,"from":"back"}]}"#,
            "oclock",
            ExpectedField::Oclock,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"pin","oclock":"7:30","from":«"left"»}]}"#,
            "from",
            words(&["front", "back"]),
        ),
    ];
    for (marked, name, expected) in cases {
        let (before, rest) = marked.split_once('«').unwrap();
        let (got, _) = rest.split_once('»').unwrap();
        let text = marked.replace(['«', '»'], "");
        assert_eq!(
            refused(&[&text]),
            field(2, before, name, wrong(got, expected)),
            "{text}"
        );
    }
}

/// Each line is the first entry; the value at fault, or the object that lacks it, begins at the mark.
#[test]
fn a_field_too_few_or_too_many() {
    let twice = |name: &str| LogFaultKind::Twice {
        name: name.to_owned(),
    };
    let cases = [
        (r#"«{"kind":"struck","hour":3}"#, "n", LogFaultKind::Missing),
        (r#"«{"n":1,"hour":3}"#, "kind", LogFaultKind::Missing),
        (r#"«{"n":1,"kind":"struck"}"#, "hour", LogFaultKind::Missing),
        (r#"«{"n":1,"kind":"undo"}"#, "of", LogFaultKind::Missing),
        (
            r#"«{"n":1,"kind":"shift","teeth":2}"#,
            "mesh",
            LogFaultKind::Missing,
        ),
        (
            r#"«{"n":1,"kind":"look","tension":"slack"}"#,
            "readings",
            LogFaultKind::Missing,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[«{"deg":"1"}]}"#,
            "witness",
            LogFaultKind::Missing,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[«{"witness":"pin","teeth":"-2"}]}"#,
            "of",
            LogFaultKind::Missing,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[«{"witness":"pin","oclock":"4"}]}"#,
            "from",
            LogFaultKind::Missing,
        ),
        (
            r#"{"n":1,"kind":"struck","hour":3,"blows":«3}"#,
            "blows",
            LogFaultKind::Stray,
        ),
        (
            r#"{"n":1,"kind":"shift","mesh":«"a.b>c.d","meshes":[{"mesh":"a.b>c.d","teeth":1}]}"#,
            "mesh",
            LogFaultKind::Stray,
        ),
        (
            r#"{"n":1,"kind":"shift","meshes":[{"mesh":"a.b>c.d","teeth":1,"way":«"ahead"}]}"#,
            "way",
            LogFaultKind::Stray,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"slot","deg":"1","look":«"in"}]}"#,
            "look",
            LogFaultKind::Stray,
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"slot","look":"in","spread":«"1"}]}"#,
            "spread",
            LogFaultKind::Stray,
        ),
        (
            r#"{"n":1,"kind":"struck","hour":3,"hour":«4}"#,
            "hour",
            LogFaultKind::Doubled,
        ),
        (
            r#"{"n":1,"kind":"rang","bell":1,"bell":2,"at":"5","at":«"6"}"#,
            "at",
            LogFaultKind::Doubled,
        ),
        (
            r#"{"n":1,"kind":"shift","meshes":[{"mesh":"a.b>c.d","teeth":1},{"mesh":«"a.b>c.d","teeth":1}]}"#,
            "mesh",
            twice("a.b>c.d"),
        ),
        (
            r#"{"n":1,"kind":"look","tension":"slack","readings":[{"witness":"slot","deg":"1"},{"witness":«"slot","look":"in"}]}"#,
            "witness",
            twice("slot"),
        ),
    ];
    for (marked, name, what) in cases {
        let (before, _) = marked.split_once('«').unwrap();
        let text = marked.replace('«', "");
        assert_eq!(refused(&[&text]), field(2, before, name, what), "{text}");
    }
    let before = r#"{"n":1,"kind":"look","tension":"slack","readings":["#;
    assert_eq!(
        refused(&[&format!("{before}{{\"witness\":\"slot\"}}]}}")]),
        column(2, before.len() + 1, LogFaultKind::NotSeen)
    );
}

#[test]
fn a_torn_last_line_is_left_out_and_told() {
    let whole = format!("\u{feff}{FIRST}\r\n{{\"n\":1,\"kind\":\"struck\",\"hour\":3}}\r\n");
    for torn in [
        "{\"n\":2,\"kind\":\"stru",
        "{\"n\":2,\"at\":\"k\u{f6}",
        "\0\0\0",
    ] {
        let bytes = [whole.as_bytes(), torn.as_bytes()].concat();
        // The last byte goes as well, in the second case from within a letter.
        let bytes = &bytes[..bytes.len() - 1];
        let (mut log, warnings) = Log::read(bytes).unwrap();
        let torn = bytes.len() - whole.len();
        let kept = whole.len();
        assert_eq!(
            warnings,
            [LogWarning::TornLine {
                line: 3,
                kept,
                torn
            }]
        );
        assert_eq!(log.text(), whole);
        let added = log.append(&EntryKind::Struck { hour: 4 }, None).unwrap();
        let mended = [&bytes[..kept], added.as_bytes()].concat();
        assert_eq!(Log::read(&mended), Ok((log, vec![])));
    }
}

#[test]
fn a_whole_last_line_is_held_to_account_with_or_without_its_end() {
    let text = format!("{FIRST}\n{{\"n\":1,\"kind\":\"struck\",\"hour\":30}}");
    let fault = Log::read(text.as_bytes()).unwrap_err();
    assert!(matches!(fault.what, LogFaultKind::Wrong { .. }));
}

#[test]
fn what_would_not_read_back_is_not_appended() {
    let mut log = Log::start(LogHeader {
        sheet: "Quay Street".to_owned(),
        hash: "0a".to_owned(),
    });
    log.append(&EntryKind::Struck { hour: 12 }, None).unwrap();
    let before = log.clone();
    let none = EntryKind::Shift(vec![]);
    for (kind, name) in [
        (EntryKind::Struck { hour: 13 }, "hour"),
        (EntryKind::Undo { of: 2 }, "of"),
        (EntryKind::OtherWay { of: 1, mesh: None }, "of"),
        (none, "meshes"),
    ] {
        let fault = log.append(&kind, Some("noon")).unwrap_err();
        assert!(
            matches!(&fault.place, LogPlace::Field { line: 3, field, .. } if field == name),
            "{fault:?}"
        );
        assert_eq!(log, before);
    }
}

#[test]
fn a_log_never_grows_beyond_what_is_read() {
    let hash = "0".repeat(MOST_BYTES - 100);
    let sheet = String::new();
    let mut log = Log::start(LogHeader { sheet, hash });
    // The first line leaves fewer than a hundred bytes, and an entry takes more than thirty.
    let struck = EntryKind::Struck { hour: 1 };
    let fault = (0..4)
        .find_map(|_| log.append(&struck, None).err())
        .unwrap();
    assert!(matches!(fault.what, LogFaultKind::TooLong { bytes } if bytes > MOST_BYTES));
    assert!(log.entries().len() == 1 && log.text().len() <= MOST_BYTES);
    assert_eq!(Log::read(log.text().as_bytes()), Ok((log.clone(), vec![])));
}

#[test]
fn brackets_without_end_are_no_danger() {
    let deep = format!(
        "{FIRST}\n{{\"n\":1,\"kind\":\"rang\",\"bell\":{}\n",
        "[".repeat(1 << 20)
    );
    let fault = Log::read(deep.as_bytes()).unwrap_err();
    assert_eq!(fault.what, LogFaultKind::NotJson);
}
