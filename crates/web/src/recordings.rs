//! The last recordings, which lie on the bench a day at most: what was heard in each, and its sound in a file beside the
//! book, to be played. They are few, and together no larger than half a day of plain sound; the oldest go first, all go when
//! the bench is opened anew, and none is ever part of the book.

pub(crate) mod live;

pub(crate) use live::{MOST_LIVE, MOST_S};

use axum::body::Bytes;
use book::JobId;
use live::Live;
use std::fs::File;
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant, SystemTime};
use tasks::MeasuredPace;
use tasks::listening::{Hearing, heard_pace};
use tokio::sync::Semaphore;
use tokio::sync::mpsc::Receiver;

/// Bytes of the longest recording that is taken: twelve hours of 48 kHz, two channels of three bytes.
pub(crate) const MOST_BYTES: u64 = 12 * 3_600 * 48_000 * 6;
/// Bytes of sound that are kept to be played, of all recordings together: twelve hours of 48 kHz, one channel of two bytes.
const MOST_KEPT_BYTES: u64 = 12 * 3_600 * 48_000 * 2;
/// Recordings that are kept.
const MOST_KEPT: usize = 3;
/// And for how long.
const KEPT_FOR: Duration = Duration::from_secs(24 * 3_600);
/// Recordings that come in at once.
pub(crate) const MOST_COMING: usize = 2;

/// A recording that was listened to.
#[derive(Debug)]
pub(crate) struct Recording {
    pub(crate) id: u64,
    pub(crate) job: JobId,
    pub(crate) hearing: Hearing,
    /// Its sound; nothing where it was too long to be kept.
    pub(crate) sound: Option<Sound>,
    since: Instant,
}

/// Sound in a file that goes with it.
#[derive(Debug)]
pub(crate) struct Sound {
    path: PathBuf,
    pub(crate) bytes: u64,
    /// What kind of sound it is, as browsers name it.
    pub(crate) kind: &'static str,
}

impl Sound {
    pub(crate) fn open(&self) -> std::io::Result<File> {
        File::open(&self.path)
    }
}

impl Drop for Sound {
    fn drop(&mut self) {
        // What cannot be removed now is swept when the bench is opened again.
        let _ = std::fs::remove_file(&self.path);
    }
}

/// All that lie on the bench.
#[derive(Debug)]
pub(crate) struct Recordings {
    folder: PathBuf,
    next: AtomicU64,
    /// Room for those that come in.
    pub(crate) coming: Semaphore,
    kept: Mutex<Vec<Arc<Recording>>>,
    pub(crate) live: Mutex<Vec<Arc<Mutex<Live>>>>,
}

