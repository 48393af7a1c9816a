//! Sounds spoiled: listened to by the library, by the command and through the page.

use crate::bench::{Bench, trundle};
use crate::page::checked;
use crate::spoil::{self, one, place};
use crate::tally::{MOST_HELD, Tally, how_many, most_held};
use fleet::{Dice, dice};
use rand::RngExt;
use report::{Locale, Voice};
use std::io::Cursor;
use std::ops::ControlFlow;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::Path;
use std::process::Stdio;
use tasks::listening::{ExpectedClock, Recorder, find, hear, unfit};

/// As many as are tried at every run of the tests.
const USUAL: usize = 300;
/// One of so many is sent to the page, and one listened to by the command.
const ON_THE_PAGE: usize = 12;
const BY_THE_COMMAND: usize = 25;

const PACKED: [&[u8]; 4] = [
    include_bytes!("samples/ticking.flac"),
    include_bytes!("samples/ticking.ogg"),
    include_bytes!("samples/ticking.mp3"),
    include_bytes!("samples/two.mp3"),
];

/// What a header says, right or wrong.
#[derive(Debug, Clone, Copy)]
struct Head {
    tag: u16,
    channels: u16,
    rate: u32,
    frame: u16,
    bits: u16,
}

impl Head {
    fn of(tag: u16, bits: u16, channels: u16, rate: u32) -> Head {
        let frame = channels.saturating_mul(bits / 8);
        Head {
            tag,
            channels,
            rate,
            frame,
            bits,
        }
    }

    fn part(self) -> Vec<u8> {
        let mut body = Vec::new();
        body.extend(self.tag.to_le_bytes());
        body.extend(self.channels.to_le_bytes());
        body.extend(self.rate.to_le_bytes());
        body.extend(self.rate.wrapping_mul(self.frame.into()).to_le_bytes());
        body.extend(self.frame.to_le_bytes());
        body.extend(self.bits.to_le_bytes());
        body
    }
}

/// A recording's bytes, and its head and samples where those are plain.
type Recording = (Vec<u8>, Option<(Head, Vec<u8>)>);

fn part(name: &[u8; 4], said: u32, body: &[u8]) -> Vec<u8> {
    [&name[..], &said.to_le_bytes(), body, &[0][..body.len() % 2]].concat()
}

fn long(body: &[u8]) -> u32 {
    u32::try_from(body.len()).expect("short")
}

/// Six seconds that tick twice a second, from -1 to 1: bursts of noise that die away (a linear congruential generator, D. E.
/// Knuth's constants).
fn ticking(rate: u32) -> Vec<f64> {
    let mut state = 7_u64;
    let mut noise = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        f64::from(i32::try_from(state >> 33).expect("31 bits")) / f64::from(1 << 30) - 1.0
    };
    (0..6 * rate)
        .map(|at| {
            let since = f64::from((at + rate / 5) % (rate / 2)) / f64::from(rate);
            0.002 * noise() + 0.5 * noise() * (-since / 0.004).exp()
        })
        .collect()
}

/// Samples as they are written: so many bits, or in floating point.
fn samples(sound: &[f64], float: bool, bits: u16, channels: u16) -> Vec<u8> {
    let mut bytes = Vec::new();
    for x in sound {
        for _ in 0..channels {
            #[expect(clippy::cast_possible_truncation, reason = "no louder than full scale")]
            let whole = (x.clamp(-1.0, 1.0) * 2_147_483_000.0) as i32;
            #[expect(clippy::cast_possible_truncation, reason = "as it is written")]
            match (float, bits) {
                (true, 32) => bytes.extend((*x as f32).to_le_bytes()),
                (true, _) => bytes.extend(x.to_le_bytes()),
                (_, 8) => bytes.push(whole.to_be_bytes()[0] ^ 0x80),
                (_, bits) => bytes.extend(&whole.to_le_bytes()[usize::from(4 - bits / 8)..]),
            }
        }
    }
    bytes
}

fn riff(parts: &[Vec<u8>]) -> Vec<u8> {
    let body = [&b"WAVE"[..], &parts.concat()].concat();
    part(b"RIFF", long(&body), &body)
}

