//! The study of openings: how often the plates are spread until a mis-timed movement is timed, by trial and error, with
//! this tool and at best, over fleets of made-up movements.
//!
//! A [`world`] knows where everything truly stands, [`hands`] are clumsy, [`eyes`] see badly, and a player at the
//! [`mod@bench`] is told only what eyes saw. The [`bound`], the [`tool`], and [`trial`] and error are players. Nothing here is of use to a
//! repairer, and no sum of the house may name it.

pub mod bench;
pub mod bound;
pub mod dice;
pub mod eyes;
pub mod fleet;
pub mod hands;
pub mod study;
pub mod table;
pub mod tool;
pub mod trial;
pub mod values;
pub mod world;
