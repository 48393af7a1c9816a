//! The bench page: one page a job, served to this machine alone.
//!
//! A request names a job; the book gives its sheet and log, [`tasks`] sums them up, [`draw`] draws, and [`report`] has the
//! words. What is told goes into the book before it is answered. The page moves only what it was given; it works without
//! its script for looking and for readings that are typed. Nothing is fetched from anywhere, and no sum is made here.

mod asked;
mod assets;
mod backing;
pub mod bounds;
mod connections;
mod desk;
mod fields;
mod form;
mod frame;
mod guard;
mod heavy;
mod holding;
mod in_place;
mod paced;
mod pages;
mod plate;
mod recordings;
mod requests;
mod searches;
mod serve;
mod speech;
mod start;
mod trouble;
mod underlay;

pub use pages::sums;
pub use serve::{Options, run};
pub use trouble::Trouble;

/// The port of the page where none is said: as many blows as a striking clock gives in its twelve hours, and twelve.
pub const PORT: u16 = 7812;
