//! What an edit moves is told while it is made: beside the last commit, or the last save where there is none.

use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

use crate::support::lsp_client::book::{ROTOR, SETUP, book, place_of};
use crate::support::lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

const PATIENCE: Duration = Duration::from_secs(20);

fn git(folder: &Folder, arguments: &str) {
    let mut command = Command::new("git");
    command.args(["-c", "user.name=Tern Quay", "-c", "user.email=bench@tern-quay.example"]);
    let done = command.args(arguments.split(' ')).current_dir(folder.root()).output().unwrap();
    assert!(done.status.success(), "{}", String::from_utf8_lossy(&done.stderr));
}

fn committed() -> Folder {
    let folder = book();
    git(&folder, "init -q");
    git(&folder, "add -A");
    git(&folder, "commit -q -m sheets");
    folder
}

fn session(folder: &Folder, options: Value) -> Client {
    let mut client = Client::start().initialized(&[folder.root()], able(), options);
    client.open_text(&folder.path("rotors/fan.rotor"), 1, ROTOR);
    client.open_text(&folder.path("setups/fan.rotor"), 1, SETUP);
    client
}

/// The labels of all hints of a sheet, and where they stand.
fn hints(client: &mut Client, path: &Path) -> Vec<(u64, String)> {
    let range = json!({ "start": { "line": 0, "character": 0 }, "end": { "line": 999, "character": 0 } });
    let hints =
        client.request("textDocument/inlayHint", json!({ "textDocument": { "uri": url(path) }, "range": range }));
    let label = |hint: &Value| match &hint["label"] {
        Value::String(label) => label.clone(),
        parts => parts[0]["value"].as_str().unwrap().to_owned(),
    };
    hints.as_array().unwrap().iter().map(|hint| (hint["position"]["line"].as_u64().unwrap(), label(hint))).collect()
}

fn moves(client: &mut Client, path: &Path) -> Option<(u64, String)> {
    hints(client, path).into_iter().find(|(_, label)| label.starts_with("moves "))
}

/// Waits until there is such a hint, or none any more.
fn wait(client: &mut Client, path: &Path, wanted: bool) -> Option<(u64, String)> {
    let end = Instant::now() + PATIENCE;
    loop {
        let found = moves(client, path);
        if found.is_some() == wanted || Instant::now() > end {
            return found;
        }
        std::thread::sleep(Duration::from_millis(20));
    }
}

fn saved(client: &mut Client, path: &Path, text: &str) {
    std::fs::write(path, text).unwrap();
    client.notify("textDocument/didSave", json!({ "textDocument": { "uri": url(path) } }));
}

/// Half the grade, half the tolerance: the reading of the sheet that calibrates the rotor doubles.
#[test]
fn a_line_says_what_it_moves_in_another_sheet() {
    let folder = committed();
    let mut client = session(&folder, json!({ "commands": ["rotorbook.showPlaces"] }));
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    assert_eq!(moves(&mut client, &rotor), None);
    let changed = ROTOR.replace("grade: G 6.3", "grade: G 3.15");
    client.replace_text(&rotor, 2, &changed);
    let (line, label) = wait(&mut client, &rotor, true).expect("the line says what it moves");
    let (grade, column) = place_of(&changed, "G 3.15", 1);
    assert_eq!(line, u64::from(grade));
    assert!(label.contains("1 sheet") && label.contains(" → "), "{label}");
    // It is told where one points at the line, and in the sheet that it reaches.
    let position = json!({ "line": grade, "character": column });
    let hover =
        client.request("textDocument/hover", json!({ "textDocument": { "uri": url(&rotor) }, "position": position }));
    let hover = hover["contents"]["value"].as_str().unwrap();
    assert!(hover.contains("| where | result | before | after |"), "{hover}");
    let lenses = client.request("textDocument/codeLens", json!({ "textDocument": { "uri": url(&setup) } }));
    assert!(lenses.to_string().contains("since commit "), "{lenses}");
    let asked =
        json!({ "command": "rotorbook.consequences", "arguments": [url(&setup), { "line": 0, "character": 0 }] });
    let told = client.request("workspace/executeCommand", asked);
    assert!(told.as_str().unwrap().contains("Since commit "), "{told}");
    // Saving is no commit; a commit is.
    saved(&mut client, &rotor, &changed);
    assert!(wait(&mut client, &rotor, true).is_some());
    client.replace_text(&rotor, 3, ROTOR);
    assert_eq!(wait(&mut client, &rotor, false), None);
}

#[test]
fn without_git_it_is_told_beside_the_last_save() {
    let folder = book();
    let mut client = session(&folder, json!({}));
    let rotor = folder.path("rotors/fan.rotor");
    let changed = ROTOR.replace("grade: G 6.3", "grade: G 3.15");
    client.replace_text(&rotor, 2, &changed);
    assert!(wait(&mut client, &rotor, true).is_some());
    saved(&mut client, &rotor, &changed);
    assert_eq!(wait(&mut client, &rotor, false), None);
}

#[test]
fn it_can_be_turned_off() {
    let folder = committed();
    let mut client = session(&folder, json!({ "consequences": "off" }));
    let rotor = folder.path("rotors/fan.rotor");
    client.replace_text(&rotor, 2, &ROTOR.replace("grade: G 6.3", "grade: G 3.15"));
    client.settle(Duration::from_millis(800));
    assert_eq!(moves(&mut client, &rotor), None);
}

/// Nothing is worked out of a line that cannot be read yet.
#[test]
fn a_half_written_line_moves_nothing() {
    let folder = committed();
    let mut client = session(&folder, json!({ "errorDelay": 60_000 }));
    let rotor = folder.path("rotors/fan.rotor");
    client.settle(Duration::from_millis(500));
    let (line, column) = place_of(ROTOR, "3550 rpm", 0);
    let span =
        json!({ "start": { "line": line, "character": column }, "end": { "line": line, "character": column + 8 } });
    client.change(&rotor, 2, json!([{ "range": span, "text": "3000 rp" }]));
    client.settle(Duration::from_millis(500));
    assert_eq!(moves(&mut client, &rotor), None);
    client.insert(&rotor, 3, (line, column + 7), "m");
    let (at, label) = wait(&mut client, &rotor, true).expect("the line is whole");
    assert_eq!(at, u64::from(line), "{label}");
}

/// The sheet that calibrates the rotor is in the book, and not on disk.
#[test]
fn a_sheet_that_a_sparse_checkout_leaves_out_is_moved_all_the_same() {
    let folder = committed();
    git(&folder, "sparse-checkout set --no-cone /* !/setups/");
    let (rotor, setup) = (folder.path("rotors/fan.rotor"), folder.path("setups/fan.rotor"));
    assert!(!setup.exists());
    let mut client = Client::start().initialized(&[folder.root()], able(), json!({}));
    client.open_text(&rotor, 1, ROTOR);
    assert_eq!(moves(&mut client, &rotor), None);
    client.replace_text(&rotor, 2, &ROTOR.replace("grade: G 6.3", "grade: G 3.15"));
    let (_, label) = wait(&mut client, &rotor, true).expect("the line says what it moves");
    assert!(label.contains("1 sheet"), "{label}");
}
