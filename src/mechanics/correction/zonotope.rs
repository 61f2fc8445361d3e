//! Sums of segments: what several limited shares in fixed directions can make, and how cheaply.

/// A share in a direction of length one, from nothing to the most.
#[derive(Clone, Copy, Debug)]
pub(super) struct Segment {
    pub direction: [f64; 2],
    pub most: f64,
    pub cost: f64,
}

type Point = [f64; 2];

/// How far a sum may lie from what is wanted, which has a length of one.
const HAIR: f64 = 1e-9;

/// One share a segment, whose sum is the wanted vector at the least cost; what comes nearest to it where none is it.
/// The wanted vector has a length of one.
pub(super) fn cheapest(wanted: Point, segments: &[Segment]) -> Vec<f64> {
    let (shares, off) = nearest(wanted, segments);
    if off > HAIR {
        return shares;
    }
    inside(wanted, segments).unwrap_or(shares)
}

/// The cheapest shares by their prices: the price p of the vector is one where a share is nothing below `p·e = cost`, the
/// most above it, and between only for the two segments that set it. `None` where no two are at an angle.
fn inside(wanted: Point, segments: &[Segment]) -> Option<Vec<f64>> {
    // No two of the same cost, so that what a price leaves open are those two alone.
    let cost = |n: usize| segments[n].cost * (1.0 + 1e-9 * n as f64);
    for one in 0..segments.len() {
        for other in one + 1..segments.len() {
            let (a, b) = (segments[one].direction, segments[other].direction);
            let across = cross(a, b);
            if across.abs() < HAIR {
                continue;
            }
            let price =
                [(cost(one) * b[1] - cost(other) * a[1]) / across, (cost(other) * a[0] - cost(one) * b[0]) / across];
            let full = |n: usize| n != one && n != other && dot(price, segments[n].direction) > cost(n);
            let mut shares: Vec<f64> =
                segments.iter().enumerate().map(|(n, of)| if full(n) { of.most } else { 0.0 }).collect();
            let rest = less(wanted, sum(segments, &shares));
            let both = [cross(rest, b) / across, cross(a, rest) / across];
            let fits = |share: f64, of: &Segment| share > -HAIR && share < of.most + HAIR;
            if fits(both[0], &segments[one]) && fits(both[1], &segments[other]) {
                shares[one] = both[0].clamp(0.0, segments[one].most);
                shares[other] = both[1].clamp(0.0, segments[other].most);
                return Some(shares);
            }
        }
    }
    None
}

/// Nearest shares, and how far their sum is from the wanted vector. Inside, any that make it serve.
fn nearest(wanted: Point, segments: &[Segment]) -> (Vec<f64>, f64) {
    let normals = || segments.iter().map(|of| of.direction).flat_map(|[x, y]| [[-y, x], [y, -x]]);
    let beyond = |normal: Point| {
        let reach: f64 = segments.iter().map(|of| of.most * dot(normal, of.direction).max(0.0)).sum();
        dot(normal, wanted) - reach
    };
    let is_line = segments.iter().all(|of| cross(of.direction, segments[0].direction).abs() < HAIR);
    if !is_line && normals().all(|normal| beyond(normal) <= HAIR) {
        return (vec![0.0; segments.len()], 0.0);
    }
    let on_edge = normals().map(|normal| {
        let shares = on_edge(wanted, segments, normal);
        let [x, y] = less(wanted, sum(segments, &shares));
        (shares, x.hypot(y))
    });
    let nothing = (vec![0.0; segments.len()], 1.0);
    on_edge.min_by(|a, b| a.1.total_cmp(&b.1)).unwrap_or(nothing)
}

/// The shares of the point nearest to the wanted vector on the edge with a normal: all that lie on its side are full, and
/// those along the edge go as far along it as it takes, the cheapest first.
fn on_edge(wanted: Point, segments: &[Segment], normal: Point) -> Vec<f64> {
    let side = |of: &Segment| dot(normal, of.direction);
    let mut shares: Vec<f64> = segments.iter().map(|of| if side(of) > HAIR { of.most } else { 0.0 }).collect();
    let edge = [-normal[1], normal[0]];
    let mut along = dot(edge, less(wanted, sum(segments, &shares)));
    let mut open: Vec<usize> = (0..segments.len()).filter(|n| side(&segments[*n]).abs() <= HAIR).collect();
    open.sort_by(|a, b| segments[*a].cost.total_cmp(&segments[*b].cost));
    for n in open.into_iter().filter(|n| along * dot(edge, segments[*n].direction) > 0.0).collect::<Vec<_>>() {
        shares[n] = along.abs().min(segments[n].most);
        along -= shares[n] * dot(edge, segments[n].direction);
    }
    shares
}

fn sum(segments: &[Segment], shares: &[f64]) -> Point {
    segments
        .iter()
        .zip(shares)
        .fold([0.0, 0.0], |[x, y], (of, share)| [x + of.direction[0] * share, y + of.direction[1] * share])
}

fn less(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

fn dot(a: Point, b: Point) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

fn cross(a: Point, b: Point) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}
