//! Points over days with their ±, a line through them and a band, as SVG.

use maud::{Markup, html};

use crate::trend::{day_of, month};

/// What is drawn of one thing.
pub(super) struct Chart {
    /// `gain, %`
    pub what: String,
    /// Day, value and what it is known to.
    pub points: Vec<(f64, f64, f64)>,
    /// The middle day, the value on it, the change a day.
    pub line: Option<(f64, f64, f64)>,
    /// What must be kept, to either side of zero.
    pub band: Option<f64>,
}

const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 200.0;
const LEFT: f64 = 56.0;
const RIGHT: f64 = 16.0;
const TOP: f64 = 24.0;
const BOTTOM: f64 = 28.0;

/// One, two or five times a power of ten, of which some five make the whole.
fn step(whole: f64) -> f64 {
    let power = 10f64.powf((whole / 5.0).log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|times| times * power).find(|step| whole / step <= 6.0).unwrap_or(power)
}

fn number(value: f64) -> String {
    format!("{value:.1}")
}

impl Chart {
    pub fn svg(&self) -> Markup {
        let days = self.points.iter().map(|point| point.0);
        let (first, last) = days.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), day| (a.min(day), b.max(day)));
        let room = ((last - first) * 0.03).max(5.0);
        let (first, last) = (first - room, last + room);
        let ends = self.points.iter().flat_map(|(_, value, known_to)| [value - known_to, value + known_to]);
        let bands = self.band.into_iter().flat_map(|band| [-band, band]);
        let (low, high) =
            ends.chain(bands).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), end| (a.min(end), b.max(end)));
        let room = ((high - low) * 0.08).max(1e-6);
        let (low, high) = (low - room, high + room);
        let x = |day: f64| LEFT + (day - first) / (last - first) * (WIDTH - LEFT - RIGHT);
        let y = |value: f64| HEIGHT - BOTTOM - (value - low) / (high - low) * (HEIGHT - TOP - BOTTOM);
        let each = step(high - low);
        let decimals = (-each.log10().floor()).max(0.0) as usize;
        let ticks = (0..).map(|n| (low / each).ceil() * each + f64::from(n) * each).take_while(|tick| *tick <= high);
        html! {
            svg xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" aria-label=(self.what) {
                text x=(number(LEFT)) y="15" class="what" { (self.what) }
                rect x=(number(LEFT)) y=(number(TOP)) width=(number(WIDTH - LEFT - RIGHT)) height=(number(HEIGHT - TOP - BOTTOM)) class="frame" {}
                @for tick in ticks {
                    line x1=(number(LEFT)) x2=(number(WIDTH - RIGHT)) y1=(number(y(tick))) y2=(number(y(tick))) class="grid" {}
                    text x=(number(LEFT - 6.0)) y=(number(y(tick) + 4.0)) class="value" { (format!("{tick:.decimals$}")) }
                }
                @for (day, name) in months(first, last) {
                    line x1=(number(x(day))) x2=(number(x(day))) y1=(number(HEIGHT - BOTTOM)) y2=(number(HEIGHT - BOTTOM + 5.0)) class="tick" {}
                    text x=(number(x(day))) y=(number(HEIGHT - 8.0)) class="day" { (name) }
                }
                @for edge in self.band.into_iter().flat_map(|band| [-band, band]) {
                    line x1=(number(LEFT)) x2=(number(WIDTH - RIGHT)) y1=(number(y(edge))) y2=(number(y(edge))) class="band" {}
                }
                @for (day, value, known_to) in &self.points {
                    line x1=(number(x(*day))) x2=(number(x(*day))) y1=(number(y(value - known_to))) y2=(number(y(value + known_to))) class="known" {}
                    circle cx=(number(x(*day))) cy=(number(y(*value))) r="2.5" {}
                }
                @if let Some((middle, value, slope)) = self.line {
                    @let at = |day: f64| value + (day - middle) * slope;
                    line x1=(number(x(first))) x2=(number(x(last))) y1=(number(y(at(first)))) y2=(number(y(at(last)))) class="line" {}
                }
            }
        }
    }
}

/// The beginnings of months, of not too many.
fn months(first: f64, last: f64) -> Vec<(f64, String)> {
    let starts: Vec<f64> =
        (first.ceil() as i64..=last as i64).map(|n| n as f64).filter(|n| day_of(*n).day == 1).collect();
    let every = starts.len().div_ceil(9).max(1);
    // A name at the edge would be cut.
    let edge = first + (last - first) * 0.95;
    starts.into_iter().step_by(every).filter(|start| *start < edge).map(|start| (start, month(day_of(start)))).collect()
}

/// Angles as found, each a dot on the circle; where they crowd, an arrow.
pub(super) fn directions(angles: &[f64], mean: Option<(f64, f64)>) -> Markup {
    let place = |angle: f64, radius: f64| (100.0 + radius * angle.sin(), 100.0 - radius * angle.cos());
    html! {
        svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200" class="round" role="img" aria-label="angles as found" {
            circle cx="100" cy="100" r="70" class="frame" {}
            @for degrees in [0_u16, 90, 180, 270] {
                @let (x, y) = place(f64::from(degrees).to_radians(), 86.0);
                text x=(number(x)) y=(number(y + 4.0)) class="around" { (degrees) }
            }
            @for (n, angle) in angles.iter().enumerate() {
                // Those at one angle come after one another.
                @let before = angles[..n].iter().filter(|other| (*other - angle).abs() < 0.02).count();
                @let (x, y) = place(*angle, 70.0 - 5.0 * before as f64);
                circle cx=(number(x)) cy=(number(y)) r="2.5" {}
            }
            @if let Some((direction, length)) = mean {
                @let (x, y) = place(direction, 70.0 * length);
                line x1="100" y1="100" x2=(number(x)) y2=(number(y)) class="line" {}
            }
        }
    }
}
