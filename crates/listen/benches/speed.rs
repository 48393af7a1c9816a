//! How fast and in how much memory: `cargo bench -p listen --bench speed -- hour beside day`; all of them where none is named.
//!
//! `hour`: an hour of ticking at 48 kHz, from the bytes of a WAV file to what was heard, on one core. `beside`: librosa's onset
//! detection on the same hour, where it is installed. `day`: twenty-four hours made on the way and written into a pipe, under a header
//! that does not know its length, and the most memory the listener took; `day:8000` the same at so many samples a second. The
//! listener is `trundle listen -`, where the environment's TRUNDLE says where that program is, else this one.

#![expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "lengths and levels of made-up sound"
)]

#[path = "../tests/heard/made/mod.rs"]
mod made;

use listen::{Detector, Heard, Recorder, decode, pace};
use made::scenes::{Going, ticking};
use made::voices::{Struck, Tick};
use made::{Sound, wav_header};
use std::io::{Read, Write};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Instant;

const HOUR_S: f64 = 3600.0;

fn main() {
    let asked: Vec<String> = std::env::args()
        .skip(1)
        .filter(|a| !a.starts_with("--"))
        .collect();
    match asked.first().map(String::as_str) {
        Some("write") => return write_day(number(&asked, 1), number(&asked, 2) * 1e-3),
        Some("read") => {
            let heard = hear(std::io::stdin());
            return println!("{}", told(&heard));
        }
        _ => {}
    }
    let wanted = |name: &str| asked.is_empty() || asked.iter().any(|a| a == name);
    if wanted("hour") || wanted("beside") {
        let path = std::env::temp_dir().join(format!("an-hour-{}.wav", std::process::id()));
        let beats = write_hour(&path);
        if wanted("hour") {
            for _ in 0..3 {
                hour(&path, beats);
            }
        }
        if wanted("beside") {
            beside(&path);
        }
        let _ = std::fs::remove_file(&path);
    }
    if asked.is_empty() {
        day(48_000.0, 500.0);
    }
    for what in asked.iter().filter_map(|a| a.strip_prefix("day")) {
        // A quick balance fills the most memory: five beats a second.
        let mut parts = what
            .split(':')
            .skip(1)
            .map(|x| x.parse().expect("a number"));
        day(
            parts.next().unwrap_or(48_000.0),
            parts.next().unwrap_or(500.0),
        );
    }
}

fn number(asked: &[String], at: usize) -> f64 {
    asked[at].parse().expect("a number")
}

fn hear(from: impl Read + Send + Sync + 'static) -> Heard {
    let mut ear = None;
    let ended = decode(from, |sound, rate| {
        ear.get_or_insert_with(|| Detector::new(rate)).hear(sound);
        ControlFlow::Continue(())
    });
    ended.expect("sound");
    ear.expect("sound").finish()
}

fn told(heard: &Heard) -> String {
    let per_hour = pace(&heard.beats, Recorder::default()).map(|pace| pace.per_hour.value);
    format!(
        "{:.0} s heard, {} beats of {}, {:?} an hour, {} strikes",
        heard.seconds,
        heard.beats.len(),
        heard.foretold,
        per_hour,
        heard.strikes.len()
    )
}

fn write_hour(path: &Path) -> usize {
    let dice = &mut made::dice(1);
    let going = Going {
        half_s: 0.5,
        late_s: 0.006,
        jitter_s: 0.001,
    };
    let times = going.times(HOUR_S, dice);
    let bytes = ticking(&times, HOUR_S, 48_000.0, 25.0, dice).wav();
    std::fs::write(path, &bytes).expect("room for it");
    times.len()
}

/// Seconds this thread was on a core, the system's work for it included; other programs may have had it in between.
fn on_core_s() -> f64 {
    let stat = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    let first = stat.split(' ').next().and_then(|ns| ns.parse::<f64>().ok());
    first.map_or(f64::NAN, |ns| ns * 1e-9)
}

fn hour(path: &Path, beats: usize) {
    let (begun, core) = (Instant::now(), on_core_s());
    let heard = hear(std::fs::File::open(path).expect("the hour"));
    let (took, core) = (begun.elapsed().as_secs_f64(), on_core_s() - core);
    println!(
        "listen: an hour in {took:.2} s by the wall, {:.0} times real time; {core:.2} s on the core, {:.0} times; {} of {beats} beats, {} strikes where there are none",
        HOUR_S / took,
        HOUR_S / core,
        heard.beats.len(),
        heard.strikes.len()
    );
}

