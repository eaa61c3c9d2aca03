//! What somebody approved is no longer what the cover shows.
//!
//! The words, the place or the look of an element, a panel or the cover differ from what `approved` states. Words are compared
//! letter by letter, without line breaks; places by hundredths of a millimetre, from the corner of the panel; the look by all
//! that is drawn. Of a front for screens nothing is compared.
//!
//! Always a warning.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { approved words="00000000" by="Mirela Anand"; left safe; right safe; top safe }
//! }
//! ```
//!
//! Way out: undo the change, or have it approved again and write what the message says.
