//! Entities: what an SVG file calls by names of its own or by numbers (XML 1.0, 4.1 to 4.5), written out before anything else reads
//! it, so that a colour is a colour however it is written.

use crate::assets::PictureFault;
use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::doctype::{Declared, doctype};
use crate::assets::drawing::reference::{MARKUP, is_markup, numbered, reference};
use std::borrow::Cow;
use std::collections::BTreeMap;

/// The text without names of its own; lines stay where they are.
pub fn written_out(text: &str) -> Result<Cow<'_, str>, PictureFault> {
    if !text.contains('&') {
        return Ok(Cow::Borrowed(text));
    }
    let found = doctype(text);
    let (declared, end) = found.as_ref().map_or((&[][..], 0), |found| (&found.entities[..], found.place.end));
    let mut names = BTreeMap::new();
    for (name, declared) in declared.iter().rev() {
        names.insert(*name, *declared);
    }
    let mut out = String::with_capacity(text.len());
    if let Some(found) = &found {
        out.push_str(&text[..found.place.start]);
        out.extend(text[found.place.clone()].matches('\n'));
    }
    let mut writer = EntityWriter { text, names, out, left: bounds::ENTITIES, at: end };
    writer.content(&text[end..], 0)?;
    Ok(Cow::Owned(writer.out))
}

struct EntityWriter<'a> {
    text: &'a str,
    names: BTreeMap<&'a str, Declared<'a>>,
    out: String,
    /// Bytes that names may still stand for.
    left: usize,
    /// Of the file: where the name in hand stands, for messages.
    at: usize,
}

