//! Why a question cannot be answered as it was put, as data: what is said of it is said elsewhere.

use crate::windows::{WindowsTrouble, trouble};
use drive::{PowerFault, SpringFault};
use entries::LogFault;
use movement::Movement;
use quantity::Unwritten;
use timing::{ReadingFault, RecallFault, SaidFault};
use way::Change;
use workshop::counts::PuzzleFault;
use workshop::pendulum::NoPendulum;

/// Why a question is not answered.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum QuestionFault {
    /// A touch of a movement that is described is refused.
    #[error(transparent)]
    NotDescribed(kinds::DescribeFault),
    /// A reading cannot be taken apart, as it was written.
    #[error("`{0}` cannot be taken apart")]
    Said(String, #[source] SaidFault),
    /// What is to be set on a sheet cannot be taken apart, as it was written.
    #[error("`{0}` cannot be set")]
    NotSet(String),
    /// A reading says something that cannot be used, as it was written.
    #[error("`{0}` cannot be used")]
    Reading(String, #[source] ReadingFault),
    /// This witness is read twice in one look.
    #[error("witness `{0}` is read twice")]
    ReadTwice(String),
    /// No reading at all; the sheet's witnesses.
    #[error("nothing is read of: {}", .0.join(", "))]
    NothingRead(Vec<String>),
    /// What was asked needs the windows of these witnesses, and the sheet has none for them.
    #[error("no windows for: {}", of.join(", "))]
    NoWindows {
        /// The witnesses.
        of: Vec<String>,
        /// Why none can be worked out; nothing where there are no levers to do it from.
        why: Option<WindowsTrouble>,
    },
    /// No such arbor.
    #[error("no arbor `{got}`, expected one of: {}", all.join(", "))]
    UnknownArbor {
        /// What was asked for.
        got: String,
        /// What may be meant.
        near: Option<String>,
        /// The sheet's arbors.
        all: Vec<String>,
    },
    /// More places than can be kept apart.
    #[error("more than {} places", timing::MOST_WAYS)]
    TooManyPlaces {
        /// Whether the train comes out as it was counted.
        comes_out: bool,
    },
    /// Done as said, but nothing was advised.
    #[error("nothing was advised")]
    NothingAdvised,
    /// The other way, but nothing was shifted.
    #[error("nothing was shifted")]
    NoShift,
    /// There is no shift of this number among so many.
    #[error("no shift {0} among {1}")]
    NoSuchShift(usize, usize),
    /// The clock went home.
    #[error("the clock went home")]
    Home,
    /// Nothing to take back.
    #[error("nothing to take back")]
    NothingToUndo,
    /// Since the entry with this number it does not stand as it came.
    #[error("since entry {0} it does not stand as it came")]
    NotAsItStood(usize),
    /// No entry of this number to take back, of so many.
    #[error("no entry {0} among {1}")]
    NoEntry(usize, usize),
    /// This arbor was not out.
    #[error("arbor `{0}` is not out")]
    NotOut(String),
    /// A mesh and its teeth that cannot be read.
    #[error("`{got}` is no mesh with teeth, expected one of: {}", all.join(", "))]
    BadMesh {
        /// What was written.
        got: String,
        /// The sheet's meshes.
        all: Vec<String>,
    },
    /// What was written must be said in degrees.
    #[error("`{0}` is not in degrees")]
    DegreesOnly(String),
    /// The log is of another sheet.
    #[error("a log of sheet `{log}` beside sheet `{sheet}`, with {} changes known", changed.len())]
    OtherSheet {
        /// This sheet's name.
        sheet: String,
        /// The log's sheet.
        log: String,
        /// What is otherwise than on the log's sheet, as far as that can be told.
        changed: Vec<Change>,
    },
    /// The log cannot be read.
    #[error("the log cannot be read")]
    Log(#[source] LogFault),
    /// A log has no room for what was to be entered.
    #[error("no room in the log")]
    LogFull,
    /// The log cannot be summed up.
    #[error("the log cannot be summed up")]
    Recall(#[source] RecallFault),
    /// There is no strike to run.
    #[error("no strike to run")]
    Unfit(#[source] strike::NoStrike),
    /// Something cannot be put in wrong, as it was written.
    #[error("`{0}` cannot be put in wrong")]
    Unput(String, #[source] PutInFault),
    /// What was written for a part of the question is no measurement.
    #[error("`{written}` for `{name}`: {why}")]
    Unwritten {
        /// The part, as an option names it.
        name: &'static str,
        /// What was written.
        written: String,
        /// Why it is none.
        #[source]
        why: Unwritten,
    },
    /// It is one, and nothing of its kind.
    #[error("`{written}` is beyond what `{name}` can be")]
    OutOfBounds {
        /// The part, as an option names it.
        name: &'static str,
        /// What was written.
        written: String,
        /// What it is beyond.
        out: Out,
    },
    /// It is not in its form.
    #[error("`{written}` for `{name}` is not in its form")]
    NotInForm {
        /// The part, as an option names it.
        name: &'static str,
        /// What was written.
        written: String,
        /// The form.
        form: WrittenForm,
    },
    /// It is none of the words that are expected.
    #[error("`{written}` for `{name}`, expected one of: {}", known.join(", "))]
    NotKnown {
        /// The part, as an option names it.
        name: &'static str,
        /// What was written.
        written: String,
        /// The words.
        known: Vec<&'static str>,
    },
    /// A range of counts that holds none.
    #[error("no counts from {least} to {most}")]
    NoCounts {
        /// From.
        least: u16,
        /// To.
        most: u16,
    },
    /// A ratio that must come out cannot be taken apart, as it was written.
    #[error("`{0}` is no ratio of two arbors")]
    NoRatio(String),
    /// No such part.
    #[error("no part `{0}`")]
    UnknownPart(String),
    /// The sheet's text was not edited.
    #[error("the sheet was not edited")]
    NotPutIn(#[source] sheet::edit::EditFault),
    /// There are no counts to be found.
    #[error("no counts to be found")]
    Puzzle(#[source] PuzzleFault),
    /// What is said of a pendulum cannot be.
    #[error("no such pendulum")]
    NoPendulum(#[source] NoPendulum),
    /// What drives is not on the sheet, or not all of it.
    #[error("what drives is not all on the sheet")]
    Power(#[source] PowerFault),
    /// What drives this arbor cannot be as it was measured.
    #[error("what drives `{arbor}` cannot be")]
    Drives {
        /// The arbor.
        arbor: String,
        /// What stands against each other.
        #[source]
        why: SpringFault,
    },
    /// Another strip in a spring's place, where there is no spring.
    #[error("no spring in whose place another could be")]
    NoSpring,
    /// Nothing drives this arbor.
    #[error("nothing drives `{0}`")]
    NothingDrives(String),
    /// No number above nothing, for this part of the question.
    #[error("`{0}` is no number above 0")]
    NoNumber(&'static str),
    /// What was said of the recorder's clock cannot be taken apart.
    #[error("`{0}` is nothing of a recorder's clock")]
    NoClock(String),
}

/// Why something cannot be put in wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum PutInFault {
    /// No mesh that can be shifted; those that can.
    #[error("no mesh that can be shifted, expected one of: {}", .0.join(", "))]
    NoMesh(Vec<String>),
    /// No whole number of teeth.
    #[error("no whole number of teeth")]
    NoTeeth,
    /// No number of degrees.
    #[error("no number of degrees")]
    NoAngle,
    /// No number of a slot or pin.
    #[error("no number of a slot or pin")]
    NoNumber,
    /// Nothing of that name; what there is.
    #[error("nothing of that name, expected one of: {}", .0.join(", "))]
    NotThere(Vec<String>),
    /// A number beyond the last.
    #[error("beyond the last, which is {last}")]
    Beyond {
        /// The last.
        last: usize,
    },
    /// A track without slots that wear; those with.
    #[error("no slots that wear, expected one of: {}", .0.join(", "))]
    NoSlots(Vec<String>),
    /// A track without pins; what has some.
    #[error("no pins, expected one of: {}", .0.join(", "))]
    NoPins(Vec<String>),
    /// More teeth than the wheel has.
    #[error("more than the {teeth} teeth of the wheel")]
    PastWheel {
        /// How many it has.
        teeth: u16,
    },
    /// A bend or slip farther than any can be.
    #[error("farther than {most} degrees")]
    TooFar {
        /// The most, in degrees.
        most: u16,
    },
    /// Wear that puts metal on, or takes too much.
    #[error("wear not between 0 and {most} degrees")]
    NoWear {
        /// The most, in degrees.
        most: u16,
    },
    /// More teeth than the wheel has, with what was put in at the same mesh before.
    #[error("together more than the {teeth} teeth of the wheel")]
    TogetherPastWheel {
        /// How many it has.
        teeth: u16,
    },
    /// More than can be, with what was put in at the same part before.
    #[error("together farther than {most} degrees")]
    TogetherTooFar {
        /// The most, in degrees.
        most: u16,
    },
}

impl QuestionFault {
    /// Why something is not entered into a log that is good.
    pub(crate) fn not_entered(fault: LogFault) -> QuestionFault {
        match fault.what {
            entries::LogFaultKind::TooLong { .. } => QuestionFault::LogFull,
            _ => QuestionFault::Log(fault),
        }
    }

    /// That there is no such arbor.
    pub fn unknown_arbor(movement: &Movement, got: &str) -> QuestionFault {
        let ids = || movement.arbors().map(|(_, arbor)| arbor.id.as_str());
        QuestionFault::UnknownArbor {
            got: got.to_owned(),
            near: movement::near(got, ids()).map(str::to_owned),
            all: ids().map(str::to_owned).collect(),
        }
    }

    /// That witnesses have no window.
    pub fn no_windows(movement: &Movement) -> QuestionFault {
        QuestionFault::NoWindows {
            of: movement.unjudged().iter().map(|w| w.id.clone()).collect(),
            why: trouble(movement),
        }
    }

    /// That a reading cannot be taken apart, as it was written; where it is because no window could be worked out, why.
    pub fn said(movement: &Movement, written: String, fault: SaidFault) -> QuestionFault {
        match fault {
            SaidFault::NoWindow { .. } if movement.works().is_some() => {
                QuestionFault::no_windows(movement)
            }
            fault => QuestionFault::Said(written, fault),
        }
    }

    /// That nothing was read.
    pub fn nothing_read(movement: &Movement) -> QuestionFault {
        if movement.witnesses().len() == 0 && !movement.unjudged().is_empty() {
            return QuestionFault::no_windows(movement);
        }
        QuestionFault::NothingRead(movement.witnesses().map(|(_, w)| w.id.clone()).collect())
    }

    /// That this is no mesh with teeth.
    pub fn bad_mesh(movement: &Movement, got: &str) -> QuestionFault {
        QuestionFault::BadMesh {
            got: got.to_owned(),
            all: (movement.meshes())
                .map(|(id, _)| movement.mesh_name(id).replace('>', ":"))
                .collect(),
        }
    }
}

/// Out of the bounds of what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Out {
    /// A latitude.
    Latitude,
    /// A height above the sea.
    Height,
    /// A swing to one side.
    Swing,
    /// Beats.
    Beats,
    /// A pendulum's length.
    Length,
    /// A run of one winding.
    Run,
    /// Anything whose spread is more than half of it.
    Vague,
}

/// How something is written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrittenForm {
    /// The air now and then.
    Airs,
    /// A piece of a pendulum.
    Piece,
    /// A strip or ribbon.
    Strip,
    /// A disc that turns on a ribbon.
    Disc,
    /// Balls or a ring that turn on it.
    Turning,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Refusal, check};
    use entries::{LogFaultKind, LogPlace};
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn what_lies_behind_is_not_lost() {
        let why = QuestionFault::Said("slot".to_owned(), SaidFault::NoEquals);
        assert_eq!(
            chain(&why),
            "`slot` cannot be taken apart: no `=` in a reading"
        );
        let why = QuestionFault::Unput("hook=3".to_owned(), PutInFault::Beyond { last: 2 });
        assert_eq!(
            chain(&why),
            "`hook=3` cannot be put in wrong: beyond the last, which is 2"
        );
        let why = QuestionFault::Log(LogFault {
            place: LogPlace::Line { line: 2 },
            what: LogFaultKind::Blank,
        });
        assert_eq!(chain(&why), "the log cannot be read: line 2: a blank line");
        let why = QuestionFault::Recall(RecallFault::Reading {
            n: 3,
            witness: "star".to_owned(),
            fault: ReadingFault::NoLook,
        });
        assert_eq!(
            chain(&why),
            "the log cannot be summed up: entry 3 has a reading of `star` that cannot be used: \
             no slot and tip on the sheet for this witness"
        );
        let why = QuestionFault::Unfit(strike::NoStrike::NoLevers);
        assert_eq!(chain(&why), "no strike to run: no levers on the sheet");
    }

    #[test]
    fn a_refusal_is_what_it_is_refused_for() {
        let faults = check(b"\xff").expect_err("no text");
        let says = faults.to_string();
        let refusal = Refusal::from(faults);
        assert_eq!(refusal.to_string(), says);
        assert!(says.contains("byte 0xff"), "{says}");
        let refusal = Refusal::Question(QuestionFault::Unfit(strike::NoStrike::NoStrike));
        assert_eq!(chain(&refusal), "no strike to run: no strike on the sheet");
    }
}
