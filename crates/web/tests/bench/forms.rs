//! Forms and files that are not as they should be: one clear answer each, and nothing lost.

use crate::served::{Served, ask, serve, serve_on};
use entries::Day;
use std::io::{Read, Write};
use std::net::{Shutdown, TcpStream};

/// Sends the beginning of a request and says no more; the status of the answer, and all of it.
fn broken_off(served: &Served, request: &str) -> (u16, String) {
    let mut stream = TcpStream::connect(served.v4()).expect("it listens");
    stream.write_all(request.as_bytes()).expect("sent");
    stream.shutdown(Shutdown::Write).expect("ended");
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("answered");
    let answer = String::from_utf8_lossy(&answer).into_owned();
    let status = answer.split(' ').nth(1).and_then(|s| s.parse().ok());
    (status.unwrap_or(0), answer)
}

fn head(served: &Served, path: &str, kind: &str, bytes: usize) -> String {
    format!(
        "POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\nContent-Type: {kind}\r\n\
         Content-Length: {bytes}\r\nConnection: close\r\n\r\n",
        served.port
    )
}

const PLAIN: &str = "application/x-www-form-urlencoded";
const PARTS: &str = "multipart/form-data; boundary=a-line";

#[test]
fn a_form_of_parts_that_is_cut_short_is_a_bad_request_and_nothing_is_entered() {
    let served = serve(&[]);
    let entries = served.entries("/job/1/way");
    let part = |name: &str, value: &str| {
        format!("--a-line\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n{value}\r\n")
    };
    let whole = [
        part("entries", &entries),
        part("when", "before"),
        part("picture", "none"),
        "--a-line--\r\n".to_owned(),
    ]
    .concat();
    // As long as it says it is, and without its end; and no form at all.
    for cut in [
        &whole[..whole.len() - 14],
        &whole[..60],
        "--a-line\r\nnothing",
        "nothing",
    ] {
        for path in ["/job/1/picture", "/job/1/listen"] {
            let request = head(&served, path, PARTS, cut.len()) + cut;
            let answer = ask(served.v4(), &request);
            assert_eq!(answer.status, 400, "{path}: {cut:?}: {}", answer.body);
            assert!(
                answer.body.contains("Nothing was entered; send it again"),
                "{}",
                answer.body
            );
        }
    }
    for kind in ["multipart/form-data", "text/plain"] {
        let answer = ask(
            served.v4(),
            &(head(&served, "/job/1/picture", kind, 3) + "a=b"),
        );
        assert!(
            matches!(answer.status, 400 | 415),
            "{kind}: {}",
            answer.status
        );
    }
    assert_eq!(served.entries("/job/1/way"), entries);
}

#[test]
fn a_plain_form_that_breaks_off_is_not_entered() {
    let served = serve(&[]);
    let entries = served.entries("/job/1/way");
    let body = format!("entries={entries}&kind=note&says=a note that was cut sho");
    let (status, answer) = broken_off(
        &served,
        &[head(&served, "/job/1/enter", PLAIN, 400), body].concat(),
    );
    assert_eq!(status, 400, "{answer}");
    let (status, _) = broken_off(
        &served,
        &(head(&served, "/job/1/picture", PARTS, 400) + "--a-line\r\n"),
    );
    assert_eq!(status, 400);
    assert_eq!(served.entries("/job/1/way"), entries);
    // Of another kind than a form, or no text.
    for (kind, body) in [("text/plain", "a=b"), (PLAIN, "%FF%FE=%FF")] {
        let answer = ask(
            served.v4(),
            &(head(&served, "/job/1/enter", kind, body.len()) + body),
        );
        assert!(
            (400..500).contains(&answer.status),
            "{kind}: {}",
            answer.status
        );
    }
    assert_eq!(served.entries("/job/1/way"), entries);
}

#[test]
fn where_a_form_leads_on_to_is_written_in_plain_signs() {
    let served = serve(&[]);
    for nasty in [
        "1\r\nSet-Cookie: a=b",
        "größer & kleiner?#",
        "\u{202e}x",
        "100 %",
        "/../..//evil.example",
    ] {
        for fields in [
            [("turn", "plate"), ("slot.deg", nasty)],
            [("back", "strike"), ("bend", nasty)],
            [("turn", "over"), ("step", nasty)],
        ] {
            let fields = [&fields[..], &[("bend-by", "1")]].concat();
            let answer = served.post("/job/1/view", &fields);
            assert_eq!(answer.status, 303, "{}", answer.body);
            let to = answer.header("location").expect("on to another page");
            assert!(to.starts_with("/job/1"), "{to}");
            assert!(to.bytes().all(|b| b.is_ascii_graphic()), "{to}");
            assert!(answer.header("set-cookie").is_none());
        }
        let stopped = served.post("/job/1/counts/stop", &[("must", nasty), (nasty, "x")]);
        let to = stopped.header("location").expect("on").to_owned();
        assert!(to.bytes().all(|b| b.is_ascii_graphic()), "{to}");
    }
}

