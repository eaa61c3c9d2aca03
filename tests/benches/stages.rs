//! How long the stages of the first example take: `cargo bench --bench stages`.
#![expect(clippy::disallowed_methods, reason = "a measurement reads the example as it lies on the disk")]

use criterion::{Criterion, criterion_group, criterion_main};
use jaconet::testing::Rehearsal;
use std::hint::black_box;
use std::path::Path;

fn stages(criterion: &mut Criterion) {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/salt-and-lanterns");
    let text = std::fs::read_to_string(folder.join("cover.kdl")).expect("the first example is there");
    let rehearsal = Rehearsal::new(&folder, text);
    let tree = rehearsal.parse();
    let cover = rehearsal.read(&tree, false);
    let scene = rehearsal.draw(&cover, false);
    criterion.bench_function("parse", |bench| bench.iter(|| black_box(rehearsal.parse())));
    criterion
        .bench_function("read, pictures remembered", |bench| bench.iter(|| black_box(rehearsal.read(&tree, false))));
    criterion.bench_function("read, pictures opened", |bench| bench.iter(|| black_box(rehearsal.read(&tree, true))));
    criterion.bench_function("set and draw", |bench| bench.iter(|| black_box(rehearsal.draw(&cover, true))));
    criterion.bench_function("draw, words remembered", |bench| bench.iter(|| black_box(rehearsal.draw(&cover, false))));
    criterion.bench_function("check, all rules", |bench| bench.iter(|| black_box(rehearsal.check(&cover, &scene))));
    for (output, again) in [("press", false), ("press", true), ("flat", false), ("flat", true)] {
        let name = format!("{output}, {}", if again { "from nothing" } else { "remembered" });
        criterion.bench_function(&name, |bench| bench.iter(|| black_box(rehearsal.write(&scene, output, again))));
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = stages
}
criterion_main!(benches);
