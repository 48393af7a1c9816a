//! What a page of sums lacks is put into boxes on it, by keyboard alone, without the script and on a telephone; what is typed wrongly
//! stands there again. The figures are those of the sample that has all of it.

use crate::browser::{
    PHONE, SIZES, goto, resize, root, shot_whole, source, touch, until, value, with_browser,
    without_script,
};
use crate::names::{axe, wrong};
use crate::served::{Served, serve};
use crate::tongues::{speak, unfit};
use thirtyfour::prelude::*;

fn sample(name: &str) -> String {
    std::fs::read_to_string(root().join("movements").join(name)).expect("a sample")
}

/// The mantel clock with nothing measured of its going spring or its barrel, its going great arbor called otherwise.
fn unmeasured() -> String {
    let measured = [
        "barrel_",
        "spring_arbor_mm = 13.3",
        "spring_width_mm = 19",
        "spring_thick_mm = 0.40",
        "spring_long_mm = 1400",
    ];
    let lines = sample("mantel.toml");
    let lines = lines
        .lines()
        .filter(|line| !measured.iter().any(|begins| line.starts_with(begins)));
    let sheet: Vec<String> = lines
        .map(|line| line.replace("going_great", "lowest"))
        .collect();
    sheet.join("\n") + "\n"
}

const BARREL: &str = "/job/1/power?drives.lowest=barrel";

/// What is put in, by the ends of the boxes' names, and as it is typed.
const TYPED: [(&str, &str); 5] = [
    ("lowest.barrel_inside_mm", "40"),
    ("lowest.spring_arbor_mm", "13,3 mm"),
    ("lowest.spring_width_mm", "18.9 19.1 19"),
    ("lowest.spring_thick_mm", "0.40"),
    ("lowest.spring_long_mm", "1.4 m"),
];

/// As the sample's own page tells it.
const ANSWER: &str = "7.89 ± 0.28 turns";

fn put(served: &Served, fields: &[(&str, &str)]) -> crate::served::Answer {
    let entries = served.entries(BARREL);
    let mut all = vec![("entries", &*entries), ("ask.drives.lowest", "barrel")];
    all.extend(fields);
    served.post("/job/1/power/put", &all)
}

/// What is read of a page: its texts, and nothing of its marks.
fn read(body: &str) -> String {
    let mut read = String::new();
    let mut within = false;
    for c in body.chars() {
        match c {
            '<' => within = true,
            '>' => within = false,
            c if !within => read.push(c),
            _ => {}
        }
    }
    read.replace('\u{a0}', " ").replace("&quot;", "\"")
}

#[test]
fn what_is_lacking_is_asked_for_and_no_key_is_named() {
    let served = serve(&[&unmeasured()]);
    let page = read(&served.get("/job/1/power").body);
    assert!(page.contains("What drives the lowest arbor?"), "{page}");
    let page = read(&served.get(BARREL).body);
    for says in ["Width of the spring", "Barrel inside, across", "Don't know"] {
        assert!(page.contains(says), "{says}: {page}");
    }
    for path in ["power", "pendulum", "counts", "oil"] {
        let page = read(&served.get(&format!("/job/1/{path}")).body);
        for key in ["_mm", "_g ", "_deg", ".toml", "spring_", "`\""] {
            assert!(!page.contains(key), "{path}: {key} in {page}");
        }
    }
    let came = put(&served, &TYPED);
    assert_eq!(came.status, 303, "{}", came.body);
    let page = read(&served.get("/job/1/power").body);
    assert!(page.contains(ANSWER), "{page}");
    assert!(page.contains("Now 13.3 mm"), "{page}");
    // Several measures of one thing keep how they scatter, 1.32·0.1/√3, and that one was read to a whole millimetre, 1/√12.
    assert!(page.contains("Now 19.0 ± 0.3 mm"), "{page}");
    assert!(page.contains("19.0 ± 0.3 mm wide"), "{page}");
    // The sheet has it, and one entry takes it back.
    let record = served.get("/job/1/way").body;
    assert!(record.contains("take-back"), "{record}");
    let entries = served.entries("/job/1/way");
    let back = served.post(
        "/job/1/take-back",
        &[("entries", &entries), ("of", &entries)],
    );
    assert_eq!(back.status, 303, "{}", back.body);
    let page = read(&served.get("/job/1/power").body);
    assert!(page.contains("What drives the lowest arbor?"), "{page}");
}

