//! How long the page of `preview` waits: for its first picture, for an edit, for a tile at press resolution, for a wall of a
//! thousand titles; and what memory two thousand edits leave. `cargo bench --bench preview`; `-- --edits 100` is a short run.
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a measurement runs the program, looks at the clock and tells"
)]
#![expect(dead_code, reason = "the measurement asks for less than the tests")]

#[path = "../kit/chance.rs"]
mod chance;
#[path = "../kit/http.rs"]
mod http;
#[path = "catalogue/list.rs"]
mod list;
#[path = "catalogue/picture.rs"]
mod picture;
#[path = "../kit/previewed.rs"]
mod previewed;

use previewed::Previewed;
use serde_json::Value;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};
use std::{env, fs, thread};

/// A page of about 1600 pixels: 150 pixels per inch.
const PAGE_STEP: usize = 3;
/// 600 pixels per inch.
const PRESS_STEP: usize = 5;
/// How long an editor must be quiet before a build begins (`watch/wait.rs`).
const QUIET: Duration = Duration::from_millis(40);
const TITLES: usize = 1000;

fn main() {
    first_picture();
    press_tiles();
    edits(number("--edits", 2000));
    wall();
}

fn example() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/salt-and-lanterns"), home.path());
    home
}

/// From the start of the program to the last tile of the whole sheet, for a cover that the store knows.
fn first_picture() {
    let store = tempfile::tempdir().expect("a temporary folder");
    // The programs that are started find the store by this.
    let words = ["--port", "0", "--store", store.path().to_str().expect("a plain path")];
    let once = || {
        let home = example();
        let begun = Instant::now();
        let page = Previewed::serve(home, &words);
        page.json("/state");
        let first = first_tile(&page, begun);
        (first, whole(&page, PAGE_STEP, begun))
    };
    let nothing_known = once();
    println!("first tile, nothing known: {:.0?}; the whole sheet: {:.0?}", nothing_known.0, nothing_known.1);
    let (first, all): (Vec<Duration>, Vec<Duration>) = (0..10).map(|_| once()).unzip();
    report("first tile, known to the store", first);
    report("the whole sheet at 150 ppi, known to the store", all);
}

fn first_tile(page: &Previewed, begun: Instant) -> Duration {
    page.json("/cover/0");
    let name = page.tiles(PAGE_STEP, 1, 1)[0].as_str().expect("a name").to_owned();
    assert_eq!(page.get(&tile(&name, PAGE_STEP, 0, 0)).status, 200);
    begun.elapsed()
}

fn tile(name: &str, step: usize, x: usize, y: usize) -> String {
    format!("/tile/0/{name}.png?z={step}&x={x}&y={y}&plates=all")
}

/// All tiles of the sheet, asked for by two connections at a time.
fn whole(page: &Previewed, step: usize, begun: Instant) -> Duration {
    const SIDE: usize = 8;
    let names = page.tiles(step, SIDE, SIDE);
    let halves: Vec<usize> = vec![0, 1];
    thread::scope(|scope| {
        for half in halves {
            let names = &names;
            scope.spawn(move || {
                for (at, name) in names.iter().enumerate().filter(|(at, _)| at % 2 == half) {
                    if let Some(name) = name.as_str() {
                        assert_eq!(page.get(&tile(name, step, at % SIDE, at / SIDE)).status, 200);
                    }
                }
            });
        }
    });
    begun.elapsed()
}

/// Every fourth tile of the sheet at press resolution, one after another.
fn press_tiles() {
    let page = Previewed::serve(example(), &["--port", "0", "--no-store"]);
    page.json("/cover/0");
    let names = page.tiles(PRESS_STEP, 16, 16);
    let known = names.iter().enumerate().step_by(4).filter_map(|(at, name)| Some((at, name.as_str()?)));
    let times = known.map(|(at, name)| {
        let begun = Instant::now();
        assert_eq!(page.get(&tile(name, PRESS_STEP, at % 16, at / 16)).status, 200);
        begun.elapsed()
    });
    report("a tile at 600 ppi", times.collect());
}

