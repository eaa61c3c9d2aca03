//! Parts of a drawing that are not drawn.
//!
//! Drawings are printed as vectors, and effects that no path says as pictures. Text, pictures within the drawing, animations and
//! effects that would take too long are left out, and the message names them.
//!
//! A warning: look at the picture that is built and see whether anything is missing.
//!
//! Way out: turn text and effects into paths in the program that made the drawing, or place it as a picture of pixels.
