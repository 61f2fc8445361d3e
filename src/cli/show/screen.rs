//! An item on one screen: what it is, a line a plane, what is not computed and why, and what a check says of it.

use crate::book::{self, Book, Computed, Computing, Entry, ItemId, Outcome, PlaneResults, RecordResults, SetupResults};
use crate::book::{RotorResults, Val};
use crate::card;
use crate::check::{self, Diagnostic, Severity};
use crate::cli::layout::{WIDTH, columns, hanging, width};
use crate::cli::report::counted;
use crate::cli::terminal::{Terminal, harmless};
use crate::syntax::Kind;
use crate::units::{Amount, Angle, Typed, plainly};
use crate::vocabulary::{
    AnyFact, Choice, Of, ResultSpec, calibrate, extra_mass, plane, record, result, rotor, setup, tolerance,
};

/// So many findings and reasons are told; the rest is counted.
const TOLD: usize = 5;

/// `false` for an item that has facts alone.
pub(super) fn write(terminal: &mut Terminal, computing: &Computing<'_>, id: ItemId, place: &str) -> bool {
    let book = computing.book();
    let computed = computing.item(id);
    let screen = Screen { book, entries: computed.entries(), block: computed.effective() };
    let lines = match &computed {
        Computed::Setup(setup) => screen.setup(setup),
        Computed::Rotor(rotor) => screen.rotor(rotor),
        Computed::Record(record) => screen.record(record),
        Computed::Facts(_) => return false,
    };
    let item = book.item(id);
    let paint = terminal.paint;
    let heading = harmless(&format!("{} \"{}\"", item.kind, item.name_text()));
    let place = harmless(place);
    let gap = if width(&heading) + 2 + width(&place) > WIDTH { "\n  " } else { "  " };
    terminal.line(&format!("{}{gap}{}", paint.bold(&heading), paint.dim(&place)));
    let found = said(item.kind, &check::check_item(computing, id));
    for line in lines.iter().chain(&screen.not_computed()).chain(&found).chain(&said_of_others(computing, &computed)) {
        terminal.line(harmless(line).trim_end());
    }
    terminal.line("");
    terminal.line(&paint.dim("`show NAME RESULT` has the formula and budget of one result, `show NAME --all` of all"));
    true
}

const READ_AT_MOST: &str = "read at most";
const RESIDUAL_AT_MOST: &str = "residual at most";

/// The result that a column of the screen has, by the head of the column.
pub(super) fn under_head(head: &str) -> Option<&'static ResultSpec> {
    match head {
        "to read" => Some(&result::READING),
        "1 div is" => Some(&result::ONE_DIVISION_AS_MASS),
        READ_AT_MOST | RESIDUAL_AT_MOST => Some(&result::LIMIT_TO_READ),
        _ => None,
    }
}

struct Screen<'s, 'b> {
    book: &'b Book,
    entries: &'s [Entry],
    block: &'s book::EffectiveBlock<'b>,
}

