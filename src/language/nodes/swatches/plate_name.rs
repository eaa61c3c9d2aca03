//! Plate name: what a spot ink may be called in a press file.

use crate::ground::{ALL_PLATES, PROCESS_PLATES, hidden};

/// The most bytes of a name in a PDF (ISO 32000-1, annex C).
const LONGEST_NAME: usize = 127;
/// The plate that prints nowhere (ISO 32000, Separation).
const NO_PLATE: &str = "None";

/// The name with its blanks side by side as one; or what is wrong with it, and a way out.
pub fn plate_name(stated: &str) -> Result<String, (String, &'static str)> {
    const OWN: &str = "give the spot ink a name of its own";
    let plate = stated.split_whitespace().collect::<Vec<_>>().join(" ");
    let is = |name: &str| name.eq_ignore_ascii_case(&plate);
    if plate.is_empty() {
        return Err(("a plate without a name".into(), "name it as the printer shall read it: ink=\"Gold foil\""));
    }
    if let Some((_, letter)) = hidden(&plate).next() {
        let message = format!("the name of this plate has a letter that nobody sees, U+{:04X}", u32::from(letter));
        return Err((message, "type the name again: a copied one brings such letters along"));
    }
    if plate.len() > LONGEST_NAME {
        let message = format!("the name of this plate has {} bytes; {LONGEST_NAME} are the most", plate.len());
        return Err((message, "shorten it: letters beyond a to z have two bytes or more"));
    }
    if PROCESS_PLATES.into_iter().any(is) {
        return Err((format!("{plate:?} is the name of a process plate"), OWN));
    }
    if is(ALL_PLATES) {
        return Err((format!("{plate:?} is kept for all plates at once"), OWN));
    }
    if is(NO_PLATE) {
        return Err((format!("{plate:?} is kept for what prints on no plate"), OWN));
    }
    Ok(plate)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn blanks_are_one_and_names_of_the_press_are_refused() {
        assert_eq!(plate_name("  Rot\tneu\n x ").as_deref(), Ok("Rot neu x"));
        assert_eq!(plate_name("Gold  foil"), plate_name("Gold foil"));
        let refused = |name: &str| plate_name(name).map_err(|(message, _)| message).expect_err("it is refused");
        assert!(refused(" \t").ends_with("without a name"));
        assert!(refused("Red\u{7}").ends_with("U+0007") && refused("Red\u{202e}").ends_with("U+202E"));
        assert!(refused("black").ends_with("of a process plate"));
        assert!(refused("ALL").ends_with("all plates at once") && refused("none").ends_with("on no plate"));
        assert!(refused(&"é".repeat(64)).contains("128 bytes") && plate_name(&("é".repeat(63) + "x")).is_ok());
    }
}
