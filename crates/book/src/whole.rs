//! What a picture must be before it is unpacked: whole, and no larger than there is room for while that is done. Told by its
//! marks alone, in a few thousandths of a second: unpacking each picture of a book that is carried in would take minutes.

use crate::bounds::{MOST_HELD, MOST_UNPACKING};
use crate::fault::BookFault;

/// What a picture's marks say of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Marks {
    /// Whether it comes to its end.
    whole: bool,
    /// Bytes that unpacking it takes; 0 where that is told as it is opened.
    takes: u64,
}

/// That a picture is whole and can be unpacked, as far as its marks tell. What is none of the forms that are taken is not looked
/// into here.
///
/// # Errors
/// [`BookFault::PictureCutShort`] or [`BookFault::PictureTooMuch`].
pub(crate) fn whole(bytes: &[u8]) -> Result<(), BookFault> {
    let marks = jpeg(bytes).or_else(|| png(bytes)).or_else(|| webp(bytes));
    match marks {
        Some(Marks { whole: false, .. }) => Err(BookFault::PictureCutShort),
        Some(Marks { takes, .. }) => fits(takes, bytes.len()),
        None => Ok(()),
    }
}

/// That there is room to unpack so many bytes of a file that has so many itself.
pub(crate) fn fits(takes: u64, file: usize) -> Result<(), BookFault> {
    let held = takes.saturating_add(u64::try_from(file).unwrap_or(u64::MAX));
    if takes > MOST_UNPACKING || held > MOST_HELD {
        return Err(BookFault::PictureTooMuch);
    }
    Ok(())
}

/// Walks the markers of a JPEG (ITU-T T.81, annex B, from memory): each is FF and a code; most are followed by a length of two
/// bytes. Nothing where it is none, or where it says no size.
fn jpeg(bytes: &[u8]) -> Option<Marks> {
    /// Start and end of the picture; they have no length, nor have restarts and TEM.
    const SOI: u8 = 0xd8;
    const EOI: u8 = 0xd9;
    if bytes.get(..2)? != [0xff, SOI] {
        return None;
    }
    let mut takes = None;
    let mut at = 2;
    let mut whole = false;
    while let Some(found) = marker(bytes, at) {
        at = found + 2;
        let code = bytes[found + 1];
        match code {
            EOI => {
                whole = true;
                break;
            }
            0x01 | 0xd0..=0xd7 | SOI => continue,
            _ => {}
        }
        let Some(&[high, low]) = bytes.get(at..at + 2) else {
            break;
        };
        let long = usize::from(u16::from_be_bytes([high, low]));
        // SOF0 to SOF15, of which C4, C8 and CC are other things.
        if matches!(code, 0xc0..=0xcf) && !matches!(code, 0xc4 | 0xc8 | 0xcc) {
            let of = bytes.get(at + 2..at + 8)?;
            let side = |i: usize| u64::from(u16::from_be_bytes([of[i], of[i + 1]]));
            // A byte a colour of each point, and two more where all is held until its end.
            let progressive = matches!(code, 0xc2 | 0xc6 | 0xca | 0xce);
            let each = u64::from(of[5]) * if progressive { 3 } else { 1 };
            takes.get_or_insert((side(1) * side(3)).saturating_mul(each));
        }
        at += long;
    }
    takes.map(|takes| Marks { whole, takes })
}

/// The next marker from a place on: FF and a code that is neither nought, which is a plain FF among what was packed, nor another
/// FF.
fn marker(bytes: &[u8], from: usize) -> Option<usize> {
    let rest = bytes.get(from..)?;
    let is_marker = |two: &[u8]| two[0] == 0xff && !matches!(two[1], 0 | 0xff);
    Some(from + rest.windows(2).position(is_marker)?)
}

/// Walks the parts of a PNG (W3C, "Portable Network Graphics (PNG) Specification", 5.3): a length of four bytes, a name of four,
/// so many bytes, and a sum of four; the last is called IEND. What unpacking takes is told by its head as it is opened.
fn png(bytes: &[u8]) -> Option<Marks> {
    let mut rest = bytes.strip_prefix(b"\x89PNG\r\n\x1a\n")?;
    let mut whole = false;
    while let Some((head, after)) = rest.split_first_chunk::<8>() {
        let long = number(u32::from_be_bytes([head[0], head[1], head[2], head[3]]));
        let Some(next) = after.get(long.saturating_add(4)..) else {
            break;
        };
        if head[4..] == *b"IEND" {
            whole = true;
            break;
        }
        rest = next;
    }
    Some(Marks { whole, takes: 0 })
}

