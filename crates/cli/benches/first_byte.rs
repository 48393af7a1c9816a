//! From the start of the process to the first byte of a job's page, warm: the book is there and was read before. Median of
//! twenty, printed.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

fn main() {
    let folder = std::env::temp_dir().join(format!("trundle-first-byte-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    let book = folder.join("bench.book");
    let mut times: Vec<Duration> = Vec::new();
    for _ in 0..21 {
        // A port that is free now, and let go just before.
        let port = TcpListener::bind(("127.0.0.1", 0))
            .and_then(|listener| listener.local_addr())
            .expect("a port")
            .port();
        let started = Instant::now();
        let mut child = Command::new(env!("CARGO_BIN_EXE_trundle"))
            .args(["bench", "--no-open", "--port", &port.to_string(), "--book"])
            .arg(&book)
            .stdout(Stdio::null())
            .spawn()
            .expect("it starts");
        let mut stream = loop {
            match TcpStream::connect(("127.0.0.1", port)) {
                Ok(stream) => break stream,
                Err(_) => std::thread::sleep(Duration::from_micros(500)),
            }
        };
        let request =
            format!("GET /job/1 HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nConnection: close\r\n\r\n");
        stream.write_all(request.as_bytes()).expect("asked");
        let mut byte = [0];
        stream.read_exact(&mut byte).expect("a byte");
        times.push(started.elapsed());
        let mut rest = String::new();
        stream.read_to_string(&mut rest).expect("a page");
        assert!(rest.starts_with("TTP/1.1 200"), "{rest}");
        child.kill().expect("ended");
        child.wait().expect("gone");
    }
    std::fs::remove_dir_all(&folder).expect("removed");
    // The first makes the book and warms what is kept in memory.
    times.remove(0);
    times.sort();
    println!(
        "start to first byte, of twenty: median {:?}, least {:?}, most {:?}",
        times[10], times[0], times[19]
    );
}
