//! Short runs of what a bench does, one of each kind, and what must be there after any of them was broken off: all that was
//! acknowledged, whole, and nothing else.

use crate::earlier;
use crate::made_up::{begun, day, enter, intake, log, note, shows, some_picture};
use crate::victim::{self, Acknowledged, acknowledge};
use book::{Book, BookDamage, BookFault, JobId, Removing, Size, Syncing, import, restore};
use entries::{Emptied, Work};
use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// Where the process finds the folder that it works in, and what it does there.
const ROOT: &str = "BOOK_BROKEN_OFF_IN";
const DEED: &str = "BOOK_BROKEN_OFF_AT";

/// Things that are acknowledged in a run of entries or pictures.
pub(crate) const ENOUGH: usize = 9;

/// A word that stands nowhere else.
const OWNER: &str = "Zephyrinella Quimbleworth";

/// Jobs and entries in a book of an earlier form.
const EARLIER: (usize, usize) = (2, 12);

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Deed {
    /// A new book, and entries, three at a time.
    Write,
    /// A new book, pictures, and entries that show them.
    Upload,
    /// A new sheet of a job, a note, how it is looked at, what the shop settles; the book at rest in between, and closed.
    Sheets,
    /// Backups of two days, the first of which takes the oldest away; one elsewhere; an export.
    Backup,
    /// A removal of a person with a picture that two jobs show, from the book and its backups.
    Remove,
    /// A restore where the book is lost, and one where there never was one.
    Restore,
    /// An export is read in.
    Import,
    /// A book of an earlier form is opened.
    Migrate,
}

impl Deed {
    fn of_victim(self) -> Option<victim::Deed> {
        match self {
            Deed::Write => Some(victim::Deed::Write),
            Deed::Upload => Some(victim::Deed::Upload),
            _ => None,
        }
    }

    /// What tells this very program what to do.
    pub(crate) fn told(self, root: &Path, syncing: Syncing) -> Vec<(&'static str, String)> {
        match self.of_victim() {
            Some(deed) => victim::told(deed, &bench(root), syncing).into(),
            None => vec![
                (ROOT, root.to_str().unwrap().to_owned()),
                (DEED, format!("{self:?}")),
            ],
        }
    }

    /// Lays out what there is before.
    pub(crate) fn prepare(self, root: &Path) {
        let path = bench(root);
        match self {
            Deed::Write | Deed::Upload => {}
            Deed::Sheets => drop(filled(&path)),
            Deed::Migrate => {
                fs::create_dir(path.parent().unwrap()).unwrap();
                earlier::first(&path, EARLIER.0, EARLIER.1);
            }
            Deed::Backup => {
                let book = filled(&path);
                for n in 1..=7 {
                    book.daily_backup(day(&format!("2026-03-0{n}"))).unwrap();
                }
            }
            Deed::Remove => {
                let book = filled(&path);
                let id = book.jobs().unwrap()[0].id;
                enter(&book, id, &[intake("the bracket clock", OWNER)]);
                book.daily_backup(day("2026-03-01")).unwrap();
                enter(&book, id, &[note("the fly rubs")]);
                book.daily_backup(day("2026-03-02")).unwrap();
            }
            Deed::Restore => {
                let book = filled(&path);
                book.daily_backup(day("2026-03-01")).unwrap();
                book.rest().unwrap();
                drop(book);
                fs::remove_file(&path).unwrap();
            }
            Deed::Import => {
                filled(&path).export(&root.join("out")).unwrap();
            }
        }
    }

