//! Pictures spoiled, through the page that takes them: each is refused with a word, or kept and shown.

use crate::bench::Bench;
use crate::page::checked;
use crate::spoil::{self, one, place};
use crate::tally::{Tally, how_many};
use fleet::{Dice, dice};
use image::{DynamicImage, ImageFormat, Rgb, RgbImage};
use rand::RngExt;
use std::io::Cursor;

/// As many as are tried at every run of the tests.
const USUAL: usize = 300;

const SAMPLES: [&[u8]; 6] = [
    include_bytes!("samples/progressive.jpg"),
    include_bytes!("samples/four_colours.jpg"),
    include_bytes!("samples/planes.webp"),
    include_bytes!("samples/clear_planes.webp"),
    include_bytes!("samples/moving.webp"),
    include_bytes!("samples/palette.png"),
];

fn drawn(wide: u32, high: u32) -> DynamicImage {
    let shade = |at: u32, of: u32| u8::try_from(255 * at / of).expect("a byte");
    DynamicImage::ImageRgb8(RgbImage::from_fn(wide, high, |x, y| {
        Rgb([shade(x, wide), shade(y, high), 40])
    }))
}

fn file(picture: &DynamicImage, format: ImageFormat) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    picture.write_to(&mut bytes, format).expect("packed");
    bytes.into_inner()
}

/// Whole pictures of every form that is taken.
fn whole() -> Vec<Vec<u8>> {
    let plain = drawn(40, 24);
    let clear = DynamicImage::ImageRgba8(plain.to_rgba8());
    let mut all: Vec<Vec<u8>> = SAMPLES.iter().map(|bytes| bytes.to_vec()).collect();
    all.push(file(&plain, ImageFormat::Jpeg));
    all.push(file(
        &DynamicImage::ImageLuma8(plain.to_luma8()),
        ImageFormat::Jpeg,
    ));
    for picture in [
        &plain,
        &clear,
        &DynamicImage::ImageRgba16(plain.to_rgba16()),
        &DynamicImage::ImageLuma8(plain.to_luma8()),
    ] {
        all.push(file(picture, ImageFormat::Png));
    }
    all.push(file(&plain, ImageFormat::WebP));
    all.push(file(&clear, ImageFormat::WebP));
    all
}

/// The sum at the end of each part of a PNG file. Source: W3C, "Portable Network Graphics (PNG) Specification", annex D.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(sum ^ u32::from(*byte), |sum, _| {
            (sum >> 1) ^ (0xedb8_8320 & (sum & 1).wrapping_neg())
        })
    })
}

/// A length that nobody has.
fn odd_side(dice: &mut Dice) -> u32 {
    *one(
        &[
            0,
            1,
            2,
            255,
            4000,
            7000,
            10_000,
            16_383,
            16_384,
            60_000,
            65_535,
            1 << 24,
            u32::MAX >> 1,
            u32::MAX,
        ],
        dice,
    )
}

/// A PNG that says it is of another size, its sum right.
fn png_of(good: &[u8], wide: u32, high: u32) -> Vec<u8> {
    let mut lies = good.to_vec();
    lies[16..20].copy_from_slice(&wide.to_be_bytes());
    lies[20..24].copy_from_slice(&high.to_be_bytes());
    let sum = checksum(&lies[12..29]);
    lies[29..33].copy_from_slice(&sum.to_be_bytes());
    lies
}

fn find(bytes: &[u8], what: &[u8]) -> Option<usize> {
    bytes.windows(what.len()).position(|part| part == what)
}

