//! The parts of the language reference that are tables: written from the code, so that they cannot disagree with it.
//!
//! `grammar/README.md` holds them between markers; a test fails when they are stale and renews them on demand.

mod blocks;
mod lists;

/// A generated part of the reference.
pub struct Region {
    /// As it is in the markers.
    pub name: &'static str,
    pub text: String,
}

/// Every generated part, in the order of the reference.
pub fn regions() -> Vec<Region> {
    let region = |name, text| Region { name, text };
    vec![
        region("units", lists::units()),
        region("blocks", blocks::blocks()),
        region("choices", lists::choices()),
        region("results", lists::results()),
        region("formulas", lists::formulas()),
        region("materials", lists::materials()),
        region("diagnostics", lists::diagnostics()),
        region("grammar", lists::grammar()),
    ]
}

/// The document with every generated part renewed; parts that the document does not hold are not added.
pub fn renewed(document: &str) -> String {
    let mut document = document.to_owned();
    for Region { name, text } in regions() {
        let (begin, end) = (format!("<!-- begin {name} -->\n"), format!("<!-- end {name} -->"));
        let Some(from) = document.find(&begin).map(|at| at + begin.len()) else { continue };
        let Some(to) = document[from..].find(&end).map(|at| from + at) else { continue };
        document.replace_range(from..to, &format!("\n{}\n\n", text.trim_end()));
    }
    document
}

/// Text as it may be in a cell of a table.
fn cell(text: &str) -> String {
    text.replace('|', "\\|")
}
