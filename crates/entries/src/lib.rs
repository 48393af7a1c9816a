//! The log of a job: what was seen and done from the day a clock came in, and while its train was timed, as plain data and
//! as JSON Lines text.
//!
//! A [`Log`] begins with a line that names the sheet it belongs to; each further line is one [`Entry`], numbered from 1
//! without a gap. Nothing is ever struck out: a thing is taken back or put right by a further entry that says so; only a
//! removal empties fields of entries before it, for good ([`Log::remove`]). Everything is kept as it was said, decimals as text and the lines byte for byte. This crate makes no sums and no sentences, resolves no
//! names and opens no files: it takes and gives text, and whoever calls it holds the file, the lock and the clock.
//!
//! A shift of several meshes has them as a list, `"meshes":[{"mesh":…,"teeth":…},…]`; where only one of them went the other way,
//! the `other_way` names it: `{"n":3,"kind":"other_way","of":2,"mesh":"second.wheel>third.pinion"}`. Without `mesh` all did.
//!
//! ```
//! use entries::{EntryKind, Log};
//! let text = br#"{"trundle_log":1,"sheet":"Wren Street schoolroom clock","hash":"5f0c"}
//! {"n":1,"kind":"look","tension":"tensioned","readings":[{"witness":"slot","deg":"-1.2","spread":"0.1"}]}
//! {"n":2,"kind":"shift","mesh":"second.wheel>third.pinion","teeth":2}
//! "#;
//! let (mut log, warnings) = Log::read(text).unwrap();
//! assert!(warnings.is_empty() && log.matches("5f0c"));
//! let line = log.append(&EntryKind::OtherWay { of: 2, mesh: None }, None).unwrap();
//! assert_eq!(line, "{\"n\":3,\"kind\":\"other_way\",\"of\":2}\n");
//! log.append(&EntryKind::Undo { of: 2 }, Some("Tuesday, after tea")).unwrap();
//! assert_eq!(log.standing().map(|entry| entry.n).collect::<Vec<_>>(), [1]);
//! ```

mod alike;
mod fault;
mod kind;
mod line;
mod log;
mod mesh;
mod parse;
mod parse_work;
mod pointed;
mod removal;
mod trace;
mod words;
mod work;
mod written;

pub use fault::{ExpectedField, LogFault, LogFaultKind, LogPlace, LogWarning};
pub use kind::{
    Entry, EntryContent, EntryKind, LoggedPlate, LoggedReading, LoggedSight, LoggedTension, Moved,
    Sight,
};
pub use log::{Log, LogHeader, LoggedSheet};
pub use mesh::AtMesh;
pub use removal::Removed;
pub use trace::{Likeness, Traces};
pub use work::{Emptied, Kept, Occasion, Stage, Striking, Unit, Work};
pub use written::{Day, Decimal, Digest, Oclock};

/// Words that a removal may empty.
pub type KeptText = Kept<String>;

/// The longest a log's text may be: 8 MiB. A look at three witnesses takes about two hundred bytes, so this is forty
/// thousand of them, and still over a thousand where sixty witnesses with long names are read at each; a train is timed
/// in some tens. What is longer is no log of a bench, and is refused before any of it is read.
pub const MOST_BYTES: usize = 8 << 20;
