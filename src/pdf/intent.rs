//! The output intent: the press this file is made for, its profile inside.

use crate::ground::{Digest, REGISTRY, deflate_fast, registered};
use crate::pdf::forme::Forme;
use pdf_writer::types::OutputIntentSubtype;
use pdf_writer::writers::Catalog;
use pdf_writer::{Filter, Name, Ref, TextStr};

impl Forme<'_> {
    pub fn write_profile(&mut self) -> Ref {
        let id = self.id();
        let profile = &self.scene.profile;
        let made;
        let bytes = if let Some(ready) = profile.stream() {
            ready
        } else {
            let key = Digest::of_all(&[b"profile", profile.digest().bytes()]);
            made = self.darkroom.compressed(key, || deflate_fast(profile.bytes()));
            &made[..]
        };
        let mut stream = self.pdf.icc_profile(id, bytes);
        stream.n(4).alternate_name(Name(b"DeviceCMYK")).filter(Filter::FlateDecode);
        id
    }
}

pub fn write(catalog: &mut Catalog<'_>, condition: &str, name: &str, profile: Ref) {
    let mut intents = catalog.output_intents();
    let mut intent = intents.push();
    intent.subtype(OutputIntentSubtype::PDFX);
    intent.output_condition_identifier(TextStr(condition)).output_condition(TextStr(name)).info(TextStr(name));
    if registered(condition) {
        intent.registry_name(TextStr(REGISTRY));
    }
    intent.dest_output_profile(profile);
}
