//! One size of type for a whole series, through the binary: covers built together and alone come to the same, and a change
//! of one reaches the others.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Stdio};

const SERIES: &str = r#"book { author "Mirela Anand"; language en-GB }
format paperback { trim 110 178; paper grammage=80 bulk=1.5; cover-stock caliper=0.3; bleed 3; safe 4 }
type { style title { size between 14 60 alike=#true; leading percent=105; breaks good; lines 1 2 } }
panel front {
    text title words="{title}" style=title { left 10; right 10; top 20; height 40 }
    image sea file="no-such.png" { left trim; right trim; top 80; height 20 }
}
"#;
const TITLES: [(&str, &str); 3] = [("a", "Salt"), ("b", "The Lanterns of the Long Harbour"), ("c", "Ice and Iron")];

struct Home(tempfile::TempDir);

impl Home {
    fn series(text: &str) -> Home {
        let home = Home(tempfile::tempdir().expect("a temporary folder"));
        home.write("series.kdl", text);
        for (name, title) in TITLES {
            home.write(&format!("{name}/cover.kdl"), &cover(title));
        }
        home
    }

    fn write(&self, path: &str, text: &str) {
        let path = self.0.path().join(path);
        std::fs::create_dir_all(path.parent().expect("has a folder")).expect("a folder");
        std::fs::write(path, text).expect("writes");
    }

    /// Exit code and what it says.
    fn run(&self, words: &str, store: &str) -> (i32, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(self.0.path()).env_remove("NO_COLOR").env("JACONET_STORE", store).stdin(Stdio::null());
        let output = command.args(words.split_whitespace()).output().expect("the binary runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("words are UTF-8");
        (output.status.code().expect("it ends by itself"), text(output.stdout) + &text(output.stderr))
    }

    fn report(&self, path: &str) -> Value {
        let path = self.0.path().join(path);
        let bytes = std::fs::read(&path).unwrap_or_else(|why| panic!("{}: {why}", path.display()));
        serde_json::from_slice(&bytes).expect("is JSON")
    }

    /// The size in use, the one that the words would find by themselves, and who decided.
    fn title(&self, name: &str) -> (f64, f64, String, u64) {
        let report = self.report(&format!("{name}/out/{name}-report.json"));
        size_of(&report)
    }
}

fn size_of(report: &Value) -> (f64, f64, String, u64) {
    let alike = report["alike"].as_array().expect("a list");
    let title = alike.iter().find(|size| size["element"] == "title").expect("the title");
    let points = |key: &str| title[key].as_f64().expect("points");
    let decided = title["decided-by"].as_str().expect("a cover").to_owned();
    (points("points"), points("own"), decided, title["of"].as_u64().expect("a number"))
}

fn cover(title: &str) -> String {
    format!("series \"../series.kdl\"\nbook {{ title \"{title}\"; pages 200 }}\npanel front {{ drop sea }}\n")
}

/// What the words find without each other, as the program before this word had it: each cover by itself.
fn natural(home: &Home) -> [f64; 3] {
    TITLES.map(|(name, _)| home.title(name).1)
}

#[test]
fn covers_take_the_smallest_size_built_together_or_alone() {
    let home = Home::series(SERIES);
    let (exit, said) = home.run("build series.kdl --only press --only report", "");
    assert_eq!(exit, 0, "{said}");
    let own = natural(&home);
    assert!(own[1] < own[2] && own[2] < own[0], "{own:?}");
    let press =
        |name: &str| std::fs::read(home.0.path().join(format!("{name}/out/{name}-press.pdf"))).expect("is there");
    let together = TITLES.map(|(name, _)| (home.title(name), press(name)));
    for (at, ((points, _, decided, of), _)) in together.iter().enumerate() {
        assert!((points - own[1]).abs() < 1e-9 && *of == 3, "{at} {points}");
        assert_eq!(decided, if at == 1 { "cover.kdl" } else { "../b/cover.kdl" });
    }
    for (at, (name, _)) in TITLES.iter().enumerate() {
        std::fs::remove_dir_all(home.0.path().join(format!("{name}/out"))).expect("removes");
        let (exit, said) = home.run(&format!("build {name} --only press --only report"), "");
        assert_eq!(exit, 0, "{said}");
        assert!((home.title(name), press(name)) == together[at], "{name} alone comes to the same bytes");
    }
    // Measured from outside: the letters of all titles are of that size on the page.
    let sizes = TITLES.map(|(name, _)| largest_letters(&home.0.path().join(format!("{name}/out/{name}-press.pdf"))));
    assert!(sizes.iter().all(|size| (size - own[1]).abs() < 0.01), "{sizes:?} {own:?}");
}

/// The largest type of a page in points, as `pikepdf` reads it: the size of a font times the scale of its letters.
fn largest_letters(path: &Path) -> f64 {
    let script = "import sys,pikepdf,math\nsizes=[0]\np=pikepdf.open(sys.argv[1])\nfor o in pikepdf.parse_content_stream(p.pages[0]):\n \
        w=str(o.operator)\n if w=='Tf': size=float(o.operands[1])\n \
        if w=='Tm': sizes.append(size*math.hypot(float(o.operands[0]),float(o.operands[1])))\nprint(max(sizes))";
    let output = Command::new("python3").args(["-c", script]).arg(path).output().expect("python3 is installed");
    let text = String::from_utf8_lossy(&output.stdout).trim().to_owned();
    text.parse().unwrap_or_else(|_| panic!("{text} {}", String::from_utf8_lossy(&output.stderr)))
}

#[test]
fn a_change_of_one_cover_reaches_the_others() {
    let home = Home::series(SERIES);
    let build = |what: &str| {
        let (exit, said) = home.run(&format!("build {what} --only report"), "store");
        assert_eq!(exit, 0, "{said}");
        said
    };
    build("a");
    let (first, ..) = home.title("a");
    assert!(build("a").contains("unchanged"));
    home.write("b/cover.kdl", &cover("Ash"));
    assert!(!build("a").contains("unchanged"));
    let (second, _, decided, _) = home.title("a");
    assert!(second > first && decided == "../c/cover.kdl", "{first} {second} {decided}");
    // One more cover.
    home.write("d/cover.kdl", &cover("An Inventory of Extraordinary Lighthouses"));
    assert!(!build("a").contains("unchanged"));
    let (third, _, decided, of) = home.title("a");
    assert!(third < second && decided == "../d/cover.kdl" && of == 4, "{second} {third} {decided}");
    // One that cannot be read counts no longer, and this is said.
    home.write("d/cover.kdl", "series \"../series.kdl\"\nprinter \"none.kdl\"\nbook { title \"An\"; pages 99 }\n");
    let said = build("a");
    assert!(said.contains("sizes are alike without `../d/cover.kdl`, which cannot be read"), "{said}");
    assert!((home.title("a").0 - second).abs() < 1e-9);
    // So does one that is not KDL, and says that it is of this series.
    home.write("d/cover.kdl", "series \"../series.kdl\"\nbook { title \"An\"; pages 99pt }\n");
    let said = build("a");
    assert!(said.contains("sizes are alike without `../d/cover.kdl`, which cannot be read"), "{said}");
    // The series is built with it, and its mistake is reported.
    let (exit, said) = home.run("check series.kdl", "");
    assert!(exit == 1 && said.contains("`99pt` is not a number") && said.contains("d/cover.kdl"), "{said}");
    // Facts that are tried count for this cover.
    std::fs::remove_dir_all(home.0.path().join("d")).expect("removes");
    let (exit, said) = home.run("check c --try title=Extraordinary_Lighthouses", "");
    let change = format!("front / title  EBGaramond-Regular {second} pt → EBGaramond-Regular 2");
    assert!(exit == 0 && said.contains(&change), "{said}");
}

/// A name that ends with the cover's is another cover, and one that has no size of its own from a file says none.
#[test]
fn covers_are_told_apart_and_so_are_the_files_that_ask() {
    let home = Home::series(SERIES);
    home.write("a/discover.kdl", &cover("Salt"));
    let check = || home.run("build a/cover.kdl --only report", "");
    let (exit, said) = check();
    assert!(exit == 0 && home.title("a").3 == 4, "{said} {:?}", home.title("a"));
    std::fs::remove_file(home.0.path().join("a/discover.kdl")).expect("removes");
    let asks = "type { style title { size between 10 40 alike=#true } }\n";
    home.write("between.kdl", &format!("series \"series.kdl\"\n{asks}"));
    home.write("b/cover.kdl", &cover("The Lanterns of the Long Harbour").replace("series.kdl", "between.kdl"));
    let (exit, said) = check();
    let report = home.report("a/out/a-report.json");
    let sizes = report["alike"].as_array().expect("a list");
    let own = |size: &Value| (size["of"].as_u64(), size.get("own").is_some());
    assert!(exit == 0, "{said}");
    assert_eq!(sizes.iter().map(own).collect::<Vec<_>>(), [(Some(1), false), (Some(2), true)], "{sizes:?}");
}

#[test]
fn a_cover_that_lacks_an_edition_is_not_one_that_cannot_be_read() {
    let home = Home::series(SERIES);
    let own = |title: &str| cover(title) + "edition club { book { pages 220 } }\n";
    home.write("a/cover.kdl", &own("Salt"));
    let check = || home.run("check a --edition club", "");
    let (exit, said) = check();
    assert!(exit == 0 && !said.contains("sizes are alike without"), "{said}");
    home.write("b/cover.kdl", &(own("The Lanterns of the Long Harbour") + "printer \"none.kdl\"\n"));
    let (exit, said) = check();
    assert!(exit == 0 && said.contains("sizes are alike without `../b/cover.kdl`, which cannot be read"), "{said}");
    home.write("b/cover.kdl", &(own("The Lanterns of the Long Harbour") + "band {\n"));
    let (exit, said) = check();
    assert!(exit == 0 && said.contains("sizes are alike without `../b/cover.kdl`, which cannot be read"), "{said}");
}

#[test]
fn a_cover_without_others_is_told() {
    let home = Home::series(SERIES);
    let own =
        SERIES.replace("language", "title \"Lone\"; pages 90; language").replace("    image sea", "    // image sea");
    home.write("lone/cover.kdl", &own);
    let (exit, said) = home.run("check lone", "");
    assert!(exit == 0 && said.contains("`alike` stands in a cover's own file"), "{said}");
    home.write("lone/cover.kdl", &(cover("Lone") + "type { style title { size 20 alike=#true } }"));
    let (exit, said) = home.run("check lone", "");
    assert!(exit == 1 && said.contains("`alike` goes with a size that is found between two"), "{said}");
    // What lacks its second size lacks that alone.
    home.write("lone/cover.kdl", &(cover("Lone") + "type { style title { size between 24 alike=#true } }"));
    let (exit, said) = home.run("check lone", "");
    assert!(exit == 1 && !said.contains("`alike` goes with") && said.matches("error:").count() == 1, "{said}");
}

#[test]
fn titles_of_a_catalogue_take_the_smallest_size() {
    let home = Home(tempfile::tempdir().expect("a temporary folder"));
    home.write("catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    home.write(
        "template.kdl",
        &SERIES
            .replace("author \"Mirela Anand\"", "author \"Mirela Anand\"; pages 200")
            .replace("    image sea file=\"no-such.png\" { left trim; right trim; top 80; height 20 }\n", ""),
    );
    let table = |rows: &str| home.write("titles.csv", &format!("title\n{rows}"));
    table("Salt\nThe Lanterns of the Long Harbour\nIce and Iron\n");
    let build = |what: &str| {
        let (exit, said) = home.run(&format!("build catalogue.kdl --only report {what}"), "store");
        assert_eq!(exit, 0, "{said}");
        said
    };
    build("");
    let of = |stem: &str| size_of(&home.report(&format!("out/{stem}-report.json")));
    let long = "the-lanterns-of-the-long-harbour";
    let [salt, ice, least] = ["salt", "ice-and-iron", long].map(of);
    assert!((salt.0 - least.1).abs() < 1e-9 && (ice.0 - least.1).abs() < 1e-9, "{salt:?} {ice:?} {least:?}");
    assert_eq!((salt.2.as_str(), salt.3), (long, 3));
    // Another row has changed: this one is built again, by itself.
    table("Salt\nAsh\nIce and Iron\n");
    assert!(build("--title salt").contains("1 built"));
    let salt = of("salt");
    assert_eq!((salt.2.as_str(), salt.0.to_bits()), ("ice-and-iron", ice.1.to_bits()));
    assert!(build("--title salt").contains("1 unchanged"));
    // More titles than may be alike.
    let many = (0..201).fold(String::new(), |all, number| all + &format!("Title {number}\n"));
    table(&many);
    let (exit, said) = home.run("check catalogue.kdl --title title-7", "");
    assert!(exit == 1 && said.contains("one size can be shared by at most 200 covers, and here are more"), "{said}");
}
