//! Alike: one size of type for elements of one name, in all covers of a series or all titles of a catalogue.
//!
//! Every cover finds the sizes of all, whether it is built with the others or alone, so it comes to the same. It looks at
//! the files of the others through its own shelf: what watches and remembers builds knows that they count.

use crate::assets::{Glance, Shelf};
use crate::check::limit_words;
use crate::compile::known_sizes::{KnownSizes, MOST_ALIKE, SizeKey};
use crate::compile::noting_shelf::NotingShelf;
use crate::compile::stage_tools::{StageTools, output_words};
use crate::cover::found_sizes;
use crate::ground::{Digest, FileId, Finding, Findings, Severity, Span};
use crate::language::{AlikeSizes, Desk, asks_alike, for_sizes, read, title};
use crate::record::{AlikeSize, CatalogueTable, CatalogueTitle, CoverRequest, TABLE};
use crate::source::{Files, Tree, table, unmarked};
use crate::targets::{LaidCover, Sources, dependants, layers};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

#[derive(Default)]
pub struct Alike {
    pub sizes: AlikeSizes,
    pub reported: Vec<AlikeSize>,
}

/// What the covers beside this one leave of its sizes.
pub fn alike(tools: &StageTools<'_>, laid: &LaidCover, request: &CoverRequest) -> Alike {
    let asked = asks_alike(&laid.tree);
    let Some(first) = asked.first() else { return Alike::default() };
    let shelf = NotingShelf::new(tools.shelf);
    let (others, itself) = others(tools, &shelf, &asked, request);
    if others.len() - usize::from(itself) >= MOST_ALIKE {
        let message = format!("one size can be shared by at most {MOST_ALIKE} covers, and here are more");
        let help = "state a size for them, `size 24`, or divide them among several files";
        tools.findings.borrow_mut().error(*first, message, help);
        return Alike::default();
    }
    if others.is_empty() && request.title.is_none() && asked.iter().all(|asked| asked.file == FileId(0)) {
        let message = "`alike` stands in a cover's own file, and no other cover lies over that";
        let help = "write it in the series file whose covers are to have one size; see `jaconet explain series`";
        tools.findings.borrow_mut().push(Finding::new(Severity::Warning, "language", *first, message).help(help));
    }
    let own = measured(tools, tools.shelf, &laid.tree, tools.files);
    let mut smallest: BTreeMap<SizeKey, (f64, String, usize)> =
        own.iter().map(|(key, points)| (key.clone(), (*points, called(request), usize::from(!itself)))).collect();
    let mut unread = Vec::new();
    for other in others {
        let known = known(tools, &shelf, &other);
        let Some(sizes) = &known.sizes else {
            unread.push(called(&other));
            continue;
        };
        for (key, points) in sizes {
            let (least, by, of) = smallest.entry(key.clone()).or_insert((f64::MAX, String::new(), 0));
            *of += 1;
            if points < least {
                (*least, *by) = (*points, called(&other));
            }
        }
    }
    if let [one, ..] = &unread[..] {
        let more = if unread.len() > 1 { format!(" and {} more", unread.len() - 1) } else { String::new() };
        let message = format!("sizes are alike without `{one}`{more}, which cannot be read");
        let finding = Finding::new(Severity::Warning, "language", *first, message);
        tools.findings.borrow_mut().push(finding.help("mend it: its words may need a smaller size"));
    }
    let reported = smallest.iter().map(|(key, (points, by, of))| AlikeSize {
        panel: key.1,
        element: key.2.clone(),
        points: *points,
        own: own.get(key).copied(),
        decided_by: by.clone(),
        of: *of,
    });
    Alike {
        reported: reported.collect(),
        sizes: smallest.into_iter().map(|(key, (points, ..))| (key, points)).collect(),
    }
}

fn called(request: &CoverRequest) -> String {
    request.title.as_ref().map_or_else(|| request.path.clone(), |title| title.stem.clone())
}

