//! Finds a free spot for a label: over no curve, no other label, inside the plot.

use super::canvas::{Px, Rect};

/// What already stands in a plot.
#[derive(Debug, Default)]
pub struct Crowd {
    points: Vec<Px>,
    boxes: Vec<Rect>,
}

impl Crowd {
    /// A curve, as a chain of pixels.
    pub fn add_line(&mut self, line: &[Px]) {
        for pair in line.windows(2) {
            let ((x0, y0), (x1, y1)) = (pair[0], pair[1]);
            let n = ((x1 - x0).hypot(y1 - y0) / 6.0).ceil().clamp(1.0, 2000.0) as usize;
            for i in 0..=n {
                let s = i as f64 / n as f64;
                self.points.push((x0 + (x1 - x0) * s, y0 + (y1 - y0) * s));
            }
        }
    }

    /// Something that must not be covered.
    pub fn add_box(&mut self, r: Rect) {
        self.boxes.push(r);
    }

    /// Whether a straight line runs over something that must not be covered.
    pub fn crosses(&self, a: Px, b: Px) -> bool {
        (0..=24).any(|i| {
            let s = f64::from(i) / 24.0;
            let p = (a.0 + (b.0 - a.0) * s, a.1 + (b.1 - a.1) * s);
            self.boxes.iter().any(|r| r.holds(p))
        })
    }

    fn cost(&self, r: &Rect, within: &Rect) -> f64 {
        let inside = r.x >= within.x
            && r.y >= within.y
            && r.right() <= within.right()
            && r.bottom() <= within.bottom();
        let covered = self.points.iter().filter(|&&p| r.holds(p)).count() as f64;
        let clashes = self.boxes.iter().filter(|b| b.meets(r)).count() as f64;
        covered + 1e4 * clashes + if inside { 0.0 } else { 1e6 }
    }

    /// Takes the first of the cheapest candidates and marks it as taken. Returns its index and whether it is free.
    pub fn take(&mut self, candidates: &[Rect], within: &Rect) -> Option<(usize, bool)> {
        let mut best: Option<(usize, f64)> = None;
        for (i, r) in candidates.iter().enumerate() {
            let cost = self.cost(&r.grown(5.0), &within.grown(6.0));
            if best.is_none_or(|(_, c)| cost < c) {
                best = Some((i, cost));
            }
        }
        let (i, cost) = best?;
        self.boxes.push(candidates[i]);
        Some((i, cost == 0.0))
    }
}
