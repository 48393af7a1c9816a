//! Where this machine keeps its user's data, and what day it is there.

use crate::streams::Failure;
use entries::Day;
use std::path::PathBuf;

/// Where the book is: where it was said to be, or where this user's data belongs.
pub(crate) fn place_of_book(said: Option<PathBuf>) -> Result<PathBuf, Failure> {
    said.or_else(usual_book).ok_or_else(|| {
        let why = report::en::opening::no_place_for_book();
        Failure::Outside(why.to_owned())
    })
}

/// Where this user's data belongs: `XDG_DATA_HOME` or `~/.local/share` (XDG Base Directory Specification 0.8),
/// `~/Library/Application Support` or `%APPDATA%` on the systems that have those.
fn usual_book() -> Option<PathBuf> {
    let given = |name: &str| {
        let value = std::env::var_os(name).map(PathBuf::from);
        value.filter(|path| path.is_absolute())
    };
    let data = if cfg!(target_os = "windows") {
        given("APPDATA")
    } else if cfg!(target_os = "macos") {
        given("HOME").map(|home| home.join("Library/Application Support"))
    } else {
        given("XDG_DATA_HOME").or_else(|| given("HOME").map(|home| home.join(".local/share")))
    };
    data.map(|data| data.join("trundle").join("bench.book"))
}

/// The day where this machine stands, as its clock has it.
pub(crate) fn today() -> Option<Day> {
    // A clock beyond the calendar tells no day.
    let now = jiff::Timestamp::try_from(std::time::SystemTime::now()).ok()?;
    let here = now.to_zoned(jiff::tz::TimeZone::system());
    Day::parse(&here.date().to_string())
}
