//! Node weight: about how many bytes an element keeps in memory, with all that it refers to.

pub fn node_weight(node: &usvg::Node) -> usize {
    match node {
        usvg::Node::Group(group) => grouped(group),
        usvg::Node::Path(path) => {
            let paints = [path.fill().map(usvg::Fill::paint), path.stroke().map(usvg::Stroke::paint)];
            let outline = size_of_val(path.data().points()) + size_of_val(path.data().verbs());
            size_of::<usvg::Path>() + outline + paints.into_iter().flatten().map(painted).sum::<usize>()
        }
        // Its letters are kept beside their outlines.
        usvg::Node::Text(text) => size_of::<usvg::Text>() + 2 * grouped(text.flattened()),
        usvg::Node::Image(_) => 0,
    }
}

fn grouped(group: &usvg::Group) -> usize {
    let mut sum = size_of::<usvg::Group>() + group.children().iter().map(node_weight).sum::<usize>();
    for primitive in group.filters().iter().flat_map(|filter| filter.primitives()) {
        sum += size_of_val(primitive);
        match primitive.kind() {
            usvg::filter::Kind::Image(image) => sum += grouped(image.root()),
            usvg::filter::Kind::ConvolveMatrix(matrix) => sum += size_of_val(matrix.matrix().data()),
            _ => {}
        }
    }
    let mut clip = group.clip_path();
    while let Some(one) = clip {
        sum += grouped(one.root());
        clip = one.clip_path();
    }
    let mut mask = group.mask();
    while let Some(one) = mask {
        sum += grouped(one.root());
        mask = one.mask();
    }
    sum
}

fn painted(paint: &usvg::Paint) -> usize {
    match paint {
        usvg::Paint::Color(_) => 0,
        usvg::Paint::LinearGradient(gradient) => size_of_val(gradient.stops()),
        usvg::Paint::RadialGradient(gradient) => size_of_val(gradient.stops()),
        usvg::Paint::Pattern(pattern) => grouped(pattern.root()),
    }
}