/// A picture that says of itself what is not so.
fn lies(good: &[u8], dice: &mut Dice) -> Vec<u8> {
    let (wide, high) = (odd_side(dice), odd_side(dice));
    let mut lies = good.to_vec();
    let mut put = |at: usize, bytes: &[u8]| {
        if let Some(there) = lies.get_mut(at..at + bytes.len()) {
            there.copy_from_slice(bytes);
        }
    };
    let low = |side: u32| [side.to_le_bytes()[0], side.to_le_bytes()[1]];
    let big = |side: u32| [side.to_be_bytes()[2], side.to_be_bytes()[3]];
    if good.starts_with(b"\x89PNG") {
        return match dice.random_range(0..4) {
            // Or so many colours, bits, ways of packing.
            0 => {
                put(place(5, dice) + 24, &[dice.random()]);
                png_of(&lies, 40, 24)
            }
            _ => png_of(good, wide, high),
        };
    }
    if good.starts_with(b"RIFF") {
        let at = |name: &[u8]| find(good, name).map(|at| at + 8);
        match (
            dice.random_range(0..4),
            at(b"VP8X"),
            at(b"VP8 "),
            at(b"VP8L"),
        ) {
            (0, Some(whole), ..) => {
                put(whole + 4, &wide.to_le_bytes()[..3]);
                put(whole + 7, &high.to_le_bytes()[..3]);
            }
            (0 | 1, _, Some(planes), _) => {
                put(planes + 6, &low(wide));
                put(planes + 8, &low(high));
            }
            (0 | 1, _, _, Some(points)) => {
                let sides = (wide & 0x3fff) | (high & 0x3fff) << 14;
                put(points + 1, &sides.to_le_bytes());
            }
            // How long it is, or a part of it.
            (2, ..) => put(4, &wide.to_le_bytes()),
            _ => {
                let part = *one(
                    &[&b"VP8X"[..], b"VP8 ", b"VP8L", b"ALPH", b"ANMF", b"ANIM"],
                    dice,
                );
                if let Some(at) = at(part) {
                    put(at - 4, &wide.to_le_bytes());
                }
            }
        }
        return lies;
    }
    let frame = (0..good.len().saturating_sub(9))
        .find(|at| good[*at] == 0xff && matches!(good[at + 1], 0xc0 | 0xc2));
    if let Some(at) = frame {
        match dice.random_range(0..5) {
            0 => put(
                at + 1,
                &[*one(&[0xc0, 0xc1, 0xc2, 0xc3, 0xc5, 0xc9, 0xca], dice)],
            ),
            1 => put(at + 9, &[dice.random()]),
            // A second head, of another size.
            2 => {
                let long = usize::from(u16::from_be_bytes([good[at + 2], good[at + 3]])) + 2;
                let mut again = good[at..at + long].to_vec();
                again[5..7].copy_from_slice(&big(high));
                again[7..9].copy_from_slice(&big(wide));
                let after = at + long;
                return [&good[..after], &again, &good[after..]].concat();
            }
            _ => {
                put(at + 5, &big(high));
                put(at + 7, &big(wide));
            }
        }
    }
    lies
}

/// Whether it is cut, and a picture.
fn spoiled(all: &[Vec<u8>], dice: &mut Dice) -> (bool, String, Vec<u8>) {
    let which = place(all.len(), dice);
    let good = &all[which];
    let way = dice.random_range(0..8);
    let spoilt = match way {
        0 | 1 => good[..place(good.len(), dice)].to_vec(),
        // The last bytes are the ones that a careless look misses.
        2 => good[..good.len() - dice.random_range(1..good.len().min(24))].to_vec(),
        3 | 4 => lies(good, dice),
        5 => {
            let other = one(all, dice);
            [
                &good[..place(good.len(), dice)],
                &other[place(other.len(), dice)..],
            ]
            .concat()
        }
        6 => spoil::bytes(&lies(good, dice), dice),
        _ => spoil::bytes(good, dice),
    };
    (way < 3, format!("picture {which}, way {way}"), spoilt)
}

#[test]
fn a_spoiled_picture_is_refused_with_a_word_or_kept_and_shown() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut bench = Bench::open(&folder.path().join("pictures.book"));
    let all = whole();
    let upload = |bench: &Bench, entries: &str, bytes: &[u8]| {
        let fields = [("entries", entries), ("when", "before")];
        bench
            .upload("/job/1/picture", &fields, ("picture", "a.jpg"), bytes)
            .expect("an answer")
    };
    for (n, good) in all.iter().enumerate() {
        let answer = upload(&bench, &bench.entries(1), good);
        assert_eq!(answer.status, 303, "{n}: {}", answer.text());
    }
    let (mut tally, mut held) = (Tally::default(), 0);
    let mut entries = bench.entries(1);
    for n in 0..how_many(USUAL) {
        let mut dice = dice(0x9_0000 + u64::try_from(n).expect("a seed"));
        let (cut, what, bytes) = spoiled(&all, &mut dice);
        let what = format!("{n}: {what}, {} bytes", bytes.len());
        let answer = tally.timed(|| what.clone(), || upload(&bench, &entries, &bytes));
        tally.came(checked(&answer, &what));
        assert!(!cut || answer.status == 422, "{what}: {}", answer.text());
        if answer.status == 303 {
            entries = (entries.parse::<usize>().expect("a number") + 1).to_string();
            if n % 20 == 0 {
                shown(&bench, &what);
            }
        }
        // A job with thousands of pictures is another test's.
        if entries.len() > 2 {
            held = bench.sound().max(held);
            bench = Bench::open(&folder.path().join(format!("{n}.book")));
            entries = bench.entries(1);
        }
    }
    held = bench.sound().max(held);
    println!("pictures: {tally}; at most {held} MB on the bench");
    assert!(tally.of("422") > tally.of("303") / 10 && tally.of("303") > 0);
}

