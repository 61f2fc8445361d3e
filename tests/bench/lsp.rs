//! What somebody who types waits for: the server as a process of its own, driven over its standard input and output.
//!
//! `cargo bench --bench lsp` prints the tables, `cargo bench --bench lsp -- half-typed` the last lines of the first alone. Each time is from the last byte sent to the last byte received of the
//! answer, one change at a time unless it says otherwise. After each row stands what it should be at most: median and
//! p95, on two cores with nothing else to do.

#[path = "../support/lsp_client/mod.rs"]
mod lsp_client;
#[path = "sheets.rs"]
mod sheets;

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use lsp_client::{Client, Folder, able, url};
use serde_json::{Value, json};

/// Keys typed for one row of the table.
const KEYS: usize = 300;

fn main() {
    if std::env::args().any(|argument| argument == "half-typed") {
        columns();
        return half_typed();
    }
    println!("typing one key at a time: from the change to the diagnostics of its version");
    columns();
    let small = Folder::of([]);
    let large = Folder::of([]);
    write_book(small.root(), 10);
    write_book(large.root(), 10_000);
    for (lines, most) in [(100, "1 / 3 ms"), (1_000, "2 / 6 ms"), (10_000, "10 / 25 ms")] {
        row(&format!("{lines} lines, one setup"), most, typing(small.root(), &one_setup(lines)));
        row(&format!("{lines} lines, its balancing speed"), most, speed(small.root(), &one_setup(lines)));
        row(&format!("{lines} lines, many items"), most, typing(small.root(), &many_items(lines)));
        let many = "1.5 × the first";
        row(&format!("{lines} lines, in a book of 10,000 files"), many, typing(large.root(), &one_setup(lines)));
    }
    heading(large.root());
    burst(small.root());
    machine(large.root());
    consequences();
    half_typed();
    answers(large.root());
    start(large.root());
}

fn write_book(root: &Path, count: usize) {
    for (path, text) in sheets::book(count) {
        let path = root.join(path);
        fs::create_dir_all(path.parent().expect("it lies in the book")).expect("folders can be made");
        fs::write(path, text).expect("files can be written");
    }
}

/// One setup of so many lines, most of them trial runs.
fn one_setup(lines: usize) -> String {
    let setup = sheets::setup(0);
    let end = setup.trim_end().rfind('}').expect("a setup ends with a brace");
    let mut text = setup[..end].to_owned();
    let mut count = text.lines().count();
    for n in 0.. {
        if count + 11 > lines {
            break;
        }
        let _ = write!(
            text,
            "\n  trial \"run {n}\" {{\n    mass in: hub\n    mass: {}.00 g\n    radius: 134.2 mm\n    angle: {} deg\n    \
             trial mass: taken off\n    speed: 1152 rpm\n    reading left: 10.1 div @ 355 deg\n    \
             reading right: 8.4 div @ 47 deg\n  }}\n",
            1 + n % 5,
            n % 360
        );
        count += 11;
    }
    text + "}\n"
}

/// Rotors and setups one after the other in one file.
fn many_items(lines: usize) -> String {
    let mut text = String::new();
    for n in 5_000.. {
        let more = if n % 2 == 0 { sheets::rotor(n) } else { sheets::setup(n - 1) };
        if n > 5_000 && text.lines().count() + more.lines().count() > lines {
            break;
        }
        text.push_str(&more);
    }
    text
}

fn opened(root: &Path, text: &str) -> (Client, PathBuf) {
    let mut client = Client::start_binary(env!("CARGO_BIN_EXE_rotorbook"));
    client = client.initialized(&[root], able(), Value::Null);
    let path = root.join("setups/zz-typed.rotor");
    client.open_text(&path, 1, text);
    client.diagnostics(&path, 1);
    client.settle(Duration::from_millis(1500));
    (client, path)
}

/// Types a remark into the middle of the text, again and again; how long each key took.
fn typing(root: &Path, text: &str) -> Vec<Duration> {
    let (mut client, path) = opened(root, text);
    let (line, column) = middle(text);
    type_keys(&mut client, &path, line, column, "\n    note: \"seen at the bench, 12.5 div\"", KEYS)
}

/// Types further decimals of the speed that all of the setup rests on.
fn speed(root: &Path, text: &str) -> Vec<Duration> {
    let (mut client, path) = opened(root, text);
    let (line, fact) =
        text.lines().enumerate().find(|(_, line)| line.starts_with("  balancing speed")).expect("it has one");
    let column = fact.find(" rpm").expect("it has a unit");
    type_keys(&mut client, &path, line as u32, column as u32, ".25", KEYS)
}

