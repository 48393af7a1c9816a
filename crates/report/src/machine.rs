//! What the machine refuses, in plain words.

use crate::{Words, say};
use std::io::{Error, ErrorKind};

/// Why the machine refuses.
pub fn machine(words: &Words, error: &Error) -> String {
    refusal(words, error.kind(), &error.to_string())
}

/// The same, of a kind; what is none of the usual is told in the machine's own words, without its numbers.
pub fn refusal(words: &Words, kind: ErrorKind, said: &str) -> String {
    match kind {
        ErrorKind::NotFound => say!(words, "machine-not-there"),
        ErrorKind::PermissionDenied => say!(words, "machine-may-not"),
        ErrorKind::ReadOnlyFilesystem => say!(words, "machine-read-only"),
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded | ErrorKind::FileTooLarge => {
            say!(words, "machine-full")
        }
        ErrorKind::IsADirectory => say!(words, "machine-folder"),
        ErrorKind::NotADirectory => say!(words, "machine-no-folder"),
        ErrorKind::AlreadyExists => say!(words, "machine-there-already"),
        ErrorKind::DirectoryNotEmpty => say!(words, "machine-not-empty"),
        ErrorKind::InvalidInput | ErrorKind::NotSeekable => say!(words, "machine-no-plain-file"),
        ErrorKind::InvalidFilename => say!(words, "machine-name"),
        ErrorKind::InvalidData => say!(words, "machine-not-as-expected"),
        ErrorKind::UnexpectedEof | ErrorKind::WriteZero => say!(words, "machine-cut"),
        ErrorKind::BrokenPipe => say!(words, "machine-nobody-reads"),
        ErrorKind::AddrInUse | ErrorKind::ResourceBusy | ErrorKind::ExecutableFileBusy => {
            say!(words, "machine-in-use")
        }
        ErrorKind::TimedOut => say!(words, "machine-too-slow"),
        ErrorKind::OutOfMemory => say!(words, "machine-memory"),
        _ => {
            let said = said.split(" (os error").next().unwrap_or(said);
            say!(words, "machine-else", said = said)
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
                let told = machine(&Words::of(lang, Usage::British), &error);
                assert!(!told.contains("os error") && !told.is_empty(), "{told}");
            }
        }
        let none = std::fs::read("/there/is/none").unwrap_err();
        assert_eq!(machine(&Words::default(), &none), "it is not there");
    }
}
