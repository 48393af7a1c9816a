//! A movement described by whoever has it on the bench: how it strikes, what it counts, what it carries.

mod counting;
mod page;
mod picture;
mod routes;

pub(super) use routes::routes;
