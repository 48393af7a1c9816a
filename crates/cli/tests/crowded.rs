//! The bench in a crowd: connections that never ask, pictures that come in a dozen at once, heavy sums of eight jobs. Whoever times a
//! train is answered all the same, and memory stays bounded.

mod opened;

use opened::{Open, served};
use percent_encoding::{NON_ALPHANUMERIC, utf8_percent_encode};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::path::Path;
use std::process::Command;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

fn open(book: &Path) -> Open {
    let mut command = Command::new(assert_cmd::cargo::cargo_bin!("trundle"));
    command.args(["bench", "--no-open", "--port", "0", "--book"]);
    served(command.arg(book))
}

/// The head of a request.
fn head(port: u16, ask: &str, more: &str) -> String {
    format!(
        "{ask} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nOrigin: http://127.0.0.1:{port}\r\nConnection: close\r\n{more}\r\n"
    )
}

/// The status of an answer, and all of it; nothing where none came.
fn answered(mut stream: TcpStream) -> Option<(u16, String)> {
    let mut answer = Vec::new();
    stream
        .set_read_timeout(Some(Duration::from_secs(180)))
        .ok()?;
    stream.read_to_end(&mut answer).ok()?;
    let answer = String::from_utf8_lossy(&answer).into_owned();
    let status = answer.split(' ').nth(1)?.parse().ok()?;
    Some((status, answer))
}

fn get(port: u16, path: &str) -> Option<(u16, String)> {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).ok()?;
    let ask = head(port, &format!("GET {path}"), "");
    stream.write_all(ask.as_bytes()).ok()?;
    answered(stream)
}

fn post(port: u16, path: &str, body: &str) -> Option<(u16, String)> {
    let mut stream = TcpStream::connect(("127.0.0.1", port)).ok()?;
    let kind = format!(
        "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: {}\r\n",
        body.len()
    );
    let ask = head(port, &format!("POST {path}"), &kind);
    stream.write_all(ask.as_bytes()).ok()?;
    stream.write_all(body.as_bytes()).ok()?;
    answered(stream)
}

fn coded(text: &str) -> String {
    utf8_percent_encode(text, NON_ALPHANUMERIC).to_string()
}

/// Sends a picture of so many bytes that is none, a piece at a time, so that this side holds none of it.
fn upload(port: u16, bytes: usize) -> Option<u16> {
    let mark = "a-line-that-no-picture-has";
    let begins = format!(
        "--{mark}\r\nContent-Disposition: form-data; name=\"entries\"\r\n\r\n0\r\n--{mark}\r\n\
         Content-Disposition: form-data; name=\"when\"\r\n\r\nbefore\r\n--{mark}\r\n\
         Content-Disposition: form-data; name=\"picture\"; filename=\"a.jpg\"\r\n\r\n"
    );
    let ends = format!("\r\n--{mark}--\r\n");
    let kind = format!(
        "Content-Type: multipart/form-data; boundary={mark}\r\nContent-Length: {}\r\n",
        begins.len() + bytes + ends.len()
    );
    let mut stream = TcpStream::connect(("127.0.0.1", port)).ok()?;
    let ask = head(port, "POST /job/1/picture", &kind);
    stream.write_all(ask.as_bytes()).ok()?;
    stream.write_all(begins.as_bytes()).ok()?;
    let piece = vec![0x5a; 1 << 20];
    for _ in 0..bytes >> 20 {
        stream.write_all(&piece).ok()?;
    }
    stream.write_all(ends.as_bytes()).ok()?;
    answered(stream).map(|(status, _)| status)
}

/// The most memory that a process held, megabytes: `VmHWM` of proc(5).
fn most_held(of: u32) -> u64 {
    let status = std::fs::read_to_string(format!("/proc/{of}/status")).expect("Linux");
    let line = status.lines().find(|line| line.starts_with("VmHWM:"));
    let kilobytes = line.and_then(|line| line.split_whitespace().nth(1));
    kilobytes
        .and_then(|n| n.parse::<u64>().ok())
        .expect("a figure")
        / 1024
}

/// Raises how many files this process may have open, and says how many connections that leaves room for.
fn room_for(wanted: usize) -> usize {
    let pid = std::process::id().to_string();
    let raised = Command::new("prlimit")
        .args(["--pid", &pid, "--nofile=8192:"])
        .status();
    if raised.is_ok_and(|status| status.success()) {
        return wanted;
    }
    println!("the limit of open files could not be raised: 600 connections, not {wanted}");
    600.min(wanted)
}

