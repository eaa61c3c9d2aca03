//! Fonts inside, and words that come back out.
