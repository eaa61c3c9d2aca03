//! How long a catalogue takes: a thousand covers of one template, each with words, a bar code and a spine of its own and
//! one of fifty full-size pictures; press PDF and flat PNG. `cargo bench --bench catalogue`, a short run with
//! `-- --covers 100`. Medians of `--runs 3`. `-- --keep DIR` leaves the catalogue there and runs nothing.
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a measurement runs the program, looks at the clock and tells"
)]

#[path = "../kit/chance.rs"]
#[expect(dead_code, reason = "prose is drawn here by the same lot as elsewhere, formats are not")]
mod chance;
#[path = "catalogue/list.rs"]
mod list;
#[path = "catalogue/machine.rs"]
mod machine;
#[path = "catalogue/picture.rs"]
mod picture;

use machine::{Cost, cost, gain};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::time::Instant;
use std::{env, fs};

fn main() {
    let covers = number("--covers", 1000);
    let runs = number("--runs", 3);
    if let Some(kept) = word("--keep") {
        return list::lay_out(Path::new(&kept), covers);
    }
    let folder = tempfile::tempdir().expect("a temporary folder");
    list::lay_out(folder.path(), covers);
    println!("{covers} covers, {} pictures of {} x {} pixels", picture::COUNT, picture::WIDTH, picture::HEIGHT);
    let bench = Bench { catalogue: folder.path().to_owned(), covers, runs };
    bench.measure();
}

struct Bench {
    catalogue: PathBuf,
    covers: usize,
    runs: usize,
}

impl Bench {
    fn measure(&self) {
        let two = self.tell("from nothing", &[], &|_| self.forget());
        self.tell("nothing changed", &[], &|_| ());
        self.tell("one blurb changed", &[], &|run| {
            let words = format!("Another text, number {run}, that was never set before.\n");
            fs::write(self.catalogue.join("blurbs/title-0007.md"), words).expect("a blurb can be written");
        });
        self.tell("outputs taken away", &[], &|_| fs::remove_dir_all(self.out()).expect("outputs were written"));
        let one = self.tell("from nothing, --jobs 1", &["--jobs", "1"], &|_| self.forget());
        println!("gain of all processors over one: {:.2}; of the machine itself: {:.2}", one / two, gain());
    }

    /// Runs the program so often, each time after `prepare`; tells medians, and gives that of the seconds.
    fn tell(&self, what: &str, more: &[&str], prepare: &dyn Fn(usize)) -> f64 {
        let mut costs: Vec<Cost> = (0..self.runs).map(|run| self.run(run, more, prepare)).collect();
        costs.sort_by(|one, other| one.seconds.total_cmp(&other.seconds));
        let Cost { seconds, busy, peak, stated } = &costs[costs.len() / 2];
        let rate = self.covers as f64 / seconds;
        println!("{what}: {seconds:.2} s, {rate:.1} covers/s, processors {busy:.2} s, {peak} MB at the most; {stated}");
        *seconds
    }

    fn run(&self, run: usize, more: &[&str], prepare: &dyn Fn(usize)) -> Cost {
        prepare(run);
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.arg("build").arg(&self.catalogue).args(["--only", "press,flat", "--store"]).arg(self.store());
        command.args(more);
        let begin = Instant::now();
        let mut cost = cost(&mut command);
        cost.seconds = begin.elapsed().as_secs_f64();
        cost
    }

    fn forget(&self) {
        for folder in [self.out(), self.store()] {
            if folder.exists() {
                fs::remove_dir_all(folder).expect("what a run wrote can be taken away");
            }
        }
    }

    fn out(&self) -> PathBuf {
        self.catalogue.join("out")
    }

    fn store(&self) -> PathBuf {
        self.catalogue.join(".store")
    }
}

fn number(name: &str, usual: usize) -> usize {
    word(name).map_or(usual, |word| word.parse().expect("a whole number"))
}

fn word(name: &str) -> Option<String> {
    env::args().skip_while(|word| word != name).nth(1)
}