    /// Holds what is there against what was acknowledged: what is wrong, if anything is.
    pub(crate) fn inspect(self, root: &Path, told: &Told) -> Result<(), String> {
        let path = bench(root);
        match self {
            Deed::Write | Deed::Upload => victim::inspect(&path, &told.by_victim)?,
            Deed::Migrate => earlier::inspect(&path, EARLIER.0, EARLIER.1)?,
            Deed::Sheets => sheets_are(&path, told)?,
            Deed::Backup => backups_are(root, told)?,
            Deed::Remove => {
                // Right away, whatever the next start would still do.
                if told.said("gone") {
                    nobody(root)?;
                }
            }
            Deed::Restore => {
                let backup = own(&path).join("2026-03-01");
                made(&path, told.said("bench"), &|to| restore(&backup, to))?;
                made(&other(root), told.said("other"), &|to| restore(&backup, to))?;
                settled(&other(root))?;
            }
            Deed::Import => {
                let out = root.join("out");
                made(&other(root), told.said("other"), &|to| {
                    import(&out, to).map(|(book, _)| book)
                })?;
                settled(&other(root))?;
            }
        }
        settled(&path)?;
        if self == Deed::Remove {
            let book = open(&path)?;
            let id = book.jobs().unwrap()[0].id;
            let gone = log(&book, id).personal().is_empty();
            if told.said("gone") && !gone {
                return Err("what was removed is there again".to_owned());
            }
            drop(book);
            if gone {
                nobody(root)?;
            }
        }
        Ok(())
    }
}

/// What was acknowledged.
#[derive(Debug, Default, Clone)]
pub(crate) struct Told {
    by_victim: Acknowledged,
    others: BTreeSet<String>,
}

impl Told {
    pub(crate) fn note(&mut self, deed: Deed, line: &str) {
        if deed.of_victim().is_some() {
            self.by_victim.note(line);
        } else {
            self.others.insert(line.to_owned());
        }
    }

    pub(crate) fn any(&self) -> bool {
        self.by_victim.any() || !self.others.is_empty()
    }

    fn said(&self, what: &str) -> bool {
        self.others.contains(what)
    }
}

fn bench(root: &Path) -> PathBuf {
    root.join("shop").join("bench.book")
}

fn other(root: &Path) -> PathBuf {
    root.join("elsewhere").join("other.book")
}

fn own(path: &Path) -> PathBuf {
    path.with_file_name("bench.book.backups")
}

const PICTURES: [u32; 2] = [3, 4];

/// Two jobs; the first picture is in both.
fn filled(path: &Path) -> Book {
    let book = Book::open(path).unwrap();
    let pictures = PICTURES.map(|seed| book.keep_picture(some_picture(seed)).unwrap().digest);
    for shown in [&pictures[..], &pictures[..1]] {
        let id = book.start("Wren Street", "", begun("").text()).unwrap();
        for digest in shown {
            enter(&book, id, &[shows(digest)]);
        }
    }
    book
}

/// Does the work where this is the process that is watched; comes back at once in any other.
pub(crate) fn work_if_watched() {
    victim::work_if_victim();
    let (Some(root), Ok(deed)) = (std::env::var_os(ROOT), std::env::var(DEED)) else {
        return;
    };
    let root = PathBuf::from(root);
    let path = bench(&root);
    match &*deed {
        "Sheets" => sheets(Book::open(&path).unwrap()),
        "Backup" => backups(&root, &Book::open(&path).unwrap()),
        "Remove" => remove(&Book::open(&path).unwrap()),
        "Restore" => {
            let backup = own(&path).join("2026-03-01");
            restore(&backup, &path).unwrap();
            acknowledge("bench");
            restore(&backup, &other(&root)).unwrap();
            acknowledge("other");
        }
        "Import" => {
            import(&root.join("out"), &other(&root)).unwrap();
            acknowledge("other");
        }
        "Migrate" => {
            Book::open(&path).unwrap();
            acknowledge("open");
        }
        other => panic!("{other}"),
    }
    std::process::exit(0);
}

/// The job that is worked in, and its entries before.
fn job(book: &Book) -> (JobId, usize) {
    let job = &book.jobs().unwrap()[0];
    (job.id, job.entries)
}

fn sheet() -> Work {
    Work::Sheet {
        text: format!("sheet = 1\n# {}\n", "–".repeat(3000)),
        hash: "5f0c".to_owned(),
    }
}

fn sheets(book: Book) {
    let (id, _) = job(&book);
    enter(&book, id, &[sheet()]);
    acknowledge("sheet");
    enter(&book, id, &[note("the fly rubs")]);
    acknowledge("note");
    book.set_view(id, "back", true).unwrap();
    acknowledge("view");
    book.settle("units", "inches").unwrap();
    acknowledge("settled");
    book.rest().unwrap();
    acknowledge("at rest");
    book.set_current(id).unwrap();
    acknowledge("current");
    drop(book);
    acknowledge("closed");
}

