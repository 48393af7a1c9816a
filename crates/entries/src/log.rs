//! The log as a whole: reading it, adding to it, and which of its entries count.

use crate::line::Line;
use crate::{
    Day, Entry, EntryKind, Kept, LogFault, LogFaultKind, LogPlace, LogWarning, MOST_BYTES, Stage,
    Work, parse,
};
use serde::Serialize;

/// The version of the log's form that is read and written here.
const VERSION: u64 = 1;

/// Some editors put it before the text; it says nothing.
const BYTE_ORDER_MARK: &[u8] = "\u{feff}".as_bytes();

/// Which sheet a log belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogHeader {
    /// The sheet's name.
    pub sheet: String,
    /// A digest of the sheet in hexadecimal figures, made and understood by whoever holds the sheet.
    pub hash: String,
}

/// A sheet that was put in after a log began.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LoggedSheet<'l> {
    /// The number of its entry.
    pub n: usize,
    /// Its text.
    pub text: &'l str,
    /// The digest of what is counted on it.
    pub hash: &'l str,
}

/// What was seen and done to one movement, in order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Log {
    header: LogHeader,
    entries: Vec<Entry>,
    text: String,
    /// After which entry what was seen and done still holds, where that is earlier than the last sheet.
    holds_from: Option<usize>,
}

