//! Press profiles and the names of their conditions, right, nearly right and damaged.

use crate::binary::{ERRORS, TestHome, panel, run, says};

/// A profile that says which press it is for, under the name of another; the same name in two ways of writing is one.
#[test]
fn a_condition_that_is_not_the_profile_s() {
    let profile = include_bytes!("../../src/assets/profiles/coated-fogra39.icc");
    let stated = |condition: &str| {
        let text = format!("{}press profile=\"p.icc\" condition={condition:?}\n", panel(""));
        run(&TestHome::new().with("cover.kdl", text).with("p.icc", profile), &["check", "cover.kdl"]).1
    };
    let other = stated("FOGRA51");
    assert!(other.contains("the condition \"FOGRA51\" is not that of the profile, which names"), "{other}");
    let own = stated("Fogra 39L");
    assert!(!own.contains("condition-disagrees") && !own.contains("is not that of the profile"), "{own}");
}

/// Bytes behind the end of a profile never reach the press file; a tag that lies there is damage.
#[test]
fn a_profile_ends_where_it_says() {
    let mut profile = include_bytes!("../../src/assets/profiles/coated-fogra39.icc").to_vec();
    let end = profile.len();
    profile.extend(b"SECRET-TAIL".repeat(100));
    let text = format!("{}press profile=\"p.icc\"\n", panel(""));
    let home = TestHome::new().with("cover.kdl", &text).with("p.icc", &profile);
    says(&home, 0, &["has 1100 bytes behind its stated end", "cover.kdl:6:15"]);
    // ICC.1: the size stands in the first four bytes.
    profile[..4].copy_from_slice(&(end as u32 + 1100).to_be_bytes());
    says(&TestHome::new().with("cover.kdl", &text).with("p.icc", &profile), 0, &[]);
    profile[..4].copy_from_slice(&5000_u32.to_be_bytes());
    let short = TestHome::new().with("cover.kdl", &text).with("p.icc", &profile);
    says(&short, ERRORS, &["a tag reaches beyond its end"]);
}

/// PDF/X-1a takes profiles of ICC version 2 (from memory); a file with another would not be what it says it is.
#[test]
fn a_newer_profile_than_the_standard_takes() {
    let mut profile = include_bytes!("../../src/assets/profiles/coated-fogra39.icc").to_vec();
    let text = format!("{}press profile=\"p.icc\"\ndeliver {{ press standard=x-1a }}\n", panel(""));
    let home = |profile: &[u8]| TestHome::new().with("cover.kdl", &text).with("p.icc", profile);
    says(&home(&profile), 0, &[]);
    // ICC.1: the version stands in the ninth byte.
    profile[8] = 4;
    says(&home(&profile), ERRORS, &["PDF/X-1a:2003 takes no press profile of ICC version 4"]);
}

#[test]
fn a_press_is_named_and_so_is_its_condition() {
    let profile = include_bytes!("../../src/assets/profiles/coated-fogra39.icc");
    let stated = |press: &str| {
        let text = format!("{}{press}\n", panel(""));
        run(&TestHome::new().with("cover.kdl", text).with("p.icc", profile), &["check", "cover.kdl"])
    };
    for none in ["", "  ", "\\t"] {
        let (code, said) = stated(&format!("press profile=\"p.icc\" condition=\"{none}\""));
        assert!(code == ERRORS && said.contains("the condition has no name"), "{none:?}: {said}");
    }
    let (code, said) = stated("press condition=\"FOGRA51\"");
    assert!(code == ERRORS && said.contains("names neither a bundled press nor a profile"), "{said}");
    assert!(!said.contains("is not that of the profile"), "{said}");
    assert_eq!(stated("press profile=\"p.icc\" condition=\" FOGRA39 \"").0, 0);
}

/// A profile that names no condition, under names one letter off, of no registry, and registered.
#[test]
fn a_condition_that_is_nearly_registered() {
    let mut profile = include_bytes!("../../src/assets/profiles/coated-fogra39.icc").to_vec();
    let tag = profile.windows(4).position(|tag| tag == b"targ").expect("the profile names its data");
    profile[tag..tag + 4].copy_from_slice(b"xarg");
    let stated = |condition: &str| {
        let text = format!("{}press profile=\"p.icc\" condition={condition:?}\n", panel(""));
        let home = TestHome::new().with("cover.kdl", text).with("p.icc", &profile);
        let (code, said) = run(&home, &["check", "cover.kdl"]);
        assert_eq!(code, 0, "{said}");
        said
    };
    let near = stated("FOGRA93");
    assert!(
        near.contains("no condition \"FOGRA93\" is registered that we know of; the nearest name is \"FOGRA39\""),
        "{near}"
    );
    for fine in ["Our press at the quay", "fogra 51", "CGATS TR 006"] {
        assert!(!stated(fine).contains("is registered"), "{fine}");
    }
}