/// Recordings as they should be, with their samples by themselves where they are plain.
fn whole() -> Vec<Recording> {
    let mut all: Vec<_> = PACKED.iter().map(|bytes| (bytes.to_vec(), None)).collect();
    for (tag, bits, channels, rate) in [
        (1, 16, 1, 8_000),
        (1, 8, 1, 8_000),
        (1, 24, 2, 8_000),
        (1, 32, 1, 6_000),
        (3, 32, 1, 8_000),
        (3, 64, 2, 8_000),
        (1, 16, 2, 44_100),
    ] {
        let head = Head::of(tag, bits, channels, rate);
        let body = samples(&ticking(rate), tag == 3, bits, channels);
        let bytes = riff(&[
            part(b"fmt ", 16, &head.part()),
            part(b"data", long(&body), &body),
        ]);
        all.push((bytes, Some((head, body))));
    }
    all
}

const ODD_LENGTHS: [u32; 9] = [
    0,
    1,
    2,
    15,
    17,
    0x7fff_ffff,
    0x8000_0000,
    u32::MAX - 1,
    u32::MAX,
];

const ODD_RATES: [u32; 8] = [
    0,
    1,
    5_999,
    6_000,
    400_000,
    400_001,
    4_000_000_000,
    u32::MAX,
];
const ODD_CHANNELS: [u16; 6] = [0, 64, 65, 255, 32_768, 65_535];
const ODD_BITS: [u16; 11] = [0, 1, 7, 12, 17, 20, 31, 33, 64, 128, 65_535];

/// Plain sound whose head is wrong, or whose parts are.
fn wrong_head(head: Head, body: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut head = head;
    match dice.random_range(0..6) {
        0 => head.rate = *one(&ODD_RATES, dice),
        1 => head = Head::of(head.tag, head.bits, *one(&ODD_CHANNELS, dice), head.rate),
        2 => head.bits = *one(&ODD_BITS, dice),
        3 => head.frame = *one(&[0, 1, 3, 65_535], dice),
        4 => head.tag = *one(&[0, 2, 6, 7, 17, 85, 0xfffe, 0xffff], dice),
        _ => {}
    }
    let mut parts = vec![
        part(b"fmt ", 16, &head.part()),
        part(b"data", long(body), body),
    ];
    if dice.random_bool(0.3) {
        let mut more = head.part();
        more.extend([
            22,
            0,
            head.bits.to_le_bytes()[0],
            0,
            0,
            0,
            0,
            0,
            *one(&[1, 3, 0xfe], dice),
            0,
        ]);
        more.extend(*b"\0\0\0\0\x10\0\x80\0\0\xaa\0\x38\x9b\x71");
        parts[0] = part(b"fmt ", long(&more), &more);
        parts[0][8..10].copy_from_slice(&0xfffe_u16.to_le_bytes());
    }
    for _ in 0..dice.random_range(0..3) {
        let at = place(parts.len(), dice);
        match dice.random_range(0..7) {
            0 => drop(parts.remove(at)),
            1 => parts.insert(place(parts.len(), dice), parts[at].clone()),
            2 => {
                let other = place(parts.len(), dice);
                parts.swap(at, other);
            }
            3 | 4 => parts[at][4..8].copy_from_slice(&one(&ODD_LENGTHS, dice).to_le_bytes()),
            5 => parts.insert(at, part(b"LIST", *one(&ODD_LENGTHS, dice), b"INFO")),
            _ => parts.insert(
                at,
                part(
                    b"junk",
                    60_000,
                    &vec![0; *one(&[60_000, 59_999, 70_000], dice)],
                ),
            ),
        }
        if parts.is_empty() {
            break;
        }
    }
    let mut bytes = riff(&parts);
    if dice.random_bool(0.1) {
        bytes[..4].copy_from_slice(b"RF64");
    }
    if dice.random_bool(0.2) {
        bytes[4..8].copy_from_slice(&one(&ODD_LENGTHS, dice).to_le_bytes());
    }
    bytes
}

