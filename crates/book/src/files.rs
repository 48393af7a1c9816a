//! Files that are there whole or not at all, and that stay there when power fails.

use crate::fault::BookFault;
use sha2::{Digest as _, Sha256};
use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Component, Path, PathBuf};
use tempfile::{NamedTempFile, TempDir};

/// When changes are carried to the disk.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Syncing {
    /// Each before it is acknowledged: what was acknowledged outlives a failure of power.
    Each,
    /// By the machine, when it pleases: for a book that is being filled and could be filled again. What was acknowledged
    /// outlives the end of the program, but not a failure of power.
    Never,
}

/// The path of something that lies beside the book and is named after it.
pub(crate) fn beside(book: &Path, end: &str) -> PathBuf {
    let mut name = book.file_name().unwrap_or_default().to_owned();
    name.push(end);
    book.with_file_name(name)
}

/// Opens a plain file below a folder that may come from anywhere: neither it nor a folder on the way to it is a link, a pipe or
/// a device, and the name leads nowhere else.
pub(crate) fn plain(folder: &Path, name: impl AsRef<Path>) -> io::Result<File> {
    let none = || io::Error::new(io::ErrorKind::InvalidInput, "no plain file");
    let mut path = folder.to_owned();
    let mut parts = name.as_ref().components().peekable();
    while let Some(part) = parts.next() {
        let Component::Normal(part) = part else {
            return Err(none());
        };
        path.push(part);
        let there = fs::symlink_metadata(&path)?;
        let fits = match parts.peek() {
            Some(_) => there.is_dir(),
            None => there.is_file(),
        };
        if !fits {
            return Err(none());
        }
    }
    let before = which(&path);
    let file = File::open(&path)?;
    // Whoever put another in its place in between is not followed.
    if file.metadata()?.is_file() && before == which(&path) {
        Ok(file)
    } else {
        Err(none())
    }
}

/// All of a plain file that has no more bytes than this.
pub(crate) fn plain_bytes(
    folder: &Path,
    name: impl AsRef<Path>,
    most: usize,
) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let limit = u64::try_from(most).unwrap_or(u64::MAX);
    plain(folder, name)?
        .take(limit.saturating_add(1))
        .read_to_end(&mut bytes)?;
    if bytes.len() > most {
        let detail = format!("larger than {most} bytes");
        return Err(io::Error::new(io::ErrorKind::InvalidData, detail));
    }
    Ok(bytes)
}

/// Makes a folder and those above it, and has their names on the disk.
pub(crate) fn folder(path: &Path, syncing: Syncing) -> io::Result<()> {
    let mut missing = Vec::new();
    let mut at = path;
    while !at.is_dir() {
        missing.push(at);
        match at.parent() {
            Some(above) => at = above,
            None => break,
        }
    }
    fs::create_dir_all(path)?;
    for made in missing.into_iter().rev() {
        sync_folder(made.parent().unwrap_or(made), syncing)?;
    }
    Ok(())
}

/// Makes a folder that is not there yet and fills it: first elsewhere, then under its name, so that it is there with all
/// that belongs into it or not at all.
pub(crate) fn whole_folder<T>(
    path: &Path,
    fill: impl FnOnce(&Path) -> Result<T, BookFault>,
) -> Result<T, BookFault> {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    if fs::symlink_metadata(&path).is_ok() {
        return Err(BookFault::AlreadyThere { path });
    }
    let refused = |error: io::Error| BookFault::file(&path, &error);
    let above = path.parent().unwrap_or(Path::new(".")).to_owned();
    let (half, _at_work) = half_anew(&above).map_err(refused)?;
    let filled = fill(half.path())?;
    open_to_all_who_may(half.path()).map_err(refused)?;
    fs::rename(half.path(), &path).map_err(refused)?;
    sync_folder(&above, Syncing::Each).map_err(refused)?;
    Ok(filled)
}

/// What the name begins with of a folder that is being filled, or a file that is being written.
const HALF: &str = ".half-";

/// Letters of the name of a half: it ends in six letters or figures by chance.
pub(crate) const HALF_NAME: usize = HALF.len() + 6;

/// What lies in a folder that is being filled, or taken away: in a backup, an export, or the way of a book to its place. Besides
/// there are names that begin or end in these.
const IN_A_HALF: [&str; 6] = [
    "pictures",
    "jobs",
    "jobs.csv",
    "entries.csv",
    "sums.txt",
    "gone",
];
const BEGINS: [&str; 3] = [HALF, "book", "backup.json"];
const ENDS: &str = ".book";

/// Whether this is what somebody was at work on.
pub(crate) fn is_half(path: &Path) -> bool {
    let name = path.file_name().unwrap_or_default().to_string_lossy();
    name.starts_with(HALF)
}

