//! Readings that were pasted as columns, written as runs.

use super::{Action, ActionKind, Asked};
use crate::book::{Computed, RecordResults, SetupResults};
use crate::check;
use crate::ide::lines;
use crate::sheet::quote;
use crate::syntax::Kind;
use crate::text::{Edit, Span};
use crate::units::Unit;
use crate::vocabulary::readout::{self, AngleDisplay, StrobeShows};
use crate::vocabulary::run::CalibrationMasses;
use crate::vocabulary::{Choice, run, traverse, trial};

/// So many rows are taken at a time.
const MOST_ROWS: usize = 200;

pub(super) fn at(asked: &Asked<'_, '_>) -> Vec<Action> {
    found(asked).unwrap_or_default()
}

fn found(asked: &Asked<'_, '_>) -> Option<Vec<Action>> {
    let table = Table::around(asked)?;
    let around = asked.place.around()?;
    let computed = asked.computed()?;
    let setup = match computed {
        Computed::Record(record) => record.setup.as_deref()?,
        Computed::Setup(setup) => setup,
        _ => return None,
    };
    let read = Read::on(setup)?;
    let kind = around.last()?.kind;
    let indent = "  ".repeat(around.len());
    let (span, end) = (table.span, lines::line_end(&asked.place.source.text));
    let write = |what: String, unit: &str, written: Vec<String>| {
        let lines = written.iter().map(|line| format!("{indent}{line}").trim_end().to_owned());
        let text = lines.collect::<Vec<_>>().join(end);
        let title = format!("Write {} as {what}, in {unit}", counted(table.rows.len(), "row"));
        asked.action(ActionKind::QuickFix, title, vec![Edit::replace(span, text)])
    };
    let each = read.units.iter().flat_map(|unit| {
        let ways: Vec<(String, Vec<String>)> = match (kind, computed) {
            (Kind::Record, Computed::Record(record)) => {
                let ways = read.ways(&table.rows).into_iter();
                ways.map(|way| (way.words(), read.runs(&way, unit, setup, record))).collect()
            }
            (Kind::Run, _) => read.one_run(&table.rows, (Kind::Run, run::READING.words()), unit),
            (Kind::Trial, _) => read.one_run(&table.rows, (Kind::Trial, trial::READING.words()), unit),
            (Kind::Traverse, _) => vec![(traverse::READINGS.words().to_owned(), vec![in_a_row(&table.rows, unit)])],
            _ => Vec::new(),
        };
        ways.into_iter().map(|(what, written)| write(what, unit, written)).collect::<Vec<_>>()
    });
    Some(each.collect())
}

/// The rows of numbers around a line.
struct Table {
    rows: Vec<Vec<String>>,
    /// From the first letter of the first line to the end of the last, the indentation included.
    span: Span,
}

impl Table {
    fn around(asked: &Asked<'_, '_>) -> Option<Self> {
        let (text, tree) = (&asked.place.source.text, asked.place.tree);
        let row = |index: usize| numbers(tree.lines.get(index)?.span.of(text));
        row(asked.place.index)?;
        let mut first = asked.place.index;
        while first > 0 && asked.place.index - first < MOST_ROWS && row(first - 1).is_some() {
            first -= 1;
        }
        let rows: Vec<Vec<String>> = (first..).take(MOST_ROWS).map_while(row).collect();
        let last = &tree.lines[first + rows.len() - 1];
        let span = Span::new(tree.lines[first].span.start, last.span.start + trimmed_len(last.span.of(text)));
        // One number alone is a value that somebody is writing.
        let is_table = rows.len() > 1 || rows[0].len() > 1;
        is_table.then_some(Self { rows, span })
    }
}

fn trimmed_len(line: &str) -> u32 {
    line.trim_end().len() as u32
}

/// The numbers of a line that holds nothing else, separated by tabs, blanks, semicolons or commas.
fn numbers(line: &str) -> Option<Vec<String>> {
    let line = line.trim();
    // Between blanks a comma belongs to its number.
    let by_blanks: Vec<&str> = line.split([' ', '\t', ';']).filter(|cell| !cell.is_empty()).collect();
    let cells = match &by_blanks[..] {
        [one] => one.split(',').collect(),
        _ => by_blanks,
    };
    let number = |cell: &str| {
        let cell = cell.trim_end_matches(',').replace(',', ".");
        let digits = cell.chars().all(|letter| letter.is_ascii_digit() || letter == '.');
        (digits && cell.starts_with(|letter: char| letter.is_ascii_digit()) && cell.parse::<f64>().is_ok())
            .then_some(cell)
    };
    let numbers: Option<Vec<String>> = cells.into_iter().map(number).collect();
    numbers.filter(|numbers| !numbers.is_empty())
}

/// What readings of a setup are.
struct Read {
    channels: Vec<String>,
    has_angles: bool,
    /// The ways in which an amount can be meant: `div`, `mark on fine`.
    units: Vec<String>,
}