fn beside(path: &Path) {
    let script = "import sys, time, librosa, soundfile\nt, c = time.time(), time.process_time()\nx, r = soundfile.read(sys.argv[1], dtype='float32')\nlibrosa.onset.onset_detect(y=x, sr=r)\nd, c = time.time() - t, time.process_time() - c\nprint(f'librosa: an hour in {d:.2f} s by the wall, {3600 / d:.0f} times real time; {c:.2f} s on the core, {3600 / c:.0f} times')";
    let theirs = Command::new(root().join("target/outside/venv/bin/python"))
        .env("OMP_NUM_THREADS", "1")
        .env("OPENBLAS_NUM_THREADS", "1")
        .args(["-c", script])
        .arg(path)
        .status();
    if !theirs.is_ok_and(|status| status.success()) {
        println!("librosa: not tried, for want of it");
    }
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// A day through a pipe; how much memory the listener had at the most, as the system kept it.
fn day(rate: f64, half_ms: f64) {
    let own = std::env::current_exe().expect("this program");
    let begun = Instant::now();
    let mut writer = Command::new(&own)
        .args(["write", &rate.to_string(), &half_ms.to_string()])
        .stdout(Stdio::piped())
        .spawn()
        .expect("a writer");
    let (program, arguments) = match std::env::var_os("TRUNDLE") {
        Some(trundle) => (PathBuf::from(trundle), ["listen", "-"].as_slice()),
        None => (own, ["read"].as_slice()),
    };
    let mut reader = Command::new(&program)
        .args(arguments)
        .stdin(writer.stdout.take().expect("a pipe"))
        .spawn()
        .expect("a listener");
    let status = format!("/proc/{}/status", reader.id());
    let mut most = String::new();
    while reader.try_wait().expect("it can be waited for").is_none() {
        let lines = std::fs::read_to_string(&status).unwrap_or_default();
        if let Some(line) = lines.lines().find(|line| line.starts_with("VmHWM")) {
            line.clone_into(&mut most);
        }
        std::thread::sleep(std::time::Duration::from_millis(20));
    }
    let _ = writer.wait();
    let kib: f64 =
        (most.split_whitespace().nth(1)).map_or(f64::NAN, |kib| kib.parse().expect("KiB"));
    println!(
        "{} {}: 24 hours at {rate} samples a second, a beat every {half_ms} ms, through a pipe in {:.0} s; at most {:.1} MiB",
        program.file_name().expect("a name").display(),
        arguments.join(" "),
        begun.elapsed().as_secs_f64(),
        kib / 1024.0
    );
}

/// Writes a day of ticking, the hours struck in it, in pieces of ten seconds.
fn write_day(rate: f64, half_s: f64) {
    const PIECE_S: f64 = 10.0;
    const PIECES: u32 = 24 * 360;
    let dice = &mut made::dice(24);
    let (tick, tock) = (Tick::pallet(dice), Tick::pallet(dice));
    let (tick, tock) = (tick.sound(rate, dice), tock.sound(rate, dice));
    let blow = Struck::bell(dice).blow(1.4, rate, dice);
    let mut still = Sound::silent(PIECE_S, rate);
    still.hiss(0.004, dice);
    let mut out = std::io::stdout().lock();
    let mut header = wav_header(rate as u32, 1, u32::MAX);
    header[4..8].copy_from_slice(&u32::MAX.to_le_bytes());
    let mut said = out.write_all(&header);
    let mut bytes = Vec::new();
    // Half a beat off the ends, so that no tick is cut.
    let beats = (PIECE_S / half_s).round() as u32;
    for piece in 0..PIECES {
        let mut sound = Sound {
            rate,
            x: still.x.clone(),
        };
        for n in 0..beats {
            let late = if n % 2 == 0 { 0.0 } else { 0.002 };
            let voice = if n % 2 == 0 { &tick } else { &tock };
            sound.add(voice, 0.02 + half_s * f64::from(n) + late, 0.1);
        }
        // Twenty seconds hold the strike of twelve.
        let hour = (piece / 360 + 11) % 12 + 1;
        for k in (0..hour).filter(|k| piece % 360 == 180 + k / 6) {
            sound.add(&blow, 0.5 + 1.5 * f64::from(k % 6), 0.2);
        }
        bytes.clear();
        let whole = |x: &f32| (x * 32_767.0).clamp(-32_768.0, 32_767.0) as i16;
        bytes.extend(sound.x.iter().flat_map(|x| whole(x).to_le_bytes()));
        said = said.and_then(|()| out.write_all(&bytes));
    }
    // A listener that is full hangs up; what it says of it is what counts.
    let _ = said;
}
