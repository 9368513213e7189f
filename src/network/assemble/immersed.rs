//! Which walls stand in the water of store or drum, and how deep.

use crate::components::gas_path::Duct;
use crate::components::immersed::{Face, Immersed};
use crate::components::spec::Rig;
use crate::components::vessel::VesselModel;
use crate::network::{BANDS, FireboxModel};
use crate::properties::water::Water;

/// Height of water over a store's bottom that counts as wetting it, m.
const BOTTOM_M: f64 = 5e-3;

/// Tells the walls that stand in the water of `vessel`; whether there are any.
pub(super) fn soak(
    rig: &Rig,
    vessel: &VesselModel,
    water: &Water,
    surface_pa: f64,
    ducts: &mut [Duct],
    firebox: &mut FireboxModel,
) -> bool {
    let over = |z: (f64, f64)| (z.0 - vessel.floor_z_m, z.1 - vessel.floor_z_m);
    let full = (vessel.surface_z_m - vessel.floor_z_m, surface_pa);
    let f = &rig.firebox;
    // Its water stands from the hearth, or the store's floor, to the firebox's top, or the store's surface.
    let (low_m, up_m) = over((0.0, f.height_m.min(vessel.surface_z_m)));
    let low_m = low_m.max(0.0);
    let band_m = (up_m - low_m) / BANDS as f64;
    let mut any = false;
    let bands = firebox.plates.iter_mut().filter(|p| p.seen > 0.0);
    for (i, band) in bands.enumerate() {
        let (span, face) = if rig.fire_is_under_store(vessel.floor_z_m) {
            // All bands together are the store's bottom, taken as square.
            let bottom_m2 = BANDS as f64 * band.wall.outer_area_m2;
            let length_m = 0.25 * bottom_m2.sqrt();
            ((0.0, BOTTOM_M), Face::Upwards { length_m })
        } else {
            let from_m = low_m + band_m * i as f64;
            let height_m = up_m - low_m;
            ((from_m, from_m + band_m), Face::Upright { height_m })
        };
        band.immersed = Immersed::new(&band.wall, vec![span], face, water, full);
        any |= band.immersed.is_some();
    }
    for ((i, s), d) in rig.gas_path.iter().enumerate().zip(ducts) {
        if s.in_water {
            let cells: Vec<(f64, f64)> = (0..d.wall_cells)
                .map(|cell| over(rig.reach_m(i, (cell, d.wall_cells))))
                .collect();
            let (low_m, up_m) = over(rig.reach_m(i, (0, 1)));
            let height_m = up_m.min(full.0) - low_m.max(0.0);
            if height_m > 0.0 {
                let face = Face::Upright { height_m };
                d.immersed = Immersed::new(&d.wall, cells, face, water, full);
                any |= d.immersed.is_some();
            }
        }
    }
    any
}
