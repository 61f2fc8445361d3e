//! What results of the example book are known to, against drawing every fact of it at random (JCGM 101, from memory).

mod facts;
mod library;

use std::collections::BTreeMap;

use std::sync::Arc;

use facts::Uncertain;
use rotorbook::book::{BUILT_IN, Book, BuiltIn, Computing, Outcome, SourceFile};
use rotorbook::syntax::Kind;
use rotorbook::text::{Edit, apply};
use rotorbook::units::Typed;

use crate::shelf;

/// Numbers that look random; the same at every run.
pub struct Draw(u64);

impl Draw {
    pub fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// A number of a result with what it is known to; an angle in radians.
#[derive(Clone, Copy)]
struct One {
    value: f64,
    standard: f64,
    is_angle: bool,
}

fn numbers(book: &Book) -> BTreeMap<String, One> {
    let computing = Computing::without_explanations(book);
    let mut found = BTreeMap::new();
    for id in book.items() {
        let item = book.item(id);
        for entry in computing.item(id).entries() {
            let blocks: String = entry.path.blocks().map(|block| format!("{block} / ")).collect();
            let path = format!("{} {} / {blocks}{}", item.kind, item.name_text(), entry.name());
            let amount = |value, standard| One { value, standard, is_angle: false };
            match entry.outcome {
                Outcome::Amount { base, standard, .. } => {
                    found.insert(path, amount(base, standard));
                }
                Outcome::Vector { base, angle, standard, angle_standard, .. } => {
                    found.insert(format!("{path} @"), One { value: angle, standard: angle_standard, is_angle: true });
                    found.insert(path, amount(base, standard));
                }
                Outcome::Direction { angle, standard, .. } => {
                    found.insert(path, One { value: angle, standard, is_angle: true });
                }
                _ => {}
            }
        }
    }
    found
}

#[derive(Default, Clone, Copy)]
struct Sums {
    count: f64,
    sum: f64,
    squares: f64,
    /// Within the interval that is printed.
    inside: f64,
}

fn drawn(
    uncertain: &Uncertain<'_>,
    nominal: &BTreeMap<String, One>,
    draws: usize,
    seed: u64,
) -> BTreeMap<String, Sums> {
    let mut draw = Draw(seed);
    let mut sums: BTreeMap<String, Sums> = BTreeMap::new();
    for _ in 0..draws {
        let found = numbers(&uncertain.drawn(&mut draw));
        for (path, one) in nominal.iter().filter(|(_, one)| one.standard > 0.0) {
            let Some(other) = found.get(path) else { continue };
            let mut off = other.value - one.value;
            if one.is_angle {
                off = (off + std::f64::consts::PI).rem_euclid(std::f64::consts::TAU) - std::f64::consts::PI;
            }
            let sums = sums.entry(path.clone()).or_default();
            sums.count += 1.0;
            sums.sum += off;
            sums.squares += off * off;
            sums.inside += f64::from(u8::from(off.abs() <= 2.0 * one.standard * (1.0 + 1e-9)));
        }
    }
    sums
}

/// How much is held of a result.
#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Held {
    /// Standard uncertainty and interval.
    Whole,
    /// That the interval covers what is drawn: it is drawn unevenly, or says more than is drawn.
    Cover,
    /// Nothing: it is not what is drawn.
    Nothing,
}

/// Results that are not held whole, each with its reason.
const OTHERWISE: &[(&str, Held, &str)] = &[
    ("likeness of planes", Held::Cover, "a product of two amounts, which are never below nothing"),
    ("reduction", Held::Cover, "what is left is next to nothing, and an amount is never below nothing"),
    (
        "one division",
        Held::Nothing,
        "where no reading is stated it is what the sheet says to set, and stays so whatever the tolerance is",
    ),
    (
        "reading at tolerance",
        Held::Cover,
        "a mass that is solved for goes by the reading that is drawn; how well the needle is set to it is not drawn",
    ),
    ("pre-balance unbalance", Held::Nothing, "so many of those divisions"),
    ("full scale is", Held::Nothing, "so many of those divisions"),
    (
        "residual by extremes",
        Held::Nothing,
        "the largest and the smallest of noisy readings lie farther apart than those without noise",
    ),
    ("correction for parts", Held::Cover, "fits and faces put in what they may at an angle that is not drawn"),
    ("unbalance of parts", Held::Cover, "fits and faces put in what they may at an angle that is not drawn"),
    ("unbalance as clocked", Held::Cover, "fits and faces put in what they may at an angle that is not drawn"),
];

/// The amount of a vector that is not so many times as long as its standard uncertainty is spread unevenly, as it is never
/// below nothing; so is what follows from it.
const LONG: f64 = 8.0;

/// The rotor's own residual at calibration, at an angle that nobody knows, counts and is not drawn; here it is much of all.
const BY_RESIDUAL: &str = " blower coupling half 41";

