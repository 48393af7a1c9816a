//! Exports, forms, sounds and pictures that were spoiled on purpose, through every command and page: each is taken or refused,
//! and nothing panics, hangs, stays behind or takes more memory than there is room for. `TRUNDLE_MUTATED` says how many of each;
//! the same seeds spoil the same. How long they took is told, not judged; only a hang is.
//!
//! What the tests cannot write themselves lies in `samples`, made by `tests/outside/mutated.py` of other libraries' packers.

mod bench;
mod exports;
mod forms;
mod page;
mod pictures;
mod sounds;
mod spoil;
mod tally;
