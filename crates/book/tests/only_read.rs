//! A book that may be read but not written is refused with that word.
#![cfg(unix)]

use book::Book;
use std::fs::{self, Permissions};
use std::os::unix::fs::{MetadataExt, PermissionsExt};
use std::os::unix::process::CommandExt;
use std::path::Path;
use std::process::Command;

const LOG: &str = "{\"trundle_log\":1,\"sheet\":\"Quay Street\",\"hash\":\"5f0c\"}\n";

/// Where a book is tried by a process that owns nothing; root may write whatever the permissions say.
const TRIED: &str = "BOOK_TRIED_BY_A_STRANGER";

#[test]
fn what_may_only_be_read() {
    if let Some(path) = std::env::var_os(TRIED) {
        match Book::open(Path::new(&path)) {
            Ok(_) => println!("tried: Opened"),
            Err(fault) => println!("tried: {fault:?}"),
        }
        return;
    }
    let folder = tempfile::tempdir().unwrap();
    let may = |path: &Path, mode| fs::set_permissions(path, Permissions::from_mode(mode)).unwrap();
    may(folder.path(), 0o755);
    let myself = folder.path().join("myself");
    fs::copy(std::env::current_exe().unwrap(), &myself).unwrap();
    let am_root = fs::metadata(folder.path()).unwrap().uid() == 0;
    let tried = |path: &Path| {
        let mut stranger = Command::new(&myself);
        stranger
            .args(["--exact", "what_may_only_be_read", "--nocapture"])
            .env(TRIED, path)
            .current_dir("/");
        if am_root {
            stranger.uid(65534).gid(65534);
        }
        let said = String::from_utf8(stranger.output().unwrap().stdout).unwrap();
        let told = said.lines().find_map(|line| line.split_once("tried: "));
        told.unwrap_or_else(|| panic!("{said}")).1.to_owned()
    };
    let below = folder.path().join("below");
    fs::create_dir(&below).unwrap();
    let path = below.join("bench.book");

    may(&below, 0o555);
    let told = tried(&path);
    assert!(told.starts_with("ReadOnly"), "an empty folder: {told}");
    let told = tried(&below.join("further").join("bench.book"));
    assert!(told.starts_with("CannotCreateFolder"), "{told}");

    may(&below, 0o777);
    assert_eq!(
        tried(&path),
        "Opened",
        "the stranger can open what may be written"
    );
    fs::remove_file(&path).unwrap();
    let book = Book::open(&path).unwrap();
    book.start("Quay Street", "sheet", LOG).unwrap();
    drop(book);
    for (in_folder, in_file) in [(0o777, 0o444), (0o555, 0o666), (0o555, 0o444)] {
        may(&path, in_file);
        may(&below, in_folder);
        let told = tried(&path);
        assert!(
            told.starts_with("ReadOnly"),
            "{in_folder:o} {in_file:o}: {told}"
        );
    }
    may(&below, 0o777);
    may(&path, 0o000);
    let told = tried(&path);
    assert!(told.starts_with("CannotOpen"), "{told}");
    may(&path, 0o666);
    assert_eq!(tried(&path), "Opened");
}