#[test]
fn a_fault_is_said_at_its_box_and_nothing_is_lost() {
    let served = serve(&[&unmeasured()]);
    let before = served.entries(BARREL);
    for (typed, says) in [
        ("2°", "“°” is no unit of length"),
        ("1,250", "That may be 1.250 or 1250"),
        ("-3", "a measure is more than 0"),
        ("0", "a measure is more than 0"),
        ("2 km", "“km” is no unit of length"),
        ("5 m", "No clock has that: usual is 1 mm to 100 mm"),
        ("19 25", "too far apart to be measures of one thing"),
        ("wide", "a length belongs here"),
        ("130", "Far from usual, 1 mm to 100 mm"),
    ] {
        let fields = [
            ("lowest.spring_width_mm", typed),
            ("lowest.spring_thick_mm", "0,4"),
        ];
        let came = put(&served, &fields);
        assert_eq!(came.status, 422, "{typed}");
        let page = read(&came.body);
        assert!(page.contains(says), "{typed}: {page}");
        for kept in [typed, "0,4"] {
            let kept = format!("value=\"{kept}\"");
            assert!(came.body.contains(&kept), "{kept}: {}", came.body);
        }
        assert_eq!(came.body.matches("aria-invalid").count(), 1, "{typed}");
        assert_eq!(served.entries(BARREL), before, "{typed}");
    }
    assert_eq!(put(&served, &[]).status, 422);
    // What is far from usual is taken where it is said again.
    let said = [
        ("lowest.spring_width_mm", "130"),
        ("lowest.spring_width_mm.sure", "yes"),
    ];
    assert_eq!(put(&served, &said).status, 303);
    let page = read(&served.get("/job/1/power").body);
    assert!(page.contains("Now 130 mm"), "{page}");
    assert!(
        page.contains("is lacking: Thickness of the spring"),
        "{page}"
    );
}

#[test]
fn somebody_else_s_entry_does_not_cost_what_was_typed() {
    let served = serve(&[&unmeasured()]);
    let entries = served.entries(BARREL);
    assert_eq!(
        put(&served, &[("lowest.spring_thick_mm", "0.4")]).status,
        303
    );
    let late = [
        ("entries", &*entries),
        ("ask.drives.lowest", "barrel"),
        ("lowest.spring_width_mm", "19"),
    ];
    let came = served.post("/job/1/power/put", &late);
    assert_eq!(came.status, 409);
    assert!(came.body.contains("value=\"19\""), "{}", came.body);
}

#[test]
fn units_are_switched_once_for_all_and_what_was_typed_means_the_same() {
    let served = serve(&[&unmeasured()]);
    let came = put(
        &served,
        &[
            ("lowest.spring_width_mm", "19"),
            ("lowest.spring_thick_mm", "1/64 in"),
            ("units", "in"),
        ],
    );
    assert_eq!(came.status, 200);
    assert!(
        came.header("set-cookie")
            .is_some_and(|set| set.contains(".in;"))
    );
    for kept in ["value=\"19mm\"", "value=\"1/64 in\""] {
        assert!(came.body.contains(kept), "{kept}: {}", came.body);
    }
}

#[test]
fn what_nobody_knows_is_not_asked_again() {
    let served = serve(&[&unmeasured()]);
    let came = put(&served, &[("lowest.barrel_high_mm.unknown", "yes")]);
    assert_eq!(came.status, 303);
    let to = came
        .header("location")
        .expect("back to the page")
        .to_owned();
    assert!(to.contains("unknown=lowest.barrel_high_mm"), "{to}");
    let page = served.get(to.split('#').next().unwrap_or(&to)).body;
    let folded = page.find("Measured already").expect("a fold");
    let asked = page.find("id=\"lowest.barrel_high_mm\"").expect("the box");
    assert!(folded < asked, "{page}");
}

