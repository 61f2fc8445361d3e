//! A rehearsal on a screen.

use super::Way;
use crate::check::quoted;
use crate::cli::layout::{WIDTH, columns, hanging, padded};
use crate::cli::terminal::{Terminal, harmless};
use crate::rehearsal::{Cause, MOST_CORRECTIONS, Named, Rehearsal, Row};
use crate::text::layout::wrapped;

/// The widest bar of the histogram.
const BAR: usize = 50;

pub(super) fn write(terminal: &mut Terminal, name: &str, void: &[String], rehearsed: &[Way]) {
    let Some(first) = rehearsed.first().map(|one| &one.rehearsal) else { return };
    let line =
        |terminal: &mut Terminal, text: &str| wrapped(&harmless(text), WIDTH).iter().for_each(|l| terminal.line(l));
    let title = format!(
        "setup \"{name}\": {} rotors rehearsed, mounted {} before each is judged, seed {}",
        first.endings.len(),
        times(first.mountings),
        first.seed
    );
    line(terminal, &title);
    if !void.is_empty() {
        line(terminal, &format!("Its calibration is void ({}); it is rehearsed as it was proven.", void.join("; ")));
    }
    terminal.line("");
    for sentence in sentences(first) {
        line(terminal, &sentence);
    }
    for one in &rehearsed[1..] {
        if let Some(change) = &one.change {
            let share = one.rehearsal.within_after(first.usual_corrections());
            line(
                terminal,
                &format!("With `{change}`: {} after {}.", percent(share), corrections(first.usual_corrections())),
            );
        }
    }
    terminal.line("");
    table(terminal, first);
    terminal.line("");
    histogram(terminal, first);
    if rehearsed.len() > 1 {
        terminal.line("");
        beside_each_other(terminal, rehearsed);
    }
    for (title, is_stated) in
        [("Drawn from assumed ranges, because no sheet states it:", false), ("Drawn as the sheets say:", true)]
    {
        let all: Vec<_> = first.drawn.iter().filter(|drawn| drawn.is_stated == is_stated).collect();
        if !all.is_empty() {
            terminal.line("");
            terminal.line(title);
            for drawn in all {
                let text = hanging(&format!("  {}: ", drawn.what), &harmless(&drawn.from), WIDTH);
                text.lines().for_each(|line| terminal.line(line));
            }
        }
    }
}

fn percent(share: f64) -> String {
    let percent = share * 100.0;
    // A share that is not whole is not said to be all or none.
    match percent {
        _ if share > 0.0 && percent < 1.0 || share < 1.0 && percent > 99.0 => format!("{percent:.1} %"),
        _ => format!("{percent:.0} %"),
    }
}

fn times(count: usize) -> String {
    match count {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        count => format!("{count} times"),
    }
}

const COUNTED: [&str; 6] = ["no", "one", "two", "three", "four", "five"];
const ORDINAL: [&str; 6] = ["no", "a first", "a second", "a third", "a fourth", "a fifth"];

fn corrections(count: usize) -> String {
    let word = COUNTED.get(count).map_or_else(|| count.to_string(), |word| (*word).to_owned());
    format!("{word} correction{}", if count == 1 { "" } else { "s" })
}

/// What a rehearsal says in few words.
pub(super) fn sentences(rehearsal: &Rehearsal) -> Vec<String> {
    let usual = rehearsal.usual_corrections();
    let within = rehearsal.within_after(usual);
    let mut first = format!(
        "{} are within after {} (± {} for this number of rotors)",
        percent(within),
        corrections(usual),
        percent(rehearsal.sampling_error(within)),
    );
    let mut rest = Vec::new();
    for (n, word) in ORDINAL.iter().enumerate().skip(usual + 1) {
        let more = rehearsal.within_after(n) - rehearsal.within_after(n - 1);
        if more > 0.0 {
            rest.push(format!("{} need {}", percent(more), word));
        }
    }
    let never = 1.0 - rehearsal.within_after(MOST_CORRECTIONS);
    if never > 1e-9 {
        rest.push(format!("{} do not get there in {MOST_CORRECTIONS}", percent(never)));
    }
    if !rest.is_empty() {
        first += &format!(", {}", rest.join(", "));
    }
    let mut all = vec![first + "."];
    match rehearsal.limiting() {
        Some((cause, count, of)) => {
            all.push(format!(
                "The limiting factor is {}: {count} of {of} corrections that fell short.",
                of_cause(rehearsal, cause)
            ));
        }
        None => all.push("No correction fell short.".to_owned()),
    }
    let (wrongly, missed) = (rehearsal.wrongly(), rehearsal.not_recognized());
    all.push(match wrongly {
        0 => "No rotor was passed that is not within.".to_owned(),
        1 => "1 rotor was passed but, by its true motion, is not within.".to_owned(),
        count => format!("{count} rotors were passed but, by their true motion, are not within."),
    });
    if let Some((limit, count)) = rehearsal.exceeded() {
        all.push(format!("The limit that is exceeded in the end is mostly {limit}: {count} rotors."));
    }
    if let Some(reason) = rehearsal.reason() {
        all.push(format!("Most records that are not good say: {reason}."));
    }
    if missed > 0 {
        all.push(format!("{missed} in the end are within, and their record does not show it."));
    }
    all
}

