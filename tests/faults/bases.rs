//! Bases: clean examples with a calm card, on which faults find room.

use std::collections::BTreeMap;
use std::path::Path;

pub struct Base {
    pub name: &'static str,
    /// Its text, with the card; `INKS` and `MARKS` stand where faults put theirs.
    pub text: String,
    /// Everything beside it, by its path.
    pub files: BTreeMap<String, Vec<u8>>,
    /// The author's name with a slip.
    pub wrong_name: &'static str,
    /// Where faults may stand on the card's panel: the corners of two places of 40 × 48 mm.
    pub places: [(f64, f64); 2],
}

/// Pictures that faults show are in `pictures`.
pub fn bases(pictures: &Path) -> Vec<Base> {
    let mut salt = base("salt-and-lanterns", "front", "Mirela Annand", (14.0, 122.0), pictures);
    // The photograph is large and has no say in what is tried here.
    let harbour = "image harbour file=\"art/harbour.jpg\" {";
    assert!(salt.text.contains(harbour));
    let calm = "band harbour {\n swatch night";
    salt.text = salt.text.replace(harbour, calm).replace("; fit filling; focus 100 50\n", "\n");
    vec![salt, base("the-quiet-instruments", "back", "Ottilie Fenvarden", (16.0, 152.0), pictures)]
}

fn base(name: &'static str, panel: &str, wrong_name: &'static str, (left, top): (f64, f64), pictures: &Path) -> Base {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
    let mut files = BTreeMap::new();
    gather(&folder, "", &mut files);
    gather(pictures, "fault/", &mut files);
    let text = String::from_utf8(files.remove("cover.kdl").expect("an example has a cover")).expect("it is UTF-8");
    assert!(text.contains("swatches {\n") && text.find("\nbook {\n") < text.find("\n}\n"));
    files.insert("fault/words.txt".to_owned(), known_words(&text, &files).into_bytes());
    // At the end of `book`, so that the example's own come first; a fault states its own alternative text.
    let text: String = text.split_inclusive('\n').filter(|line| !line.trim_start().starts_with("alt-text ")).collect();
    let text = text.replacen("\n}\n", "\nFACTS\n}\n", 1);
    let text = text.replace("swatches {\n", "swatches {\n swatch fault-card c=3 m=5 y=14 k=0\nINKS\n");
    let card = format!(
        "panel {panel} {{\n band fault-card {{ swatch fault-card; left {left}; width 90; top {top}; height 54 }}\nMARKS\n}}\n"
    );
    // The edition for screens is another cover.
    let printed = text.split("\nedition ").next().unwrap_or_default();
    let places = [(left + 3.0, top + 4.0), (left + 47.0, top + 4.0)];
    Base { name, text: format!("{printed}\n{card}"), files, wrong_name, places }
}

/// Every word of a cover and its copy, and a few that faults are made of: a list of words that a house might keep.
fn known_words(text: &str, files: &BTreeMap<String, Vec<u8>>) -> String {
    let copies = files
        .iter()
        .filter(|(path, _)| Path::new(path).extension().is_some_and(|ending| ending == "md"))
        .map(|(_, bytes)| String::from_utf8_lossy(bytes));
    // Of all faults but the one that such a list finds.
    let faults = [include_str!("copy.rs"), include_str!("facts.rs"), include_str!("lines.rs")].concat();
    let said = copies.fold(format!("{text} {}", faults.replace("lihgts", "")), |all, copy| all + " " + &copy);
    let apart = |letter: char| !letter.is_alphabetic() && !matches!(letter, '’' | '\'');
    let words: std::collections::BTreeSet<&str> = said.split(apart).filter(|word| !word.is_empty()).collect();
    words.into_iter().collect::<Vec<&str>>().join("\n")
}

fn gather(folder: &Path, before: &str, files: &mut BTreeMap<String, Vec<u8>>) {
    for entry in std::fs::read_dir(folder).expect("a folder can be read").flatten() {
        let name = format!("{before}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            gather(&entry.path(), &format!("{name}/"), files);
        } else {
            files.insert(name, std::fs::read(entry.path()).expect("a file can be read"));
        }
    }
}