/// Plain sound with samples that are none, or that no microphone gives.
fn wrong_samples(head: Head, body: &[u8], dice: &mut Dice) -> Vec<u8> {
    let mut body = body.to_vec();
    let wide = usize::from(head.bits / 8);
    let odd = match (head.tag, wide) {
        (3, 4) => one(
            &[
                f32::NAN,
                f32::INFINITY,
                f32::NEG_INFINITY,
                f32::MAX,
                f32::MIN_POSITIVE / 4.0,
                -0.0,
            ],
            dice,
        )
        .to_le_bytes()
        .to_vec(),
        (3, _) => one(
            &[
                f64::NAN,
                f64::INFINITY,
                f64::NEG_INFINITY,
                f64::MAX,
                f64::MIN_POSITIVE / 4.0,
                1e39,
            ],
            dice,
        )
        .to_le_bytes()
        .to_vec(),
        _ => vec![*one(&[0, 0x7f, 0x80, 0xff], dice); wide],
    };
    // One here and there, a stretch, or all.
    let every = *one(&[1, 2, 7, 800, 20_000], dice);
    for (n, sample) in body.chunks_exact_mut(wide).enumerate() {
        if n % every == 0 {
            sample.copy_from_slice(&odd);
        }
    }
    if dice.random_bool(0.3) {
        let from = place(body.len(), dice) / wide * wide;
        body[from..].fill(0);
    }
    riff(&[
        part(b"fmt ", 16, &head.part()),
        part(b"data", long(&body), &body),
    ])
}

fn spoiled(all: &[Recording], dice: &mut Dice) -> (String, Vec<u8>) {
    let which = place(all.len(), dice);
    let (good, plain) = &all[which];
    let way = dice.random_range(0..10);
    let spoilt = match (way, plain) {
        (0..4, Some((head, body))) => wrong_head(*head, body, dice),
        (4 | 5, Some((head, body))) => wrong_samples(*head, body, dice),
        (6, _) => good[..place(good.len(), dice)].to_vec(),
        (7, _) => {
            let (other, _) = one(all, dice);
            [
                &good[..place(good.len(), dice)],
                &other[place(other.len(), dice)..],
            ]
            .concat()
        }
        _ => spoil::bytes(good, dice),
    };
    (format!("sound {which}, way {way}"), spoilt)
}

/// All that is said of it; what came of it in short.
fn listened(bytes: Vec<u8>) -> &'static str {
    let locale = Locale::default();
    let voice = Voice::Command(locale);
    let heard = match hear(Cursor::new(bytes), |_| ControlFlow::Continue(())) {
        Ok(heard) => heard,
        Err(why) => {
            let said = report::listen::not_sound(&voice, "a.wav", &why);
            assert!(!said.is_empty());
            return "no sound";
        }
    };
    let _ = unfit(&heard.heard);
    let ended = heard.ended;
    let expected = ExpectedClock::default();
    let found = find(heard.heard, &expected, Recorder::default());
    if let Some(unfit) = &found.unfit {
        let said = report::listen::unfit_said(&locale, unfit);
        assert!(!said.is_empty());
        return "unfit";
    }
    assert!(!report::listen::listen_text(&voice, &found, ended).is_empty());
    // A number that is none is written as null, and nobody can use that.
    let json = report::json::line(&report::json::ListenAnswer::of(&found, ended));
    assert!(json.starts_with('{'));
    let plot = report::listen::plot(&locale, &found, &expected);
    assert!(plot.is_none_or(|plot| !plot.file_to_scale().contains("NaN")));
    "heard"
}

/// What the command makes of it, and the most memory it was seen to hold, megabytes.
fn command(file: &Path, what: &str) -> u64 {
    let mut child = trundle()
        .arg("listen")
        .arg(file)
        .arg("--json")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("it runs");
    let mut held = 0;
    while child.try_wait().expect("asked").is_none() {
        held = held.max(most_held(child.id()).unwrap_or(0));
        std::thread::sleep(std::time::Duration::from_millis(1));
    }
    let output = child.wait_with_output().expect("it ends");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(
        matches!(output.status.code(), Some(0 | 2)) && !said.contains("panicked"),
        "{what}: {said}"
    );
    if output.status.success() {
        let json: Result<serde_json::Value, _> = serde_json::from_slice(&output.stdout);
        assert!(json.is_ok(), "{what}");
    }
    held
}

