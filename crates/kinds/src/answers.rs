//! The questions of a kind with their present answers, read back from the text.
//!
//! What an answer makes of the works is read from the works; the text beside it keeps only that it was asked, and whether the answer
//! was *don't know* or *as usual*.

use crate::build::stands;
use crate::kind::{AskedFor, Question};
use crate::pace::{MeasuredPace, is_paced};
use crate::proportions::usual_keys;
use crate::role::first;
use crate::train::Trains;
use crate::widths::MeasuredWidth;
use crate::works::works;
use crate::{Kind, WorkRole};
use movement::Turning;
use sheet::SheetTable;
use sheet::edit::{SheetText, SheetValue, TableAt};

/// The key in `[strike]` that says which questions were answered, and how.
pub(crate) const ASKED: &str = "asked";
/// What stands there for *don't know*.
pub(crate) const UNKNOWN: &str = "?";
/// What stands there for *as usual*.
pub(crate) const AS_USUAL: &str = "usual";

/// An answer.
#[derive(Debug, Clone, PartialEq)]
pub enum QuestionAnswer {
    /// Don't know: it is taken as usual.
    DontKnow,
    /// As usual.
    Usual,
    /// One of the choices.
    Choice(String),
    /// An arbor that was touched.
    Arbor(String),
    /// A number.
    Count(u16),
    /// The way round.
    Way(Turning),
    /// A width.
    Width(MeasuredWidth),
    /// A pace.
    Pace(MeasuredPace),
}

/// The answer that a text has to a question.
#[derive(Debug, Clone, PartialEq)]
pub enum PresentAnswer {
    /// It was not asked yet, or not answered: what stands is usual.
    None,
    /// Don't know.
    DontKnow,
    /// As usual.
    Usual,
    /// This choice, by its name.
    Choice(String),
    /// This arbor.
    Arbor(String),
    /// This number.
    Count(u16),
    /// This way round.
    Way(Turning),
    /// It was measured.
    Measured,
    /// It was answered, and the text was then altered to none of the choices.
    Otherwise,
}

/// A question with its present answer, and whether what it asks about is there.
#[derive(Debug, Clone)]
pub struct AskedQuestion {
    /// The question.
    pub question: &'static Question,
    /// Its answer.
    pub answer: PresentAnswer,
}

/// How a question was answered, as the text keeps it.
pub(crate) fn asked(text: &SheetText, question: &str) -> Option<String> {
    match text.get(&TableAt::One(SheetTable::Strike), ASKED)? {
        SheetValue::Table(keys) => {
            let (_, how) = keys.into_iter().find(|(key, _)| key == question)?;
            Some(how.text()?.to_owned())
        }
        _ => None,
    }
}

/// Keeps how a question was answered.
pub(crate) fn set_asked(
    text: &mut SheetText,
    question: &str,
    how: &str,
) -> Result<(), sheet::edit::EditFault> {
    let at = TableAt::One(SheetTable::Strike);
    let mut keys = match text.get(&at, ASKED) {
        Some(SheetValue::Table(keys)) => keys,
        _ => Vec::new(),
    };
    let how = SheetValue::Text(how.to_owned());
    match keys.iter_mut().find(|(key, _)| key == question) {
        Some((_, there)) => *there = how,
        None => keys.push((question.to_owned(), how)),
    }
    text.set(&at, ASKED, &SheetValue::Table(keys))
}

/// The questions that make sense of the text as it stands: those about something that is not there are left out.
pub(crate) fn questions(text: &SheetText, kind: &'static Kind) -> Vec<AskedQuestion> {
    let all = works(text);
    let sense = |question: &&Question| match question.about {
        Some(role) => first(&all, role).is_some(),
        None => true,
    };
    let asked = kind.questions.iter().filter(sense);
    asked
        .map(|question| AskedQuestion {
            question,
            answer: present(text, kind, question),
        })
        .collect()
}

fn present(text: &SheetText, kind: &Kind, question: &Question) -> PresentAnswer {
    let Some(how) = asked(text, &question.id) else {
        return PresentAnswer::None;
    };
    match how.as_str() {
        UNKNOWN => return PresentAnswer::DontKnow,
        AS_USUAL => return PresentAnswer::Usual,
        _ => {}
    }
    let all = works(text);
    let on = |role: WorkRole| first(&all, role)?.on.clone();
    let found = match &question.asks {
        // A choice that changes nothing of the works is what was said.
        AskedFor::Choice { choices, .. } => {
            let said = choices.iter().find(|choice| choice.id == how);
            let said = said.filter(|choice| stands(text, kind, choice));
            said.or_else(|| choices.iter().find(|choice| stands(text, kind, choice)))
                .map(|choice| PresentAnswer::Choice(choice.id.clone()))
        }
        AskedFor::Arbor { moves } => {
            let arbor = moves.iter().find_map(|role| on(*role));
            arbor.map(PresentAnswer::Arbor)
        }
        AskedFor::Count { of, key } => first(&all, *of)
            .and_then(|work| text.get(&work.at, key)?.number())
            .and_then(|number| u16::try_from(number.to_integer()).ok())
            .map(PresentAnswer::Count),
        AskedFor::Way { of } => on(*of).and_then(|arbor| way(text, &arbor)),
        AskedFor::Width { of, key } => first(&all, *of)
            .filter(|work| !usual_keys(text, &work.at).contains(key))
            .map(|_| PresentAnswer::Measured),
        AskedFor::Pace => is_paced(text).then_some(PresentAnswer::Measured),
    };
    found.unwrap_or(PresentAnswer::Otherwise)
}

/// The first arbor of the train of one.
pub(crate) fn first_arbor(text: &SheetText, arbor: &str) -> Option<String> {
    Trains::of(text).first_of(arbor).cloned()
}

fn way(text: &SheetText, arbor: &str) -> Option<PresentAnswer> {
    let first = first_arbor(text, arbor)?;
    let runs = text.get(&TableAt::Arbor(first), "runs")?;
    match runs.text()? {
        "clockwise" => Some(PresentAnswer::Way(Turning::Clockwise)),
        "counterclockwise" => Some(PresentAnswer::Way(Turning::Counterclockwise)),
        _ => None,
    }
}
