//! Kinds of strike as data, and a sheet that is made and altered by what is asked of a movement.
//!
//! A kind is two texts: a pattern, which is a whole sheet of that kind with all that may be on it and usual counts; and what is
//! asked of it, with the proportions that its works usually have ([`Kind`]). [`Described`] is a sheet's text in the making: all that
//! is known of it stands in that text, and after every touch whatever stands there as usual is worked out again from the
//! counts. What a track, a pin or a lever is follows from what it does and never from its name ([`WorkRole`]). No sentences here.

mod angles;
mod answers;
mod bare;
mod build;
mod described;
mod drive;
mod fault;
mod fitting;
mod follows;
mod hints;
mod kind;
mod moved;
mod pace;
mod pattern;
mod places;
mod proportions;
mod role;
mod take;
mod tell;
mod train;
mod widths;
mod works;

pub use answers::{AskedQuestion, PresentAnswer, QuestionAnswer};
pub use described::Described;
pub use fault::DescribeFault;
pub use follows::{CountedPart, Follow, LikelyMiscount, Wanted};
pub use kind::{AskedFor, Choice, Drive, DrivePart, Kind, Question, SetAt, SetKey, TrainSort};
pub use pace::MeasuredPace;
pub use places::{CountPlace, CountState, PartLook, PlaceId};
pub use role::{StrikeWork, WorkRole};
pub use widths::MeasuredWidth;
pub use works::works;
