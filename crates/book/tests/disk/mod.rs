//! A disk as it may look after power failed: what was carried to it is there; of the rest anything may be, down to parts
//! of a single write. It is made again from the calls by which a program reached its files.
//!
//! The rules are those that POSIX gives and no more: `fsync` of a file carries what was written in it, `fsync` of a folder
//! carries the names in it; only of a move from one folder to another it is held that the name is not lost on the way, as every
//! file system with a journal has it (common practice, no source). Sectors of 512 bytes are written whole or not, in any
//! order (SQLite, "Atomic Commit In SQLite", section 2). What is written is never found elsewhere: a disk that lies is not tried.

use rand::RngExt;
use rand_pcg::Pcg64Mcg;
use std::collections::BTreeMap;
use std::ffi::OsString;
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
    /// So many bytes of one file are written behind those that another has, and that were copied from its beginning.
    Copy(PathBuf, PathBuf, usize),
    Cut(PathBuf, usize),
    Carry(PathBuf),
    Rename(PathBuf, PathBuf),
    /// A file gets another name besides.
    Link(PathBuf, PathBuf),
    /// Of a file or an empty folder.
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
    /// As the program sees it.
    now: Vec<u8>,
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

#[derive(Debug, Clone, Default)]
struct Folder {
    /// As the program sees it.
    now: BTreeMap<OsString, Thing>,
    carried: BTreeMap<OsString, Thing>,
    /// On its way.
    pending: Vec<Naming>,
}

#[derive(Debug, Clone)]
enum Naming {
    Name(OsString, Thing),
    Unname(OsString),
    /// What left for another folder is gone from here only where it has its name there: so much a system promises of a move.
    Left(OsString, usize, OsString),
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Thing {
    File(usize),
    Folder(usize),
}

/// What is on a disk below one folder, and what is on its way there.
#[derive(Debug, Clone, Default)]
pub(crate) struct Disk {
    root: PathBuf,
    files: Vec<File>,
    /// The first is the root.
    folders: Vec<Folder>,
}

/// How much of what was not carried is there all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Luck {
    /// Nothing.
    None,
    /// Any part of it.
    Some,
    /// All of it: as if the program alone had been killed.
    All,
}

impl Disk {
    /// What is there below a folder, all of it carried.
    pub(crate) fn of(root: &Path) -> Disk {
        let mut disk = Disk {
            root: root.to_owned(),
            ..Disk::default()
        };
        disk.add(root, &mut BTreeMap::new());
        disk
    }

    /// Adds a folder, and gives its number. Files that have several names are known by what the machine calls them.
    fn add(&mut self, folder: &Path, known: &mut BTreeMap<u64, usize>) -> usize {
        use std::os::unix::fs::MetadataExt;
        let at = self.folders.len();
        self.folders.push(Folder::default());
        for there in fs::read_dir(folder).unwrap() {
            let path = there.unwrap().path();
            let thing = if path.is_dir() {
                Thing::Folder(self.add(&path, known))
            } else {
                let which = fs::metadata(&path).unwrap().ino();
                Thing::File(*known.entry(which).or_insert_with(|| {
                    let carried = fs::read(&path).unwrap();
                    self.files.push(File {
                        now: carried.clone(),
                        carried,
                        ..File::default()
                    });
                    self.files.len() - 1
                }))
            };
            let name = path.file_name().unwrap().to_owned();
            self.folders[at].now.insert(name.clone(), thing);
            self.folders[at].carried.insert(name, thing);
        }
        at
    }

    /// What the program finds by this path.
    fn find(&self, path: &Path) -> Option<Thing> {
        let mut thing = Thing::Folder(0);
        for part in path.strip_prefix(&self.root).ok()? {
            let Thing::Folder(at) = thing else {
                return None;
            };
            thing = *self.folders[at].now.get(part)?;
        }
        Some(thing)
    }

    fn file(&mut self, path: &Path) -> Option<&mut File> {
        match self.find(path)? {
            Thing::File(at) => Some(&mut self.files[at]),
            Thing::Folder(_) => None,
        }
    }

    /// The folder that a path leads into, and the name there; nothing where it lies elsewhere.
    fn leads_into(&self, path: &Path) -> Option<(usize, OsString)> {
        match self.find(path.parent()?)? {
            Thing::Folder(at) => Some((at, path.file_name()?.to_owned())),
            Thing::File(_) => None,
        }
    }

    fn name(&mut self, path: &Path, thing: Thing) -> bool {
        let Some((at, name)) = self.leads_into(path) else {
            return false;
        };
        let folder = &mut self.folders[at];
        folder.now.insert(name.clone(), thing);
        folder.pending.push(Naming::Name(name, thing));
        true
    }

