//! What a picture that was sent must be before it is unpacked: whole, and no larger than there is room for while that is done.

use report::{Words, say};

/// Bytes that unpacking one picture may take: a progressive JPEG holds two bytes of every colour of every point until it is whole,
/// beside the point itself.
pub const MOST_UNPACKING: u64 = 150_000_000;

/// What a JPEG's marks say of it.
struct Jpeg {
    points: u64,
    progressive: bool,
    colours: u64,
    /// Whether it comes to its end.
    whole: bool,
}

/// That a picture can be kept, as far as its marks tell; else why not, in words. What is no JPEG is not looked into here.
///
/// # Errors
/// It is cut short, or takes more room than there is.
pub fn whole_picture(bytes: &[u8], words: &Words) -> Result<(), String> {
    let Some(jpeg) = Jpeg::of(bytes) else {
        return Ok(());
    };
    if !jpeg.whole {
        return Err(say!(words, "picture-cut-short"));
    }
    // A byte a colour of each point, and two more where all is held until its end.
    let each = jpeg.colours * if jpeg.progressive { 3 } else { 1 };
    if jpeg.points.saturating_mul(each) > MOST_UNPACKING {
        return Err(say!(words, "picture-too-much"));
    }
    Ok(())
}

impl Jpeg {
    /// Walks the markers of a JPEG (ITU-T T.81, annex B, from memory): each is FF and a code; most are followed by a length of two
    /// bytes. Nothing where it is none, or where it says no size.
    fn of(bytes: &[u8]) -> Option<Jpeg> {
        /// Start and end of the picture; they have no length, nor have restarts and TEM.
        const SOI: u8 = 0xd8;
        const EOI: u8 = 0xd9;
        if bytes.get(..2)? != [0xff, SOI] {
            return None;
        }
        let mut frame = None;
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
                let progressive = matches!(code, 0xc2 | 0xc6 | 0xca | 0xce);
                frame.get_or_insert((side(1) * side(3), progressive, u64::from(of[5])));
            }
            at += long;
        }
        let (points, progressive, colours) = frame?;
        Some(Jpeg {
            points,
            progressive,
            colours,
            whole,
        })
    }
}

/// The next marker from a place on: FF and a code that is neither nought, which is a plain FF among what was packed, nor another FF.
fn marker(bytes: &[u8], from: usize) -> Option<usize> {
    let rest = bytes.get(from..)?;
    let is_marker = |two: &[u8]| two[0] == 0xff && !matches!(two[1], 0 | 0xff);
    Some(from + rest.windows(2).position(is_marker)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A JPEG's skeleton: of so many points a side, progressive or not, with something packed in it.
    fn jpeg(side: u16, progressive: bool) -> Vec<u8> {
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

    #[test]
    fn a_picture_that_is_cut_short_is_told_and_one_that_is_whole_is_not() {
        let words = Words::default();
        let whole = jpeg(100, false);
        assert_eq!(whole_picture(&whole, &words), Ok(()));
        let trailing = [&whole[..], b"what a camera adds"].concat();
        assert_eq!(whole_picture(&trailing, &words), Ok(()));
        for kept in 40..whole.len() {
            let why = whole_picture(&whole[..kept], &words).expect_err("cut short");
            assert!(why.contains("cut short"), "{kept}: {why}");
        }
        assert_eq!(whole_picture(b"\x89PNG\r\n", &words), Ok(()));
    }

    #[test]
    fn a_progressive_picture_is_held_to_what_unpacking_it_takes() {
        let words = Words::default();
        // Forty-nine million points fit point by point, and not where all of it is held until its end.
        assert_eq!(whole_picture(&jpeg(7000, false), &words), Ok(()));
        assert!(whole_picture(&jpeg(7000, true), &words).is_err());
        assert_eq!(whole_picture(&jpeg(4000, true), &words), Ok(()));
    }
}
