//! A movement put on the bench through the page's own requests, with no browser between: what is asked next, what is refused and in which
//! words, and what stands on the sheet.

use crate::served::{Served, part, serve};

/// A movement of some kind is begun, and what it does as a whole is as usual, so that it is counted next: how many entries it took.
pub(crate) fn is_counted(served: &Served, kind: &str) -> usize {
    served.post("/job/2/movement/kind", &[("entries", "1"), ("kind", kind)]);
    loop {
        let page = served.get("/job/2/movement").body;
        let entries = text_in(&page, "name=\"entries\" value=\"");
        let question = text_in(&page, "name=\"question\" value=\"");
        if question.is_empty() {
            return entries.parse().expect("a number");
        }
        let sent = [
            ("entries", &*entries),
            ("question", &*question),
            ("answer", "usual"),
        ];
        assert_eq!(served.post("/job/2/movement/answer", &sent).status, 303);
    }
}

#[test]
fn a_form_that_the_script_sends_is_answered_with_the_page_that_it_leads_to() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let entries = is_counted(&served, "count wheel and cam").to_string();
    let sent = [
        ("entries", &*entries),
        ("at", "great.wheel"),
        ("how", "next"),
        ("count", "84"),
    ];
    let count = "/job/2/movement/count";
    let came = served.post_in_place(count, &sent);
    assert_eq!(came.status, 200);
    let place = came.header("content-location").expect("where it is");
    assert_eq!(place, "/job/2/movement?from=great.wheel");
    assert!(came.body.contains("second</b> arbor"), "what is asked next");
    assert_eq!(came.body, served.get(place).body, "as if it was asked for");
    assert!(came.header("content-security-policy").is_some());
    // What is refused is told at once either way, and stands nowhere else.
    let behind = served.post_in_place(count, &sent);
    assert_eq!(behind.status, 409);
    assert!(behind.header("content-location").is_none());
    // Without the script the browser is sent on.
    let undo = [(
        "entries",
        &*text_in(&came.body, "name=\"entries\" value=\""),
    )];
    let undone = served.post("/job/2/movement/undo", &undo);
    assert_eq!(undone.status, 303);
    assert_eq!(undone.header("location"), Some("/job/2/movement"));
    assert_eq!(undone.body, "");
}

#[test]
fn what_cannot_be_is_said_and_nothing_typed_is_lost() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    served.post(
        "/job/2/movement/kind",
        &[("entries", "1"), ("kind", "count wheel and cam")],
    );
    for odd in ["0", "1001", "3", "x", "7.5", ""] {
        let sent = [
            ("entries", "2"),
            ("at", "great.wheel"),
            ("how", "next"),
            ("count", odd),
        ];
        let answer = served.post("/job/2/movement/count", &sent);
        assert_eq!(answer.status, 422, "{odd}");
        assert!(answer.body.contains("class=\"refused\""), "{odd}");
        if !odd.is_empty() {
            assert!(
                answer.body.contains(&format!("value=\"{odd}\"")),
                "{odd} is still there"
            );
        }
        assert!(
            answer.body.contains("great</b> arbor"),
            "{odd}: it is asked again"
        );
    }
    // Of two that have the page before them, the slower is told.
    let sent = [
        ("entries", "2"),
        ("at", "great.wheel"),
        ("how", "next"),
        ("count", "84"),
    ];
    assert_eq!(served.post("/job/2/movement/count", &sent).status, 303);
    assert_eq!(served.post("/job/2/movement/count", &sent).status, 409);
    // The text: two arbors of one name, a wheel that meshes with nothing that is there.
    let page = served.get("/job/2/movement").body;
    let kept = page.split("spellcheck=\"false\"").nth(1).expect("the text");
    assert!(kept.contains("wheel = 84"), "it is in the text");
    for (odd, line) in [
        (
            "sheet = 1\nname = \"x\"\nseen_from = \"back\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = 60\n[arbor.a]\npinion = 8\n",
            "7:",
        ),
        (
            "sheet = 1\nname = \"x\"\nseen_from = \"back\"\n[arbor.a]\nruns = \"clockwise\"\nwheel = 60\n[[mesh]]\ndriver = \"a.wheel\"\ndriven = \"b.pinion\"\n",
            "9:",
        ),
    ] {
        let answer = served.post("/job/2/movement/sheet", &[("entries", "3"), ("sheet", odd)]);
        assert_eq!(answer.status, 422);
        assert!(answer.body.contains(line), "{line}");
        assert!(
            answer.body.contains("seen_from = &quot;back&quot;")
                || answer.body.contains("seen_from = \"back\"")
        );
    }
}