impl<'s, 'b> Screen<'s, 'b> {
    fn setup(&self, setup: &SetupResults<'b>) -> Vec<String> {
        let name =
            |kind: Kind, id: Option<ItemId>| id.map(|id| format!("{kind} \"{}\"", self.book.item(id).name_text()));
        let rotor = setup.rotor.as_deref();
        let what = [
            name(Kind::Rotor, rotor.map(|rotor| rotor.id)),
            rotor.map(|rotor| plain(&rotor.mass)),
            name(Kind::Machine, setup.machine.as_ref().map(|machine| machine.id)),
            self.fact(setup::BALANCING_SPEED.any()),
        ];
        let status = setup.block.choice(setup::STATUS).map_or(setup::Status::Draft.words(), |status| status.words());
        let revision = self.fact(setup::REVISION.any()).map(|revision| format!("revision {revision}"));
        let proven = setup.proof_in_words(self.book.rules());
        let holds = self.entry(&result::CALIBRATION_HOLDS, None).filter(|_| !setup.is_on_stand());
        let holds = holds.map(|entry| format!("calibration {}", self.text(entry)));
        let state = [Some(status.to_owned()), revision, Some(proven), holds.clone()];
        let mut lines = match facts(state.clone()) {
            short if width(&short) <= WIDTH => vec![facts(what), short],
            _ => vec![
                facts(what),
                facts(state.map(|part| part.filter(|part| Some(part) != holds.as_ref()))),
                facts([holds]),
            ],
        };
        lines.push(String::new());
        // Where channels together tell the planes, no readout shows what may be left.
        let readout = setup.machine.as_ref().and_then(|machine| machine.readout.as_ref());
        let is_read = |entry: &&Entry| match entry.outcome {
            Outcome::Amount { unit, .. } => readout.is_some_and(|one| one.unit.dimension() == unit.dimension()),
            _ => true,
        };
        let most = match self.entries.iter().filter(|entry| entry.is(&result::LIMIT_TO_READ)).all(|one| is_read(&one)) {
            true => READ_AT_MOST,
            false => RESIDUAL_AT_MOST,
        };
        let heads = ["plane", "tolerance", "put on", "to read", "1 div is", "or", most];
        let planes: Vec<&str> = setup.calibrations.iter().map(|one| one.plane).collect();
        lines.extend(table(&heads, planes.iter().map(|plane| self.plane_of_setup(setup, plane)).collect()));
        let called_for = self.entries.iter().filter(|entry| entry.is(&result::CALLED_FOR));
        let by_trials: Vec<Vec<String>> = called_for
            .filter_map(|entry| {
                let plane = entry.of.as_ref().and_then(Of::plane)?;
                let found = self.entry(&result::UNBALANCE_FOUND, Some(plane)).and_then(at_angle);
                Some(vec![plane.to_owned(), found.unwrap_or_default(), at_angle(entry)?])
            })
            .collect();
        if !by_trials.is_empty() {
            lines.push(String::new());
            lines.extend(table(&["by trial runs", "found", "correct"], by_trials));
        }
        lines
    }

