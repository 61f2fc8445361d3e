//! `new`: a starting sheet.

mod fact;
mod nearest;
mod table;

use std::path::PathBuf;
use std::sync::Arc;

use clap::Args;

use super::find::ItemKind;
use super::{Exit, Failure, Outcome, Session, load, paths, write};
use crate::book::{Book, SourceFile};
use crate::check::{self, Severity};
use crate::starting::{self, Context, Start};
use crate::syntax::Kind;
use crate::vocabulary::ValueType;
use fact::{FactAt, fact_at};

/// Write a starting sheet for a rotor, a setup or any other item
///
/// It holds the required facts, the usual ones as examples to replace, and lists the rest
/// in comments. In a book, a setup starts with the first rotor and machine of the book.
#[derive(Args)]
#[command(after_help = "Examples:\n  rotorbook new rotor --name \"fan wheel 315\" -o rotors/fan-wheel-315.rotor\n  \
    rotorbook new setup --for \"fan wheel 400\" -o setup.rotor\n  \
    rotorbook new setup --set 'rotor=fan wheel 315' --set 'balancing speed=1150 rpm'\n  \
    rotorbook new setup --from-csv old.csv --column name=Sheet --column 'balancing speed=n [rpm]' -o setups")]
pub(super) struct NewArguments {
    /// What to write
    #[arg(value_enum, value_name = "KIND")]
    kind: ItemKind,

    /// The name of the item
    #[arg(long)]
    name: Option<String>,

    /// A fact of the item or of a block in it, as it is in a sheet with `=` for the colon: `balancing speed=900 rpm`,
    /// `calibrate hub / mass=3.00 g`. With --from-csv it holds in every row. May be given several times
    #[arg(long, value_name = "FACT=VALUE", value_parser = fact_and_value)]
    set: Vec<(String, String)>,

    /// Of a setup: the rotor that it is for; it begins from the nearest sheet that is proven, and says what differs
    #[arg(long = "for", value_name = "ROTOR", conflicts_with_all = ["set", "from_csv"])]
    rotor: Option<String>,

    /// The file to write, or with --from-csv a folder for a file a row; what is there already is not replaced
    #[arg(short, long, value_name = "FILE")]
    output: Option<PathBuf>,

    /// A table in CSV with a header line: one sheet for each row, each fact with the row it came from
    #[arg(long, value_name = "FILE", conflicts_with = "name", help_heading = "Options for tables")]
    from_csv: Option<PathBuf>,

    /// The column that holds a fact: `balancing speed=n [rpm]`, `calibrate hub / mass=m hub`, `name=Sheet`
    #[arg(long, value_name = "FACT=HEADER", value_parser = fact_and_value, requires = "from_csv", help_heading = "Options for tables")]
    column: Vec<(String, String)>,

    /// The unit of a column whose header names none: `balancing speed=rpm`
    #[arg(long, value_name = "FACT=UNIT", value_parser = fact_and_value, requires = "from_csv", help_heading = "Options for tables")]
    unit: Vec<(String, String)>,

    /// Numbers of the table have a decimal comma. Without it or --decimal-point, the numbers of each column tell; one
    /// that may be read in two ways, as 1.150, is left open
    #[arg(long, requires = "from_csv", conflicts_with = "decimal_point", help_heading = "Options for tables")]
    decimal_comma: bool,

    /// Numbers of the table have a decimal point
    #[arg(long, requires = "from_csv", help_heading = "Options for tables")]
    decimal_point: bool,
}

fn fact_and_value(text: &str) -> Result<(String, String), String> {
    let (fact, value) = text.split_once('=').ok_or("write it as `fact=value`")?;
    let (fact, value) = (fact.trim(), value.trim());
    if fact.is_empty() || value.is_empty() || text.contains(['\n', '\r']) {
        return Err("write it as `fact=value`, on one line".to_owned());
    }
    Ok((fact.split_whitespace().collect::<Vec<_>>().join(" "), value.to_owned()))
}

