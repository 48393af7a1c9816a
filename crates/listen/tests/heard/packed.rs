//! The same ticking as plain and as packed sound: the same beats are heard. The packing is another library's.

use crate::made::dice;
use crate::made::scenes::{Going, ticking};
use crate::outside::ask;
use listen::{Detector, SoundEnd, decode};
use serde_json::{Value, json};
use std::ops::ControlFlow;
use std::path::Path;

/// The form, how its samples are written, and how many channels.
type Form = (&'static str, &'static str, usize);

fn hear(path: &Path) -> Vec<f64> {
    let mut ear = None;
    let file = std::fs::File::open(path).expect("a recording");
    let ended = decode(file, |sound, rate| {
        ear.get_or_insert_with(|| Detector::new(rate)).hear(sound);
        ControlFlow::Continue(())
    });
    assert_eq!(ended, Ok(SoundEnd::Whole), "{path:?}");
    let heard = ear.expect("sound").finish();
    heard.beats.iter().map(|beat| beat.at_s).collect()
}

#[test]
fn flac_mp3_and_ogg_are_heard_as_the_wav_is() {
    let folder = std::env::temp_dir().join(format!("packed-ticking-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let forms: [(f64, &[Form]); 4] = [
        (8_000.0, &[("WAV", "PCM_32", 1), ("FLAC", "PCM_16", 1)]),
        (
            44_100.0,
            &[
                ("WAV", "PCM_24", 2),
                ("WAV", "FLOAT", 2),
                ("WAVEX", "PCM_16", 2),
                ("FLAC", "PCM_24", 2),
                ("OGG", "VORBIS", 1),
                ("OGG", "VORBIS", 2),
                ("MP3", "MPEG_LAYER_III", 1),
                ("MP3", "MPEG_LAYER_III", 2),
            ],
        ),
        (
            48_000.0,
            &[("MP3", "MPEG_LAYER_III", 2), ("WAV", "DOUBLE", 1)],
        ),
        (96_000.0, &[("FLAC", "PCM_24", 2), ("RF64", "PCM_16", 2)]),
    ];
    for (rate, forms) in forms {
        let dice = &mut dice(60);
        let going = Going {
            half_s: 0.4,
            late_s: 0.008,
            jitter_s: 0.001,
        };
        let times = going.times(16.0, dice);
        let wav = folder.join(format!("{rate}.wav"));
        let bytes = ticking(&times, 16.0, rate, 25.0, dice).wav();
        std::fs::write(&wav, bytes).expect("written");
        let plain = hear(&wav);
        assert_eq!(plain.len(), times.len(), "{rate}");
        let asked: Vec<Value> = (forms.iter().enumerate())
            .map(|(k, (form, subform, channels))| {
                json!([format!("{rate}-{k}"), form, subform, channels])
            })
            .collect();
        let Some(paths) = ask("packed.py", &json!({ "wav": wav, "forms": asked })) else {
            break;
        };
        for (path, form) in paths.as_array().expect("a list").iter().zip(forms) {
            let packed = hear(Path::new(path.as_str().expect("a path")));
            assert_eq!(packed.len(), plain.len(), "{rate} {form:?}");
            let mut off: Vec<f64> = (packed.iter().zip(&plain)).map(|(a, b)| a - b).collect();
            off.sort_by(f64::total_cmp);
            // An MP3 begins with some silence of its packer's, up to 1105 and 576 samples, which all beats share.
            let shared = off[off.len() / 2];
            let most = if form.0 == "MP3" {
                1_700.0 / rate
            } else {
                0.001
            };
            assert!(shared.abs() < most, "{rate} {form:?}: {shared}");
            let strays = (off[off.len() - 1] - shared).max(shared - off[0]);
            assert!(strays < 0.002, "{rate} {form:?}: {strays}");
        }
    }
    let _ = std::fs::remove_dir_all(&folder);
}