/// What is locked is left whole by whoever fails with it.
pub(crate) fn locked<T>(what: &Mutex<T>) -> MutexGuard<'_, T> {
    what.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Recordings {
    /// For the bench of a book.
    pub(crate) fn beside(book: &Path) -> Recordings {
        let mut name = book.file_name().unwrap_or_default().to_owned();
        name.push(".sounds");
        // A page of an earlier bench must not find another's recording under its number.
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH);
        Recordings {
            folder: book.with_file_name(name),
            next: AtomicU64::new(now.map_or(1, |now| now.as_secs())),
            coming: Semaphore::new(MOST_COMING),
            kept: Mutex::default(),
            live: Mutex::default(),
        }
    }

    /// Clears away what an earlier bench left.
    pub(crate) fn sweep(&self) {
        let _ = std::fs::remove_dir_all(&self.folder);
    }

    pub(crate) fn number(&self) -> u64 {
        self.next.fetch_add(1, Ordering::Relaxed)
    }

    /// A file for sound that comes in.
    pub(crate) fn receive(&self) -> Keeping {
        let path = self.folder.join(format!("{}.sound", self.number()));
        let made = std::fs::create_dir_all(&self.folder).and_then(|()| {
            let mut options = File::options();
            options.read(true).write(true).create_new(true).open(&path)
        });
        let sound = Sound {
            path,
            bytes: 0,
            kind: "audio/mpeg",
        };
        // Where there is no room, it is listened to all the same.
        Keeping {
            file: made.ok().map(|file| (file, sound)),
        }
    }

    /// Keeps one, and lets the oldest go.
    pub(crate) fn keep(&self, job: JobId, hearing: Hearing, sound: Option<Sound>) -> u64 {
        self.let_go();
        let id = self.number();
        let mut kept = locked(&self.kept);
        kept.push(Arc::new(Recording {
            id,
            job,
            hearing,
            sound,
            since: Instant::now(),
        }));
        let bytes = |kept: &[Arc<Recording>]| -> u64 {
            let sounds = kept.iter().filter_map(|one| one.sound.as_ref());
            sounds.map(|sound| sound.bytes).sum()
        };
        while kept.len() > MOST_KEPT || (kept.len() > 1 && bytes(&kept) > MOST_KEPT_BYTES) {
            kept.remove(0);
        }
        id
    }

    /// One of a job, by its number.
    pub(crate) fn of(&self, job: JobId, id: u64) -> Option<Arc<Recording>> {
        self.let_go();
        let mut kept = locked(&self.kept);
        kept.retain(|one| one.since.elapsed() < KEPT_FOR);
        kept.iter()
            .find(|one| one.job == job && one.id == id)
            .cloned()
    }

    /// How fast the clock of a job struck when it was listened to last.
    pub(crate) fn pace(&self, job: JobId) -> Option<MeasuredPace> {
        self.let_go();
        let kept = locked(&self.kept);
        let mut of_job = kept.iter().rev().filter(|one| one.job == job);
        of_job.find_map(|one| heard_pace(&one.hearing.heard))
    }
}

/// Sound on its way into a file; given up where it gets too long or there is no room.
#[derive(Debug, Default)]
pub(crate) struct Keeping {
    file: Option<(File, Sound)>,
}

impl Keeping {
    pub(crate) fn write(&mut self, bytes: &[u8]) {
        let Some((file, sound)) = &mut self.file else {
            return;
        };
        if sound.bytes == 0 {
            sound.kind = kind(bytes);
        }
        sound.bytes += u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        if sound.bytes > MOST_KEPT_BYTES || file.write_all(bytes).is_err() {
            self.file = None;
        }
    }

    /// Writes over what stands at the beginning.
    pub(crate) fn write_first(&mut self, bytes: &[u8]) {
        if let Some((file, _)) = &mut self.file {
            let written = file
                .seek(SeekFrom::Start(0))
                .and_then(|_| file.write_all(bytes));
            if written.is_err() {
                self.file = None;
            }
        }
    }

    /// The sound so far, to be listened to while more comes.
    pub(crate) fn so_far(&self) -> Option<impl Read + Send + Sync + 'static> {
        let (_, sound) = self.file.as_ref()?;
        Some(sound.open().ok()?.take(sound.bytes))
    }

    /// Whether it was given up.
    pub(crate) fn is_lost(&self) -> bool {
        self.file.is_none()
    }

    pub(crate) fn done(self) -> Option<Sound> {
        self.file.map(|(_, sound)| sound)
    }
}

/// The kind of sound by its first bytes, as they are published of each form: RIFF, FLAC, Ogg; MPEG has none that are sure.
fn kind(first: &[u8]) -> &'static str {
    match first.get(..4) {
        Some(b"RIFF" | b"RF64") => "audio/wav",
        Some(b"fLaC") => "audio/flac",
        Some(b"OggS") => "audio/ogg",
        _ => "audio/mpeg",
    }
}

/// Sound that is poured in from elsewhere, kept as it is read. Where it breaks off, reading fails.
pub(crate) struct Poured {
    pub(crate) from: Receiver<Bytes>,
    pub(crate) now: Bytes,
    pub(crate) keeping: Arc<Mutex<Keeping>>,
}

impl Read for Poured {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        while self.now.is_empty() {
            match self.from.blocking_recv() {
                Some(bytes) => {
                    locked(&self.keeping).write(&bytes);
                    self.now = bytes;
                }
                None => return Ok(0),
            }
        }
        let some = self.now.split_to(self.now.len().min(buffer.len()));
        buffer[..some.len()].copy_from_slice(&some);
        Ok(some.len())
    }
}