/// The end of a fact in the middle of the text.
fn middle(text: &str) -> (u32, u32) {
    let lines: Vec<&str> = text.lines().collect();
    let from = lines.len() / 2;
    let fact = lines.iter().enumerate().skip(from).find(|(_, line)| line.contains(": ") && !line.contains('{'));
    let (line, text) = fact.expect("there are facts in every half");
    (line as u32, text.encode_utf16().count() as u32)
}

fn type_keys(client: &mut Client, path: &Path, line: u32, column: u32, keys: &str, count: usize) -> Vec<Duration> {
    type_keys_from(client, path, 1, (line, column), keys, count)
}

fn type_keys_from(
    client: &mut Client,
    path: &Path,
    mut version: i32,
    (line, column): (u32, u32),
    keys: &str,
    count: usize,
) -> Vec<Duration> {
    let mut times = Vec::new();
    let mut at = (line, column);
    let mut keys = keys.chars().cycle();
    let first = keys.clone().next();
    for _ in 0..count {
        let key = keys.next().expect("they go round");
        if Some(key) == first && at != (line, column) {
            version += 1;
            let range = json!({ "start": place((line, column)), "end": place(at) });
            client.change(path, version, json!([{ "range": range, "text": "" }]));
            client.diagnostics(path, version);
            at = (line, column);
        }
        version += 1;
        let start = Instant::now();
        client.insert(path, version, at, &key.to_string());
        client.diagnostics(path, version);
        times.push(start.elapsed());
        at = if key == '\n' { (at.0 + 1, 0) } else { (at.0, at.1 + 1) };
    }
    times
}

fn place((line, character): (u32, u32)) -> Value {
    json!({ "line": line, "character": character })
}

/// The speed of a rotor that a setup rests on, in a book of 1,000 sheets: from the key to the word that something has moved.
fn consequences() {
    let folder = Folder::of([]);
    write_book(folder.root(), 1_000);
    let mut able = able();
    able["workspace"]["inlayHint"] = json!({ "refreshSupport": true });
    let mut client = Client::start_binary(env!("CARGO_BIN_EXE_rotorbook"));
    client = client.initialized(&[folder.root()], able, Value::Null);
    let text = sheets::rotor(0);
    let path = folder.path("rotors/fan-wheel-0.rotor");
    client.open_text(&path, 1, &text);
    client.settle(Duration::from_millis(3000));
    let (line, fact) =
        text.lines().enumerate().find(|(_, line)| line.contains("highest service speed")).expect("it has one");
    let column = fact.find(" rpm").expect("it has a unit") as u32;
    let mut times = Vec::new();
    for n in 0..30 {
        let range = json!({ "start": place((line as u32, column - 1)), "end": place((line as u32, column)) });
        let start = Instant::now();
        client.change(&path, n + 2, json!([{ "range": range, "text": (1 + n % 9).to_string() }]));
        client.wait("the word that something has moved", |message| message["method"] == "workspace/inlayHint/refresh");
        times.push(start.elapsed());
        client.settle(Duration::from_millis(100));
    }
    println!();
    row("what a rotor's speed moves, in 1,000 sheets", "100 ms", times);
}

/// What a key costs while a line is half typed and something has moved already: with consequences and without, in turn.
fn half_typed() {
    const ROUNDS: usize = 8;
    let folder = Folder::of([]);
    write_book(folder.root(), 1_000);
    let text = sheets::rotor(0);
    let (line, _) =
        text.lines().enumerate().find(|(_, line)| line.contains("highest service speed")).expect("it has one");
    let text = text.replacen("  highest service speed", "  \n  highest service speed", 1);
    let moved = text.replacen("highest service speed: 3", "highest service speed: 2", 1);
    let path = folder.path("rotors/fan-wheel-0.rotor");
    let typed = |since: &str| {
        let options = json!({ "consequences": since });
        let mut client = Client::start_binary(env!("CARGO_BIN_EXE_rotorbook"));
        client = client.initialized(&[folder.root()], able(), options);
        client.settings = json!({ "consequences": since });
        client.open_text(&path, 1, &text);
        client.settle(Duration::from_millis(1500));
        client.replace_text(&path, 2, &moved);
        client.settle(Duration::from_millis(500));
        type_keys_from(&mut client, &path, 2, (line as u32, 2), "largest diam", KEYS)
    };
    let (mut with, mut without) = (Vec::new(), Vec::new());
    for _ in 0..ROUNDS {
        with.extend(typed("save"));
        without.extend(typed("off"));
    }
    let mean = |times: &[Duration]| times.iter().sum::<Duration>().as_secs_f64() / times.len() as f64;
    let middle = |times: &[Duration]| {
        let mut times = times.to_vec();
        times.sort();
        times[times.len() / 2].as_secs_f64()
    };
    let ratios = (middle(&with) / middle(&without), mean(&with) / mean(&without));
    row("a key in a half-typed line, with consequences", "", with);
    row("the same without", "", without);
    println!("  with ÷ without: median {:.3}, mean {:.3}, at most 1.01", ratios.0, ratios.1);
}

