//! Words and units as they are asked for and chosen. Plain requests, word for word.

use crate::served::{Answer, Served, ask, form, serve};

fn get(served: &Served, path: &str, headers: &str) -> Answer {
    let request = format!(
        "GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{}\r\n{headers}Connection: close\r\n\r\n",
        served.port
    );
    ask(served.v4(), &request)
}

#[test]
fn a_browser_is_answered_in_the_language_it_asks_for() {
    let served = serve(&[]);
    for (headers, tag, says) in [
        ("", "en-GB", "What do I do?"),
        (
            "Accept-Language: en-US,en;q=0.9\r\n",
            "en-US",
            "What do I do?",
        ),
        (
            "Accept-Language: fr, de-CH;q=0.8, en;q=0.5\r\n",
            "de",
            "Was tue ich?",
        ),
        (
            "Accept-Language: de\r\nCookie: words=en.british.mm\r\n",
            "en-GB",
            "What do I do?",
        ),
        (
            "Accept-Language: de\r\nCookie: words=nonsense\r\n",
            "de",
            "Was tue ich?",
        ),
        (
            "Cookie: a=b; words=de.american.in\r\n",
            "de",
            "Was tue ich?",
        ),
    ] {
        let page = get(&served, "/job/1", headers).body;
        assert!(
            page.contains(&format!("<html lang=\"{tag}\">")),
            "{headers}"
        );
        assert!(page.contains(says), "{headers}");
    }
}

#[test]
fn what_is_chosen_is_kept_and_words_follow_the_trade() {
    let served = serve(&[]);
    let chosen = [("language", "en"), ("usage", "american"), ("units", "in")];
    let kept = served.post("/settings", &chosen);
    assert_eq!((kept.status, kept.header("location")), (303, Some("/")));
    let cookie = kept.header("set-cookie").expect("a cookie");
    assert!(
        cookie.starts_with("words=en.american.in; Path=/;"),
        "{cookie}"
    );
    assert!(cookie.contains("SameSite=Strict") && cookie.contains("HttpOnly"));
    let american = get(&served, "/settings", "Cookie: words=en.american.in\r\n").body;
    assert!(american.contains("lang=\"en-US\"") && american.contains("Millimeters"));
    assert!(
        american.contains("value=\"in\" checked"),
        "inches stay chosen"
    );
    let british = get(&served, "/settings", "Cookie: words=en.british.mm\r\n").body;
    assert!(british.contains("lang=\"en-GB\"") && british.contains("Millimetres"));
    assert!(
        !british.contains("Test language"),
        "only for those who have it"
    );
    // What is no choice changes nothing.
    let odd = served.post(
        "/settings",
        &[("language", "\r\nset-cookie: a=b"), ("units", "ell")],
    );
    let cookie = odd.header("set-cookie").expect("a cookie");
    assert!(cookie.starts_with("words=en.british.mm;"), "{cookie}");
    assert_eq!(odd.head.matches("et-cookie").count(), 1);
}

#[test]
fn a_stranger_is_refused_in_words_and_chooses_nothing() {
    let served = serve(&[]);
    let body = form(&[("language", "de")]);
    let forged = format!(
        "POST /settings HTTP/1.1\r\nHost: 127.0.0.1:{}\r\nOrigin: http://bench.example\r\nCookie: words=de.british.mm\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\nConnection: close\r\n\r\n{body}",
        served.port,
        body.len()
    );
    let refused = ask(served.v4(), &forged);
    assert_eq!(refused.status, 403);
    assert!(refused.body.starts_with("Abgelehnt:"), "{}", refused.body);
    assert_eq!(refused.header("set-cookie"), None);
}

#[test]
fn german_readings_are_typed_and_refused_in_german() {
    let served = serve(&[]);
    let body = form(&[("entries", "0"), ("slot.deg", "hoch")]);
    let request = format!(
        "POST /job/1/saw HTTP/1.1\r\nHost: 127.0.0.1:{0}\r\nOrigin: http://127.0.0.1:{0}\r\nCookie: words=de.british.mm\r\n\
         Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {1}\r\nConnection: close\r\n\r\n{body}",
        served.port,
        body.len()
    );
    let refused = ask(served.v4(), &request);
    assert_eq!(refused.status, 422);
    let says = "die Ablesung `slot=hoch` hat `hoch` nach `=`; erwartet werden Grad";
    assert!(refused.body.contains(says), "{}", refused.body);
}

#[test]
fn a_length_is_told_as_it_was_read_and_in_the_unit_that_was_chosen() {
    let served = serve(&[]);
    for (n, what, value, unit) in [
        ("0", "pinion", "8.20", "mm"),
        ("1", "strip", "0.3230", "in"),
    ] {
        let fields = [
            ("entries", n),
            ("kind", "measurement"),
            ("what", what),
            ("value", value),
            ("unit", unit),
        ];
        assert_eq!(served.post("/job/1/enter", &fields).status, 303);
    }
    let page =
        |path: &str, words: &str| get(&served, path, &format!("Cookie: words={words}\r\n")).body;
    for path in ["/job/1/way", "/job/1/record/whole"] {
        // 8.20 / 25.4 = 0.32283; 0.3230 times 25.4 = 8.2042.
        let inch = page(path, "en.american.in");
        assert!(inch.contains("pinion: 8.20 mm (0.3228\u{a0}in)."), "{path}");
        assert!(inch.contains("strip: 0.3230 in."), "{path}");
        let metric = page(path, "en.british.mm");
        assert!(metric.contains("pinion: 8.20 mm."), "{path}");
        assert!(
            metric.contains("strip: 0.3230 in (8.204\u{a0}mm)."),
            "{path}"
        );
    }
    // The bar stands under a drawing to scale: one on which every mesh is measured.
    for ((mesh, mm), n) in crate::printed::CENTRES.into_iter().zip(2..) {
        let n = n.to_string();
        let fields = [
            ("entries", n.as_str()),
            ("kind", "measurement"),
            ("what", mesh),
            ("value", mm),
            ("unit", "mm"),
        ];
        assert_eq!(served.post("/job/1/enter", &fields).status, 303);
    }
    let bar = page("/job/1/record/whole", "en.american.in");
    assert!(bar.contains("This bar is 1.969\u{a0}in long."));
    // A bush is a bushing across the water.
    assert!(page("/job/1/way?stage=look", "en.british.mm").contains("which holes want a bush."));
    assert!(
        page("/job/1/way?stage=look", "en.american.mm").contains("which holes want a bushing.")
    );
}

#[test]
fn what_the_sums_say_stands_at_its_stage_and_what_they_cannot_is_said() {
    let served = serve(&[]);
    let mantel = include_str!("../../../../movements/mantel.toml");
    let begun = served.post("/jobs", &[("sheet", mantel), ("complaint", "stops")]);
    assert_eq!(begun.header("location"), Some("/job/2/way"));
    let known = |job: u8, stage: &str| {
        let page = served.get(&format!("/job/{job}/way?stage={stage}")).body;
        let from = page.find("id=\"known\"").expect("what is known");
        page[from..]
            .split("</section>")
            .next()
            .unwrap_or_default()
            .to_owned()
    };
    // The schoolroom clock's springs and pendulum are not on its sheet; the mantel clock's are.
    let down = known(2, "down");
    assert_eq!(
        down.matches("let down there is still about").count(),
        2,
        "{down}"
    );
    assert!(known(1, "down").contains("is not known"));
    assert!(!known(2, "rate").contains("is not known"));
    assert!(known(1, "rate").contains("is not known"));
    assert!(known(2, "together").contains("Oil goes to 23 places"));
}
