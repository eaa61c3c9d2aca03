//! How long a blurb of two hundred words takes to set, justified, with nothing remembered: `cargo bench --bench blurb`.
//! Aims: under 2 ms with its faces open, under 8 ms with them opened for it.

use criterion::{Criterion, criterion_group, criterion_main};
use jaconet::testing::Rehearsal;
use std::hint::black_box;
use std::path::Path;

/// A hundred words; invented.
const HALF: &str = "On the night the harbour froze, Ines Marlowe lit every lantern on the quay and waited for the ships that \
    nobody believed in. Forty years later her granddaughter finds the ledger in which she had written each of \
    them: their names, their cargoes, and the price of silence. What begins as an inheritance becomes an inquiry, and the \
    inquiry a voyage along a coast where every lighthouse keeper has a version of the story and no two agree. \
    Patient, exact and extraordinarily unsentimental, this is a novel about what the sea returns, and about what it is \
    paid to keep.";

fn cover() -> String {
    format!(
        "book {{ title \"Salt\"; author \"Ines Varga\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\n\
         panel back {{ text blurb words=\"{HALF} {HALF}\" {{ left safe; right safe; top safe; size 10.5; leading 14; align justify }} }}"
    )
}

fn blurb(criterion: &mut Criterion) {
    assert_eq!(HALF.split_whitespace().count(), 100);
    let rehearsal = Rehearsal::new(Path::new("."), cover());
    let cover_read = rehearsal.read(&rehearsal.parse(), false);
    criterion.bench_function("blurb, faces open", |bench| bench.iter(|| black_box(rehearsal.draw(&cover_read, true))));
    criterion.bench_function("blurb, from nothing", |bench| {
        bench.iter(|| {
            let rehearsal = Rehearsal::new(Path::new("."), cover());
            let cover = rehearsal.read(&rehearsal.parse(), false);
            black_box(rehearsal.draw(&cover, true))
        });
    });
    criterion.bench_function("blurb, remembered", |bench| bench.iter(|| black_box(rehearsal.draw(&cover_read, false))));
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = blurb
}
criterion_main!(benches);
