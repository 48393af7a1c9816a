//! What the way of a job and its papers say is so: what is left, what was entered and where, what a new sheet changes, what
//! went home, and what the log bears out of the timing.

use crate::served::{Answer, Served, part, serve, serve_on};
use crate::whole::SHEET;
use entries::Day;

/// A clock that came in, with no sheet yet: the second job.
fn came_in() -> Served {
    let served = serve_on(&[], || Day::parse("2026-11-26"));
    let begun = served.post("/jobs", &[("clock", "Mill Lane bracket clock")]);
    assert_eq!(begun.header("location"), Some("/job/2/movement"));
    served
}

/// Sends a form of a job's way, as it was drawn last.
fn send(served: &Served, job: u8, what: &str, fields: &[(&str, &str)]) -> Answer {
    let entries = served.entries(&format!("/job/{job}/way"));
    let fields: Vec<_> = std::iter::once(("entries", entries.as_str()))
        .chain(fields.iter().copied())
        .collect();
    served.post(&format!("/job/{job}/{what}"), &fields)
}

/// Sends it, and reads the page that it leads to.
fn entered(served: &Served, job: u8, what: &str, fields: &[(&str, &str)]) -> String {
    let answer = send(served, job, what, fields);
    assert_eq!(answer.status, 303, "{what}: {}", answer.body);
    let to = answer.header("location").expect("somewhere").to_owned();
    let path = to.split('#').next().unwrap_or_default();
    served.get(path).body
}

#[test]
fn no_sheet_is_not_all_done() {
    let served = came_in();
    let page = served.get("/job/2/way").body;
    let stages = part(&page, "class=\"stages\"", "</nav>");
    assert_eq!(stages.matches(" left</small>").count(), 7, "{stages}");
    assert!(!stages.contains("all done"));
}

#[test]
fn an_entry_is_confirmed_where_it_was_made() {
    let served = came_in();
    let found = [
        ("stage", "look"),
        ("kind", "found"),
        ("part", "third pinion"),
        ("says", "two trundles worn"),
    ];
    let answer = send(&served, 2, "enter", &found);
    assert_eq!(
        answer.header("location"),
        Some("/job/2/way?stage=look&entered=2#entered")
    );
    let page = served.get("/job/2/way?stage=look&entered=2").body;
    let said = "Entered as number 2: Found at third pinion: two trundles worn.";
    assert_eq!(page.matches(said).count(), 1);
    // Just before the fold in which it was made, which stands open for the next.
    let at = |what: &str| page.find(what).unwrap_or_else(|| panic!("{what}"));
    let fold = page[at(said)..].find("<details").expect("a fold");
    let fold = part(&page[at(said) + fold..], "<details", "</details>");
    assert!(
        fold.starts_with("<details open") && fold.contains("value=\"found\""),
        "{fold}"
    );
    // Put right, it is confirmed too; what was never entered is not.
    let right = [
        &found[..2],
        &[
            ("of", "2"),
            ("part", "third pinion"),
            ("says", "three worn"),
        ],
    ]
    .concat();
    let page = entered(&served, 2, "enter", &right);
    assert!(
        page.contains(
            "Entered as number 3: Number 2 put right: Found at third pinion: three worn."
        )
    );
    for n in ["2", "9", "0", "x"] {
        let page = served
            .get(&format!("/job/2/way?stage=look&entered={n}"))
            .body;
        assert!(!page.contains("Entered as number"), "{n}");
    }
    let page = entered(&served, 2, "sheet", &[("stage", "in"), ("sheet", SHEET)]);
    assert!(page.contains("Entered as number 4: The sheet"));
}

#[test]
fn what_changed_on_a_sheet_is_said() {
    let served = came_in();
    entered(&served, 2, "sheet", &[("stage", "in"), ("sheet", SHEET)]);
    let movement = sheet::read(SHEET.as_bytes()).expect("it checks").movement;
    let (_, mesh) = movement.meshes().last().expect("a mesh");
    let name = movement.part_name(mesh.driven);
    let teeth = movement.part(mesh.driven).teeth.get();
    let (arbor, part_name) = name.split_once('.').expect("arbor.part");
    let at = SHEET.find(&format!("[arbor.{arbor}]")).expect("the arbor");
    let line = format!("{part_name} = {teeth}");
    let (head, tail) = SHEET.split_at(at);
    let other = format!(
        "{head}{}",
        tail.replacen(&line, &format!("{part_name} = {}", teeth + 1), 1)
    );
    let page = entered(&served, 2, "sheet", &[("stage", "in"), ("sheet", &other)]);
    let says = format!(
        "{} {}, was {teeth}",
        name.replace(['.', '_'], " "),
        teeth + 1
    );
    assert!(page.contains(&says), "{says}");
    assert!(served.get("/job/2/record/whole").body.contains(&says));
}

