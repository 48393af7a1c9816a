//! Why a question cannot be answered as it was put, in words.

use crate::en::{all_ticked, quoted, ticked};
use crate::page::named;
use crate::{Key, Locale, Voice, args, key, say};
use entries::{ExpectedField, LogFault, LogFaultKind, LogPlace};
use tasks::{PutInFault, QuestionFault, WindowsTrouble, WrittenForm};
use timing::{ReadingFault, RecallFault, SaidFault};

/// Why a question is not answered, in words.
pub fn unanswered(voice: &Voice, fault: &QuestionFault) -> String {
    let locale = voice.locale();
    match fault {
        QuestionFault::NotDescribed(fault) => match voice {
            Voice::Command(_) => crate::described::not_described(locale, fault),
            Voice::Page(_) => crate::page::describing::refused(locale, fault),
        },
        QuestionFault::NotSet(written) => say!(locale, "not-set", written = quoted(written)),
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
            say!(locale, "count-bad-range", least = *least, most = *most)
        }
        QuestionFault::NoRatio(written) => {
            say!(locale, "count-bad-must", written = quoted(written))
        }
        QuestionFault::UnknownPart(written) => {
            say!(locale, "count-bad-part", written = quoted(written))
        }
        QuestionFault::NotPutIn(_) => say!(locale, "box-not-put-in"),
        QuestionFault::Puzzle(fault) => crate::count::puzzle_fault(voice, fault),
        QuestionFault::NoPendulum(why) => crate::pendulum::no_pendulum(locale, why),
        QuestionFault::Power(fault) => crate::power::power_fault(voice, fault),
        QuestionFault::Drives { arbor, why } => crate::power::wrong(locale, arbor, why),
        QuestionFault::NoSpring => say!(locale, "power-no-spring"),
        QuestionFault::NothingDrives(arbor) => {
            say!(locale, "power-nothing-on", arbor = named(arbor))
        }
        QuestionFault::NoNumber(name) => crate::listen::no_number(voice, name),
        QuestionFault::NoClock(said) => crate::listen::no_clock(voice, said),
        QuestionFault::Said(written, fault) => said_fault(locale, &quoted(written), fault),
        QuestionFault::Reading(written, fault) => reading(locale, &quoted(written), fault),
        QuestionFault::ReadTwice(id) => say!(locale, "why-read-twice", id = ticked(id)),
        QuestionFault::NothingRead(ids) if ids.is_empty() => say!(locale, "why-no-witness"),
        QuestionFault::NothingRead(ids) => {
            let all: Vec<String> = ids.iter().map(|id| format!("`--saw {id}=…`")).collect();
            say!(locale, "why-nothing-read", all = locale.list(&all))
        }
        QuestionFault::UnknownArbor { got, near, all } => {
            let hint = hint(locale, near.as_deref(), all);
            say!(locale, "why-unknown-arbor", got = quoted(got), hint = hint)
        }
        QuestionFault::NoWindows { of, why } => no_windows(locale, of, why.as_ref()),
        QuestionFault::TooManyPlaces { comes_out: true } => {
            say!(
                locale,
                "why-too-many-places",
                most = timing::MOST_WAYS,
                asked = voice.selector()
            )
        }
        QuestionFault::TooManyPlaces { comes_out: false } => {
            say!(locale, "why-count-again", most = timing::MOST_WAYS)
        }
        QuestionFault::NothingAdvised => say!(locale, "why-nothing-advised"),
        QuestionFault::NoShift => say!(locale, "why-no-shift"),
        QuestionFault::NoSuchShift(n, all) => say!(locale, "why-no-such-shift", n = *n, all = *all),
        QuestionFault::Home => say!(locale, "refused-home"),
        QuestionFault::NotAsItStood(n) => say!(locale, "why-not-as-it-stood", n = *n),
        QuestionFault::NothingToUndo => say!(locale, "why-nothing-to-undo"),
        QuestionFault::NoEntry(n, all) => say!(locale, "why-no-entry", n = *n, all = *all),
        QuestionFault::NotOut(arbor) => say!(locale, "why-not-out", arbor = arbor),
        QuestionFault::BadMesh { got, all } => say!(
            locale,
            "why-bad-mesh",
            written = quoted(got),
            all = locale.list(&all_ticked(all))
        ),
        QuestionFault::DegreesOnly(written) => {
            say!(locale, "why-degrees-only", written = quoted(written))
        }
        QuestionFault::OtherSheet {
            sheet,
            log,
            changed,
        } if changed.is_empty() => {
            say!(
                locale,
                "why-other-sheet",
                sheet = quoted(sheet),
                log = quoted(log)
            )
        }
        QuestionFault::OtherSheet { changed, .. } => {
            let changes = crate::changed(locale, changed);
            say!(locale, "why-sheet-changed", changes = changes)
        }
        QuestionFault::Unfit(unfit) => locale.say(self::unfit(*unfit), args![]),
        QuestionFault::Unput(written, why) => unput(locale, &quoted(written), why),
        QuestionFault::Log(fault) => log(locale, fault),
        QuestionFault::LogFull => say!(locale, "refused-full", most = entries::MOST_BYTES >> 20),
        QuestionFault::Recall(fault) => recall(locale, fault),
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
        voice.locale(),
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
        voice.locale(),
        "not-known",
        field = voice.field(name),
        written = quoted(written),
        words = voice.locale().either(&known)
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

/// That witnesses of a sheet have no window, and why none is worked out.
pub fn no_windows_of(
    locale: &Locale,
    movement: &movement::Movement,
    why: &WindowsTrouble,
) -> String {
    let of: Vec<String> = movement.unjudged().iter().map(|w| w.id.clone()).collect();
    crate::en::capital(&no_windows(locale, &of, Some(why)))
}

/// That these witnesses have no window, and why none is worked out.
fn no_windows(locale: &Locale, of: &[String], why: Option<&WindowsTrouble>) -> String {
    let all = locale.list(&all_ticked(of));
    match why {
        None => say!(locale, "why-no-windows", all = all),
        Some(WindowsTrouble::Unfit(unfit)) => {
            let why = locale.say(self::unfit(*unfit), args![]);
            say!(locale, "why-windows-unfit", all = all, why = why)
        }
        Some(WindowsTrouble::Wrong { minutes, point }) => say!(
            locale,
            "why-windows-wrong",
            all = all,
            at = minutes.map_or_else(|| "none".to_owned(), crate::page::struck::time_of),
            point = say!(locale, "point-name", number = *point)
        ),
        Some(WindowsTrouble::NoRoom(witness)) => {
            let witness = ticked(witness);
            say!(locale, "why-windows-edge", all = all, witness = witness)
        }
        Some(WindowsTrouble::NoRoomTogether(ids)) => {
            let ids = locale.list(&all_ticked(ids));
            say!(locale, "why-windows-together", all = all, witnesses = ids)
        }
        Some(WindowsTrouble::LeftOff) => say!(locale, "why-windows-long", all = all),
    }
}

fn unput(locale: &Locale, written: &str, why: &PutInFault) -> String {
    match why {
        PutInFault::NoMesh(all) => {
            let all = locale.list(&all_ticked(all));
            say!(locale, "unput-no-mesh", written = written, all = all)
        }
        PutInFault::NoTeeth => say!(locale, "unput-no-teeth", written = written),
        PutInFault::NoAngle => say!(locale, "unput-no-angle", written = written),
        PutInFault::NoNumber => say!(locale, "unput-no-number", written = written),
        PutInFault::Beyond { last } => {
            say!(locale, "unput-beyond", written = written, last = *last)
        }
        PutInFault::NoSlots(all) if all.is_empty() => {
            say!(locale, "unput-none-wears", written = written)
        }
        PutInFault::NoSlots(all) => {
            let all = locale.list(&all_ticked(all));
            say!(locale, "unput-no-slots", written = written, all = all)
        }
        PutInFault::NoPins(all) => {
            let all = locale.list(&all_ticked(all));
            say!(locale, "unput-no-pins", written = written, all = all)
        }
        PutInFault::PastWheel { teeth } => {
            say!(
                locale,
                "unput-past-wheel",
                written = written,
                teeth = *teeth
            )
        }
        PutInFault::TooFar { most } => {
            say!(locale, "unput-too-far", written = written, most = *most)
        }
        PutInFault::NoWear { most } => {
            say!(locale, "unput-no-wear", written = written, most = *most)
        }
        PutInFault::TogetherPastWheel { teeth } => {
            say!(
                locale,
                "unput-together-past-wheel",
                written = written,
                teeth = *teeth
            )
        }
        PutInFault::TogetherTooFar { most } => {
            say!(
                locale,
                "unput-together-too-far",
                written = written,
                most = *most
            )
        }
        PutInFault::NotThere(all) if all.is_empty() => {
            say!(locale, "unput-none", written = written)
        }
        PutInFault::NotThere(all) => {
            let all = locale.list(&all_ticked(all));
            say!(locale, "unput-not-there", written = written, all = all)
        }
    }
}

/// What may be meant, or what there is.
pub(crate) fn hint(locale: &Locale, near: Option<&str>, all: &[String]) -> String {
    match near {
        Some(near) => say!(locale, "hint-meant", near = ticked(near)),
        None => say!(locale, "hint-has", all = locale.list(&all_ticked(all))),
    }
}

fn said_fault(locale: &Locale, written: &str, fault: &SaidFault) -> String {
    match fault {
        SaidFault::NoEquals => say!(locale, "why-no-equals", written = written),
        SaidFault::UnknownWitness { got, near, all } => {
            let hint = if near.is_none() && all.is_empty() {
                say!(locale, "hint-no-witness")
            } else {
                hint(locale, near.as_deref(), all)
            };
            say!(
                locale,
                "why-unknown-witness",
                written = written,
                got = quoted(got),
                hint = hint
            )
        }
        SaidFault::NoWindow { id } => {
            say!(locale, "why-no-window", written = written, id = ticked(id))
        }
        SaidFault::Unreadable { got } => {
            say!(
                locale,
                "why-unreadable",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::BadSpread { got } => {
            say!(
                locale,
                "why-bad-spread",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::UnknownPart { got } => {
            say!(
                locale,
                "why-unknown-part",
                written = written,
                got = quoted(got)
            )
        }
        SaidFault::BadHour { got } => {
            say!(locale, "why-bad-hour", written = written, got = quoted(got))
        }
    }
}

fn reading(locale: &Locale, written: &str, fault: &ReadingFault) -> String {
    match fault {
        ReadingFault::Spread { got, most } => say!(
            locale,
            "why-spread",
            written = written,
            got = locale.decimal(*got, 9),
            most = locale.decimal(most.to_f64(), 9)
        ),
        ReadingFault::NoLook => say!(locale, "why-no-look", written = written),
        ReadingFault::NoHour => say!(locale, "why-no-hour", written = written),
        ReadingFault::NoTeeth => say!(locale, "why-no-teeth", written = written),
        ReadingFault::OtherTrain { part } => {
            say!(
                locale,
                "why-other-train",
                written = written,
                part = ticked(part)
            )
        }
        ReadingFault::TooCoarse { spread, most } => say!(
            locale,
            "why-too-coarse",
            written = written,
            spread = locale.decimal(*spread, 2),
            most = locale.degrees(most)
        ),
        ReadingFault::NoNotch => say!(locale, "why-no-notch", written = written),
        ReadingFault::AtItsArm => say!(locale, "why-at-its-arm", written = written),
        ReadingFault::NotAtRest => say!(locale, "why-not-at-rest", written = written),
    }
}

fn recall(locale: &Locale, fault: &RecallFault) -> String {
    match fault {
        RecallFault::UnknownKind { n, kind } => {
            say!(locale, "recall-unknown-kind", n = *n, kind = quoted(kind))
        }
        RecallFault::UnknownName { n, name } => {
            say!(locale, "recall-unknown-name", n = *n, name = quoted(name))
        }
        RecallFault::OnALoop { n, mesh } => {
            say!(locale, "recall-on-a-loop", n = *n, mesh = quoted(mesh))
        }
        RecallFault::Reading { n, witness, fault } => {
            let written = say!(locale, "why-of-entry", witness = witness, n = *n);
            reading(locale, &quoted(&written), fault)
        }
        RecallFault::ArborOut { n, witness, arbor } => say!(
            locale,
            "recall-arbor-out",
            n = *n,
            witness = ticked(witness),
            arbor = arbor
        ),
        RecallFault::LongSlot { n, witness, hour } => say!(
            locale,
            "recall-long-slot",
            n = *n,
            witness = ticked(witness),
            hour = *hour
        ),
    }
}

pub(crate) fn log(locale: &Locale, fault: &LogFault) -> String {
    let place = match &fault.place {
        LogPlace::Text => say!(locale, "fault-place"),
        LogPlace::Line { line } => say!(locale, "fault-place-line", line = *line),
        LogPlace::Column { line, column } => {
            say!(locale, "fault-place-column", line = *line, column = *column)
        }
        LogPlace::Field {
            line,
            column,
            field,
        } => say!(
            locale,
            "fault-place-field",
            line = *line,
            column = *column,
            field = quoted(field)
        ),
    };
    let what = what(locale, &fault.what);
    say!(locale, "fault-of-log", place = place, what = what)
}

fn what(locale: &Locale, what: &LogFaultKind) -> String {
    match what {
        LogFaultKind::TooLong { bytes } => {
            say!(
                locale,
                "fault-too-long",
                bytes = *bytes,
                most = entries::MOST_BYTES
            )
        }
        LogFaultKind::Empty => say!(locale, "fault-empty"),
        LogFaultKind::NoHeader => say!(locale, "fault-no-header"),
        LogFaultKind::HeaderTorn => say!(locale, "fault-header-torn"),
        LogFaultKind::OtherVersion { got } => say!(locale, "fault-other-version", got = *got),
        LogFaultKind::NotUtf8 => say!(locale, "fault-not-utf8"),
        LogFaultKind::NotJson => say!(locale, "fault-not-json"),
        LogFaultKind::Blank => say!(locale, "fault-blank"),
        LogFaultKind::NotAnObject => say!(locale, "fault-not-an-object"),
        LogFaultKind::Missing => say!(locale, "fault-missing"),
        LogFaultKind::NotSeen => say!(locale, "fault-not-seen"),
        LogFaultKind::Stray => say!(locale, "fault-stray"),
        LogFaultKind::Doubled => say!(locale, "fault-doubled"),
        LogFaultKind::Wrong { got, expected } => {
            let expected = expected_words(locale, expected);
            say!(
                locale,
                "fault-wrong",
                got = quoted(got),
                expected = expected
            )
        }
        LogFaultKind::Twice { name } => say!(locale, "fault-twice", name = quoted(name)),
        LogFaultKind::OutOfOrder { got, expected } => {
            say!(
                locale,
                "fault-out-of-order",
                got = *got,
                expected = *expected
            )
        }
        LogFaultKind::PointsNowhere { of, n } => {
            say!(locale, "fault-points-nowhere", of = *of, n = *n)
        }
        LogFaultKind::NotCorrected { of } => say!(locale, "fault-not-corrected", of = *of),
        LogFaultKind::NotEmptied { of, field } => {
            say!(locale, "fault-not-emptied", of = *of, field = quoted(field))
        }
        LogFaultKind::NotUndone { of } => say!(locale, "fault-not-undone", of = *of),
        LogFaultKind::NotAShift { of } => say!(locale, "fault-not-a-shift", of = *of),
        LogFaultKind::NotInShift { of, mesh } => {
            say!(locale, "fault-not-in-shift", of = *of, mesh = quoted(mesh))
        }
    }
}

fn expected_words(locale: &Locale, expected: &ExpectedField) -> String {
    let key = match expected {
        ExpectedField::Text => key!("expected-text"),
        ExpectedField::Decimal => key!("expected-decimal"),
        ExpectedField::Spread => key!("expected-spread"),
        ExpectedField::Oclock => key!("expected-oclock"),
        ExpectedField::Count => key!("expected-count"),
        ExpectedField::Hour => key!("expected-hour"),
        ExpectedField::Hours => key!("expected-hours"),
        ExpectedField::Teeth => key!("expected-teeth"),
        ExpectedField::OneOf(all) => return locale.either(&all_ticked(all)),
        ExpectedField::Day => key!("expected-day"),
        ExpectedField::Digest => key!("expected-digest"),
        ExpectedField::Names => key!("expected-names"),
        ExpectedField::List => key!("expected-list"),
        ExpectedField::Object => key!("expected-object"),
    };
    locale.say(key, args![])
}
