//! What drives a clock: springs in barrels and open ones, weights on cords, how long they run it, and what comes down the
//! train of their torque.
//!
//! A spring is the straight strip of the handbooks that has taken its set; friction between its coils is said beside it,
//! not worked into its law. Nothing here moves in time: the fly and the running train are not here.

pub mod assumed;
mod coil;
mod powers;
mod replace;
mod run;
mod spring;
mod train;
mod weight;

pub use coil::{coils_down, coils_up, room, turns_by_half};
pub use powers::{PowerFault, PowerSource, on_sheet};
pub use replace::{BarrelRoom, Beside, Fitting, beside, fitting_strip};
pub use run::{RunTime, Winding, runs};
pub use spring::{
    Left, Spring, SpringFault, Strip, StripMeasure, Wound, bears, steel, stored_bound, wound,
};
pub use train::{At, Blow, at_blow, down_the_train, through_a_mesh};
pub use weight::{Weight, WeightFall, fallen};
