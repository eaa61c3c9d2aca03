//! What large pictures cost: the first example, and art of 16 and of 61 million pixels; the press file alone, the press file
//! with every pixel, and all files. Seconds, the most memory, bytes of the press file; medians of `--runs 3`.
//! `cargo bench --bench pictures`; with `-- --beside PROGRAM`, another build of the program in turn with this one.
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a measurement runs the program, looks at the clock and tells"
)]

#[path = "../kit/chance.rs"]
#[expect(dead_code, reason = "prose is drawn elsewhere")]
mod chance;
#[path = "catalogue/machine.rs"]
#[expect(dead_code, reason = "one process at a time is measured here")]
mod machine;
#[path = "catalogue/picture.rs"]
#[expect(dead_code, reason = "art of other sizes is drawn here")]
mod picture;

use machine::{Cost, cost};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;
use std::{env, fs};

const ART: [(&str, (u32, u32)); 2] = [("16 million", (3264, 4928)), ("61 million", (6352, 9600))];
const ALL: [(&str, &[&str]); 2] = [("press", &["--only", "press"]), ("all files", &[])];

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let runs = word("--runs").map_or(3, |word| word.parse().expect("a whole number"));
    let mut programs = vec![("this", PathBuf::from(env!("CARGO_BIN_EXE_jaconet")))];
    programs.extend(word("--beside").map(|path| ("other", PathBuf::from(path))));
    let example = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/salt-and-lanterns/cover.kdl");
    let mut covers = vec![("first example".to_owned(), example)];
    for (name, size) in ART {
        let file = format!("{}.jpg", &name[..2]);
        picture::write_of(&folder.path().join(&file), 7, size);
        for finest in ["450", "none"] {
            let cover = folder.path().join(format!("art-{}-{finest}.kdl", &name[..2]));
            fs::write(&cover, text(&file, finest)).expect("a cover can be written");
            covers.push((format!("{name} pixels, finest={finest}"), cover));
        }
    }
    for (name, cover) in &covers {
        for (what, words) in ALL {
            for (program, path) in &programs {
                let (cost, bytes) = median(path, cover, words, (folder.path(), runs));
                let Cost { seconds, peak, .. } = cost;
                let press = bytes as f64 / 1e6;
                println!("{name}, {what}, {program}: {seconds:.2} s, {peak} MB at the most, press file {press:.1} MB");
            }
        }
    }
}

/// A front that the art fills.
fn text(file: &str, finest: &str) -> String {
    format!(
        "book {{ title \"Wide\"; pages 320 }}\nformat paperback {{ trim 239 360; spine 20 }}\n\
         deliver {{ press finest={finest} }}\n\
         panel front {{ image art file=\"{file}\" {{ left fold; right bleed; top bleed; bottom bleed; fit filling }} }}\n"
    )
}

fn median(program: &Path, cover: &Path, words: &[&str], (folder, runs): (&Path, usize)) -> (Cost, u64) {
    let out = folder.join("out");
    let once = || {
        let mut command = Command::new(program);
        command.arg("build").arg(cover).args(words).arg("--no-store").arg("--out").arg(&out);
        let begin = Instant::now();
        let mut cost = cost(&mut command);
        cost.seconds = begin.elapsed().as_secs_f64();
        let files = fs::read_dir(&out).expect("files were written").flatten();
        let press = files.filter(|file| file.file_name().to_string_lossy().ends_with("-press.pdf"));
        let bytes = press.filter_map(|file| file.metadata().ok()).map(|about| about.len()).sum();
        fs::remove_dir_all(&out).expect("they can be taken away");
        (cost, bytes)
    };
    let mut costs: Vec<(Cost, u64)> = (0..runs).map(|_| once()).collect();
    costs.sort_by(|one, other| one.0.seconds.total_cmp(&other.0.seconds));
    costs.swap_remove(costs.len() / 2)
}

fn word(name: &str) -> Option<String> {
    env::args().skip_while(|word| word != name).nth(1)
}
