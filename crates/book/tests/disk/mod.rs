//! A disk as it may look after power failed: what was carried to it is there; of the rest anything may be, down to parts
//! of a single write. It is made again from the calls by which a program reached its files.
//!
//! The rules are those that POSIX gives and no more: `fsync` of a file carries what was written in it, `fsync` of a folder
//! carries the names in it. Sectors of 512 bytes are written whole or not, in any order (SQLite, "Atomic Commit In
//! SQLite", section 2). What is written is never found elsewhere: a disk that lies is not tried.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::ops::Range;
use std::path::{Path, PathBuf};

const SECTOR: usize = 512;

/// One call that changes something, or carries it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Call {
    /// A file is there from now on, if it was not before.
    Make(PathBuf),
    MakeFolder(PathBuf),
    Write(PathBuf, Place, Vec<u8>),
    Cut(PathBuf, usize),
    Carry(PathBuf),
    Rename(PathBuf, PathBuf),
    Unlink(PathBuf),
    /// Something was said on the standard output.
    Say(String),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Place {
    At(usize),
    /// Behind what was written before.
    Next,
}

#[derive(Debug, Clone, Default)]
struct File {
    carried: Vec<u8>,
    /// Written and not carried yet.
    pending: Vec<Change>,
    /// Where the next write goes that does not say where.
    next: usize,
}

#[derive(Debug, Clone)]
enum Change {
    Write(usize, Vec<u8>),
    Cut(usize),
}

#[derive(Debug, Clone)]
enum Naming {
    Name(PathBuf, Thing),
    Unname(PathBuf),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Thing {
    File(usize),
    Folder,
}

/// What is on a disk below one folder, and what is on its way there.
#[derive(Debug, Clone, Default)]
pub(crate) struct Disk {
    root: PathBuf,
    files: Vec<File>,
    /// As the program sees it.
    names: BTreeMap<PathBuf, Thing>,
    /// As it was carried.
    carried: BTreeMap<PathBuf, Thing>,
    /// By folder: what is on its way.
    pending: BTreeMap<PathBuf, Vec<Naming>>,
}

/// How much of what was not carried is there all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Luck {
    /// Nothing.
    None,
    /// Any part of it.
    Some,
}

impl Disk {
    /// What is there below a folder, all of it carried.
    pub(crate) fn of(root: &Path) -> Disk {
        let mut disk = Disk {
            root: root.to_owned(),
            ..Disk::default()
        };
        disk.add(root);
        disk
    }

    fn add(&mut self, folder: &Path) {
        for there in fs::read_dir(folder).unwrap() {
            let path = there.unwrap().path();
            let thing = if path.is_dir() {
                self.add(&path);
                Thing::Folder
            } else {
                let carried = fs::read(&path).unwrap();
                self.files.push(File {
                    carried,
                    ..File::default()
                });
                Thing::File(self.files.len() - 1)
            };
            self.names.insert(path.clone(), thing);
            self.carried.insert(path, thing);
        }
    }

    fn name(&mut self, naming: Naming) {
        let path = match &naming {
            Naming::Name(path, thing) => {
                self.names.insert(path.clone(), *thing);
                path
            }
            Naming::Unname(path) => {
                self.names.remove(path);
                path
            }
        };
        let folder = path.parent().unwrap().to_owned();
        self.pending.entry(folder).or_default().push(naming);
    }

    fn file(&mut self, path: &Path) -> Option<&mut File> {
        match self.names.get(path) {
            Some(Thing::File(at)) => Some(&mut self.files[*at]),
            _ => None,
        }
    }

    /// Does what a call does. What lies elsewhere is left alone.
    pub(crate) fn take(&mut self, call: &Call) {
        match call {
            // What the store shares in memory only, whatever it looks like.
            Call::Make(path) if path.to_string_lossy().ends_with("-shm") => {}
            Call::Make(path) if path.starts_with(&self.root) => {
                if !self.names.contains_key(path) {
                    self.files.push(File::default());
                    let thing = Thing::File(self.files.len() - 1);
                    self.name(Naming::Name(path.clone(), thing));
                }
            }
            Call::MakeFolder(path) if path.starts_with(&self.root) => {
                self.name(Naming::Name(path.clone(), Thing::Folder));
            }
            Call::Write(path, place, bytes) => {
                if let Some(file) = self.file(path) {
                    let at = match place {
                        Place::At(at) => *at,
                        Place::Next => file.next,
                    };
                    if *place == Place::Next {
                        file.next += bytes.len();
                    }
                    file.pending.push(Change::Write(at, bytes.clone()));
                }
            }
            Call::Cut(path, length) => {
                if let Some(file) = self.file(path) {
                    file.pending.push(Change::Cut(*length));
                }
            }
            Call::Carry(path) => {
                if let Some(file) = self.file(path) {
                    for change in std::mem::take(&mut file.pending) {
                        apply(&mut file.carried, &change);
                    }
                }
                for naming in self.pending.remove(path).unwrap_or_default() {
                    carry(&mut self.carried, naming);
                }
            }
            Call::Rename(from, to) => {
                if let Some(thing) = self.names.get(from).copied() {
                    // At once, as the system promises: the new name comes first, so that none is lost in between.
                    self.name(Naming::Name(to.clone(), thing));
                    self.name(Naming::Unname(from.clone()));
                }
            }
            Call::Unlink(path) if self.names.contains_key(path) => {
                self.name(Naming::Unname(path.clone()));
            }
            Call::Make(_) | Call::MakeFolder(_) | Call::Unlink(_) | Call::Say(_) => {}
        }
    }

