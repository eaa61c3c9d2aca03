//! Preview: the binary serving its page: who may ask, what is bounded, and that the page hears what the other commands say.
#![cfg(unix)]
#![expect(clippy::disallowed_methods, reason = "it plays the author and the browser, who have files and a clock")]

#[path = "kit/http.rs"]
mod http;
#[path = "kit/previewed.rs"]
mod previewed;

use http::{connect, request};
use jaconet::testing::draw_plates;
use previewed::Previewed;
use serde_json::Value;
use std::io::{Read as _, Write as _};
use std::process::Command;
use std::time::{Duration, Instant};

const COVER: &str = r#"book { title "Salt"; author "M. Anand"; pages 320 }
format paperback { trim 129 198; bleed 3; paper grammage=80 bulk=1.5; cover-stock caliper=0.3 }
swatches { swatch night c=92 m=74 y=38 k=42; swatch sand c=4 m=18 y=45 k=0 }
type { style title { font "EB Garamond"; size 30; swatch sand } }
wrap { band ground { swatch night percent=50; left bleed; right bleed; top bleed; bottom bleed } }
panel front { text title words="Salt" style=title { left safe; right safe; top 40 }
  oval sun { swatch sand; left 30; width 60; top 90; height 60 } }
"#;

fn comes(true_now: &dyn Fn() -> bool) {
    let begun = Instant::now();
    while !true_now() {
        assert!(begun.elapsed() < Duration::from_mins(2), "it does not come");
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn start() -> Previewed {
    Previewed::start(&[("cover.kdl", COVER)], &["--port", "0"])
}

#[test]
fn only_who_has_the_key_and_says_our_name_is_answered() {
    let page = start();
    let (host, cookie) = (page.host(), page.cookie());
    let status = |first: &str, headers: &[&str]| {
        let headers: Vec<String> = headers.iter().map(|line| (*line).to_owned()).collect();
        request(page.port, first, &headers, "").status
    };
    assert_eq!(status("GET /state", &[&host, &cookie]), 200);
    assert_eq!(status("GET /state", &[&host]), 403);
    assert_eq!(status("GET /", &[&host]), 403);
    assert_eq!(status(&format!("GET /state?key={}", page.key()), &[&host]), 403);
    assert_eq!(status("GET /state", &[&host, &cookie.replace('=', "=0")]), 403);
    assert_eq!(status("GET /state", &["Host: evil.example", &cookie]), 403);
    assert_eq!(status("GET /state", &[&host, &cookie, "Origin: http://evil.example"]), 403);
    assert_eq!(status("GET /state", &[&host, &cookie, "Origin: null"]), 403);
    assert_eq!(status("POST /wanted", &[&host, &cookie, "Content-Type: text/plain"]), 415);
    let opened = request(page.port, &format!("GET /?key={}", page.key()), &[host], "");
    assert_eq!(opened.status, 200);
    let set = opened.header("set-cookie").expect("a cookie");
    assert!(set.contains(page.key()) && set.contains("HttpOnly") && set.contains("SameSite=Strict"), "{set}");
    let policy = opened.header("content-security-policy").expect("a policy");
    assert!(policy.starts_with("default-src 'none'") && !policy.contains("unsafe"), "{policy}");
    assert_eq!(opened.header("x-content-type-options"), Some("nosniff"));
    assert_eq!(opened.header("referrer-policy"), Some("no-referrer"));
}

#[test]
fn no_address_leads_to_a_file() {
    let page = start();
    for path in [
        "/../cover.kdl",
        "/page/../../cover.kdl",
        "/page/..%2f..%2fcover.kdl",
        "/page/%2fetc%2fpasswd",
        "//etc/passwd",
        "/cover.kdl",
        "/page/cover.kdl",
        "/cover/..%2fcover.kdl",
        "/view/0/..%2f..%2fcover.kdl",
        "/tile/0/..%2fcover.kdl?z=0&x=0&y=0",
    ] {
        let answer = page.get(path);
        assert!((400..=404).contains(&answer.status) || answer.status == 410, "{path}: {}", answer.status);
        assert!(!answer.text().contains("Anand") && !answer.text().contains("root:"), "{path}");
    }
    let absolute = request(page.port, "GET http://evil.example/state", &[page.host(), page.cookie()], "");
    assert_eq!(absolute.status, 403);
    let refused = page.post("/open", r#"{"file":"/etc/passwd","line":1}"#);
    assert_eq!(refused.status, 422, "{}", refused.text());
    for endless in ["columns=0&rows=18446744073709551615", "columns=18446744073709551615&rows=2"] {
        assert_eq!(page.get(&format!("/tiles/0?z=2&x=0&y=0&{endless}")).status, 404, "{endless}");
    }
    let far = page.get("/tiles/0?z=2&x=18446744073709551615&y=0&columns=2&rows=1");
    assert_eq!((far.status, far.text().contains("[null,null]")), (200, true), "{}", far.text());
}

/// The editor gets files that a cover reads, and no others.
#[test]
fn an_editor_opens_what_the_cover_reads() {
    let page = Previewed::start(&[("cover.kdl", COVER)], &["--port", "0", "--editor", "touch {file}.opened"]);
    page.json("/cover/0");
    assert_eq!(page.post("/open", r#"{"file":"/etc/passwd","line":1}"#).status, 404);
    assert_eq!(page.post("/open", r#"{"file":"cover.kdl","line":1}"#).status, 204);
    comes(&|| page.path("cover.kdl.opened").exists());
}

/// A name that stays, a name that changes, and a tile that bears no old name.
#[test]
fn an_edit_renews_only_its_tiles_and_their_names() {
    let page = start();
    let old = page.json("/cover/0");
    let before = page.tiles(2, 3, 3);
    page.put("cover.kdl", &COVER.replace("top 90; height 60", "top 91; height 60"));
    page.until(|account| account["build"] != old["build"]);
    let after = page.tiles(2, 3, 3);
    let changed: Vec<usize> = (0..before.len()).filter(|at| before[*at] != after[*at]).collect();
    // 283.8 × 204 mm at 75 ppi are 838 × 602 pixels: two columns and two rows. The front is the right half.
    assert_eq!(before.iter().filter(|name| !name.is_null()).count(), 4);
    assert!(!changed.is_empty() && changed.len() < 4, "{changed:?}");
    let name = |names: &[Value], at: usize| names[at].as_str().expect("a name").to_owned();
    let at = changed[0];
    let ask = |name: &str| page.get(&format!("/tile/0/{name}.png?z=2&x={}&y={}&plates=all", at % 3, at / 3));
    assert_eq!(ask(&name(&before, at)).status, 410);
    let fresh = ask(&name(&after, at));
    assert_eq!(fresh.status, 200);
    assert!(
        fresh.body.starts_with(b"\x89PNG")
            && fresh.header("cache-control").is_some_and(|kept| kept.contains("immutable"))
    );
}

#[test]
fn readings_are_those_of_the_plates() {
    // Small, so that the whole sheet is drawn in a moment.
    let small = COVER
        .replace("trim 129 198", "trim 60 80")
        .replace("size 30", "size 12")
        .replace("left 30; width 60; top 90; height 60", "left 10; width 40; top 30; height 40");
    let page = Previewed::start(&[("cover.kdl", &small)], &["--port", "0"]);
    let drawn = draw_plates(page.home.path(), 600.0).expect("it is drawn");
    let mut kinds = std::collections::BTreeSet::new();
    for at in 0..20_u32 {
        let (x, y) = (f64::from(at) * 6.9 + 1.3, f64::from(at * 7 % 20) * 3.7 + 2.7);
        let said = page.json(&format!("/ink/0?x={x}&y={y}"));
        let pixel = |length: f64| (length * 600.0 / 25.4).floor() as usize;
        let wanted = drawn.plates.iter().map(|(_, plate)| plate[pixel(y) * drawn.width + pixel(x)]);
        let wanted: Vec<f64> = wanted.map(|ink| f64::from(ink) / 2.55).collect();
        let read: Vec<f64> = (0..wanted.len()).map(|ink| said["inks"][ink].as_f64().expect("a number")).collect();
        assert!(
            read.iter().zip(&wanted).all(|(read, wanted)| (read - wanted).abs() < 0.06),
            "{x}, {y}: {said}, {wanted:?}"
        );
        assert!((said["total"].as_f64().expect("a number") - wanted.iter().sum::<f64>()).abs() < 0.06);
        kinds.insert(said["inks"].to_string());
    }
    assert!(kinds.len() > 1, "ground and sun were both met: {kinds:?}");
    assert_eq!(page.get("/ink/0?x=-4&y=0").status, 404);
    assert_eq!(page.get("/ink/0?x=nan&y=0").status, 404);
    // The front begins at 79.8; its sun at 10 more.
    let sun = page.json("/ink/0?x=109.8&y=50");
    let elements = page.json("/cover/0")["elements"].clone();
    let element = &elements[sun["element"].as_u64().expect("an element") as usize];
    assert_eq!((element["name"].as_str(), element["line"].as_u64()), (Some("sun"), Some(7)));
}

#[test]
fn a_tried_page_count_moves_the_fold_as_measure_says() {
    let page = start();
    let tried = page.post("/try/0", r#"{"facts":["pages=400"],"edition":null}"#);
    assert_eq!(tried.status, 200, "{}", tried.text());
    let id = serde_json::from_slice::<Value>(&tried.body).expect("JSON")["id"].as_str().expect("an id").to_owned();
    let account = page.json(&format!("/cover/{id}"));
    page.put("more.kdl", &COVER.replace("pages 320", "pages 400"));
    let mut measure = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let measured = measure.args(["measure", "--report", "json"]).arg(page.path("more.kdl")).output().expect("it runs");
    let report: Value = serde_json::from_slice(&measured.stdout).expect("JSON");
    let measures = report["covers"][0]["measures"].as_array().expect("a list");
    let spine =
        measures.iter().find(|one| one["name"] == "spine").expect("a spine")["value"].as_f64().expect("a number");
    let folds: Vec<f64> = (0..2).map(|at| account["sheet"]["folds"][at]["x"].as_f64().expect("a fold")).collect();
    assert!((folds[1] - folds[0] - spine).abs() < 1e-3, "{folds:?}, {spine}");
    assert_eq!(account["tried"]["pages"], "400");
    // 320 pages before: 160 leaves of 0.12 and twice 0.3 (ISO 534, from memory).
    let before = page.json("/cover/0")["sheet"]["folds"].clone();
    assert!((before[1]["x"].as_f64().expect("a fold") - before[0]["x"].as_f64().expect("a fold") - 19.8).abs() < 1e-9);
    let slip = page.post("/try/0", r#"{"facts":["page=400"]}"#);
    assert!(slip.status == 422 && slip.text().contains("did you mean `pages`?"), "{}", slip.text());
}

#[test]
fn a_mistake_leaves_the_last_good_picture_and_its_mending_a_new_one() {
    let page = start();
    page.until(|account| account["mistake"].is_null());
    let names = page.tiles(1, 2, 2);
    page.put("cover.kdl", &COVER.replace("pages 320", "pages 320pt"));
    let account = page.until(|account| !account["mistake"].is_null());
    let finding = &account["mistake"]["findings"][0];
    assert_eq!((finding["line"].as_u64(), finding["severity"].as_str()), (Some(1), Some("error")), "{finding}");
    assert!(finding["source"].as_str().is_some_and(|line| line.contains("320pt")));
    assert!(account["sheet"]["trim"]["width"].as_f64().is_some(), "the last good picture stays");
    assert_eq!(page.tiles(1, 2, 2), names);
    page.put("cover.kdl", &COVER.replace("pages 320", "pages 322"));
    page.until(|account| account["mistake"].is_null());
    assert_ne!(page.tiles(1, 2, 2), names);
    std::fs::remove_file(page.path("cover.kdl")).expect("removes");
    std::thread::sleep(Duration::from_millis(800));
    assert_eq!(page.get("/state").status, 200, "a vanished file does not end the preview");
    page.put("cover.kdl", COVER);
    page.until(|account| account["mistake"].is_null() && account["fields"]["pages"] == "320");
}

#[test]
fn many_and_slow_clients_are_survived() {
    let page = start();
    // Two hundred that say nothing, and one whose request never ends.
    let idle: Vec<_> = (0..200).map(|_| connect(page.port)).collect();
    let mut slow = connect(page.port);
    let _ = slow.write_all(b"GET /state HTTP/1.1\r\nHost: 127");
    let begun = Instant::now();
    loop {
        let mut stream = connect(page.port);
        let head = format!("GET /state HTTP/1.1\r\n{}\r\n{}\r\nConnection: close\r\n\r\n", page.host(), page.cookie());
        let mut read = String::new();
        let _ = stream.write_all(head.as_bytes()).and_then(|()| stream.read_to_string(&mut read));
        if read.starts_with("HTTP/1.1 200") {
            break;
        }
        assert!(read.is_empty() || read.starts_with("HTTP/1.1 503"), "{read}");
        assert!(begun.elapsed() < Duration::from_mins(1), "those who say nothing hold their places for ever");
        std::thread::sleep(Duration::from_millis(200));
    }
    drop(idle);
    let large = page.post("/try/0", &format!("{{\"facts\":[\"{}\"]}}", "x".repeat(100_000)));
    assert_eq!(large.status, 413);
    let long =
        request(page.port, "GET /state", &[page.host(), page.cookie(), format!("X: {}", "x".repeat(60_000))], "");
    assert_eq!(long.status, 431);
    assert_eq!(page.get("/state").status, 200);
}

#[test]
fn ctrl_c_ends_at_once_with_open_pages() {
    let mut page = start();
    let mut news = page.listen();
    let mut read = String::new();
    let (took, code) = page.interrupt();
    assert_eq!(code, Some(0));
    assert!(took < Duration::from_mins(1), "{took:?}");
    let _ = news.read_to_string(&mut read);
    assert!(!page.path("out").exists(), "nothing is written");
}

#[test]
fn a_taken_port_leads_to_the_next() {
    let first = start();
    let second = Previewed::start(&[("cover.kdl", COVER)], &["--port", &first.port.to_string()]);
    assert!(second.port > first.port, "{} and {}", first.port, second.port);
    assert!(second.said.contains(&format!("port {} is taken", first.port)), "{}", second.said);
    assert_eq!(first.get("/state").status, 200);
    assert_eq!(second.get("/state").status, 200);
}

#[test]
fn news_come_by_themselves_and_files_only_where_they_are_wanted() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let out = home.path().to_str().expect("a name");
    let page = Previewed::start(&[("cover.kdl", COVER)], &["--port", "0", "--out", out]);
    page.json("/cover/0");
    let mut news = page.listen();
    page.put("cover.kdl", &COVER.replace("Salt", "Sand"));
    let mut read = String::new();
    let mut piece = [0; 1024];
    let begun = std::time::Instant::now();
    while !read.contains("event: build") || !read.contains("\"Sand\"") {
        assert!(begun.elapsed() < Duration::from_mins(4), "{read}");
        let count = news.read(&mut piece).expect("news come in time");
        assert!(count > 0, "{read}");
        read.push_str(&String::from_utf8_lossy(&piece[..count]));
    }
    let written = std::fs::read_dir(home.path()).expect("is there").filter_map(Result::ok);
    assert!(written.into_iter().any(|file| file.file_name().to_string_lossy().ends_with("-press.pdf")));
}

/// Rows move when one is added before them, and ask for the same as before.
#[test]
fn a_new_row_builds_its_title_alone() {
    let files = [
        ("catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n"),
        ("template.kdl", "format paperback { trim 60 80 }\n"),
        ("titles.csv", "title,pages\nA,100\nB,100\n"),
    ];
    let page = Previewed::start(&files, &["--port", "0"]);
    let titles = || page.json("/state")["titles"].as_array().expect("a list").clone();
    let all_built = |titles: &[Value]| titles.iter().all(|title| title["build"].as_u64() > Some(0));
    comes(&|| all_built(&titles()));
    page.put("titles.csv", "title,pages\nNew,100\nA,100\nB,102\n");
    comes(&|| titles().len() == 3 && all_built(&titles()) && titles()[2]["build"] == 2);
    let titles = titles();
    let known = titles.iter().map(|title| format!("{} {} {}", title["id"], title["name"], title["build"]));
    assert_eq!(known.collect::<Vec<String>>(), ["2 \"new\" 1", "0 \"a\" 1", "1 \"b\" 2"]);
}