#[test]
fn a_flaw_is_told_by_what_was_typed_and_not_by_lines_of_the_sheet() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let kind = [("entries", "1"), ("kind", "count wheel and cam")];
    served.post("/job/2/movement/kind", &kind);
    let begun = tasks::Described::begin("count wheel and cam", "a clock", &[]).expect("a kind");
    for place in begun.places() {
        let at = format!("{}.{}", place.id.arbor, place.id.part);
        let count = place.usual.expect("usual").get().to_string();
        let n = served.entries("/job/2/movement");
        let sent = [
            ("entries", &*n),
            ("at", &at),
            ("how", "next"),
            ("count", &count),
        ];
        assert_eq!(served.post("/job/2/movement/count", &sent).status, 303);
    }
    // A slot wider than a place.
    let n = served.entries("/job/2/movement");
    let sent = [
        ("entries", n.as_str()),
        ("question", "slot"),
        ("answer", ""),
        ("wide", "20"),
        ("across", "30"),
    ];
    let answer = served.post("/job/2/movement/answer", &sent);
    assert_eq!(answer.status, 422);
    let told = part(&answer.body, "class=\"refused\"", "</p>");
    assert!(
        told.contains("How wide is a slot of the count wheel"),
        "{told}"
    );
    let spots = told
        .split(' ')
        .any(|word| word.ends_with(':') && word.contains(char::is_numeric));
    assert!(
        !spots && !told.contains('°') && !told.contains("deg"),
        "{told}"
    );
    assert!(
        answer.body.contains("value=\"20\""),
        "what was typed is there"
    );
}

#[test]
fn how_the_count_wheel_is_moved_is_asked_before_what_drives_it_is_counted() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let kind = [("entries", "1"), ("kind", "count wheel and cam")];
    served.post("/job/2/movement/kind", &kind);
    // What it does as a whole is asked first.
    let tell = |to: &str, fields: &[(&str, &str)]| {
        let entries = served.entries("/job/2/movement");
        let mut sent = vec![("entries", entries.as_str())];
        sent.extend_from_slice(fields);
        let answer = served.post(&format!("/job/2/movement/{to}"), &sent);
        assert_eq!(answer.status, 303, "{to}");
    };
    let asked_at_last = (0..30).any(|_| {
        let page = served.get("/job/2/movement").body;
        let question = text_in(&page, "name=\"question\" value=\"");
        let at = text_in(&page, "name=\"at\" value=\"");
        match (&*question, &*at) {
            ("count_moved", _) => return true,
            ("", "") => panic!("neither a question nor a count"),
            (question, "") => tell("answer", &[("question", question), ("answer", "usual")]),
            (_, at) => {
                assert!(
                    !at.contains("count"),
                    "{at} before it is told how it is moved"
                );
                tell("count", &[("at", at), ("how", "lost")]);
            }
        }
        false
    });
    assert!(asked_at_last);
    // Moved by pins there is no such pinion to count.
    tell("answer", &[("question", "count_moved"), ("answer", "pins")]);
    let page = served.get("/job/2/movement").body;
    assert!(!page.contains("value=\"second.count_pinion\""), "{page}");
}