/// A microphone whose sound is spoiled: begun, brought piece by piece, ended.
fn microphone(bench: &Bench, bytes: &[u8], dice: &mut Dice) -> String {
    let rate = one(
        &[
            "8000",
            "48000",
            "192000",
            "7999",
            "0",
            "-1",
            "4000000000",
            "NaN",
            "x",
        ],
        dice,
    );
    let begun = bench
        .post("/job/1/listen/live", &format!("rate={rate}"))
        .expect("an answer");
    let came = checked(&begun, "a microphone");
    let told: serde_json::Value = serde_json::from_slice(&begun.body).expect("JSON");
    let Some(at) = told["at"].as_str() else {
        return format!("no microphone {came}");
    };
    let mut next = 0;
    for piece in bytes.chunks(bytes.len().div_ceil(3).max(1)).take(3) {
        let from = match dice.random_range(0..4) {
            0 => (*one(&["0", "-1", "18446744073709551615", "1e9", ""], dice)).to_owned(),
            _ => next.to_string(),
        };
        let kind = "application/octet-stream";
        let answer = bench
            .post_as(&format!("{at}?from={from}"), kind, piece, piece.len())
            .expect("an answer");
        checked(&answer, at);
        let told: serde_json::Value = serde_json::from_slice(&answer.body).expect("JSON");
        next = told["samples"].as_u64().unwrap_or(next);
    }
    let ended = bench
        .post(&format!("{at}/end"), "arc=2.5")
        .expect("an answer");
    format!("microphone {}", checked(&ended, at))
}

#[test]
fn a_spoiled_sound_is_refused_with_a_word_or_heard() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut bench = Bench::open(&folder.path().join("sounds.book"));
    let all = whole();
    for (n, (good, _)) in all.iter().enumerate() {
        let came = listened(good.clone());
        assert!(came == "heard" || came == "unfit", "{n}: {came}");
    }
    let (mut tally, mut held) = (Tally::default(), 0);
    for n in 0..how_many(USUAL) {
        let mut dice = dice(0x5_0000 + u64::try_from(n).expect("a seed"));
        let (what, bytes) = spoiled(&all, &mut dice);
        let what = format!("{n}: {what}, {} bytes", bytes.len());
        if n % ON_THE_PAGE == 0 {
            let fields = [("arc", "2.5"), ("nut", "0.5")];
            let send = || bench.upload("/job/1/listen", &fields, ("recording", "a.wav"), &bytes);
            let answer = tally
                .timed(|| format!("page {what}"), send)
                .expect("an answer");
            tally.came(format!("on the page {}", checked(&answer, &what)));
            if let (303, Some(at)) = (answer.status, answer.header("location")) {
                let page = bench
                    .get(at.split('#').next().unwrap_or(at))
                    .expect("an answer");
                checked(&page, &format!("{at} of {what}"));
            }
        }
        if n % ON_THE_PAGE == 1 {
            let floats = samples(&ticking(8_000), true, 32, 1);
            let sound = if dice.random_bool(0.5) {
                spoil::bytes(&floats, &mut dice)
            } else {
                bytes.clone()
            };
            let came = tally.timed(
                || format!("microphone {what}"),
                || microphone(&bench, &sound, &mut dice),
            );
            tally.came(came);
        }
        if n % BY_THE_COMMAND == 0 {
            let file = folder.path().join("a.wav");
            std::fs::write(&file, &bytes).expect("written");
            held = held.max(tally.timed(|| format!("command {what}"), || command(&file, &what)));
        }
        let came = tally.timed(
            || what.clone(),
            || catch_unwind(AssertUnwindSafe(|| listened(bytes))),
        );
        tally.came(came.unwrap_or_else(|_| panic!("{what} made it panic")));
    }
    let most = bench.sound();
    println!("sounds: {tally}; at most {most} MB on the bench, {held} MB by the command");
    assert!(held < MOST_HELD, "{held} MB");
    assert!(tally.of("heard") > 0 && tally.of("no sound") > 0 && tally.of("unfit") > 0);
}
