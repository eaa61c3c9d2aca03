//! Tables: what Python's csv and json modules wrote is read back cell for cell.

use crate::kit::shown;
use crate::python::python;
use jaconet::testing::read_table;
use std::path::Path;

const TABLES: usize = 300;

#[test]
fn tables_of_another_writer_are_read_back() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("tables");
    let stated = python("tables.py", &[&shown(&folder), &TABLES.to_string()]);
    assert_eq!(stated.trim(), "written");
    let file = |name: String| std::fs::read_to_string(folder.join(name)).expect("Python wrote it");
    for number in 0..TABLES {
        let rows: Vec<Vec<(String, String)>> =
            serde_json::from_str(&file(format!("{number}.rows"))).expect("a list of rows");
        for ending in ["csv", "json"] {
            let name = format!("{number}.{ending}");
            let text = file(name.clone());
            let read: Vec<Vec<(String, String)>> =
                read_table(&name, &text).rows.into_iter().map(|(_, cells)| cells).collect();
            assert_eq!(read, rows, "{name}: {text:?}");
        }
    }
}
