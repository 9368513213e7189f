//! What follows from a rig's description as a whole: its loop, heights, walls in water.

use super::spec::{Bore, Layer, Loop, Rig, Section, Vessel, Water};

/// How near a store's floor lies to the firebox's top where the store stands on it, m.
const ON_TOP_M: f64 = 0.03;

impl Rig {
    /// The loop between coil and store or bench.
    pub fn circuit(&self) -> Option<&Loop> {
        match &self.water {
            Water::Store { circuit, .. } => circuit.as_ref(),
            Water::BenchOnly { circuit, .. } => Some(circuit),
            Water::OnceThrough { .. } | Water::None => None,
        }
    }

    /// Lower and upper end of the outside of part `cell` of `cells` equal ones along section `i`, from the datum, m: a sloping duct
    /// is as high as it rises, a level one as its outside.
    pub fn reach_m(&self, i: usize, (cell, cells): (usize, usize)) -> (f64, f64) {
        let s = &self.gas_path[i];
        let before: f64 = self.gas_path[..i].iter().map(|s| s.rise_m).sum();
        let start_m = self.firebox.outlet_z_m() + before;
        let share = |x: f64| start_m + s.rise_m * x / cells as f64;
        let (a, b) = (share(cell as f64), share(cell as f64 + 1.0));
        let wall_m: f64 = s.wall.iter().map(|l| l.thickness_m).sum();
        let height_m = match s.bore {
            Bore::Round { diameter_m } => diameter_m,
            Bore::Rect { depth_m, .. } => depth_m,
        } + 2.0 * wall_m;
        let level = (1.0 - (s.rise_m / s.length_m).powi(2)).max(0.0).sqrt();
        let half_m = 0.5 * height_m * level;
        (a.min(b) - half_m, a.max(b) + half_m)
    }

    /// Whether a store whose floor is at `floor_z_m` stands on the firebox: then the part of its wall that is in the water is the
    /// store's bottom.
    pub fn fire_is_under_store(&self, floor_z_m: f64) -> bool {
        (floor_z_m - self.firebox.height_m).abs() <= ON_TOP_M
    }

    /// Outside of all walls that stand in water, m2; of sections all of their length.
    pub fn in_water_m2(&self) -> f64 {
        let f = &self.firebox;
        let thick = |wall: &[Layer]| wall.iter().map(|l| l.thickness_m).sum::<f64>();
        let half_m = f.half_width_m();
        let outlet_m2 = self.gas_path.first().map_or(0.0, Section::area_m2);
        let of_box = f.lining_m2(outlet_m2) * ((half_m + thick(f.wetted_wall())) / half_m).powi(2);
        let of_path = |s: &Section| {
            let grown_m = 2.0 * std::f64::consts::PI * thick(&s.wall) * s.passages.max(1) as f64;
            (1.0 - s.dry_share) * s.length_m * (s.perimeter_m() + grown_m)
        };
        let in_water = self.gas_path.iter().filter(|s| s.in_water);
        f.in_water * of_box + in_water.map(of_path).sum::<f64>()
    }

    /// All walls that the fire or its gas touches: firebox, door, sections.
    pub fn walls(&self) -> impl Iterator<Item = &[Layer]> {
        let f = &self.firebox;
        let sections = self.gas_path.iter().flat_map(|s| [&s.wall, &s.dry_wall]);
        [&f.wall, &f.door]
            .into_iter()
            .chain(sections)
            .map(Vec::as_slice)
    }

    /// The same rig with no water in its walls.
    pub fn with_dry_walls(&self) -> Self {
        let mut rig = self.clone();
        let f = &mut rig.firebox;
        let sections = rig
            .gas_path
            .iter_mut()
            .flat_map(|s| [&mut s.wall, &mut s.dry_wall]);
        for layer in [&mut f.wall, &mut f.door]
            .into_iter()
            .chain(sections)
            .flatten()
        {
            layer.moisture = 0.0;
        }
        rig
    }

    /// Walls that stand in water: the drum's where there is one, else the store's.
    pub fn has_walls_in_water(&self) -> bool {
        self.firebox.in_water > 0.0 || self.gas_path.iter().any(|s| s.in_water)
    }

    /// Walls that stand in the store's water.
    pub fn heats_store_by_walls(&self) -> bool {
        self.drum.is_none() && self.has_walls_in_water()
    }

    /// What the walls in water stand in.
    pub fn bath(&self) -> Option<&Vessel> {
        match (&self.drum, &self.water) {
            (Some(drum), _) => Some(drum),
            (None, Water::Store { vessel, .. }) => Some(vessel),
            (None, _) => None,
        }
    }
}
