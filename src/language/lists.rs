//! Lists: facts that a book states several of: quotes, authors, prices, and numbered ones of its own.

use crate::cover::Book;
use crate::ground::Spanned;
use std::collections::BTreeSet;

/// The items of a list, each by the fact that states it.
pub struct List<'a> {
    name: &'a str,
    pub items: Vec<String>,
    /// What belongs to any of them: nothing for itself, `.by`, `.source`.
    tails: BTreeSet<&'a str>,
}

impl<'a> List<'a> {
    /// Empty facts are no items.
    pub fn of(book: &'a Book, name: &'a str) -> List<'a> {
        let below: Vec<&str> = book.words.keys().filter_map(|fact| fact.strip_prefix(name)).collect();
        let (mut numbers, mut currencies, mut tails) = (BTreeSet::new(), BTreeSet::new(), BTreeSet::new());
        for tail in below.iter().filter(|tail| tail.is_empty() || tail.starts_with('.')) {
            let head = tail.trim_start_matches('.').split('.').next().unwrap_or_default();
            let own = if let Ok(number) = head.parse::<u32>() {
                numbers.insert(number);
                &tail[1 + head.len()..]
            } else if head.starts_with(|first: char| first.is_ascii_uppercase()) {
                currencies.insert(head);
                &tail[1 + head.len()..]
            } else {
                tail
            };
            tails.insert(own);
        }
        let mut items: Vec<String> = Vec::new();
        if name == "price" {
            // In the order of statement; prices that came without one follow.
            for currency in book.currencies.iter().map(String::as_str).chain(currencies) {
                let price = format!("price.{currency}");
                if !items.contains(&price) {
                    items.push(price);
                }
            }
        } else {
            // Several authors are `author.1` and so on; `author` is all of them.
            let first = (!numbers.contains(&1)).then(|| name.to_owned());
            items.extend(first.into_iter().chain(numbers.iter().map(|number| format!("{name}.{number}"))));
        }
        items.retain(|item| book.word(item).is_some());
        if items.is_empty() && book.word(name).is_some() {
            items.push(name.to_owned());
        }
        List { name, items, tails }
    }

    /// The book as one item sees it: the list's name, and what belongs to it, stand for this item alone.
    pub fn at_hand(&self, book: &Book, item: &str) -> Book {
        let mut seen = book.clone();
        for tail in &self.tails {
            // What another item has and this one lacks is known, and empty.
            let lacking = Spanned::new(String::new(), book.span);
            let word = book.words.get(&format!("{item}{tail}")).cloned().unwrap_or(lacking);
            seen.words.insert(format!("{}{tail}", self.name), word);
        }
        match book.lines.get(item) {
            Some(lines) => drop(seen.lines.insert(self.name.to_owned(), lines.clone())),
            None => drop(seen.lines.remove(self.name)),
        }
        seen.at_hand.push(self.name.to_owned());
        seen
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Span;

    fn book(words: &[(&str, &str)]) -> Book {
        let mut book = Book::default();
        for (name, stated) in words {
            book.words.insert((*name).to_owned(), Spanned::new((*stated).to_owned(), Span::default()));
        }
        book
    }

    #[test]
    fn items_stand_in_their_order() {
        let mut book = book(&[
            ("quote", "a"),
            ("quote.by", "A"),
            ("quote.2", " "),
            ("quote.10", "j"),
            ("quote.3", "c"),
            ("author", "X & Y"),
            ("author.1", "X"),
            ("author.2", "Y"),
            ("price", "£1"),
            ("price.GBP", "£1"),
            ("price.EUR", "€2"),
            ("price.USD", "$3"),
            ("title", "Salt"),
        ]);
        book.currencies = vec!["USD".to_owned(), "GBP".to_owned(), "USD".to_owned()];
        let items = |name| List::of(&book, name).items;
        assert_eq!(items("quote"), ["quote", "quote.3", "quote.10"]);
        assert_eq!(items("author"), ["author.1", "author.2"]);
        assert_eq!(items("price"), ["price.USD", "price.GBP", "price.EUR"]);
        assert_eq!(items("title"), ["title"]);
        assert!(items("award").is_empty());
    }

    #[test]
    fn the_item_at_hand_stands_for_its_list() {
        let book = book(&[("quote", "a"), ("quote.by", "A"), ("quote.2", "b"), ("quote.2.source", "B")]);
        let list = List::of(&book, "quote");
        let second = list.at_hand(&book, "quote.2");
        assert_eq!((second.word("quote"), second.word("quote.source")), (Some("b"), Some("B")));
        assert_eq!((second.word("quote.by"), second.word("quote.2")), (None, Some("b")));
        assert!(second.words.contains_key("quote.by"));
        let first = list.at_hand(&book, "quote");
        assert_eq!((first.word("quote"), first.word("quote.by")), (Some("a"), Some("A")));
        assert!(first.words.contains_key("quote.source"));
    }
}