/// Walks the parts of a WebP (RFC 9649, section 2): a RIFF of so many bytes, and in it parts of a name, a length and so many
/// bytes, an even number; a moving picture's frames hold parts themselves after sixteen bytes.
fn webp(bytes: &[u8]) -> Option<Marks> {
    let (head, parts) = bytes.split_first_chunk::<12>()?;
    if !(head.starts_with(b"RIFF") && head.ends_with(b"WEBP")) {
        return None;
    }
    let said = number(u32::from_le_bytes([head[4], head[5], head[6], head[7]]));
    let mut room = Room::default();
    // The four bytes of its name are counted too. What stands behind its end is another's.
    let whole = match said.checked_sub(4).and_then(|long| parts.get(..long)) {
        Some(parts) => room.of(parts, false),
        None => {
            room.of(parts, false);
            false
        }
    };
    Some(Marks {
        whole,
        takes: room.takes,
    })
}

/// What unpacking a WebP takes: the first picture in it, its planes or points, what is laid over it, and what is made of it.
#[derive(Debug, Default)]
struct Room {
    takes: u64,
    /// Points of the whole, where that is said.
    canvas: u64,
    /// Whether a first frame was looked at: of a moving picture no other is unpacked.
    moves: bool,
}

impl Room {
    /// Adds what is in these parts; whether they are all there.
    fn of(&mut self, mut rest: &[u8], framed: bool) -> bool {
        while let Some((head, after)) = rest.split_first_chunk::<8>() {
            let long = number(u32::from_le_bytes([head[4], head[5], head[6], head[7]]));
            let body = &after[..long.min(after.len())];
            self.part(&head[..4], body, framed);
            if body.len() < long {
                return false;
            }
            rest = after.get(long + long % 2..).unwrap_or(&[]);
        }
        true
    }

    fn part(&mut self, name: &[u8], body: &[u8], framed: bool) {
        let three = |at: usize| {
            body.get(at..at + 3)
                .map_or(0, |b| u64::from(u32::from_le_bytes([b[0], b[1], b[2], 0])))
        };
        let (points, each) = match name {
            // The whole, of which four bytes a point are made.
            b"VP8X" => {
                self.canvas = (three(4) + 1) * (three(7) + 1);
                (self.canvas, 4)
            }
            // A frame is laid on the whole: that is held twice, and the frame too.
            b"ANMF" if !framed && !self.moves => {
                self.moves = true;
                self.of(body.get(16..).unwrap_or(&[]), true);
                ((three(6) + 1) * (three(9) + 1) + self.canvas, 4)
            }
            // What is clear is packed as a picture of its own.
            b"ALPH" => (self.canvas, 5),
            // Planes of one and a half bytes a point, and three bytes made of them; held to six, so that the largest takes no
            // more than two seconds of a processor (measured: 2.1 at five).
            b"VP8 " => {
                let side = |at| three(at) & 0x3fff;
                (side(6) * side(8), 6)
            }
            // Four bytes a point, and four made of them.
            b"VP8L" => {
                let sides = three(1) | (three(2) >> 16 << 24);
                let side = |bits: u64| (bits & 0x3fff) + 1;
                (side(sides) * side(sides >> 14), 8)
            }
            _ => return,
        };
        self.takes = self.takes.saturating_add(points.saturating_mul(each));
    }
}