fn held(path: &str, nominal: &BTreeMap<String, One>) -> Held {
    let name = path.rsplit(" / ").next().unwrap_or(path);
    if let Some((.., held, _)) = OTHERWISE.iter().find(|(other, ..)| name.starts_with(other)) {
        return *held;
    }
    let amount = &nominal[path.strip_suffix(" @").unwrap_or(path)];
    let of_vector = ["times tolerance", "interference", "measured", "left after a step"];
    let is_of_vector = path.ends_with(" @") || nominal.contains_key(&format!("{path} @"));
    let is_short = is_of_vector || of_vector.iter().any(|one| name.starts_with(one));
    let is_uneven = is_short && amount.value < LONG * amount.standard;
    if is_uneven || path.contains(BY_RESIDUAL) { Held::Cover } else { Held::Whole }
}

/// Without what a proof has kept, which would stay while the facts beside it are drawn, and with the metals that the program
/// knows as materials of the book, so that they are drawn too.
fn to_be_drawn() -> Book {
    let (_, book) = shelf::books().swap_remove(0);
    let mut files: Vec<Arc<SourceFile>> = Vec::new();
    for (_, file) in book.files() {
        let proofs = file.sheet.items.iter().flat_map(|item| item.inner(Kind::Proof));
        let kept = proofs.flat_map(|proof| proof.inner(Kind::ProvenWith));
        let edits: Vec<Edit> = kept.map(|block| Edit::delete(block.span)).collect();
        files.push(Arc::new(SourceFile::read(&*file.path, apply(&file.text, &edits).unwrap())));
    }
    let metal = |metal: &BuiltIn| {
        let density = metal.value().base();
        format!("material \"{}\" {{\n  density: {density} kg/m³ ± {} kg/m³\n}}\n", metal.name, metal.spread)
    };
    let not_there = |metal: &&BuiltIn| book.named(Kind::Material, metal.name).is_empty();
    let metals: String = BUILT_IN.iter().filter(not_there).map(metal).collect();
    files.push(Arc::new(SourceFile::read("metals.rotor", metals)));
    Book::new(files)
}

fn hold(draws: usize) {
    let book = to_be_drawn();
    let uncertain = Uncertain::of(&book);
    assert!(uncertain.count() > 100);
    let nominal = numbers(&book);
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    let all: Vec<BTreeMap<String, Sums>> = std::thread::scope(|scope| {
        let (uncertain, nominal) = (&uncertain, &nominal);
        let one = |n: usize| scope.spawn(move || drawn(uncertain, nominal, draws / threads, 20_261_129 + n as u64));
        let handles: Vec<_> = (0..threads).map(one).collect();
        handles.into_iter().map(|handle| handle.join().unwrap()).collect()
    });
    let mut total: BTreeMap<String, Sums> = BTreeMap::new();
    for (path, sums) in all.into_iter().flatten() {
        let into = total.entry(path).or_default();
        into.count += sums.count;
        into.sum += sums.sum;
        into.squares += sums.squares;
        into.inside += sums.inside;
    }
    let mut wrong = Vec::new();
    let mut counts = [0; 3];
    for (path, sums) in &total {
        let held = held(path, &nominal);
        counts[held as usize] += 1;
        let one = nominal[path];
        let mean = sums.sum / sums.count;
        let standard = (sums.squares / sums.count - mean * mean).max(0.0).sqrt();
        let ratio = one.standard / standard;
        let covered = sums.inside / sums.count;
        // A standard deviation is itself drawn; so is a share. Of a thousand numbers one may be four and a half of its own off.
        let (by_chance, of_share) = (4.5 / (2.0 * sums.count).sqrt(), 4.5 * (0.05 * 0.95 / sums.count).sqrt());
        let is_off = (ratio - 1.0).abs() > 0.1 + by_chance && held == Held::Whole;
        let is_uncovered = covered < 0.95 - of_share && held != Held::Nothing;
        if is_off || is_uncovered {
            wrong.push(format!(
                "{path}: {:.3e} ± {:.3e}, drawn {ratio:.3}, covered {covered:.3}, of {}",
                one.value, one.standard, sums.count
            ));
        }
    }
    let [whole, covered, none] = counts;
    let facts = uncertain.count();
    println!("{whole} numbers of {facts} uncertain facts are held whole, {covered} are covered, {none} are not held");
    assert!(wrong.is_empty(), "{} of {}\n{}", wrong.len(), total.len(), wrong.join("\n"));
}

#[test]
fn uncertainties_are_those_of_drawing_at_random() {
    hold(60);
}

/// `cargo test --release --test evidence drawn -- --ignored --nocapture`
#[test]
#[ignore = "many draws"]
fn uncertainties_are_those_of_drawing_many_times() {
    hold(20_000);
}
