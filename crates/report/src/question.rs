//! Why a question cannot be answered as it was put, in words.

use crate::en::{all_ticked, quoted, ticked};
use crate::page::named;
use crate::{Key, Voice, Words, args, key, say};
use entries::{ExpectedField, LogFault, LogFaultKind, LogPlace};
use tasks::{PutInFault, QuestionFault, WrittenForm};
use timing::{ReadingFault, RecallFault, SaidFault};

/// Why a question is not answered, in words.
pub fn unanswered(voice: &Voice, fault: &QuestionFault) -> String {
    let words = voice.words();
    match fault {
        QuestionFault::Unwritten { name, written, why } => voice.unwritten(name, written, why),
        QuestionFault::OutOfBounds { name, written, out } => {
            voice.out_of_bounds(name, written, *out)
        }
        QuestionFault::NotInForm {
            name,
            written,
            form,
        } => not_in_form(voice, name, written, *form),
        QuestionFault::NotKnown {
            name,
            written,
            known,
        } => not_known(voice, name, written, known),
        QuestionFault::NoCounts { least, most } => {
            say!(words, "count-bad-range", least = *least, most = *most)
        }
        QuestionFault::NoRatio(written) => say!(words, "count-bad-must", written = quoted(written)),
        QuestionFault::UnknownPart(written) => {
            say!(words, "count-bad-part", written = quoted(written))
        }
        QuestionFault::Puzzle(fault) => crate::count::puzzle_fault(voice, fault),
        QuestionFault::NoPendulum(why) => crate::pendulum::no_pendulum(words, why),
        QuestionFault::Power(fault) => crate::power::power_fault(words, fault),
        QuestionFault::Drives { arbor, why } => crate::power::wrong(words, arbor, why),
        QuestionFault::NoSpring => say!(words, "power-no-spring"),
        QuestionFault::NothingDrives(arbor) => {
            say!(words, "power-nothing-on", arbor = named(arbor))
        }
        QuestionFault::NoNumber(name) => crate::listen::no_number(voice, name),
        QuestionFault::NoClock(said) => crate::listen::no_clock(voice, said),
        QuestionFault::Said(written, fault) => said_fault(words, &quoted(written), fault),
        QuestionFault::Reading(written, fault) => reading(words, &quoted(written), fault),
        QuestionFault::ReadTwice(id) => say!(words, "why-read-twice", id = ticked(id)),
        QuestionFault::NothingRead(ids) if ids.is_empty() => say!(words, "why-no-witness"),
        QuestionFault::NothingRead(ids) => {
            let all: Vec<String> = ids.iter().map(|id| format!("`--saw {id}=…`")).collect();
            say!(words, "why-nothing-read", all = words.list(&all))
        }
        QuestionFault::UnknownArbor { got, near, all } => {
            let hint = hint(words, near.as_deref(), all);
            say!(words, "why-unknown-arbor", got = quoted(got), hint = hint)
        }
        QuestionFault::NoWindows(ids) => {
            say!(words, "why-no-windows", all = words.list(&all_ticked(ids)))
        }
        QuestionFault::TooManyPlaces { comes_out: true } => {
            say!(words, "why-too-many-places", most = timing::MOST_WAYS)
        }
        QuestionFault::TooManyPlaces { comes_out: false } => {
            say!(words, "why-count-again", most = timing::MOST_WAYS)
        }
        QuestionFault::NothingAdvised => say!(words, "why-nothing-advised"),
        QuestionFault::NoShift => say!(words, "why-no-shift"),
        QuestionFault::NoSuchShift(n, all) => say!(words, "why-no-such-shift", n = *n, all = *all),
        QuestionFault::Home => say!(words, "refused-home"),
        QuestionFault::NothingToUndo => say!(words, "why-nothing-to-undo"),
        QuestionFault::NoEntry(n, all) => say!(words, "why-no-entry", n = *n, all = *all),
        QuestionFault::NotOut(arbor) => say!(words, "why-not-out", arbor = arbor),
        QuestionFault::BadMesh { got, all } => say!(
            words,
            "why-bad-mesh",
            written = quoted(got),
            all = words.list(&all_ticked(all))
        ),
        QuestionFault::DegreesOnly(written) => {
            say!(words, "why-degrees-only", written = quoted(written))
        }
        QuestionFault::OtherSheet {
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
        QuestionFault::OtherSheet { changed, .. } => {
            let changes = crate::changed(words, changed);
            say!(words, "why-sheet-changed", changes = changes)
        }
        QuestionFault::Unfit(unfit) => words.say(self::unfit(*unfit), args![]),
        QuestionFault::Unput(written, why) => unput(words, &quoted(written), why),
        QuestionFault::Log(fault) => log(words, fault),
        QuestionFault::LogFull => say!(words, "refused-full", most = entries::MOST_BYTES >> 20),
        QuestionFault::Recall(fault) => recall(words, fault),
    }
}

/// Something that is not in its form.
fn not_in_form(voice: &Voice, name: &str, written: &str, form: WrittenForm) -> String {
    let form = match form {
        WrittenForm::Airs => "airs",
        WrittenForm::Piece => "piece",
        WrittenForm::Strip => "strip",
        WrittenForm::Disc => "across",
        WrittenForm::Turning => "turning",
    };
    say!(
        voice.words(),
        "not-understood",
        field = voice.field(name),
        written = quoted(written),
        form = form
    )
}

/// A word that is none of those expected.
fn not_known(voice: &Voice, name: &str, written: &str, known: &[&str]) -> String {
    let known: Vec<String> = known.iter().map(|word| format!("`{word}`")).collect();
    say!(
        voice.words(),
        "not-known",
        field = voice.field(name),
        written = quoted(written),
        words = voice.words().either(&known)
    )
}

fn unfit(unfit: strike::NoStrike) -> Key {
    use strike::NoStrike;
    match unfit {
        NoStrike::NoLevers => key!("strike-no-levers"),
        NoStrike::NoStrike => key!("strike-no-strike"),
        NoStrike::NoHammer => key!("strike-no-hammer"),
        NoStrike::TooFine => key!("strike-too-fine"),
        NoStrike::TooMany => key!("strike-too-many"),
    }
}

fn unput(words: &Words, written: &str, why: &PutInFault) -> String {
    match why {
        PutInFault::NoMesh(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-mesh", written = written, all = all)
        }
        PutInFault::NoTeeth => say!(words, "unput-no-teeth", written = written),
        PutInFault::NoAngle => say!(words, "unput-no-angle", written = written),
        PutInFault::NoNumber => say!(words, "unput-no-number", written = written),
        PutInFault::Beyond { last } => say!(words, "unput-beyond", written = written, last = *last),
        PutInFault::NoSlots(all) if all.is_empty() => {
            say!(words, "unput-none-wears", written = written)
        }
        PutInFault::NoSlots(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-slots", written = written, all = all)
        }
        PutInFault::NoPins(all) => {
            let all = words.list(&all_ticked(all));
            say!(words, "unput-no-pins", written = written, all = all)
        }
        PutInFault::PastWheel { teeth } => {
            say!(words, "unput-past-wheel", written = written, teeth = *teeth)
        }
        PutInFault::TooFar { most } => {
            say!(words, "unput-too-far", written = written, most = *most)
        }
        PutInFault::NoWear { most } => {
            say!(words, "unput-no-wear", written = written, most = *most)
        }
        PutInFault::TogetherPastWheel { teeth } => {
            say!(
                words,
                "unput-together-past-wheel",
                written = written,
                teeth = *teeth
            )
        }
        PutInFault::TogetherTooFar { most } => {
            say!(
                words,
                "unput-together-too-far",
                written = written,
                most = *most
            )
        }
        PutInFault::NotThere(all) if all.is_empty() => say!(words, "unput-none", written = written),
        PutInFault::NotThere(all) => {
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

fn said_fault(words: &Words, written: &str, fault: &SaidFault) -> String {
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

pub(crate) fn log(words: &Words, fault: &LogFault) -> String {
    let place = match &fault.place {
        LogPlace::Text => say!(words, "fault-place"),
        LogPlace::Line { line } => say!(words, "fault-place-line", line = *line),
        LogPlace::Column { line, column } => {
            say!(words, "fault-place-column", line = *line, column = *column)
        }
        LogPlace::Field {
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

fn what(words: &Words, what: &LogFaultKind) -> String {
    match what {
        LogFaultKind::TooLong { bytes } => {
            say!(
                words,
                "fault-too-long",
                bytes = *bytes,
                most = entries::MOST_BYTES
            )
        }
        LogFaultKind::Empty => say!(words, "fault-empty"),
        LogFaultKind::NoHeader => say!(words, "fault-no-header"),
        LogFaultKind::HeaderTorn => say!(words, "fault-header-torn"),
        LogFaultKind::OtherVersion { got } => say!(words, "fault-other-version", got = *got),
        LogFaultKind::NotUtf8 => say!(words, "fault-not-utf8"),
        LogFaultKind::NotJson => say!(words, "fault-not-json"),
        LogFaultKind::Blank => say!(words, "fault-blank"),
        LogFaultKind::NotAnObject => say!(words, "fault-not-an-object"),
        LogFaultKind::Missing => say!(words, "fault-missing"),
        LogFaultKind::NotSeen => say!(words, "fault-not-seen"),
        LogFaultKind::Stray => say!(words, "fault-stray"),
        LogFaultKind::Doubled => say!(words, "fault-doubled"),
        LogFaultKind::Wrong { got, expected } => {
            let expected = expected_words(words, expected);
            say!(words, "fault-wrong", got = quoted(got), expected = expected)
        }
        LogFaultKind::Twice { name } => say!(words, "fault-twice", name = quoted(name)),
        LogFaultKind::OutOfOrder { got, expected } => {
            say!(
                words,
                "fault-out-of-order",
                got = *got,
                expected = *expected
            )
        }
        LogFaultKind::PointsNowhere { of, n } => {
            say!(words, "fault-points-nowhere", of = *of, n = *n)
        }
        LogFaultKind::NotCorrected { of } => say!(words, "fault-not-corrected", of = *of),
        LogFaultKind::NotEmptied { of, field } => {
            say!(words, "fault-not-emptied", of = *of, field = quoted(field))
        }
        LogFaultKind::NotUndone { of } => say!(words, "fault-not-undone", of = *of),
        LogFaultKind::NotAShift { of } => say!(words, "fault-not-a-shift", of = *of),
        LogFaultKind::NotInShift { of, mesh } => {
            say!(words, "fault-not-in-shift", of = *of, mesh = quoted(mesh))
        }
    }
}

fn expected_words(words: &Words, expected: &ExpectedField) -> String {
    let key = match expected {
        ExpectedField::Text => key!("expected-text"),
        ExpectedField::Decimal => key!("expected-decimal"),
        ExpectedField::Spread => key!("expected-spread"),
        ExpectedField::Oclock => key!("expected-oclock"),
        ExpectedField::Count => key!("expected-count"),
        ExpectedField::Hour => key!("expected-hour"),
        ExpectedField::Teeth => key!("expected-teeth"),
        ExpectedField::OneOf(all) => return words.either(&all_ticked(all)),
        ExpectedField::Day => key!("expected-day"),
        ExpectedField::Digest => key!("expected-digest"),
        ExpectedField::Names => key!("expected-names"),
        ExpectedField::List => key!("expected-list"),
        ExpectedField::Object => key!("expected-object"),
    };
    words.say(key, args![])
}
