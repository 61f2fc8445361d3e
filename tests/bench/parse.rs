//! How fast a file is read, on one thread, beside a general reader of TOML on the same facts.

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{Criterion, Throughput, criterion_group, criterion_main};

#[path = "pieces.rs"]
mod pieces;
use pieces::PIECES;

const SHEET: &str = include_str!("../data/fan-wheel.rotor");
/// Files of the size of a large book, so that nothing is measured from the processor's smallest cache.
const COPIES: usize = 400;

/// The same facts as TOML: blocks as tables, amounts as plain numbers with their unit in the key, the rest as strings.
fn as_toml(copy: usize) -> String {
    let mut out = String::new();
    let mut path: Vec<String> = Vec::new();
    for line in SHEET.lines() {
        let line = line.trim();
        if let Some(heading) = line.strip_suffix(" {") {
            let heading = heading.replace('"', "");
            path.push(if path.is_empty() { format!("\"{heading} {copy}\"") } else { format!("\"{heading}\"") });
            out.push_str(&format!("[{}]\n", path.join(".")));
        } else if line == "}" {
            path.pop();
        } else if line.starts_with('#') || line.is_empty() {
            out.push_str(line);
            out.push('\n');
        } else {
            let (key, value) = line.split_once(" => ").or(line.split_once(": ")).expect("every other line is a fact");
            out.push_str(&toml_fact(key, value));
        }
    }
    out
}

fn toml_fact(key: &str, value: &str) -> String {
    let key = key.replace(['"', ','], "").replace(' ', "-");
    let (value, comment) = value.split_once(" # ").unwrap_or((value, ""));
    let comment = if comment.is_empty() { String::new() } else { format!(" # {comment}") };
    let (number, unit) = value.split_once(' ').unwrap_or((value, ""));
    if value.starts_with('"') {
        format!("{key} = {value}{comment}\n")
    } else if number.parse::<f64>().is_ok() && !unit.contains(' ') {
        let unit = unit.replace('·', "-");
        format!("{key}{}{unit} = {number}{comment}\n", if unit.is_empty() { "" } else { "-" })
    } else {
        format!("{key} = \"{value}\"{comment}\n")
    }
}

fn reading(criterion: &mut Criterion) {
    let rotor = SHEET.repeat(COPIES);
    let toml: String = (0..COPIES).map(as_toml).collect();
    assert!(rotorbook::syntax::parse(&rotor).errors.is_empty());
    let mut group = criterion.benchmark_group("read a book");
    group.sample_size(20).measurement_time(Duration::from_secs(4));
    group.throughput(Throughput::BytesDecimal(rotor.len() as u64));
    group.bench_function("rotor", |bencher| bencher.iter(|| rotorbook::syntax::parse(black_box(&rotor))));
    group.throughput(Throughput::BytesDecimal(toml.len() as u64));
    group.bench_function("toml", |bencher| {
        bencher.iter(|| black_box(&toml).parse::<toml::Table>().expect("the table is well formed"))
    });
    group.finish();
}

/// The time for a text of one piece, eight times as long, over the time for the shorter: about eight, never sixty-four.
fn growth(_: &mut Criterion) {
    let seconds = |text: &str| {
        let time = || {
            let start = Instant::now();
            black_box(rotorbook::syntax::parse(text));
            start.elapsed().as_secs_f64()
        };
        (0..5).map(|_| time()).fold(f64::INFINITY, f64::min)
    };
    for piece in PIECES {
        let of_length = |length: usize| format!("rotor x {{\nk: {}", piece.repeat(length / piece.len()));
        let ratio = seconds(&of_length(80_000)) / seconds(&of_length(10_000));
        println!("eight times as much of {piece:?} takes {ratio:.1} times as long");
    }
}

criterion_group!(benches, reading, growth);
criterion_main!(benches);
