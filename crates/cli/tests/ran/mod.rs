//! The program, run once.

use assert_cmd::Command;

/// Its status, and what it said on standard output and on standard error, run in a folder.
pub(crate) fn ran(folder: &str, args: &[&str], input: &str) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(folder)
        .args(args)
        .write_stdin(input)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}