#[test]
fn a_train_is_timed_in_a_crowd_and_memory_stays_bounded() {
    let folder = tempfile::tempdir().expect("a folder");
    let bench = open(&folder.path().join("crowd.book"));
    let port = bench.port;
    // Eight jobs besides the sample that lies there, each with a strike to be run and one that never ends.
    let sheet = include_str!("../../../movements/parlour.toml");
    for n in 0..8 {
        let named = sheet.replacen("name = \"", &format!("name = \"{n} "), 1);
        let sheet = named.replace("turn_s = 3600", "turn_s = 1");
        let begun = post(port, "/jobs", &format!("sheet={}", coded(&sheet)));
        assert_eq!(begun.expect("an answer").0, 303);
    }
    let idle = room_for(2_000);
    let mut half_open: Vec<TcpStream> = Vec::new();
    for n in 0..idle {
        let Ok(mut stream) = TcpStream::connect(("127.0.0.1", port)) else {
            panic!("connection {n} was refused");
        };
        if n % 2 == 0 {
            // Some never ask, some never to the end.
            let _ = stream.write_all(b"GET /job/1 HTTP/1.1\r\nHost: ");
        }
        half_open.push(stream);
    }
    let (sums, refused) = (AtomicUsize::new(0), AtomicUsize::new(0));
    let mut took: Vec<Duration> = Vec::new();
    std::thread::scope(|scope| {
        let uploads: Vec<_> = (0..12)
            .map(|_| scope.spawn(move || upload(port, 40 << 20)))
            .collect();
        for n in 2..10 {
            let (sums, refused) = (&sums, &refused);
            scope.spawn(move || {
                for page in ["strike", "strike/table", "counts", "strike/table"] {
                    match get(port, &format!("/job/{n}/{page}")).map(|(status, _)| status) {
                        Some(200) => sums.fetch_add(1, Ordering::Relaxed),
                        Some(503) => refused.fetch_add(1, Ordering::Relaxed),
                        other => panic!("job {n}, {page}: {other:?}"),
                    };
                }
            });
        }
        for n in 0..60 {
            let began = Instant::now();
            let (status, page) = get(port, "/job/1").unwrap_or_else(|| panic!("page {n} of 60"));
            assert!(
                status == 200 && page.ends_with("</html>"),
                "page {n}: {status}"
            );
            took.push(began.elapsed());
        }
        for upload in uploads {
            // It is no picture: that is told to each that was taken in whole, or asked to come again.
            let status = upload.join().expect("it ends");
            assert!(matches!(status, Some(422 | 503)), "{status:?}");
        }
    });
    took.sort();
    let held = most_held(bench.child.id());
    println!(
        "60 timing pages: the median {:?}, 95 in 100 within {:?}, all within {:?}; {} heavy pages told, {} asked to come again; \
         {held} MB at most, {} connections idle",
        took[30],
        took[56],
        took[59],
        sums.into_inner(),
        refused.into_inner(),
        half_open.len()
    );
    assert!(held < 400, "{held} MB");
}

#[test]
fn a_connection_that_never_asks_gives_its_place_to_the_next() {
    let folder = tempfile::tempdir().expect("a folder");
    let bench = open(&folder.path().join("places.book"));
    let connect = || TcpStream::connect(("127.0.0.1", bench.port)).expect("it listens");
    let mut first = connect();
    first.write_all(b"GET /job/1 HT").expect("sent");
    // As many again as there is room for: the first was idle longest.
    let others: Vec<TcpStream> = (0..400).map(|_| connect()).collect();
    assert_eq!(get(bench.port, "/job/1").expect("answered").0, 200);
    first
        .set_read_timeout(Some(Duration::from_secs(60)))
        .expect("set");
    let mut nothing = Vec::new();
    // It is closed, whether or not with a word.
    let closed = first.read_to_end(&mut nothing);
    assert!(
        closed.is_ok() || closed.is_err_and(|e| e.kind() == std::io::ErrorKind::ConnectionReset)
    );
    drop(others);
}

/// Half a minute is waited for here, once: how long it takes is not asked, only that it comes to its end.
#[test]
fn what_stalls_gives_its_place_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let bench = open(&folder.path().join("stalled.book"));
    let port = bench.port;
    let connect = || {
        let stream = TcpStream::connect(("127.0.0.1", port)).expect("it listens");
        let patience = Some(Duration::from_secs(180));
        stream.set_read_timeout(patience).expect("set");
        stream
    };
    let gone = |mut stream: TcpStream| {
        let mut rest = Vec::new();
        match stream.read_to_end(&mut rest) {
            Ok(_) => {}
            Err(error) => assert_eq!(error.kind(), std::io::ErrorKind::ConnectionReset),
        }
        String::from_utf8_lossy(&rest).into_owned()
    };
    // One that never asks, one that never asks to the end, and forms that stall: as many pictures as may come in at once, one of
    // them with its beginning, and an entry.
    let silent = connect();
    let mut half = connect();
    half.write_all(b"GET /job/1 HTTP/1.1\r\nHo").expect("sent");
    let stalled: Vec<TcpStream> = ["/job/1/picture", "/job/1/picture", "/job/1/enter"]
        .into_iter()
        .map(|path| {
            let kind = match path {
                "/job/1/enter" => "application/x-www-form-urlencoded",
                _ => "multipart/form-data; boundary=a-line",
            };
            let more = format!("Content-Type: {kind}\r\nContent-Length: 4000\r\n");
            let mut stream = connect();
            let ask = head(port, &format!("POST {path}"), &more) + "--a-line\r\n";
            stream.write_all(ask.as_bytes()).expect("sent");
            stream
        })
        .collect();
    std::thread::scope(|scope| {
        let waits = scope.spawn(|| upload(port, 1 << 20));
        // While they stall, the train is timed.
        assert_eq!(get(port, "/job/1").expect("answered").0, 200);
        let status = waits.join().expect("it ends");
        assert_eq!(status, Some(422), "its turn came: it is no picture");
    });
    for stream in stalled {
        let told = gone(stream);
        assert!(
            told.is_empty() || told.starts_with("HTTP/1.1 400"),
            "{told}"
        );
    }
    gone(silent);
    gone(half);
}