    /// Does what a call does, and gives whether it changed anything. What lies elsewhere is left alone.
    pub(crate) fn take(&mut self, call: &Call) -> bool {
        match call {
            // What the store shares in memory only, whatever it looks like.
            Call::Make(path) if path.to_string_lossy().ends_with("-shm") => false,
            Call::Make(path) => {
                if self.find(path).is_some() || self.leads_into(path).is_none() {
                    return false;
                }
                self.files.push(File::default());
                let thing = Thing::File(self.files.len() - 1);
                self.name(path, thing)
            }
            Call::MakeFolder(path) => {
                if self.leads_into(path).is_none() {
                    return false;
                }
                self.folders.push(Folder::default());
                let thing = Thing::Folder(self.folders.len() - 1);
                self.name(path, thing)
            }
            Call::Write(path, place, bytes) => {
                let Some(file) = self.file(path) else {
                    return false;
                };
                let at = match place {
                    Place::At(at) => *at,
                    Place::Next => file.next,
                };
                if *place == Place::Next {
                    file.next += bytes.len();
                }
                file.change(Change::Write(at, bytes.clone()))
            }
            Call::Copy(from, to, bytes) => {
                let from = self.file(from).map(|file| file.now.clone());
                let Some(file) = self.file(to) else {
                    return false;
                };
                let from = from.expect("only what lies below the root is copied there");
                let at = file.next;
                file.next += bytes;
                *bytes > 0 && file.change(Change::Write(at, from[at..at + bytes].to_vec()))
            }
            Call::Cut(path, length) => match self.file(path) {
                Some(file) => {
                    file.next = file.next.min(*length);
                    file.now.len() != *length && file.change(Change::Cut(*length))
                }
                None => false,
            },
            Call::Carry(path) => match self.find(path) {
                Some(Thing::File(at)) => {
                    let file = &mut self.files[at];
                    let pending = std::mem::take(&mut file.pending);
                    for change in &pending {
                        apply(&mut file.carried, change);
                    }
                    !pending.is_empty()
                }
                Some(Thing::Folder(at)) => {
                    let pending = std::mem::take(&mut self.folders[at].pending);
                    for naming in &pending {
                        carry(&mut self.folders[at].carried, naming);
                    }
                    !pending.is_empty()
                }
                None => false,
            },
            Call::Rename(from, to) => {
                let (Some(thing), Some((source, old))) = (self.find(from), self.leads_into(from))
                else {
                    return false;
                };
                let Some((target, new)) = self.leads_into(to) else {
                    panic!("{} is moved out of what is looked at", from.display());
                };
                // The new name comes first, so that none is lost in between.
                self.name(to, thing);
                let folder = &mut self.folders[source];
                folder.now.remove(&old);
                folder.pending.push(if source == target {
                    Naming::Unname(old)
                } else {
                    Naming::Left(old, target, new)
                });
                true
            }
            Call::Link(from, to) => match self.find(from) {
                Some(thing) => self.name(to, thing),
                None => false,
            },
            Call::Unlink(path) => {
                let (Some(_), Some((at, name))) = (self.find(path), self.leads_into(path)) else {
                    return false;
                };
                let folder = &mut self.folders[at];
                folder.now.remove(&name);
                folder.pending.push(Naming::Unname(name));
                true
            }
            Call::Say(_) => false,
        }
    }

    /// Whether anything is on its way.
    pub(crate) fn waiting(&self) -> bool {
        self.folders.iter().any(|folder| !folder.pending.is_empty())
            || self.files.iter().any(|file| !file.pending.is_empty())
    }

    /// Writes the disk as it may look if power fails now, to another folder.
    pub(crate) fn fail(&self, to: &Path, luck: Luck, chance: &mut Pcg64Mcg) {
        let kept = |pending: usize, chance: &mut Pcg64Mcg| match luck {
            Luck::None => 0,
            Luck::Some => chance.random_range(0..=pending),
            Luck::All => pending,
        };
        let kept: Vec<&[Naming]> = (self.folders.iter())
            .map(|folder| &folder.pending[..kept(folder.pending.len(), chance)])
            .collect();
        let mut names: Vec<_> = (self.folders.iter())
            .map(|folder| folder.carried.clone())
            .collect();
        let there = |target: usize, name: &OsString, thing: Thing| {
            self.folders[target].carried.get(name) == Some(&thing)
                || (kept[target].iter())
                    .any(|naming| matches!(naming, Naming::Name(n, t) if n == name && *t == thing))
        };
        for (names, kept) in names.iter_mut().zip(&kept) {
            for naming in *kept {
                match naming {
                    Naming::Left(old, target, new)
                        if names.get(old).is_some_and(|it| !there(*target, new, *it)) => {}
                    naming => carry(names, naming),
                }
            }
        }
        let files: Vec<Vec<u8>> = (self.files.iter())
            .map(|file| {
                let mut bytes = file.carried.clone();
                for change in &file.pending {
                    match luck {
                        Luck::None => {}
                        Luck::Some => apply_in_part(&mut bytes, change, chance),
                        Luck::All => apply(&mut bytes, change),
                    }
                }
                bytes
            })
            .collect();
        let mut laid = BTreeMap::new();
        let mut left = vec![(0, to.to_owned())];
        while let Some((at, folder)) = left.pop() {
            fs::create_dir_all(&folder).unwrap();
            for (name, thing) in &names[at] {
                let place = folder.join(name);
                match (*thing, laid.insert(*thing, place.clone())) {
                    (Thing::File(at), None) => fs::write(place, &files[at]).unwrap(),
                    (Thing::File(_), Some(other)) => fs::hard_link(other, place).unwrap(),
                    (Thing::Folder(at), None) => left.push((at, place)),
                    // No folder is in two places.
                    (Thing::Folder(_), Some(_)) => {}
                }
            }
        }
    }
}

