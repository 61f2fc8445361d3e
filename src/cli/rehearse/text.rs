//! A rehearsal on a screen.

use super::Way;
use crate::check::{and_list, quoted};
use crate::cli::layout::{WIDTH, columns, hanging, padded};
use crate::cli::terminal::{Terminal, harmless};
use crate::rehearsal::{Cause, Limiting, MOST_CORRECTIONS, Named, Rehearsal, Row};
use crate::text::layout::wrapped;

/// The widest bar of the histogram.
const BAR: usize = 50;

pub(super) fn write(terminal: &mut Terminal, name: &str, warning: Option<&str>, rehearsed: &[Way]) {
    let Some(first) = rehearsed.first().map(|one| &one.rehearsal) else { return };
    let line =
        |terminal: &mut Terminal, text: &str| wrapped(&harmless(text), WIDTH).iter().for_each(|l| terminal.line(l));
    let title = format!(
        "setup \"{name}\": {} rehearsed, {} {} before each is judged, seed {}",
        rotors(first.endings.len() as u64),
        if first.in_place { "run" } else { "mounted" },
        times(first.mountings),
        first.seed
    );
    line(terminal, &title);
    if let Some(warning) = warning {
        line(terminal, warning);
    }
    terminal.line("");
    for sentence in sentences(first) {
        line(terminal, &sentence);
    }
    for one in &rehearsed[1..] {
        if let Some(change) = &one.change {
            let usual = first.usual_corrections();
            let (truly, shown) = (one.rehearsal.truly_within(), one.rehearsal.shown_within_after(usual));
            let ended = match one.rehearsal.is_same_as(first) {
                true => "the same, rotor by rotor; a rehearsal does not use this, or no rotor came to where it counts"
                    .to_owned(),
                false => format!(
                    "{} truly within in the end, shown for {} after {}",
                    percent(truly),
                    percent(shown),
                    corrections(usual)
                ),
            };
            line(terminal, &format!("With `{change}`: {ended}."));
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

/// `1 rotor`, `20 rotors`
pub(super) fn rotors(count: u64) -> String {
    format!("{count} rotor{}", if count == 1 { "" } else { "s" })
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

/// How many truly are within, how many of them the records show to be, and how many truly are over. A rotor
/// does not fail because its record shows nothing.
fn in_the_end(rehearsal: &Rehearsal) -> Vec<String> {
    let (within, usual) = (rehearsal.truly_within(), rehearsal.usual_corrections());
    let mut all = vec![format!(
        "{} are truly within in the end (± {} for this number of rotors).",
        percent(within),
        percent(rehearsal.sampling_error(within)),
    )];
    let shown = |n: usize| rehearsal.shown_within_after(n);
    let more = ORDINAL.iter().enumerate().skip(usual + 1).map(|(n, word)| (shown(n) - shown(n - 1), word));
    let more = more.filter(|(more, _)| *more > 0.0).map(|(more, word)| format!("{} more after {word}", percent(more)));
    let first = format!("{} after {}", percent(shown(usual)), corrections(usual));
    all.push(match shown(MOST_CORRECTIONS) {
        0.0 => "No record shows it.".to_owned(),
        _ => {
            format!("Their records show it for {}.", and_list(&std::iter::once(first).chain(more).collect::<Vec<_>>()))
        }
    });
    match rehearsal.not_recognized() {
        0 => {}
        1 => all.push(
            "1 rotor is truly within, but its record does not show it: the measurement falls short, not the rotor."
                .to_owned(),
        ),
        count => all.push(format!(
            "{count} rotors are truly within, but their records do not show it: the measurement falls short, not the rotors."
        )),
    }
    let [over, after_the_most] = rehearsal.truly_over();
    if over > 0 {
        let most = format!("after {}, the most there are", corrections(MOST_CORRECTIONS));
        let are = if over == 1 { "is" } else { "are" };
        let tail = match after_the_most {
            0 => String::new(),
            count if count == over => format!(" {most}"),
            count => format!(", {count} of them {most}"),
        };
        all.push(format!("{} {are} truly over in the end{tail}.", rotors(over as u64)));
    }
    all
}

/// What a rehearsal says in few words.
pub(super) fn sentences(rehearsal: &Rehearsal) -> Vec<String> {
    let mut all = in_the_end(rehearsal);
    match rehearsal.limiting() {
        Some(Limiting { cause, corrections, of, after_the_first }) => {
            let which = match (of, after_the_first) {
                (1, true) => "correction after a rotor's first that fell short",
                (_, true) => "corrections after a rotor's first that fell short",
                (1, false) => "correction that fell short",
                (_, false) => "corrections that fell short",
            };
            all.push(format!("The limiting factor is {}: {corrections} of {of} {which}.", of_cause(rehearsal, cause)));
        }
        None => all.push("No correction fell short.".to_owned()),
    }
    all.push(match rehearsal.wrongly() {
        0 => "No rotor was passed that is not within.".to_owned(),
        1 => "1 rotor was passed but, by its true motion, is not within.".to_owned(),
        count => format!("{count} rotors were passed but, by their true motion, are not within."),
    });
    if let Some((limit, count)) = rehearsal.exceeded() {
        all.push(format!("The limit that is exceeded in the end is mostly {limit}: {}.", rotors(count as u64)));
    }
    if let Some(reason) = rehearsal.reason() {
        all.push(format!("Most records that are not good say: {reason}."));
    }
    all
}

pub(super) fn of_cause(rehearsal: &Rehearsal, cause: Cause) -> String {
    match cause {
        Cause::Reading => "the scatter and the steps of the readout".to_owned(),
        Cause::EndOfScale => "the end of the readout's widest scale: what lies beyond it is not read".to_owned(),
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
    row("truly within in the end".to_owned(), &|one| percent(one.truly_within()));
    for n in 1..=MOST_CORRECTIONS {
        row(format!("shown after {}", corrections(n)), &|one| percent(one.shown_within_after(n)));
    }
    row("called within and are not".to_owned(), &|one| one.wrongly().to_string());
    row("truly within, not shown".to_owned(), &|one| one.not_recognized().to_string());
    row("corrections per rotor".to_owned(), &|one| format!("{:.2}", mean_corrections(one)));
    row("what limits".to_owned(), &|one| one.limiting().map_or("–", |limiting| short(limiting.cause)).to_owned());
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
        Cause::EndOfScale => "end of scale",
        Cause::Mounting => "mounting",
        Cause::Machine => "channels",
        Cause::Capacity(_) => "capacity",
        Cause::Steps(_) => "steps",
        Cause::Making => "making",
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::mechanics::verdict::Verdict;
    use crate::rehearsal::Ending;

    fn told(endings: &[(usize, usize, f64, Verdict)]) -> String {
        let ending = |corrections, over, word| Ending {
            number: 0,
            corrections,
            over,
            limit: 0,
            word: Some(word),
            reason: None,
            short: Vec::new(),
        };
        let each = |(count, corrections, over, word): &(usize, usize, f64, Verdict)| {
            std::iter::repeat_n(ending(*corrections, *over, *word), *count)
        };
        let endings = endings.iter().flat_map(each).collect();
        let (drawn, planes, limits) = (Vec::new(), Vec::new(), Vec::new());
        in_the_end(&Rehearsal { seed: 1, mountings: 2, in_place: false, endings, drawn, planes, limits }).join(" ")
    }

    // By hand, ± 2·√(0.942·0.058 ÷ 104) = 0.046; of 100: 41 + 4 + 50 + 1 truly are within, 45 of them by their records; 3 of the 4 that are over had five corrections.
    #[test]
    fn what_is_true_and_what_records_show_are_told_apart() {
        let said = told(&[
            (41, 1, 0.5, Verdict::Within),
            (4, 3, 0.9, Verdict::WithinAsRead),
            (50, 2, 0.6, Verdict::NotShown),
            (1, 5, 1.0, Verdict::OverAsRead),
            (3, 5, 1.2, Verdict::Over),
            (1, 2, 1.1, Verdict::Within),
        ]);
        assert!(said.starts_with("96 % are truly within in the end (± 5 % for this number of rotors)."), "{said}");
        for part in [
            "Their records show it for 41 % after one correction and 4 % more after a third.",
            "51 rotors are truly within, but their records do not show it: the measurement falls short, not the rotors.",
            "4 rotors are truly over in the end, 3 of them after five corrections, the most there are.",
        ] {
            assert!(said.contains(part), "{part}: {said}");
        }
        assert!(!said.contains("do not get there"), "{said}");
    }

    #[test]
    fn a_sheet_whose_records_show_nothing_does_not_fail_its_rotors() {
        let said = told(&[(20, 1, 0.5, Verdict::NotShown)]);
        assert!(said.starts_with("100 % are truly within") && said.contains("No record shows it. 20 rotors"), "{said}");
        assert!(!said.contains("truly over"), "{said}");
        let said = told(&[(1, 2, 1.5, Verdict::Over)]);
        assert!(said.ends_with("1 rotor is truly over in the end."), "{said}");
    }
}
