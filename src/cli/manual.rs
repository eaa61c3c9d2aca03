//! Manual: all pages there are, topics first. A page is the head of the file that does what it describes.

/// One page. Its first line says in a sentence what it is about.
pub struct Page {
    pub name: &'static str,
    /// `topic`, `node` or `rule`.
    pub kind: &'static str,
    pub text: &'static str,
}

/// Every page; those of one kind stand together.
pub fn pages() -> Vec<Page> {
    let topics = TOPICS.iter().map(|(name, text)| Page { name, kind: "topic", text });
    topics.collect()
}

const TOPICS: &[(&str, &str)] = &[
    ("kdl", include_str!("topics/kdl.txt")),
    ("files", include_str!("topics/files.txt")),
    ("units", include_str!("topics/units.txt")),
    ("exit-codes", include_str!("topics/exit-codes.txt")),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_begins_with_a_sentence() {
        for page in pages() {
            let first = page.text.lines().next().unwrap_or_default();
            assert!(first.ends_with('.') && first.len() < 110, "{}: {first}", page.name);
        }
    }
}
