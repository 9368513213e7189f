//! Which walls stand in the store's water, and how deep.

use crate::components::gas_path::Duct;
use crate::components::immersed::Immersed;
use crate::components::spec::Rig;
use crate::components::vessel::VesselModel;
use crate::network::{BANDS, FireboxModel};
use crate::properties::water::Water;

/// Tells the walls that stand in the water of `vessel`.
pub(super) fn soak(
    rig: &Rig,
    vessel: &VesselModel,
    water: &Water,
    surface_pa: f64,
    ducts: &mut [Duct],
    firebox: &mut FireboxModel,
) {
    let over = |z: (f64, f64)| (z.0 - vessel.floor_z_m, z.1 - vessel.floor_z_m);
    let full = (vessel.surface_z_m - vessel.floor_z_m, surface_pa);
    let f = &rig.firebox;
    let (low_m, up_m) = over((0.0, f.height_m.min(vessel.surface_z_m)));
    let low_m = low_m.max(0.0);
    let band_m = (up_m - low_m) / BANDS as f64;
    let bands = firebox.plates.iter_mut().filter(|p| p.seen > 0.0);
    for (i, band) in bands.enumerate() {
        // Its water stands from the hearth, or the store's floor, to the firebox's top, or the store's surface.
        let from_m = low_m + band_m * i as f64;
        let spans = vec![(from_m, from_m + band_m)];
        band.immersed = Immersed::new(&band.wall, spans, up_m - low_m, water, full);
    }
    for ((i, s), d) in rig.gas_path.iter().enumerate().zip(ducts) {
        if s.in_water {
            let cells: Vec<(f64, f64)> = (0..d.wall_cells)
                .map(|cell| over(rig.reach_m(i, (cell, d.wall_cells))))
                .collect();
            let (low_m, up_m) = over(rig.reach_m(i, (0, 1)));
            let film_m = up_m.min(full.0) - low_m.max(0.0);
            d.immersed = Immersed::new(&d.wall, cells, film_m, water, full);
        }
    }
}
