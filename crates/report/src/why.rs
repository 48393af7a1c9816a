//! Why a question cannot be answered as it was put: as data, and in words.

use crate::en::{all_ticked, quoted, ticked};
use crate::{Key, Words, args, key, say};
use entries::{Expected, LogFault, Place, What};
use movement::Movement;
use timing::{ReadingFault, RecallFault, SaidFault};
use way::Change;

/// Why a question is not answered.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum Why {
    /// A reading cannot be taken apart, as it was written.
    #[error("`{0}` cannot be taken apart")]
    Said(String, #[source] SaidFault),
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
    #[error("no windows for: {}", .0.join(", "))]
    NoWindows(Vec<String>),
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
    /// Nothing to take back.
    #[error("nothing to take back")]
    NothingToUndo,
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
    Unfit(#[source] strike::Unfit),
    /// Something cannot be put in wrong, as it was written.
    #[error("`{0}` cannot be put in wrong")]
    Unput(String, #[source] Unput),
    /// What is told by the rest of this crate, in the words it was asked in.
    #[error("{0}")]
    Told(String),
}

/// Why something cannot be put in wrong.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unput {
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

impl Why {
    /// That there is no such arbor.
    pub fn unknown_arbor(movement: &Movement, got: &str) -> Why {
        let ids = || movement.arbors().map(|(_, arbor)| arbor.id.as_str());
        Why::UnknownArbor {
            got: got.to_owned(),
            near: movement::near(got, ids()).map(str::to_owned),
            all: ids().map(str::to_owned).collect(),
        }
    }

    /// That witnesses have no window.
    pub fn no_windows(movement: &Movement) -> Why {
        Why::NoWindows(movement.unjudged().iter().map(|w| w.id.clone()).collect())
    }

    /// That nothing was read.
    pub fn nothing_read(movement: &Movement) -> Why {
        if movement.witnesses().len() == 0 && !movement.unjudged().is_empty() {
            return Why::no_windows(movement);
        }
        Why::NothingRead(movement.witnesses().map(|(_, w)| w.id.clone()).collect())
    }

    /// That this is no mesh with teeth.
    pub fn bad_mesh(movement: &Movement, got: &str) -> Why {
        Why::BadMesh {
            got: got.to_owned(),
            all: (movement.meshes())
                .map(|(id, _)| movement.mesh_name(id).replace('>', ":"))
                .collect(),
        }
    }

    /// In words.
    pub fn say(&self, words: &Words) -> String {
        match self {
            Why::Told(told) => told.clone(),
            Why::Said(written, fault) => said(words, &quoted(written), fault),
            Why::Reading(written, fault) => reading(words, &quoted(written), fault),
            Why::ReadTwice(id) => say!(words, "why-read-twice", id = ticked(id)),
            Why::NothingRead(ids) if ids.is_empty() => say!(words, "why-no-witness"),
            Why::NothingRead(ids) => {
                let all: Vec<String> = ids.iter().map(|id| format!("`--saw {id}=…`")).collect();
                say!(words, "why-nothing-read", all = words.list(&all))
            }
            Why::UnknownArbor { got, near, all } => {
                let hint = hint(words, near.as_deref(), all);
                say!(words, "why-unknown-arbor", got = quoted(got), hint = hint)
            }
            Why::NoWindows(ids) => {
                say!(words, "why-no-windows", all = words.list(&all_ticked(ids)))
            }
            Why::TooManyPlaces { comes_out: true } => {
                say!(words, "why-too-many-places", most = timing::MOST_WAYS)
            }
            Why::TooManyPlaces { comes_out: false } => {
                say!(words, "why-count-again", most = timing::MOST_WAYS)
            }
            Why::NothingAdvised => say!(words, "why-nothing-advised"),
            Why::NoShift => say!(words, "why-no-shift"),
            Why::NoSuchShift(n, all) => say!(words, "why-no-such-shift", n = *n, all = *all),
            Why::NothingToUndo => say!(words, "why-nothing-to-undo"),
            Why::NoEntry(n, all) => say!(words, "why-no-entry", n = *n, all = *all),
            Why::NotOut(arbor) => say!(words, "why-not-out", arbor = arbor),
            Why::BadMesh { got, all } => say!(
                words,
                "why-bad-mesh",
                written = quoted(got),
                all = words.list(&all_ticked(all))
            ),
            Why::DegreesOnly(written) => {
                say!(words, "why-degrees-only", written = quoted(written))
            }
            Why::OtherSheet {
                sheet,
                log,
                changed,
            } if changed.is_empty() => {
                say!(
                    words,
                    "why-other-sheet",
                    sheet = quoted(sheet),
                    log = quoted(log)
                )
            }
            Why::OtherSheet { changed, .. } => {
                let changes = crate::changed(words, changed);
                say!(words, "why-sheet-changed", changes = changes)
            }
            Why::Unfit(unfit) => words.say(self::unfit(*unfit), args![]),
            Why::Unput(written, why) => unput(words, &quoted(written), why),
            Why::Log(fault) => log(words, fault),
            Why::LogFull => say!(words, "refused-full", most = entries::MOST_BYTES >> 20),
            Why::Recall(fault) => recall(words, fault),
        }
    }
}

fn unfit(unfit: strike::Unfit) -> Key {
    use strike::Unfit;
    match unfit {
        Unfit::NoLevers => key!("strike-no-levers"),
        Unfit::NoStrike => key!("strike-no-strike"),
        Unfit::NoHammer => key!("strike-no-hammer"),
        Unfit::TooFine => key!("strike-too-fine"),
        Unfit::TooMany => key!("strike-too-many"),
    }
}

fn unput(words: &Words, written: &str, why: &Unput) -> String {
    match why {
        Unput::NoMesh(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-mesh", written = written, all = all)
        }
        Unput::NoTeeth => say!(words, "unput-no-teeth", written = written),
        Unput::NoAngle => say!(words, "unput-no-angle", written = written),
        Unput::NoNumber => say!(words, "unput-no-number", written = written),
        Unput::Beyond { last } => say!(words, "unput-beyond", written = written, last = *last),
        Unput::NoSlots(all) if all.is_empty() => {
            say!(words, "unput-none-wears", written = written)
        }
        Unput::NoSlots(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-slots", written = written, all = all)
        }
        Unput::NoPins(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-pins", written = written, all = all)
        }
        Unput::PastWheel { teeth } => {
            say!(words, "unput-past-wheel", written = written, teeth = *teeth)
        }
        Unput::TooFar { most } => say!(words, "unput-too-far", written = written, most = *most),
        Unput::NoWear { most } => say!(words, "unput-no-wear", written = written, most = *most),
        Unput::TogetherPastWheel { teeth } => {
            say!(
                words,
                "unput-together-past-wheel",
                written = written,
                teeth = *teeth
            )
        }
        Unput::TogetherTooFar { most } => {
            say!(
                words,
                "unput-together-too-far",
                written = written,
                most = *most
            )
        }
        Unput::NotThere(all) if all.is_empty() => say!(words, "unput-none", written = written),
        Unput::NotThere(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-not-there", written = written, all = all)
        }
    }
}

/// What may be meant, or what there is.
fn hint(words: &Words, near: Option<&str>, all: &[String]) -> String {
    match near {
        Some(near) => say!(words, "hint-meant", near = ticked(near)),
        None => say!(words, "hint-has", all = words.list(&all_ticked(all))),
    }
}

fn said(words: &Words, written: &str, fault: &SaidFault) -> String {
    match fault {
        SaidFault::NoEquals => say!(words, "why-no-equals", written = written),
        SaidFault::UnknownWitness { got, near, all } => {
            let hint = if near.is_none() && all.is_empty() {
                say!(words, "hint-no-witness")
            } else {
                hint(words, near.as_deref(), all)
            };
            say!(
                words,
                "why-unknown-witness",
                written = written,
                got = quoted(got),
                hint = hint
            )
        }
        SaidFault::NoWindow { id } => {
            say!(words, "why-no-window", written = written, id = ticked(id))
        }
        SaidFault::Unreadable { got } => {
            say!(
                words,
                "why-unreadable",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::BadSpread { got } => {
            say!(
                words,
                "why-bad-spread",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::UnknownPart { got } => {
            say!(
                words,
                "why-unknown-part",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::BadHour { got } => {
            say!(words, "why-bad-hour", written = written, got = quoted(got))
        }
    }
}

fn reading(words: &Words, written: &str, fault: &ReadingFault) -> String {
    match fault {
        ReadingFault::Spread { got, most } => say!(
            words,
            "why-spread",
            written = written,
            got = words.decimal(*got, 9),
            most = words.decimal(most.to_f64(), 9)
        ),
        ReadingFault::NoLook => say!(words, "why-no-look", written = written),
        ReadingFault::NoHour => say!(words, "why-no-hour", written = written),
        ReadingFault::NoTeeth => say!(words, "why-no-teeth", written = written),
        ReadingFault::OtherTrain { part } => {
            say!(
                words,
                "why-other-train",
                written = written,
                part = ticked(part)
            )
        }
        ReadingFault::TooCoarse { spread, most } => say!(
            words,
            "why-too-coarse",
            written = written,
            spread = words.decimal(*spread, 2),
            most = words.degrees(most)
        ),
    }
}

fn recall(words: &Words, fault: &RecallFault) -> String {
    match fault {
        RecallFault::UnknownKind { n, kind } => {
            say!(words, "recall-unknown-kind", n = *n, kind = quoted(kind))
        }
        RecallFault::UnknownName { n, name } => {
            say!(words, "recall-unknown-name", n = *n, name = quoted(name))
        }
        RecallFault::OnALoop { n, mesh } => {
            say!(words, "recall-on-a-loop", n = *n, mesh = quoted(mesh))
        }
        RecallFault::Reading { n, witness, fault } => {
            let written = say!(words, "why-of-entry", witness = witness, n = *n);
            reading(words, &quoted(&written), fault)
        }
        RecallFault::ArborOut { n, witness, arbor } => say!(
            words,
            "recall-arbor-out",
            n = *n,
            witness = ticked(witness),
            arbor = arbor
        ),
        RecallFault::LongSlot { n, witness, hour } => say!(
            words,
            "recall-long-slot",
            n = *n,
            witness = ticked(witness),
            hour = *hour
        ),
    }
}

fn log(words: &Words, fault: &LogFault) -> String {
    let place = match &fault.place {
        Place::Text => say!(words, "fault-place"),
        Place::Line { line } => say!(words, "fault-place-line", line = *line),
        Place::Column { line, column } => {
            say!(words, "fault-place-column", line = *line, column = *column)
        }
        Place::Field {
            line,
            column,
            field,
        } => say!(
            words,
            "fault-place-field",
            line = *line,
            column = *column,
            field = quoted(field)
        ),
    };
    let what = what(words, &fault.what);
    say!(words, "fault-of-log", place = place, what = what)
}

fn what(words: &Words, what: &What) -> String {
    match what {
        What::TooLong { bytes } => {
            say!(
                words,
                "fault-too-long",
                bytes = *bytes,
                most = entries::MOST_BYTES
            )
        }
        What::Empty => say!(words, "fault-empty"),
        What::NoHeader => say!(words, "fault-no-header"),
        What::HeaderTorn => say!(words, "fault-header-torn"),
        What::OtherVersion { got } => say!(words, "fault-other-version", got = *got),
        What::NotUtf8 => say!(words, "fault-not-utf8"),
        What::NotJson => say!(words, "fault-not-json"),
        What::Blank => say!(words, "fault-blank"),
        What::NotAnObject => say!(words, "fault-not-an-object"),
        What::Missing => say!(words, "fault-missing"),
        What::NotSeen => say!(words, "fault-not-seen"),
        What::Stray => say!(words, "fault-stray"),
        What::Doubled => say!(words, "fault-doubled"),
        What::Wrong { got, expected } => {
            let expected = expected_words(words, expected);
            say!(words, "fault-wrong", got = quoted(got), expected = expected)
        }
        What::Twice { name } => say!(words, "fault-twice", name = quoted(name)),
        What::OutOfOrder { got, expected } => {
            say!(
                words,
                "fault-out-of-order",
                got = *got,
                expected = *expected
            )
        }
        What::PointsNowhere { of, n } => say!(words, "fault-points-nowhere", of = *of, n = *n),
        What::NotCorrected { of } => say!(words, "fault-not-corrected", of = *of),
        What::NotEmptied { of, field } => {
            say!(words, "fault-not-emptied", of = *of, field = quoted(field))
        }
        What::NotUndone { of } => say!(words, "fault-not-undone", of = *of),
        What::NotAShift { of } => say!(words, "fault-not-a-shift", of = *of),
        What::NotInShift { of, mesh } => {
            say!(words, "fault-not-in-shift", of = *of, mesh = quoted(mesh))
        }
    }
}

fn expected_words(words: &Words, expected: &Expected) -> String {
    let key = match expected {
        Expected::Text => key!("expected-text"),
        Expected::Decimal => key!("expected-decimal"),
        Expected::Spread => key!("expected-spread"),
        Expected::Oclock => key!("expected-oclock"),
        Expected::Count => key!("expected-count"),
        Expected::Hour => key!("expected-hour"),
        Expected::Teeth => key!("expected-teeth"),
        Expected::OneOf(all) => return words.either(&all_ticked(all)),
        Expected::Day => key!("expected-day"),
        Expected::Digest => key!("expected-digest"),
        Expected::Names => key!("expected-names"),
        Expected::List => key!("expected-list"),
        Expected::Object => key!("expected-object"),
    };
    words.say(key, args![])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::error::Error;

    /// A fault with all that lies behind it, as whoever builds on this crate sees it.
    fn chain(fault: &dyn Error) -> String {
        let behind = fault.source().map(chain);
        behind.map_or_else(|| fault.to_string(), |behind| format!("{fault}: {behind}"))
    }

    #[test]
    fn what_lies_behind_is_not_lost() {
        let why = Why::Said("slot".to_owned(), SaidFault::NoEquals);
        assert_eq!(
            chain(&why),
            "`slot` cannot be taken apart: no `=` in a reading"
        );
        let why = Why::Unput("hook=3".to_owned(), Unput::Beyond { last: 2 });
        assert_eq!(
            chain(&why),
            "`hook=3` cannot be put in wrong: beyond the last, which is 2"
        );
        let why = Why::Log(LogFault {
            place: Place::Line { line: 2 },
            what: What::Blank,
        });
        assert_eq!(chain(&why), "the log cannot be read: line 2: a blank line");
        let why = Why::Recall(RecallFault::Reading {
            n: 3,
            witness: "star".to_owned(),
            fault: ReadingFault::NoLook,
        });
        assert_eq!(
            chain(&why),
            "the log cannot be summed up: entry 3 has a reading of `star` that cannot be used: \
             no slot and tip on the sheet for this witness"
        );
        let why = Why::Unfit(strike::Unfit::NoLevers);
        assert_eq!(chain(&why), "no strike to run: no levers on the sheet");
    }
}
