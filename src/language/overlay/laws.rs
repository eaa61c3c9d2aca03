//! What holds of laying, whatever the trees: tried on trees drawn at random.

use crate::ground::kept::kept;
use crate::ground::{FileId, Findings};
use crate::language::overlay::key::{Parent, is_drop};
use crate::language::overlay::{judge_drops, overlay, settled};
use crate::source::{Node, Tree, parse};
use proptest::prelude::*;

fn read(text: &str) -> Tree {
    let mut findings = Findings::default();
    let tree = parse(&mut findings, FileId(0), text);
    assert!(findings.is_empty(), "{findings:?}\n{text}");
    tree
}

/// A settled tree as text, so that a failure can be read.
fn shown(tree: &Tree) -> String {
    fn nodes(all: &[Node]) -> String {
        let shown = |node: &Node| {
            let values = node.values.iter().map(crate::source::Value::shown);
            let properties = node.properties.iter().map(|(key, value)| format!("{}={}", key.value, value.shown()));
            let stated: Vec<String> = values.chain(properties).collect();
            format!("{} {} {{ {} }}", node.name.value, stated.join(" "), nodes(&node.children))
        };
        all.iter().map(shown).collect::<Vec<_>>().join("; ")
    }
    nodes(&settled(tree).nodes)
}

/// One line of a section, drawn from few names, so that trees meet.
fn line(all: &'static [&'static str]) -> impl Strategy<Value = String> {
    (prop::sample::select(all), 0..4_u32).prop_map(|(line, number)| line.replace('#', &number.to_string()))
}