impl<'a> EntityWriter<'a> {
    /// What stands between tags, and the tags.
    fn content(&mut self, text: &'a str, deep: usize) -> Result<(), PictureFault> {
        let mut rest = text;
        while let Some(next) = rest.find(['&', '<']) {
            self.out.push_str(&rest[..next]);
            rest = &rest[next..];
            let kept = [("<!--", "-->"), ("<![CDATA[", "]]>"), ("<?", "?>")].into_iter();
            if let Some((_, close)) = kept.into_iter().find(|(open, _)| rest.starts_with(open)) {
                let end = rest.find(close).map_or(rest.len(), |at| at + close.len());
                self.out.push_str(&rest[..end]);
                rest = &rest[end..];
            } else if rest.starts_with('<') {
                rest = self.tag(rest, deep)?;
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
        self.out.push_str(rest);
        Ok(())
    }

    /// A tag with its values; what follows it.
    fn tag(&mut self, text: &'a str, deep: usize) -> Result<&'a str, PictureFault> {
        let mut rest = text;
        loop {
            let Some(next) = rest.find(['"', '\'', '>']) else {
                self.out.push_str(rest);
                return Ok("");
            };
            let (before, after) = rest.split_at(next);
            self.out.push_str(before);
            if let Some(rest) = after.strip_prefix('>') {
                self.out.push('>');
                return Ok(rest);
            }
            let quote = if after.starts_with('"') { '"' } else { '\'' };
            let Some((value, after)) = after[1..].split_once(quote) else {
                self.out.push_str(after);
                return Ok("");
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
            self.out.push_str(&rest[..next]);
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
        self.out.push_str(rest);
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
            Some(Declared::Elsewhere) => return Err(self.refusal("lies in another file")),
            Some(Declared::Here(value)) => *value,
        };
        if deep >= bounds::NAMED {
            return Err(self.refusal(&format!("stands for names more than {} deep, or for itself", bounds::NAMED)));
        }
        // Markup by numbers is read as markup where a name stands for it (4.5); nobody writes an element so.
        if value.match_indices("&#").any(|(at, _)| reference(&value[at..]).is_some_and(|(name, _)| is_markup(name))) {
            return Err(self.refusal("holds markup by its number"));
        }
        // Each costs at least one, however short it is.
        match self.left.checked_sub(value.len() + 1) {
            Some(left) => self.left = left,
            None => return Err(refused("the SVG has XML entities that stand for more text than the file itself")),
        }
        Ok(Some(value))
    }

    fn refusal(&self, why: &str) -> PictureFault {
        refused(format!("the XML entity in line {} of the SVG {why}", bounds::line(self.text, self.at)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::drawing::hostile::chain;
    use usvg::roxmltree::{Document, Node, ParsingOptions};

    fn fault(text: &str) -> String {
        written_out(text).expect_err(text).message
    }

    #[test]
    fn names_and_numbers_are_written_out() {
        let head = "<?xml version='1.0'?><!-- <!DOCTYPE no [<!ENTITY a 'z'>]> -->\n";
        let declared = "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" 'svg.dtd' [\n<!-- <!ENTITY a 'y'> ]> -->\n\
            <!ENTITY a \"red\"><!ENTITY a 'blue'>\n<!ENTITY % p 'x'><!ENTITY two '&a;;&a;'>\n\
            <!ENTITY shape '<g id=\"1\">&a;</g>'><!ENTITY q 'say \"&#233;\"'><!ELEMENT g ANY> ]>";
        for (body, wanted) in [
            ("<g fill='&a;'>&a;</g>", "<g fill='red'>red</g>"),
            ("<g a=\"&two;\"/>", "<g a=\"red;red\"/>"),
            ("<b>&shape;</b>", "<b><g id=\"1\">red</g></b>"),
            ("<b x='&#35;f00&#x23;'/>", "<b x='#f00#'/>"),
            ("<b x='&q;'/><b x=\"&q;\">&q;</b>", "<b x='say \"\u{e9}\"'/><b x='say \"\u{e9}\"'>say \"\u{e9}\"</b>"),
            ("<b x=\"&quot;A&quot;\" y='&apos;' z=\"&quot;&apos;\"/>", "<b x='\"A\"' y=\"'\" z=\"&quot;'\"/>"),
            ("<b>&lt;&amp;a;&#10;&#60;&gt;</b>", "<b>&lt;&amp;a;&#10;&#60;></b>"),
            ("<![CDATA[&a;]]><!-- &a; --><?x &a;?>&b;", "<![CDATA[&a;]]><!-- &a; --><?x &a;?>&b;"),
            ("<b x='a>&a;'/>& <b x='&'/>", "<b x='a>red'/>& <b x='&'/>"),
            ("<b x=\"&a;", "<b x=\"&a;"),
        ] {
            let text = format!("{head}{declared}{body}");
            let lines = declared.matches('\n').count();
            assert_eq!(written_out(&text).expect(body), format!("{head}{}{wanted}", "\n".repeat(lines)));
        }
        let plain = "<!DOCTYPE svg [<!ENTITY a 'red'>]><g/>";
        assert!(matches!(written_out(plain), Ok(Cow::Borrowed(text)) if text == plain));
    }

    /// The values and the text of every element.
    fn found(text: &str) -> Vec<(Vec<String>, String)> {
        let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
        let document = Document::parse_with_options(text, options).unwrap_or_else(|why| panic!("{text}: {why}"));
        let all = document.descendants().filter(Node::is_element);
        let values = all.map(|node| {
            let values = node.attributes().map(|attribute| attribute.value().to_owned()).collect();
            (values, node.text().unwrap_or_default().to_owned())
        });
        values.collect()
    }

    /// Another reader of XML finds the same in what is written out as in the file.
    #[test]
    fn another_reader_finds_the_same() {
        let declared = "<!DOCTYPE a [<!ENTITY a 'x\"y'><!ENTITY b \"it's &a;\"><!ENTITY c '<i k=\"&a;\">&b;</i>'>]>";
        for body in [
            "&a;",
            "&b;&#65;&#x3b1;",
            "<i k='&b;'/>",
            "<i k=\"&b; &quot; &apos;\">&c;</i>",
            "<i k='&#10; &#9;&amp;&lt;&gt;'>]]&gt;</i>",
        ] {
            let text = format!("{declared}<a>{body}</a>");
            let plain = written_out(&text).expect("is written out");
            assert!(!plain.contains("<!ENTITY") && found(&plain) == found(&text), "{plain}");
        }
    }

    #[test]
    fn what_names_stand_for_is_bounded() {
        let laughs = |leaf: &str| {
            let mut text = format!("<!DOCTYPE svg [<!ENTITY a '{leaf}'>");
            for (name, of) in "bcdefghijk".chars().zip("abcdefghij".chars()) {
                text.extend([format!("<!ENTITY {name} '{}'>", format!("&{of};").repeat(10))]);
            }
            text + "]>\n<g>&k;</g>"
        };
        for leaf in ["", "ha", "<rect/>"] {
            assert!(fault(&laughs(leaf)).contains("stand for more text"), "{leaf}");
        }
        let names = chain(39, |at, below| format!("<!ENTITY e{at} '&e{below};'>"));
        let chained = |last: usize| format!("<!DOCTYPE svg [<!ENTITY e0 'x'>{names}]>\n<g>&e{last};</g>");
        assert_eq!(written_out(&chained(15)).expect("is written out"), "\n<g>x</g>");
        assert!(fault(&chained(16)).contains("line 2 of the SVG stands for names more than 16 deep"));
        for (declared, body, said) in [
            ("<!ENTITY a '&b;'><!ENTITY b '&a;'>", "&a;", "or for itself"),
            ("<!ENTITY a SYSTEM '/etc/hostname'>", "<g id='&a;'/>", "lies in another file"),
            ("<!ENTITY a PUBLIC 'x' \"y\">", "&a;", "lies in another file"),
            ("<!ENTITY a '<g/>'>", "<g id='&a;'/>", "holds elements"),
            ("<!ENTITY a '&#x3C;g/>'>", "&a;", "markup by its number"),
        ] {
            assert!(fault(&format!("<!DOCTYPE svg [{declared}]>{body}")).contains(said), "{declared}");
        }
    }
}