impl Log {
    /// A log with nothing in it yet. Its [`text`](Log::text) is the first line to write.
    pub fn start(header: LogHeader) -> Log {
        #[derive(Serialize)]
        struct First<'a> {
            trundle_log: u64,
            sheet: &'a str,
            hash: &'a str,
        }
        let mut text = one_line(&First {
            trundle_log: VERSION,
            sheet: &header.sheet,
            hash: &header.hash,
        });
        text.push('\n');
        Log {
            header,
            entries: Vec::new(),
            text,
            holds_from: None,
        }
    }

    /// Reads a log. A byte-order mark before it and a carriage return before a line's end are taken as they come. A
    /// last line without an end is kept if it is JSON; if not it was torn in the writing, and is left out with a
    /// warning.
    ///
    /// # Errors
    /// The first thing that is wrong, and where.
    pub fn read(bytes: &[u8]) -> Result<(Log, Vec<LogWarning>), LogFault> {
        if bytes.len() > MOST_BYTES {
            return Err(too_long(bytes.len()));
        }
        let mut lines = bytes.split_inclusive(|&byte| byte == b'\n').zip(1..);
        let first = lines.next().map_or(&b""[..], |(first, _)| first);
        let mut log = Log {
            header: read_header(first)?,
            entries: Vec::new(),
            text: String::new(),
            holds_from: None,
        };
        let mut kept = first.len();
        let mut warnings = Vec::new();
        for (bytes, number) in lines {
            let line = match Line::new(bytes, number) {
                Err(_) if !bytes.ends_with(b"\n") => {
                    warnings.push(LogWarning::TornLine {
                        line: number,
                        kept,
                        torn: bytes.len(),
                    });
                    break;
                }
                line => line?,
            };
            log.entries.push(parse::entry(line, &log.entries)?);
            kept += bytes.len();
        }
        // Each line that was kept has been read as UTF-8, so nothing is replaced here.
        log.text = String::from_utf8_lossy(&bytes[..kept]).into_owned();
        Ok((log, warnings))
    }

    /// Which sheet it belongs to.
    pub fn header(&self) -> &LogHeader {
        &self.header
    }

    /// Whether it belongs to the sheet with this digest: the one last put in, or else the one it began with.
    pub fn matches(&self, hash: &str) -> bool {
        let known = self.sheet().map(|sheet| sheet.hash);
        known.unwrap_or(&self.header.hash) == hash
    }

    /// Every entry, whether it counts or not; the one numbered n is at n − 1.
    pub fn entries(&self) -> &[Entry] {
        &self.entries
    }

    /// The whole text: what was read, byte for byte but for a torn last line, and what was appended.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// Adds an entry, and gives the text to write at the end of the file: one line with its end. Where the last line
    /// in the file has no end, the text begins with it.
    ///
    /// # Errors
    /// Whatever [`read`](Log::read) would say of that line; the log is then as it was. So what was appended always
    /// reads back.
    pub fn append(&mut self, kind: &EntryKind, at: Option<&str>) -> Result<String, LogFault> {
        #[derive(Serialize)]
        struct Further<'a> {
            n: usize,
            #[serde(skip_serializing_if = "Option::is_none")]
            at: Option<&'a str>,
            #[serde(flatten)]
            kind: &'a EntryKind,
        }
        let n = self.entries.len() + 1;
        let line = one_line(&Further { n, at, kind });
        // The header is line 1 and no line is blank, so the entry numbered n is on line n + 1.
        let entry = parse::entry(Line::new(line.as_bytes(), n + 1)?, &self.entries)?;
        let ended = self.text.ends_with('\n');
        let added = format!("{}{line}\n", if ended { "" } else { "\n" });
        let bytes = self.text.len() + added.len();
        if bytes > MOST_BYTES {
            return Err(too_long(bytes));
        }
        self.text.push_str(&added);
        if matches!(entry.work(), Some(Work::Sheet { .. })) {
            self.holds_from = None;
        }
        self.entries.push(entry);
        Ok(added)
    }

    /// The entries that count, in order: without the undos and without what they take back, just as if neither had
    /// ever been written. An `other_way` falls with its shift and comes back with it; said twice of one shift or
    /// mesh of it, it counts once. A correction counts in place of what it corrects, and falls with it; of several the last counts.
    /// Entries of unknown kinds are among them.
    pub fn standing(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        let counts = self.counts();
        self.entries.iter().filter(move |entry| counts[entry.n - 1])
    }

    /// Of the entries that count, those that rest on the sheet as it is known now: all that come after it was put in, or after what
    /// [`Log::holds_after`] said.
    pub fn of_this_sheet(&self) -> impl DoubleEndedIterator<Item = &Entry> {
        let last = self.sheet().map_or(0, |sheet| sheet.n);
        let from = self.holds_from.map_or(last, |from| from.min(last));
        self.standing().filter(move |entry| entry.n > from)
    }

    /// What was entered after this entry rests on the sheet as it is known now too: whoever holds the sheets finds that nothing is
    /// otherwise on them that it hangs on. Until the next sheet.
    pub fn holds_after(&mut self, entry: usize) {
        self.holds_from = Some(entry);
    }

    /// The sheets that count among the entries, in order.
    pub fn sheets(&self) -> impl DoubleEndedIterator<Item = LoggedSheet<'_>> {
        self.standing().filter_map(|entry| match entry.work() {
            Some(Work::Sheet { text, hash }) => Some(LoggedSheet {
                n: entry.n,
                text,
                hash,
            }),
            _ => None,
        })
    }

    /// The last sheet that counts among the entries. Nothing where the log still rests on the sheet that it began with.
    pub fn sheet(&self) -> Option<LoggedSheet<'_>> {
        self.sheets().next_back()
    }

    /// The entries that count in the order of what they tell: one that puts an earlier one right stands in its place.
    pub fn in_place(&self) -> Vec<&Entry> {
        let mut standing: Vec<&Entry> = self.standing().collect();
        standing.sort_by_key(|entry| self.place(entry));
        standing
    }

    /// The number of the entry in whose place an entry counts: its own, or of what it puts right.
    fn place(&self, entry: &Entry) -> usize {
        match entry.known_kind() {
            // A correction points only back.
            Some(EntryKind::Work(Work::Correction { of, .. })) => self.place(&self.entries[of - 1]),
            _ => entry.n,
        }
    }

    /// The last that an entry says of something, in the order of what they tell.
    fn last<'a, T>(&'a self, says: impl Fn(&'a Work) -> Option<T>) -> Option<T> {
        let mut works = self.in_place().into_iter().rev().filter_map(Entry::work);
        works.find_map(says)
    }

    /// The stage the job is at: the one last said that counts.
    pub fn stage(&self) -> Stage {
        let said = self.last(|work| match work {
            Work::Stage { to } => Some(*to),
            _ => None,
        });
        said.unwrap_or(Stage::In)
    }

    /// Whether the clock went home, and did not come in again since.
    pub fn handed_back(&self) -> bool {
        let last = self.last(|work| match work {
            Work::HandedBack { .. } => Some(true),
            Work::Intake { .. } | Work::Stage { .. } => Some(false),
            _ => None,
        });
        last.unwrap_or(false)
    }

    /// What the clock is called since it last came in, if that was said and not removed.
    pub fn clock(&self) -> Option<&str> {
        let said = self.last(|work| match work {
            Work::Intake { clock, .. } => Some(clock),
            _ => None,
        });
        said.and_then(Kept::here).map(String::as_str)
    }

    /// The log as it stood when it had `n` entries. What was emptied since is empty there too.
    pub fn as_it_stood(&self, n: usize) -> Log {
        let n = n.min(self.entries.len());
        let lines = self.text.split_inclusive('\n').take(n + 1);
        Log {
            header: self.header.clone(),
            entries: self.entries[..n].to_vec(),
            text: lines.collect(),
            holds_from: None,
        }
    }

    /// How many entries it had when this day was over. Order is by number: all entries before the first that was written
    /// on a later day are counted, so a clock that was set back in between moves nothing, and an entry without a day is
    /// of the day of the one before.
    pub fn entries_by(&self, day: Day) -> usize {
        let later = |entry: &Entry| entry.day().is_some_and(|written| written > day);
        let first = self.entries.iter().position(later);
        first.unwrap_or(self.entries.len())
    }

    /// Which entries count, in order.
    fn counts(&self) -> Vec<bool> {
        let mut counts = vec![true; self.entries.len()];
        // An undo reaches only back, so whether it counts itself is settled when it is met from the end.
        for entry in self.entries.iter().rev() {
            if let Some(EntryKind::Undo { of }) = entry.known_kind() {
                if counts[entry.n - 1] {
                    counts[of - 1] = false;
                }
                counts[entry.n - 1] = false;
            }
        }
        // Both of these fall with what they point at. That comes before them, so it is settled when they are met.
        let mut went_other_way: Vec<Vec<&Option<String>>> = vec![Vec::new(); self.entries.len()];
        let mut put_right = vec![None; self.entries.len()];
        let mut instead = vec![false; self.entries.len()];
        for entry in &self.entries {
            match entry.known_kind() {
                Some(EntryKind::OtherWay { of, mesh }) if counts[entry.n - 1] => {
                    let told = &mut went_other_way[of - 1];
                    let again = told.iter().any(|told| told.is_none() || *told == mesh);
                    counts[entry.n - 1] = counts[of - 1] && !again;
                    told.push(mesh);
                }
                Some(EntryKind::Work(Work::Correction { of, .. })) if counts[entry.n - 1] => {
                    counts[entry.n - 1] = counts[of - 1];
                    if counts[of - 1] {
                        instead[of - 1] = true;
                        let before: Option<usize> = put_right[of - 1].replace(entry.n);
                        if let Some(before) = before {
                            instead[before - 1] = true;
                        }
                    }
                }
                _ => {}
            }
        }
        let standing = counts.iter().zip(&instead);
        standing
            .map(|(counts, instead)| *counts && !instead)
            .collect()
    }
}

