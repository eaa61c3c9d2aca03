//! Outline: a text as lines of nodes, with the comments and the breaks that its author gave them.

use crate::source::tokens::{Kind, Token, is_newline, pieces};

#[derive(Debug, Default)]
pub struct Block<'a> {
    /// No line ended between its braces.
    pub one_line: bool,
    /// The comment behind its opening brace.
    pub head: Option<Remark<'a>>,
    pub lines: Vec<Line<'a>>,
}

/// Nodes that stood on one line, parted by `;`, or a comment alone.
#[derive(Debug, Default)]
pub struct Line<'a> {
    pub after_blank: bool,
    pub nodes: Vec<Node<'a>>,
    pub remark: Option<Remark<'a>>,
}

/// `// …`, the column where it stood, and the blanks before it.
#[derive(Clone, Copy, Debug)]
pub struct Remark<'a> {
    pub text: &'a str,
    pub column: usize,
    pub gap: usize,
}

pub type Node<'a> = Vec<Part<'a>>;

#[derive(Debug)]
pub struct Part<'a> {
    /// A blank stood before it.
    pub apart: bool,
    pub what: What<'a>,
}

#[derive(Debug)]
pub enum What<'a> {
    Said(Kind, &'a str),
    /// `/* … */`
    Comment(&'a str),
    /// The node goes on in the next line: by a backslash, or because `/-` still waits for what it takes away.
    Break {
        backslash: bool,
        comment: Option<&'a str>,
    },
    Block(Block<'a>),
}

pub fn outline(text: &str) -> Block<'_> {
    let mut outliner = Outliner { text, pieces: pieces(text), at: 0 };
    // A brace that closes nothing would end it early; the parser has refused such texts.
    let mut all = outliner.block();
    if let Some(first) = all.head.take() {
        all.lines.insert(0, Line { remark: Some(first), ..Line::default() });
    }
    all
}

struct Outliner<'a> {
    text: &'a str,
    pieces: Vec<Token>,
    at: usize,
}

impl<'a> Outliner<'a> {
    /// What follows an opening brace, up to its closing one.
    fn block(&mut self) -> Block<'a> {
        let mut block = Block { one_line: true, ..Block::default() };
        let (mut line, mut ends) = (Line::default(), 0);
        while let Some((kind, said)) = self.next() {
            match kind {
                Kind::Close => break,
                Kind::Blank => {}
                Kind::End => {
                    block.one_line = false;
                    block.finish(&mut line);
                    ends += 1;
                }
                Kind::LineComment => {
                    let remark = Some(self.remark(said));
                    if block.one_line && line.nodes.is_empty() {
                        block.head = remark;
                    } else {
                        line.after_blank |= line.nodes.is_empty() && ends > 1;
                        line.remark = remark;
                        block.finish(&mut line);
                    }
                    ends = 0;
                }
                _ => {
                    self.at -= 1;
                    let from = self.at;
                    let (node, left) = self.node();
                    line.after_blank |= line.nodes.is_empty() && ends > 1;
                    if !node.is_empty() {
                        line.nodes.push(node);
                        ends = 0;
                    }
                    for remark in left {
                        line.remark = Some(remark);
                        block.finish(&mut line);
                        ends = 0;
                    }
                    block.one_line &= !self.ended_a_line(from);
                }
            }
        }
        block.finish(&mut line);
        block
    }

    /// A node and the comments of line ends that it took away behind its last word.
    fn node(&mut self) -> (Node<'a>, Vec<Remark<'a>>) {
        let (mut node, mut apart): (Node<'a>, bool) = (Vec::new(), false);
        while let Some((kind, said)) = self.next() {
            let waits = waits(&node);
            let what = match kind {
                Kind::Blank => None,
                Kind::End if said == ";" => break,
                Kind::End if waits => None,
                Kind::LineComment if waits => Some(What::Break { backslash: false, comment: Some(said) }),
                Kind::End | Kind::LineComment | Kind::Close => {
                    self.at -= 1;
                    break;
                }
                Kind::BlockComment => Some(What::Comment(said)),
                Kind::Open => Some(What::Block(self.block())),
                Kind::Join => {
                    let (comments, comment) = behind(said);
                    node.extend(comments.map(|text| Part { apart: true, what: What::Comment(text) }));
                    let needed = comment.is_some() || (!waits && speaks(&node) && !ends_broken(&node));
                    needed.then_some(What::Break { backslash: !waits, comment })
                }
                kind => Some(What::Said(kind, said)),
            };
            let Some(what) = what else {
                apart = true;
                continue;
            };
            if matches!(
                (node.last(), &what),
                (Some(Part { what: What::Break { comment: None, .. }, .. }), What::Break { .. })
            ) {
                node.pop();
            }
            node.push(Part { apart, what });
            apart = false;
            if let [Part { what: What::Break { comment: Some(_), .. }, .. }] = node[..] {
                break;
            }
        }
        let mut left = Vec::new();
        while let Some(Part { what: What::Break { comment, .. }, .. }) = node.last() {
            left.extend(comment.map(|said| self.remark(said)));
            node.pop();
        }
        left.reverse();
        (node, left)
    }

    fn next(&mut self) -> Option<(Kind, &'a str)> {
        let piece = self.pieces.get(self.at)?;
        self.at += 1;
        Some((piece.kind, &self.text[piece.range.clone()]))
    }

    fn ended_a_line(&self, from: usize) -> bool {
        self.pieces[from..self.at].iter().any(|piece| self.text[piece.range.clone()].contains(is_newline))
    }

    fn remark(&self, said: &'a str) -> Remark<'a> {
        /// As wide as editors mostly show it.
        const TAB: usize = 4;
        let start = said.as_ptr() as usize - self.text.as_ptr() as usize;
        let before = self.text[..start].rsplit(is_newline).next().unwrap_or_default();
        let wide = |said: &str| said.chars().map(|letter| if letter == '\t' { TAB } else { 1 }).sum::<usize>();
        Remark { text: said, column: wide(before), gap: wide(before) - wide(before.trim_end()) }
    }
}

impl<'a> Block<'a> {
    fn finish(&mut self, line: &mut Line<'a>) {
        let line = std::mem::take(line);
        if !line.nodes.is_empty() || line.remark.is_some() {
            self.lines.push(line);
        }
    }
}

/// Whether the last word is a `/-`, behind which lines may end.
fn waits(node: &Node<'_>) -> bool {
    let last = node.iter().rev().find(|part| !matches!(part.what, What::Comment(_) | What::Break { .. }));
    matches!(last, Some(Part { what: What::Said(Kind::Slashdash, _), .. }))
}

fn speaks(node: &Node<'_>) -> bool {
    node.iter().any(|part| matches!(part.what, What::Said(..)))
}

fn ends_broken(node: &Node<'_>) -> bool {
    matches!(node.last(), Some(Part { what: What::Break { .. }, .. }))
}

/// The comments behind a backslash at the end of a line.
fn behind(join: &str) -> (impl Iterator<Item = &str>, Option<&str>) {
    let tail = &join[1..];
    let of = move |kind: Kind| pieces(tail).into_iter().filter(move |piece| piece.kind == kind);
    let said = move |piece: Token| &tail[piece.range];
    (of(Kind::BlockComment).map(said), of(Kind::LineComment).map(said).next())
}