#[test]
fn a_page_of_another_site_changes_nothing_by_leading_here() {
    let other = include_str!("../../../../movements/mantel.toml");
    let served = serve(&[]);
    let put_on = served.post("/jobs", &[("sheet", other)]);
    assert_eq!(put_on.header("location"), Some("/job/2"));
    let current = || {
        served
            .get("/")
            .header("location")
            .expect("a job")
            .to_owned()
    };
    let get = |more: &str| {
        let port = served.port;
        let request = format!(
            "GET /job/1 HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\n{more}Connection: close\r\n\r\n"
        );
        ask(served.v4(), &request).status
    };
    assert_eq!(current(), "/job/2");
    let port = served.port;
    for foreign in [
        "Sec-Fetch-Site: cross-site\r\n".to_owned(),
        "Sec-Fetch-Site: same-site\r\n".to_owned(),
        "Sec-Fetch-Site: cross-site\r\nReferer: http://bench.example/\r\n".to_owned(),
        "Referer: http://bench.example/job/1\r\n".to_owned(),
        format!("Referer: http://127.0.0.1:{port}.bench.example/\r\n"),
        format!("Referer: https://127.0.0.1:{port}/\r\n"),
    ] {
        assert_eq!(get(&foreign), 200, "{foreign}: it may be looked at");
        assert_eq!(current(), "/job/2", "{foreign}");
    }
    assert_eq!(get("Origin: http://bench.example\r\n"), 403);
    assert_eq!(current(), "/job/2");
    for own in [
        "Sec-Fetch-Site: same-origin\r\n".to_owned(),
        "Sec-Fetch-Site: none\r\n".to_owned(),
        format!("Referer: http://127.0.0.1:{port}/jobs\r\n"),
        String::new(),
    ] {
        assert_eq!(served.get("/job/2").status, 200);
        assert_eq!(current(), "/job/2");
        assert_eq!(get(&own), 200);
        assert_eq!(current(), "/job/1", "{own}");
    }
}

/// Every page of a job that may go by the day.
const PAGES: [&str; 10] = [
    "/jobs",
    "/job/1",
    "/job/1/way",
    "/job/1/way?by=2026-11-29",
    "/job/1/oil",
    "/job/1/pendulum",
    "/job/1/record",
    "/job/1/record/whole",
    "/search?for=clock",
    "/job/1/way?stage=out",
];