#[test]
fn lost_and_doubtful_counts_are_kept_and_the_last_touch_is_taken_back() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let begun = is_counted(&served, "rack");
    let place = text_in(&served.get("/job/2/movement").body, "name=\"at\" value=\"");
    let send = |later: usize, how: &str, count: &str| {
        let sent = [
            ("entries", &*(begun + later).to_string()),
            ("at", &*place),
            ("how", how),
            ("count", count),
        ];
        served.post("/job/2/movement/count", &sent).status
    };
    assert_eq!(send(0, "unsure", "72"), 303);
    assert!(served.get("/job/2/movement").body.contains("72?"));
    assert_eq!(send(1, "lost", ""), 303);
    assert!(served.get("/job/2/movement").body.contains("lost = ["));
    assert_eq!(
        served
            .post(
                "/job/2/movement/undo",
                &[("entries", &*(begun + 2).to_string())]
            )
            .status,
        303
    );
    let page = served.get("/job/2/movement").body;
    assert!(page.contains("72?") && !page.contains("lost = ["));
}

fn text_in(page: &str, before: &str) -> String {
    let after = page.split(before).nth(1).unwrap_or_default();
    after.split('"').next().unwrap_or_default().to_owned()
}

#[test]
fn every_kind_is_offered_with_its_picture_and_every_choice_that_names_one_has_it() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    let page = served.get("/job/2/movement").body;
    let mut pictures = 0;
    for kind in tasks::Kind::all() {
        let button = page.split(&format!("value=\"{}\">", kind.id)).nth(1);
        let button = button.and_then(|rest| rest.split("</button>").next());
        let button = button.unwrap_or_else(|| panic!("{} is offered", kind.id));
        assert!(button.contains("class=\"drawing pictured\""), "{}", kind.id);
        for question in &kind.questions {
            let tasks::AskedFor::Choice { choices, .. } = &question.asks else {
                continue;
            };
            for picture in choices
                .iter()
                .filter_map(|choice| choice.picture.as_deref())
            {
                pictures += 1;
                let drawn = draw::pictured(picture).is_some();
                assert!(drawn, "{}, {}: {picture}", kind.id, question.id);
            }
        }
    }
    assert!(pictures > 0);
}

#[test]
fn a_train_of_no_kind_is_put_together_arbor_by_arbor() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm turret clock")]);
    let page = || served.get("/job/2/movement").body;
    let post = |what: &str, fields: &[(&str, &str)]| {
        let entries = text_in(&page(), "name=\"entries\" value=\"");
        let mut sent = vec![("entries", &*entries)];
        sent.extend(fields);
        served.post(&format!("/job/2/movement/{what}"), &sent)
    };
    assert!(page().contains("arbor by arbor"));
    assert_eq!(post("bare", &[]).status, 303);
    let arbor = |name: &str, has: &str, meshes: &str| {
        let fields = [
            ("adding", "arbor"),
            ("name", name),
            ("has", has),
            ("meshes", meshes),
        ];
        post("add", &fields)
    };
    assert_eq!(arbor("Upper one", "lantern", "great.wheel").status, 303);
    let wheel = [("adding", "part"), ("arbor", "upper_one"), ("has", "wheel")];
    assert_eq!(post("add", &wheel).status, 303);
    assert_eq!(arbor("fly", "pinion", "upper_one.wheel").status, 303);
    for (at, count) in [
        ("great.wheel", "96"),
        ("second.pinion", "8"),
        ("upper_one.pinion", "12"),
        ("upper_one.wheel", "72"),
        ("fly.pinion", "9"),
    ] {
        assert_eq!(
            post("count", &[("at", at), ("how", "next"), ("count", count)]).status,
            303
        );
    }
    let told = page();
    assert!(told.contains("data-step=\"told\""));
    assert!(told.contains("wheel = 72"));
    // What cannot be is said in the form that it was typed into, and stands there still.
    let ring = [
        ("adding", "part"),
        ("arbor", "great"),
        ("has", "pinion"),
        ("meshes", "fly.pinion"),
    ];
    for (answer, kept) in [
        (
            arbor("Upper one", "pinion", "great.wheel"),
            "value=\"Upper one\"",
        ),
        (arbor("7", "pinion", "great.wheel"), "value=\"7\""),
        (post("add", &ring), "value=\"great\" selected"),
    ] {
        assert_eq!(answer.status, 422);
        let form = answer.body.split("class=\"refused\"").nth(1).expect("said");
        assert!(answer.body.matches("class=\"refused\"").count() == 1);
        assert!(
            form.split("</form>").next().expect("it").contains(kept),
            "{form}"
        );
    }
    // An arbor goes with what is on it and the meshes of that.
    assert_eq!(
        post("away", &[("adding", "away"), ("what", "fly")]).status,
        303
    );
    assert!(!page().contains("fly.pinion"));
}

