//! The shift: from what was seen at the drop to which mesh, how many teeth, which way.
//!
//! Where a witness can be put is a lattice of exact places (`lattice`); how likely it then stands in its window is
//! a chance (`chance`); the rule of choice (`choose`) goes from the one to the other. No sentences, no files.

mod act;
mod alike;
mod answer;
pub mod assumed;
mod belief;
mod chance;
mod choose;
mod dense;
mod effort;
mod events;
mod eye;
mod facts;
mod glance;
mod labour;
mod lattice;
mod normal;
mod order;
mod places;
mod priors;
mod reading;
mod recall;
mod rings;
mod round;
mod said;
mod sets;
mod settle;
mod slack;
mod system;
mod teeth;
mod view;
mod walk;

pub use act::{Act, Facts, Lacks, Newest, SETTLES, SOUND, SURE, Work, act};
pub use answer::{
    Answer, Cure, Hands, MOST_WORK, Miss, Nearest, Shift, Standing, Stands, Way, answer,
    answer_watched,
};
pub use belief::{Belief, Bench, Handling, Tension};
pub use effort::Waiting;
pub use events::{RecallFault, is_slot};
pub use eye::{Eye, Shown};
pub use labour::Advice;
pub use order::{Held, PutIn, Settle, order};
pub use places::{MOST_WAYS, TooManyPlaces};
pub use priors::Priors;
pub use reading::{FarOff, Look, Reading, ReadingFault, Said, default_spread, read, widest_spread};
pub use recall::{Handled, Recalled};
pub use round::{Shifted, last_round};
pub use said::{SaidFault, of_witness, parse, said, written};
pub use sets::Untried;
