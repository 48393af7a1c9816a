//! The log's file: one writer at a time, nothing half written that was said to be written, a torn end cut off first.

use crate::streams::{Failure, shown_name, tell, wrong};
use movement::Plate;
use report::{Locale, machine};
use sheet::Sheet;
use std::fs::{File, OpenOptions, TryLockError};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::Path;
use std::sync::Arc;
use tasks::{Ask, TimingState};
use timing::Eye;

/// A sheet that was read to be timed, as it is called and as it was written.
pub(crate) struct SheetRead<'a> {
    pub(crate) name: &'a str,
    pub(crate) text: &'a [u8],
    pub(crate) sheet: Arc<Sheet>,
}

/// Goes over the log at `path`, enters what was asked, and has it on the disk before it is said.
pub(crate) fn note(
    path: &Path,
    read_of: &SheetRead<'_>,
    asks: &[Ask],
    from: Option<Plate>,
) -> Result<TimingState, Failure> {
    let name = shown_name(path);
    let outside = |error: std::io::Error| {
        Failure::Outside(report::en::cannot_use(
            &name,
            &machine(&Locale::default(), &error),
        ))
    };
    // The file is made only once there is something right to write into it.
    let open = |create: bool| {
        OpenOptions::new()
            .read(true)
            .append(true)
            .create(create)
            .open(path)
    };
    let mut file = match open(false) {
        Ok(file) => Some(file),
        Err(error) if error.kind() == std::io::ErrorKind::NotFound => None,
        Err(error) => return Err(outside(error)),
    };
    let before = match &mut file {
        Some(file) => {
            lock(file, &name)?;
            Some(read(file).map_err(outside)?)
        }
        None => None,
    };
    let before = before.filter(|bytes| !bytes.is_empty());
    let wrong = |refusal| wrong(read_of.name, read_of.text, refusal);
    let sheet = Arc::clone(&read_of.sheet);
    let timing = tasks::note_of(sheet, before.as_deref(), asks, from, Eye::default());
    let timing = timing.map_err(wrong)?;
    if let Some(why) = timing.unfounded() {
        return Err(wrong(tasks::Refusal::Question(why)));
    }
    if let Some(torn) = &timing.torn {
        tell(&format!("{name}: {}\n", report::en::log_warning(torn)));
    }
    if asks.is_empty() {
        return Ok(timing);
    }
    let mut file = match file {
        Some(file) => file,
        None => {
            let file = open(true).map_err(outside)?;
            lock(&file, &name)?;
            file
        }
    };
    if let Some(entries::LogWarning::TornLine { kept, .. }) = &timing.torn {
        file.set_len(u64::try_from(*kept).unwrap_or(u64::MAX))
            .map_err(outside)?;
    }
    file.seek(SeekFrom::End(0))
        .and_then(|_| file.write_all(timing.added.as_bytes()))
        .and_then(|()| file.sync_all())
        .map_err(outside)?;
    Ok(timing)
}

fn lock(file: &File, name: &str) -> Result<(), Failure> {
    match file.try_lock() {
        Ok(()) => Ok(()),
        Err(TryLockError::WouldBlock) => Err(Failure::Outside(report::en::log_in_use(name))),
        Err(TryLockError::Error(error)) => Err(Failure::Outside(report::en::cannot_use(
            name,
            &machine(&Locale::default(), &error),
        ))),
    }
}

/// The whole log, or just more of it than a log may have.
fn read(file: &mut File) -> std::io::Result<Vec<u8>> {
    let most = u64::try_from(entries::MOST_BYTES).unwrap_or(u64::MAX);
    let mut bytes = Vec::new();
    file.take(most + 1).read_to_end(&mut bytes)?;
    Ok(bytes)
}
