//! A pump's or fan's falling head curve between and beyond its given points.

/// Head at `flow` from falling points `(flow, head)` by a monotone cubic (Fritsch & Carlson), continued beyond both ends.
///
/// - `points` at least one, flow strictly rising, head falling; any one pair of units
/// - Beyond the last point (the flow is pushed through) the head goes on falling: end slope plus a square term;
///   before the first (the flow is pushed back) it rises likewise: a running pump resists reverse flow more steeply
///   than it delivers. The square term is that of the chord: head range over flow range squared.
///
/// Value and slope are continuous everywhere; between the points the curve is monotone and stays within their heads.
/// Source: F. N. Fritsch, R. E. Carlson, SIAM J. Numer. Anal. 17 (1980) 238-246 (harmonic-mean slopes of F. N. Fritsch,
/// J. Butland 1984). Evidence: `identity_pump_curve_is_monotone_smooth_and_through_its_points`.
pub fn interpolate_curve(points: &[(f64, f64)], flow: f64) -> f64 {
    let n = points.len();
    if n == 0 {
        return 0.0;
    }
    let (q_first, h_first) = points[0];
    let (q_last, h_last) = points[n - 1];
    let range = q_last - q_first;
    if n == 1 || range <= 0.0 {
        return h_first;
    }
    let square = (h_first - h_last).abs() / (range * range);
    if flow <= q_first {
        let x = flow - q_first;
        return h_first + slope_at(points, 0) * x + square * x * x;
    }
    if flow >= q_last {
        let x = flow - q_last;
        return h_last + slope_at(points, n - 1) * x - square * x * x;
    }
    let i = points
        .partition_point(|&(q, _)| q <= flow)
        .saturating_sub(1);
    let ((q0, h0), (q1, h1)) = (points[i], points[i + 1]);
    let d = q1 - q0;
    let t = (flow - q0) / d;
    let (m0, m1) = (slope_at(points, i) * d, slope_at(points, i + 1) * d);
    let t2 = t * t;
    let t3 = t2 * t;
    h0 + (h1 - h0) * (3.0 * t2 - 2.0 * t3) + m0 * (t3 - 2.0 * t2 + t) + m1 * (t3 - t2)
}

/// Slope of the monotone cubic at point `i`.
fn slope_at(points: &[(f64, f64)], i: usize) -> f64 {
    let n = points.len();
    let secant = |j: usize| {
        let ((q0, h0), (q1, h1)) = (points[j], points[j + 1]);
        ((h1 - h0) / (q1 - q0), q1 - q0)
    };
    if n == 2 {
        return secant(0).0;
    }
    if i == 0 || i == n - 1 {
        // Three-point end slope, limited to keep the shape.
        let ((s0, d0), (s1, d1)) = if i == 0 {
            (secant(0), secant(1))
        } else {
            (secant(n - 2), secant(n - 3))
        };
        let m = ((2.0 * d0 + d1) * s0 - d0 * s1) / (d0 + d1);
        if m * s0 <= 0.0 {
            0.0
        } else if m.abs() > 3.0 * s0.abs() {
            3.0 * s0
        } else {
            m
        }
    } else {
        let ((s0, d0), (s1, d1)) = (secant(i - 1), secant(i));
        if s0 * s1 <= 0.0 {
            return 0.0;
        }
        let (w0, w1) = (2.0 * d1 + d0, d1 + 2.0 * d0);
        (w0 + w1) / (w0 / s0 + w1 / s1)
    }
}
