//! The bench book: jobs with their sheets, logs and pictures, in one embedded file and a folder of pictures beside it.
//!
//! A [`Book`] holds jobs. Each has a name, the text of its sheet and the lines of its log; lines are only ever added, and
//! once [`Book::append`] has said so, no kill at any instant takes them back. The one thing that changes a line is a
//! removal, which empties a person's fields and pictures for good. Several books may be open on one file: who appends
//! without having seen what another wrote is refused as [`BookFault::Behind`].
//!
//! Each line has a digest over the one before it, so that what happens to the file is found ([`Book::verify`]); it is no lock.
//!
//! The door is narrow: append, list, blob (pictures), search; the rest keeps the book itself: backups, restoring, verifying,
//! export and import. This crate knows the form of a log and what is shown of it in a list, and nothing of what it means
//! for a train: it makes no sums and no sentences, reads no sheet and no clock; days are handed in.
//!
//! ```
//! use book::{Book, BookFault};
//! # let folder = tempfile::tempdir().unwrap();
//! # let path = folder.path().join("bench.book");
//! let book = Book::open(&path)?;
//! let log = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";
//! let job = book.start("Quay Street", "the sheet", log)?;
//! book.append(job, 0, "{\"n\":1,\"kind\":\"note\",\"says\":\"the fly rubs\"}\n")?;
//! assert_eq!(book.job(job)?.log.lines().count(), 2);
//! assert_eq!(book.search("fly", 10)?[0].n, 1);
//! let late = book.append(job, 0, "{\"n\":1,\"kind\":\"struck\",\"hour\":5}\n");
//! assert_eq!(late, Err(BookFault::Behind { held: 1, believed: 0 }));
//! # Ok::<(), BookFault>(())
//! ```

mod ahead;
mod aside;
mod backup;
mod backups;
mod blobs;
mod book;
mod bounds;
mod chain;
mod coming;
mod detail;
mod emptying;
mod export;
mod fault;
mod fields;
mod files;
mod form;
mod id;
mod import;
mod jobs;
mod kin;
mod left;
mod lines;
mod picture;
mod pictures;
mod placing;
mod removal;
mod rest;
mod restore;
mod search;
mod settings;
mod store;
mod sum;
mod table;
mod tidy;
mod tied;
mod tried;
mod turn;
mod unshown;
mod verify;
mod whole;
mod words;

pub use aside::Aside;
pub use backup::{Backup, BackupWas};
pub use book::Book;
pub use bounds::{MOST_HELD, MOST_PICTURE_BYTES, MOST_PIXELS, MOST_UNPACKING};
pub use chain::LineWas;
pub use detail::{Detail, Store};
pub use export::Carried;
pub use fault::{Became, BookFault};
pub use fields::Places;
pub use files::Syncing;
pub use id::{EntryPlace, JobId, NoEntryPlace};
pub use import::import;
pub use jobs::{Job, JobLine, JobView, Listing};
pub use picture::{Picture, PictureFormat};
pub use pictures::{NotWhole, Size};
pub use removal::Removing;
pub use restore::restore;
pub use search::{FoundIn, Hit};
pub use table::TableWriter;
pub use turn::PATIENCE;
pub use verify::{BookDamage, Extent, Verdict};
