//! Outline: a text as lines of nodes, with the comments and the breaks that its author gave them.

use crate::source::tokens::{Token, TokenKind, is_newline, pieces};

#[derive(Debug, Default)]
pub struct Body<'a> {
    /// No line ended between its braces.
    pub one_line: bool,
    /// The comment behind its opening brace.
    pub head: Option<LineComment<'a>>,
    pub lines: Vec<SourceLine<'a>>,
}

/// Nodes that stood on one line, separated by `;`, or a comment alone.
#[derive(Debug, Default)]
pub struct SourceLine<'a> {
    pub after_blank: bool,
    pub nodes: Vec<Fragments<'a>>,
    pub comment: Option<LineComment<'a>>,
}

/// `// …`, the column where it stood, and the blanks before it.
#[derive(Clone, Copy, Debug)]
pub struct LineComment<'a> {
    pub text: &'a str,
    pub column: usize,
    pub gap: usize,
}

pub type Fragments<'a> = Vec<Fragment<'a>>;

#[derive(Debug)]
pub struct Fragment<'a> {
    /// A blank stood before it.
    pub apart: bool,
    pub what: FragmentKind<'a>,
}

#[derive(Debug)]
pub enum FragmentKind<'a> {
    Said(TokenKind, &'a str),
    /// `/* … */`
    Comment(&'a str),
    /// The node goes on in the next line: by a backslash, or because `/-` still waits for what it takes away.
    Break {
        backslash: bool,
        comment: Option<&'a str>,
    },
    Braced(Body<'a>),
}

pub fn outline(text: &str) -> Body<'_> {
    let mut outliner = Outliner { text, pieces: pieces(text), at: 0 };
    // A brace that closes nothing would end it early; the parser has refused such texts.
    let mut all = outliner.block();
    if let Some(first) = all.head.take() {
        all.lines.insert(0, SourceLine { comment: Some(first), ..SourceLine::default() });
    }
    all
}

struct Outliner<'a> {
    text: &'a str,
    pieces: Vec<Token>,
    at: usize,
}

impl<'a> Outliner<'a> {
    /// FragmentKind follows an opening brace, up to its closing one.
    fn block(&mut self) -> Body<'a> {
        let mut block = Body { one_line: true, ..Body::default() };
        let (mut line, mut ends) = (SourceLine::default(), 0);
        while let Some((kind, stated)) = self.next() {
            match kind {
                TokenKind::Close => break,
                TokenKind::Blank => {}
                TokenKind::End => {
                    block.one_line = false;
                    block.finish(&mut line);
                    ends += 1;
                }
                TokenKind::LineComment => {
                    let comment = Some(self.comment(stated));
                    if block.one_line && line.nodes.is_empty() {
                        block.head = comment;
                    } else {
                        line.after_blank |= line.nodes.is_empty() && ends > 1;
                        line.comment = comment;
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
                    for comment in left {
                        line.comment = Some(comment);
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
    fn node(&mut self) -> (Fragments<'a>, Vec<LineComment<'a>>) {
        let (mut node, mut apart): (Fragments<'a>, bool) = (Vec::new(), false);
        while let Some((kind, stated)) = self.next() {
            let waits = waits(&node);
            let what = match kind {
                TokenKind::Blank => None,
                TokenKind::End if stated == ";" => break,
                TokenKind::End if waits => None,
                TokenKind::LineComment if waits => {
                    Some(FragmentKind::Break { backslash: false, comment: Some(stated) })
                }
                TokenKind::End | TokenKind::LineComment | TokenKind::Close => {
                    self.at -= 1;
                    break;
                }
                TokenKind::BlockComment => Some(FragmentKind::Comment(stated)),
                TokenKind::Open => Some(FragmentKind::Braced(self.block())),
                TokenKind::Join => {
                    let (comments, comment) = behind(stated);
                    node.extend(comments.map(|text| Fragment { apart: true, what: FragmentKind::Comment(text) }));
                    let needed = comment.is_some() || (!waits && speaks(&node) && !ends_broken(&node));
                    needed.then_some(FragmentKind::Break { backslash: !waits, comment })
                }
                kind => Some(FragmentKind::Said(kind, stated)),
            };
            let Some(what) = what else {
                apart = true;
                continue;
            };
            if matches!(
                (node.last(), &what),
                (Some(Fragment { what: FragmentKind::Break { comment: None, .. }, .. }), FragmentKind::Break { .. })
            ) {
                node.pop();
            }
            node.push(Fragment { apart, what });
            apart = false;
            if let [Fragment { what: FragmentKind::Break { comment: Some(_), .. }, .. }] = node[..] {
                break;
            }
        }
        let mut left = Vec::new();
        while let Some(Fragment { what: FragmentKind::Break { comment, .. }, .. }) = node.last() {
            left.extend(comment.map(|stated| self.comment(stated)));
            node.pop();
        }
        left.reverse();
        (node, left)
    }

    fn next(&mut self) -> Option<(TokenKind, &'a str)> {
        let piece = self.pieces.get(self.at)?;
        self.at += 1;
        Some((piece.kind, &self.text[piece.range.clone()]))
    }

    fn ended_a_line(&self, from: usize) -> bool {
        self.pieces[from..self.at].iter().any(|piece| self.text[piece.range.clone()].contains(is_newline))
    }

    fn comment(&self, stated: &'a str) -> LineComment<'a> {
        /// As wide as editors mostly show it.
        const TAB: usize = 4;
        let start = stated.as_ptr() as usize - self.text.as_ptr() as usize;
        let before = self.text[..start].rsplit(is_newline).next().unwrap_or_default();
        let wide = |stated: &str| stated.chars().map(|letter| if letter == '\t' { TAB } else { 1 }).sum::<usize>();
        LineComment { text: stated, column: wide(before), gap: wide(before) - wide(before.trim_end()) }
    }
}

impl<'a> Body<'a> {
    fn finish(&mut self, line: &mut SourceLine<'a>) {
        let line = std::mem::take(line);
        if !line.nodes.is_empty() || line.comment.is_some() {
            self.lines.push(line);
        }
    }
}

/// Whether the last word is a `/-`, behind which lines may end.
fn waits(node: &Fragments<'_>) -> bool {
    let last =
        node.iter().rev().find(|part| !matches!(part.what, FragmentKind::Comment(_) | FragmentKind::Break { .. }));
    matches!(last, Some(Fragment { what: FragmentKind::Said(TokenKind::Slashdash, _), .. }))
}

fn speaks(node: &Fragments<'_>) -> bool {
    node.iter().any(|part| matches!(part.what, FragmentKind::Said(..)))
}

fn ends_broken(node: &Fragments<'_>) -> bool {
    matches!(node.last(), Some(Fragment { what: FragmentKind::Break { .. }, .. }))
}

/// The comments behind a backslash at the end of a line.
fn behind(join: &str) -> (impl Iterator<Item = &str>, Option<&str>) {
    let tail = &join[1..];
    let of = move |kind: TokenKind| pieces(tail).into_iter().filter(move |piece| piece.kind == kind);
    let stated = move |piece: Token| &tail[piece.range];
    (of(TokenKind::BlockComment).map(stated), of(TokenKind::LineComment).map(stated).next())
}
