//! What is odd on a sheet, told on the pages on which it is put in, shown and learned from; and a sheet that comes in twice.

use crate::served::{Answer, Served, serve, serve_on};
use entries::Day;

const MANTEL: &str = include_str!("../../../../movements/mantel.toml");
const LATTICE: &str = include_str!("../../../../movements/lattice.toml");

/// The sample with one line otherwise, and the number of that line.
fn spoiled(from: &str, to: &str) -> (String, usize) {
    let at = MANTEL.find(from).unwrap_or_else(|| panic!("{from}"));
    (
        MANTEL.replacen(from, to, 1),
        MANTEL[..at].lines().count() + usize::from(MANTEL[..at].ends_with('\n')),
    )
}

fn put_on(served: &Served, sheet: &str) -> String {
    let begun = served.post("/jobs", &[("sheet", sheet)]);
    assert_eq!(begun.status, 303, "{}", begun.body);
    begun.header("location").expect("a job").to_owned()
}

#[test]
fn what_the_command_line_warns_of_is_told_with_its_line_on_the_pages() {
    for (from, to, says) in [
        (
            "spring_width_mm = 19",
            "spring_widht_mm = 19",
            "`spring_widht_mm` is kept as a measurement, and nothing here reads it; did you mean `spring_width_mm`?",
        ),
        (
            "spring_width_mm = 19",
            "spring_width_um = 19000",
            "did you mean `spring_width_mm`?",
        ),
        (
            "spring_thick_mm = 0.40",
            "spring_thick_mm = 40",
            "40 for `spring_thick_mm`, taken as it is written; from 0.05 to 2.5 mm is usual",
        ),
        (
            "pivot_mm = 0.9",
            "star = 12",
            "`star` was taken for a toothed part of 12 teeth, and nothing meshes with",
        ),
    ] {
        let served = serve(&[]);
        let (sheet, line) = spoiled(from, to);
        put_on(&served, &sheet);
        for page in ["/job/2", "/job/2/way?stage=in"] {
            let page = served.get(page).body;
            assert!(page.contains("<details class=\"odd\" open>"), "{to}");
            let odd = page.split("<details class=\"odd\"").nth(1).expect("a fold");
            let odd = odd.split("</details>").next().expect("its end");
            assert!(odd.contains("One thing is odd on the sheet"), "{odd}");
            assert!(odd.contains(&format!("<li>Line {line}: ")), "{line}: {odd}");
            assert!(odd.contains(says), "{says}: {odd}");
        }
    }
    let served = serve(&[]);
    put_on(&served, MANTEL);
    assert!(!served.get("/job/2").body.contains("class=\"odd\""));
}

#[test]
fn a_sheet_with_counts_missing_and_one_put_in_later_are_told_of_too() {
    let served = serve(&[]);
    let wheel = MANTEL.find("\nwheel = ").expect("a wheel") + 1;
    let line = MANTEL[wheel..].lines().next().expect("a line");
    let open = MANTEL.replacen(line, "wheel = \"?\"", 1).replacen(
        "spring_width_mm = 19",
        "spring_widht_mm = 19",
        1,
    );
    put_on(&served, &open);
    let page = served.get("/job/2/way?stage=in").body;
    assert!(page.contains("did you mean `spring_width_mm`?"), "{page}");

    // A mended sheet of a job that is there.
    let entries = served.entries("/job/2/way");
    let (sheet, _) = spoiled("spring_thick_mm = 0.40", "spring_thick_mm = 40");
    let fields = [("entries", &*entries), ("stage", "in"), ("sheet", &*sheet)];
    let sent = served.post("/job/2/sheet", &fields);
    let to = sent.header("location").expect("its page").to_owned();
    let page = served.get(to.split('#').next().expect("a path")).body;
    assert!(page.contains("from 0.05 to 2.5 mm is usual"), "{page}");
}

#[test]
fn a_lesson_on_a_train_that_cannot_come_out_says_so_first() {
    let served = serve(&[]);
    put_on(&served, LATTICE);
    let begun = served.post("/lessons", &[("job", "2"), ("wheels", "1")]);
    let lesson = begun.header("location").expect("a lesson").to_owned();
    assert!(lesson.ends_with("/lesson"), "{lesson}");
    let page = served.get(&lesson).body;
    let again = page.find("class=\"refused again\"").expect("count again");
    assert!(again < page.find("id=\"sentence\"").expect("the question"));
    assert!(page[again..].contains("count again"), "{page}");
}