/// The covers beside this one: the other rows of its table, or the covers over the files that ask; and whether it is among
/// them, under another path.
fn others(
    tools: &StageTools<'_>,
    shelf: &NotingShelf<'_>,
    asked: &[Span],
    request: &CoverRequest,
) -> (Vec<CoverRequest>, bool) {
    let beside = CoverRequest { trial: None, strict: false, ..request.clone() };
    if let Some(own) = &request.title {
        let rows = rows(shelf, own).into_iter();
        return (rows.map(|title| CoverRequest { title: Some(title), ..beside.clone() }).collect(), false);
    }
    let saying: BTreeSet<String> = asked.iter().filter_map(|asked| tools.files.path(asked.file)).collect();
    let mut paths: BTreeSet<String> = saying.iter().flat_map(|file| dependants(shelf, file)).collect();
    paths.remove(&request.path);
    let glance = |path: &str| tools.shelf.glance(path, Glance::File);
    let ending = format!("/{}", request.path);
    let is_itself = |path: &String| path.ends_with(&ending) && glance(path) == glance(&request.path);
    let itself = paths.iter().any(is_itself);
    if request.trial.is_some() {
        // With facts tried out it is not as its file has it.
        paths.retain(|path| !is_itself(path));
    }
    (paths.into_iter().map(|path| CoverRequest { path, ..beside.clone() }).collect(), itself && request.trial.is_none())
}

/// The other rows of a title's table as it stands now, no more of them than are too many: whoever remembers this build
/// remembers it so.
fn rows(shelf: &NotingShelf<'_>, own: &CatalogueTitle) -> Vec<CatalogueTitle> {
    let was = &own.sheet;
    let bytes = shelf.read(&was.path).ok();
    let text = bytes.as_deref().and_then(|bytes| std::str::from_utf8(unmarked(bytes)).ok());
    let changed = text.map(|text| (text, Digest::of(text.as_bytes()))).filter(|(_, digest)| *digest != was.digest);
    let sheet = changed.map_or_else(
        || was.clone(),
        |(text, digest)| {
            let table = table(&mut Findings::default(), TABLE, &was.path, text);
            Arc::new(CatalogueTable { path: was.path.clone(), digest, text: text.into(), table })
        },
    );
    let title_of = |(row, line)| {
        let mut findings = Findings::default();
        let stem = title(&mut findings, line).stem.value;
        let (sheet, faults) = (sheet.clone(), Vec::new());
        (!findings.has_errors()).then_some(CatalogueTitle {
            sheet,
            row,
            stem,
            faults,
            is_twin: false,
            is_undrawn: false,
        })
    };
    let others = sheet.table.rows.iter().enumerate().filter_map(title_of).filter(|title| title.stem != own.stem);
    others.take(MOST_ALIKE).collect()
}

/// The sizes that another cover finds, remembered for as long as all that it is made of stays as it is.
fn known(tools: &StageTools<'_>, shelf: &NotingShelf<'_>, request: &CoverRequest) -> Arc<KnownSizes> {
    let row = request.title.as_ref().and_then(|title| {
        let cells = title.row()?.cells.iter().map(|cell| (cell.column.value.clone(), cell.whole.value.clone()));
        Some((title.sheet.path.clone(), cells.collect::<Vec<_>>()))
    });
    let key = Digest::of(format!("{:?}", (&request.path, &request.edition, row)).as_bytes());
    if let Some(known) = tools.workshop.sizes.get(key)
        && known.made_of.iter().all(|noted| shelf.stands(noted))
    {
        return known;
    }
    let (files, findings) = (Files::default(), RefCell::default());
    let (sizes, made_of) = shelf.noting(|| {
        let laid = layers(Sources { shelf, files: &files, findings: &findings }, request);
        let sound = !findings.borrow().has_errors();
        let there = |laid: &LaidCover| match &request.edition {
            Some(edition) => laid.editions.contains(edition),
            None => laid.whole,
        };
        match laid {
            // Another cover need not have this edition; all files that may state one were read.
            Ok(Some(laid)) if !there(&laid) => Some(BTreeMap::new()),
            Ok(Some(laid)) if sound => Some(measured(tools, shelf, &laid.tree, &files)),
            _ => None,
        }
    });
    tools.workshop.sizes.renew(key, KnownSizes { made_of, sizes })
}

/// The smallest size that the words of a cover find, element by element. What is wrong with it is its own to report.
fn measured(tools: &StageTools<'_>, shelf: &dyn Shelf, tree: &Tree, files: &Files) -> BTreeMap<SizeKey, f64> {
    let tree = for_sizes(tree);
    let findings = RefCell::default();
    let faces = tools.workshop.faces(&findings, files, shelf);
    let outputs = output_words(tools.workshop);
    let plain = Desk::new(shelf, &tools.workshop.darkroom, faces.typesetter.library(), files, &findings);
    let cover = read(&Desk { outputs: &outputs, rules: limit_words(), ..plain }, &tree);
    let mut sizes = BTreeMap::new();
    for found in found_sizes(&cover, &faces.typesetter) {
        let Some(asked) = files.path(found.asked.file) else { continue };
        let least = sizes.entry((asked, found.panel, found.element)).or_insert(f64::MAX);
        *least = least.min(found.points);
    }
    sizes
}