#[test]
fn handing_back_with_points_open_asks_once_and_names_them() {
    let served = came_in();
    let back = [
        ("stage", "out"),
        ("kind", "handed-back"),
        ("to", "Ada Invented"),
    ];
    let asked = send(&served, 2, "enter", &back);
    assert_eq!(asked.status, 422);
    let open = part(&asked.body, "class=\"left-open\"", "</section>");
    for left in [
        "Clean and dry everything.",
        "Set it in beat again, in its case.",
        "<dt>Received</dt>",
        "value=\"Ada Invented\"",
        "value=\"yes\"",
    ] {
        assert!(open.contains(left), "{left}: {open}");
    }
    assert!(!open.contains("Hand it back.<"), "that is what is asked");
    assert!(
        !served
            .get("/job/2/way")
            .body
            .contains("Handed back to Ada Invented.")
    );
    let sure = [&back[..], &[("sure", "yes")]].concat();
    let page = entered(&served, 2, "enter", &sure);
    assert!(page.contains("Handed back to Ada Invented."));
    // Gone home, it is at no stage any more, and says what was left.
    assert!(page.contains("It has been handed back, with "), "{page}");
    let stages = part(&page, "class=\"stages\"", "</nav>");
    assert!(!stages.contains("here now"), "{stages}");
    let way = served.get("/job/2/way").body;
    assert!(way.contains("data-stage=\"out\"") && !way.contains("Photograph it as it came.</h1>"));
    assert!(served.get("/jobs?home").body.contains("Handed back</span>"));
    let again = send(&served, 2, "enter", &sure);
    assert_eq!(again.status, 422);
    assert!(again.body.contains("It has been handed back already."));
    // Sent once more, from a page that was drawn before: nothing is entered twice.
    let twice = [
        ("entries", "1"),
        ("stage", "out"),
        ("kind", "handed-back"),
        ("sure", "yes"),
    ];
    assert_ne!(served.post("/job/2/enter", &twice).status, 303);
}

/// With nothing open it is handed back without a question.
#[test]
fn with_nothing_open_nobody_is_asked() {
    let served = came_in();
    for _ in 0..80 {
        let page = served.get("/job/2/way").body;
        let stage = part(&page, "data-stage=\"", "\" data-job").replace("data-stage=\"", "");
        let Some(at) = page.find("name=\"item\" value=\"") else {
            let onward = part(&page, "class=\"forward\"", "</div>");
            let Some(to) = onward.find("name=\"to\" value=\"") else {
                break;
            };
            let to = onward[to + 17..]
                .split('"')
                .next()
                .unwrap_or_default()
                .to_owned();
            entered(&served, 2, "enter", &[("kind", "stage"), ("to", &to)]);
            continue;
        };
        let item = page[at + 19..]
            .split('"')
            .next()
            .unwrap_or_default()
            .to_owned();
        entered(
            &served,
            2,
            "enter",
            &[("kind", "check"), ("stage", &stage), ("item", &item)],
        );
    }
    let answer = send(
        &served,
        2,
        "enter",
        &[("stage", "out"), ("kind", "handed-back")],
    );
    assert_eq!(answer.status, 303, "{}", answer.body);
    let page = served.get("/job/2/way").body;
    assert!(page.contains("It has been handed back.<"), "{page}");
}

/// What shows that a train is in time is asked for before arbors are.
#[test]
fn a_sheet_without_witnesses_asks_how_it_locks() {
    let served = serve(&[]);
    let until = SHEET.find("[[witness]]").expect("witnesses");
    let from = SHEET.find("[[track]]").unwrap_or(SHEET.len());
    let bare = format!("{}{}", &SHEET[..until], &SHEET[from..]);
    let begun = served.post("/jobs", &[("sheet", &bare)]);
    let job = begun.header("location").expect("a job").to_owned();
    let page = served.get(&job).body;
    let sentence = part(&page, "id=\"sentence\"", "</h1>");
    assert!(sentence.contains("what stops it"), "{sentence}");
    assert!(!page.contains("Put the arbors in"));
    assert!(page.contains("To its sheet"));
}

