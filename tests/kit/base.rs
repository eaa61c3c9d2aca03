//! Base: the facts that pieces of covers in the manual and among the mistakes take for granted.

pub const BASE: &str = r#"book { title "Salt and Lanterns"; author "Mirela Anand"; pages 320; isbn "978-1-83742-615-7" }
format paperback { trim 129 198 }
swatches { swatch night c=92 m=74 y=38 k=42; swatch lamp m=34 y=88 }
type { style title { size 20 }; style blurb { size 10 } }
"#;
