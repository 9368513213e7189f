//! From masses as carbon to a layer: how thick, and powdery, flaky or tarry.

use super::one::One;
use crate::network::Surface;
use crate::results::{LayerCell, LayerKind};

/// A substance of the layer: its share of carbon, and its density as it lies, kg/m3, with the band of that.
struct Substance {
    carbon: f64,
    density: [f64; 3],
}
/// Loose soot (70 to 140 kg/m3, from memory), nine tenths carbon.
const SOOT: Substance = Substance {
    carbon: 0.9,
    density: [70.0, 100.0, 140.0],
};
/// Crust of tar: blistered flakes 300, glaze 1000 kg/m3 (from memory); six tenths carbon as wood tar (from memory).
const TAR: Substance = Substance {
    carbon: 0.6,
    density: [300.0, 550.0, 1000.0],
};

/// Shares of tar in the layer's mass from which it is called flaky, and tarry (an estimate without a source: sweeps say that the
/// first degree is mostly soot, the third a coat of tar).
const FLAKY: f64 = 1.0 / 3.0;
const TARRY: f64 = 2.0 / 3.0;
/// The share of tar in smoke is known within this factor.
const TAR_BAND: f64 = 3.0;
/// Thinner than this is bare: a brush of soot.
const BARE_M: f64 = 5e-6;

/// Thickness: lowest, middle and highest, m.
pub fn thickness_m(soot_kg: f64, tar_kg: f64, area_m2: f64) -> [f64; 3] {
    let at = |i: usize| {
        (soot_kg / (SOOT.carbon * SOOT.density[i]) + tar_kg / (TAR.carbon * TAR.density[i]))
            / area_m2
    };
    [at(2), at(1), at(0)]
}

/// What a layer with `soot` and `tar` is called.
pub fn kind(soot: f64, tar: f64) -> LayerKind {
    match tar / (soot + tar) {
        x if x < FLAKY => LayerKind::Powdery,
        x if x < TARRY => LayerKind::Flaky,
        _ => LayerKind::Tarry,
    }
}

/// Thickest of the surfaces' cells that `which` picks: lowest, middle, highest.
pub(super) fn thickest_m(
    surfaces: &[Surface],
    kg: &[f64],
    which: impl Fn(&Surface) -> bool,
) -> Option<[f64; 3]> {
    surfaces
        .iter()
        .filter(|s| which(s))
        .flat_map(|s| {
            (0..s.cells).filter_map(move |j| {
                let (soot, tar) = (kg.get(s.first + j)?, kg.get(s.first + s.cells + j)?);
                Some(thickness_m(*soot, *tar, s.cell_area_m2))
            })
        })
        .max_by(|a, b| a[1].total_cmp(&b[1]))
}

/// All cells after the season, as the first burn and the last saw them.
pub(super) fn map(kg: &[f64], first: &One, last: &One) -> Vec<LayerCell> {
    let mut cells = Vec::new();
    for s in &first.surfaces {
        for j in 0..s.cells {
            let (soot_kg, tar_kg) = (kg[s.first + j], kg[s.first + s.cells + j]);
            let [thickness_low_m, thickness_m, thickness_high_m] =
                thickness_m(soot_kg, tar_kg, s.cell_area_m2);
            let named = |factor: f64| {
                if thickness_m < BARE_M {
                    LayerKind::Bare
                } else {
                    kind(soot_kg / SOOT.carbon, factor * tar_kg / TAR.carbon)
                }
            };
            let seen = |of: &[f64]| of.get(s.first + j).copied().unwrap_or(f64::NAN);
            cells.push(LayerCell {
                surface: s.name.clone(),
                is_coil: s.is_coil,
                is_flue: s.is_flue,
                cell: j + 1,
                area_m2: s.cell_area_m2,
                soot_kg,
                tar_kg,
                thickness_m,
                thickness_low_m,
                thickness_high_m,
                tar_thickness_share: tar_kg
                    / (TAR.carbon * TAR.density[1])
                    / (thickness_m * s.cell_area_m2).max(1e-15),
                surface_bare_K: seen(&first.seen.surface_k),
                surface_last_K: seen(&last.seen.surface_k),
                wet_share: seen(&first.seen.wet_share),
                tar_share: tar_kg
                    / TAR.carbon
                    / (soot_kg / SOOT.carbon + tar_kg / TAR.carbon).max(1e-12),
                kind: named(1.0),
                kind_low: named(1.0 / TAR_BAND),
                kind_high: named(TAR_BAND),
            });
        }
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn analytic_a_kilogram_of_layer_on_a_square_metre() {
        // 0.9 kg of carbon in loose soot is 1 kg of it: 10 mm at 100 kg/m3.
        let [low, mid, high] = thickness_m(0.9, 0.0, 1.0);
        assert!((mid - 0.010).abs() < 1e-12);
        assert!((low - 1.0 / 140.0).abs() < 1e-12 && (high - 1.0 / 70.0).abs() < 1e-12);
        let [_, mid, _] = thickness_m(0.0, 0.6, 2.0);
        assert!((mid - 1.0 / 1100.0).abs() < 1e-12);
    }

    #[test]
    fn analytic_names_go_from_powder_to_tar() {
        assert_eq!(kind(3.0, 1.0), LayerKind::Powdery);
        assert_eq!(kind(1.0, 1.0), LayerKind::Flaky);
        assert_eq!(kind(1.0, 3.0), LayerKind::Tarry);
    }
}