    /// Whether anything is on its way.
    pub(crate) fn waiting(&self) -> bool {
        !self.pending.is_empty() || self.files.iter().any(|file| !file.pending.is_empty())
    }

    /// Writes the disk as it may look if power fails now, to another folder.
    pub(crate) fn fail(&self, to: &Path, luck: Luck, chance: &mut Pcg64Mcg) {
        let mut names = self.carried.clone();
        for naming in self.pending.values() {
            let kept = match luck {
                Luck::None => 0,
                Luck::Some => chance.random_range(0..=naming.len()),
            };
            for naming in &naming[..kept] {
                carry(&mut names, naming.clone());
            }
        }
        let mut folders = BTreeSet::from([self.root.clone()]);
        // A folder comes before what is in it.
        for (path, thing) in &names {
            if !folders.contains(path.parent().unwrap()) {
                continue;
            }
            let place = to.join(path.strip_prefix(&self.root).unwrap());
            match thing {
                Thing::Folder => {
                    fs::create_dir_all(&place).unwrap();
                    folders.insert(path.clone());
                }
                Thing::File(at) => {
                    let file = &self.files[*at];
                    let mut bytes = file.carried.clone();
                    if luck == Luck::Some {
                        for change in &file.pending {
                            apply_in_part(&mut bytes, change, chance);
                        }
                    }
                    fs::write(place, bytes).unwrap();
                }
            }
        }
    }
}

fn carry(names: &mut BTreeMap<PathBuf, Thing>, naming: Naming) {
    match naming {
        Naming::Name(path, thing) => drop(names.insert(path, thing)),
        Naming::Unname(path) => drop(names.remove(&path)),
    }
}

fn apply(bytes: &mut Vec<u8>, change: &Change) {
    match change {
        Change::Write(at, written) => put(bytes, *at, written),
        Change::Cut(length) => bytes.resize(*length, 0),
    }
}

fn put(bytes: &mut Vec<u8>, at: usize, written: &[u8]) {
    if bytes.len() < at + written.len() {
        bytes.resize(at + written.len(), 0);
    }
    bytes[at..at + written.len()].copy_from_slice(written);
}

fn apply_in_part(bytes: &mut Vec<u8>, change: &Change, chance: &mut Pcg64Mcg) {
    match change {
        Change::Write(at, written) => {
            let mut from = *at;
            while from < at + written.len() {
                let until = ((from / SECTOR + 1) * SECTOR).min(at + written.len());
                if chance.random::<bool>() {
                    let part: Range<usize> = from - at..until - at;
                    put(bytes, from, &written[part]);
                }
                from = until;
            }
        }
        Change::Cut(length) => {
            if chance.random::<bool>() {
                bytes.resize(*length, 0);
            }
        }
    }
}

/// The calls of a program, from what was written down of them.
pub(crate) fn calls(trace: &str) -> Vec<Call> {
    trace.lines().filter_map(call).collect()
}

/// What one line says; nothing where the call failed, did not come back before the end, or changes nothing.
fn call(line: &str) -> Option<Call> {
    let (_, line) = line.split_once(' ')?;
    let (name, rest) = line.trim_start().split_once('(')?;
    let (told, result) = rest.rsplit_once(") = ")?;
    if result.starts_with('-') {
        return None;
    }
    let texts: Vec<Vec<u8>> = told.split('"').skip(1).step_by(2).map(bytes).collect();
    let path = |at: usize| path_of(texts[at].clone());
    // What is in angle brackets says what a number of an open file stands for.
    let open = || {
        let (_, rest) = told.split_once('<')?;
        let (path, _) = rest.split_once('>')?;
        Some(path_of(bytes(path)))
    };
    let number = |from_end: usize| -> Option<usize> {
        let word = told.rsplit(", ").nth(from_end)?;
        word.trim().parse().ok()
    };
    Some(match name {
        "open" | "openat" | "creat" if told.contains("O_CREAT") || name == "creat" => {
            assert!(!told.contains("O_TRUNC"), "{line}");
            Call::Make(path(0))
        }
        "open" | "openat" => return None,
        "mkdir" | "mkdirat" => Call::MakeFolder(path(0)),
        "write" if told.starts_with("1<") => {
            Call::Say(String::from_utf8_lossy(&texts[0]).into_owned())
        }
        "write" => Call::Write(open()?, Place::Next, written(&texts, result)),
        "pwrite64" => Call::Write(open()?, Place::At(number(0)?), written(&texts, result)),
        "ftruncate" => Call::Cut(open()?, number(0)?),
        "fsync" | "fdatasync" => Call::Carry(open()?),
        "rename" | "renameat" | "renameat2" => Call::Rename(path(0), path(1)),
        "unlink" | "unlinkat" => Call::Unlink(path(0)),
        other => panic!("a call that is not known here: {other}: {line}"),
    })
}

/// As many of the bytes as were taken.
fn written(texts: &[Vec<u8>], result: &str) -> Vec<u8> {
    let taken: usize = result.trim().parse().unwrap();
    assert!(texts[0].len() >= taken, "a write is told in part only");
    texts[0][..taken].to_vec()
}

fn path_of(bytes: Vec<u8>) -> PathBuf {
    PathBuf::from(String::from_utf8(bytes).unwrap())
}

/// The bytes of `\x2f\x74`.
fn bytes(hex: &str) -> Vec<u8> {
    let figures = hex.split("\\x").skip(1);
    figures
        .map(|figures| u8::from_str_radix(&figures[..2], 16).unwrap())
        .collect()
}