/// A name in a heading, of which every other file might speak.
fn heading(root: &Path) {
    let text = one_setup(100);
    let (mut client, path) = opened(root, &text);
    let line = text.lines().position(|line| line.starts_with("setup")).expect("it is a setup") as u32;
    let times = type_keys(&mut client, &path, line, "setup \"fan".len() as u32, "another ", KEYS);
    row("a heading, in a book of 10,000 files", "1 / 3 ms", times);
}

/// Fifty keys at once into 10,000 lines.
fn burst(root: &Path) {
    let text = one_setup(10_000);
    let (mut client, path) = opened(root, &text);
    let (line, column) = middle(&text);
    let mut version = 1;
    let (mut times, mut told) = (Vec::new(), 0);
    for _ in 0..20 {
        for n in 0..50 {
            version += 1;
            client.insert(&path, version, (line, column + n), "x");
        }
        let start = Instant::now();
        client.diagnostics(&path, version);
        times.push(start.elapsed());
        let of_path = |message: &&Value| message["params"]["uri"] == *url(&path);
        told += client.settle(Duration::from_millis(100)).iter().filter(of_path).count() + 1;
        version += 1;
        let range = json!({ "start": place((line, column)), "end": place((line, column + 50)) });
        client.change(&path, version, json!([{ "range": range, "text": "" }]));
        client.diagnostics(&path, version);
    }
    row("50 keys at once into 10,000 lines", "40 ms", times);
    println!("  of 50 versions {:.1} were told of", told as f64 / 20.0);
}

/// The machine that 5,000 setups use becomes too weak for all of them.
fn machine(root: &Path) {
    println!("\nediting the machine that 5,000 setups use");
    columns();
    let mut client = Client::start_binary(env!("CARGO_BIN_EXE_rotorbook")).initialized(&[root], able(), Value::Null);
    let shop = root.join("book.rotor");
    let text = fs::read_to_string(&shop).expect("the book has a shop");
    let setups: Vec<PathBuf> = (0..3).map(|n| root.join(format!("setups/fan-wheel-{n}.rotor"))).collect();
    for setup in &setups {
        client.open_text(setup, 1, &fs::read_to_string(setup).expect("the setup is there"));
        client.diagnostics(setup, 1);
    }
    client.open_text(&shop, 1, &text);
    client.diagnostics(&shop, 1);
    client.settle(Duration::from_millis(1500));
    let (mut own, mut open, mut typed, mut all) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut version = 1;
    for round in 0..20 {
        version += 1;
        let weak = text.replace("rotor mass: 0.5 kg to 500 kg", "rotor mass: 0.1 kg to 2 kg");
        let start = Instant::now();
        client.replace_text(&shop, version, if round % 2 == 0 { &weak } else { &text });
        client.diagnostics(&shop, version);
        own.push(start.elapsed());
        for setup in &setups {
            client.diagnostics(setup, 1);
            open.push(start.elapsed());
        }
        // Somebody goes on typing while the others are judged.
        for n in 0..10 {
            let start = Instant::now();
            client.insert(&setups[0], 2 + 10 * round + n, (0, 0), "#");
            client.diagnostics(&setups[0], 2 + 10 * round + n);
            typed.push(start.elapsed());
        }
        client.close(&setups[0]);
        client.open_text(&setups[0], 1, &fs::read_to_string(&setups[0]).expect("the setup is there"));
        client.diagnostics(&setups[0], 1);
        client.wait("the last setup", |message| {
            message["params"]["uri"] == *url(&root.join("setups/fan-wheel-999.rotor"))
        });
        all.push(start.elapsed());
        client.settle(Duration::from_millis(300));
    }
    row("the machine's own file", "10 ms", own);
    row("open setups", "10 ms", open);
    row("typing meanwhile", "as ever", typed);
    row("the rest", "in the background", all);
}

