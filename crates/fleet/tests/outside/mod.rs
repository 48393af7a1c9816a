//! The sums done again by other people's libraries, in Python, one process a test.

use serde_json::Value;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// The interpreter with the libraries: what `TRUNDLE_PYTHON` names, or the one set up under `target/outside`. Where
/// there is none, that is said, and nothing is tried; with `TRUNDLE_PROVE=1` it is a failure.
pub(crate) fn python(what: &str) -> Option<PathBuf> {
    let python = match std::env::var_os("TRUNDLE_PYTHON") {
        Some(named) => PathBuf::from(named),
        None => root().join("target/outside/venv/bin/python"),
    };
    if python.is_file() {
        return Some(python);
    }
    println!("not tried: {what}, for want of {}", python.display());
    let prove = std::env::var_os("TRUNDLE_PROVE").is_some_and(|prove| prove == "1");
    assert!(
        !prove,
        "{what} must be tried, and there is no {}",
        python.display()
    );
    None
}

/// Asks a script of `tests/outside` all questions, one a line; its answers in the same order.
pub(crate) fn ask(python: &Path, script: &[&str], questions: &[Value]) -> Vec<Value> {
    let mut asked = Command::new(python)
        .arg(root().join("tests/outside").join(script[0]))
        .args(&script[1..])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the interpreter starts");
    let mut into = asked.stdin.take().expect("a pipe to it");
    let from = BufReader::new(asked.stdout.take().expect("a pipe from it"));
    let answers: Vec<Value> = std::thread::scope(|scope| {
        scope.spawn(move || {
            for question in questions {
                writeln!(into, "{question}").expect("it reads on");
            }
        });
        from.lines()
            .map(|line| serde_json::from_str(&line.expect("a line")).expect("an answer in JSON"))
            .collect()
    });
    assert!(asked.wait().expect("it ends").success());
    assert_eq!(answers.len(), questions.len());
    answers
}