/// A folder to be filled below one that may be anywhere, and is made where it is not there; what was broken off there before is
/// taken away first.
pub(crate) fn half_anew(above: &Path) -> io::Result<(TempDir, Option<File>)> {
    folder(above, Syncing::Each)?;
    for there in fs::read_dir(above).into_iter().flatten().flatten() {
        // What resists keeps nothing from being made.
        let _ = clear_broken_off(&there.path());
    }
    half_folder(above)
}

/// Takes away a folder that was being filled, if it is one of ours by its name and by all that is in it, and nobody is at work on
/// it. Where that cannot be told it stays; so does an empty one, which somebody may just have made.
fn clear_broken_off(path: &Path) -> io::Result<()> {
    let name = |path: &Path| {
        let name = path.file_name().unwrap_or_default();
        name.to_string_lossy().into_owned()
    };
    if !is_half(path) || name(path).len() != HALF_NAME || !fs::symlink_metadata(path)?.is_dir() {
        return Ok(());
    }
    let at_work = File::open(path)?;
    at_work.try_lock()?;
    let mut within = fs::read_dir(path)?.flatten().peekable();
    let ours = |name: String| {
        IN_A_HALF.contains(&name.as_str())
            || BEGINS.iter().any(|begins| name.starts_with(begins))
            || name.ends_with(ENDS)
    };
    if within.peek().is_some() && within.all(|there| ours(name(&there.path()))) {
        fs::remove_dir_all(path)?;
    }
    Ok(())
}

/// A folder to be filled, and what shows others that somebody is at work on it.
pub(crate) fn half_folder(above: &Path) -> io::Result<(TempDir, Option<File>)> {
    let half = tempfile::Builder::new().prefix(HALF).tempdir_in(above)?;
    // Where folders cannot be opened this cannot be shown.
    let at_work = File::open(half.path()).ok();
    if let Some(folder) = &at_work {
        let _ = folder.try_lock_shared();
    }
    Ok((half, at_work))
}

/// Deletes a folder with all that is in it: first it loses its name, so that no part of it is ever taken for the whole.
pub(crate) fn take_away(folder: &Path) -> io::Result<()> {
    let above = folder.parent().unwrap_or(Path::new("."));
    let (half, _at_work) = half_folder(above)?;
    fs::rename(folder, half.path().join("gone"))?;
    sync_folder(half.path(), Syncing::Each)?;
    sync_folder(above, Syncing::Each)?;
    half.close()
}

/// A file to be written; others see that somebody is at work on it.
pub(crate) fn half_file(folder: &Path) -> io::Result<NamedTempFile> {
    let file = NamedTempFile::with_prefix_in(HALF, folder)?;
    let _ = file.as_file().try_lock_shared();
    Ok(file)
}

/// Writes a file: first elsewhere in its folder, then under its name, in place of what was there.
pub(crate) fn write(path: &Path, bytes: &[u8], syncing: Syncing) -> Result<(), BookFault> {
    let put = || -> io::Result<()> {
        let folder = path.parent().unwrap_or(Path::new("."));
        let mut file = half_file(folder)?;
        file.write_all(bytes)?;
        if syncing == Syncing::Each {
            file.as_file().sync_all()?;
        }
        readable_by_all_who_may(file.as_file())?;
        file.persist(path)?;
        sync_folder(folder, syncing)
    };
    put().map_err(|error| BookFault::file(path, &error))
}

/// Writes a file in a place where nobody looks yet, and has it on the disk.
pub(crate) fn write_new(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let mut file = File::create_new(path)?;
    file.write_all(bytes)?;
    file.sync_all()?;
    sync_folder(path.parent().unwrap_or(Path::new(".")), Syncing::Each)
}

/// A temporary file is made for its owner's eyes only; what is kept is kept as any other file is.
#[cfg(unix)]
pub(crate) fn readable_by_all_who_may(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

/// Elsewhere it is kept as it was made.
#[cfg(not(unix))]
pub(crate) fn readable_by_all_who_may(_: &File) -> io::Result<()> {
    Ok(())
}

/// Has the names in a folder on the disk. Where folders cannot be opened the machine does this by itself.
pub(crate) fn sync_folder(folder: &Path, syncing: Syncing) -> io::Result<()> {
    if cfg!(unix) && syncing == Syncing::Each {
        File::open(folder)?.sync_all()?;
    }
    Ok(())
}

/// What bytes are called by.
pub(crate) fn digest(bytes: &[u8]) -> String {
    figures(&Sha256::digest(bytes))
}

/// What a file's bytes are called by, and how many there are.
pub(crate) fn digest_of_file(path: &Path) -> io::Result<(String, u64)> {
    digest_of(plain_file(path)?)
}

/// Opens a file to be read. What is no plain file is not opened: a pipe that lies there would have its reader wait for ever.
pub(crate) fn plain_file(path: &Path) -> io::Result<File> {
    if fs::metadata(path)?.is_file() {
        return File::open(path);
    }
    let detail = "there is no plain file";
    Err(io::Error::new(io::ErrorKind::NotFound, detail))
}

/// All that is in a plain file.
pub(crate) fn read(path: &Path) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    plain_file(path)?.read_to_end(&mut bytes)?;
    Ok(bytes)
}