pub(super) fn of_cause(rehearsal: &Rehearsal, cause: Cause) -> String {
    match cause {
        Cause::Reading => "the scatter and the steps of the readout".to_owned(),
        Cause::Mounting => "how the rotor sits from one mounting to the next".to_owned(),
        Cause::Machine => "how the channels respond to an unbalance: gain, angle, interference".to_owned(),
        Cause::Capacity(n) => of_plane(rehearsal, n, "the most that plane {} takes at a time", |plane| &plane.takes),
        Cause::Steps(n) => of_plane(rehearsal, n, "the steps in which plane {} is corrected", |plane| &plane.steps),
        Cause::Making => "how well mass, depth and angle of a correction are made".to_owned(),
    }
}

/// A cause that lies in a plane, with the lines of its sheet that set it.
fn of_plane(rehearsal: &Rehearsal, n: usize, words: &str, lines: fn(&Named) -> &Vec<String>) -> String {
    let Some(plane) = rehearsal.planes.get(n) else { return words.replace(" plane {}", "") };
    let said = words.replace("{}", &quoted(&plane.name));
    let lines: Vec<String> = lines(plane).iter().map(|line| format!("`{line}`")).collect();
    if lines.is_empty() { said } else { format!("{said} ({})", lines.join(", ")) }
}

fn table(terminal: &mut Terminal, rehearsal: &Rehearsal) {
    let heads =
        ["corrections", "rotors", "truly within", "said within", "as read", "not shown", "over", "wrongly within"];
    let number = |count: usize| if count == 0 { "–".to_owned() } else { count.to_string() };
    let row = |row: &Row| {
        let counts =
            [row.rotors, row.truly_within, row.said_within, row.said_as_read, row.not_shown, row.over, row.wrongly];
        std::iter::once(row.corrections.to_string()).chain(counts.map(number)).collect()
    };
    let rows: Vec<Vec<String>> =
        std::iter::once(heads.map(str::to_owned).to_vec()).chain(rehearsal.rows().iter().map(row)).collect();
    write_table(terminal, &rows);
}

fn write_table(terminal: &mut Terminal, rows: &[Vec<String>]) {
    for (n, line) in columns(rows).iter().enumerate() {
        let line = harmless(line);
        terminal.line(&if n == 0 { terminal.paint.bold(&line) } else { line });
    }
}

/// How many rotors are left with how much of the limit that governs: the words, how many, whether that is over.
pub(super) fn bars(rehearsal: &Rehearsal) -> Vec<(String, usize, bool)> {
    let bars = rehearsal.histogram().into_iter().enumerate().filter(|(n, count)| *n < 10 || *count > 0);
    let label = |n: usize| {
        let from = n as f64 / 10.0;
        if n == 15 { "1.5 and more".to_owned() } else { format!("{from:.1} to {:.1}", from + 0.1) }
    };
    bars.map(|(n, count)| (label(n), count, n >= 10)).collect()
}

fn histogram(terminal: &mut Terminal, rehearsal: &Rehearsal) {
    let bars = bars(rehearsal);
    let most = bars.iter().map(|bar| bar.1).max().unwrap_or(1).max(1);
    terminal.line("True final unbalance, as a share of the governing limit:");
    for (label, count, is_over) in bars {
        // One rotor is seen too.
        let bar = "#".repeat((count * BAR).div_ceil(most));
        let mark = if is_over { "over" } else { "" };
        let count = if count == 0 { String::new() } else { count.to_string() };
        let text = format!("  {} {mark:4} {bar} {count}", padded(&label, 12));
        terminal.line(text.trim_end());
    }
}

fn beside_each_other(terminal: &mut Terminal, rehearsed: &[Way]) {
    for (n, change) in rehearsed.iter().enumerate().filter_map(|(n, one)| Some((n, one.change.as_ref()?))) {
        hanging(&format!("{n}: "), &harmless(change), WIDTH).lines().for_each(|line| terminal.line(line));
    }
    let head = |(n, one): (usize, &Way)| if one.change.is_none() { "as it is".to_owned() } else { format!("with {n}") };
    let mut rows = vec![std::iter::once(String::new()).chain(rehearsed.iter().enumerate().map(head)).collect()];
    let mut row = |title: String, of: &dyn Fn(&Rehearsal) -> String| {
        rows.push(std::iter::once(title).chain(rehearsed.iter().map(|one| of(&one.rehearsal))).collect::<Vec<_>>());
    };
    for n in 1..=MOST_CORRECTIONS {
        row(format!("within after {}", corrections(n)), &|one| percent(one.within_after(n)));
    }
    row("called within and are not".to_owned(), &|one| one.wrongly().to_string());
    row("not shown to be within".to_owned(), &|one| one.not_recognized().to_string());
    row("corrections per rotor".to_owned(), &|one| format!("{:.2}", mean_corrections(one)));
    row("what limits".to_owned(), &|one| one.limiting().map_or("–", |(cause, ..)| short(cause)).to_owned());
    write_table(terminal, &rows);
}

pub(super) fn mean_corrections(rehearsal: &Rehearsal) -> f64 {
    let sum: usize = rehearsal.endings.iter().map(|one| one.corrections).sum();
    sum as f64 / rehearsal.endings.len().max(1) as f64
}

/// A cause as a column has room for it.
pub(super) fn short(cause: Cause) -> &'static str {
    match cause {
        Cause::Reading => "readout",
        Cause::Mounting => "mounting",
        Cause::Machine => "channels",
        Cause::Capacity(_) => "capacity",
        Cause::Steps(_) => "steps",
        Cause::Making => "making",
    }
}
