//! How long a view of 1600 by 1300 pixels takes, of the first example: its light and its ink, and its ink alone on light
//! that is known, as after every edit: `cargo bench --bench views`.
#![expect(clippy::disallowed_methods, reason = "a measurement reads the example as it lies on the disk")]

use criterion::{Criterion, criterion_group, criterion_main};
use jaconet::testing::Rehearsal;
use std::hint::black_box;
use std::path::Path;

fn views(criterion: &mut Criterion) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/salt-and-lanterns");
    let text = std::fs::read_to_string(folder.join("cover.kdl")).expect("the first example is there");
    let text = text + "\nview standing { pixels 1600 1300 }\n";
    let rehearsal = Rehearsal::new(&folder, text);
    let scene = rehearsal.draw(&rehearsal.read(&rehearsal.parse(), false), false);
    assert_eq!(rehearsal.write(&scene, "view", false).len(), 1, "the view is drawn");
    for (name, again) in [("view, light and ink", true), ("view, ink on known light", false)] {
        criterion.bench_function(name, |bench| bench.iter(|| black_box(rehearsal.write(&scene, "view", again))));
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = views
}
criterion_main!(benches);
