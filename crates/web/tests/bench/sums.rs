//! The sums of an overhaul on their pages: asked by plain forms, answered in a sentence with its spread, in millimetres and
//! inches, in longer words, by day and by night, and on paper.
//!
//! The figures are those that the command gives for the same sheet; what they rest on is tried where they are made.

use crate::browser::{
    SIZES, dark, goto, resize, root, shot, touch, value, with_browser, without_script,
};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::tongues::{bare_but, of_movement, speak, unfit};
use serde_json::json;
use std::time::Duration;
use thirtyfour::prelude::*;

fn sample(name: &str) -> String {
    std::fs::read_to_string(root().join("movements").join(name)).expect("a sample")
}

/// The mantel clock as job 1, and the attic clock, which lacks counts, as job 2.
fn served() -> Served {
    let served = serve(&[&sample("mantel.toml")]);
    let attic = served.post("/jobs", &[("sheet", &sample("attic.toml"))]);
    assert_eq!(attic.status, 303, "{}", attic.body);
    assert_eq!(attic.header("location"), Some("/job/2/way"));
    served
}

/// Every page with a question, by the state it is in.
const ASKED: [(&str, &str); 8] = [
    ("counts", "/job/2/counts"),
    ("counts-none-missing", "/job/1/counts"),
    ("power", "/job/1/power"),
    (
        "power-instead",
        "/job/1/power?instead=19x0.45x1500mm&on=going_great&runs=8",
    ),
    ("pendulum", "/job/1/pendulum?gains=60"),
    (
        "pendulum-all",
        "/job/1/pendulum?gains=60&latitude=51.5&rod=steel&warmer=10C&bob=mercury&pressure=1013..980&half-arc=3&arc-to=2&small=1g&nut-divisions=30&height=100m&moved-to=0",
    ),
    ("pendulum-refused", "/job/1/pendulum?length=39.14ells"),
    (
        "oil",
        "/job/1/oil?state=gummed&room=dusty&worn=escape&worn=fly",
    ),
];

async fn open(driver: &WebDriver, served: &Served, path: &str) {
    let address = format!("{}{path}", served.address());
    goto(driver, address).await;
}

/// What an element says, in one line.
async fn says(driver: &WebDriver, selector: &str) -> String {
    let found = driver.find(By::Css(selector)).await;
    let found = found.unwrap_or_else(|error| panic!("{selector}: {error}"));
    let text = found.text().await.expect("its text");
    text.replace(['\n', '\u{a0}'], " ")
}

/// Types into fields of the form and asks.
async fn ask(driver: &WebDriver, fields: &[(&str, &str)]) {
    for (name, typed) in fields {
        let field = driver.find(By::Name(*name)).await;
        let field = field.unwrap_or_else(|error| panic!("{name}: {error}"));
        field.send_keys(*typed).await.expect("typed");
    }
    touch(driver, ".ask .primary").await;
    for _ in 0..100 {
        let address = driver.current_url().await.expect("an address");
        if address.query().is_some() {
            return;
        }
        tokio::time::sleep(Duration::from_millis(50)).await;
    }
    panic!("the form went nowhere");
}