fn block(head: &'static str, all: &'static [&'static str]) -> impl Strategy<Value = String> {
    prop::collection::vec(line(all), 0..5).prop_map(move |lines| format!("{head} {{ {} }}\n", lines.join("; ")))
}

const BOOK: &[&str] = &[
    "title { short \"S#\" }",
    "pages state=s#",
    "title \"T#\"",
    "pages 1#0 state=estimated",
    "author \"A#\"",
    "price GBP \"#\"",
    "fact f# \"x\"",
    "drop title f#",
];
const SWATCHES: &[&str] = &["swatch s# c=#0", "tint s# of=s0 percent=5#", "spot s1 ink=\"P#\"", "drop s#"];
const STYLES: &[&str] =
    &["style a# { size 1# }", "style a# like=a0 { leading 1#; swatch s# }", "style a1 { drop size }", "drop a#"];
const PANEL: &[&str] = &[
    "band e# { swatch s#; left #; right 5; top 4; height # }",
    "band e# { gradient s0 s#; width 1#; bottom # }",
    "text t# words=\"w#\" style=a# { left #; below e# }",
    "text t# copy=\"c#\" { under e#; drop left }",
    "group g { band e# { top # }; oval e# { left # } }",
    "group g { drop e#; left # }",
    "image i { colour s# \"c1\"; colour s1 \"c#\" }",
    "image i { drop c#; colour s# \"c2\" }",
    "drop e# t#",
    "reads up",
];

/// A file: sections once, panels several times, drops anywhere.
fn tree() -> impl Strategy<Value = String> {
    let sections = (
        prop::option::of(block("book", BOOK)),
        prop::option::of(block("swatches", SWATCHES)),
        prop::option::of(block("type", STYLES)),
        prop::option::of(prop::sample::select(
            &[
                "press coated\n",
                "press uncoated ink-limit=280\n",
                "press coated text-plate=black\n",
                "press uncoated text-plate=\"House red\"\n",
                "drop press\n",
            ][..],
        )),
    );
    let panels = prop::collection::vec(
        prop_oneof![
            block("panel front", PANEL),
            block("panel spine", PANEL),
            block("wrap", PANEL),
            block("edition case", &["book { pages 9# }", "panel front { band e# { top # }; drop e# }", "drop wrap"]),
        ],
        0..4,
    );
    (sections, panels).prop_map(|((book, swatches, styles, press), panels)| {
        let sections = [book, swatches, styles, press.map(str::to_owned)].into_iter().flatten();
        sections.chain(panels).collect()
    })
}

/// Names that stand twice in one list are an error of their own, reported by the reader; laws speak of the rest.
fn is_sound(nodes: &[Node], parent: Parent) -> bool {
    let own: Vec<&Node> = nodes.iter().filter(|node| !is_drop(node)).collect();
    let twice = |at: usize| {
        let same = own[..at].iter().filter(|other| parent.key(other) == parent.key(own[at]));
        let merges = parent.within(own[at]).is_some() && !parent.is_block(own[at]);
        let word = matches!(own[at].name.value.as_str(), "title" | "pages");
        (merges || word) && same.count() > 0
    };
    let merged = |node: &&Node| {
        let Some(within) = parent.within(node) else { return true };
        let blocks = own.iter().filter(|other| parent.key(other) == parent.key(node));
        let children: Vec<Node> = blocks.flat_map(|block| block.children.clone()).collect();
        is_sound(&children, within)
    };
    !(0..own.len()).any(twice) && own.iter().all(merged)
}

fn sound_tree() -> impl Strategy<Value = String> {
    tree().prop_filter("a name stands twice", |text| is_sound(&read(text).nodes, Parent::TOP))
}

/// Whether everything that `over` says is said by the result in the same place.
fn says(result: &[Node], over: &[Node], parent: Parent) -> bool {
    over.iter().filter(|node| !is_drop(node)).all(|node| {
        let same: Vec<&Node> = result.iter().filter(|other| parent.key(other) == parent.key(node)).collect();
        match parent.within(node) {
            None if parent.adding(node).is_some() => {
                same.iter().any(|other| node.properties.iter().all(|stated| other.properties.contains(stated)))
            }
            None => same.iter().any(|other| {
                let mut theirs = other.properties.iter().filter(|(key, _)| !parent.stays(node, &key.value));
                let both = node.properties.iter().all(|stated| other.properties.contains(stated));
                both && theirs.all(|own| node.properties.contains(own))
                    && (&other.values, &other.children) == (&node.values, &node.children)
            }),
            Some(within) => {
                let children: Vec<Node> = same.iter().flat_map(|other| other.children.clone()).collect();
                let properties =
                    |key: &str| same.iter().any(|other| other.properties.iter().any(|(own, _)| own.value == key));
                !same.is_empty()
                    && node.properties.iter().all(|(key, _)| properties(&key.value))
                    && says(&children, &node.children, within)
            }
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, max_global_rejects: 100_000, failure_persistence: kept("tests/lots/language-overlay.txt"), ..ProptestConfig::default() })]

    #[test]
    fn an_empty_series_changes_nothing(cover in sound_tree()) {
        let cover = read(&cover);
        prop_assert_eq!(settled(&overlay(&Tree::default(), &cover)), settled(&cover));
        prop_assert_eq!(settled(&overlay(&cover, &Tree::default())), settled(&cover));
    }

    #[test]
    fn laying_is_associative(a in sound_tree(), b in sound_tree(), c in sound_tree()) {
        let [a, b, c] = [a, b, c].map(|text| read(&text));
        let left = overlay(&overlay(&a, &b), &c);
        let right = overlay(&a, &overlay(&b, &c));
        prop_assert_eq!(shown(&left), shown(&right));
        // And so it is with a fourth, which may drop what the others buried.
        prop_assert_eq!(shown(&overlay(&left, &a)), shown(&overlay(&a, &overlay(&b, &overlay(&c, &a)))));
    }

    #[test]
    fn what_a_cover_says_wins(series in sound_tree(), cover in sound_tree()) {
        let [series, cover] = [series, cover].map(|text| read(&text));
        let laid = overlay(&series, &cover);
        prop_assert!(says(&laid.nodes, &cover.nodes, Parent::TOP), "{laid:#?}");
    }

    #[test]
    fn whatever_is_laid_ends(text in "[a-z{}; =\"0-9\n]{0,80}") {
        let tree = parse(&mut Findings::default(), FileId(0), &text);
        let laid = overlay(&tree, &overlay(&tree, &tree));
        judge_drops(&mut Findings::default(), &[tree.clone(), laid, tree]);
    }
}

#[test]
fn axes_are_replaced_whole_and_lists_as_lists() {
    let series = read(
        "book { author \"A\"; author \"B\"; pages 10 state=estimated }\npanel spine { text t { head 4; across safe } }",
    );
    let cover = read("book { author \"C\"; pages 12 }\npanel spine { text t { after mark 3 } }");
    let should = read("book { author \"C\"; pages 12 }\npanel spine { text t { after mark 3; across safe } }");
    assert_eq!(shown(&overlay(&series, &cover)), shown(&should));
    // Elsewhere `after` is of the other axis.
    let series = read("panel front { text t { left 4; top 3 } }");
    let cover = read("panel front { text t { after mark 3 } }");
    assert_eq!(shown(&overlay(&series, &cover)), shown(&read("panel front { text t { after mark 3; top 3 } }")));
}

/// Two colours of a drawing may print in one ink.
#[test]
fn a_colour_of_a_drawing_is_known_by_itself() {
    let image = |inside: &str| read(&format!("panel front {{ image seal {{ {inside} }} }}"));
    let series = image("colour foil \"#c9a227\"; colour foil \"#fefae0\"");
    let laid = overlay(&series, &image("colour night \"#fefae0\"; colour foil \"#1d3557\""));
    let should = image("colour foil \"#c9a227\"; colour night \"#fefae0\"; colour foil \"#1d3557\"");
    assert_eq!(shown(&laid), shown(&should));
    let dropped = overlay(&series, &image("drop \"#c9a227\""));
    assert_eq!(shown(&dropped), shown(&image("colour foil \"#fefae0\"")));
}

#[test]
fn a_drop_is_judged_by_all_that_lies_under_it() {
    let chain =
        ["panel front { band e { top 1 } }", "book { pages 2 }", "panel front { drop e f }", "panel front { drop e }"];
    let mut findings = Findings::default();
    judge_drops(&mut findings, &chain.map(read));
    let reported: Vec<&str> = findings.iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(reported, ["there is nothing called `f` to drop here"]);
}
