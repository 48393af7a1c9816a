//! Why a touch is refused.

use crate::WorkRole;
use sheet::edit::EditFault;

/// Why a description stands as it stood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum DescribeFault {
    /// The sheet's text is not edited so.
    #[error(transparent)]
    Edit(#[from] EditFault),
    /// No kind of strike of that name.
    #[error("no kind {got}")]
    NoKind {
        /// What was asked for.
        got: String,
    },
    /// The sheet's kind asks no such question, or it has none.
    #[error("no question {got}")]
    NoQuestion {
        /// What was asked for.
        got: String,
    },
    /// An answer that the question does not take.
    #[error("no answer to {question}")]
    NoAnswer {
        /// The question.
        question: String,
    },
    /// An answer that does not go with the others: what it names is not there.
    #[error("the answer to {question} does not go with the others")]
    DoesNotGo {
        /// The question.
        question: String,
    },
    /// Nothing of the sheet is that.
    #[error("no {0:?} on the sheet")]
    NoWork(WorkRole),
    /// A width that is none, or wider than the wheel.
    #[error("a width of nothing, or wider than its wheel")]
    Width,
    /// A pace that is none, or slower than anything strikes.
    #[error("a pace that is none")]
    Pace,
}
