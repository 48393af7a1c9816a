//! A bench that is open, as its own process.

use std::io::{BufRead, BufReader};
use std::process::{Child, Command, Stdio};

/// A bench that is open, ended when it is dropped.
pub(crate) struct Open {
    pub(crate) child: Child,
    pub(crate) port: u16,
}

impl Drop for Open {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Started by this command, once it says where it is.
pub(crate) fn served(command: &mut Command) -> Open {
    let mut child = command.stdout(Stdio::piped()).spawn().expect("it starts");
    let mut line = String::new();
    BufReader::new(child.stdout.take().expect("its output"))
        .read_line(&mut line)
        .expect("it says where it is");
    let told = line.split("127.0.0.1:").nth(1).expect("an address");
    let port = told.split('/').next().and_then(|port| port.parse().ok());
    Open {
        child,
        port: port.expect("a port"),
    }
}
