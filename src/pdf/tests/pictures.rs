//! Pictures on their plates: bytes kept, alpha, and pictures in one ink.