fn number(long: u32) -> usize {
    usize::try_from(long).unwrap_or(usize::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A JPEG's skeleton: of so many points a side, progressive or not, with something packed in it.
    fn skeleton(side: u16, progressive: bool) -> Vec<u8> {
        let mut bytes = vec![0xff, 0xd8];
        // A thumbnail in a comment has marks of its own, which are passed over with it.
        bytes.extend([0xff, 0xe1, 0, 6, 0xff, 0xd9, 0xff, 0xd9]);
        bytes.extend([0xff, if progressive { 0xc2 } else { 0xc0 }, 0, 17, 8]);
        bytes.extend(side.to_be_bytes());
        bytes.extend(side.to_be_bytes());
        bytes.extend([3, 1, 0x22, 0, 2, 0x11, 1, 3, 0x11, 1]);
        bytes.extend([0xff, 0xda, 0, 8, 1, 1, 0, 0, 63, 0]);
        bytes.extend([7, 0xff, 0, 8, 0xff, 0xd0, 9, 0xff, 0xd9]);
        bytes
    }

    /// A part of a WebP.
    fn part(name: &[u8; 4], body: &[u8]) -> Vec<u8> {
        let long = u32::try_from(body.len()).expect("short").to_le_bytes();
        let even = &[0][..body.len() % 2];
        [&name[..], &long, body, even].concat()
    }

    /// A WebP's skeleton.
    fn riff(parts: &[Vec<u8>]) -> Vec<u8> {
        part(b"RIFF", &[&b"WEBP"[..], &parts.concat()].concat())
    }

    /// The head of the planes of a picture of so many points a side, and something packed.
    fn planes(side: u16) -> Vec<u8> {
        let [low, high] = side.to_le_bytes();
        let head = [0x10, 0, 0, 0x9d, 0x01, 0x2a, low, high, low, high, 5];
        part(b"VP8 ", &head)
    }

    /// The same of one that is kept point by point.
    fn points(side: u32) -> Vec<u8> {
        let sides = ((side - 1) | (side - 1) << 14).to_le_bytes();
        part(b"VP8L", &[&[0x2f][..], &sides, &[5]].concat())
    }

    /// The head of a larger whole.
    fn canvas(side: u32) -> Vec<u8> {
        let [a, b, c, _] = (side - 1).to_le_bytes();
        part(b"VP8X", &[0, 0, 0, 0, a, b, c, a, b, c])
    }

    #[test]
    fn a_picture_that_is_cut_short_is_told_and_one_that_is_whole_is_not() {
        let png = b"\x89PNG\r\n\x1a\n\0\0\0\x02IDAT\x78\x9csum.\0\0\0\0IENDsum.".to_vec();
        for (whole, from) in [
            (skeleton(100, false), 40),
            (png, 8),
            (riff(&[planes(100)]), 12),
            (riff(&[points(100)]), 12),
            (riff(&[canvas(100), points(100)]), 12),
        ] {
            assert_eq!(super::whole(&whole), Ok(()));
            let trailing = [&whole[..], b"what a camera adds"].concat();
            assert_eq!(super::whole(&trailing), Ok(()));
            for kept in from..whole.len() {
                let cut = super::whole(&whole[..kept]);
                assert_eq!(
                    cut,
                    Err(BookFault::PictureCutShort),
                    "{kept} of {}",
                    whole.len()
                );
            }
        }
        assert_eq!(super::whole(b"GIF89a"), Ok(()));
    }

    #[test]
    fn a_picture_is_held_to_what_unpacking_it_takes() {
        // Forty-nine million points fit point by point, and not where all of it is held until its end.
        let moving = |side: u32| {
            let frame = [vec![0; 16], points(side)].concat();
            riff(&[canvas(side), part(b"ANIM", &[0; 6]), part(b"ANMF", &frame)])
        };
        for (fits, too_much) in [
            (skeleton(4000, true), skeleton(7000, true)),
            (skeleton(7000, false), skeleton(16_000, false)),
            (riff(&[planes(5000)]), riff(&[planes(6000)])),
            (riff(&[points(4000)]), riff(&[points(5000)])),
            // A small whole with a large picture in it, and the other way round.
            (
                riff(&[canvas(10), points(4000)]),
                riff(&[canvas(10), points(5000)]),
            ),
            (
                riff(&[canvas(6000), points(10)]),
                riff(&[canvas(7000), points(10)]),
            ),
            (moving(3000), moving(4000)),
        ] {
            assert_eq!(whole(&fits), Ok(()));
            assert_eq!(whole(&too_much), Err(BookFault::PictureTooMuch));
        }
    }
}
