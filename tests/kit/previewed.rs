//! Previewed: the binary serving the preview of a cover in a folder of its own, and a page that asks it.

use crate::http::{HttpAnswer, connect, request};
use serde_json::Value;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// Far longer than any machine needs.
const PATIENCE: Duration = Duration::from_mins(2);

pub struct Previewed {
    pub home: tempfile::TempDir,
    pub child: Child,
    pub port: u16,
    key: String,
    /// What the terminal showed before the address.
    pub said: String,
}

impl Previewed {
    /// Types `preview .` among these files.
    pub fn start(files: &[(&str, &str)], words: &[&str]) -> Previewed {
        let home = tempfile::tempdir().expect("a temporary folder");
        for (name, text) in files {
            std::fs::write(home.path().join(name), text).expect("writes");
        }
        Previewed::serve(home, &[&["--no-store"], words].concat())
    }

    /// Types `preview .` in a folder that is there already.
    pub fn serve(home: tempfile::TempDir, words: &[&str]) -> Previewed {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(home.path()).args(["preview", "."]).args(words);
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().expect("the binary runs");
        let mut lines = BufReader::new(child.stdout.take().expect("is piped")).lines();
        let mut said = String::new();
        let address = loop {
            let line = lines.next().expect("the address comes").expect("a line");
            match line.strip_prefix("preview: http://127.0.0.1:") {
                Some(address) => break address.to_owned(),
                None => said.push_str(&line),
            }
        };
        std::thread::spawn(move || lines.for_each(drop));
        let (port, key) = address.split_once("/?key=").expect("an address with a key");
        Previewed { home, child, port: port.parse().expect("a number"), key: key.to_owned(), said }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }

    /// Put in its place at once, as editors do.
    pub fn put(&self, name: &str, text: &str) {
        let beside = self.path("new");
        std::fs::write(&beside, text).expect("writes");
        std::fs::rename(beside, self.path(name)).expect("renames");
    }

    pub fn host(&self) -> String {
        format!("Host: 127.0.0.1:{}", self.port)
    }

    pub fn cookie(&self) -> String {
        format!("Cookie: jaconet-{}={}", self.port, self.key)
    }

    pub fn key(&self) -> &str {
        &self.key
    }

    pub fn get(&self, path: &str) -> HttpAnswer {
        request(self.port, &format!("GET {path}"), &[self.host(), self.cookie()], "")
    }

    pub fn json(&self, path: &str) -> Value {
        let answer = self.get(path);
        assert_eq!(answer.status, 200, "{path}: {}", answer.text());
        serde_json::from_slice(&answer.body).expect("JSON")
    }

    pub fn post(&self, path: &str, body: &str) -> HttpAnswer {
        let headers = [self.host(), self.cookie(), "Content-Type: application/json".to_owned()];
        request(self.port, &format!("POST {path}"), &headers, body)
    }

    /// Begins to listen for news.
    pub fn listen(&self) -> TcpStream {
        let mut stream = connect(self.port);
        let head = format!("GET /events HTTP/1.1\r\n{}\r\n{}\r\n\r\n", self.host(), self.cookie());
        stream.write_all(head.as_bytes()).expect("is sent");
        let mut first = [0; 12];
        stream.read_exact(&mut first).expect("the answer begins");
        assert_eq!(&first, b"HTTP/1.1 200");
        stream
    }

    /// The account of the first cover once it satisfies this.
    pub fn until(&self, wanted: impl Fn(&Value) -> bool) -> Value {
        let begun = Instant::now();
        loop {
            let account = self.json("/cover/0");
            if wanted(&account) {
                return account;
            }
            assert!(begun.elapsed() < PATIENCE, "the change is not seen: {account}");
            std::thread::sleep(Duration::from_millis(50));
        }
    }

    /// The names of all tiles at a scale.
    pub fn tiles(&self, z: usize, columns: usize, rows: usize) -> Vec<Value> {
        let path = format!("/tiles/0?z={z}&x=0&y=0&columns={columns}&rows={rows}&plates=all");
        self.json(&path)["names"].as_array().expect("a list").clone()
    }

    /// Presses Ctrl-C, and says how long the end took and with which code.
    pub fn interrupt(&mut self) -> (Duration, Option<i32>) {
        let begun = Instant::now();
        let id = self.child.id().to_string();
        assert!(Command::new("kill").args(["-INT", &id]).status().expect("kill runs").success());
        let status = self.child.wait().expect("it ends");
        (begun.elapsed(), status.code())
    }
}

impl Drop for Previewed {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