#[test]
fn a_movement_is_begun_from_one_that_was_here() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    assert!(
        served
            .get("/job/2/movement")
            .body
            .contains("Like one that was here")
    );
    let like = [("entries", "1"), ("like", "1")];
    assert_eq!(served.post("/job/2/movement/like", &like).status, 303);
    let page = served.get("/job/2/movement").body;
    assert!(page.contains("Hill Farm wall clock"));
    assert!(
        page.contains("?&quot;") || page.contains("?\"\n"),
        "its counts are in doubt"
    );
    assert!(
        served
            .get("/job/2/way")
            .body
            .contains("href=\"/job/2/movement\"")
    );
}

#[test]
fn counts_of_a_like_clock_are_taken_with_one_touch_and_taken_back_with_one() {
    let served = serve(&[]);
    let like = text_in(&served.get("/job/1/movement").body, "name = &quot;");
    let like = like.trim_end_matches("&quot;").trim_end_matches('&');
    let like = like.split("&quot;").next().expect("a name").to_owned();
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    served.post("/job/2/movement/like", &[("entries", "1"), ("like", "1")]);
    let page = || served.get("/job/2/movement").body;
    let in_doubt = |page: &str| page.matches("?&quot;").count();
    let all = in_doubt(&page());
    assert!(all > 5, "{all}");
    assert!(page().contains(&format!("The rest as on {like}")));
    // What nobody counted here is not said to be in its place.
    assert!(!page().contains("Every count is in its place"));
    assert!(page().contains(&format!("{all} counts are not sure")));
    // One is counted here, and otherwise.
    let post = |what: &str, fields: &[(&str, &str)]| {
        let page = page();
        let entries = text_in(&page, "name=\"entries\" value=\"");
        let fields = [&[("entries", &*entries)], fields].concat();
        served.post(&format!("/job/2/movement/{what}"), &fields)
    };
    let count =
        |at: &str, count: &str| post("count", &[("at", at), ("how", "next"), ("count", count)]);
    let at = "/job/2/movement?at=great.wheel";
    let told = format!("As on {like}, not counted.");
    assert!(served.get(at).body.contains(&told));
    assert_eq!(count("great.wheel", "82").status, 303);
    assert!(!served.get(at).body.contains(&told));
    assert_eq!(in_doubt(&page()), all - 1);
    assert_eq!(post("as-like", &[]).status, 303);
    let taken = page();
    assert_eq!(in_doubt(&taken), 0);
    assert!(
        taken.contains("= 82"),
        "what was counted stays as it was counted"
    );
    assert!(taken.contains(&format!("{} counts are as on {like}, not counted", all - 1)));
    assert!(!taken.contains("The rest as on"));
    // Each stays open to be counted.
    assert!(
        served
            .get("/job/2/movement?at=fly.pinion")
            .body
            .contains(&told)
    );
    assert_eq!(post("undo", &[]).status, 303);
    assert_eq!(in_doubt(&page()), all - 1, "one step");
}

