//! Entities: what an SVG file calls by names of its own or by numbers (XML 1.0, 4.1 to 4.5), written out before anything else reads
//! it, so that a colour is a colour however it is written.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::doctype::{Declared, doctype, has_doctype};
use crate::assets::drawing::reference::{MARKUP, literal, numbered, reference};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The text without names of its own; lines stay where they are.
pub fn written_out(text: &str) -> Result<Cow<'_, str>, PictureFault> {
    if !text.contains('&') {
        return Ok(Cow::Borrowed(text));
    }
    let found = doctype(text);
    if found.is_none() && has_doctype(text) {
        return Err(refused("the SVG begins a DOCTYPE whose end cannot be found"));
    }
    let (declared, end) = found.as_ref().map_or((&[][..], 0), |found| (&found.entities[..], found.place.end));
    let values = declared.iter().rev().map(|(name, declared)| match declared {
        Declared::Here(value) => (*name, Some(literal(value))),
        Declared::Elsewhere => (*name, None),
    });
    let names: BTreeMap<&str, Option<Cow<'_, str>>> = values.collect();
    let mut out = String::with_capacity(text.len());
    if let Some(found) = &found {
        out.push_str(&text[..found.place.start]);
        out.extend(text[found.place.clone()].matches('\n'));
    }
    let mut writer = EntityWriter { text, names: &names, out, left: bounds::ENTITIES, at: end };
    writer.content(&text[end..], 0)?;
    Ok(Cow::Owned(writer.out))
}

struct EntityWriter<'a> {
    text: &'a str,
    /// `None` for one that lies in another file.
    names: &'a BTreeMap<&'a str, Option<Cow<'a, str>>>,
    out: String,
    /// Bytes that names may still stand for.
    left: usize,
    /// Of the file: where the name in hand stands, for messages.
    at: usize,
}

