//! Why an edit of a sheet's text is refused.

use crate::{Faults, SheetTable};

/// Why a sheet's text was not edited; the text then stands as it stood.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum EditFault {
    /// The text cannot be taken apart.
    #[error("a text that is no sheet")]
    Unreadable(#[source] Faults),
    /// No arbor of that name.
    #[error("no arbor {got}")]
    NoArbor {
        /// What was asked for.
        got: String,
        /// The arbor that may have been meant.
        near: Option<String>,
    },
    /// No such part on that arbor.
    #[error("no part {got} on {arbor}")]
    NoPart {
        /// The arbor.
        arbor: String,
        /// What was asked for.
        got: String,
        /// The part that may have been meant.
        near: Option<String>,
    },
    /// No mesh between these two parts.
    #[error("no mesh of {driver} and {driven}")]
    NoMesh {
        /// `ARBOR.PART` that was to drive.
        driver: String,
        /// `ARBOR.PART` that was to be driven.
        driven: String,
    },
    /// No table with that id, or none at all.
    #[error("no {id}")]
    NoTable {
        /// Of which sort.
        table: SheetTable,
        /// What was asked for.
        id: String,
    },
    /// It is there already.
    #[error("{name} is there already")]
    Taken {
        /// What.
        name: String,
    },
    /// It is no name.
    #[error("{got} is no name")]
    NotAName {
        /// What was to be one.
        got: String,
    },
    /// No key of that table.
    #[error("{got} is no key there")]
    NoKey {
        /// The table.
        table: SheetTable,
        /// What was asked for.
        got: String,
        /// The key that may have been meant.
        near: Option<&'static str>,
    },
    /// Something is on it or meshes with it still.
    #[error("{name} carries {carries} still")]
    Carries {
        /// What was to go.
        name: String,
        /// What is on it: an id, or `ARBOR.PART`.
        carries: String,
    },
}
