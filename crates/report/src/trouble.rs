//! What may go wrong with a book, in words.

use crate::machine::refusal;
use crate::{Key, Locale, args, key, say};
use book::{Became, BookFault, Detail, Store};
use std::path::{Path, PathBuf};

/// What is the matter with the book, in one sentence.
pub fn book_trouble(locale: &Locale, fault: &BookFault) -> String {
    let with = |key: Key, path: &Path, detail: &Detail| {
        let detail = detailed(locale, detail);
        locale.say(key, args![path = shown(path), detail = detail])
    };
    match fault {
        BookFault::CannotCreateFolder { path, detail } => {
            with(key!("trouble-folder"), path, detail)
        }
        BookFault::CannotOpen { path, detail } => with(key!("trouble-open"), path, detail),
        BookFault::ReadOnly { path, detail } => with(key!("trouble-read-only"), path, detail),
        BookFault::NotABook { path, detail } => with(key!("trouble-no-book"), path, detail),
        BookFault::Damaged { path, detail } => with(key!("trouble-damaged"), path, detail),
        BookFault::Busy { path, detail } => with(key!("trouble-busy"), path, detail),
        BookFault::Failed { path, detail } => with(key!("trouble-other"), path, detail),
        BookFault::NotABackup { path, detail } => with(key!("trouble-no-backup"), path, detail),
        BookFault::HalfABackup { path, detail } => with(key!("trouble-half-backup"), path, detail),
        BookFault::NotAnExport { path, detail } => with(key!("trouble-no-export"), path, detail),
        BookFault::PictureLost { path, detail } => with(key!("trouble-picture-lost"), path, detail),
        BookFault::AFolder { path } => say!(locale, "trouble-is-folder", path = shown(path)),
        BookFault::NoBookThere { path } => say!(locale, "trouble-not-there", path = shown(path)),
        BookFault::BookGone {
            path,
            backups,
            beside,
        } => gone(locale, path, backups, beside),
        BookFault::NotItsOwn { path, beside } => say!(
            locale,
            "trouble-not-its-own",
            path = shown(path),
            beside = shown(beside)
        ),
        BookFault::NoPlainFile { path, what } => say!(
            locale,
            "trouble-no-plain-file",
            path = shown(path),
            what = shown(what)
        ),
        BookFault::OtherNames { path } => say!(locale, "trouble-other-names", path = shown(path)),
        BookFault::NoLongerThere { what, became, .. } => {
            let what = shown(what);
            match became {
                Became::Gone => say!(locale, "trouble-went-away", what = what),
                Became::Another => say!(locale, "trouble-replaced", what = what),
                Became::Cut => say!(locale, "trouble-cut", what = what),
                Became::WrittenOver => say!(locale, "trouble-written-over", what = what),
            }
        }
        BookFault::DiskFull { path, .. } => say!(locale, "trouble-full", path = shown(path)),
        BookFault::NewerVersion { path, got, .. } => say!(
            locale,
            "trouble-newer",
            path = shown(path),
            version = got.to_string()
        ),
        BookFault::AlreadyThere { path } => say!(locale, "trouble-already", path = shown(path)),
        BookFault::NotAPicture { detail } => say!(
            locale,
            "trouble-no-picture",
            detail = detailed(locale, detail)
        ),
        BookFault::PictureTooLarge => say!(locale, "trouble-large-picture"),
        BookFault::NoSuchPicture { .. } => say!(locale, "trouble-picture-unknown"),
        BookFault::NoSuchJob { .. } => say!(locale, "trouble-no-job"),
        BookFault::Behind { .. } => say!(locale, "refused-behind"),
        BookFault::PictureCutShort => say!(locale, "picture-cut-short"),
        BookFault::PictureTooMuch => say!(locale, "picture-too-much"),
        BookFault::Torn => say!(locale, "trouble-torn"),
        BookFault::Unreadable(fault) => crate::question::log(locale, fault),
        BookFault::NotSwept(all) => not_swept(locale, all),
        BookFault::Resists { backup, why } => resists(locale, backup, why),
        BookFault::NotKnown { backup } => {
            say!(locale, "trouble-not-known", backup = shown(backup))
        }
        BookFault::Altered { path } => say!(locale, "trouble-altered", path = shown(path)),
        BookFault::OtherLines { backups } => {
            let all: Vec<String> = backups.iter().map(|backup| shown(backup)).collect();
            say!(
                locale,
                "trouble-other-lines",
                count = all.len(),
                backups = locale.list(&all)
            )
        }
    }
}