/// How rows make runs.
struct Way<'t> {
    /// For each run the amounts and angles of all channels.
    runs: Vec<Vec<&'t [String]>>,
    of: &'static str,
}

impl Way<'_> {
    /// `3 runs, amount and angle of each channel`
    fn words(&self) -> String {
        format!("{}, {}", counted(self.runs.len(), "run"), self.of)
    }
}

impl Read {
    fn on(setup: &SetupResults<'_>) -> Option<Self> {
        let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
        let angles = readout.and_then(|readout| readout.block.choice(readout::ANGLES));
        let strobe = readout.and_then(|readout| readout.block.choice(readout::STROBE_SHOWS));
        let by_clock = strobe == Some(StrobeShows::ClockPlaceOfMark);
        let mut channels: Vec<String> = setup.channels.iter().map(|(channel, _)| (*channel).to_owned()).collect();
        if let Some(machine) = setup.machine.as_ref().filter(|_| channels.is_empty()) {
            channels = machine.channels.iter().map(|channel| (*channel).to_owned()).collect();
        }
        let unit = readout.map_or(Unit::DIVISION, |readout| readout.unit);
        let scales = readout.into_iter().flat_map(|readout| &readout.scales);
        let on_scale = scales.map(|scale| format!("{} on {}", Unit::MARK, check::name_as_written(scale.name)));
        let units = std::iter::once(unit.to_string()).chain(on_scale).collect();
        let has_angles = matches!(angles, Some(AngleDisplay::Measured | AngleDisplay::ByStrobe)) && !by_clock;
        (!channels.is_empty()).then_some(Self { channels, has_angles, units })
    }

    /// Every way in which the rows can be meant.
    fn ways<'t>(&self, rows: &'t [Vec<String>]) -> Vec<Way<'t>> {
        let channels = self.channels.len();
        let all_have = |count: usize| rows.iter().all(|row| row.len() == count);
        let mut ways = Vec::new();
        if self.has_angles && all_have(2 * channels) {
            let runs = rows.iter().map(|row| row.chunks(2).collect()).collect();
            ways.push(Way { runs, of: "amount and angle of each channel" });
        }
        if self.has_angles && channels > 1 && all_have(2) && rows.len().is_multiple_of(channels) {
            let runs = rows.chunks(channels).map(|rows| rows.iter().map(Vec::as_slice).collect()).collect();
            ways.push(Way { runs, of: "a row for each channel" });
        }
        if all_have(channels) {
            let runs = rows.iter().map(|row| row.chunks(1).collect()).collect();
            ways.push(Way { runs, of: "amounts alone" });
        }
        ways
    }

    fn reading(&self, (kind, key): (Kind, &str), channel: &str, read: &[String], unit: &str) -> String {
        let head = format!("{key} {}", quote::after_key(kind, key, channel));
        match read {
            [amount, angle, ..] => format!("{head}: {amount} {unit} @ {angle} {}", Unit::DEGREE),
            [amount] => format!("{head}: {amount} {unit}"),
            [] => format!("{head}: ?"),
        }
    }

    /// The readings of a block that is one run.
    fn one_run(&self, rows: &[Vec<String>], fact: (Kind, &str), unit: &str) -> Vec<(String, Vec<String>)> {
        let whole = self.ways(rows).into_iter().filter(|way| way.runs.len() == 1);
        let written = whole.map(|way| {
            let read = self.channels.iter().zip(&way.runs[0]);
            let lines = read.map(|(channel, read)| self.reading(fact, channel, read, unit)).collect();
            (format!("readings, {}", way.of), lines)
        });
        written.collect()
    }

    fn runs(&self, way: &Way<'_>, unit: &str, setup: &SetupResults<'_>, record: &RecordResults<'_>) -> Vec<String> {
        let stand: Vec<&str> = record.block.inner(Kind::Run).map(|run| run.name_text()).collect();
        let has_masses = setup.block.inner(Kind::Calibrate).next().is_some();
        let mut names = free_names(&stand);
        let mut written = Vec::new();
        for read in &way.runs {
            if !written.is_empty() {
                written.push(String::new());
            }
            let name = names.next().unwrap_or_default();
            written.push(format!("{} {} {{", Kind::Run, quote::in_heading(&name)));
            written.push(format!("  {}: ?", run::SPEED));
            if has_masses {
                written.push(format!("  {}: {}", run::CALIBRATION_MASSES, CalibrationMasses::Off.words()));
            }
            let readings = self.channels.iter().zip(read);
            let fact = (Kind::Run, run::READING.words());
            written.extend(readings.map(|(channel, read)| format!("  {}", self.reading(fact, channel, read, unit))));
            written.push("}".to_owned());
        }
        written
    }
}

