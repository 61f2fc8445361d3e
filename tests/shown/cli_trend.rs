//! `trend`: what it says of the example book's machines, as table, page and document.

use crate::support::cli::Folder;

const TERN_QUAY: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/tern-quay");

#[test]
fn a_table_says_what_each_correction_showed() {
    let said = Folder::with(&[]).run_with(&["trend", "soft bench", "--book", TERN_QUAY]).ends(0).stdout();
    assert!(said.contains("records"), "{said}");
    assert!(said.contains("Too few records to tell a drift from scatter."), "{said}");
    assert!(said.contains("fan wheel 315, 26-0419") && said.contains("check mass of"), "{said}");
    assert!(said.lines().all(|line| line.chars().count() <= 110), "{said}");
}

#[test]
fn a_page_is_one_file_that_loads_nothing() {
    let folder = Folder::with(&[]);
    folder.run_with(&["trend", "soft bench", "--book", TERN_QUAY, "-o", "trend.html"]).ends(0);
    let page = folder.read("trend.html");
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("<svg") && page.ends_with("</html>"));
    for word in ["src=", "href=", "@import", "url(", "<script"] {
        assert!(!page.contains(word), "{word}");
    }
    let misuse = folder.run_with(&["trend", "soft bench", "--book", TERN_QUAY, "-o", "trend.pdf"]);
    misuse.is_misuse("plots are written as a page");
}

#[test]
fn a_document_for_programs() {
    let document = Folder::with(&[]).run_with(&["trend", "soft bench", "--book", TERN_QUAY, "--format", "json"]).json();
    assert_eq!(document["machine"], "soft bench");
    let left = &document["channels"][0];
    assert_eq!(left["channel"], "left");
    assert!(left["corrections"][0]["gain"].as_f64().unwrap() > 0.8, "{document}");
}
