//! The same simple page from another writer, drawn by the same reader: the same plates.