/// The page that asks which is meant.
fn asks(served: &Served, sheet: &str) -> Answer {
    let asked = served.post("/jobs", &[("sheet", sheet)]);
    assert_eq!(asked.status, 409, "{}", asked.head);
    asked
}

#[test]
fn a_sheet_that_is_in_hand_is_not_taken_in_again_without_a_word() {
    let served = serve(&[]);
    assert_eq!(put_on(&served, MANTEL), "/job/2");
    let asked = asks(&served, MANTEL).body;
    for said in [
        "This sheet is in hand already, as job 2: ",
        "href=\"/job/2\">Open job 2</a>",
        ">Take it in as another</button>",
    ] {
        assert!(asked.contains(said), "{said}: {asked}");
    }
    // Nothing was begun; and what was typed stands there again, to be sent as another.
    assert_eq!(served.get("/job/3").status, 404);
    assert!(asked.contains("name = &quot;"), "{asked}");
    let another = served.post("/jobs", &[("sheet", MANTEL), ("as-another", "yes")]);
    assert_eq!(another.header("location"), Some("/job/3"));
    assert!(asks(&served, MANTEL).body.contains("as job 3: "));

    // A lesson on that sheet is no job that has it in hand.
    let begun = served.post("/lessons", &[("job", "3"), ("wheels", "1")]);
    assert_eq!(begun.header("location"), Some("/job/4/lesson"));
    assert!(asks(&served, MANTEL).body.contains("as job 3: "));
}

#[test]
fn a_job_gone_home_offers_no_work_until_it_comes_in_again() {
    let served = serve_on(&[], || Day::parse("2026-11-26"));
    let look = [
        ("slot.deg", "-1.2"),
        ("star.deg", "-10"),
        ("pin.deg", "-75"),
    ];
    served.post("/job/1/saw", &[&[("entries", "0")], &look[..]].concat());
    let home = [
        ("entries", "1"),
        ("kind", "handed-back"),
        ("to", "Ada Invented"),
        ("sure", "yes"),
    ];
    assert_eq!(served.post("/job/1/enter", &home).status, 303);
    for path in ["/job/1", "/job/1?look", "/job/1?jumped"] {
        let page = served.get(path).body;
        assert!(page.contains("data-step=\"home\""), "{path}");
        assert!(page.contains("It has been handed back."), "{path}");
        for offered in [
            "/undo\"",
            "/done\"",
            "/saw\"",
            "?look\"",
            "?jumped\"",
            "/out\"",
            "/did\"",
        ] {
            assert!(!page.contains(offered), "{offered} on {path}");
        }
        assert!(page.contains("href=\"/job/1/way\""), "{path}");
        assert!(page.contains("class=\"log\""), "{path}");
    }
    // From a page that was drawn before.
    for (what, fields) in [("undo", vec![]), ("done", vec![]), ("saw", look.to_vec())] {
        let fields = [vec![("entries", "2")], fields].concat();
        let sent = served.post(&format!("/job/1/{what}"), &fields);
        assert_eq!(sent.status, 422, "{what}");
        assert!(
            sent.body
                .contains("To go on with it, enter that it came in again.")
        );
    }
    assert!(
        asks(&served, crate::whole::SHEET)
            .body
            .contains("This sheet was here before, as job 1: ")
    );
    let again = [
        ("entries", "2"),
        ("kind", "intake"),
        ("clock", "Wren Street schoolroom clock"),
    ];
    assert_eq!(served.post("/job/1/enter", &again).status, 303);
    let page = served.get("/job/1").body;
    assert!(page.contains("/undo\"") && !page.contains("data-step=\"home\""));
}

#[test]
fn what_the_strike_comes_to_is_said_to_be_by_the_sheet() {
    let served = serve(&[]);
    let page = served.get("/job/1/way?stage=prove").body;
    let known = page.split("id=\"known\"").nth(1).expect("what is known");
    let first = known.split("</li>").next().expect("a line");
    assert!(first.contains("By the sheet"), "{first}");
}

#[test]
fn a_bar_to_measure_stands_only_under_a_drawing_to_scale() {
    let served = serve(&[]);
    let record = served.get("/job/1/record/whole").body;
    assert!(record.contains("Schematic: not to scale"), "{record}");
    assert!(!record.contains("This bar is") && !record.contains("class=\"bar\""));
}