    fn plane_of_setup(&self, setup: &SetupResults<'b>, plane: &str) -> Vec<String> {
        let calibrate = book::Step::named(Kind::Calibrate, plane);
        let of = |spec: &'static ResultSpec| {
            let own = |entry: &&Entry| entry.is(spec) && entry.path.steps().contains(&calibrate);
            self.entries.iter().find(own)
        };
        let bare = |spec: &'static ResultSpec| of(spec).and_then(|entry| self.bare(entry));
        let calibrated = setup.calibrations.iter().find(|one| one.plane == plane).and_then(|one| one.block.as_ref());
        let own = |fact: AnyFact| calibrated.and_then(|block| self.written(block, fact));
        let result = setup.calibrations.iter().find(|one| one.plane == plane);
        let mass = result.filter(|one| one.mass.is_known()).map(|one| to_the_hundredth(&one.mass));
        let radius = result.filter(|one| one.radius.is_known()).map(|one| to_the_hundredth(&one.radius));
        let put_on = [mass, radius];
        let put_on: Vec<String> = put_on.into_iter().flatten().collect();
        let tolerance =
            setup.rotor.as_deref().and_then(|rotor| rotor.plane(plane)).map(|plane| plain(&plane.tolerance));
        // Sliding weights are pieces too, and are turned, not counted.
        let cut = [
            (&result::ONE_DIVISION_AS_DEPTH, ""),
            (&result::ONE_DIVISION_AS_SPREAD, " apart"),
            (&result::ONE_DIVISION_AS_PIECES, " pieces"),
        ];
        let cut = cut.into_iter().find_map(|(spec, unit)| Some(bare(spec)? + unit));
        let channel =
            setup.channels.iter().find(|(_, reads)| *reads == plane).map(|(channel, _)| (*channel).to_owned());
        let limit = self.entry(&result::LIMIT_TO_READ, Some(plane)).and_then(|entry| self.bare(entry));
        let reading = of(&result::READING).filter(|entry| !is_missing(entry)).map(|entry| self.with_spread(entry));
        let name = channel.map_or_else(|| plane.to_owned(), |channel| format!("{plane}, on {channel}"));
        let cells = [
            Some(name),
            tolerance,
            (!put_on.is_empty()).then(|| put_on.join(" at ")),
            reading.or_else(|| own(calibrate::READING.any())),
            bare(&result::ONE_DIVISION_AS_MASS),
            cut,
            limit,
        ];
        cells.map(|cell| cell.unwrap_or_else(|| "–".to_owned())).to_vec()
    }

    fn rotor(&self, rotor: &RotorResults<'b>) -> Vec<String> {
        let what = [
            Some(plain(&rotor.mass)),
            self.fact(rotor::HIGHEST_SERVICE_SPEED.any()).map(|speed| format!("service up to {speed}")),
            self.fact(rotor::HIGHEST_SAFE_SPEED.any()).map(|speed| format!("never above {speed}")),
            self.fact(rotor::DRAWING.any()).map(|drawing| format!("drawing {drawing}")),
        ];
        let block = rotor.tolerance_block();
        let own = |fact: AnyFact| block.and_then(|block| self.written(block, fact));
        let permissible = self.entry(&result::PERMISSIBLE, None).and_then(|entry| self.bare(entry));
        let limits = [
            permissible.map(|permissible| format!("permissible {permissible}")),
            own(tolerance::GRADE.any()),
            own(tolerance::SOURCE.any()),
        ];
        let mut lines = vec![facts(what), facts(limits), String::new()];
        let heads = ["plane", "at", "radius", "correct", "by", "tolerance", "most it gives"];
        let row = |plane: &PlaneResults<'b>| {
            let own = |fact: AnyFact| self.written(&plane.block, fact).unwrap_or_else(|| "–".to_owned());
            vec![
                plane.name.to_owned(),
                own(plane::AT.any()),
                plain(&plane.radius),
                own(plane::CORRECT.any()),
                own(plane::METHOD.any()),
                plain(&plane.tolerance),
                plane.greatest.as_ref().map_or_else(|| "–".to_owned(), plain),
            ]
        };
        lines.extend(table(&heads, rotor.planes.iter().map(row).collect()));
        let extra = |mass: &book::EffectiveBlock<'b>| {
            let on = mass.choice(extra_mass::ON).map_or("not said when", Choice::words);
            let facts =
                [extra_mass::MASS.any(), extra_mass::RADIUS.any(), extra_mass::ANGLE.any(), extra_mass::AT.any()];
            let facts = facts.map(|fact| self.written(mass, fact).unwrap_or_else(|| "–".to_owned()));
            [mass.name_text().to_owned()].into_iter().chain(facts).chain([on.to_owned()]).collect()
        };
        let extra: Vec<Vec<String>> = rotor.block.inner(Kind::ExtraMass).map(extra).collect();
        if !extra.is_empty() {
            lines.push(String::new());
            lines.extend(table(&["extra mass", "mass", "radius", "angle", "at", "on"], extra));
        }
        let setups = self.book.users().setups(rotor.id);
        let names =
            setups.into_iter().map(|setup| vec![format!("set up by \"{}\"", self.book.item(setup).name_text())]);
        lines.extend(
            std::iter::once(String::new()).chain(columns(&names.collect::<Vec<_>>()).into_iter().map(indented)),
        );
        lines
    }

    fn record(&self, record: &RecordResults<'b>) -> Vec<String> {
        let word = record.verdict.as_ref().map_or("no verdict", |verdict| book::word_of(verdict.verdict));
        let by = record.binding.as_ref().map(|binding| format!("judged by {}", binding.by.words()));
        let what = [
            Some(word.to_uppercase()),
            self.fact(record::SERIAL.any()).map(|serial| format!("serial number {serial}")),
            self.fact(record::DATE.any()),
            by,
        ];
        let setup = record.setup.as_deref().map(|setup| self.book.item(setup.id).name_text());
        let setup = setup.map(|setup| format!("setup \"{setup}\""));
        let own = card::record_on_a_screen(self.book, record);
        [facts(what), facts([setup]), String::new()].into_iter().chain(own).collect()
    }

    /// What is not computed, each reason once.
    fn not_computed(&self) -> Vec<String> {
        let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
        for entry in self.entries {
            let Outcome::Missing(missing) = &entry.outcome else { continue };
            let why = book::why(self.book, missing);
            match reasons.iter_mut().find(|(other, _)| *other == why) {
                Some((_, names)) if !names.contains(&entry.name().into_owned()) => {
                    names.push(entry.name().into_owned())
                }
                Some(_) => {}
                None => reasons.push((why, vec![entry.name().into_owned()])),
            }
        }
        let mut lines = Vec::new();
        for (why, names) in reasons.iter().take(TOLD) {
            let others = names.len().saturating_sub(3);
            let names = names[..names.len().min(3)].join(", ");
            let more = if others > 0 { format!(" and {others} more") } else { String::new() };
            lines.push(String::new());
            lines.extend(lines_of(&hanging("  not computed: ", &format!("{names}{more}: {why}"), WIDTH)));
        }
        if reasons.len() > TOLD {
            lines.push(format!("  and {} more reasons", reasons.len() - TOLD));
        }
        lines
    }

    fn entry(&self, spec: &'static ResultSpec, plane: Option<&str>) -> Option<&'s Entry> {
        let own = |entry: &&Entry| {
            entry.is(spec)
                && (plane.is_none() || entry.of.as_ref().and_then(Of::plane).is_none_or(|of| Some(of) == plane))
        };
        self.entries.iter().find(own)
    }

    fn text(&self, entry: &Entry) -> String {
        book::text_of(self.book, entry)
    }

    /// Without what it is known to; `None` where it is not computed.
    fn bare(&self, entry: &Entry) -> Option<String> {
        (!is_missing(entry)).then(|| book::printed(self.book, entry).without_uncertainties().to_string())
    }

    /// `8.60 ± 0.06 div`
    fn with_spread(&self, entry: &Entry) -> String {
        let printed = book::printed(self.book, entry);
        let text = printed.without_uncertainties().to_string();
        match (text.split_once(' '), printed.uncertainties().first()) {
            (Some((number, unit)), Some(spread)) => {
                format!("{number} ± {} {unit}", spread.trim_end_matches(unit).trim_end())
            }
            _ => text,
        }
    }

    fn fact(&self, fact: AnyFact) -> Option<String> {
        self.written(self.block, fact)
    }

    fn written(&self, block: &book::EffectiveBlock<'b>, fact: AnyFact) -> Option<String> {
        let field = block.fields.iter().find(|field| field.key.name == fact.words() && !field.field.value.is_hole())?;
        let text = field.field.value_span.of(&self.book.file(field.item.file).text);
        Some(text.trim_matches('"').to_owned())
    }
}

