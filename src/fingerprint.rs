//! Fingerprint: names this program by all it is made of, so that nothing another program kept is taken for its own.
#![expect(clippy::disallowed_methods, clippy::print_stdout, reason = "a build script reads the source and tells cargo")]

use std::path::{Path, PathBuf};

fn main() {
    let root = PathBuf::from(std::env::var_os("CARGO_MANIFEST_DIR").expect("cargo says where the package stands"));
    let mut print = Print(FNV_BASIS);
    // Another machine may round otherwise.
    print.take(std::env::var("TARGET").unwrap_or_default().as_bytes());
    for part in ["src", "fonts-open", "Cargo.lock"] {
        println!("cargo::rerun-if-changed={part}");
        print.take_all(&root.join(part), part);
    }
    println!("cargo::rustc-env=JACONET_FINGERPRINT={:016x}", print.0);
}

/// FNV-1a of 64 bits, eight bytes a step: it tells programs apart and guards against no one.
struct Print(u64);

const FNV_BASIS: u64 = 0xcbf2_9ce4_8422_2325;
const FNV_PRIME: u64 = 0x0100_0000_01b3;

impl Print {
    fn take(&mut self, bytes: &[u8]) {
        let mut step = |word: u64| {
            self.0 = (self.0 ^ word).wrapping_mul(FNV_PRIME);
            // A plain multiplication carries nothing down from the upper bytes.
            self.0 ^= self.0 >> 32;
        };
        let (words, rest) = bytes.as_chunks::<8>();
        for word in words {
            step(u64::from_le_bytes(*word));
        }
        for byte in rest {
            step(u64::from(*byte));
        }
        step(bytes.len() as u64);
    }

    /// A file, or a folder with all in it, by name and content.
    fn take_all(&mut self, path: &Path, name: &str) {
        self.take(name.as_bytes());
        if !path.is_dir() {
            self.take(&std::fs::read(path).unwrap_or_default());
            return;
        }
        let entries = std::fs::read_dir(path).into_iter().flatten().flatten();
        let mut names: Vec<String> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        for name in names {
            self.take_all(&path.join(&name), &name);
        }
    }
}
