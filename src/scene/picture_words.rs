//! Picture words: what a picture of a cover says of itself, as XMP (ISO 16684-1): of which book it is and in which version,
//! and what it shows, for those who do not see it.

use crate::ground::Digest;
use crate::scene::sheet::Job;
use xmp_writer::{CustomNamespace, LangId, Namespace, RenditionClass, XmpWriter};

const MAKER: &str = concat!("jaconet ", env!("CARGO_PKG_VERSION"));
/// The namespace of the IPTC Photo Metadata Standard's core, and its key since 2021 for alternative text.
const IPTC: (&str, &str, &str) = ("IPTC Core", "Iptc4xmpCore", "http://iptc.org/std/Iptc4xmpCore/1.0/xmlns/");
const ALT_TEXT: &str = "AltTextAccessibility";
/// Letters of a title, a name or a label; the packet fits into one segment of a JPEG.
const LONGEST: usize = 1500;

/// A packet of XMP. `alternative` says whether the picture is one of what the alternative text describes.
pub fn picture_words(job: &Job, mime: &str, title: &str, alternative: bool) -> String {
    let mut xmp = XmpWriter::new();
    xmp.format(mime).creator_tool(MAKER);
    let (title, author) = (plain(title), plain(&job.author));
    if !title.is_empty() {
        xmp.title([(None::<LangId<'_>>, title.as_str())]);
    }
    if !author.is_empty() {
        xmp.creator([author.as_str()]);
    }
    if let Some(standing) = &job.standing {
        xmp.label(&plain(&standing.label(job.version)));
    }
    if let Some(version) = job.version {
        xmp.version_id(&version.to_string());
    }
    xmp.document_id(&uuid(document_id(job))).rendition_class(RenditionClass::Screen);
    if let Some(alt_text) = job.alt_text.as_deref().map(plain).filter(|text| alternative && !text.is_empty()) {
        let (name, prefix, place) = IPTC;
        let core = Namespace::Custom(Box::new(CustomNamespace::new(name, prefix, place)));
        let language = plain(&job.language);
        let own = (!language.is_empty()).then(|| (Some(LangId(&language)), alt_text.as_str()));
        let all = std::iter::once((None, alt_text.as_str())).chain(own);
        xmp.element(ALT_TEXT, core).language_alternative(all);
    }
    xmp.finish(None)
}

/// Of a job: the same in its press file and in every picture, whatever the version.
pub fn document_id(job: &Job) -> Digest {
    let isbn = job.isbn.as_deref().unwrap_or_default();
    Digest::of_all(&[b"cover", job.title.as_bytes(), job.author.as_bytes(), isbn.as_bytes()])
}

/// A digest in the form of a UUID; version 8 is the one for contents of one's own (RFC 9562).
pub fn uuid(digest: Digest) -> String {
    let mut bytes: [u8; 16] = std::array::from_fn(|at| digest.bytes()[at]);
    bytes[6] = bytes[6] & 0x0F | 0x80;
    bytes[8] = bytes[8] & 0x3F | 0x80;
    let hex: String = bytes.iter().flat_map(|byte| [byte >> 4, byte & 15]).map(hex).collect();
    format!("uuid:{}-{}-{}-{}-{}", &hex[..8], &hex[8..12], &hex[12..16], &hex[16..20], &hex[20..])
}

fn hex(digit: u8) -> char {
    char::from_digit(u32::from(digit), 16).unwrap_or('0')
}

/// XML has no way to say a control character, nor those two that are no characters.
fn plain(text: &str) -> String {
    let letters = text.chars().map(|letter| if letter.is_whitespace() { ' ' } else { letter });
    letters.filter(|letter| !letter.is_control() && !matches!(letter, '\u{FFFE}' | '\u{FFFF}')).take(LONGEST).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::{ApprovalStanding, Standing};

    #[test]
    fn identifiers_have_the_form_of_a_uuid() {
        let text = uuid(Digest::of(b"a"));
        assert_eq!((text.len(), &text[..5], &text[19..20]), (41, "uuid:", "8"));
    }

    // A segment of a JPEG has at most 65,533 bytes after its length (ITU-T T.81), of which a name of 29 stands before XMP.
    #[test]
    fn the_longest_words_fit_into_a_segment() {
        let long = |letter: &str| letter.repeat(100_000);
        let standing = Standing { look: "5a0c9be1".to_owned(), approval: ApprovalStanding::Holds(long("&")) };
        let job = Job {
            author: long("&"),
            alt_text: Some(long("&")),
            language: "en-GB".to_owned(),
            standing: Some(standing),
            ..Job::default()
        };
        let packet = picture_words(&job, "image/jpeg", &long("𝕬"), true);
        assert!(packet.len() < 65_533 - 29, "{}", packet.len());
    }

    #[test]
    fn a_standing_in_words() {
        let label = |approval| Standing { look: "5a0c9be1".to_owned(), approval }.label(Some(3));
        assert_eq!(label(ApprovalStanding::NotStated), "version 3, look 5a0c9be1");
        let holds = label(ApprovalStanding::Holds("M. Anand".to_owned()));
        assert_eq!(holds, "version 3, look 5a0c9be1, approved by M. Anand");
    }
}
