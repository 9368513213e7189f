//! The tube cells that a gas cell faces.

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

/// Gives them heat, alike.
#[inline]
pub(super) fn warm(face_heat_w: &mut [f64], tubes: &Range<usize>, heat_w: f64) {
    match &mut face_heat_w[tubes.clone()] {
        [one] => *one += heat_w,
        many => {
            let each_w = heat_w / many.len() as f64;
            for q in many {
                *q += each_w;
            }
        }
    }
}
