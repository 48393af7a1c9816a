//! A removal in words: what it empties, where else that stands, and what came of it.

use crate::work::{of_its_kind, personal};
use crate::{Locale, say};
use book::EntryPlace;
use entries::{Entry, Likeness};
use tasks::{Elsewhere, Removal};

/// What is no place of an entry.
pub fn not_a_place() -> &'static str {
    "expected a job and the number of an entry, such as 2:5, or whole"
}

/// An entry that is not among those that are told.
pub fn not_elsewhere(job: &str, n: usize) -> String {
    format!(
        "nothing of what is to be removed was found in entry {n} of job {job}; without --sure those are listed in which it was"
    )
}

/// Something was entered on one of the jobs since it was looked at.
pub fn behind() -> &'static str {
    "something was entered on one of these jobs meanwhile; nothing was emptied, look again without --sure"
}

/// What may still name somebody stays.
pub fn stays(job: &str) -> String {
    format!(
        "What may still stand elsewhere of what was removed from job {job} stays, and is told no longer.\n"
    )
}

/// Nothing is known to be left that could stay.
pub fn nothing_stays(job: &str) -> String {
    format!("Nothing is told of job {job} that was removed and may still stand elsewhere.\n")
}

/// What a removal would empty, and where else that stands. Nothing was removed.
pub fn before(job: &str, removal: &Removal) -> String {
    let named = named(removal);
    let (locale, mut said) = (Locale::default(), String::new());
    if removal.personal.is_empty() {
        if removal.elsewhere.is_empty() {
            return format!(
                "Nothing that names a person is left to be removed from job {job}, {named}.\n"
            );
        }
        said += &format!(
            "What named a person in job {job}, {named}, was removed. Something of it may still stand in these entries; look at each:\n"
        );
    } else {
        said += &format!(
            "From job {job}, {named}, this would be emptied for good (names, addresses, pictures; the entries stay):\n"
        );
        for entry in &removal.personal {
            said += &format!(
                "  {:<8} {}\n",
                format!("{job}:{}", entry.n),
                dated_line(entry, &personal(&locale, entry))
            );
        }
    }
    let whole = of(removal, Likeness::Whole);
    if !whole.is_empty() {
        said += "The whole name, number or address stands in these entries too:\n";
        said += &whole;
    }
    let part = of(removal, Likeness::Part);
    if !part.is_empty() {
        if !removal.personal.is_empty() {
            said +=
                "Only a part of it, which may be somebody or something else, stands in these:\n";
        }
        said += &part;
    }
    if removal.more > 0 {
        said += &format!("and in {} more, not listed.\n", removal.more);
    }
    said += &fixed(removal);
    said += "Nothing was emptied. To do it: --sure";
    if !whole.is_empty() || !part.is_empty() {
        said += "; each entry that is to be emptied along: --along JOB:ENTRY";
    }
    if !whole.is_empty() {
        said += "; all in which it stands whole, but for whose another clock is: --along whole";
    }
    if removal.personal.is_empty() {
        said += "; if they may stay as they are: --stay";
    }
    said + ".\n"
}

/// What came of it: how many entries were emptied along, and how many are left.
pub fn after(job: &str, removal: &Removal, along: usize, left: usize) -> String {
    let named = named(removal);
    let entries = |count: usize| match count {
        1 => "1 entry".to_owned(),
        count => format!("{count} entries"),
    };
    let mut said = match (removal.personal.is_empty(), along) {
        (true, 0) => format!("Nothing was left to be emptied in job {job}, {named}.\n"),
        (true, along) => format!("{} emptied for good.\n", entries(along)),
        (false, 0) => format!("What names a person in job {job}, {named}, is emptied for good.\n"),
        (false, along) => format!(
            "What names a person in job {job}, {named}, is emptied for good, and {} along with it.\n",
            entries(along)
        ),
    };
    if left > 0 {
        said += &format!(
            "Something of it may still stand in {}: `trundle book remove {job}` lists them.\n",
            entries(left)
        );
    }
    said + &fixed(removal)
}

/// Entries of a likeness, a line each.
fn of(removal: &Removal, likeness: Likeness) -> String {
    let these = removal
        .elsewhere
        .iter()
        .filter(|it| it.likeness == likeness);
    let locale = Locale::default();
    let line = |it: &Elsewhere| {
        let EntryPlace { job, n } = it.place();
        let clock = match it.fields.contains("clock") {
            true => " (the clock's name goes with it)",
            false => "",
        };
        let said = of_its_kind(&locale, &it.entry, |field| it.fields.contains(field));
        format!(
            "  {:<8} {}{clock}\n",
            format!("{job}:{n}"),
            dated_line(&it.entry, &said)
        )
    };
    these.map(line).collect()
}

/// Where it stands and stays.
fn fixed(removal: &Removal) -> String {
    let points: String = (removal.points.iter())
        .map(|point| {
            let locale = Locale::default();
            say!(locale, "removal-point-of-shop", says = point.says.as_str()) + "\n"
        })
        .collect();
    if removal.fixed.is_empty() {
        return points;
    }
    let each: Vec<String> = (removal.fixed.iter())
        .map(|it| match it.place {
            EntryPlace { job, n: 0 } => {
                format!("the beginning of job {job} (its name or first sheet)")
            }
            EntryPlace { job, n } => format!("entry {n} of job {job}"),
        })
        .collect();
    let each = each.join(", ");
    format!("It stands where nothing is emptied too, and stays there: {each}.\n{points}")
}

fn named(removal: &Removal) -> String {
    match removal.name.as_str() {
        "" => say!(Locale::default(), "jobs-nameless"),
        name => name.to_owned(),
    }
}

/// The day of an entry, and what is said of it, in one line.
fn dated_line(entry: &Entry, said: &str) -> String {
    let at = entry.at.as_deref().unwrap_or_default();
    let said = format!("{at} {said}");
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}
