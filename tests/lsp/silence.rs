//! What is said of a line while it is being written: nothing, and all of it as soon as the pen is away.

use std::path::{Path, PathBuf};
use std::time::Duration;

use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

/// A rest that no test waits for.
const NEVER: u64 = 60_000;

/// A client that asks for diagnostics, so that each key has its answer.
fn asking() -> Value {
    let mut able = able();
    able["textDocument"]["diagnostic"] = json!({ "dynamicRegistration": false });
    able["workspace"]["diagnostics"] = json!({ "refreshSupport": true });
    able
}

fn session(folder: &Folder, able: Value, delay: u64) -> Client {
    Client::start().initialized(&[folder.root()], able, json!({ "errorDelay": delay }))
}

/// A copy of the example book.
fn example() -> Folder {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/tern-quay");
    let folder = Folder::of([]);
    for path in rotorbook::disk::walk_book(&root).files {
        let text = std::fs::read_to_string(&path).unwrap();
        folder.write(path.strip_prefix(&root).unwrap().to_str().unwrap(), &text);
    }
    folder
}

fn errors(client: &mut Client, path: &Path) -> Vec<Value> {
    let report = client.request("textDocument/diagnostic", json!({ "textDocument": { "uri": url(path) } }));
    let items = report["items"].as_array().unwrap().clone();
    items.into_iter().filter(|item| item["severity"] == 1).collect()
}

fn on_line(errors: &[Value], line: u32) -> bool {
    errors.iter().any(|error| error["range"]["start"]["line"] == line)
}

fn saved(client: &mut Client, path: &Path) {
    client.notify("textDocument/didSave", json!({ "textDocument": { "uri": url(path) } }));
}

/// After how many keys of how many there is an error on the line that is being written; and all errors at the end, when
/// the last letters have been left out so that there are some.
fn typed(sheet: &str, delay: u64) -> (usize, usize, Vec<Value>) {
    let folder = example();
    let text = std::fs::read_to_string(folder.path(sheet)).unwrap();
    let path = folder.write(sheet, "");
    let mut client = session(&folder, asking(), delay);
    client.open_text(&path, 1, "");
    let (mut line, mut column) = (0, 0);
    let (mut keys, mut red) = (0, 0);
    for letter in text.trim_end().trim_end_matches('}').chars() {
        client.insert(&path, keys as i32 + 2, (line, column), &letter.to_string());
        match letter {
            '\n' => (line, column) = (line + 1, 0),
            _ => column += letter.len_utf16() as u32,
        }
        keys += 1;
        red += usize::from(on_line(&errors(&mut client, &path), line));
    }
    saved(&mut client, &path);
    (red, keys, errors(&mut client, &path))
}

/// A sheet of the example book is written letter by letter; what is said at its end. The share is what the project has set
/// itself.
fn is_written_without_red(sheet: &str) -> Vec<Value> {
    let (red, keys, left) = typed(sheet, NEVER);
    println!("{sheet}: errors on the line under the pen after {red} of {keys} keys");
    assert!(red * 100 <= 2 * keys, "{sheet}: {red} of {keys}");
    assert!(!left.is_empty(), "{sheet}: the block that is not closed is said when the sheet is saved");
    left
}

#[test]
fn a_sheet_is_written_without_red_under_the_pen() {
    let sheet = "rotors/slinger-disc-300.rotor";
    // The same without holding back, so that the measure is seen to measure; and what is said at the end is the same.
    let (left, (red, keys, told)) = std::thread::scope(|scope| {
        let held_back = scope.spawn(|| is_written_without_red(sheet));
        let at_once = typed(sheet, 0);
        (held_back.join().unwrap(), at_once)
    });
    println!("{sheet}: {red} of {keys} when nothing is held back");
    assert!(red * 2 > keys, "{red} of {keys}");
    assert_eq!(left, told);
}

#[test]
#[ignore = "most of a minute without optimisation"]
fn a_long_sheet_is_written_without_red_under_the_pen() {
    is_written_without_red("setups/slinger-disc-300-swing-cradle.rotor");
}

const SPARE: &str = "rotor \"spare\" {\n  mass: 4.8 kg\n  bearings: 0 mm, 164 mm\n}\n";

fn spare(delay: u64, able: Value) -> (Folder, Client, PathBuf) {
    let folder = Folder::of([("book.rotor", "shop \"Tern Quay Rotor Shop\" {\n  format: 1\n}\n")]);
    let mut client = session(&folder, able, delay);
    let path = folder.path("spare.rotor");
    client.open_text(&path, 1, SPARE);
    (folder, client, path)
}

#[test]
fn what_is_held_back_is_told_when_the_pen_rests() {
    // To a client that is told,
    let (_folder, mut client, path) = spare(300, able());
    client.diagnostics(&path, 1);
    client.insert(&path, 2, (1, 14), "x");
    assert!(!client.codes(&path, 2).iter().any(|code| code == "unknown-unit"));
    assert!(client.codes(&path, 2).iter().any(|code| code == "unknown-unit"));
    // and to one that asks.
    let (_folder, mut client, path) = spare(300, asking());
    client.settle(Duration::from_millis(300));
    client.insert(&path, 2, (1, 14), "x");
    assert!(!on_line(&errors(&mut client, &path), 1));
    client.wait("the word to ask again", |message| message["method"] == "workspace/diagnostic/refresh");
    assert!(on_line(&errors(&mut client, &path), 1));
}

#[test]
fn what_is_held_back_is_told_when_the_line_is_left_or_saved() {
    let (folder, mut client, path) = spare(NEVER, asking());
    client.insert(&path, 2, (1, 14), "x");
    assert!(!on_line(&errors(&mut client, &path), 1));
    client.insert(&path, 3, (2, 24), "x");
    let left = errors(&mut client, &path);
    assert!(on_line(&left, 1) && !on_line(&left, 2), "{left:?}");
    saved(&mut client, &path);
    assert!(on_line(&errors(&mut client, &path), 2));
    // Another sheet is written in.
    client.insert(&path, 4, (1, 14), "y");
    assert!(!on_line(&errors(&mut client, &path), 1));
    let other = folder.path("other.rotor");
    client.open_text(&other, 1, "");
    client.insert(&other, 2, (0, 0), "rotor");
    client.wait("the word to ask again", |message| message["method"] == "workspace/diagnostic/refresh");
    assert!(on_line(&errors(&mut client, &path), 1));
}

/// A new block has nothing in it yet: that is no fault before something else is.
#[test]
fn a_new_block_is_left_alone() {
    let (_folder, mut client, path) = spare(NEVER, asking());
    client.insert(&path, 2, (4, 0), "\nrotor \"new\" {\n  \n}\n");
    let said = errors(&mut client, &path);
    assert!(!on_line(&said, 5), "{said:?}");
    saved(&mut client, &path);
    let said = errors(&mut client, &path);
    assert!(on_line(&said, 5), "{said:?}");
    client.insert(&path, 3, (6, 2), "drawing: \"TQ-1");
    let said = errors(&mut client, &path);
    assert!(!on_line(&said, 5) && !on_line(&said, 6), "{said:?}");
    saved(&mut client, &path);
    let said = errors(&mut client, &path);
    assert!(on_line(&said, 6), "{said:?}");
}
