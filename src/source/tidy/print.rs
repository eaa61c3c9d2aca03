//! Print: an outline as rows of code: what fits stays on its line, the rest is broken at braces and `;`.

use crate::source::tidy::outline::{Body, Fragment, FragmentKind, Fragments, LineComment, SourceLine};
use crate::source::tokens::{TokenKind, is_newline, tight};
use std::borrow::Cow;

/// A row of code reaches this far at the most, where it can be broken. Comments behind it may reach further.
const MEASURE: usize = 120;
/// Blanks a level.
const INDENT: usize = 4;

/// Code with its indent, and the comment behind it or alone. Text over several lines makes a row of several lines.
pub struct CodeRow<'a> {
    pub code: String,
    pub comment: Option<LineComment<'a>>,
    pub indent: usize,
}

pub fn rows<'a>(block: &Body<'a>) -> Vec<CodeRow<'a>> {
    let mut printer = Printer { rows: Vec::new() };
    printer.lines(&block.lines, 0);
    printer.rows
}

/// How many letters stand on its last line.
pub fn width(code: &str) -> usize {
    code.rsplit(is_newline).next().unwrap_or_default().chars().count()
}

struct Printer<'a> {
    rows: Vec<CodeRow<'a>>,
}

impl<'a> Printer<'a> {
    fn lines(&mut self, lines: &[SourceLine<'a>], indent: usize) {
        for (at, line) in lines.iter().enumerate() {
            if line.after_blank && at > 0 {
                self.row(String::new(), 0, None);
            }
            self.line(line, indent);
        }
    }

    fn line(&mut self, line: &SourceLine<'a>, indent: usize) {
        let mut group = Vec::new();
        for node in &line.nodes {
            let flat = flat(node).filter(|stated| indent + stated.chars().count() <= MEASURE);
            // A node with a block has its line for itself.
            let alone = node.iter().any(|part| matches!(part.what, FragmentKind::Braced(_)));
            match flat {
                Some(stated) if !alone => group.push(stated),
                flat => {
                    self.group(&mut group, indent);
                    let code = flat.map_or_else(|| self.broken(node, indent), |stated| " ".repeat(indent) + &stated);
                    self.row(code, indent, None);
                }
            }
        }
        self.group(&mut group, indent);
        if line.nodes.is_empty() {
            self.row(String::new(), indent, None);
        }
        if let Some(last) = self.rows.last_mut() {
            last.comment = line.comment;
        }
    }

    /// Nodes that stood on one line, on as few rows as they need, of much the same length.
    fn group(&mut self, nodes: &mut Vec<String>, indent: usize) {
        let nodes = std::mem::take(nodes);
        let few = filled(&nodes, MEASURE - indent.min(MEASURE)).len();
        let (mut narrow, mut wide) = (0, MEASURE - indent.min(MEASURE));
        while narrow < wide {
            let half = usize::midpoint(narrow, wide);
            if filled(&nodes, half).len() > few { narrow = half + 1 } else { wide = half }
        }
        for row in filled(&nodes, wide) {
            self.row(" ".repeat(indent) + &row.join("; "), indent, None);
        }
    }

    /// A node that takes several lines; the last of them is given back.
    fn broken(&mut self, node: &Fragments<'a>, indent: usize) -> String {
        let mut code = " ".repeat(indent);
        for (at, part) in node.iter().enumerate() {
            let before = at.checked_sub(1).map(|before| &node[before]);
            match &part.what {
                FragmentKind::Break { backslash, comment } => {
                    code += if *backslash { " \\" } else { "" };
                    code += &comment.map_or_else(String::new, |stated| format!(" {stated}"));
                    code += "\n";
                    code += &" ".repeat(indent + INDENT);
                }
                FragmentKind::Braced(block) => {
                    code += gap(before, part);
                    let flat = flat_block(block).filter(|stated| width(&code) + stated.chars().count() <= MEASURE);
                    if let Some(stated) = flat {
                        code += &stated;
                    } else {
                        code += "{";
                        self.row(code, indent, block.head);
                        self.lines(&block.lines, indent + INDENT);
                        code = " ".repeat(indent) + "}";
                    }
                }
                what => {
                    code += gap(before, part);
                    code += &stated(what).unwrap_or_default();
                }
            }
        }
        code
    }

    fn row(&mut self, code: String, indent: usize, comment: Option<LineComment<'a>>) {
        self.rows.push(CodeRow { code, comment, indent });
    }
}

/// Nodes in rows, each as full as the measure lets it be.
fn filled(nodes: &[String], measure: usize) -> Vec<&[String]> {
    let (mut rows, mut begin, mut length) = (Vec::new(), 0, 0);
    for (at, node) in nodes.iter().enumerate() {
        let wide = node.chars().count();
        if at > begin && length + "; ".len() + wide > measure {
            rows.push(&nodes[begin..at]);
            (begin, length) = (at, 0);
        }
        length += if at > begin { "; ".len() + wide } else { wide };
    }
    rows.extend(Some(&nodes[begin..]).filter(|row| !row.is_empty()));
    rows
}

/// A node on one line; `None` where it cannot stand on one, or its author broke it.
fn flat(node: &Fragments<'_>) -> Option<String> {
    let mut code = String::new();
    for (at, part) in node.iter().enumerate() {
        code += gap(at.checked_sub(1).map(|before| &node[before]), part);
        match &part.what {
            FragmentKind::Braced(block) => code += &flat_block(block)?,
            what => code += &stated(what).filter(|stated| !stated.contains(is_newline))?,
        }
    }
    Some(code)
}

fn flat_block(block: &Body<'_>) -> Option<String> {
    if block.lines.is_empty() && block.head.is_none() {
        return Some("{}".to_owned());
    }
    if !block.one_line {
        return None;
    }
    let nodes: Option<Vec<String>> = block.lines.iter().flat_map(|line| &line.nodes).map(flat).collect();
    Some(format!("{{ {} }}", nodes?.join("; ")))
}

/// A word or comment as it was written.
fn stated<'a>(what: &FragmentKind<'a>) -> Option<Cow<'a, str>> {
    match what {
        FragmentKind::Said(TokenKind::Unit, stated) => Some(format!("({})", tight(stated)).into()),
        FragmentKind::Said(_, stated) | FragmentKind::Comment(stated) => Some((*stated).into()),
        FragmentKind::Break { .. } | FragmentKind::Braced(_) => None,
    }
}

/// The blank between two parts of a node: none around `=` and behind a unit, the author's behind `/-` and where a comment
/// stands there, else one.
fn gap(before: Option<&Fragment<'_>>, part: &Fragment<'_>) -> &'static str {
    let Some(before) = before else { return "" };
    let tight = |what: &FragmentKind<'_>| matches!(what, FragmentKind::Said(TokenKind::Equals, _));
    let leads = tight(&before.what) || matches!(before.what, FragmentKind::Said(TokenKind::Unit, _));
    let comment = |what: &FragmentKind<'_>| matches!(what, FragmentKind::Comment(_));
    let slashed = matches!(before.what, FragmentKind::Said(TokenKind::Slashdash, _));
    let beside_comment = (leads && comment(&part.what)) || (comment(&before.what) && tight(&part.what));
    match &before.what {
        FragmentKind::Break { .. } => "",
        _ if slashed || beside_comment => {
            if part.apart {
                " "
            } else {
                ""
            }
        }
        _ if leads || tight(&part.what) => "",
        _ => " ",
    }
}
