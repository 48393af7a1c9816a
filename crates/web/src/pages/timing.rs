//! A train that is timed: what was seen, what to do, what will be seen after.

mod answer;
mod history;
mod page;
pub(super) mod reading;
mod routes;
mod step;
mod telling;

pub(super) use routes::{carried_on, routes};
