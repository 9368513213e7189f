//! The tube cells that a gas cell faces.

use crate::network::Scratch;
use std::ops::Range;

/// Mean temperature of their faces, K.
#[inline]
pub(super) fn face_k(face_t_k: &[f64], tubes: &Range<usize>) -> f64 {
    let faces = &face_t_k[tubes.clone()];
    match faces {
        [one] => *one,
        _ => faces.iter().sum::<f64>() / faces.len() as f64,
    }
}

/// Gives them heat of which each takes the less the warmer it is: a dry one among wet ones would else take on heat
/// until their mean is as warm as the gas. `slope_w_k` how much less heat all take per kelvin of their mean.
#[inline]
pub(super) fn warm(s: &mut Scratch, tubes: &Range<usize>, heat_w: f64, slope_w_k: f64) {
    let heats = &mut s.face_heat_w[tubes.clone()];
    if let [one] = heats {
        *one += heat_w;
        return;
    }
    let mean_k = face_k(&s.face_t_k, tubes);
    let per = 1.0 / heats.len() as f64;
    for (q, t_k) in heats.iter_mut().zip(&s.face_t_k[tubes.clone()]) {
        *q += per * (heat_w + slope_w_k * (mean_k - t_k));
    }
}

/// Lets what radiates with the fourth power `source_k4` of a temperature shine on them, over `w_k4`; what they get
/// together, W, and the mean fourth power of their faces.
#[inline]
pub(super) fn shine(
    s: &mut Scratch,
    tubes: &Range<usize>,
    w_k4: f64,
    source_k4: f64,
) -> (f64, f64) {
    let fourth = |t_k: f64| (t_k * t_k) * (t_k * t_k);
    let heats = &mut s.face_heat_w[tubes.clone()];
    let faces = &s.face_t_k[tubes.clone()];
    if let ([one], [t_k]) = (&mut *heats, faces) {
        let t4 = fourth(*t_k);
        let q = w_k4 * (source_k4 - t4);
        *one += q;
        return (q, t4);
    }
    let per = 1.0 / heats.len() as f64;
    let mut sum = 0.0;
    for (q, t_k) in heats.iter_mut().zip(faces) {
        let t4 = fourth(*t_k);
        *q += per * w_k4 * (source_k4 - t4);
        sum += t4;
    }
    (w_k4 * (source_k4 - per * sum), per * sum)
}

/// Mean temperature of their faces, K, and mean fourth power of it.
#[inline]
pub(super) fn faces(face_t_k: &[f64], tubes: &Range<usize>) -> (f64, f64) {
    let fourth = |t_k: f64| (t_k * t_k) * (t_k * t_k);
    let faces = &face_t_k[tubes.clone()];
    if let [one] = faces {
        return (*one, fourth(*one));
    }
    let per = 1.0 / faces.len() as f64;
    let (mut sum, mut sum4) = (0.0, 0.0);
    for &t_k in faces {
        sum += t_k;
        sum4 += fourth(t_k);
    }
    (per * sum, per * sum4)
}

/// [`warm`] and [`shine`] at once, with the means that [`faces`] gave.
#[inline]
pub(super) fn warm_and_shine(
    s: &mut Scratch,
    tubes: &Range<usize>,
    (mean_k, mean_k4): (f64, f64),
    (heat_w, slope_w_k): (f64, f64),
    (shone_w, w_k4): (f64, f64),
) {
    let heats = &mut s.face_heat_w[tubes.clone()];
    if let [one] = heats {
        *one += heat_w + shone_w;
        return;
    }
    let per = 1.0 / heats.len() as f64;
    let all_w = heat_w + slope_w_k * mean_k + shone_w + w_k4 * mean_k4;
    for (q, &t_k) in heats.iter_mut().zip(&s.face_t_k[tubes.clone()]) {
        let t2 = t_k * t_k;
        *q += per * (all_w - slope_w_k * t_k - w_k4 * t2 * t2);
    }
}
