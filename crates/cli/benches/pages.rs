//! Every kind of page of a bench with ten thousand jobs and a million entries in its book, over HTTP: median and 95th
//! percentile of a hundred, and the most memory the bench ever had. Printed, held against nothing.
//!
//! Each job has the sample's sheet, ten entries that show a picture and ninety others. A hundred pictures are kept, and
//! each is shown by a thousand entries: what a page costs does not depend on how many files there are.

use book::{Book, Syncing};
use entries::{Decimal, EntryKind, Kept, Log, Occasion, Stage, Striking, Work};
use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

const JOBS: usize = 10_000;
const ENTRIES: usize = 100;
const TRIES: usize = 100;
const SHEET: &str = include_str!("../../../movements/schoolroom.toml");

fn main() {
    let folder = std::env::temp_dir().join(format!("trundle-pages-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let path = folder.join("bench.book");
    let began = Instant::now();
    fill(&path);
    println!(
        "{JOBS} jobs of {ENTRIES} entries filled in {:.0} s",
        began.elapsed().as_secs_f64()
    );
    let (mut bench, port) = open(&path);
    type Page = (&'static str, fn(usize) -> String);
    let pages: [Page; 13] = [
        ("the list", |_| "/jobs".to_owned()),
        ("the list with those gone home", |_| "/jobs?home".to_owned()),
        ("a job's way", |i| format!("/job/{}/way", job(i))),
        ("the timing of a train", |i| format!("/job/{}", job(i))),
        ("the owner's record", |i| format!("/job/{}/record", job(i))),
        ("the whole record", |i| {
            format!("/job/{}/record/whole", job(i))
        }),
        ("the strike shown running", |i| {
            format!("/job/{}/strike", job(i))
        }),
        ("missing counts", |i| format!("/job/{}/counts", job(i))),
        ("power", |i| format!("/job/{}/power", job(i))),
        ("pendulum and rating", |i| {
            format!("/job/{}/pendulum", job(i))
        }),
        ("oil", |i| format!("/job/{}/oil", job(i))),
        ("a search for a rare word", |i| {
            format!("/search?for=word{}", 7 * i + 1)
        }),
        ("a search for a common word", |_| {
            "/search?for=bushing".to_owned()
        }),
    ];
    for (name, address) in pages {
        let mut times: Vec<Duration> = (0..TRIES + 5).map(|i| get(port, &address(i))).collect();
        // The first few warm what is kept in memory.
        times.drain(..5);
        times.sort();
        println!(
            "{name}: median {:.1} ms, 95th percentile {:.1} ms",
            1e3 * times[TRIES / 2].as_secs_f64(),
            1e3 * times[TRIES * 95 / 100].as_secs_f64()
        );
    }
    let status = std::fs::read_to_string(format!("/proc/{}/status", bench.id()));
    let most = status.ok().and_then(|text| {
        let line = text
            .lines()
            .find(|line| line.starts_with("VmHWM:"))?
            .to_owned();
        line.split_whitespace().nth(1)?.parse::<u64>().ok()
    });
    match most {
        Some(most) => println!("the most memory of the bench: {} MiB", most / 1024),
        None => println!("the most memory of the bench: not told by this system"),
    }
    bench.kill().expect("ended");
    bench.wait().expect("gone");
    std::fs::remove_dir_all(&folder).expect("removed");
}

/// Another job each time.
fn job(i: usize) -> usize {
    1 + (i * 97) % JOBS
}

fn fill(path: &Path) {
    let book = Book::open_with(path, Syncing::Never).expect("a book");
    let pictures: Vec<_> = (0..100u8)
        .map(|i| {
            let picture = image::RgbImage::from_fn(320, 240, |x, y| {
                image::Rgb([
                    i,
                    u8::try_from(x / 2).unwrap_or(0),
                    u8::try_from(y).unwrap_or(0),
                ])
            });
            let mut bytes = std::io::Cursor::new(Vec::new());
            picture
                .write_to(&mut bytes, image::ImageFormat::Png)
                .expect("a picture");
            book.keep_picture(bytes.get_ref()).expect("kept").digest
        })
        .collect();
    let here = |text: String| Kept::Here(text);
    for j in 0..JOBS {
        let clock = format!("Quay Street clock number {}", j + 1);
        let intake = Work::Intake {
            clock: here(clock.clone()),
            owner: None,
            reach: None,
            complaint: Some(here(format!("strikes word{j}"))),
            promised: None,
        };
        let mut log: Log =
            tasks::come_in(&clock, SHEET, &intake, Some("2026-03-01")).expect("begun");
        for n in 1..ENTRIES {
            let work = match n % 10 {
                0 => Work::Picture {
                    picture: Kept::Here(pictures[(j + n) % 100].clone()),
                    when: Occasion::During,
                    says: None,
                },
                1 => Work::Fitted {
                    part: here(format!("bushing {n}")),
                    says: None,
                },
                2 => Work::TrialRun {
                    hours: Decimal::parse("24").expect("a decimal"),
                    rate_s_per_day: Decimal::parse(&format!("-{n}")).ok(),
                    beat_error_ms: None,
                    arc_deg: None,
                    struck: Some(Striking::Right),
                    says: None,
                },
                3 if n == 3 => Work::Stage {
                    to: Stage::Together,
                },
                _ => Work::Note {
                    says: here(format!("entry {n} of job {j}: word{}", j * n)),
                },
            };
            log.append(&EntryKind::Work(work), Some("2026-03-02"))
                .expect("entered");
        }
        book.start(&clock, SHEET, log.text()).expect("kept");
    }
}

fn open(path: &Path) -> (Child, u16) {
    // A port that is free now, and let go just before.
    let port = TcpListener::bind(("127.0.0.1", 0))
        .and_then(|listener| listener.local_addr())
        .expect("a port")
        .port();
    let child = Command::new(env!("CARGO_BIN_EXE_trundle"))
        .args(["bench", "--no-open", "--port", &port.to_string(), "--book"])
        .arg(path)
        .stdout(Stdio::null())
        .spawn()
        .expect("it starts");
    while TcpStream::connect(("127.0.0.1", port)).is_err() {
        std::thread::sleep(Duration::from_millis(20));
    }
    (child, port)
}

fn get(port: u16, path: &str) -> Duration {
    let began = Instant::now();
    let mut stream = TcpStream::connect(("127.0.0.1", port)).expect("it listens");
    let request =
        format!("GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n");
    stream.write_all(request.as_bytes()).expect("asked");
    let mut answer = Vec::new();
    stream.read_to_end(&mut answer).expect("answered");
    let took = began.elapsed();
    assert!(
        answer.starts_with(b"HTTP/1.1 200"),
        "{path}: {}",
        String::from_utf8_lossy(&answer[..answer.len().min(300)])
    );
    took
}