#[test]
fn a_count_that_was_found_is_put_in_with_one_touch() {
    let served = serve(&[&sample("attic.toml")]);
    let page = served.get("/job/1/counts?beats=7488~20").body;
    assert!(page.contains("value=\"third.pinion=7\""), "{page}");
    let entries = served.entries("/job/1/counts?beats=7488~20");
    let found = |entries: &str, counts: &[&str]| {
        let mut fields = vec![("entries", entries)];
        fields.extend(counts.iter().map(|count| ("count", *count)));
        served.post("/job/1/counts/found", &fields)
    };
    // What is no part without a count is none to be put in.
    for wrong in [
        "centre.wheel=7",
        "third.pinion=0",
        "third=7",
        "nobody.wheel=9",
    ] {
        assert_eq!(found(&entries, &[wrong]).status, 422, "{wrong}");
    }
    let all = ["third.pinion=7", "third.wheel=78", "hour.wheel=40"];
    let came = found(&entries, &all);
    assert_eq!(came.status, 303, "{}", came.body);
    let page = read(&served.get("/job/1/counts").body);
    assert!(page.contains("every count is there"), "{page}");
}

#[test]
fn a_nut_is_told_by_its_threads_to_the_inch_or_by_its_pitch() {
    let served = serve(&[&sample("mantel.toml")]);
    let boxes = served.get("/job/1/pendulum").body;
    let name = crate::served::part(&boxes, "name=\"", ".pendulum_nut_mm\"");
    let arbor = name.rsplit('"').next().expect("an arbor").to_owned();
    let nut = format!("{arbor}.pendulum_nut_mm");
    for (typed, now) in [
        ("40 tpi", "Now 0.635 mm"),
        ("0,6", "Now 0.6 mm"),
        ("39 41 tpi", "Now 0.64 ± 0.03 mm"),
        ("1/40 in", "Now 0.635 mm"),
    ] {
        let entries = served.entries("/job/1/pendulum");
        let sent = [("entries", &*entries), (&*nut, typed)];
        let came = served.post("/job/1/pendulum/put", &sent);
        assert_eq!(came.status, 303, "{typed}: {}", came.body);
        let page = read(&served.get("/job/1/pendulum").body);
        assert!(page.contains(now), "{typed}: {page}");
    }
    let entries = served.entries("/job/1/pendulum");
    for wrong in ["0 tpi", "tpi", "-40 tpi", "1,250 tpi"] {
        let sent = [("entries", &*entries), (&*nut, wrong)];
        assert_eq!(
            served.post("/job/1/pendulum/put", &sent).status,
            422,
            "{wrong}"
        );
    }
}

#[test]
fn a_suspension_spring_is_put_in_and_told() {
    let served = serve(&[&sample("mantel.toml")]);
    let before = read(&served.get("/job/1/pendulum").body);
    assert!(!before.contains("upper chop"), "{before}");
    let entries = served.entries("/job/1/pendulum");
    let sent = [
        ("entries", &*entries),
        ("escape.suspension_mm", "8"),
        ("escape.suspension_wide_mm", "6"),
        ("escape.suspension_thick_mm", "0,078 0.082 0.080"),
    ];
    let came = served.post("/job/1/pendulum/put", &sent);
    assert_eq!(came.status, 303, "{}", came.body);
    let page = read(&served.get("/job/1/pendulum").body);
    assert!(page.contains("Now 0.0800 ± 0.0020 mm"), "{page}");
    assert!(page.contains("below the upper chop"), "{page}");
    let other = served.get("/job/1/pendulum?suspension-to=6x0.06x8");
    let told = read(&other.body);
    let lower =
        "With a strip 6.00 ± 0.05 mm wide, 0.0600 ± 0.0018 mm thick and 8.0 ± 0.5 mm long it turns";
    assert!(told.contains(lower), "{told}");
    // Ten times as thick is a slip of the point, and nothing is entered.
    let entries = served.entries("/job/1/pendulum");
    let sent = [("entries", &*entries), ("escape.suspension_thick_mm", "80")];
    assert_eq!(served.post("/job/1/pendulum/put", &sent).status, 422);
}