#[test]
fn how_fast_it_strikes_is_asked_and_stands_on_the_sheet() {
    let begun = tasks::Described::begin("count wheel and cam", "Wren Street", &[]);
    let served = serve(&[&begun.expect("a kind").text()]);
    let page = served.get("/job/1/movement?ask=pace").body;
    assert!(page.contains("How fast does it strike?"), "{page}");
    assert!(!page.contains("value=\"heard\""), "nothing was heard");
    let told = |blows: &str, seconds: &str, fall: &str, answer: &str| {
        let entries = served.entries("/job/1/movement");
        let fields = [
            ("entries", &*entries),
            ("question", "pace"),
            ("answer", answer),
            ("blows", blows),
            ("seconds", seconds),
            ("fall", fall),
        ];
        served.post("/job/1/movement/answer", &fields)
    };
    for (blows, seconds, fall) in [
        ("1", "13", ""),
        ("12", "", ""),
        ("12", "0", ""),
        ("", "13", ""),
        ("12", "13", "long"),
        ("12", "4000", ""),
    ] {
        let came = told(blows, seconds, fall, "");
        assert_eq!(came.status, 422, "{blows} {seconds} {fall}");
        assert!(came.body.contains(&format!("value=\"{seconds}\"")), "kept");
    }
    assert_eq!(told("12", "13,2", "0.08 0.09 0.10", "").status, 303);
    let sheet = served.get("/job/1/movement").body;
    for line in ["pace_s = 1.2", "fall_s = 0.09"] {
        assert!(sheet.contains(line), "{line}: {sheet}");
    }
    assert_eq!(told("", "", "", "?").status, 303);
    let sheet = served.get("/job/1/movement").body;
    assert!(!sheet.contains("pace_s"), "{sheet}");
    assert_eq!(told("", "", "", "heard").status, 404);
}

/// Without the script Enter takes the first button of a form: the count that was typed, and not that it is lost.
#[test]
fn enter_by_itself_takes_the_count() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    is_counted(&served, "count wheel and cam");
    let page = served.get("/job/2/movement").body;
    let form = part(&page, "class=\"counting-form\"", "</form>");
    let first = form.split("<button").nth(1).expect("a button");
    assert!(first.contains("value=\"next\""), "{first}");
}

#[test]
fn the_record_says_what_was_altered_and_questions_answered_one_after_another_once() {
    let served = serve(&[]);
    served.post("/jobs", &[("clock", "Hill Farm wall clock")]);
    is_counted(&served, "count wheel and cam");
    let page = || served.get("/job/2/movement").body;
    let entries = || text_in(&page(), "name=\"entries\" value=\"");
    for (n, count) in ["84", "82"].into_iter().enumerate() {
        let sent = [
            ("entries", &*entries()),
            ("at", "great.wheel"),
            ("how", "next"),
            ("count", count),
        ];
        let answer = served.post("/job/2/movement/count", &sent);
        assert_eq!(answer.status, 303, "{n}");
    }
    let record = served.get("/job/2/record/whole").body;
    assert!(record.contains("great wheel 82, was 84"), "{record}");
    assert!(!record.contains("as it is known from here on. On"));
    let asked = "On the sheet: questions answered";
    let all: Vec<&str> = record.split("<li value=").collect();
    let twice = all
        .windows(2)
        .filter(|two| two.iter().all(|line| line.contains(asked)));
    assert_eq!(twice.count(), 0);
    assert!(record.contains(asked), "once it is said");
    // Before it is told what drives it, weights are minded too.
    let down = "/job/2/way?stage=down";
    assert!(
        served
            .get(down)
            .body
            .contains("A tower clock has rules of its own")
    );
    let answer = [
        ("entries", &*entries()),
        ("question", "power"),
        ("answer", "usual"),
    ];
    assert_eq!(served.post("/job/2/movement/answer", &answer).status, 303);
    assert!(
        !served
            .get(down)
            .body
            .contains("A tower clock has rules of its own")
    );
    // Asked again with nothing left open, no number of questions is told.
    let sent = [("entries", &*entries())];
    served.post("/job/2/movement/rest", &sent);
    assert!(
        !served
            .get("/job/2/movement?ask=power")
            .body
            .contains("0 questions")
    );
}
