//! What names of a file stand for, written out and read by another reader.

use crate::assets::drawing::entities::written_out;
use crate::assets::drawing::hostile::chain;
use std::borrow::Cow;
use usvg::roxmltree::{Document, Node, ParsingOptions};

fn fault(text: &str) -> String {
    written_out(text).expect_err(text).message
}

#[test]
fn names_and_numbers_are_written_out() {
    let head = "<?xml version='1.0'?><!-- <!DOCTYPE no [<!ENTITY a 'z'>]> -->\n";
    let declared = "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" 'svg.dtd' [\n<!-- <!ENTITY a 'y'> ]> -->\n\
        <!ENTITY a \"red\"><!ENTITY a 'blue'>\n<!ENTITY % p 'x'><!ENTITY two '&a;;&a;'>\n\
        <!ENTITY shape '<g id=\"1\">&a;</g>'><!ENTITY q 'say \"&#233;\"'>\
        <!ELEMENT ' ANY><!ENTITY and 'A &#38;amp; B'><!ENTITY less '&#60;i>\n&#60;/i>'> ]>";
    for (body, wanted) in [
        ("<g fill='&a;'>&a;</g>", "<g fill='red'>red</g>"),
        ("<g a=\"&two;\"/>", "<g a=\"red;red\"/>"),
        ("<b>&shape;</b>", "<b><g id=\"1\">red</g></b>"),
        ("<b x='&#35;f00&#x23;'/>", "<b x='#f00#'/>"),
        ("<b x='&q;'/><b x=\"&q;\">&q;</b>", "<b x='say \"\u{e9}\"'/><b x='say \"\u{e9}\"'>say \"\u{e9}\"</b>"),
        ("<b x=\"&quot;A&quot;\" y='&apos;' z=\"&quot;&apos;\"/>", "<b x='\"A\"' y=\"'\" z=\"&quot;'\"/>"),
        ("<b>&lt;&amp;a;&#10;&#60;&gt;</b>", "<b>&lt;&amp;a;&#10;&#60;></b>"),
        ("<![CDATA[&a;]]><!-- &a; --><?x &a;?>&b;", "<![CDATA[&a;]]><!-- &a; --><?x &a;?>&b;"),
        ("<b x='a>&a;'/>& <b x='&'/>", "<b x='a>red'/>& <b x='&'/>"),
        ("<b x=\"&a;", "<b x=\"&a;"),
        ("<b x='&and;'>&and;&less;</b>", "<b x='A &amp; B'>A &amp; B<i> </i></b>"),
    ] {
        let text = format!("{head}{declared}{body}");
        let lines = declared.matches('\n').count();
        assert_eq!(written_out(&text).expect(body), format!("{head}{}{wanted}", "\n".repeat(lines)));
    }
    let plain = "<!DOCTYPE svg [<!ENTITY a 'red'>]><g/>";
    assert!(matches!(written_out(plain), Ok(Cow::Borrowed(text)) if text == plain));
}

/// The values and the text of every element.
fn found(text: &str) -> Vec<(Vec<String>, String)> {
    let options = ParsingOptions { allow_dtd: true, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).unwrap_or_else(|why| panic!("{text}: {why}"));
    let all = document.descendants().filter(Node::is_element);
    let values = all.map(|node| {
        let values = node.attributes().map(|attribute| attribute.value().to_owned()).collect();
        (values, node.text().unwrap_or_default().to_owned())
    });
    values.collect()
}

/// Another reader of XML finds the same in what is written out as in the file.
#[test]
fn another_reader_finds_the_same() {
    let declared = "<!DOCTYPE a [<!ENTITY a 'x\"y'><!ENTITY b \"it's &a;\"><!ENTITY c '<i k=\"&a;\">&b;</i>'>]>";
    for body in [
        "&a;",
        "&b;&#65;&#x3b1;",
        "<i k='&b;'/>",
        "<i k=\"&b; &quot; &apos;\">&c;</i>",
        "<i k='&#10; &#9;&amp;&lt;&gt;'>]]&gt;</i>",
    ] {
        let text = format!("{declared}<a>{body}</a>");
        let plain = written_out(&text).expect("is written out");
        assert!(!plain.contains("<!ENTITY") && found(&plain) == found(&text), "{plain}");
    }
}

#[test]
fn what_names_stand_for_is_bounded() {
    let laughs = |leaf: &str| {
        let mut text = format!("<!DOCTYPE svg [<!ENTITY a '{leaf}'>");
        for (name, of) in "bcdefghijk".chars().zip("abcdefghij".chars()) {
            text.extend([format!("<!ENTITY {name} '{}'>", format!("&{of};").repeat(10))]);
        }
        text + "]>\n<g>&k;</g>"
    };
    for leaf in ["", "ha", "<rect/>"] {
        assert!(fault(&laughs(leaf)).contains("stand for more than 4 MB of text"), "{leaf}");
    }
    let names = chain(39, |at, below| format!("<!ENTITY e{at} '&e{below};'>"));
    let chained = |last: usize| format!("<!DOCTYPE svg [<!ENTITY e0 'x'>{names}]>\n<g>&e{last};</g>");
    assert_eq!(written_out(&chained(15)).expect("is written out"), "\n<g>x</g>");
    assert!(fault(&chained(16)).contains("line 2 of the SVG stands for names more than 16 deep"));
    for (declared, body, said) in [
        ("<!ENTITY a '&b;'><!ENTITY b '&a;'>", "&a;", "or for itself"),
        ("<!ENTITY a SYSTEM '/etc/hostname'>", "<g id='&a;'/>", "lies in another file"),
        ("<!ENTITY a PUBLIC 'x' \"y\">", "&a;", "lies in another file"),
        ("<!ENTITY a '<g/>'>", "<g id='&a;'/>", "holds elements"),
        ("<!ENTITY a '&#x3C;g>'>", "&a;</g>", "line 1 of the SVG holds only part of an element, tag or comment"),
        ("<!ENTITY a '<!--'>", "&a;<g/>-->", "holds only part of"),
        ("<!ENTITY a '</g>'>", "<g>&a;", "holds only part of"),
        ("<!ENTITY a '<g id=\"'>", "&a;\"/>", "holds only part of"),
        ("<!ENTITY a 'x'><!ELEMENT \" ANY><!ATTLIST '>", "&a;", "end cannot be found"),
    ] {
        assert!(fault(&format!("<!DOCTYPE svg [{declared}]>{body}")).contains(said), "{declared}");
    }
}