#[test]
fn the_search_tells_a_sheet_from_what_was_written() {
    let served = came_in();
    entered(&served, 2, "sheet", &[("stage", "in"), ("sheet", SHEET)]);
    let note = [
        ("stage", "in"),
        ("kind", "note"),
        ("says", "the arbors were bushed"),
    ];
    entered(&served, 2, "enter", &note);
    entered(
        &served,
        2,
        "sheet",
        &[("stage", "in"), ("sheet", &format!("# again\n{SHEET}"))],
    );
    let page = served.get("/search?for=arbor").body;
    let hits: Vec<&str> = page.split("<li>").skip(1).collect();
    assert!(hits[0].contains("the arbors were bushed"), "{page}");
    let last = hits.last().expect("a hit");
    assert!(
        last.contains("On a sheet before the one that counts:"),
        "{last}"
    );
    assert!(
        served
            .get("/search?for=bushing")
            .body
            .contains("Found once.")
    );
}

/// The owner's record of the first job, what was done.
fn done(served: &Served) -> String {
    let page = served.get("/job/1/record").body;
    part(&page, "What was done", "</section>").to_owned()
}

/// Sends a form of the timing page.
fn timing(served: &Served, what: &str, fields: &[(&str, &str)]) {
    let entries = served.entries("/job/1");
    let fields: Vec<_> = std::iter::once(("entries", entries.as_str()))
        .chain(fields.iter().copied())
        .collect();
    let answer = served.post(&format!("/job/1/{what}"), &fields);
    assert_eq!(answer.status, 303, "{what}: {}", answer.body);
}

const OUT: [(&str, &str); 6] = [
    ("slot.deg", "-1.2"),
    ("slot.sure", "sure"),
    ("star.deg", "-10"),
    ("star.sure", "sure"),
    ("pin.deg", "-75"),
    ("pin.sure", "sure"),
];
const IN: [(&str, &str); 6] = [
    ("slot.deg", "-0.05"),
    ("slot.sure", "sure"),
    ("star.deg", "0"),
    ("star.sure", "sure"),
    ("pin.deg", "-75"),
    ("pin.sure", "sure"),
];

/// Of the timing the owner is told no more than the log bears out.
#[test]
fn the_owner_s_record_says_only_what_the_log_bears_out() {
    let served = serve(&[]);
    let nothing = "Nothing is written down.";
    let out = "is not in time yet";
    let since = "It is not written down that the whole strike was looked at since";
    assert!(done(&served).contains(nothing), "never looked at");
    timing(&served, "saw", &OUT);
    assert!(done(&served).contains(out), "{}", done(&served));
    // A shift is advised, and was not made.
    assert!(served.get("/job/1").body.contains("Lift the"));
    assert!(!done(&served).contains("put in time"));
    timing(&served, "done", &[]);
    assert!(
        done(&served).contains(since),
        "made, and not looked at: {}",
        done(&served)
    );
    timing(&served, "saw", &IN);
    assert!(
        done(&served).contains("was put in time in one opening"),
        "{}",
        done(&served)
    );
    timing(&served, "jumped", &[("arbor", "third")]);
    assert!(done(&served).contains(since), "{}", done(&served));
    timing(&served, "saw", &OUT);
    assert!(done(&served).contains(out), "{}", done(&served));
}

/// One that was right as it stood was put in time by nobody.
#[test]
fn what_was_in_time_is_not_said_to_have_been_put_right() {
    let served = serve(&[]);
    timing(&served, "saw", &IN);
    timing(&served, "saw", &IN);
    let done = done(&served);
    assert!(
        done.contains("was looked at and stands in time") && !done.contains("put in time"),
        "{done}"
    );
}

/// A lesson is mis-timed on purpose: no record of it says that anything was put in time.
#[test]
fn of_a_lesson_no_timing_is_told() {
    let served = serve(&[]);
    let begun = served.post("/lessons", &[("job", "1"), ("wheels", "1")]);
    assert_eq!(begun.header("location"), Some("/job/2/lesson"));
    let page = served.get("/job/2/record").body;
    assert!(!page.contains("in time"), "{page}");
}
