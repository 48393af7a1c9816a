//! A movement described by whoever has it on the bench: how it strikes, what it counts, what it carries. Each touch alters the
//! text of its sheet, and is an entry.

mod asking;
mod bare;
mod counting;
mod page;
mod picture;
mod routes;
mod step;
mod striking;

pub(super) use routes::routes;
