//! Listening on the command line: what is said of a small recording made up here, and of files that are none.

use assert_cmd::Command;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

const RATE: u32 = 8_000;

fn run(file: &Path, more: &[&str]) -> (i32, String, String) {
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .current_dir(file.parent().expect("a folder"))
        .arg("listen")
        .arg(file.file_name().expect("a name"))
        .args(more)
        .output()
        .expect("runs");
    (
        output.status.code().expect("an exit status"),
        String::from_utf8(output.stdout).expect("UTF-8"),
        String::from_utf8(output.stderr).expect("UTF-8"),
    )
}

fn refused(file: &Path) -> String {
    let (status, out, err) = run(file, &[]);
    assert_eq!((status, out.as_str()), (2, ""), "{file:?}");
    err
}

/// Sound as 16-bit WAV.
fn wav(samples: &[i16]) -> Vec<u8> {
    let length = u32::try_from(2 * samples.len()).expect("short");
    let mut bytes = b"RIFF".to_vec();
    bytes.extend((36 + length).to_le_bytes());
    bytes.extend(b"WAVEfmt \x10\0\0\0\x01\0\x01\0");
    bytes.extend(RATE.to_le_bytes());
    bytes.extend((2 * RATE).to_le_bytes());
    bytes.extend(b"\x02\0\x10\0data");
    bytes.extend(length.to_le_bytes());
    bytes.extend(samples.iter().flat_map(|x| x.to_le_bytes()));
    bytes
}

/// A made-up clock that ticks twice a second for so long, every second beat 80 samples (10 ms) late: bursts of noise that die away,
/// in noise, all from one seed (a linear congruential generator, D. E. Knuth's constants).
fn ticking(seconds: u32) -> Vec<i16> {
    let mut state = 7_u64;
    let mut noise = move || {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        i32::try_from(state >> 49).expect("15 bits") - 16_384
    };
    (0..seconds * RATE)
        .map(|at| {
            let beat = at % RATE;
            let since = match beat {
                0..2_000 => None,
                2_000..6_080 => Some(beat - 2_000),
                _ => Some(beat - 6_080),
            };
            // Half as loud every 20 samples.
            let tick = since.map_or(0, |n| noise() >> (n / 20).min(20));
            let hiss = noise() / 512;
            i16::try_from((tick + hiss).clamp(-32_768, 32_767)).expect("clamped")
        })
        .collect()
}

fn kept(folder: &TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join(name);
    std::fs::write(&path, bytes).expect("written");
    path
}

#[test]
fn a_ticking_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(&folder, "ticking.wav", &wav(&ticking(40)));
    let (status, out, err) = run(&file, &["--plot", "plot.svg"]);
    assert_eq!((status, err.as_str()), (0, ""));
    insta::assert_snapshot!("ticking", out);
    let plot = std::fs::read_to_string(folder.path().join("plot.svg")).expect("a plot");
    assert!(plot.starts_with("<svg") || plot.starts_with("<?xml"));
    assert!(plot.contains("minutes") && plot.contains("gains / loses, seconds"));
}

#[test]
fn a_ticking_is_told_to_scripts() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(&folder, "ticking.wav", &wav(&ticking(40)));
    let (status, out, _) = run(&file, &["--json"]);
    assert_eq!(status, 0);
    let told: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(told["strikes"], serde_json::Value::Null);
    assert_eq!(told["beats"]["count"], 80);
    let late = told["beats"]["out_of_beat_ms"].as_f64().expect("a number");
    let per_hour = told["beats"]["per_hour"].as_f64().expect("a number");
    assert!((per_hour - 7200.0).abs() < 1.0, "{per_hour}");
    // One half is 510 ms long, the other 490.
    assert!((late - 20.0).abs() < 2.0, "{late}");
}

#[test]
fn a_recording_cut_off_is_told_as_far_as_it_goes() {
    let folder = tempfile::tempdir().expect("a folder");
    let whole = wav(&ticking(40));
    let file = kept(&folder, "cut.wav", &whole[..whole.len() / 2]);
    let (status, out, err) = run(&file, &[]);
    assert_eq!((status, err.as_str()), (0, ""));
    insta::assert_snapshot!("cut_off", out);
    let nothing = kept(&folder, "header.wav", &whole[..44]);
    insta::assert_snapshot!("header_alone", refused(&nothing));
}

#[test]
fn what_is_no_recording_is_refused_with_what_would_help() {
    let folder = tempfile::tempdir().expect("a folder");
    insta::assert_snapshot!("empty", refused(&kept(&folder, "empty.wav", b"")));
    let silent = wav(&vec![0; 20 * RATE as usize]);
    insta::assert_snapshot!("silent", refused(&kept(&folder, "silent.wav", &silent)));
    let text = b"Wren Street, eight o'clock: it struck nine.\n".repeat(50);
    insta::assert_snapshot!("text", refused(&kept(&folder, "text.wav", &text)));
    let (status, _, err) = run(&folder.path().join("none.wav"), &[]);
    assert_eq!(status, 1);
    assert!(err.contains("none.wav"), "{err}");
}

#[test]
fn a_name_that_ends_otherwise_does_no_harm() {
    let folder = tempfile::tempdir().expect("a folder");
    let bytes = wav(&ticking(20));
    let (_, right, _) = run(&kept(&folder, "ticking.wav", &bytes), &[]);
    let (status, wrong, _) = run(&kept(&folder, "ticking.mp3", &bytes), &[]);
    assert_eq!(status, 0);
    assert_eq!(right, wrong);
}
