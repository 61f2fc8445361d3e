//! A trend as a page of one file, which loads nothing.

use maud::{DOCTYPE, Markup, PreEscaped, html};
use num_complex::Complex64;

use super::chart::{Chart, directions};
use super::text::{by_chance, of_fit};
use crate::trend::{Change, ChannelTrend, CheckTrend, Fitted, MachineTrend, PartTrend, Straight, number_of};

const STYLE: &str = "body{font:15px/1.4 system-ui,sans-serif;color:#000;background:#fff;max-width:760px;margin:2em auto;padding:0 1em}\
h1{font-size:22px}h2{font-size:17px;margin-top:2em}svg{width:100%;height:auto;display:block}\
.round{width:200px;float:left;margin-right:1em}.part{overflow:hidden;margin-bottom:1em}\
text{font:11px system-ui,sans-serif}.what{font-weight:bold;font-size:12px}.value{text-anchor:end}.day,.around{text-anchor:middle}\
.frame{fill:none;stroke:#000;stroke-width:1}.grid{stroke:#ccc;stroke-width:.5}.tick,.known{stroke:#000;stroke-width:.8}\
.line{stroke:#000;stroke-width:2}.band{stroke:#000;stroke-width:1;stroke-dasharray:5 4}\
table{border-collapse:collapse}td,th{text-align:left;padding:2px 14px 2px 0;border-bottom:1px solid #ccc}";

pub(super) fn of(trend: &MachineTrend) -> String {
    let title = format!("Trend of machine \"{}\"", trend.machine);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (title) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { (title) }
                @for sentence in trend.says() {
                    p { (sentence) }
                }
                @for one in &trend.channels {
                    (channel(one))
                }
                @for one in &trend.checks {
                    (check(one))
                }
                @if trend.parts.iter().any(|part| part.crowd.is_some()) {
                    h2 { "Rotors as they came" }
                    @for one in trend.parts.iter().filter(|part| part.crowd.is_some()) {
                        (part(one))
                    }
                }
                p { "± and bars are at 95 %; a line is called a drift where it is more than three standard deviations of it and the points follow it. By the records of this book." }
            }
        }
    };
    page.into_string()
}

fn channel(one: &ChannelTrend) -> Markup {
    let points = |of: &dyn Fn(&crate::trend::Point) -> f64, times: f64| {
        let point =
            |point: &crate::trend::Point| (number_of(point.day), of(point) * times, 2.0 * point.standard * times);
        one.points.iter().map(point).collect::<Vec<_>>()
    };
    let fitted = one.fitted.as_ref();
    let mean =
        |points: &[(f64, f64, f64)]| points.iter().map(|point| point.1).sum::<f64>() / points.len().max(1) as f64;
    let gain = points(&|point| point.gain, 100.0);
    let angle = points(&|point| point.angle, 1f64.to_degrees());
    let line = |points: &[(f64, f64, f64)], change: &dyn Fn(&Fitted) -> Change, slope: &dyn Fn(&Fitted) -> f64| {
        // No line is drawn through what follows none.
        fitted.filter(|fitted| change(fitted).is_along_a_line()).map(|fitted| {
            let middle = points.iter().map(|point| point.0).sum::<f64>() / points.len().max(1) as f64;
            (middle, mean(points), slope(fitted))
        })
    };
    let gain_line = line(&gain, &|fitted| fitted.gain, &|fitted| fitted.slope.re * 100.0);
    let angle_line = line(&angle, &|fitted| fitted.angle, &|fitted| fitted.slope.im.to_degrees());
    let percent_line = |line: &Straight| (line.middle, line.value * 100.0, line.slope * 100.0);
    let other_line = one.in_other.map(|component| component.line).filter(|line| line.change.is_along_a_line());
    let component = |read: Complex64| one.in_other.map_or(read.norm(), |component| component.of(read));
    let which = if one.in_other.is_some_and(|component| component.is_across) { ", at 90 deg to it" } else { "" };
    html! {
        h2 { "Channel " (one.channel) }
        p { (of_fit(one)) }
        (Chart { what: "gain, %".to_owned(), points: gain, line: gain_line, band: None }.svg())
        (Chart { what: "angle, deg".to_owned(), points: angle, line: angle_line, band: None }.svg())
        @let alone: Vec<(f64, f64, f64)> = one.points.iter().filter_map(|point| Some((number_of(point.day), component(point.in_other?) * 100.0, 200.0 * point.standard))).collect();
        @if !alone.is_empty() {
            (Chart { what: format!("read in the other plane{which}, %"), points: alone, line: other_line.as_ref().map(percent_line), band: None }.svg())
        }
    }
}

fn check(one: &CheckTrend) -> Markup {
    let points =
        one.points.iter().map(|(day, off, standard)| (number_of(*day), off * 100.0, 200.0 * standard)).collect();
    let line = one
        .line
        .filter(|line| line.change.is_along_a_line())
        .map(|line| (line.middle, line.value * 100.0, line.slope * 100.0));
    html! {
        h2 { "Check mass of \"" (one.setup) "\", " (one.plane) }
        (Chart { what: "off, %".to_owned(), points, line, band: one.band.map(|band| band * 100.0) }.svg())
    }
}

fn part(one: &PartTrend) -> Markup {
    let mean = one.comes_back().map(|crowd| (crowd.direction, crowd.length));
    html! {
        div class="part" {
            (directions(&one.angles, mean))
            p {
                b { (one.part) ", " (one.plane) }
                br;
                (one.counted()) " as found"
                @if let Some(crowd) = one.crowd {
                    br;
                    @if one.comes_back().is_some() {
                        "heavy about " (format!("{:.0}", crowd.direction.to_degrees().rem_euclid(360.0))) " deg, in common "
                        (one.in_common()) ", by chance " (by_chance(crowd.by_chance))
                    } @else if crowd.by_chance < PartTrend::COUNTS {
                        "a direction in common, of " (one.in_common()) ": too little to look for"
                    } @else {
                        "no direction in common"
                    }
                }
            }
        }
    }
}