fn open(path: &Path) -> Result<Book, String> {
    Book::open_there(path).map_err(|fault| format!("it does not open: {fault:?}"))
}

fn sheets_are(path: &Path, told: &Told) -> Result<(), String> {
    let book = open(path)?;
    let (id, entries) = job(&book);
    let whole = book.job(id).unwrap();
    let view = whole.view.map(|view| (view.plate, view.upside_down));
    // In this order; the first of them that is not there yet ends it.
    let there = [
        ("sheet", entries > 1),
        ("note", entries > 2),
        ("view", view == Some(("back".to_owned(), true))),
        (
            "settled",
            book.setting("units").unwrap().as_deref() == Some("inches"),
        ),
        ("current", book.current().unwrap() == Some(id)),
    ];
    let mut before = true;
    for (what, there) in there {
        if told.said(what) && !there {
            return Err(format!("{what} is lost"));
        }
        if there && !before {
            return Err(format!("{what} is there without what came before"));
        }
        before = there;
    }
    let Work::Sheet { text, .. } = sheet() else {
        unreachable!()
    };
    if entries > 1 && whole.sheet != text {
        return Err("another sheet".to_owned());
    }
    Ok(())
}

fn backups(root: &Path, book: &Book) {
    let (id, _) = job(book);
    enter(book, id, &[note("the fly rubs")]);
    book.daily_backup(day("2026-03-08")).unwrap().unwrap();
    acknowledge("2026-03-08");
    let picture = book.keep_picture(some_picture(9)).unwrap();
    enter(book, id, &[shows(&picture.digest)]);
    book.daily_backup(day("2026-03-09")).unwrap().unwrap();
    acknowledge("2026-03-09");
    book.backup(&root.join("carried"), day("2026-03-09"))
        .unwrap();
    acknowledge("carried");
    book.export(&root.join("out")).unwrap();
    acknowledge("out");
}

/// All backups that have a name are whole, with as much in them as there was; those acknowledged are there.
fn backups_are(root: &Path, told: &Told) -> Result<(), String> {
    let to = tempfile::tempdir().unwrap();
    let whole = |folder: PathBuf, said: &str, entries: usize| {
        if !folder.exists() {
            return match told.said(said) {
                true => Err(format!("{} is lost", folder.display())),
                false => Ok(()),
            };
        }
        let at = to.path().join(format!("{said}.book"));
        let book = match said {
            "out" => import(&folder, &at).map(|(book, _)| book),
            _ => restore(&folder, &at),
        };
        let book = book.map_err(|fault| format!("{}: {fault:?}", folder.display()))?;
        let verdict = book.verify().unwrap();
        if !verdict.wrong.is_empty() || verdict.entries != entries {
            return Err(format!("{}: {verdict:?}", folder.display()));
        }
        Ok(())
    };
    let own = own(&bench(root));
    let all = fs::read_dir(&own).unwrap();
    let mut days = 0;
    for there in all {
        let name = there.unwrap().file_name().into_string().unwrap();
        if !name.starts_with('.') {
            days += 1;
            let entries = match &*name {
                "2026-03-08" => 4,
                "2026-03-09" => 5,
                _ => 3,
            };
            whole(own.join(&name), &name, entries)?;
        }
    }
    if !(7..=8).contains(&days) {
        return Err(format!("{days} backups"));
    }
    for day in ["2026-03-08", "2026-03-09"] {
        if told.said(day) && !own.join(day).exists() {
            return Err(format!("the backup of {day} is lost"));
        }
    }
    whole(root.join("carried"), "carried", 5)?;
    whole(root.join("out"), "out", 5)
}