pub(super) fn run(session: &mut Session, arguments: &NewArguments) -> Outcome {
    let kind = arguments.kind.0;
    // A sheet can be begun where there is no book yet.
    let loaded = paths::book_around(session.book.as_deref())?.map(|target| load::load(&target));
    if let Some(table) = &arguments.from_csv {
        let asked = table::Asked {
            kind,
            table,
            columns: &arguments.column,
            units: &arguments.unit,
            set: &arguments.set,
            decimals: match (arguments.decimal_comma, arguments.decimal_point) {
                (true, _) => Some(table::Mark::Comma),
                (_, true) => Some(table::Mark::Point),
                _ => None,
            },
            output: arguments.output.as_deref(),
        };
        let names = loaded.iter().flat_map(|loaded| loaded.book.names_of(kind)).map(|(name, _)| name.to_owned());
        return table::run(session, &asked, names.collect());
    }
    if let Some(rotor) = &arguments.rotor {
        return nearest::run(session, arguments, loaded.as_ref(), rotor);
    }
    let context = Context {
        book: loaded.as_ref().map(|loaded| &loaded.book),
        stated: &arguments.set,
        takes_first: true,
        ..Context::default()
    };
    let name = arguments.name.clone().unwrap_or_else(|| format!("new {kind}"));
    let mut draft = Start::Item(kind).draft(&name, &context);
    for (fact, value) in &arguments.set {
        let fact = fact_at(kind, fact)?;
        let value = stated(&fact, value);
        draft.at(&fact.path).set(&fact.head, value);
    }
    let text = read_back(kind, &name, draft.complete().text())?;
    written(session, arguments, &text)?;
    Ok(Exit::Clean)
}

/// Prints a sheet, or creates the file that was asked for.
fn written(session: &mut Session, arguments: &NewArguments, text: &str) -> Result<(), Failure> {
    match &arguments.output {
        None => session.terminal.print(text),
        Some(path) => {
            write::create(path, text)
                .map_err(|why| Failure::new(format!("`{}` cannot be written: {why}", path.display())))?;
            session.terminal.say(&format!("{} written", path.display()));
        }
    }
    Ok(())
}

/// A starting sheet with nothing but its name stated.
pub(super) fn starting_sheet(kind: Kind, name: &str) -> Result<String, Failure> {
    let context = Context { takes_first: true, ..Context::default() };
    let text = Start::Item(kind).draft(name, &context).complete().text();
    read_back(kind, name, text)
}

/// The text, once it reads as the one item that was meant, and every line of it as something.
fn read_back(kind: Kind, name: &str, text: String) -> Result<String, Failure> {
    if let Some(fault) = check::fault_of_name(name) {
        return Err(Failure::new(fault));
    }
    let source = SourceFile::read("new.rotor", text.as_str());
    let is_it = matches!(&*source.sheet.items, [item] if item.kind == kind && item.name_text() == name);
    if is_it && source.errors.is_empty() && source.sheet.problems.is_empty() {
        return Ok(text);
    }
    let said = check::check(&Book::new(vec![Arc::new(source)])).into_iter();
    let said = said.into_iter().find(|said| said.severity == Severity::Error && said.rule.code != "unknown-name");
    let failure = Failure::new(match &said {
        Some(said) => format!("the sheet would not be read as it is meant: {}", said.message),
        None => "the sheet would not be read as it is meant".to_owned(),
    });
    Err(match said.and_then(|said| said.help) {
        Some(help) => failure.help(help),
        None => failure,
    })
}