impl File {
    fn change(&mut self, change: Change) -> bool {
        apply(&mut self.now, &change);
        self.pending.push(change);
        true
    }
}

fn carry(names: &mut BTreeMap<OsString, Thing>, naming: &Naming) {
    match naming {
        Naming::Name(name, thing) => drop(names.insert(name.clone(), *thing)),
        Naming::Unname(name) | Naming::Left(name, ..) => drop(names.remove(name)),
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
    trace.lines().flat_map(call).collect()
}

/// What one line says; nothing where the call failed, did not come back before the end, or changes nothing.
fn call(line: &str) -> Vec<Call> {
    assert!(
        !line.contains("<unfinished ...>"),
        "calls of two at once: {line}"
    );
    let called = || {
        let (_, line) = line.split_once(' ')?;
        let (name, rest) = line.trim_start().split_once('(')?;
        let (told, result) = rest.rsplit_once(") = ")?;
        (!result.starts_with('-')).then_some((name, told, result))
    };
    let Some((name, told, result)) = called() else {
        return Vec::new();
    };
    let texts: Vec<Vec<u8>> = told.split('"').skip(1).step_by(2).map(bytes).collect();
    // What is in angle brackets says what a number of an open file stands for; a file without a name is nobody's.
    let open: Vec<Option<PathBuf>> = (told.split('<').skip(1))
        .map(|rest| {
            let (path, further) = rest.split_once('>').unwrap();
            (!further.starts_with("(deleted)")).then(|| path_of(bytes(path)))
        })
        .collect();
    // Below the folder that is named before it, where it does not say all by itself.
    let path = |at: usize| match (path_of(texts[at].clone()), open.first()) {
        (path, Some(Some(folder))) if path.is_relative() => folder.join(path),
        (path, _) => path,
    };
    let number = |from_end: usize| -> usize {
        let word = told.rsplit(", ").nth(from_end).unwrap();
        word.trim().parse().unwrap()
    };
    let of = |at: usize, call: &dyn Fn(PathBuf) -> Call| {
        let path = open.get(at).cloned().flatten();
        path.map(call).into_iter().collect()
    };
    match name {
        "open" | "openat" | "creat" if told.contains("O_CREAT") || name == "creat" => {
            let mut calls = vec![Call::Make(path(0))];
            if told.contains("O_TRUNC") || name == "creat" {
                calls.push(Call::Cut(path(0), 0));
            }
            calls
        }
        "open" | "openat" => Vec::new(),
        "mkdir" | "mkdirat" => vec![Call::MakeFolder(path(0))],
        "write" if told.starts_with("1<") => {
            vec![Call::Say(String::from_utf8_lossy(&texts[0]).into_owned())]
        }
        "write" => of(0, &|path| {
            Call::Write(path, Place::Next, written(&texts, result))
        }),
        "pwrite64" => of(0, &|path| {
            Call::Write(path, Place::At(number(0)), written(&texts, result))
        }),
        "copy_file_range" | "sendfile" => {
            let (from, to) = if name == "sendfile" { (1, 0) } else { (0, 1) };
            let bytes = result.trim().parse().unwrap();
            match (&open[from], &open[to]) {
                (Some(from), Some(to)) => vec![Call::Copy(from.clone(), to.clone(), bytes)],
                _ => Vec::new(),
            }
        }
        "ftruncate" => of(0, &|path| Call::Cut(path, number(0))),
        "fsync" | "fdatasync" => of(0, &Call::Carry),
        "rename" | "renameat" | "renameat2" => vec![Call::Rename(path(0), path(1))],
        "link" | "linkat" => vec![Call::Link(path(0), path(1))],
        "unlink" | "unlinkat" | "rmdir" => vec![Call::Unlink(path(0))],
        other => panic!("a call that is not known here: {other}: {line}"),
    }
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
