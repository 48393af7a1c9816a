//! The bench page: one page a job, served to this machine alone.
//!
//! A request names a job; the book gives its sheet and log, [`tasks`] sums them up, [`draw`] draws, and [`report`] has the
//! words. What is told goes into the book before it is answered. The page moves only what it was given; it works without
//! its script for looking and for readings that are typed. Nothing is fetched from anywhere, and no sum is made here.

mod answer;
mod asked;
mod assets;
mod backing;
pub mod bounds;
mod closeup;
mod connections;
mod desk;
mod entering;
mod eyes;
mod form;
mod guard;
mod heavy;
mod history;
mod job_routes;
mod jobs;
mod known;
mod lesson;
mod listening;
mod paced;
mod page;
mod plate;
mod reading;
mod record;
mod routes;
mod running;
mod search;
mod serve;
mod settings;
mod speech;
mod start;
mod sums;
mod telling;
mod trouble;
mod way;
mod worked;

pub use serve::{Options, run};
pub use trouble::Trouble;

/// The port of the page where none is said: as many blows as a striking clock gives in its twelve hours, and twelve.
pub const PORT: u16 = 7812;
