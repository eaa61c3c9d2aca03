//! Binary: the program run on files in a folder of its own, by its exit code and what it says.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// For one command in a build without optimisation on a busy machine.
pub const LIMIT: Duration = Duration::from_mins(2);
pub const ERRORS: i32 = 1;
pub const STOPPED: i32 = 2;

pub const HEAD: &str = "book { title \"Salt\"; pages 320 }\nformat paperback { trim 129 198 }\n";

pub struct TestHome(tempfile::TempDir);

impl TestHome {
    pub fn new() -> TestHome {
        TestHome(tempfile::tempdir().expect("a temporary folder"))
    }

    pub fn with(self, path: &str, bytes: impl AsRef<[u8]>) -> TestHome {
        let path = self.path(path);
        std::fs::create_dir_all(path.parent().expect("it stands in the home")).expect("a folder");
        std::fs::write(path, bytes).expect("a file");
        self
    }

    pub fn path(&self, path: &str) -> PathBuf {
        self.0.path().join(path)
    }
}

/// Exit code and the error stream, without a panic and in time.
pub fn run(home: &TestHome, words: &[&str]) -> (i32, String) {
    let (out, error) = (home.path("stdout"), home.path("stderr"));
    let file = |path: &Path| std::fs::File::create(path).expect("a file");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(home.0.path()).args(words).env("NO_COLOR", "1").stdin(Stdio::null());
    let mut child = command.stdout(file(&out)).stderr(file(&error)).spawn().expect("the binary starts");
    let begun = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("the binary can be asked") {
            break status;
        }
        if begun.elapsed() > LIMIT {
            child.kill().expect("the binary can be ended");
            panic!("{words:?} does not end");
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let stated = String::from_utf8_lossy(&std::fs::read(&error).expect("is there")).into_owned();
    assert!(!stated.contains("panicked") && !stated.contains("fault of the program"), "{stated}");
    (status.code().expect("it ends by itself, no signal"), stated)
}

/// Checks a cover: the exit code, and words that must be stated, the place among them.
pub fn check(text: impl AsRef<[u8]>, exit: i32, awaited: &[&str]) {
    says(&TestHome::new().with("cover.kdl", text), exit, awaited);
}

pub fn says(home: &TestHome, exit: i32, awaited: &[&str]) {
    let (code, stated) = run(home, &["check", "cover.kdl"]);
    // Long lines are folded.
    let flat = stated.replace("\n  │ ", " ").replace("\n        ", " ");
    for words in awaited {
        assert!(flat.contains(words), "expected `{words}`, stated:\n{}", &stated[..stated.floor_char_boundary(4000)]);
    }
    assert_eq!(code, exit, "{}", &stated[..stated.floor_char_boundary(4000)]);
}

pub fn panel(body: &str) -> String {
    format!("{HEAD}panel front {{\n{body}\n}}\n")
}
