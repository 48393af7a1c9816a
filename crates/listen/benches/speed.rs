//! An hour of ticking at 48 kHz, from the bytes of a WAV file to what was heard, on one core; and librosa's onset detection on the same
//! hour, where it is installed: `cargo bench -p listen --bench speed`.

#[path = "../tests/heard/made/mod.rs"]
mod made;

use listen::{Ear, decode};
use made::scenes::{Going, ticking};
use std::ops::ControlFlow;
use std::time::Instant;

fn main() {
    const SECONDS: f64 = 3600.0;
    let dice = &mut made::dice(1);
    let going = Going {
        half_s: 0.5,
        late_s: 0.006,
        jitter_s: 0.001,
    };
    let times = going.times(SECONDS, dice);
    let bytes = ticking(&times, SECONDS, 48_000.0, 25.0, dice).wav();
    let path = std::env::temp_dir().join(format!("an-hour-of-ticking-{}.wav", std::process::id()));
    std::fs::write(&path, &bytes).expect("room for it");
    drop(bytes);
    for _ in 0..3 {
        let begun = Instant::now();
        let mut ear = None;
        let file = std::fs::File::open(&path).expect("the hour");
        let ended = decode(file, |sound, rate| {
            ear.get_or_insert_with(|| Ear::new(rate)).hear(sound);
            ControlFlow::Continue(())
        });
        let heard = ear.expect("sound").finish();
        let took = begun.elapsed().as_secs_f64();
        println!(
            "listen: {:.2} s for an hour, {:.0} times real time; {} of {} beats, {} strikes where there are none, {ended:?}",
            took,
            SECONDS / took,
            heard.beats.len(),
            times.len(),
            heard.strikes.len()
        );
    }
    let python = std::path::Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("../../target/outside/venv/bin/python");
    let script = "import sys, time, librosa, soundfile\nt = time.time()\nx, r = soundfile.read(sys.argv[1], dtype='float32')\nlibrosa.onset.onset_detect(y=x, sr=r)\nd = time.time() - t\nprint(f'librosa: {d:.2f} s for an hour, {3600 / d:.0f} times real time')";
    let theirs = std::process::Command::new(python)
        .env("OMP_NUM_THREADS", "1")
        .args(["-c", script])
        .arg(&path)
        .status();
    if !theirs.is_ok_and(|status| status.success()) {
        println!("librosa: not tried, for want of it");
    }
    let _ = std::fs::remove_file(&path);
}