fn remove(book: &Book) {
    let (id, entries) = job(book);
    let mut fields = log(book, id).personal();
    let picture = log(book, id)
        .entries()
        .iter()
        .find(|entry| entry.work().and_then(Work::picture).is_some())
        .map(|entry| entry.n)
        .unwrap();
    if !(fields.iter()).any(|it| it.of == picture && it.fields.iter().any(|f| f == "picture")) {
        fields.push(Emptied {
            of: picture,
            fields: vec!["picture".to_owned()],
        });
    }
    book.remove(id, entries, &Removing::of(id, &fields), None)
        .unwrap();
    acknowledge("gone");
}

/// No byte of the person or the picture stands anywhere.
fn nobody(root: &Path) -> Result<(), String> {
    let elsewhere = tempfile::tempdir().unwrap();
    let book = Book::open_with(&elsewhere.path().join("x.book"), Syncing::Never).unwrap();
    let digest = book.keep_picture(some_picture(PICTURES[0])).unwrap().digest;
    let mut gone = vec![OWNER.as_bytes().to_vec(), digest.text().into()];
    for size in [Size::Whole, Size::Preview] {
        gone.push(book.picture_bytes(&digest, size).unwrap().1);
    }
    for file in all(root) {
        let bytes = fs::read(&file).unwrap_or_default();
        let stands = |what: &Vec<u8>| bytes.windows(what.len()).any(|part| part == what);
        if let Some(at) = gone.iter().position(stands) {
            let what = ["the name", "the digest", "the picture", "the preview"][at];
            return Err(format!("{what} stands in {}", file.display()));
        }
    }
    Ok(())
}

/// All files and folders below a folder.
fn all(folder: &Path) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for there in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = there.path();
        if path.is_dir() {
            found.extend(all(&path));
        }
        found.push(path);
    }
    found
}

/// What was being made is whole, or is not there and can be made again.
fn made(
    path: &Path,
    acknowledged: bool,
    again: &dyn Fn(&Path) -> Result<Book, BookFault>,
) -> Result<(), String> {
    let lost = path.ends_with("bench.book");
    // Where a book was lost it is made again without a start before; elsewhere after one.
    if lost && fs::symlink_metadata(path).is_err() {
        if acknowledged {
            return Err(format!("{} is lost", path.display()));
        }
        again(path).map_err(|fault| format!("it cannot be made again: {fault:?}"))?;
    }
    let book = match Book::open_there(path) {
        Ok(book) => book,
        Err(BookFault::NoBookThere { .. }) if !acknowledged => {
            let pictures = path.with_file_name("other.book.pictures");
            if pictures.exists() {
                return Err("pictures of a book that is not there".to_owned());
            }
            again(path).map_err(|fault| format!("it cannot be made again: {fault:?}"))?
        }
        Err(fault) => return Err(format!("{}: {fault:?}", path.display())),
    };
    let verdict = book.verify().map_err(|fault| format!("{fault:?}"))?;
    let counts = (verdict.jobs, verdict.entries, verdict.pictures);
    if !verdict.wrong.is_empty() || counts != (2, 3, 2) {
        return Err(format!("{}: {verdict:?}", path.display()));
    }
    Ok(())
}

/// After the next start and its first backup all is sound, and nothing is left over.
fn settled(path: &Path) -> Result<(), String> {
    let book = open(path)?;
    // What a removal has still to do is told so until it is done.
    let wrong = book.verify().map_err(|fault| format!("{fault:?}"))?.wrong;
    if !(wrong.iter()).all(|wrong| matches!(wrong, BookDamage::Unswept(_))) {
        return Err(format!("{wrong:?}"));
    }
    book.daily_backup(day("2026-04-01"))
        .map_err(|fault| format!("no backup: {fault:?}"))?;
    let verdict = book.verify().map_err(|fault| format!("{fault:?}"))?;
    if !verdict.wrong.is_empty() || verdict.strays > 0 {
        return Err(format!("after a backup: {verdict:?}"));
    }
    book.rest().map_err(|fault| format!("{fault:?}"))?;
    drop(book);
    for path in all(path.parent().unwrap()) {
        let name = path.file_name().unwrap().to_string_lossy();
        let left = ["half", "coming", "placing", ".left", "-journal", ".damaged"];
        if name.starts_with('.') || left.iter().any(|left| name.contains(left)) {
            return Err(format!("{} is left over", path.display()));
        }
    }
    Ok(())
}