/// `4.01 g at 205 deg, to remove, at the heavy spot`
fn at_angle(entry: &Entry) -> Option<String> {
    let Outcome::Vector { base, angle, unit, meaning, .. } = entry.outcome else { return None };
    let turn = Angle::from_base(angle).to_whole_degree().in_degrees();
    Some(format!("{} at {turn:.0} deg, {}", book::display_value(base, unit, 0.0), meaning.words()))
}

fn is_missing(entry: &Entry) -> bool {
    matches!(entry.outcome, Outcome::Missing(_))
}

fn plain<T: Amount>(value: &Val<T>) -> String {
    value.get().map_or_else(|| "–".to_owned(), |amount| book::display_value(amount.raw(), value.unit, 0.0))
}

/// As it is put on: no more is weighed or measured at the bench.
fn to_the_hundredth<T: Amount>(value: &Val<T>) -> String {
    let hundredths = |amount: T| (value.unit.from_base(amount.raw()) * 100.0).round() / 100.0;
    value.get().map_or_else(|| "–".to_owned(), |amount| format!("{} {}", plainly(hundredths(amount)), value.unit))
}

/// What is said of facts one after another.
fn facts<const N: usize>(parts: [Option<String>; N]) -> String {
    format!("  {}", parts.into_iter().flatten().collect::<Vec<_>>().join("; "))
}

