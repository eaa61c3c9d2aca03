//! Kit: covers built by the binary, and the readers that are asked about them.

use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::OnceLock;

/// A cover that was built without a fault.
pub struct Built {
    /// Where its text and its files beside it stand.
    pub source: PathBuf,
    pub stem: String,
    pub out: PathBuf,
}

impl Built {
    /// A file that was written: `press.pdf`, `front.png`.
    pub fn file(&self, suffix: &str) -> PathBuf {
        self.out.join(format!("{}-{suffix}", self.stem))
    }

    pub fn press(&self) -> PathBuf {
        self.file("press.pdf")
    }

    /// A name for what a reader makes of it, beside what we made.
    pub fn beside(&self, name: &str) -> String {
        shown(&self.out.join(format!("{}-{name}", self.stem)))
    }
}

/// Every cover of `examples/`, built once.
pub fn examples() -> &'static [Built] {
    static EXAMPLES: OnceLock<Vec<Built>> = OnceLock::new();
    EXAMPLES.get_or_init(|| {
        let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
        let entries = std::fs::read_dir(&home).expect("there are examples").flatten();
        let mut folders: Vec<PathBuf> =
            entries.map(|entry| entry.path()).filter(|path| path.join("cover.kdl").is_file()).collect();
        folders.sort();
        assert!(!folders.is_empty(), "no example in {}", home.display());
        folders.iter().map(|folder| built(folder, "examples", &[])).collect()
    })
}

/// Builds a cover from its text and the files beside it. The name is the test's own.
pub fn cover(name: &str, text: &str, files: &[(&str, &[u8])], words: &[&str]) -> Built {
    let source = room().join("covers").join(name);
    std::fs::create_dir_all(&source).expect("makes a folder");
    std::fs::write(source.join("cover.kdl"), text).expect("writes the cover");
    for (path, bytes) in files {
        std::fs::write(source.join(path), bytes).expect("writes a file beside it");
    }
    built(&source, name, words)
}

fn built(source: &Path, into: &str, words: &[&str]) -> Built {
    let out = room().join("out").join(into);
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let run = command.arg("build").arg(source).arg("--out").arg(&out).args(words).output().expect("the binary runs");
    let reported = String::from_utf8_lossy(&run.stderr);
    assert_eq!(run.status.code(), Some(0), "{}: {reported}", source.display());
    let stem = source.file_name().expect("a folder has a name").to_string_lossy().into_owned();
    Built { source: source.to_owned(), stem, out }
}

/// Each test binary has a room of its own under `target/`.
pub fn room() -> PathBuf {
    Path::new(env!("CARGO_TARGET_TMPDIR")).join(env!("CARGO_CRATE_NAME"))
}

/// What a reader says of a file. One that is missing, or that is not content, fails the test.
pub fn ask(program: &str, words: &[&str]) -> String {
    let run = Command::new(program).args(words).output();
    let run =
        run.unwrap_or_else(|fault| panic!("the reader `{program}` does not start ({fault}); `tests/run` installs it"));
    let stated = String::from_utf8_lossy(&run.stdout).into_owned();
    let complaint = String::from_utf8_lossy(&run.stderr);
    assert!(run.status.success(), "{program} {words:?} ends with {}:\n{stated}{complaint}", run.status);
    stated
}

pub fn shown(path: &Path) -> String {
    path.to_str().expect("the paths of the tests are UTF-8").to_owned()
}