/// The value as a sheet states it: texts and names in quotes.
fn stated(fact: &FactAt, value: &str) -> String {
    match fact.key.value {
        ValueType::Text | ValueType::Reference(_) => starting::given_text(value),
        ValueType::Name(_) => starting::given_name(value),
        _ => value.to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use clap::ValueEnum;

    use super::*;

    fn sheet(kind: Kind, book: Option<&Book>) -> String {
        let context = Context { book, takes_first: true, ..Context::default() };
        Start::Item(kind).draft(&format!("new {kind}"), &context).complete().text()
    }

    fn book(texts: &[(Kind, String)]) -> Book {
        let path = |kind: &Kind| if *kind == Kind::Shop { "book.rotor".to_owned() } else { format!("{kind}.rotor") };
        Book::new(texts.iter().map(|(kind, text)| Arc::new(SourceFile::read(path(kind), &**text))).collect())
    }

    #[test]
    fn starting_sheets_of_all_kinds_make_a_book_without_errors() {
        let kinds = ItemKind::value_variants().iter().map(|kind| kind.0);
        let texts: Vec<(Kind, String)> = kinds.map(|kind| (kind, sheet(kind, None))).collect();
        let found = check::check(&book(&texts));
        let errors: Vec<_> = found.iter().filter(|found| found.severity == Severity::Error).collect();
        assert!(errors.is_empty(), "{errors:#?}");
    }

    #[test]
    fn starting_sheets_are_laid_out() {
        for kind in ItemKind::value_variants() {
            let text = sheet(kind.0, None);
            assert_eq!(crate::format::format(&text).unwrap(), text);
        }
    }

    #[test]
    fn what_is_proposed_can_be_taken() {
        let taken = |line: &str| match line.trim_start().strip_prefix("# ") {
            None => format!("{line}\n"),
            Some(proposed) => match proposed.split_once(':') {
                Some((head, _)) => format!("{head}: ?\n"),
                None => format!("{proposed}\n"),
            },
        };
        for kind in ItemKind::value_variants() {
            let text: String = sheet(kind.0, None).lines().map(taken).collect();
            let source = SourceFile::read("new.rotor", text.as_str());
            assert!(
                source.errors.is_empty() && source.sheet.problems.is_empty(),
                "{:?}\n{text}",
                source.sheet.problems
            );
        }
        let machine = sheet(Kind::Machine, None);
        for proposed in
            ["# balance error drive {", "# tested: ", "# scatter: ", "# minimum achievable residual unbalance: "]
        {
            assert!(machine.contains(proposed), "{proposed}: {machine}");
        }
    }

    #[test]
    fn limits_on_channels_are_proposed_for_work_in_place() {
        let machine = |supports: &str| {
            (Kind::Machine, format!("machine \"m\" {{\n  supports: {supports}\n  channels: \"drive end\"\n}}\n"))
        };
        let setup = |supports| sheet(Kind::Setup, Some(&book(&[machine(supports)])));
        assert!(setup("in place").contains("# vibration limit \"drive end\": "));
        assert!(!setup("hard").contains("vibration limit"));
        // Nothing is calibrated there: trial runs are begun, and `check` wants no reading at tolerance.
        assert!(setup("in place").contains("  trial \"as found\" {") && setup("soft").contains("  calibrate "));
        // A machine with hard supports is set by dimensions.
        assert!(
            setup("hard").contains("  supports at: ?") && !setup("hard").contains("  calibrate "),
            "{}",
            setup("hard")
        );
        for meaningless in ["calibrate", "tolerance reads"] {
            assert!(!setup("in place").contains(meaningless), "{meaningless}");
        }
    }

    #[test]
    fn a_setup_takes_the_names_of_the_book() {
        let rotor = (Kind::Rotor, "rotor \"fan\" {\n  plane hub {\n  }\n  plane rim {\n  }\n}\n".to_owned());
        let machine = (Kind::Machine, "machine \"bench\" {\n  channels: left, \"right pick-up\"\n}\n".to_owned());
        let text = sheet(Kind::Setup, Some(&book(&[rotor, machine])));
        for line in ["rotor: \"fan\"", "channel left: hub", "channel \"right pick-up\": rim", "calibrate rim {"] {
            assert!(text.contains(line), "{line}: {text}");
        }
        assert!(!text.contains("settings"), "the machine has no controls: {text}");
    }
}
