//! The way of a job: its stages, what is left at one of them, what to mind, what is known, and what may be entered.

mod known;
mod page;
mod routes;

pub(super) use routes::{page, routes};