/// What the bytes of an open file are called by, and how many there are.
pub(crate) fn digest_of(mut file: File) -> io::Result<(String, u64)> {
    let mut sum = Sha256::new();
    let mut bytes = 0;
    let mut part = vec![0; 1 << 16];
    loop {
        let got = file.read(&mut part)?;
        if got == 0 {
            return Ok((figures(&sum.finalize()), bytes));
        }
        sum.update(&part[..got]);
        bytes += u64::try_from(got).unwrap_or(u64::MAX);
    }
}

/// A digest's bytes in figures.
pub(crate) fn figures(sum: &[u8]) -> String {
    sum.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// A temporary folder is for its owner's eyes only; a backup is kept as any other folder is.
#[cfg(unix)]
fn open_to_all_who_may(folder: &Path) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    fs::set_permissions(folder, fs::Permissions::from_mode(0o755))
}

/// Elsewhere it may be from the start.
#[cfg(not(unix))]
fn open_to_all_who_may(_: &Path) -> io::Result<()> {
    Ok(())
}

/// Deletes a file, and has it gone from the disk.
pub(crate) fn gone(path: &Path) -> io::Result<()> {
    match std::fs::remove_file(path) {
        Ok(()) => sync_folder(path.parent().unwrap_or(Path::new(".")), Syncing::Each),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
        Err(error) => Err(error),
    }
}

/// Which file or folder it is, whatever it is called.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Which(u64, u64);

/// More than one name leads to this file.
#[cfg(unix)]
pub(crate) fn has_other_names(path: &Path) -> bool {
    use std::os::unix::fs::MetadataExt;
    fs::metadata(path).is_ok_and(|file| file.is_file() && file.nlink() > 1)
}

/// Elsewhere that cannot be told.
#[cfg(not(unix))]
pub(crate) fn has_other_names(_: &Path) -> bool {
    false
}

#[cfg(unix)]
pub(crate) fn which(path: &Path) -> Option<Which> {
    use std::os::unix::fs::MetadataExt;
    let file = fs::symlink_metadata(path).ok()?;
    Some(Which(file.dev(), file.ino()))
}

/// Elsewhere only that there is one can be told.
#[cfg(not(unix))]
pub(crate) fn which(path: &Path) -> Option<Which> {
    fs::symlink_metadata(path).ok().map(|_| Which(0, 0))
}

/// Whether somebody is plainly at work on this file or folder.
pub(crate) fn at_work(path: &Path) -> bool {
    let locked = |file: File| matches!(file.try_lock(), Err(TryLockError::WouldBlock));
    // What is neither might keep whoever opens it waiting.
    let there = std::fs::symlink_metadata(path).is_ok_and(|it| it.is_file() || it.is_dir());
    there && File::open(path).is_ok_and(locked)
}

/// What lies in a folder.
pub(crate) fn below(folder: &Path) -> Vec<PathBuf> {
    let there = fs::read_dir(folder).into_iter().flatten().flatten();
    there.map(|there| there.path()).collect()
}

pub(crate) fn name(path: &Path) -> String {
    path.file_name()
        .unwrap_or_default()
        .to_string_lossy()
        .into_owned()
}

pub(crate) fn hidden(path: &Path) -> bool {
    name(path).starts_with('.')
}

/// Deletes a file, or a folder with all that is in it, unless somebody is at work on it.
pub(crate) fn away(path: &Path) -> Result<(), BookFault> {
    if at_work(path) {
        return Ok(());
    }
    let folder = fs::symlink_metadata(path).is_ok_and(|there| there.is_dir());
    let gone = if folder {
        fs::remove_dir_all(path)
    } else {
        fs::remove_file(path)
    };
    match gone {
        Err(error) if error.kind() != io::ErrorKind::NotFound => Err(BookFault::file(path, &error)),
        _ => sync_folder(path.parent().unwrap_or(Path::new(".")), Syncing::Each)
            .map_err(|error| BookFault::file(path, &error)),
    }
}