#[test]
fn a_reading_beyond_a_turn_is_told_as_what_it_was_taken_and_looked_at_again() {
    let served = serve(&[]);
    let look = [
        ("entries", "0"),
        ("slot.deg", "0"),
        ("slot.sure", "sure"),
        ("star.deg", "0"),
        ("star.sure", "sure"),
        ("pin.deg", "285"),
        ("pin.sure", "sure"),
    ];
    // As the pin is usually said: three quarters of a turn on is a quarter short.
    served.post("/job/1/saw", &look);
    let page = served.get("/job/1").body;
    assert!(page.contains("Close up"), "{page}");
    let mut far = look;
    far[0].1 = "1";
    far[5].1 = "645";
    assert_eq!(served.post("/job/1/saw", &far).status, 303);
    let page = served.get("/job/1").body;
    let told = "pin was read as 645°, more than a turn of its arbor, and was taken as -75°: look at it again";
    assert!(page.contains(told), "{page}");
    assert!(page.contains("Look again at pin"), "{page}");
    assert!(page.contains("645°, taken as −75°"), "the log says it too");
}

/// One count is out by one, and the wheels could go together in more ways than can be followed.
#[test]
fn a_train_that_cannot_come_out_says_what_to_count_again() {
    let sheet = include_str!("../../../../movements/halfpast.toml");
    let served = serve(&[]);
    let job = put_on(&served, &sheet.replacen("wheel = 72", "wheel = 71", 1));
    let page = served.get(&job);
    assert_eq!(page.status, 200);
    for says in ["count again", "`count.wheel` has 72 and not 71"] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
}

/// A train of more teeth than any clock has, which stands in 960,000 ways.
const TOO_MANY: &str = r#"
sheet = 1
name = "Wren Street great chime"
seen_from = "back"
[arbor.cylinder]
runs = "clockwise"
wheel = 400
quarter_pinion = 200
[arbor.quarter]
wheel = 400
[arbor.locking]
pinion = 80
wheel = 60
[arbor.warning]
pinion = 6
[[mesh]]
driver = "cylinder.wheel"
driven = "locking.pinion"
[[mesh]]
driver = "locking.wheel"
driven = "warning.pinion"
[[mesh]]
driver = "cylinder.quarter_pinion"
driven = "quarter.wheel"
[[moment]]
id = "chimed"
arbor = "locking"
says = "the drop of the fourth quarter"
[[witness]]
id = "hour"
says = "the long slot under the lever"
on = "quarter"
at = "chimed"
repeats = 1
best_deg = 0
window_deg = [-1, 1]
[[witness]]
id = "notes"
says = "the first note next"
on = "cylinder"
at = "chimed"
repeats = 1
best_deg = 0
window_deg = [-5, 5]
[[witness]]
id = "pin"
says = "a quarter of a turn to go"
on = "warning"
at = "chimed"
repeats = 1
best_deg = 0
window_deg = [-40, 40]
"#;

#[test]
fn a_train_that_cannot_be_followed_has_a_job_that_says_so() {
    let served = serve(&[]);
    let job = put_on(&served, TOO_MANY);
    let page = served.get(&job);
    assert_eq!(page.status, 422);
    for says in [
        "too many to be followed from look to look",
        "What is left here",
    ] {
        assert!(page.body.contains(says), "{says}: {}", page.body);
    }
    // Whoever reads a page has no command at hand.
    assert!(!page.body.contains("trundle remesh"));
}

/// A going train that was begun and not counted yet keeps nobody from timing the strike beside it; what needs its counts asks for them.
#[test]
fn a_strike_is_timed_while_the_train_beside_it_is_not_counted() {
    const SCHOOLROOM: &str = include_str!("../../../../movements/schoolroom.toml");
    let going = "\n[arbor.going_great]\nruns = \"clockwise\"\nwheel = 96\n\n[arbor.centre]\npinion = 8\nwheel = \"?\"\n\n\
        [arbor.escape]\npinion = 7\n\n[[mesh]]\ndriver = \"going_great.wheel\"\ndriven = \"centre.pinion\"\n\n\
        [[mesh]]\ndriver = \"centre.wheel\"\ndriven = \"escape.pinion\"\n";
    let served = serve(&[]);
    put_on(&served, &format!("{SCHOOLROOM}{going}"));
    let job = "/job/2";
    let page = served.get(job).body;
    let dotted = "class=\"uncounted\" data-arbor=\"centre\" data-part=\"wheel\"";
    assert!(page.contains(dotted));
    let look = [
        ("entries", "0"),
        ("slot.deg", "2"),
        ("star.deg", "0"),
        ("pin.deg", "-75"),
    ];
    assert_eq!(served.post(&format!("{job}/saw"), &look).status, 303);
    let page = served.get(job).body;
    assert!(page.contains("Lift the"));
    let run = served.get(&format!("{job}/strike"));
    assert_eq!(run.status, 200, "{}", run.body);
}
