//! What the machine refuses, in plain words.

use crate::{Locale, say};
use std::io::{Error, ErrorKind};

/// Why the machine refuses.
pub fn machine(locale: &Locale, error: &Error) -> String {
    refusal(locale, error.kind(), &error.to_string())
}

/// The same, of a kind; what is none of the usual is told in the machine's own words, without its numbers.
pub fn refusal(locale: &Locale, kind: ErrorKind, said: &str) -> String {
    match kind {
        ErrorKind::NotFound => say!(locale, "machine-not-there"),
        ErrorKind::PermissionDenied => say!(locale, "machine-may-not"),
        ErrorKind::ReadOnlyFilesystem => say!(locale, "machine-read-only"),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            say!(locale, "machine-full")
        }
        ErrorKind::IsADirectory => say!(locale, "machine-folder"),
        ErrorKind::NotADirectory => say!(locale, "machine-no-folder"),
        ErrorKind::AlreadyExists => say!(locale, "machine-there-already"),
        ErrorKind::DirectoryNotEmpty => say!(locale, "machine-not-empty"),
        ErrorKind::InvalidInput | ErrorKind::NotSeekable => say!(locale, "machine-no-plain-file"),
        ErrorKind::InvalidFilename => say!(locale, "machine-name"),
        ErrorKind::InvalidData => say!(locale, "machine-not-as-expected"),
        ErrorKind::UnexpectedEof | ErrorKind::WriteZero => say!(locale, "machine-cut"),
        ErrorKind::BrokenPipe => say!(locale, "machine-nobody-reads"),
        ErrorKind::AddrInUse | ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy => {
            say!(locale, "machine-in-use")
        }
        ErrorKind::TimedOut => say!(locale, "machine-too-slow"),
        ErrorKind::OutOfMemory => say!(locale, "machine-memory"),
        _ => {
            let said = said.split(" (os error").next().unwrap_or(said);
            say!(locale, "machine-else", said = said)
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Lang, Usage};

    #[test]
    fn nothing_the_machine_refuses_is_told_by_a_number() {
        // Of Linux, and of whatever else has as many.
        for number in 1..134 {
            for lang in [Lang::English, Lang::German] {
                let error = Error::from_raw_os_error(number);
                let told = machine(&Locale::of(lang, Usage::British), &error);
                assert!(!told.contains("os error") && !told.is_empty(), "{told}");
            }
        }
        let none = std::fs::read("/there/is/none").unwrap_err();
        assert_eq!(machine(&Locale::default(), &none), "it is not there");
    }
}
