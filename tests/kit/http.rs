//! HTTP: a client of a few lines, for the tests: requests written as they are typed, answers read to their end.

use std::io::{Read as _, Write as _};
use std::net::{Ipv4Addr, TcpStream};
use std::time::Duration;

/// For one answer of a build without optimisation on a busy machine.
const PATIENCE: Duration = Duration::from_mins(2);

pub struct HttpAnswer {
    pub status: u16,
    pub head: String,
    pub body: Vec<u8>,
}

impl HttpAnswer {
    pub fn text(&self) -> String {
        String::from_utf8_lossy(&self.body).into_owned()
    }

    pub fn header(&self, name: &str) -> Option<&str> {
        let lines = self.head.lines().filter_map(|line| line.split_once(": "));
        lines.into_iter().find(|(known, _)| known.eq_ignore_ascii_case(name)).map(|(_, value)| value)
    }
}

pub fn connect(port: u16) -> TcpStream {
    let stream = TcpStream::connect((Ipv4Addr::LOCALHOST, port)).expect("the server takes connections");
    stream.set_read_timeout(Some(PATIENCE)).expect("a time limit");
    stream
}

/// Sends a request of this first line, these header lines and this body; the connection is closed after the answer.
pub fn request(port: u16, first: &str, headers: &[String], body: &str) -> HttpAnswer {
    let mut stream = connect(port);
    let headers: Vec<String> = headers.iter().map(|line| format!("{line}\r\n")).collect();
    let length = body.len();
    let sent =
        format!("{first} HTTP/1.1\r\n{}Connection: close\r\nContent-Length: {length}\r\n\r\n{body}", headers.concat());
    // A server that has refused takes no more and may close before all is sent; its answer counts.
    let _ = stream.write_all(sent.as_bytes());
    let mut read = Vec::new();
    let _ = stream.read_to_end(&mut read);
    let end = read.windows(4).position(|four| four == b"\r\n\r\n").expect("the answer has a head");
    let head = String::from_utf8_lossy(&read[..end]).into_owned();
    let status = head.split(' ').nth(1).and_then(|status| status.parse().ok()).expect("a status");
    HttpAnswer { status, head, body: read[end + 4..].to_vec() }
}
