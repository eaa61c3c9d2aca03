//! What the file says of itself: the same in its Info dictionary and in XMP, nothing from the clock.

use crate::ground::Digest;
use crate::pdf::forme::Forme;
use crate::scene::{Job, NamedIn, PressStandard, document_id, uuid};
use pdf_writer::types::TrappingStatus;
use pdf_writer::{Date, Name, Ref, TextStr};
use xmp_writer::{DateTime, LangId, RenditionClass, Timezone, XmpWriter};

const MAKER: &str = concat!("jaconet ", env!("CARGO_PKG_VERSION"));
/// The date of a cover that states none.
const NO_DATE: (u16, u8, u8) = (2000, 1, 1);

pub struct Identity {
    /// The same for every version of a job.
    pub document: Digest,
    /// Of this file alone.
    pub instance: Digest,
}

impl Identity {
    pub fn of(job: &Job, written: &[&[u8]]) -> Identity {
        let document = document_id(job);
        let version = job.version.map_or(String::new(), |version| version.to_string());
        let date = job.date.as_deref().unwrap_or_default();
        let about = [document.bytes(), version.as_bytes(), date.as_bytes(), MAKER.as_bytes()];
        Identity { document, instance: Digest::of_large(&[&about, written].concat()) }
    }
}

impl Forme<'_> {
    /// Writes Info and XMP, with the standard that the file is made by; the stream's number belongs into the catalogue.
    pub fn write_metadata(&mut self, identity: &Identity, standard: Option<&PressStandard>) -> Ref {
        let job = &self.scene.job;
        let (info, id) = (self.id(), self.id());
        let (year, month, day) = date(job);
        let written = Date::new(year).month(month).day(day).hour(0).minute(0).second(0).utc_offset_hour(0);
        let written = written.utc_offset_minute(0);
        let title = title(job);
        let mut dict = self.pdf.document_info(info);
        dict.title(TextStr(&title));
        let author = clean(&job.author);
        if !author.is_empty() {
            dict.author(TextStr(&author));
        }
        dict.creator(TextStr(MAKER)).producer(TextStr(MAKER));
        dict.creation_date(written).modified_date(written).trapped(TrappingStatus::NotTrapped);
        let named = |place| standard.filter(|standard| standard.named_in == place).map(|standard| standard.name);
        if let Some(name) = named(NamedIn::Info) {
            dict.pair(Name(b"GTS_PDFXVersion"), TextStr(name));
        }
        drop(dict);
        self.pdf.metadata(id, xmp(job, identity, named(NamedIn::Xmp)).as_bytes());
        let ids = [identity.document, identity.instance].map(|digest| digest.bytes()[..16].to_vec());
        let [document, instance] = ids;
        self.pdf.set_file_id((document, instance));
        id
    }
}

fn xmp(job: &Job, identity: &Identity, standard: Option<&str>) -> String {
    let (year, month, day) = date(job);
    let written = DateTime::new(year, month, day, 0, 0, 0, Timezone::Utc);
    let title = title(job);
    let version = job.version.unwrap_or(1).to_string();
    let mut xmp = XmpWriter::new();
    xmp.format("application/pdf").title([(None::<LangId<'_>>, title.as_str())]);
    let author = clean(&job.author);
    if !author.is_empty() {
        xmp.creator([author.as_str()]);
    }
    // RFC 8254, in the identifier of the Dublin Core.
    if let Some(isbn) = job.isbn.as_deref().filter(|isbn| isbn.chars().any(|digit| digit.is_ascii_digit())) {
        let digits: String = isbn.chars().filter(char::is_ascii_alphanumeric).collect();
        xmp.identifier(&format!("urn:isbn:{digits}"));
    }
    xmp.create_date(written).modify_date(written).metadata_date(written).creator_tool(MAKER);
    xmp.producer(MAKER).trapped(false);
    if let Some(standard) = standard {
        xmp.pdfx_version(standard);
    }
    xmp.document_id(&uuid(identity.document)).instance_id(&uuid(identity.instance));
    xmp.version_id(&version).rendition_class(RenditionClass::Default);
    xmp.finish(None)
}

/// A file must have a title.
fn title(job: &Job) -> String {
    let title = clean(&job.title);
    if title.is_empty() { "Cover".to_owned() } else { title }
}

/// XML has no way to say a control character.
fn clean(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_control()).collect()
}

fn date(job: &Job) -> (u16, u8, u8) {
    job.date.as_deref().and_then(read_date).unwrap_or(NO_DATE)
}

fn read_date(text: &str) -> Option<(u16, u8, u8)> {
    let mut parts = text.splitn(3, '-');
    let (year, month, day) = (parts.next()?.parse().ok()?, parts.next()?.parse().ok()?, parts.next()?.parse().ok()?);
    ((1..=9999).contains(&year) && (1..=12).contains(&month) && (1..=31).contains(&day)).then_some((year, month, day))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_stated_or_fixed() {
        assert_eq!(read_date("2026-11-02"), Some((2026, 11, 2)));
        assert_eq!([read_date("2026-13-02"), read_date("soon"), read_date("")], [None; 3]);
        assert_eq!(date(&Job::default()), NO_DATE);
    }
}
