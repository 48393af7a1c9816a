//! Pictures: kept as they are to be seen, with nothing else of their files; what is none is refused.

mod made_up;

use book::{Book, BookFault, MOST_PICTURE_BYTES, PictureFormat, Size};
use image::{DynamicImage, GenericImageView, ImageFormat};
use made_up::{begun, drawn, enter, file, shows};
use std::path::PathBuf;

fn book() -> (tempfile::TempDir, PathBuf, Book) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("bench.book");
    let book = Book::open(&path).unwrap();
    (folder, path, book)
}

/// A JPEG file with what a telephone adds to it: how it was held, where, and by whom. Source of the form: CIPA DC-008
/// (Exif 2.32), sections 4.6.2 and 4.6.6; tags from memory.
fn as_taken(picture: &DynamicImage, held: u8) -> Vec<u8> {
    let plain = file(picture, ImageFormat::Jpeg);
    let mut exif = b"Exif\0\0II*\0\x08\0\0\0".to_vec();
    // Three fields: the way it was held, the artist, and where the fields about the place begin.
    exif.extend(3_u16.to_le_bytes());
    let mut field = |tag: u16, kind: u16, count: u32, value: u32| {
        exif.extend(tag.to_le_bytes());
        exif.extend(kind.to_le_bytes());
        exif.extend(count.to_le_bytes());
        exif.extend(value.to_le_bytes());
    };
    field(0x0112, 3, 1, held.into());
    field(0x013b, 2, 9, 50);
    field(0x8825, 4, 1, 59);
    exif.extend(0_u32.to_le_bytes());
    exif.extend(b"Ada Tern\0");
    // One field about the place: north.
    exif.extend(1_u16.to_le_bytes());
    exif.extend(1_u16.to_le_bytes());
    exif.extend(2_u16.to_le_bytes());
    exif.extend(2_u32.to_le_bytes());
    exif.extend(b"N\0\0\0");
    exif.extend(0_u32.to_le_bytes());
    let mut whole = plain[..2].to_vec();
    whole.extend([0xff, 0xe1]);
    whole.extend(u16::try_from(exif.len() + 2).unwrap().to_be_bytes());
    whole.extend(exif);
    whole.extend(&plain[2..]);
    whole
}

fn has(bytes: &[u8], what: &[u8]) -> bool {
    bytes.windows(what.len()).any(|part| part == what)
}

#[test]
fn it_is_turned_as_it_was_held_and_says_nothing_of_where() {
    let (_folder, _, book) = book();
    let picture = drawn(60, 40);
    // Held level, turned a half, a quarter one way and the other: where the dark corner comes to lie.
    for (held, size, dark) in [
        (1, (60, 40), (0, 0)),
        (3, (60, 40), (59, 39)),
        (6, (40, 60), (39, 0)),
        (8, (40, 60), (0, 59)),
    ] {
        let taken = as_taken(&picture, held);
        assert!(has(&taken, b"Exif") && has(&taken, b"Ada Tern"));
        let kept = book.keep_picture(&taken).unwrap();
        assert_eq!(
            (kept.form, kept.width, kept.height),
            (PictureFormat::Jpeg, size.0, size.1)
        );
        for size in [Size::Whole, Size::Preview] {
            let (form, bytes) = book.picture_bytes(&kept.digest, size).unwrap();
            assert_eq!(form, PictureFormat::Jpeg);
            for gone in [&b"Exif"[..], b"Ada", b"II*"] {
                assert!(!has(&bytes, gone), "{gone:?}");
            }
            let seen = image::load_from_memory(&bytes).unwrap();
            let [r, g, _, _] = seen.get_pixel(dark.0, dark.1).0;
            assert!(r < 40 && g < 40, "{held}: {r} {g}");
        }
        assert_eq!(book.picture(&kept.digest), Ok(kept));
    }
}

#[test]
fn each_kind_is_kept_in_its_form_and_no_larger_than_is_of_use() {
    let (_folder, path, book) = book();
    let small = drawn(30, 20);
    for (format, form) in [
        (ImageFormat::Jpeg, PictureFormat::Jpeg),
        (ImageFormat::Png, PictureFormat::Png),
        (ImageFormat::WebP, PictureFormat::Jpeg),
    ] {
        let kept = book.keep_picture(file(&small, format)).unwrap();
        assert_eq!((kept.form, kept.width, kept.height), (form, 30, 20));
        let (_, bytes) = book.picture_bytes(&kept.digest, Size::Whole).unwrap();
        assert_eq!(bytes.len(), kept.bytes);
        let again = image::guess_format(&bytes).unwrap();
        assert_eq!(again == ImageFormat::Png, form == PictureFormat::Png);
    }
    // What was drawn is kept point by point, and glass stays glass.
    let drawn = DynamicImage::ImageRgba8(small.to_rgba8());
    let kept = book.keep_picture(file(&drawn, ImageFormat::Png)).unwrap();
    let (_, bytes) = book.picture_bytes(&kept.digest, Size::Whole).unwrap();
    assert_eq!(image::load_from_memory(&bytes).unwrap(), drawn);

    let large = made_up::drawn(4000, 1000);
    let kept = book.keep_picture(file(&large, ImageFormat::Jpeg)).unwrap();
    assert_eq!((kept.width, kept.height), (3200, 800));
    let preview = |book: &Book| book.picture_bytes(&kept.digest, Size::Preview).unwrap().1;
    let seen = image::load_from_memory(&preview(&book)).unwrap();
    assert_eq!((seen.width(), seen.height()), (400, 100));
    // It is made again where it is gone.
    let folder = path.with_file_name("bench.book.pictures");
    let text = kept.digest.text();
    let place = folder.join(&text[..2]).join(format!("{text}.preview.jpg"));
    std::fs::remove_file(&place).unwrap();
    let seen = image::load_from_memory(&preview(&book)).unwrap();
    assert_eq!((seen.width(), seen.height()), (400, 100));
    assert!(place.is_file());
}

