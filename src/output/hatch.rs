//! Line patterns over filled areas, so that areas differ without colour.

use super::canvas::{Canvas, Pen, Px};
use super::style::{Hatch, INK, PAPER, Rgb};

const SPACING: f64 = 22.0;
const STRIDE: f64 = 2.0;

/// Draws the pattern between an upper and a lower edge given at the same `xs` (pixels, rising).
pub fn paint(c: &mut Canvas, xs: &[f64], top: &[f64], bottom: &[f64], hatch: Hatch, under: Rgb) {
    let (Some(&x0), Some(&x1)) = (xs.first(), xs.last()) else {
        return;
    };
    let tone = if under.luminance() > 0.35 {
        INK.over(under, 0.55)
    } else {
        PAPER.over(under, 0.75)
    };
    let pen = Pen::new(tone, 2.0);
    let y_min = top.iter().copied().fold(f64::INFINITY, f64::min);
    let y_max = bottom.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    if !(y_min < y_max && x0 < x1) {
        return;
    }
    let slopes: &[f64] = match hatch {
        Hatch::None => &[],
        Hatch::Up => &[-1.0],
        Hatch::Down => &[1.0],
        Hatch::Level | Hatch::Dots => &[0.0],
        Hatch::Crossed => &[-1.0, 1.0],
        Hatch::Upright => {
            let mut x = (x0 / SPACING).ceil() * SPACING;
            while x <= x1 {
                let (a, b) = (at(xs, top, x), at(xs, bottom, x));
                c.line(&[(x, a), (x, b)], pen);
                x += SPACING;
            }
            return;
        }
    };
    for &slope in slopes {
        // Lines y = slope x + q; all q that can cross the area.
        let ends = [
            y_min - slope * x0,
            y_min - slope * x1,
            y_max - slope * x0,
            y_max - slope * x1,
        ];
        let low = ends.iter().copied().fold(f64::INFINITY, f64::min);
        let high = ends.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let mut q = (low / SPACING).ceil() * SPACING;
        while q <= high {
            one(c, xs, top, bottom, (slope, q), hatch, pen);
            q += SPACING;
        }
    }
}

/// The parts of one line that lie inside the area.
fn one(
    c: &mut Canvas,
    xs: &[f64],
    top: &[f64],
    bottom: &[f64],
    (slope, q): (f64, f64),
    hatch: Hatch,
    pen: Pen,
) {
    let (x0, x1) = (xs[0], xs[xs.len() - 1]);
    let mut from: Option<Px> = None;
    let mut last: Px = (x0, 0.0);
    let n = ((x1 - x0) / STRIDE).ceil().max(1.0) as usize;
    let pen = if hatch == Hatch::Dots {
        Pen {
            width: 4.0,
            dash: &[4.0, 14.0],
            ..pen
        }
    } else {
        pen
    };
    for i in 0..=n {
        let x = x0 + (x1 - x0) * i as f64 / n as f64;
        let y = slope * x + q;
        let inside = y >= at(xs, top, x) && y <= at(xs, bottom, x);
        match (inside, from) {
            (true, None) => from = Some((x, y)),
            (false, Some(start)) => {
                c.line(&[start, last], pen);
                from = None;
            }
            _ => {}
        }
        last = (x, y);
    }
    if let Some(start) = from {
        c.line(&[start, last], pen);
    }
}

/// Where a condition holds over rising `xs`, in unbroken stretches: each ends half way to the neighbour where it does not hold, or
/// at the ends of the axis.
pub fn stretches(xs: &[f64], holds: &[bool], (lo, hi): (f64, f64)) -> Vec<(f64, f64)> {
    let half = |i: usize| 0.5 * (xs[i] + xs[i + 1]);
    let mut all: Vec<(f64, f64)> = Vec::new();
    for i in 0..xs.len().min(holds.len()) {
        if !holds[i] {
            continue;
        }
        let from = if i == 0 { lo } else { half(i - 1) };
        let to = if i + 1 == xs.len() { hi } else { half(i) };
        match all.last_mut() {
            Some(last) if i > 0 && holds[i - 1] => last.1 = to,
            _ => all.push((from, to)),
        }
    }
    all
}

/// Straight interpolation, held flat outside.
pub fn at(xs: &[f64], ys: &[f64], x: f64) -> f64 {
    let i = xs.partition_point(|&v| v <= x);
    if i == 0 {
        return ys[0];
    }
    if i >= xs.len() {
        return ys[xs.len() - 1];
    }
    let (a, b) = (xs[i - 1], xs[i]);
    ys[i - 1] + (ys[i] - ys[i - 1]) * (x - a) / (b - a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_stretches_end_half_way_to_the_neighbour_or_at_the_axis() {
        let xs = [1.0, 2.0, 4.0, 8.0, 9.0];
        let of = |holds: [bool; 5]| stretches(&xs, &holds, (0.0, 10.0));
        assert_eq!(
            of([true, true, false, true, false]),
            [(0.0, 3.0), (6.0, 8.5)]
        );
        assert_eq!(of([false, false, true, true, true]), [(3.0, 10.0)]);
        assert!(of([false; 5]).is_empty());
        assert_eq!(stretches(&[5.0], &[true], (0.0, 10.0)), [(0.0, 10.0)]);
    }
}
