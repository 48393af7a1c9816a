//! Where the real recordings lie, and other people's libraries.

use serde_json::Value;
use std::path::{Path, PathBuf};

#[path = "../../../fleet/tests/outside/mod.rs"]
mod library;

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The folder of real recordings: what `TRUNDLE_RECORDINGS` names, or the one beside the house, or beside a house beside that.
/// Where there is none, that is said, and nothing is tried.
pub(crate) fn recordings(what: &str) -> Option<PathBuf> {
    let named = std::env::var_os("TRUNDLE_RECORDINGS").map(PathBuf::from);
    let beside = [
        "../shared/outside/recordings",
        "../../shared/outside/recordings",
    ];
    let found = named
        .into_iter()
        .chain(beside.iter().map(|path| root().join(path)))
        .find(|path| path.join("truth.json").is_file());
    if found.is_none() {
        println!(
            "not tried: {what}, for want of the recordings (TRUNDLE_RECORDINGS names their folder)"
        );
    }
    found
}

/// Asks a script of `tests/outside` one question; nothing, and that is said, where there is no interpreter for it.
pub(crate) fn ask(script: &str, question: &Value) -> Option<Value> {
    let python = library::python(script)?;
    library::ask(&python, &[script], std::slice::from_ref(question)).pop()
}
