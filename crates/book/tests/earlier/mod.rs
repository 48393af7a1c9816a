//! Books as earlier versions of this program made them.
#![allow(dead_code)]

use book::Book;
use entries::Log;
use rusqlite::Connection;
use std::path::Path;

/// The form of the first books, as the program that made them had it. It never changes.
const FIRST: &str = include_str!("../../migrations/1.sql");

/// Makes a book of the first form, with so many jobs and so many entries in each.
pub(crate) fn first(path: &Path, jobs: usize, entries: usize) {
    let store = Connection::open(path).unwrap();
    store.pragma_update(None, "synchronous", "OFF").unwrap();
    store.pragma_update(None, "journal_mode", "WAL").unwrap();
    store.execute_batch("BEGIN").unwrap();
    store.execute_batch(FIRST).unwrap();
    store
        .pragma_update(None, "application_id", 0x5472_6e64)
        .unwrap();
    store.pragma_update(None, "user_version", 1).unwrap();
    for job in 1..=jobs {
        let name = format!("Wren Street {job}");
        store
            .execute(
                "INSERT INTO job (name, sheet) VALUES (?1, ?2)",
                (&name, sheet(job)),
            )
            .unwrap();
        for (n, line) in lines(job, entries).iter().enumerate() {
            let n = i64::try_from(n).unwrap();
            let row = (i64::try_from(job).unwrap(), n, line);
            store
                .execute("INSERT INTO line (job, n, text) VALUES (?1, ?2, ?3)", row)
                .unwrap();
        }
    }
    store
        .execute_batch(
            "INSERT INTO view (job, plate, upside_down) VALUES (1, 'back', 1);
            INSERT INTO current (one, job) VALUES (1, 1); COMMIT",
        )
        .unwrap();
}

fn sheet(job: usize) -> String {
    format!("sheet = 1\nname = \"Wren Street {job}\"\n")
}

/// The lines of a job's log.
fn lines(job: usize, entries: usize) -> Vec<String> {
    let mut lines = vec![format!(
        "{{\"trundle_log\":1,\"sheet\":\"Wren Street {job}\",\"hash\":\"5f0c\"}}"
    )];
    for n in 1..=entries {
        let at = format!("{n} of {job}{}", "–".repeat(n * n % 97));
        lines.push(match n % 7 {
            3 => format!("{{\"n\":{n},\"kind\":\"jumped\",\"arbor\":\"fly\"}}"),
            5 => format!(
                "{{\"n\":{n},\"at\":\"{at}\",\"kind\":\"undo\",\"of\":{}}}",
                n - 1
            ),
            _ => format!("{{\"n\":{n},\"at\":\"{at}\",\"kind\":\"struck\",\"hour\":4}}"),
        });
    }
    lines
}

/// Opens such a book, and sees that all of it is there.
pub(crate) fn inspect(path: &Path, jobs: usize, entries: usize) -> Result<(), String> {
    let book = Book::open(path).map_err(|fault| format!("it does not open: {fault:?}"))?;
    let verdict = book.verify().map_err(|fault| format!("{fault:?}"))?;
    if !verdict.wrong.is_empty() {
        return Err(format!("{:?}", verdict.wrong));
    }
    let listed = book.jobs().map_err(|fault| format!("{fault:?}"))?;
    if listed.len() != jobs {
        return Err(format!("{} of {jobs} jobs", listed.len()));
    }
    for (line, number) in listed.iter().rev().zip(1..) {
        let job = book.job(line.id).map_err(|fault| format!("{fault:?}"))?;
        let text = lines(number, entries).join("\n") + "\n";
        let (log, _) = Log::read(text.as_bytes()).unwrap();
        let plate = job.view.map(|view| (view.plate, view.upside_down));
        let expected = (number == 1).then(|| ("back".to_owned(), true));
        let same = (job.log, job.sheet, job.name, plate, line.entries)
            == (
                text,
                sheet(number),
                format!("Wren Street {number}"),
                expected,
                log.entries().len(),
            );
        if !same {
            return Err(format!("job {number} is another"));
        }
    }
    let found = book
        .search("fly", 10_000)
        .map_err(|fault| format!("{fault:?}"))?;
    let jumps = (1..=entries).filter(|n| n % 7 == 3).count();
    if found.len() != jobs * jumps {
        return Err(format!("{} of {} are found", found.len(), jobs * jumps));
    }
    if book.current() != Ok(listed.last().map(|line| line.id)) {
        return Err("another job is at hand".to_owned());
    }
    Ok(())
}