/// From the save of the blurb to the last new pixel of the sheet, and the memory of the program now and then.
fn edits(count: usize) {
    let page = Previewed::serve(example(), &["--port", "0", "--no-store"]);
    let text = fs::read_to_string(page.path("blurb.md")).expect("the example has a blurb");
    whole(&page, PAGE_STEP, Instant::now());
    let mut before = page.tiles(PAGE_STEP, 8, 8);
    let mut build = page.json("/cover/0")["build"].clone();
    let mut times = Vec::new();
    for edit in 0..count {
        let begun = Instant::now();
        page.put("blurb.md", &text.replacen("last night", &format!("night {edit}"), 1));
        loop {
            let names = page.json(&format!("/tiles/0?z={PAGE_STEP}&x=0&y=0&columns=8&rows=8&plates=all"));
            if names["build"] != build {
                build = names["build"].clone();
                let after = names["names"].as_array().expect("a list").clone();
                for at in (0..after.len()).filter(|at| after[*at] != before[*at]) {
                    if let Value::String(name) = &after[at] {
                        assert_eq!(page.get(&tile(name, PAGE_STEP, at % 8, at / 8)).status, 200);
                    }
                }
                before = after;
                break;
            }
            thread::sleep(Duration::from_millis(2));
        }
        times.push(begun.elapsed().saturating_sub(QUIET));
        if [1, 100, 250, 500, 1000, 1500, 2000].contains(&(edit + 1)) {
            println!("memory after {} edits: {} MB", edit + 1, resident(&page) / 1000);
        }
    }
    report("an edit to its pixels, beyond the wait for a quiet editor", times);
}

/// A catalogue from the start of the program to the first twelve fronts, and how many titles were built for them.
fn wall() {
    let home = tempfile::tempdir().expect("a temporary folder");
    list::lay_out(home.path(), TITLES);
    let begun = Instant::now();
    let page = Previewed::serve(home, &["--port", "0", "--no-store"]);
    let titles = page.json("/state")["titles"].as_array().expect("a list").len();
    println!("the wall knows {titles} titles after {:.0?}", begun.elapsed());
    page.post("/wanted", r#"{"ids":[600,601,602,603,604,605,606,607,608,609,610,611]}"#);
    let seen = loop {
        let state = page.json("/state");
        let front = |id: usize| state["titles"][id]["front"].as_str().map(|name| (id, name.to_owned()));
        let fronts: Vec<(usize, String)> = (600..612).filter_map(front).collect();
        if fronts.len() == 12 {
            let built = state["titles"].as_array().expect("a list").iter().filter(|title| title["build"] != 0);
            let built = built.count();
            for (id, name) in fronts {
                assert_eq!(page.get(&format!("/front/{id}.png?name={name}&height=320")).status, 200);
            }
            break built;
        }
        thread::sleep(Duration::from_millis(10));
    };
    println!("twelve fronts in the middle after {:.0?}; {seen} titles were built until then", begun.elapsed());
    println!("memory: {} MB", resident(&page) / 1000);
}

/// In kB.
fn resident(page: &Previewed) -> u64 {
    let status = fs::read_to_string(format!("/proc/{}/status", page.child.id())).expect("it runs");
    let line = status.lines().find_map(|line| line.strip_prefix("VmRSS:")).expect("Linux says so");
    line.split_whitespace().next().and_then(|number| number.parse().ok()).expect("a number")
}

fn report(what: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |share: usize| times[(times.len() - 1) * share / 100];
    println!("{what}: median {:.1?}, 90th {:.1?}, most {:.1?} of {}", at(50), at(90), at(100), times.len());
}

fn number(name: &str, usual: usize) -> usize {
    let mut words = env::args().skip_while(|word| word != name).skip(1);
    words.next().and_then(|word| word.parse().ok()).unwrap_or(usual)
}

fn copy(from: &Path, to: &Path) {
    let done = Command::new("cp").arg("-r").arg(from.join(".")).arg(to).status().expect("cp runs");
    assert!(done.success(), "the example is copied");
}