/// What is plain data with text for keys always goes into one line of JSON.
fn one_line(data: &impl Serialize) -> String {
    serde_json::to_string(data).expect("text and whole numbers under text keys")
}

fn too_long(bytes: usize) -> LogFault {
    let place = LogPlace::Text;
    let what = LogFaultKind::TooLong { bytes };
    LogFault { place, what }
}

fn read_header(bytes: &[u8]) -> Result<LogHeader, LogFault> {
    let text = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    let in_line = |what| LogFault {
        place: LogPlace::Line { line: 1 },
        what,
    };
    if text.trim_ascii().is_empty() {
        let place = LogPlace::Text;
        let what = LogFaultKind::Empty;
        return Err(LogFault { place, what });
    }
    let begins = text.trim_ascii_start().starts_with(b"{");
    let line = match Line::new(text, 1) {
        Err(_) if begins && !text.ends_with(b"\n") => {
            return Err(in_line(LogFaultKind::HeaderTorn));
        }
        Err(fault) if !begins && fault.what == LogFaultKind::NotJson => {
            return Err(in_line(LogFaultKind::NoHeader));
        }
        line => line?,
    };
    if !begins {
        return Err(in_line(LogFaultKind::NoHeader));
    }
    let mut object = line.object()?;
    let Some(version) = object.take("trundle_log") else {
        return Err(in_line(LogFaultKind::NoHeader));
    };
    let got = version.count()?;
    if got != VERSION {
        return Err(version.fault(LogFaultKind::OtherVersion { got }));
    }
    let header = LogHeader {
        sheet: object.need("sheet")?.text()?,
        hash: object.need("hash")?.text()?,
    };
    object.finish()?;
    Ok(header)
}
