//! Parts of a drawing that are not drawn.
//!
//! Drawings are printed as vectors, and effects that no path says as pictures. Text, pictures within the drawing, animations and
//! effects that would take too long are left out. Some of what a file may say is not heeded: clips by shapes of CSS, lines that
//! keep their width, colours mixed in linear light, variables and media of CSS, and what lies in other files. The message names
//! all of it.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