/// What is left of a removal: all that resists, and what is told besides.
fn not_swept(locale: &Locale, all: &[BookFault]) -> String {
    let besides = |fault: &&BookFault| {
        matches!(
            fault,
            BookFault::OtherLines { .. } | BookFault::Altered { .. }
        )
    };
    let (besides, resist): (Vec<_>, Vec<_>) = all.iter().partition(besides);
    let each: Vec<String> = (resist.iter())
        .map(|fault| match fault {
            BookFault::ReadOnly { path, detail } | BookFault::Failed { path, detail } => say!(
                locale,
                "trouble-not-gone",
                path = shown(path),
                detail = detailed(locale, detail)
            ),
            fault => book_trouble(locale, fault),
        })
        .collect();
    let each = match &each[..] {
        [_, _, ..] => (each.iter().zip(1..))
            .map(|(one, n)| format!("({n}) {one}"))
            .collect(),
        _ => each,
    };
    let head = (!each.is_empty())
        .then(|| say!(locale, "trouble-not-swept", each = each.join("; ")))
        .into_iter();
    let besides = besides.into_iter().map(|fault| book_trouble(locale, fault));
    head.chain(besides).collect::<Vec<_>>().join(". ")
}

/// A backup in which nothing can be emptied, and what helps.
fn resists(locale: &Locale, backup: &Path, why: &BookFault) -> String {
    let with = |key: Key, detail: &Detail| {
        let detail = detailed(locale, detail);
        locale.say(key, args![backup = shown(backup), detail = detail])
    };
    match why {
        // Nobody is told to throw all of them away.
        BookFault::CannotOpen { path, detail } if path == backup => {
            with(key!("trouble-resists-all"), detail)
        }
        BookFault::CannotOpen { detail, .. } => with(key!("trouble-resists-unread"), detail),
        BookFault::ReadOnly { detail, .. } => with(key!("trouble-resists-read-only"), detail),
        BookFault::NotABackup { detail, .. }
        | BookFault::HalfABackup { detail, .. }
        | BookFault::NotABook { detail, .. }
        | BookFault::Damaged { detail, .. } => with(key!("trouble-resists-damaged"), detail),
        BookFault::DiskFull { .. } => say!(locale, "trouble-full", path = shown(backup)),
        other => say!(
            locale,
            "trouble-resists-other",
            backup = shown(backup),
            why = book_trouble(locale, other)
        ),
    }
}

fn shown(path: &Path) -> String {
    path.display().to_string()
}

/// That there is no book any more: its latest backup, or else what was left of it.
fn gone(locale: &Locale, path: &Path, backups: &[PathBuf], beside: &[PathBuf]) -> String {
    let path = shown(path);
    match backups.first() {
        Some(backup) => say!(
            locale,
            "trouble-gone-backed-up",
            path = path,
            backup = shown(backup)
        ),
        None => {
            let left: Vec<String> = beside.iter().map(|left| shown(left)).collect();
            say!(locale, "trouble-gone", path = path, left = left.join(", "))
        }
    }
}

/// What was refused, or shows what is wrong.
fn detailed(locale: &Locale, detail: &Detail) -> String {
    match detail {
        Detail::Told(told) => told.clone(),
        Detail::Machine(kind, said) => refusal(locale, *kind, said),
        Detail::Store(Store::Open, _) => say!(locale, "store-open"),
        Detail::Store(Store::Write, _) => say!(locale, "machine-may-not"),
        Detail::Store(Store::Full, _) => say!(locale, "machine-full"),
        Detail::Store(Store::None, _) => say!(locale, "store-none"),
        Detail::Store(Store::Pages, _) => say!(locale, "store-pages"),
        Detail::Store(Store::Busy, _) => say!(locale, "machine-in-use"),
        Detail::Store(Store::Disk, _) => say!(locale, "store-disk"),
        Detail::Store(Store::Other, said) => say!(locale, "store-else", said = said.as_str()),
        Detail::Form { cut: true, .. } => say!(locale, "form-cut"),
        Detail::Form { cut: false, .. } => say!(locale, "form-odd"),
        Detail::Within(name, of) => {
            say!(
                locale,
                "detail-within",
                name = name.as_str(),
                said = detailed(locale, of)
            )
        }
    }
}
