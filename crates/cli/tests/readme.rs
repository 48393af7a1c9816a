//! Every `console` block of the documents runs and says what it says there.

use assert_cmd::Command;

/// Commands with the lines that follow them, of every block marked `console`.
fn blocks(page: &str) -> Vec<(String, String)> {
    let mut blocks: Vec<(String, String)> = Vec::new();
    let mut inside = false;
    for line in page.lines() {
        match (inside, line) {
            (false, "```console") => inside = true,
            (true, "```") => inside = false,
            (true, line) => match (line.strip_prefix("$ "), blocks.last_mut()) {
                (Some(command), _) => blocks.push((command.to_owned(), String::new())),
                (None, Some((_, output))) => *output += &format!("{line}\n"),
                (None, None) => panic!("output before any command: {line}"),
            },
            _ => {}
        }
    }
    blocks
}

#[test]
fn what_the_readme_shows_is_what_is_said() {
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/../..");
    let page = std::fs::read_to_string(format!("{root}/README.md")).expect("README");
    let blocks = blocks(&page);
    assert!(blocks.len() >= 3);
    // In a folder of its own, with the samples beside it, so that a log that is begun is begun there.
    let folder = tempfile::tempdir().expect("a folder");
    let samples = folder.path().join("movements");
    std::fs::create_dir(&samples).expect("a folder");
    for sample in std::fs::read_dir(format!("{root}/movements")).expect("samples") {
        let sample = sample.expect("a file");
        std::fs::copy(sample.path(), samples.join(sample.file_name())).expect("copied");
    }
    // And a book that an earlier version made.
    let book = format!("{root}/crates/book/tests/earlier/first.book");
    std::fs::copy(book, folder.path().join("bench.book")).expect("copied");
    for (command, expected) in blocks {
        let words: Vec<&str> = command
            .strip_prefix("cargo run -q --release -- ")
            .or_else(|| command.strip_prefix("trundle "))
            .unwrap_or_else(|| panic!("a command that is ours: {command}"))
            .split(' ')
            .collect();
        let output = Command::cargo_bin("trundle")
            .expect("built")
            .current_dir(folder.path())
            .args(words)
            .output()
            .expect("runs");
        assert_eq!(String::from_utf8_lossy(&output.stderr), "", "{command}");
        assert_eq!(
            String::from_utf8_lossy(&output.stdout),
            expected,
            "{command}"
        );
    }
}
