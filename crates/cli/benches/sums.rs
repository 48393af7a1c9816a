//! Each of the other sums as a user runs it: from the start of the process to its end, with its drawing written. Median of
//! twenty, printed.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

fn main() {
    let folder = std::env::temp_dir().join(format!("trundle-sums-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let drawing = folder.join("a.svg");
    let sample = |name: &str| format!("{}/../../movements/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    let lost = folder.join("lost.toml");
    let three = std::fs::read_to_string(sample("attic"))
        .expect("the sample")
        .replace("pinion = 7\nwheel = 28", "pinion = \"?\"\nwheel = 28")
        .replace("\"40?\"", "40");
    std::fs::write(&lost, three).expect("written");
    let lost = lost.display().to_string();
    let (mantel, attic) = (sample("mantel"), sample("attic"));
    for (what, args) in [
        ("count, as the sample is", vec!["count", &attic]),
        (
            "count, three lost of a going train",
            vec!["count", &lost, "--all"],
        ),
        (
            "power",
            vec!["power", &mantel, "--instead", "12x0.3x1200mm"],
        ),
        (
            "pendulum",
            vec![
                "pendulum",
                &mantel,
                "--latitude",
                "51.5",
                "--gains",
                "60",
                "--rod",
                "steel",
                "--bob",
                "lead",
            ],
        ),
        ("oil", vec!["oil", &mantel]),
    ] {
        let mut times: Vec<Duration> = (0..21)
            .map(|_| {
                let started = Instant::now();
                let status = Command::new(env!("CARGO_BIN_EXE_trundle"))
                    .args(&args)
                    .arg("--drawing")
                    .arg(&drawing)
                    .stdout(Stdio::null())
                    .status()
                    .expect("it runs");
                assert!(status.success(), "{what}");
                started.elapsed()
            })
            .collect();
        // The first warms what is kept in memory.
        times.remove(0);
        times.sort();
        println!(
            "{what}, of twenty: median {:?}, least {:?}, most {:?}",
            times[10], times[0], times[19]
        );
    }
    std::fs::remove_dir_all(&folder).expect("removed");
}
