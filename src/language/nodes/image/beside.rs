//! Beside: the pictures that a drawing shows and that lie in files of their own, counted from its folder.

use crate::assets::{Drawing, FilesBeside};
use crate::ground::Spanned;
use crate::language::context::Context;

/// By the names that the drawing gives them.
pub fn beside(context: &Context<'_>, path: &Spanned<String>, bytes: &[u8]) -> FilesBeside {
    if !Drawing::is_drawing(bytes) {
        return FilesBeside::new();
    }
    let folder = path.value.rsplit_once('/').map_or("", |(folder, _)| folder);
    let read = |href: String| {
        let name = plain(&href);
        let value = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
        let found = context.desk.shelf.read_once(&context.desk.files.resolve(&Spanned { value, span: path.span }));
        (
            href,
            found
                .map(|(bytes, _)| bytes)
                .map_err(|fault| format!("shows the picture {name:?}, which is left out: {fault}")),
        )
    };
    Drawing::linked(bytes).into_iter().map(read).collect()
}

/// A reference without the escapes of URLs (RFC 3986, 2.1): `%20` is a blank.
fn plain(href: &str) -> String {
    let mut bytes = Vec::new();
    let mut rest = href.trim().as_bytes();
    while let Some((first, after)) = rest.split_first() {
        let escaped = after.get(..2).filter(|_| *first == b'%').and_then(|two| std::str::from_utf8(two).ok());
        let escaped = escaped.and_then(|two| u8::from_str_radix(two, 16).ok());
        bytes.push(escaped.unwrap_or(*first));
        rest = if escaped.is_some() { &after[2..] } else { after };
    }
    String::from_utf8(bytes).unwrap_or_else(|_| href.to_owned())
}

#[cfg(test)]
mod tests {
    use super::plain;

    #[test]
    fn escapes_of_urls_are_letters() {
        assert_eq!(plain(" sea%20view%C3%A9.png"), "sea view\u{e9}.png");
        assert_eq!((plain("100%"), plain("%zz%4"), plain("%ff")), ("100%".into(), "%zz%4".into(), "%ff".into()));
    }
}
