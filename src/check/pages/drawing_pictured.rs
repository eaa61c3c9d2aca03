//! Parts of a drawing that are printed as pictures.
//!
//! Drawings are printed as vectors. What no path says is drawn as a picture, that element alone with all that is in it: filters such
//! as blurs and shadows, blend modes other than `multiply` with the group in which they mix, and patterns of very many tiles. The
//! message names the elements by their ids and says how many pixels per inch the pictures have: 450, or fewer where that would take
//! too long.
//!
//! A note: nothing is lost, but edges in these places are as fine as those of any picture, and their colours are converted like
//! those of an RGB picture.
//!
//! Way out: nothing needs to be done. Where an edge must stay sharp, or an ink must be a swatch, draw it without such an effect.