/// What stands in some boxes, and how many entries the job has.
async fn standing(driver: &WebDriver, served: &Served, names: &[&str]) -> (Vec<String>, String) {
    let mut stand = Vec::new();
    for name in names {
        let script = format!("return document.querySelector(\"[name='{name}']\").value.trim()");
        let typed = value(driver, &script).await;
        stand.push(typed.as_str().expect("a text").to_owned());
    }
    (stand, served.entries("/job/1/way"))
}

/// A calliper that is a keyboard types three measures, each with Enter or Tab behind it: each goes to the box that has the focus, and
/// nothing is sent before the last box.
#[test]
fn three_measures_of_a_calliper_go_to_three_boxes_and_send_nothing() {
    const NAMES: [&str; 3] = [
        "lowest.barrel_inside_mm",
        "lowest.barrel_high_mm",
        "lowest.spring_arbor_mm",
    ];
    with_browser(async |driver| {
        for (end, goes_on) in [(Key::Enter, true), (Key::Tab, false)] {
            let served = serve(&[&unmeasured()]);
            resize(driver, PHONE).await;
            let address = format!("{}{BARREL}", served.address());
            goto(driver, &address).await;
            let first = "return !!document.getElementById('lowest.barrel_inside_mm')?.offsetParent";
            until(driver, first).await;
            let entries = served.entries("/job/1/way");
            for (name, typed) in NAMES.iter().zip(["40.12", "20.05", "13.31"]) {
                // Behind each box stands a tick for what nobody knows, which Tab comes by.
                let focus = format!("return document.activeElement.name === '{name}'");
                if value(driver, &focus).await != true {
                    let take = format!("document.getElementById('{name}').focus(); return 1");
                    assert!(!goes_on || *name == NAMES[0], "{name} has the focus");
                    value(driver, &take).await;
                }
                let on = driver.active_element().await.expect("a box");
                on.send_keys(typed.to_owned() + end.clone())
                    .await
                    .expect("typed");
            }
            let stand = standing(driver, &served, &NAMES).await;
            assert_eq!(stand.0, ["40.12", "20.05", "13.31"]);
            assert_eq!(stand.1, entries, "nothing was sent");
            assert!(value(driver, "return location.pathname").await == "/job/1/power");
        }
    });
}

/// The same where two widths are asked for on the page of a movement: the first with Enter behind it sends no half of them.
#[test]
fn a_calliper_at_a_question_goes_on_to_its_next_box() {
    with_browser(async |driver| {
        let begun = tasks::Described::begin("count wheel and cam", "Wren Street", &[]);
        let served = serve(&[&begun.expect("a kind").text()]);
        resize(driver, PHONE).await;
        let address = format!("{}/job/1/movement?ask=slot", served.address());
        goto(driver, &address).await;
        until(
            driver,
            "return !!document.querySelector('[name=wide]')?.offsetParent",
        )
        .await;
        let entries = served.entries("/job/1/way");
        value(
            driver,
            "document.querySelector('[name=wide]').focus(); return 1",
        )
        .await;
        for typed in ["1.24", "48.3"] {
            let on = driver.active_element().await.expect("a box");
            on.send_keys(typed.to_owned() + Key::Enter)
                .await
                .expect("typed");
        }
        let stand = standing(driver, &served, &["wide", "across"]).await;
        assert_eq!(stand.0, ["1.24", "48.3"]);
        assert_eq!(stand.1, entries, "nothing was sent");
        let on = driver.active_element().await.expect("the button");
        on.send_keys(Key::Enter + "").await.expect("pressed");
        until(driver, "return !document.querySelector('[name=wide]')").await;
        let sheet = served.get("/job/1/movement").body;
        assert!(sheet.contains("slot_deg = 2.94"), "{sheet}");
    });
}