#[test]
fn the_same_picture_is_one() {
    let (_folder, _, book) = book();
    let bytes = file(&drawn(30, 20), ImageFormat::Jpeg);
    let one = book.keep_picture(&bytes).unwrap();
    assert_eq!(book.keep_picture(&bytes), Ok(one.clone()));
    // Held another way it is another.
    let other = book.keep_picture(as_taken(&drawn(30, 20), 3)).unwrap();
    assert_ne!(other.digest, one.digest);
}

#[test]
fn what_is_no_picture_is_refused_and_leaves_nothing() {
    let (_folder, path, book) = book();
    let png = file(&drawn(30, 20), ImageFormat::Png);
    let script = b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>";
    let gif = b"GIF89a\x01\0\x01\0\0\0\0;";
    for none in [&b""[..], b"x", script, gif, b"%PDF-1.7"] {
        let fault = book.keep_picture(none).unwrap_err();
        assert!(matches!(fault, BookFault::NotAPicture { .. }), "{fault:?}");
    }
    // Few bytes that would become many: a hundred million points of one colour, and a head that only claims them.
    let flat = DynamicImage::new_luma8(10_000, 10_000);
    let bomb = file(&flat, ImageFormat::Png);
    assert!(bomb.len() < 1_000_000, "{}", bomb.len());
    // Nothing but the limit stands in its way.
    let mut unlimited = image::ImageReader::new(std::io::Cursor::new(&bomb));
    unlimited.set_format(ImageFormat::Png);
    unlimited.no_limits();
    assert_eq!(unlimited.decode().unwrap().width(), 10_000);
    let mut claims = png.clone();
    claims[16..24].copy_from_slice(&[0x7f, 0xff, 0xff, 0xff, 0x7f, 0xff, 0xff, 0xff]);
    let sum = checksum(&claims[12..29]);
    claims[29..33].copy_from_slice(&sum.to_be_bytes());
    for large in [bomb, claims, vec![0; MOST_PICTURE_BYTES + 1]] {
        assert_eq!(book.keep_picture(&large), Err(BookFault::PictureTooLarge));
    }
    assert!(!path.with_file_name("bench.book.pictures").exists());
}

/// What a memory card that was pulled out leaves, or a radio that broke off: each form, cut anywhere, by one byte too.
#[test]
fn what_is_cut_short_is_refused_and_leaves_nothing() {
    let (_folder, path, book) = book();
    let mut picture = drawn(30, 20);
    for format in [ImageFormat::Jpeg, ImageFormat::Png, ImageFormat::WebP] {
        let whole = file(&picture, format);
        for kept in 1..whole.len() {
            let fault = book.keep_picture(&whole[..kept]).unwrap_err();
            let named = kept >= whole.len() / 2;
            match fault {
                BookFault::PictureCutShort => {}
                BookFault::NotAPicture { .. } if !named => {}
                other => panic!("{format:?}, {kept} of {}: {other:?}", whole.len()),
            }
        }
        assert!(!path.with_file_name("bench.book.pictures").exists());
    }
    // Where something is clear a WebP is kept in another way.
    picture = DynamicImage::ImageRgba8(picture.to_rgba8());
    let whole = file(&picture, ImageFormat::WebP);
    let cut = book.keep_picture(&whole[..whole.len() - 1]);
    assert_eq!(cut, Err(BookFault::PictureCutShort));
    book.keep_picture(&whole).unwrap();
}

/// The sum at the end of each part of a PNG file. Source: W3C, "Portable Network Graphics (PNG) Specification", annex D.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| {
            (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg())
        })
    })
}

#[test]
fn an_entry_shows_only_what_is_kept() {
    let (_folder, _, book) = book();
    let kept = book
        .keep_picture(file(&drawn(30, 20), ImageFormat::Jpeg))
        .unwrap();
    let mut log = begun("Wren Street");
    let id = book.start("Wren Street", "", log.text()).unwrap();
    enter(&book, id, &[shows(&kept.digest)]);
    assert_eq!(book.pictures_of(id), Ok(vec![(1, kept)]));
    let digest = entries::Digest::parse(&"0".repeat(64)).unwrap();
    log = made_up::log(&book, id);
    let line = log
        .append(&entries::EntryKind::Work(shows(&digest)), None)
        .unwrap();
    let none = BookFault::NoSuchPicture { digest };
    assert_eq!(book.append(id, 1, &line), Err(none));
    assert_eq!(made_up::log(&book, id).entries().len(), 1);
}