#[test]
fn a_clock_of_another_age_does_no_harm_and_is_told() {
    /// A clock, the day it tells, and whether that is odd.
    type Clock = (fn() -> Option<Day>, &'static str, bool);
    let days: [Clock; 5] = [
        (|| Day::parse("0001-01-01"), "0001-01-01", true),
        (|| Day::parse("1969-12-31"), "1969-12-31", true),
        (|| Day::parse("2026-11-29"), "2026-11-29", false),
        (|| Day::parse("2101-01-01"), "2101-01-01", true),
        (|| Day::parse("9999-12-31"), "9999-12-31", true),
    ];
    for (today, day, odd) in days {
        let served = serve_on(&[], today);
        let note = [("entries", "0"), ("kind", "note"), ("says", "it ticks")];
        assert_eq!(served.post("/job/1/enter", &note).status, 303, "{day}");
        for page in PAGES {
            let answer = served.get(page);
            assert!(
                matches!(answer.status, 200 | 303),
                "{day}: {page}: {}",
                answer.body
            );
        }
        let told = format!("clock says {day}: set it");
        assert_eq!(served.get("/jobs").body.contains(&told), odd, "{day}");
        assert!(
            served.get("/job/1/record/whole").body.contains("it ticks"),
            "{day}"
        );
    }
    let served = serve_on(&[], || None);
    for page in PAGES {
        assert!(matches!(served.get(page).status, 200 | 303), "{page}");
    }
}

#[test]
fn a_text_is_taken_as_long_as_the_form_lets_it_be_and_no_longer() {
    let served = serve(&[]);
    let page = served.get("/job/1/way").body;
    let most: usize = (page.split("maxlength=\"").skip(1))
        .filter_map(|after| after.split('"').next()?.parse().ok())
        .max()
        .expect("a bound");
    let send = |says: &str| {
        let entries = served.entries("/job/1/way");
        let fields = [("entries", &*entries), ("kind", "note"), ("says", says)];
        served.post("/job/1/enter", &fields)
    };
    // A bell is two of what browsers count.
    for fits in ["ö".repeat(most), "\u{1f514}".repeat(most / 2)] {
        assert_eq!(send(&fits).status, 303);
    }
    let before = served.entries("/job/1/way");
    for long in ["ö".repeat(most + 1), "\u{1f514}".repeat(most / 2) + "x"] {
        let refused = send(&long);
        assert_eq!(refused.status, 422);
        let told = format!(
            "{} characters are more than the {most} that are taken",
            most + 1
        );
        assert!(refused.body.contains(&told), "{told}");
        assert!(
            refused.body.contains(&long),
            "what was typed is there still"
        );
    }
    assert_eq!(served.entries("/job/1/way"), before);
}

/// A shift that nobody advised: what was typed stands there again where it is refused, so that no other mesh is taken for it.
#[test]
fn a_shift_that_is_refused_stands_there_as_it_was_typed() {
    let served = serve(&[]);
    let mesh = "third.wheel>fourth.pinion";
    for (teeth, typed) in [
        ("1,5", "1,5"),
        ("0", "0"),
        ("12 teeth", "12 teeth"),
        (" ", ""),
    ] {
        let fields = [("entries", "0"), ("mesh", mesh), ("teeth", teeth)];
        let answer = served.post("/job/1/did", &fields);
        assert_eq!(answer.status, 422, "{teeth}: {}", answer.body);
        let chosen = r#"<option value="third.wheel&gt;fourth.pinion" selected>"#;
        assert!(answer.body.contains(chosen), "{teeth}: {}", answer.body);
        let field = match typed {
            "" => r#"name="teeth" size="4" required"#.to_owned(),
            typed => format!(r#"name="teeth" size="4" value="{typed}" required"#),
        };
        assert!(answer.body.contains(&field), "{field}: {}", answer.body);
        assert!(!answer.body.contains("DRIVER"), "{}", answer.body);
    }
    assert_eq!(served.entries("/job/1"), "0");
}

#[test]
fn a_full_job_says_so_and_keeps_what_it_holds() {
    let served = serve(&[]);
    let sheet = include_str!("../../../../movements/schoolroom.toml");
    // A sheet may have a megabyte, and a log eight of them.
    let large = format!("{sheet}\n# {}\n", "x".repeat((1 << 20) - sheet.len() - 10));
    let mut entered = 0;
    let refused = loop {
        let entries = served.entries("/job/1/way");
        let fields = [("entries", &*entries), ("stage", "in"), ("sheet", &*large)];
        let answer = served.post("/job/1/sheet", &fields);
        if answer.status != 303 {
            break answer;
        }
        entered += 1;
        assert!(entered < 10, "it is bounded");
    };
    assert!(entered >= 6, "{entered}");
    assert_eq!(refused.status, 422);
    assert!(
        refused
            .body
            .contains("log is full: it holds 8 megabytes at most. Nothing was entered"),
        "{}",
        refused.body.len()
    );
    assert_eq!(served.entries("/job/1/way"), entered.to_string());
    assert_eq!(served.get("/job/1").status, 200);
}

#[test]
fn a_photograph_that_is_cut_short_is_refused_and_its_whole_is_kept() {
    let mut jpeg = std::io::Cursor::new(Vec::new());
    let picture = image::RgbImage::from_fn(300, 200, |x, y| {
        let [a, b] = [x, y].map(|n| u8::try_from(n % 256).unwrap_or(0));
        image::Rgb([a, b, 9])
    });
    picture
        .write_to(&mut jpeg, image::ImageFormat::Jpeg)
        .expect("packed");
    let jpeg = jpeg.into_inner();
    let served = serve(&[]);
    for part in [jpeg.len() / 2, jpeg.len() - 200, jpeg.len() - 2] {
        let fields = [("entries", "0"), ("when", "before")];
        let answer = served.upload("/job/1/picture", &fields, &jpeg[..part]);
        assert_eq!(answer.status, 422, "{part}");
        assert!(
            answer.body.contains("cut short: its end is missing"),
            "{part}"
        );
    }
    assert_eq!(served.entries("/job/1/way"), "0");
    let fields = [("entries", "0"), ("when", "before")];
    assert_eq!(served.upload("/job/1/picture", &fields, &jpeg).status, 303);
}
