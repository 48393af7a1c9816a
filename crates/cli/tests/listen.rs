//! Listening on the command line: what is said of a small recording made up here, and of files that are none.

use assert_cmd::Command;
use std::path::{Path, PathBuf};
use tempfile::TempDir;

mod made;

use made::{RATE, ring, ticking, wav};

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

/// So much of it under the header of a pipe, which does not know how much will come.
fn endless(seconds: u32) -> Vec<u8> {
    let mut bytes = wav(&ticking(seconds));
    bytes[4..8].copy_from_slice(&u32::MAX.to_le_bytes());
    bytes[40..44].copy_from_slice(&u32::MAX.to_le_bytes());
    bytes
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

#[test]
fn a_pipe_that_does_not_know_its_length_is_heard_to_its_end() {
    let bytes = endless(40);
    let output = Command::cargo_bin("trundle")
        .expect("built")
        .args(["listen", "-", "--json"])
        .write_stdin(bytes)
        .output()
        .expect("runs");
    assert_eq!(output.status.code(), Some(0));
    let told: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(told["ended"], "whole");
    assert_eq!(told["beats"]["count"], 80);
}

/// The recorder goes on writing; whoever listens has heard enough.
#[cfg(unix)]
#[test]
fn an_interrupt_ends_listening_and_what_was_heard_is_told() {
    use std::io::Write;
    use std::process::Stdio;
    let mut child = std::process::Command::new(assert_cmd::cargo::cargo_bin("trundle"))
        .args(["listen", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("runs");
    let bytes = endless(60);
    let mut to = child.stdin.take().expect("a pipe");
    to.write_all(&bytes).expect("it listens");
    let sent = std::process::Command::new("kill")
        .args(["-INT", &child.id().to_string()])
        .status()
        .expect("kill");
    assert!(sent.success());
    // It is at most an hour until it has had enough.
    let ended = (0..60).any(|_| to.write_all(&bytes[44..]).is_err());
    assert!(ended, "it would not stop");
    let output = child.wait_with_output().expect("ends");
    let told = String::from_utf8(output.stdout).expect("UTF-8");
    assert_eq!(output.status.code(), Some(0), "{told}");
    assert!(told.starts_with("7200.0 beats an hour."), "{told}");
    assert!(told.contains("Stopped after "), "{told}");
}

#[test]
fn of_a_strike_too_near_the_beginning_no_warning_can_be_told() {
    // A bell is louder than a tick.
    let mut samples: Vec<i16> = ticking(40).iter().map(|x| x / 8).collect();
    for blow in 0..5_u32 {
        ring(&mut samples, 520.0, 15.33 + 1.6 * f64::from(blow));
    }
    let folder = tempfile::tempdir().expect("a folder");
    let file = kept(&folder, "five.wav", &wav(&samples));
    let (status, out, _) = run(&file, &["--json"]);
    assert_eq!(status, 0);
    let told: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    let strike = &told["strikes"][0];
    assert_eq!(strike["blows"], 5);
    assert_eq!(strike["warning"], "cannot tell");
    assert_eq!(strike["warning_s"], serde_json::Value::Null);
}

/// Headers that promise the earth, each with little or nothing after it, listened to with no more than 400 thousand KiB of room.
#[cfg(target_os = "linux")]
#[test]
fn headers_that_lie_cost_no_memory() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut wide = wav(&[0; 512]);
    // Sixty-four channels of doubles, 400 thousand a second, four thousand million bytes of them.
    wide[20..36].copy_from_slice(
        &[
            &3_u16.to_le_bytes()[..],
            &64_u16.to_le_bytes(),
            &400_000_u32.to_le_bytes(),
            &204_800_000_u32.to_le_bytes(),
            &512_u16.to_le_bytes(),
            &64_u16.to_le_bytes(),
        ]
        .concat(),
    );
    wide[40..44].copy_from_slice(&(u32::MAX - 1).to_le_bytes());
    let mut far = b"RIFF\xff\xff\xff\xffWAVELIST\xf0\xff\xff\xff".to_vec();
    far.extend([0; 200]);
    // A FLAC header of the largest blocks and rate, thirty-two bits, eight channels, 2^36 - 1 samples; no frame.
    let mut flac = b"fLaC\x80\0\0\x22\xff\xff\xff\xff\xff\xff\xff\xff\xff\xff".to_vec();
    flac.extend([0xff; 8]);
    flac.extend([0; 16]);
    let picture = b"fLaC\0\0\0\x22\x10\0\x10\0\0\0\0\0\0\0\x0a\xc4\x42\xf0\0\0\0\0".to_vec();
    let picture = [picture, vec![0; 16], b"\x86\xff\xff\xff".to_vec()].concat();
    let tag = b"ID3\x04\0\0\x7f\x7f\x7f\x7fAPIC\x7f\x7f\x7f\x7f\0\0".to_vec();
    let mut ogg = b"OggS\0\x02\0\0\0\0\0\0\0\0\x01\0\0\0\0\0\0\0\0\0\0\0\xff".to_vec();
    ogg.extend([0xff; 300]);
    let lies = [wide, far, flac, picture, tag, ogg];
    for (k, bytes) in lies.iter().enumerate() {
        let file = kept(&folder, &format!("{k}.wav"), bytes);
        let trundle = assert_cmd::cargo::cargo_bin("trundle");
        let output = std::process::Command::new("sh")
            .args(["-c", "ulimit -v 400000 && exec \"$0\" listen \"$1\""])
            .arg(trundle)
            .arg(&file)
            .output()
            .expect("runs");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{k}: {said}");
        assert!(
            output.stdout.is_empty() && said.lines().count() < 8,
            "{k}: {said}"
        );
    }
}