impl<'a> EntityWriter<'a> {
    /// What stands between tags, and the tags. What a name stands for is whole (4.3.2).
    fn content(&mut self, text: &'a str, deep: usize) -> Result<(), PictureFault> {
        const NOT_WHOLE: &str = "holds only part of an element, tag or comment";
        let (mut rest, mut open) = (text, 0_usize);
        while let Some(next) = rest.find(['&', '<']) {
            self.push(&rest[..next], deep);
            rest = &rest[next..];
            let kept = [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>")].into_iter();
            if let Some((_, close)) = kept.into_iter().find(|(open, _)| rest.starts_with(open)) {
                let end = rest.find(close).map(|at| at + close.len());
                if end.is_none() && deep > 0 {
                    return Err(self.refusal(NOT_WHOLE));
                }
                let (all, after) = rest.split_at(end.unwrap_or(rest.len()));
                self.push(all, deep);
                rest = after;
            } else if rest.starts_with('<') {
                let (tag, after) = self.tag(rest, deep)?;
                let left = if tag.starts_with("</") { open.checked_sub(1) } else { Some(open + 1) };
                open = if tag.ends_with("/>") { open } else { left.unwrap_or(usize::MAX) };
                if deep > 0 && (!tag.ends_with('>') || open == usize::MAX) {
                    return Err(self.refusal(NOT_WHOLE));
                }
                rest = after;
            } else if let Some((name, after)) = reference(rest) {
                self.note(rest, deep);
                match self.called(name, deep)? {
                    Some(value) => self.content(value, deep + 1)?,
                    None => match name {
                        // `]]>` may not stand in a text.
                        "gt" if !self.out.ends_with(']') => self.out.push('>'),
                        "quot" => self.out.push('"'),
                        "apos" => self.out.push('\''),
                        _ => self.other(name),
                    },
                }
                rest = after;
            } else {
                self.out.push('&');
                rest = &rest[1..];
            }
        }
        self.push(rest, deep);
        if deep > 0 && open > 0 { Err(self.refusal(NOT_WHOLE)) } else { Ok(()) }
    }

    /// In one line what a name stands for, so that lines stay where they are: a space is as good everywhere.
    fn push(&mut self, text: &str, deep: usize) {
        if deep == 0 {
            self.out.push_str(text);
        } else {
            self.out.extend(text.chars().map(|letter| if letter == '\n' { ' ' } else { letter }));
        }
    }

    /// A tag with its values, and what follows it.
    fn tag(&mut self, text: &'a str, deep: usize) -> Result<(&'a str, &'a str), PictureFault> {
        let mut rest = text;
        loop {
            let Some(next) = rest.find(['"', '\'', '>']) else {
                self.push(rest, deep);
                return Ok((text, ""));
            };
            let (before, after) = rest.split_at(next);
            self.push(before, deep);
            if let Some(rest) = after.strip_prefix('>') {
                self.out.push('>');
                return Ok(text.split_at(text.len() - rest.len()));
            }
            let quote = if after.starts_with('"') { '"' } else { '\'' };
            let Some((value, after)) = after[1..].split_once(quote) else {
                self.push(after, deep);
                return Ok((text, ""));
            };
            self.quoted(value, quote, deep)?;
            rest = after;
        }
    }

    /// A value with the quotes around it: others, where it holds the ones it has and none of the others.
    fn quoted(&mut self, value: &'a str, quote: char, deep: usize) -> Result<(), PictureFault> {
        let start = self.out.len();
        self.out.push(quote);
        self.value(value, deep)?;
        let written = self.out.split_off(start + 1);
        self.out.truncate(start);
        let holds = |name: &str, letter: char| written.contains(name) || written.contains(letter);
        let quote = match (holds("&quot;", '"'), holds("&apos;", '\'')) {
            (true, false) => '\'',
            (false, true) => '"',
            _ => quote,
        };
        let (name, letter) = if quote == '"' { ("&apos;", "'") } else { ("&quot;", "\"") };
        self.out.push(quote);
        self.out.push_str(&written.replace(name, letter));
        self.out.push(quote);
        Ok(())
    }

    /// The inside of a value; quotes that a name stands for do not end it (4.4.5).
    fn value(&mut self, text: &'a str, deep: usize) -> Result<(), PictureFault> {
        let mut rest = text;
        while let Some(next) = rest.find(['&', '<', '"', '\'']) {
            self.push(&rest[..next], deep);
            rest = &rest[next..];
            match rest.as_bytes()[0] {
                b'<' if deep > 0 => return Err(self.refusal("holds elements, and stands in a value")),
                b'"' if deep > 0 => self.out.push_str("&quot;"),
                b'\'' if deep > 0 => self.out.push_str("&apos;"),
                b'&' => {
                    if let Some((name, after)) = reference(rest) {
                        self.note(rest, deep);
                        match self.called(name, deep)? {
                            Some(value) => self.value(value, deep + 1)?,
                            None if name == "gt" => self.out.push('>'),
                            None => self.other(name),
                        }
                        rest = after;
                        continue;
                    }
                    self.out.push('&');
                }
                other => self.out.push(char::from(other)),
            }
            rest = &rest[1..];
        }
        self.push(rest, deep);
        Ok(())
    }

    /// A number, or what the XML reader knows or refuses.
    fn other(&mut self, name: &str) {
        match numbered(name) {
            Some(letter) => self.out.push(letter),
            None => self.out.extend(["&", name, ";"]),
        }
    }

    fn note(&mut self, rest: &str, deep: usize) {
        if deep == 0 {
            self.at = rest.as_ptr() as usize - self.text.as_ptr() as usize;
        }
    }

    /// What a name stands for; `None` for one that the file does not declare.
    fn called(&mut self, name: &str, deep: usize) -> Result<Option<&'a str>, PictureFault> {
        let known = if MARKUP.iter().any(|(markup, _)| *markup == name) { None } else { self.names.get(name) };
        let value = match known {
            None => return Ok(None),
            Some(None) => return Err(self.refusal("lies in another file")),
            Some(Some(value)) => &**value,
        };
        if deep >= bounds::NAMED {
            return Err(self.refusal(&format!("stands for names more than {} deep, or for itself", bounds::NAMED)));
        }
        // Each costs at least one, however short it is.
        self.left = self.left.checked_sub(value.len() + 1).ok_or_else(|| {
            refused(format!("the SVG has XML entities that stand for more than {} MB of text", bounds::ENTITIES >> 20))
        })?;
        Ok(Some(value))
    }

    fn refusal(&self, why: &str) -> PictureFault {
        refused(format!("the XML entity in line {} of the SVG {why}", bounds::line(self.text, self.at)))
    }
}