/// Names that no run has yet: `as found`, then numbers.
fn free_names<'a>(stand: &'a [&'a str]) -> impl Iterator<Item = String> + 'a {
    let numbered = (1..).map(|number: usize| format!("run {number}"));
    let names =
        std::iter::once("as found".to_owned()).filter(|_| stand.is_empty()).chain(numbered.skip(stand.len().max(1)));
    names.filter(|name| !stand.contains(&&**name))
}

/// The readings of places in turn, on one line.
fn in_a_row(rows: &[Vec<String>], unit: &str) -> String {
    let amounts = rows.iter().flatten().map(|amount| format!("{amount} {unit}"));
    format!("{}: {}", traverse::READINGS, amounts.collect::<Vec<_>>().join(", "))
}

fn counted(count: usize, one: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {one}s") }
}

#[cfg(test)]
mod tests {
    use super::super::actions;
    use super::numbers;
    use crate::book::Computing;
    use crate::check;
    use crate::ide::testing::{SETUP, SHOP, fixture};

    fn with_angles() -> String {
        SHOP.replace("    angles: none\n", "    angles: measured\n    angles count: with rotation\n")
    }

    /// What each action of columns writes, under its title.
    fn written(shop: &str, pasted: &str) -> Vec<(String, String)> {
        let text =
            format!("{shop}{SETUP}}}\n#! r.rotor\nrecord r {{\n  setup: \"wheel on the soft bench\"\n\n{pasted}}}\n");
        let fixture = fixture(&text);
        let computing = Computing::new(&fixture.book);
        let said = check::check_file(&computing, fixture.file, || true).unwrap();
        let all = actions(&computing, fixture.file, fixture.range, &said);
        let of_columns = all.into_iter().filter(|action| action.title.contains(" row"));
        of_columns.map(|action| (action.title, fixture.edited_files(&action.edits))).collect()
    }

    #[test]
    fn numbers_are_told_apart_by_what_separates_them() {
        let expected = Some(vec!["8.8".to_owned(), "310".to_owned()]);
        for line in ["8.8\t310", "  8.8 310", "8,8 310", "8.8, 310", "8.8,310", "8.8; 310", "8,8;310"] {
            assert_eq!(numbers(line), expected, "{line}");
        }
        for line in ["", "8.8 div", "reading: 3", "1.2.3 4", "# 3 4", "}"] {
            assert_eq!(numbers(line), None, "{line}");
        }
    }

    #[test]
    fn rows_of_amounts_and_angles_become_runs() {
        let found = written(&with_angles(), "8.8$0\t310\t17.4\t85\n0.1\t35\t0.2\t25\n");
        let titles: Vec<&str> = found.iter().map(|(title, _)| &**title).collect();
        assert_eq!(
            titles,
            [
                "Write 2 rows as 2 runs, amount and angle of each channel, in div",
                "Write 2 rows as 2 runs, amount and angle of each channel, in mark on fine"
            ]
        );
        let expected = "  run \"as found\" {\n    speed: ?\n    reading left: 8.8 div @ 310 deg\n    reading right: 17.4 div @ 85 deg\n  }\n\n  run \"run 2\" {\n    speed: ?\n    reading left: 0.1 div @ 35 deg\n    reading right: 0.2 div @ 25 deg\n  }\n}\n";
        assert!(found[0].1.ends_with(expected), "{}", found[0].1);
        assert!(found[1].1.contains("    reading left: 8.8 mark on fine @ 310 deg\n"), "{}", found[1].1);
    }

    #[test]
    fn two_columns_are_offered_in_both_ways_that_they_can_mean() {
        let found = written(&with_angles(), "8.8 310\n17.$04 85\n");
        let titles: Vec<&str> =
            found.iter().map(|(title, _)| &**title).filter(|title| title.ends_with("div")).collect();
        assert_eq!(
            titles,
            ["Write 2 rows as 1 run, a row for each channel, in div", "Write 2 rows as 2 runs, amounts alone, in div"]
        );
        // Without angles there is but one way.
        let found = written(SHOP, "8.8 3.1\n17.$04 8.5\n");
        assert!(found.iter().all(|(title, _)| title.contains("amounts alone")), "{found:?}");
    }

    #[test]
    fn readings_are_put_into_a_run_that_is_there() {
        let found = written(&with_angles(), "  run x {\n    8.8$0 310\n    17.4 85\n  }\n");
        assert_eq!(found[0].0, "Write 2 rows as readings, a row for each channel, in div");
        let expected = "  run x {\n    reading left: 8.8 div @ 310 deg\n    reading right: 17.4 div @ 85 deg\n  }\n";
        assert!(found[0].1.contains(expected), "{}", found[0].1);
        let found = written(SHOP, "  traverse hub {\n    3.1$0\n    2.8\n    3.4\n  }\n");
        assert!(found[0].1.contains("    readings: 3.1 div, 2.8 div, 3.4 div\n"), "{found:?}");
    }

    #[test]
    fn later_runs_go_on_with_the_numbers() {
        let stands = "  run \"as found\" {\n    reading left: 8 div\n  }\n\n1$0 2\n3 4\n";
        let found = written(SHOP, stands);
        assert!(found[0].1.contains("  run \"run 2\" {") && found[0].1.contains("  run \"run 3\" {"), "{}", found[0].1);
    }
}
