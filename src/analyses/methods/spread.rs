//! A few of many points that show what all of them show.

/// At most `most` of the points, in their order: the ends of each coordinate first, then always the one farthest from those chosen, each
/// coordinate over its range; none nearer than `apart` to another. For a front of hundreds that a person reads.
pub fn spread(points: &[&[f64]], most: usize, apart: f64) -> Vec<usize> {
    let dimensions = points.first().map_or(0, |p| p.len());
    let ends = |k: usize| {
        let values = points.iter().map(|p| p[k]);
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| {
            (lo.min(v), hi.max(v))
        })
    };
    let ranges: Vec<(f64, f64)> = (0..dimensions).map(ends).collect();
    let distance = |a: &[f64], b: &[f64]| {
        let parts = a.iter().zip(b).zip(&ranges);
        let square = |((a, b), (lo, hi)): ((&f64, &f64), &(f64, f64))| {
            let width = hi - lo;
            if width > 0.0 {
                ((a - b) / width).powi(2)
            } else {
                0.0
            }
        };
        parts.map(square).sum::<f64>().sqrt()
    };
    let mut chosen: Vec<usize> = Vec::new();
    for (k, &(lo, hi)) in ranges.iter().enumerate() {
        for end in [lo, hi] {
            if let Some(i) = points.iter().position(|p| p[k] == end)
                && !chosen.contains(&i)
            {
                chosen.push(i);
            }
        }
    }
    chosen.truncate(most);
    while chosen.len() < most.min(points.len()) {
        let nearest = |p: &[f64]| {
            let to_chosen = chosen.iter().map(|&c| distance(p, points[c]));
            to_chosen.fold(f64::INFINITY, f64::min)
        };
        let far = (points.iter().enumerate())
            .map(|(i, p)| (i, nearest(p)))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        match far {
            Some((i, d)) if d >= apart => chosen.push(i),
            _ => break,
        }
    }
    chosen.sort_unstable();
    chosen
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_ends_and_equal_steps_of_a_line_are_chosen() {
        let line: Vec<[f64; 2]> = (0..=100)
            .map(|i| [f64::from(i), 300.0 - 3.0 * f64::from(i)])
            .collect();
        let points: Vec<&[f64]> = line.iter().map(|p| &p[..]).collect();
        assert_eq!(spread(&points, 5, 0.0), [0, 25, 50, 75, 100]);
        assert_eq!(spread(&points, 2, 0.0), [0, 100]);
        // None nearer than a third of the whole line.
        assert_eq!(spread(&points, 50, 2f64.sqrt() / 3.0), [0, 50, 100]);
        assert_eq!(spread(&points[..1], 5, 0.1), [0]);
        assert!(spread(&[], 5, 0.1).is_empty());
    }

    #[test]
    fn identity_points_that_are_alike_are_told_once() {
        let all = [[1.0, 5.0], [1.0, 5.0], [1.001, 4.999], [2.0, 4.0]];
        let points: Vec<&[f64]> = all.iter().map(|p| &p[..]).collect();
        assert_eq!(spread(&points, 10, 0.02), [0, 3]);
    }
}