/// A calliper that is a keyboard: figures and Enter, box by box.
#[test]
fn figures_and_enter_go_from_box_to_box() {
    with_browser(async |driver| {
        for size in SIZES {
            let served = serve(&[&unmeasured()]);
            resize(driver, size).await;
            let address = format!("{}{BARREL}", served.address());
            goto(driver, &address).await;
            let first = "return !!document.getElementById('lowest.barrel_inside_mm')?.offsetParent";
            until(driver, first).await;
            value(
                driver,
                "document.getElementById('lowest.barrel_inside_mm').focus(); return 1",
            )
            .await;
            for typed in ["40", "20", "13.3", "19", "0.40", "1400"] {
                let on = driver.active_element().await.expect("a box");
                on.send_keys(typed.to_owned() + Key::Enter)
                    .await
                    .expect("typed");
            }
            // What is measured already lies folded: Enter went by it to the button, and there it puts all of it in.
            let on = driver.active_element().await.expect("the button");
            on.send_keys(Key::Enter + "").await.expect("pressed");
            let told = format!(
                "return document.querySelector('h1').textContent.replaceAll('\\u00a0', ' ').includes('{ANSWER}')"
            );
            until(driver, &told).await;
            shot_whole(driver, &format!("boxes-put-{}", size.name)).await;
        }
    });
}

#[test]
fn boxes_fit_have_names_and_work_without_the_script() {
    with_browser(async |driver| {
        let served = serve(&[&unmeasured()]);
        let axe = axe();
        for words in ["en.british.mm", "de.british.mm", "long.british.in"] {
            speak(driver, &served, words).await;
            for path in [
                BARREL,
                "/job/1/power",
                "/job/1/pendulum",
                "/job/1/oil",
                "/job/1/counts",
            ] {
                let address = format!("{}{path}", served.address());
                goto(driver, &address).await;
                let what = format!("{path} {words}");
                // At every size, and at twice the size of letters.
                let unfit = unfit(driver, &what).await;
                assert!(unfit.is_empty(), "{}", unfit.join("\n"));
                if let Some(axe) = &axe {
                    let wrong = wrong(driver, axe).await;
                    assert!(wrong.is_empty(), "{what}: {}", wrong.join("\n"));
                }
            }
        }
        speak(driver, &served, "en.british.mm").await;
        resize(driver, PHONE).await;
        without_script(driver).await;
        let address = format!("{}{BARREL}", served.address());
        goto(driver, &address).await;
        shot_whole(driver, "boxes-phone").await;
        for (name, typed) in [
            ("lowest.spring_width_mm", "2°"),
            ("lowest.spring_thick_mm", "0.40"),
        ] {
            let of = driver.find(By::Id(name)).await.expect("a box");
            of.send_keys(typed).await.expect("typed");
        }
        touch(driver, ".boxes .primary").await;
        let refused = driver.query(By::Css(".measure .refused")).first().await;
        let refused = refused
            .expect("what is wrong")
            .text()
            .await
            .expect("its text");
        assert!(refused.contains("is no unit of length"), "{refused}");
        shot_whole(driver, "boxes-fault-phone").await;
        let of = driver
            .find(By::Id("lowest.spring_width_mm"))
            .await
            .expect("the box");
        of.clear().await.expect("cleared");
        for (name, typed) in TYPED {
            let of = driver.find(By::Id(name)).await.expect("a box");
            if name != "lowest.spring_thick_mm" {
                of.send_keys(typed).await.expect("typed");
            }
        }
        touch(driver, ".boxes .primary").await;
        // Its heading told of the other spring before: only the answer's own figures are waited for.
        source(driver, "7.89").await;
    });
}