fn indented(line: String) -> String {
    format!("  {line}")
}

fn lines_of(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

/// Rows in columns without those that nothing is in; a row a paragraph where they are too wide.
fn table(heads: &[&str], rows: Vec<Vec<String>>) -> Vec<String> {
    let wanted: Vec<usize> = (0..heads.len()).filter(|n| rows.iter().any(|row| row[*n] != "–")).collect();
    let heads: Vec<String> = wanted.iter().map(|n| heads[*n].to_owned()).collect();
    let rows: Vec<Vec<String>> = rows.iter().map(|row| wanted.iter().map(|n| row[*n].clone()).collect()).collect();
    let all: Vec<Vec<String>> = std::iter::once(heads.clone()).chain(rows.iter().cloned()).collect();
    let lines = columns(&all);
    if lines.iter().all(|line| width(line) + 2 <= WIDTH) {
        return lines.into_iter().map(indented).collect();
    }
    let paragraph = |row: &Vec<String>| {
        let cells = heads.iter().zip(row).skip(1).filter(|(_, cell)| *cell != "–");
        let cells: Vec<String> = cells.map(|(head, cell)| format!("{head} {cell}")).collect();
        lines_of(&hanging(&format!("  {} {}: ", heads[0], row[0]), &cells.join("; "), WIDTH))
    };
    rows.iter().flat_map(paragraph).collect()
}

/// What an item rests on is checked apart; where something is wrong there, it says which and how much.
fn said_of_others(computing: &Computing<'_>, computed: &Computed<'_>) -> Vec<String> {
    let setup = match computed {
        Computed::Setup(setup) => Some(&**setup),
        Computed::Record(record) => record.setup.as_deref(),
        Computed::Rotor(_) | Computed::Facts(_) => None,
    };
    let Some(setup) = setup else { return Vec::new() };
    let own_setup = matches!(computed, Computed::Record(_)).then_some(setup.id);
    let rotor = setup.rotor.as_deref().map(|rotor| rotor.id);
    let items = [own_setup, rotor, setup.machine.as_ref().map(|machine| machine.id)];
    let line = |id: ItemId| {
        let found = check::check_item(computing, id);
        let count = |severity| found.iter().filter(|one| one.severity == severity).count();
        let counts = [(count(Severity::Error), "error"), (count(Severity::Warning), "warning")];
        let counts: Vec<String> =
            counts.iter().filter(|(count, _)| *count > 0).map(|(count, word)| counted(*count, word)).collect();
        let item = computing.book().item(id);
        (!counts.is_empty())
            .then(|| format!("  check of {} \"{}\": {}", item.kind, item.name_text(), counts.join(", ")))
    };
    items.into_iter().flatten().filter_map(line).collect()
}

/// What a check says of the item, the gravest first.
fn said(kind: Kind, found: &[Diagnostic]) -> Vec<String> {
    let mut found: Vec<&Diagnostic> = found.iter().collect();
    found.sort_by_key(|one| one.severity);
    let (told, more) = found.split_at(found.iter().filter(|one| one.severity != Severity::Note).count().min(TOLD));
    let mut lines = Vec::new();
    for one in told {
        let head = format!("  {} {}: ", one.severity.word(), one.rule.code);
        lines.push(String::new());
        lines.extend(lines_of(&hanging(&head, &one.message, WIDTH)));
    }
    let codes: Vec<&str> = more.iter().map(|one| one.rule.code).collect();
    if codes.is_empty() && told.is_empty() {
        lines.extend([String::new(), format!("  check: nothing to report on this {kind} itself")]);
    }
    if !codes.is_empty() {
        lines.push(String::new());
        lines.extend(lines_of(&hanging("  check also says: ", &codes.join(", "), WIDTH)));
    }
    lines
}
