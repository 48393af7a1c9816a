//! Drawings of a movement in millimetres, then SVG text: the train as it lies there, and its witnesses close up.
//!
//! [`layout`] places arbors where the sheet says, else so that pitch circles touch and nothing hides what matters; [`scene`] draws that from
//! either plate and either way up, each witness where a [`Pose`] has it, with the [`Marks`] it is told; [`loupe`] draws
//! one witness large; [`counting`](counting()) draws a movement of which counts are missing. Teeth have their true counts and
//! clock forms; [`running`] draws tracks and levers as the sheet has them, everywhere else lever arms are schematic. This crate works out no reading and no shift, writes no sentence, and knows no file, clock or chance.

mod anchor;
mod arrow;
pub mod assumed;
mod body;
mod coiled;
mod counting;
mod falling;
mod figure;
mod figured;
mod figures;
mod fitting;
mod gauged;
mod glass;
mod hanging;
mod ink;
mod label;
mod laying;
mod layout;
mod level;
mod lever;
mod look;
mod loupe;
mod machinery;
mod marks;
mod mm;
mod phase;
mod pictured;
mod pitch;
mod place;
mod placed;
mod plot;
mod poster;
mod scene;
mod similar;
mod slots;
mod slotted;
mod standing;
mod stood;
mod strip;
mod tooth;
mod underlay;
mod view;
mod works;

pub use anchor::{Anchor, Anchored, CloseUp};
pub use coiled::{Coiled, coiled};
pub use counting::{CountMarks, CountShown, DrawnAs, counting};
pub use falling::{Falling, falling};
pub use gauged::{Gauged, gauged};
pub use hanging::{Hanging, hanging};
pub use ink::{Drawing, PALETTE, STYLE};
pub use layout::{Layout, layout};
pub use loupe::{choices, loupe};
pub use marks::{Hold, Lift, LiftWay, Marks, Note, PartTurned, Pose};
pub use mm::Mm;
pub use pictured::pictured;
pub use placed::{Unreached, unreached};
pub use plot::{Axes, Inked, plot};
pub use poster::poster;
pub use scene::{scene, scene_with_notes};
pub use similar::{SamePoint, Similarity};
pub use strip::{Sounded, strip};
pub use underlay::{OnPlate, Underlay};
pub use view::View;
pub use works::running;
