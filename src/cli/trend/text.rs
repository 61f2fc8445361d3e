//! A trend on a screen.

use crate::cli::layout::{WIDTH, columns, wrapped};
use crate::cli::terminal::{Terminal, harmless};
use crate::trend::{ChannelTrend, MachineTrend};

pub(super) fn write(terminal: &mut Terminal, trend: &MachineTrend) {
    let line =
        |terminal: &mut Terminal, text: &str| wrapped(&harmless(text), WIDTH).iter().for_each(|l| terminal.line(l));
    let told: usize = trend.channels.iter().map(|channel| channel.points.len()).sum();
    line(
        terminal,
        &format!(
            "machine \"{}\": {} records, {told} corrections that show how its channels respond",
            trend.machine, trend.records
        ),
    );
    terminal.line("");
    for sentence in trend.says() {
        line(terminal, &sentence);
    }
    for channel in &trend.channels {
        terminal.line("");
        of_channel(terminal, channel);
    }
    if !trend.checks.is_empty() {
        terminal.line("");
        checks(terminal, trend);
    }
    terminal.line("");
    match trend.parts.iter().any(|part| part.crowd.is_some()) {
        true => parts(terminal, trend),
        false => terminal.line("As found: no part has five rotors yet, the least that can show a common direction."),
    }
}

fn table(terminal: &mut Terminal, rows: &[Vec<String>]) {
    for (n, line) in columns(rows).iter().enumerate() {
        let line = harmless(line);
        terminal.line(&if n == 0 { terminal.paint.bold(&line) } else { line });
    }
}

pub(super) fn percent(share: f64) -> String {
    format!("{:.1} %", share * 100.0)
}

/// With its sign; what rounds to nothing has the sign of more.
fn signed(value: f64, unit: &str) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    format!("{:+.1} {unit}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// How likely chance is, for people.
pub(super) fn by_chance(share: f64) -> String {
    if share < 0.001 { "< 0.1 %".to_owned() } else { percent(share) }
}

pub(super) fn of_fit(channel: &ChannelTrend) -> String {
    let Some(fitted) = &channel.fitted else {
        return format!("channel {}: too few corrections for a trend line", channel.channel);
    };
    let heard =
        channel.separation.map_or_else(String::new, |heard| format!(", shows {} of the other plane", percent(heard)));
    format!(
        "channel {}: gain {} ± {:.1} %, angle {} ± {:.1} deg from the first day to the last{heard}",
        channel.channel,
        signed(fitted.gain.by * 100.0, "%"),
        fitted.gain.known_to * 100.0,
        signed(fitted.angle.by.to_degrees(), "deg"),
        fitted.angle.known_to.to_degrees(),
    )
}

fn of_channel(terminal: &mut Terminal, channel: &ChannelTrend) {
    wrapped(&harmless(&of_fit(channel)), WIDTH).iter().for_each(|line| terminal.line(line));
    let heads = ["date", "record", "plane", "gain", "angle", "±", "in the other"].map(str::to_owned).to_vec();
    let rows = channel.points.iter().map(|point| {
        vec![
            point.day.to_string(),
            point.record.clone(),
            point.plane.clone(),
            percent(point.gain),
            signed(point.angle.to_degrees(), "deg"),
            percent(2.0 * point.standard),
            point.in_other.map_or_else(|| "–".to_owned(), |read| percent(read.norm())),
        ]
    });
    table(terminal, &std::iter::once(heads).chain(rows).collect::<Vec<_>>());
}

fn checks(terminal: &mut Terminal, trend: &MachineTrend) {
    let heads = ["check mass of", "plane", "checks", "last", "off", "band"].map(str::to_owned).to_vec();
    let rows = trend.checks.iter().filter_map(|check| {
        let (day, off, _) = check.points.last()?;
        Some(vec![
            check.setup.clone(),
            check.plane.clone(),
            check.points.len().to_string(),
            day.to_string(),
            signed(off * 100.0, "%"),
            check.band.map_or_else(|| "–".to_owned(), |band| format!("± {}", percent(band))),
        ])
    });
    table(terminal, &std::iter::once(heads).chain(rows).collect::<Vec<_>>());
}

fn parts(terminal: &mut Terminal, trend: &MachineTrend) {
    let heads = ["as found", "plane", "by", "heavy about", "in common", "by chance"].map(str::to_owned).to_vec();
    let rows = trend.parts.iter().filter_map(|part| {
        let crowd = part.crowd?;
        let by_chance = by_chance(crowd.by_chance);
        Some(vec![
            part.part.clone(),
            part.plane.clone(),
            part.counted(),
            format!("{:.0} deg", crowd.direction.to_degrees().rem_euclid(360.0)),
            part.in_common(),
            by_chance,
        ])
    });
    table(terminal, &std::iter::once(heads).chain(rows).collect::<Vec<_>>());
}
