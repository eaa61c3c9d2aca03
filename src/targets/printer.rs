//! Printer: the file that a cover names as its printer's is laid under the cover and over its series.

use crate::language::PRINTER_WORDS;
use crate::source::{Tree, parse_file};
use crate::targets::sources::{Sources, top_text};

/// The printer's tree, where one of these trees names one; the last that does says which. None where the file
/// cannot be read, too, which has been reported.
pub fn printer(reading: Sources<'_>, chain: &[Tree]) -> Option<Tree> {
    for tree in chain {
        if let Some(again) = tree.nodes.iter().filter(|node| node.name.value == "printer").nth(1) {
            let message = "`printer` stands here a second time";
            let help = "a cover has one printer: keep one of the two, or name the other in an edition";
            reading.findings.borrow_mut().error(again.name.span, message, help);
        }
    }
    let path = chain.iter().rev().find_map(|tree| top_text(tree, "printer"))?;
    let (file, text) = reading.files.read(reading.findings, reading.shelf, &path)?;
    let mut findings = reading.findings.borrow_mut();
    let tree = parse_file(&mut findings, file, &text);
    for node in tree.nodes.iter().filter(|node| !PRINTER_WORDS.contains(&node.name.value.as_str())) {
        let message = format!("a printer's file does not state `{}`", node.name.value);
        let help =
            format!("it states {} alone; the design stands in the cover or its series", PRINTER_WORDS.join(", "));
        findings.error(node.name.span, message, help);
    }
    Some(tree)
}
