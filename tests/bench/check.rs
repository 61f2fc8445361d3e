//! A full check, physics included, against parsing the same facts written as TOML: on the same threads, in one run.

#[path = "facts_as_toml.rs"]
mod facts_as_toml;
#[path = "sheets.rs"]
mod sheets;

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use rayon::prelude::*;
use rotorbook::book::{Book, SourceFile};
use rotorbook::{check, syntax};

struct Prepared {
    sheets: Vec<(String, String)>,
    tables: Vec<String>,
    bytes: u64,
}

fn prepare(count: usize) -> Prepared {
    let sheets = sheets::book(count);
    let tables = sheets.iter().map(|(_, text)| facts_as_toml::facts_as_toml(text)).collect();
    let bytes = sheets.iter().map(|(_, text)| text.len() as u64).sum();
    Prepared { sheets, tables, bytes }
}

fn check_all(sheets: &[(String, String)]) -> usize {
    let read = |(path, text): &(String, String)| Arc::new(SourceFile::read(path.as_str(), text.as_str()));
    let files: Vec<Arc<SourceFile>> = sheets.par_iter().map(read).collect();
    let book = Book::new(files);
    let found = check::check(&book).len();
    book.finish();
    found
}

fn parse_all(sheets: &[(String, String)]) -> usize {
    sheets.par_iter().map(|(_, text)| syntax::parse(text).lines.len()).sum()
}

fn toml_all(tables: &[String]) -> usize {
    tables.par_iter().map(|text| text.parse::<toml::Table>().expect("the facts are well-formed TOML").len()).sum()
}

fn median(mut run: impl FnMut() -> usize) -> Duration {
    let mut times: Vec<Duration> = (0..7)
        .map(|_| {
            let start = Instant::now();
            black_box(run());
            start.elapsed()
        })
        .collect();
    times.sort();
    times[times.len() / 2]
}

fn compare(criterion: &mut Criterion) {
    for count in [1_000, 10_000] {
        let prepared = prepare(count);
        let found = check_all(&prepared.sheets);
        let (check, parse, toml) = (
            median(|| check_all(&prepared.sheets)),
            median(|| parse_all(&prepared.sheets)),
            median(|| toml_all(&prepared.tables)),
        );
        let rate = |time: Duration| prepared.bytes as f64 / 1e6 / time.as_secs_f64();
        let ratio = |time: Duration| time.as_secs_f64() / toml.as_secs_f64();
        println!("{count} sheets, {:.1} MB, {found} diagnostics", prepared.bytes as f64 / 1e6);
        println!("  parse as TOML  {toml:>10.1?}");
        println!("  parse          {parse:>10.1?}  {:.2} x TOML  {:.0} MB/s", ratio(parse), rate(parse));
        println!("  full check     {check:>10.1?}  {:.2} x TOML  {:.0} MB/s", ratio(check), rate(check));
        let mut group = criterion.benchmark_group("book");
        group.sample_size(10).throughput(Throughput::Bytes(prepared.bytes));
        group.bench_with_input(BenchmarkId::new("check", count), &prepared, |b, p| b.iter(|| check_all(&p.sheets)));
        group.bench_with_input(BenchmarkId::new("parse", count), &prepared, |b, p| b.iter(|| parse_all(&p.sheets)));
        group.bench_with_input(BenchmarkId::new("toml", count), &prepared, |b, p| b.iter(|| toml_all(&p.tables)));
        group.finish();
    }
}

criterion_group!(benches, compare);
criterion_main!(benches);
