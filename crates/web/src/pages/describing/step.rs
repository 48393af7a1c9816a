//! Where in the description of a movement the page is.

use serde::Deserialize;
use tasks::{
    AskedFor as Asks, AskedQuestion, BeingCounted, CountState, Described, PlaceId, PresentAnswer,
};

/// What is asked for.
#[derive(Deserialize)]
pub(super) struct AskedFor {
    /// A part, `ARBOR.PART`, to be counted.
    pub(super) at: Option<String>,
    /// The part that was counted before.
    pub(super) from: Option<String>,
    /// A question, by its id.
    pub(super) ask: Option<String>,
    /// Another kind is to be chosen.
    pub(super) kind: bool,
}

/// Where the description is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// How does it strike?
    Kind,
    /// This place is to be counted.
    Count(usize),
    /// This question is asked.
    Ask(usize),
    /// Everything is told.
    Told,
}

impl Step {
    pub(super) fn name(&self) -> &'static str {
        match self {
            Step::Kind => "kind",
            Step::Count(_) => "count",
            Step::Ask(_) => "ask",
            Step::Told => "told",
        }
    }

    /// The step that was asked for, else what comes next: what it does as a whole, then the counts, then what it carries.
    pub(super) fn of(
        described: &Described,
        counted: &BeingCounted,
        questions: &[AskedQuestion],
        asked: &AskedFor,
    ) -> Step {
        if asked.kind {
            return Step::Kind;
        }
        let at = |name: &str| {
            let (part, _) = counted.find(name)?;
            counted.places.iter().position(|(own, _)| own == part)
        };
        let asks = |id: &str| questions.iter().position(|q| q.question.id == id);
        if let Some(n) = asked.ask.as_deref().and_then(asks) {
            return Step::Ask(n);
        }
        if let Some(n) = asked.at.as_deref().and_then(at) {
            return Step::Count(n);
        }
        // What it does as a whole stands before the first question about a part of it.
        let whole = described.kind().map_or(0, |kind| {
            let own = kind.questions.iter();
            own.take_while(|question| question.about.is_none()).count()
        });
        let open = |(_, q): &(usize, &AskedQuestion)| q.answer == PresentAnswer::None;
        let of_whole = |q: &AskedQuestion| {
            let kind = described.kind();
            kind.is_some_and(|kind| {
                let own = kind.questions.iter().take(whole);
                own.into_iter().any(|own| own.id == q.question.id)
            })
        };
        let mut first = questions.iter().enumerate().filter(open);
        if let Some((n, _)) = first.find(|(_, q)| of_whole(q)) {
            return Step::Ask(n);
        }
        let waiting = waiting(described, counted, questions);
        let next = (counted.places.iter()).position(|(_, place)| {
            place.state == CountState::NotCounted && !waiting.contains(&name(&place.id))
        });
        if let Some(n) = next {
            return Step::Count(n);
        }
        match questions.iter().enumerate().find(open) {
            Some((n, _)) => Step::Ask(n),
            None => Step::Told,
        }
    }
}

/// A part, `ARBOR.PART`.
fn name(id: &PlaceId) -> String {
    format!("{}.{}", id.arbor, id.part)
}

/// Parts that are not counted before it is told how something is moved: another part may drive it, or none. Those that drive it, and what
/// they drive.
fn waiting(
    described: &Described,
    counted: &BeingCounted,
    questions: &[AskedQuestion],
) -> Vec<String> {
    let open = (questions.iter()).filter(|q| q.answer == PresentAnswer::None);
    let places = counted.places.iter().map(|(_, place)| &place.id);
    let drives = places.filter(|id| open.clone().any(|q| is_driven_by(q, &id.part)));
    let mut waiting: Vec<String> = drives.map(name).collect();
    let meshes = described.meshes();
    let driven = meshes.iter().filter(|[driver, _]| waiting.contains(driver));
    let driven: Vec<String> = driven.map(|[_, driven]| driven.clone()).collect();
    waiting.extend(driven);
    waiting
}

/// Whether a question asks how something is moved that a part of this name may drive.
fn is_driven_by(asked: &AskedQuestion, part: &str) -> bool {
    let Asks::Choice { choices, .. } = &asked.question.asks else {
        return false;
    };
    let parts = choices
        .iter()
        .filter_map(|choice| choice.drive.as_ref()?.part.as_ref());
    parts.into_iter().any(|drives| drives.name == part)
}
