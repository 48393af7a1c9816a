//! How rough readings are is learned over the book: what its jobs showed, the next begins with.

use crate::served::{Served, serve};
use crate::whole::SHEET;

/// Sheets of one movement that differ, so that each is a job of its own.
fn sheets(many: usize) -> Vec<String> {
    (1..=many).map(|n| format!("# {n}\n{SHEET}")).collect()
}

fn on_the_bench(sheets: &[String]) -> Served {
    serve(&sheets.iter().map(String::as_str).collect::<Vec<_>>())
}

fn send(served: &Served, job: usize, what: &str, fields: &[(&str, &str)]) {
    let entries = served.entries(&format!("/job/{job}"));
    let fields = [&[("entries", entries.as_str())][..], fields].concat();
    let answer = served.post(&format!("/job/{job}/{what}"), &fields);
    assert_eq!(answer.status, 303, "{job} {what}: {}", answer.body);
}

/// The pin read again and again, far apart compared with how surely it is said to be read.
fn scattered(served: &Served, job: usize) {
    for at in ["-75", "-50", "-95", "-62", "-99", "-72"] {
        send(served, job, "saw", &[("pin.deg", at)]);
    }
}

/// What the page says beneath its sentence, of one look at the witnesses.
fn first_look(served: &Served, job: usize) -> String {
    let look = [
        ("slot.deg", "-1.2"),
        ("star.deg", "-10"),
        ("pin.deg", "-30"),
    ];
    send(served, job, "saw", &look);
    beneath(served, job)
}

fn beneath(served: &Served, job: usize) -> String {
    let page = served.get(&format!("/job/{job}")).body;
    let (_, from) = page.split_once("id=\"beneath\"").expect("lines");
    from.split("</div>").next().unwrap_or_default().to_owned()
}

/// How likely it says that all is in its window, in a hundred.
fn odds(told: &str) -> u32 {
    let told = told.replace('\u{a0}', " ");
    let (before, after) = told
        .rsplit_once(" in 10")
        .unwrap_or_else(|| panic!("{told}"));
    let digits = before.rsplit(|c: char| !c.is_ascii_digit()).next();
    let number: u32 = digits.and_then(|n| n.parse().ok()).expect("a number");
    if after.starts_with('0') {
        number
    } else {
        10 * number
    }
}

#[test]
fn what_jobs_showed_of_the_eye_goes_on_to_the_jobs_after_them() {
    let all = sheets(5);
    let fresh = first_look(&on_the_bench(&all), 5);

    // Three jobs whose looks scatter: the next job's first look is believed less.
    let served = on_the_bench(&all);
    (1..=3).for_each(|job| scattered(&served, job));
    let rough = first_look(&served, 5);
    assert!(odds(&rough) < odds(&fresh), "{rough} {fresh}");

    // Taken back, they tell nothing any more; what was worked out of them before is not gone by.
    for job in 1..=3 {
        (0..6).for_each(|_| send(&served, job, "undo", &[]));
    }
    assert_eq!(beneath(&served, 5), fresh);
}

#[test]
fn a_job_tells_itself_and_the_jobs_before_it_nothing() {
    let all = sheets(3);
    // In a book of its own, and beside others that show nothing or come after it.
    let alone = on_the_bench(&all[..1]);
    scattered(&alone, 1);
    let served = on_the_bench(&all);
    scattered(&served, 2);
    let own = first_look(&alone, 1);
    assert_eq!(first_look(&served, 2), own);
    // Neither what was drawn once before, nor a look that was taken back, is counted again.
    send(&served, 2, "saw", &[("pin.deg", "-20")]);
    beneath(&served, 2);
    send(&served, 2, "undo", &[]);
    assert_eq!(beneath(&served, 2), own);
    // The job before it is as in a fresh book.
    let fresh = first_look(&on_the_bench(&all[..1]), 1);
    assert_eq!(first_look(&served, 1), fresh);
}

#[test]
fn done_as_said_is_done_as_the_page_said() {
    let all = sheets(2);
    let served = on_the_bench(&all);
    first_look(&served, 2);
    let page = served.get("/job/2").body;
    let (_, form) = page.split_once("/job/2/done\"").expect("one touch");
    let form = form.split("</form>").next().unwrap_or_default();
    let shifts: Vec<String> = (form.split("name=\"shift\" value=\"").skip(1))
        .filter_map(|field| Some(field.split('"').next()?.replace("&gt;", ">")))
        .collect();
    assert_eq!(shifts.len(), 2, "{form}");
    // Whatever would be advised by now: told the other way round, it is entered so.
    let (mesh, teeth) = shifts[0].rsplit_once('=').expect("teeth");
    let teeth = -teeth.parse::<i32>().expect("a number");
    let other = format!("{mesh}={teeth}");
    send(
        &served,
        2,
        "done",
        &[("shift", &other), ("shift", &shifts[1])],
    );
    let book = book::Book::open(&served.book()).expect("it opens");
    let log = book.job("2".parse().expect("a number")).expect("a job").log;
    let last = log.lines().last().expect("an entry");
    assert!(last.contains(&format!("\"teeth\":{teeth}")), "{last}");
    send(&served, 2, "undo", &[]);
    // Of several one, by its number; a number that none has is refused.
    let both = [("shift", shifts[0].as_str()), ("shift", shifts[1].as_str())];
    send(&served, 2, "done", &[&both[..], &[("which", "2")]].concat());
    let log = book.job("2".parse().expect("a number")).expect("a job").log;
    let last = log.lines().last().expect("an entry");
    assert_eq!(last.matches("\"teeth\"").count(), 1, "{last}");
    let entries = served.entries("/job/2");
    let third = [
        &[("entries", entries.as_str())][..],
        &both[..],
        &[("which", "3")],
    ]
    .concat();
    assert_ne!(served.post("/job/2/done", &third).status, 303);
}