/// What is asked in a setup of 1,000 lines, each time after a change.
fn answers(root: &Path) {
    println!("\nanswers about a setup of 1,000 lines in a book of 10,000 files, just after a change");
    columns();
    let text = one_setup(1_000);
    let (mut client, path) = opened(root, &text);
    let place = |piece: &str| {
        let (line, found) =
            text.lines().enumerate().find(|(_, line)| line.contains(piece)).expect("it is in the setup");
        json!({ "line": line, "character": found.find(piece).unwrap_or_default() + piece.len() })
    };
    let all = json!({ "start": place(""), "end": { "line": 10_000, "character": 0 } });
    let here = json!({ "start": place("mass: "), "end": place("mass: ") });
    let asked = [
        ("textDocument/hover", json!({ "position": place("balancing sp") })),
        ("textDocument/completion", json!({ "position": place("mass: ") })),
        ("textDocument/inlayHint", json!({ "range": all })),
        ("textDocument/codeAction", json!({ "range": here, "context": { "diagnostics": [] } })),
        ("textDocument/semanticTokens/full", json!({})),
        ("textDocument/documentSymbol", json!({})),
        ("textDocument/codeLens", json!({})),
        (
            "textDocument/references",
            json!({ "position": place("machine: \"so"), "context": { "includeDeclaration": true } }),
        ),
        ("textDocument/formatting", json!({ "options": { "tabSize": 2, "insertSpaces": true } })),
        ("workspace/symbol", json!({ "query": "wheel 77" })),
    ];
    let mut version = 1;
    for (method, mut params) in asked {
        params["textDocument"] = json!({ "uri": url(&path) });
        let mut times = Vec::new();
        for _ in 0..20 {
            version += 1;
            client.insert(&path, version, (0, 0), "#");
            client.diagnostics(&path, version);
            let start = Instant::now();
            client.request(method, params.clone());
            times.push(start.elapsed());
        }
        row(method, "", times);
    }
}

/// From the start of the process to what is said of 10,000 files.
fn start(root: &Path) {
    println!("\nstart in a book of 10,000 files");
    columns();
    // The last file to be judged has something to be said of it.
    let last = root.join("zzz.rotor");
    fs::write(&last, "rotor \"last\" {\n  mass: 4,8 kg\n}\n").expect("files can be written");
    let setup = root.join("setups/fan-wheel-77.rotor");
    let text = fs::read_to_string(&setup).expect("the setup is there").replace("1150 rpm", "1150 rmp");
    let (mut answered, mut open, mut whole, mut memory) = (Vec::new(), Vec::new(), Vec::new(), 0);
    for _ in 0..7 {
        let start = Instant::now();
        let mut client = Client::start_binary(env!("CARGO_BIN_EXE_rotorbook"));
        let folder = json!([{ "uri": url(root), "name": "book" }]);
        let params = json!({ "processId": null, "rootUri": null, "workspaceFolders": folder, "capabilities": able() });
        client.request("initialize", params);
        answered.push(start.elapsed());
        client.notify("initialized", json!({}));
        client.open_text(&setup, 1, &text);
        assert!(!client.diagnostics(&setup, 1).is_empty());
        open.push(start.elapsed());
        client.diagnostics(&last, None);
        whole.push(start.elapsed());
        client.settle(Duration::from_millis(500));
        memory = memory.max(most_memory(client.process()));
    }
    fs::remove_file(last).expect("it has been written");
    row("`initialize` answered", "20 ms", answered);
    row("the open file", "150 ms", open);
    row("the whole book", "1500 ms", whole);
    println!("{:<44} {:>6.0} MB {:>25}", "memory at most", memory as f64 / 1024.0, "300 MB");
}

/// The most memory that a process has had, in kilobytes; zero where the system does not tell.
fn most_memory(process: u32) -> u64 {
    let status = fs::read_to_string(format!("/proc/{process}/status")).unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"));
    line.and_then(|line| line.trim().trim_end_matches("kB").trim().parse().ok()).unwrap_or(0)
}

fn columns() {
    println!("{:<44} {:>9} {:>9} {:>9}   at most", "", "median", "p95", "worst");
}

fn row(what: &str, most: &str, mut times: Vec<Duration>) {
    times.sort();
    let at = |share: usize| times[(times.len() * share / 100).min(times.len() - 1)].as_secs_f64() * 1e3;
    println!("{what:<44} {:>6.2} ms {:>6.2} ms {:>6.2} ms   {most}", at(50), at(95), at(100));
}
