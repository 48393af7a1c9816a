//! Where the real recordings lie, and other people's libraries.

use serde_json::Value;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn proving() -> bool {
    std::env::var_os("TRUNDLE_PROVE").is_some_and(|prove| prove == "1")
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
    let python = match std::env::var_os("TRUNDLE_PYTHON") {
        Some(named) => PathBuf::from(named),
        None => root().join("target/outside/venv/bin/python"),
    };
    if !python.is_file() {
        println!("not tried: {script}, for want of {}", python.display());
        assert!(
            !proving(),
            "{script} must be tried, and there is no {}",
            python.display()
        );
        return None;
    }
    let mut asked = Command::new(python)
        .arg(root().join("tests/outside").join(script))
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the interpreter starts");
    let mut into = asked.stdin.take().expect("a pipe to it");
    writeln!(into, "{question}").expect("it reads");
    drop(into);
    let output = asked.wait_with_output().expect("it ends");
    assert!(output.status.success(), "{script}");
    Some(serde_json::from_slice(&output.stdout).expect("an answer in JSON"))
}