/// What is asked on a page, and what its sentence and its lines then have, in millimetres and in inches.
struct Question {
    path: &'static str,
    fields: &'static [(&'static str, &'static str)],
    metric: [&'static str; 2],
    inch: [&'static str; 2],
}

const QUESTIONS: [Question; 4] = [
    Question {
        path: "/job/2/counts",
        fields: &[("beats", "7488~20")],
        metric: [
            "Likeliest: third.pinion 7, third.wheel 78, hour.wheel 40:",
            "module 0.6198 ± 0.0011 mm, by centre.wheel over its teeth",
        ],
        inch: [
            "Likeliest: third.pinion 7, third.wheel 78, hour.wheel 40:",
            "module 0.02440 ± 0.00004 in, by centre.wheel over its teeth",
        ],
    },
    Question {
        path: "/job/1/power",
        fields: &[("instead", "19mmx0.45mmx1500mm")],
        metric: [
            "The going great arbor's spring: 7.89 ± 0.28 turns, 22 ± 5 J wound up; let down there is still about 0.5 J in it",
            "610 ± 130 N mm half way, against 440 ± 100 N mm",
        ],
        inch: [
            "The going great arbor's spring: 7.89 ± 0.28 turns, 22 ± 5 J wound up; let down there is still about 0.5 J in it",
            "5.4 ± 1.2 lb in half way, against 3.9 ± 0.9 lb in",
        ],
    },
    Question {
        path: "/job/1/pendulum",
        fields: &[("gains", "60")],
        metric: [
            "For a clock that gains 60.0 ± 1.0 s a day: turn the nut down",
            "7488 beats an hour: a simple pendulum of 229.57 ± 0.23 mm.",
        ],
        inch: [
            "For a clock that gains 60.0 ± 1.0 s a day: turn the nut down",
            "7488 beats an hour: a simple pendulum of 9.038 ± 0.009 in.",
        ],
    },
    Question {
        path: "/job/1/oil",
        fields: &[],
        metric: [
            "Oil goes to 23 places; 5 things stay dry.",
            "a bead 0.84 ± 0.09 mm across in each sink",
        ],
        inch: [
            "Oil goes to 23 places; 5 things stay dry.",
            "a bead 0.033 ± 0.003 in across in each sink",
        ],
    },
];

/// Asks every question, and gives what each page shows that it should not.
async fn answered(driver: &WebDriver, served: &Served, inch: bool) -> Vec<String> {
    let mut wrong = Vec::new();
    for question in &QUESTIONS {
        open(driver, served, question.path).await;
        ask(driver, question.fields).await;
        let [sentence, line] = if inch { question.inch } else { question.metric };
        let told = says(driver, "h1").await;
        if !told.contains(sentence) {
            wrong.push(format!("{}: {told}", question.path));
        }
        let lines = says(driver, ".lines").await;
        if !lines.contains(line) {
            wrong.push(format!("{}: no {line}: {lines}", question.path));
        }
        for (name, typed) in question.fields {
            let field = driver.find(By::Name(*name)).await.expect("the field");
            let kept = field.value().await.expect("its value");
            assert_eq!(kept.as_deref(), Some(*typed), "kept as it was typed");
        }
    }
    wrong
}

#[test]
fn each_sum_is_answered_from_its_form_in_either_unit() {
    with_browser(async |driver| {
        for size in SIZES {
            let served = served();
            resize(driver, size).await;
            for (words, inch) in [("en.british.mm", false), ("en.american.in", true)] {
                speak(driver, &served, words).await;
                let wrong = answered(driver, &served, inch).await;
                assert!(wrong.is_empty(), "{}: {}", size.name, wrong.join("\n"));
            }
        }
    });
}

#[test]
fn each_sum_is_answered_without_the_script() {
    with_browser(async |driver| {
        let served = served();
        resize(driver, SIZES[0]).await;
        without_script(driver).await;
        let wrong = answered(driver, &served, false).await;
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    });
}

/// A number without a unit is meant in the unit that the page is told in: 9.055 in are the 230 mm that the train wants, 9.055
/// mm are a pendulum for no train.
#[test]
fn a_bare_number_is_meant_in_the_unit_of_its_label() {
    with_browser(async |driver| {
        let served = served();
        speak(driver, &served, "en.british.in").await;
        open(driver, &served, "/job/1/pendulum").await;
        ask(driver, &[("length", "9,06")]).await;
        let told = says(driver, ".sum").await;
        assert!(told.contains("middle of the bob (in)"), "{told}");
        assert!(told.contains("As it hangs the clock"), "{told}");
        speak(driver, &served, "en.british.mm").await;
        open(driver, &served, "/job/1/pendulum").await;
        ask(driver, &[("length", "9.055")]).await;
        let told = says(driver, ".refused").await;
        assert!(
            told.contains("no nut brings the one to the other"),
            "{told}"
        );
    });
}

/// One sentence for what is wrong, by the name of its field; what was typed stands there again.
#[test]
fn what_cannot_be_is_refused_in_a_sentence() {
    let served = served();
    for (path, status, sentence, kept) in [
        (
            "/job/1/pendulum?length=39.14ells&gains=60",
            422,
            "“From the bend of the suspension to the middle of the bob” `39.14ells` has the unit `ells`; expected `mm`, `in`, `m` or `cm`",
            "value=\"39.14ells\"",
        ),
        (
            "/job/1/pendulum?height=100m",
            422,
            "“Above the sea” is told only with “Latitude, degrees” beside it",
            "value=\"100m\"",
        ),
        (
            "/job/1/pendulum?nut-pitch=0.5&nut-threads=36",
            422,
            "“One turn of the nut moves it” and “Threads of the nut to the inch” say the same: fill in one",
            "value=\"36\"",
        ),
        (
            "/job/1/pendulum?nut-divisions=many",
            422,
            "Divisions on the nut's edge: “many” cannot be entered there.",
            "value=\"many\"",
        ),
        (
            "/job/1/power?instead=19x4x1400",
            422,
            "the going great arbor: that strip's edge covers 5600 mm², and there are 1117.7 mm² between arbor and wall",
            "value=\"19x4x1400\"",
        ),
        (
            "/job/1/power?on=escape",
            422,
            "no spring and no weight on the escape arbor",
            "<option value=\"going_great\">",
        ),
        (
            "/job/2/counts?must=hour",
            422,
            "`hour` is no ratio; expected ARBOR:ARBOR=TURNS",
            ">hour</textarea>",
        ),
        (
            "/job/2/counts?least=many",
            422,
            "counts from 0 to 144; expected the smaller number first",
            "value=\"many\"",
        ),
        // Nothing was asked wrongly: the sheet says all, or not enough.
        (
            "/job/1/counts",
            200,
            "every count is there",
            "name=\"beats\"",
        ),
        (
            "/job/2/power",
            200,
            "Counts are missing, and this needs them all: put them in first.",
            "name=\"instead\"",
        ),
    ] {
        let answer = served.get(path);
        let body = answer.body.replace("&quot;", "\"").replace('\u{a0}', " ");
        assert_eq!(answer.status, status, "{path}");
        assert!(body.contains(sentence), "{path}: {body}");
        assert!(body.contains(kept), "{path}: {kept} in {body}");
        assert_eq!(body.matches("class=\"refused\"").count(), 1, "{path}");
    }
    // Where oil goes is told without the counts that are lost.
    let oil = served.get("/job/2/oil").body;
    assert!(
        oil.contains("Oil goes to") && !oil.contains("class=\"refused\""),
        "{oil}"
    );
    // A spring is warned of before its figures, whether they are known or not.
    for path in ["/job/1/power", "/job/2/power"] {
        let body = served.get(path).body;
        let caution = body.find("Let the spring down with a key that fits");
        let told = body.find("class=\"lines\"").expect("what is told");
        assert!(caution.is_some_and(|at| at < told), "{path}");
    }
    assert_eq!(served.get("/job/9/power").status, 404);
}

#[test]
fn a_job_may_have_a_sheet_with_missing_counts_until_they_are_known() {
    let served = served();
    let way = served.get("/job/2/way?stage=in").body;
    assert!(
        way.contains("3 counts are not there yet, lost or in doubt."),
        "{way}"
    );
    assert!(way.contains("href=\"/job/2/counts\""));
    // The train cannot be timed yet: its page leads to where that is said.
    let timing = served.get("/job/2");
    assert_eq!(
        (timing.status, timing.header("location")),
        (303, Some("/job/2/way"))
    );
    // One fault that is no missing count is still refused.
    let spoilt = sample("attic.toml").replace("seen_from", "sen_from");
    let entries = served.entries("/job/2/way");
    let fields = [("entries", entries.as_str()), ("sheet", spoilt.as_str())];
    assert_eq!(served.post("/job/2/sheet", &fields).status, 422);
    let found = (sample("attic.toml").replace("pinion = \"?\"", "pinion = 7"))
        .replace("wheel = \"?\"", "wheel = 78")
        .replace("\"40?\"", "40");
    let fields = [("entries", entries.as_str()), ("sheet", found.as_str())];
    assert_eq!(served.post("/job/2/sheet", &fields).status, 303);
    let way = served.get("/job/2/way?stage=in").body;
    assert!(way.contains("On the sheet: 1 train,"), "{way}");
    assert!(!way.contains("lost or in doubt"));
    assert_eq!(served.get("/job/2/oil").status, 200);
    let oil = served.get("/job/2/oil").body;
    assert!(oil.contains("Oil goes to"), "{oil}");
}

/// Each stage says in a line what is known, and leads to its sum; the sum leads back.
#[test]
fn each_stage_leads_to_its_sum_and_back() {
    let served = served();
    for (stage, sum, line) in [
        ("in", "counts", "On the sheet: 2 trains"),
        (
            "down",
            "power",
            "The going great arbor's spring: 7.89 ± 0.28 turns, 22 ± 5 J wound up; let down there is still about 0.5 J in it",
        ),
        ("rate", "pendulum", "a simple pendulum of 229.57 ± 0.23 mm."),
        ("rate", "pendulum", "One turn of the nut up gains"),
        (
            "rate",
            "pendulum",
            "Not known yet: where it hangs; till then gravity may be anything",
        ),
        (
            "together",
            "oil",
            "Oil goes to 23 places; 5 things stay dry.",
        ),
    ] {
        let way = served.get(&format!("/job/1/way?stage={stage}")).body;
        let way = way.replace('\u{a0}', " ");
        assert!(way.contains(line), "{stage}: {line} in {way}");
        assert!(way.contains(&format!("href=\"/job/1/{sum}\"")), "{stage}");
        let page = served.get(&format!("/job/1/{sum}")).body;
        let back = format!("href=\"/job/1/way?stage={stage}\"");
        assert!(page.contains(&back), "{sum}");
    }
    let ready = served.get("/job/1/way?stage=out").body;
    let again =
        "Look at it again after 1.0 ± 0.3 years; clean and oil it again after 4.0 ± 1.0 years";
    assert!(ready.replace('\u{a0}', " ").contains(again), "{ready}");
}

/// The owner is told the plan's own times, and the next repairer where the plan is.
#[test]
fn the_records_have_the_oil_plan_s_own_times() {
    let served = served();
    let entries = served.entries("/job/1/way?stage=out");
    let oiled = [
        ("entries", entries.as_str()),
        ("kind", "oil"),
        ("place", "everywhere"),
        ("oil", "as planned"),
    ];
    assert_eq!(served.post("/job/1/enter", &oiled).status, 303);
    let record = served.get("/job/1/record").body.replace('\u{a0}', " ");
    let told = "Have it looked at after 1.0 ± 0.3 years, and cleaned and oiled again after 4.0 ± 1.0 years";
    assert!(record.contains(told), "{record}");
    let whole = served.get("/job/1/record/whole").body;
    assert!(whole.contains("href=\"/job/1/oil\""), "{whole}");
}

#[test]
fn every_sum_has_names_and_contrast_light_and_dark() {
    let Some(axe) = axe() else { return };
    with_browser(async |driver| {
        let served = served();
        for size in SIZES {
            resize(driver, size).await;
            for night in [false, true] {
                dark(driver, night).await;
                for (state, path) in ASKED {
                    open(driver, &served, path).await;
                    let wrong = wrong(driver, &axe).await;
                    let so = format!("{state}, {}, dark {night}", size.name);
                    assert!(wrong.is_empty(), "{so}:\n{}", wrong.join("\n"));
                    let night = if night { "-night" } else { "" };
                    shot(driver, &format!("sum-{state}-{}{night}", size.name)).await;
                }
            }
        }
    });
}

#[test]
fn every_sum_is_whole_in_longer_words() {
    let checked = |text: &str| tasks_checked(text);
    with_browser(async |driver| {
        let served = served();
        speak(driver, &served, "long.british.in").await;
        let mut own = of_movement(&checked(&sample("mantel.toml")));
        own.extend(of_movement(&checked(&sample("attic.toml"))));
        // Signs of units are no words of a language.
        own.extend(["in", "oz"].map(str::to_owned));
        let mut found = Vec::new();
        let unfold = "for (const d of document.querySelectorAll('details')) d.open = true";
        for (state, path) in ASKED {
            open(driver, &served, path).await;
            value(driver, unfold).await;
            let bare = bare_but(driver, &own).await;
            assert!(bare.is_empty(), "{state}: {bare:#?}");
            found.extend(unfit(driver, state).await);
            resize(driver, SIZES[0]).await;
            shot(driver, &format!("long-sum-{state}")).await;
        }
        assert!(found.is_empty(), "{}", found.join("\n"));
        // What is planted is found.
        let plant = "const p = document.createElement('p'); p.textContent = 'Planted'; p.style.width = '2000px'; \
            document.querySelector('main').append(p)";
        value(driver, plant).await;
        assert_eq!(bare_but(driver, &own).await, ["Planted"]);
        assert!(!unfit(driver, "planted").await.is_empty());
    });
}

/// The movement of a sheet, its counts whatever they are.
fn tasks_checked(text: &str) -> movement::Movement {
    let open = sheet::read_open(text.as_bytes()).expect("a good sheet");
    open.movement().clone()
}

/// The plan of the oil on paper: the drawing and its numbers, and nothing to be touched.
#[test]
fn the_oil_plan_prints() {
    with_browser(async |driver| {
        let served = served();
        open(driver, &served, "/job/1/oil").await;
        let paper = json!({ "media": "print" });
        driver
            .cdp()
            .send_raw("Emulation.setEmulatedMedia", paper)
            .await
            .expect("print");
        let seen = "return ['.lies svg', '.steps', '.ask', '.back', '.tools'].map(s => document.querySelector(s).checkVisibility())";
        assert_eq!(
            value(driver, seen).await,
            json!([true, true, false, false, false])
        );
        shot(driver, "sum-oil-print").await;
    });
}
