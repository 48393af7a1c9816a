//! The file of changes beside a book, read without the store: which marks the changes in it carry.
//!
//! Source of its form: SQLite, "Database File Format", sections 1.6, 2.1 and 4.1 to 4.3.

use std::collections::BTreeSet;
use std::fs::File;
use std::io::{BufReader, ErrorKind, Read};
use std::path::Path;

/// What is told by the changes that were committed.
#[derive(Debug, Default, PartialEq, Eq)]
pub(crate) struct Ahead {
    /// Bytes of a page.
    pub(crate) page_bytes: u32,
    /// Whether any change was committed.
    pub(crate) any: bool,
    /// The marks that the file may have that these changes are written beside: the one that it had when they were begun, and
    /// that of each of them, since any of them may have been carried into it.
    pub(crate) marks: BTreeSet<String>,
}

const HEAD_BYTES: usize = 32;
const FRAME_HEAD_BYTES: usize = 24;
const MAGIC: u32 = 0x377f_0682;
const FORM: u32 = 3_007_000;

/// Reads a file of changes. What breaks off, or does not fit what is before it, is not read by the store either. The mark stands on
/// a page of its own, on another after the book was written anew.
pub(crate) fn read(path: &Path) -> std::io::Result<Ahead> {
    let mut file = BufReader::new(File::open(path)?);
    let mut head = [0; HEAD_BYTES];
    if !filled(&mut file, &mut head)? {
        return Ok(Ahead::default());
    }
    let big = word(&head, 0) & 1 == 1;
    let page_bytes = word(&head, 2);
    let sum = summed(big, [0, 0], &head[..24]);
    let fits = word(&head, 0) & !1 == MAGIC
        && word(&head, 1) == FORM
        && sum == [word(&head, 6), word(&head, 7)]
        && page_bytes.is_power_of_two()
        && (512..=65536).contains(&page_bytes);
    if !fits {
        return Ok(Ahead::default());
    }
    let salt = [word(&head, 4), word(&head, 5)];
    let mut ahead = Ahead {
        page_bytes,
        ..Ahead::default()
    };
    let mut frame = vec![0; FRAME_HEAD_BYTES + page_bytes as usize];
    let (mut sum, mut waiting) = (sum, Vec::new());
    while filled(&mut file, &mut frame)? {
        let (head, bytes) = frame.split_at(FRAME_HEAD_BYTES);
        sum = summed(big, summed(big, sum, &head[..8]), bytes);
        if [word(head, 2), word(head, 3)] != salt || sum != [word(head, 4), word(head, 5)] {
            break;
        }
        waiting.extend(row(bytes).into_iter().flatten());
        if word(head, 1) > 0 {
            ahead.any = true;
            ahead.marks.extend(waiting.drain(..));
        }
    }
    Ok(ahead)
}

/// Fills all of it, or gives that there is less left.
fn filled(file: &mut impl Read, bytes: &mut [u8]) -> std::io::Result<bool> {
    match file.read_exact(bytes) {
        Err(error) if error.kind() == ErrorKind::UnexpectedEof => Ok(false),
        done => done.map(|()| true),
    }
}

fn word(bytes: &[u8], at: usize) -> u32 {
    let four = bytes.get(4 * at..).and_then(|rest| rest.first_chunk());
    u32::from_be_bytes(*four.unwrap_or(&[0; 4]))
}

/// The running sum over some bytes more.
fn summed(big: bool, [mut one, mut two]: [u32; 2], bytes: &[u8]) -> [u32; 2] {
    let number = |bytes: &[u8]| match (bytes.first_chunk(), big) {
        (Some(four), true) => u32::from_be_bytes(*four),
        (Some(four), false) => u32::from_le_bytes(*four),
        (None, _) => 0,
    };
    for pair in bytes.chunks_exact(8) {
        one = one.wrapping_add(number(&pair[..4])).wrapping_add(two);
        two = two.wrapping_add(number(&pair[4..])).wrapping_add(one);
    }
    [one, two]
}

/// The mark before and the mark, from the page of a table that holds this one short row and no other.
fn row(page: &[u8]) -> Option<[String; 2]> {
    const LEAF: u8 = 13;
    let cells = [*page.get(3)?, *page.get(4)?];
    if page[0] != LEAF || cells != [0, 1] {
        return None;
    }
    let at = usize::from(u16::from_be_bytes([*page.get(8)?, *page.get(9)?]));
    let [bytes, _, head, nothing, before, mark] = *page.get(at..)?.first_chunk()?;
    if bytes > 127 || head != 4 || nothing != 0 {
        return None;
    }
    // A text of so many bytes has twice as many and 13 for its kind.
    let long = |kind: u8| match kind {
        13..=127 if kind % 2 == 1 => Some(usize::from(kind - 13) / 2),
        _ => None,
    };
    let texts = page.get(at + 6..)?;
    let (before, mark) = (long(before)?, long(mark)?);
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).ok();
    let before = text(texts.get(..before)?)?;
    let mark = text(texts.get(before.len()..before.len() + mark)?)?;
    (is_mark(&mark) && (before.is_empty() || is_mark(&before))).then_some([before, mark])
}

/// Whether a text is a mark: sixteen bytes of chance in figures.
pub(crate) fn is_mark(text: &str) -> bool {
    text.len() == 32 && text.bytes().all(|byte| byte.is_ascii_hexdigit())
}
