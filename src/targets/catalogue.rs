//! Catalogue: a file that names a template and a table; every row of the table is a cover.

use crate::assets::{Shelf, ShelfFault};
use crate::ground::{Digest, FileId, Finding, Findings, Severity, Spanned};
use crate::language::{Title, judge_columns, numbers_twice, stems_twice, title};
use crate::record::CatalogueTable;
use crate::record::TABLE;
use crate::record::{Built, CatalogueTitle, CoverRequest};
use crate::source::{Files, Reader, Tree, Word, parse_file, table, text};
use crate::targets::layers::layers;
use crate::targets::sources::Sources;
use std::cell::RefCell;
use std::sync::Arc;

/// The word at the top of a catalogue file.
const CATALOGUE: Word =
    Word::new("catalogue", "a template and a table whose rows are covers").holds(&[&[TEMPLATE, TITLES]]);
const TEMPLATE: Word = Word::new("template", "the cover file that all titles share").takes(&[text("a path")]);
const TITLES: Word = Word::new("titles", "the table, CSV or JSON").takes(&[text("a path")]);

pub struct Catalogue {
    /// What is wrong with the file and its table as a whole; after an error there are no titles.
    pub outcome: Built,
    /// On the shelf.
    pub template: String,
    pub titles: Vec<CatalogueTitle>,
}

/// Whether a file is a catalogue, by its words.
pub fn is_catalogue(tree: &Tree) -> bool {
    tree.nodes.iter().any(|node| node.name.value == CATALOGUE.name)
}

/// Reads a catalogue file with its table.
pub fn catalogue(shelf: &dyn Shelf, own: &str) -> Result<Catalogue, ShelfFault> {
    let bytes = shelf.read(own)?;
    let (files, findings) = (Files::default(), RefCell::new(Findings::default()));
    let (file, _) = files.add_bytes(&findings, own, &bytes);
    let tree = parse_file(&mut findings.borrow_mut(), file, &files.text(file).unwrap_or_default());
    let named = named(&tree, &findings);
    let mut catalogue = (String::new(), Vec::new());
    if let Some((template, titles)) = named
        && let Some((number, text)) = files.read(&findings, shelf, &titles)
        && let Some(template_text) = files.bytes(&findings, shelf, &template)
    {
        if number != TABLE {
            findings.borrow_mut().error(titles.span, "the catalogue cannot be its own table", HOW);
        }
        let path = files.resolve(&titles);
        if [path.as_str(), own].contains(&files.resolve(&template).as_str()) {
            findings.borrow_mut().error(template.span, "the template is a file of its own", HOW);
        } else {
            judge_template(shelf, &files, &findings, &template);
        }
        let table = table(&mut findings.borrow_mut(), TABLE, &path, &text);
        let stated = stated(&files, &template_text);
        judge_columns(&mut findings.borrow_mut(), &table, &stated);
        let sheet = Arc::new(CatalogueTable { path, digest: Digest::of(text.as_bytes()), text: text.into(), table });
        if !findings.borrow().has_errors() {
            let all = titles_of(&sheet);
            let undrawn = all.iter().filter(|title| title.is_undrawn).count();
            if undrawn > 0 {
                let message =
                    format!("{undrawn} rows of the table are wrong: they are reported, and no cover is drawn");
                let help = format!("mend the first of them; the pictures of up to {WRONG_DRAWN} wrong titles are made");
                let note = Finding::new(Severity::Note, "language", titles.span, message).help(help);
                findings.borrow_mut().push(note);
            }
            catalogue = (files.resolve(&template), all);
        }
    }
    let mut findings = findings.into_inner();
    findings.sort();
    let (template, titles) = catalogue;
    Ok(Catalogue { outcome: Built { files, findings, design: None, request: CoverRequest::of(own) }, template, titles })
}

/// The template and the table that a catalogue file names.
fn named(tree: &Tree, findings: &RefCell<Findings>) -> Option<(Spanned<String>, Spanned<String>)> {
    let node = tree.nodes.iter().find(|node| node.name.value == CATALOGUE.name)?;
    for other in tree.nodes.iter().filter(|other| !std::ptr::eq(*other, node)) {
        let message = format!("`{}` has no place in a catalogue file", other.name.value);
        let help = "what all titles share stands in the template; one file holds one catalogue";
        findings.borrow_mut().error(other.name.span, message, help);
    }
    let reader = Reader::new(node, &CATALOGUE, findings);
    let path = |word: &'static Word| {
        let Some(found) = reader.child(word) else {
            reader.error(reader.span(), format!("the catalogue lacks its `{}`", word.name), HOW);
            return None;
        };
        found.text()
    };
    let (template, titles) = (path(&TEMPLATE), path(&TITLES));
    Some((template?, titles?))
}

const HOW: &str = "write `catalogue { template \"template.kdl\"; titles \"titles.csv\" }`";

/// A template that cannot be read, with all that lies under it, is reported once, and not for every title.
fn judge_template(shelf: &dyn Shelf, files: &Files, findings: &RefCell<Findings>, template: &Spanned<String>) {
    let found = RefCell::new(Findings::default());
    let reading = Sources { shelf, files, findings: &found };
    if let Ok(None) = layers(reading, &CoverRequest::of(&files.resolve(template))) {
        findings.borrow_mut().extend(found.into_inner().iter().cloned());
    }
}

/// The pictures of a wrong title show its mistake. Where more rows are wrong, it is the table that is.
const WRONG_DRAWN: usize = 100;

/// Every row with its stem; a stem or a number that another row has is that row's own fault.
fn titles_of(sheet: &Arc<CatalogueTable>) -> Vec<CatalogueTitle> {
    // What is wrong with a row is reported when it is built.
    let read = |row| {
        let mut own = Findings::default();
        (title(&mut own, row), own.has_errors())
    };
    let (titles, wrong): (Vec<Title>, Vec<bool>) = sheet.table.rows.iter().map(read).unzip();
    let is_broken = wrong.iter().filter(|wrong| **wrong).count() > WRONG_DRAWN;
    let mut faults: Vec<Vec<Finding>> = vec![Vec::new(); titles.len()];
    let mut twins = vec![false; titles.len()];
    for (row, finding) in stems_twice(&titles) {
        faults[row].push(finding);
        twins[row] = true;
    }
    for (row, finding) in numbers_twice(&titles) {
        faults[row].push(finding);
    }
    let titles = titles.into_iter().zip(faults).zip(twins).enumerate();
    let title_of = |(row, ((title, faults), is_twin)): (usize, ((Title, _), _))| CatalogueTitle {
        sheet: sheet.clone(),
        row,
        stem: title.stem.value,
        faults,
        is_twin,
        is_undrawn: is_broken && wrong[row],
    };
    titles.map(title_of).collect()
}

/// All that the template and its series say.
fn stated(files: &Files, template: &[u8]) -> String {
    let others = (TABLE.0 + 1..).map_while(|file| files.text(FileId(file)));
    others.fold(String::from_utf8_lossy(template).into_owned(), |all, text| all + "\n" + &text)
}
