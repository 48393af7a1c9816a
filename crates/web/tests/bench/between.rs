//! What stands between a browser and the bench: passes on what is asked, holds it, lets it fall, or is gone.

use crate::served::Served;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Condvar, Mutex};

/// What becomes of a request.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Fate {
    Passed,
    Held,
    Dropped,
}

pub(crate) struct Between {
    pub(crate) port: u16,
    bench: SocketAddr,
    fate: Arc<(Mutex<Fate>, Condvar)>,
    listening: Option<std::thread::JoinHandle<()>>,
}

impl Between {
    pub(crate) fn before(served: &Served) -> Between {
        let mut between = Between {
            port: 0,
            bench: served.v4(),
            fate: Arc::new((Mutex::new(Fate::Passed), Condvar::new())),
            listening: None,
        };
        between.comes();
        between
    }

    pub(crate) fn address(&self) -> String {
        format!("http://127.0.0.1:{}", self.port)
    }

    /// From now on; what is held has that fate too.
    pub(crate) fn becomes(&self, fate: Fate) {
        *self.fate.0.lock().expect("sound") = fate;
        self.fate.1.notify_all();
    }

    /// Nobody listens there any more.
    pub(crate) fn goes(&mut self) {
        self.becomes(Fate::Dropped);
        // Whoever waits for the next connection is woken by one.
        let _ = TcpStream::connect(("127.0.0.1", self.port));
        let listening = self.listening.take().expect("it listens");
        listening.join().expect("it left off");
    }

    /// It listens, where it did before.
    pub(crate) fn comes(&mut self) {
        self.becomes(Fate::Passed);
        let listener = TcpListener::bind(("127.0.0.1", self.port)).expect("a port");
        self.port = listener.local_addr().expect("its own").port();
        let (fate, bench, own) = (Arc::clone(&self.fate), self.bench, self.port);
        self.listening = Some(std::thread::spawn(move || {
            for stream in listener.incoming() {
                let fate = Arc::clone(&fate);
                if *fate.0.lock().expect("sound") == Fate::Dropped {
                    return;
                }
                let stream = stream.expect("a connection");
                // A browser that leaves off in the middle is no fault.
                std::thread::spawn(move || one(&stream, &fate, (own, bench)).ok());
            }
        }));
    }
}

/// One request of a connection, under the bench's own name; the connection is closed after it.
fn one(
    stream: &TcpStream,
    (fate, told): &(Mutex<Fate>, Condvar),
    (own, bench): (u16, SocketAddr),
) -> std::io::Result<()> {
    let mut asked = BufReader::new(stream.try_clone()?);
    let mut head = String::new();
    let mut long = 0;
    loop {
        let mut line = String::new();
        if asked.read_line(&mut line)? == 0 || line == "\r\n" {
            break;
        }
        let (name, value) = line.split_once(": ").unwrap_or((&line, ""));
        match name.to_ascii_lowercase().as_str() {
            "connection" => continue,
            "content-length" => long = value.trim().parse().unwrap_or(0),
            _ => {}
        }
        let (here, there) = (format!("127.0.0.1:{own}"), bench.to_string());
        head += &line.replace(&here, &there);
    }
    let mut body = vec![0; long];
    asked.read_exact(&mut body)?;
    let held = fate.lock().expect("sound");
    let fate = told.wait_while(held, |fate| *fate == Fate::Held);
    if *fate.expect("sound") == Fate::Dropped || head.is_empty() {
        return Ok(());
    }
    let mut there = TcpStream::connect(bench)?;
    there.write_all(format!("{head}Connection: close\r\n\r\n").as_bytes())?;
    there.write_all(&body)?;
    std::io::copy(&mut there, &mut &*stream)?;
    Ok(())
}
