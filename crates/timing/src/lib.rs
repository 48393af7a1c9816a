//! The shift: from what was seen at the drop to which mesh, how many teeth, which way.
//!
//! Where a witness can be put is a lattice of exact places (`lattice`); how likely it then stands in its window is
//! a chance (`chance`); the rule of choice (`choose`) goes from the one to the other. No sentences, no files.

mod act;
mod advice;
mod alike;
mod angle;
mod another_drop;
mod answer;
pub mod assumed;
mod belief;
mod bench;
mod brought;
mod chance;
mod choose;
mod cost_to_go;
mod dense;
mod effort;
mod events;
mod eye;
mod facts;
mod glance;
mod goal;
mod hands;
mod held;
mod lattice;
mod lock;
mod normal;
mod order;
mod places;
mod priors;
mod rated;
mod reading;
mod recall;
mod rest;
mod resting;
mod rings;
mod round;
mod runs;
mod said;
mod sets;
mod settle;
mod shift;
mod slack;
mod stood;
mod stood_right;
mod system;
mod teeth;
mod turn;
mod view;
mod walk;

pub use act::{Act, INFERRED, Lacks, Newest, RuleFacts, SETTLES, SOUND, SURE, WorkLeft, act};
pub use advice::Advice;
pub use another_drop::{AnotherDrop, another_drop};
pub use answer::{
    Answer, Cure, MOST_WORK, Miss, Nearest, Standing, Stands, answer, answer_watched,
};
pub use belief::Belief;
pub use bench::{Bench, Tension};
pub use brought::{Brought, brought_to_the_drop, stood_at_the_drop};
pub use effort::Waiting;
pub use events::{RecallFault, last_turn};
pub use eye::{Eye, Shown};
pub use hands::{Handling, Hands};
pub use order::{Held, MOST_ORDER_PLACES, MOST_ORDERS, Order, OrderStep, Settle, order};
pub use places::{MOST_WAYS, TooManyPlaces};
pub use priors::Priors;
pub use reading::{
    FarOff, Reading, ReadingFault, SaidReading, TipLook, default_spread, read, read_at_rest,
    widest_spread,
};
pub use recall::{Handled, Recalled};
pub use rest::{Rest, StandsAtRest};
pub use round::{Shifted, last_round};
pub use runs::MOST_HYPOTHESES;
pub use said::{SaidFault, of_witness, parse, reading_as_said, written};
pub use sets::Untried;
pub use shift::{Shift, ShiftWay};
pub use stood_right::{HowStood, StoodAt, StoodRight, stood_right, tells_stood};
pub use turn::{Turn, TurnBy};