/// The last picture of the job, whole and small.
fn shown(bench: &Bench, what: &str) {
    let page = bench.get("/job/1/way").expect("an answer").text();
    let at = page.rfind("/picture/").expect("a picture") + "/picture/".len();
    let digest: String = page[at..]
        .chars()
        .take_while(char::is_ascii_hexdigit)
        .collect();
    for size in ["", "/small"] {
        let answer = bench
            .get(&format!("/picture/{digest}{size}"))
            .expect("an answer");
        assert_eq!(answer.status, 200, "{what}");
        let seen = image::load_from_memory(&answer.body);
        assert!(seen.is_ok(), "{what}: {seen:?}");
    }
}

/// A JPEG that says it is so large, with its end and nothing of what it should have: unpacked it takes as much as one that has.
fn jpeg_of(side: u16, bytes: usize) -> Vec<u8> {
    let mut lies = file(&drawn(40, 24), ImageFormat::Jpeg);
    let at = find(&lies, b"\xff\xc0").expect("its head");
    lies[at + 5..at + 7].copy_from_slice(&side.to_be_bytes());
    lies[at + 7..at + 9].copy_from_slice(&side.to_be_bytes());
    lies.resize(bytes.max(lies.len()), 0);
    lies
}

/// What takes most room by itself: few bytes that say they are many, and as large as is taken in each form.
#[test]
fn the_largest_pictures_stay_within_what_there_is_room_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut bench = Bench::open(&folder.path().join("large.book"));
    let flat = |side: u32| DynamicImage::new_rgb8(side, side);
    let (small, planes) = (drawn(40, 24), SAMPLES[2]);
    let head = find(planes, b"VP8 ").expect("planes") + 14;
    let webp = |side: u16| {
        let mut lies = planes.to_vec();
        let side = side.to_le_bytes();
        lies[head..head + 4].copy_from_slice(&[side, side].concat());
        lies
    };
    let deep = DynamicImage::new_rgba16(3200, 3200);
    let mut all = vec![
        (
            "few bytes, 60000 × 60000",
            png_of(&file(&small, ImageFormat::Png), 60_000, 60_000),
            422,
        ),
        ("WebP of 16383 × 16383 in few bytes", webp(16_383), 422),
        (
            "WebP of 29 million points, most of them not there",
            webp(5400),
            422,
        ),
        (
            "PNG of 16 bits a colour",
            file(&deep, ImageFormat::Png),
            303,
        ),
        ("JPEG of 49 million points", jpeg_of(7000, 0), 303),
    ];
    if std::env::var_os("TRUNDLE_MUTATED").is_some() {
        all.extend([
            (
                "WebP of 25 million points",
                file(&flat(5000), ImageFormat::WebP),
                422,
            ),
            (
                "WebP of 16 million points",
                file(&flat(4000), ImageFormat::WebP),
                303,
            ),
            (
                "PNG of 49 million points",
                file(&flat(7000), ImageFormat::Png),
                303,
            ),
            (
                "JPEG of 49 million points and 20 megabytes",
                jpeg_of(7000, 20 << 20),
                303,
            ),
            (
                "JPEG of 49 million points and 40 megabytes",
                jpeg_of(7000, 40 << 20),
                422,
            ),
        ]);
    }
    bench.get("/job/1/way").expect("an answer");
    let before = bench.holds();
    for (name, picture, status) in all {
        let entries = bench.entries(1);
        let fields = [("entries", &*entries), ("when", "before")];
        let began = std::time::Instant::now();
        let answer = bench
            .upload("/job/1/picture", &fields, ("picture", "a"), &picture)
            .expect("an answer");
        println!(
            "{name}: {} after {:.0?}, at most {} MB so far",
            answer.status,
            began.elapsed(),
            bench.held()
        );
        assert_eq!(answer.status, status, "{name}: {}", answer.text());
    }
    bench.sound();
    // What they took is given back: a bench is open all day.
    let rest = bench.holds();
    println!("{rest} MB at rest");
    assert!(rest < before + 20, "{rest} MB at rest, {before} before");
}
