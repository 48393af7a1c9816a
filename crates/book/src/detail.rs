//! What shows that something is refused, as data: of which kind, and in its own words for whoever builds on this crate.

use std::{fmt, io};

/// What was refused, or what shows what is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Detail {
    /// As this crate tells it.
    Told(String),
    /// What the machine refuses, and in its words.
    Machine(io::ErrorKind, String),
    /// What the store refuses, and in its words.
    Store(Store, String),
    /// A page that is not in its form, or (`cut`) breaks off.
    Form {
        /// Whether it breaks off.
        cut: bool,
        /// What its reader says.
        said: String,
    },
    /// One of these, of a file in a folder.
    Within(String, Box<Detail>),
}

/// What the store refuses, of the usual.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Store {
    /// To open or make a file.
    Open,
    /// To write.
    Write,
    /// There is no room.
    Full,
    /// It is no store.
    None,
    /// Its pages do not fit together.
    Pages,
    /// Another has it.
    Busy,
    /// The disk fails.
    Disk,
    /// Anything else.
    Other,
}

impl Detail {
    /// Of a file with this name in a folder.
    pub(crate) fn within(name: impl Into<String>, of: impl Into<Detail>) -> Detail {
        Detail::Within(name.into(), Box::new(of.into()))
    }
}

impl fmt::Display for Detail {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Detail::Told(said)
            | Detail::Machine(_, said)
            | Detail::Store(_, said)
            | Detail::Form { said, .. } => f.write_str(said),
            Detail::Within(name, of) => write!(f, "{name}: {of}"),
        }
    }
}

impl From<String> for Detail {
    fn from(told: String) -> Detail {
        Detail::Told(told)
    }
}

impl From<&str> for Detail {
    fn from(told: &str) -> Detail {
        Detail::Told(told.to_owned())
    }
}

impl From<&io::Error> for Detail {
    fn from(error: &io::Error) -> Detail {
        Detail::Machine(error.kind(), error.to_string())
    }
}

impl From<&rusqlite::Error> for Detail {
    fn from(error: &rusqlite::Error) -> Detail {
        use rusqlite::ErrorCode as Code;
        let kind = match error.sqlite_error_code() {
            Some(Code::CannotOpen) => Store::Open,
            Some(Code::ReadOnly | Code::PermissionDenied) => Store::Write,
            Some(Code::DiskFull) => Store::Full,
            Some(Code::NotADatabase) => Store::None,
            Some(Code::DatabaseCorrupt) => Store::Pages,
            Some(Code::DatabaseBusy | Code::DatabaseLocked) => Store::Busy,
            Some(Code::SystemIoFailure) => Store::Disk,
            _ => Store::Other,
        };
        Detail::Store(kind, error.to_string())
    }
}

impl From<&serde_json::Error> for Detail {
    fn from(error: &serde_json::Error) -> Detail {
        Detail::Form {
            cut: error.is_eof(),
            said: error.to_string(),
        }
    }
}
