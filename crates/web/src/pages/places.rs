//! Where the arbors of a movement lie: put there on its drawing, or touched on a photograph of it.

mod page;
mod photograph;
mod picture;
mod routes;
mod said;

pub(super) use routes::routes;
