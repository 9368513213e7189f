//! Kettles around their chimney, of the third blind trial: see `blind_third`.

use super::blind::hours;
use super::blind_third::{logs, sheet_box};
use super::check::{Check, Source, Tolerance};
use super::sampled::{Dice, blind, row, run};
use crate::support::rigs::{layer, section};
use crate::support::variants::{steady, submerged, vessel};
use emberloop::components::spec::*;
use std::f64::consts::PI;

const SMALL_KETTLE: Source = Source::published(
    "a tester's note on a small chimney kettle (lightpack.blogspot.com, April 2011)",
    "0.47 L from about 50 °F in 6.5 min; others of the same kettle 4.5 (its maker) and 5.5 min, start not told; seen. Open: chimney, air, twigs, wind, from when it counts",
);
const LARGE_KETTLE: Source = Source::published(
    "users of a large chimney kettle (forums.equipped.org; alittlebitofeach.wordpress.com)",
    "a quart in 5 min; 8 min from the match, 5 of them with the kettle on, volume not told; to the minute, seen. Open: chimney, opening, start, twigs, wind",
);

/// A kettle of aluminium around its chimney, on a fire bowl of aluminium. Diameters inside, of foot and top.
struct Kettle {
    bowl_m: f64,
    bowl_high_m: f64,
    shell_m: (f64, f64),
    chimney_m: (f64, f64),
    high_m: f64,
    water_m3: f64,
    inlet_m2: f64,
    loss_w_k: f64,
    shell_j_k: f64,
    /// Twigs: thickness, length, moisture; first bowlful; then so much every half minute.
    twig_m: (f64, f64),
    moisture_wet: f64,
    first_kg: f64,
    then_kg: f64,
    starter_j: f64,
}

fn aluminium(mm: f64) -> Layer {
    layer("aluminium", mm * 1e-3, 2700.0, 900.0, 200.0, true)
}

impl Kettle {
    /// Diameter at a share of the height, of a cone.
    fn across_m((foot_m, top_m): (f64, f64), share: f64) -> f64 {
        foot_m + (top_m - foot_m) * share
    }

    /// How high the water stands.
    fn level_m(&self) -> f64 {
        let (mut z, mut filled, step) = (0.0, 0.0, 1e-4);
        while filled < self.water_m3 && z < self.high_m {
            let at = |cone| Self::across_m(cone, z / self.high_m);
            // The chimney's sheet with it.
            filled += 0.25
                * PI
                * (at(self.shell_m).powi(2) - (at(self.chimney_m) + 0.0016).powi(2))
                * step;
            z += step;
        }
        z
    }

    fn rig(&self) -> Rig {
        let mut r = submerged();
        r.title = "Kettle around its chimney (invented)".into();
        r.site.altitude_m = 150.0;
        let side = self.bowl_m * (0.25 * PI).sqrt();
        let third_m = self.high_m / 3.0;
        let part = |name: &str, share: f64| Section {
            in_water: true,
            ..section(
                name,
                SectionKind::Passage,
                Self::across_m(self.chimney_m, share),
                third_m,
                vec![aluminium(0.8)],
            )
        };
        r.gas_path = vec![
            part("foot", 1.0 / 6.0),
            part("middle", 0.5),
            part("neck", 5.0 / 6.0),
        ];
        r.firebox = Firebox {
            wall: vec![aluminium(0.8)],
            wet_wall: vec![aluminium(0.8)],
            door: vec![aluminium(0.8)],
            hearth_mass_kg: 0.1,
            ..sheet_box((side, side, self.bowl_high_m), 4e-4, self.inlet_m2, 1.0)
        };
        // Its bottom is the ring around the chimney's foot.
        let ring_m2 = 0.25 * PI * (self.shell_m.0.powi(2) - self.chimney_m.0.powi(2));
        r.firebox.in_water = ring_m2 / r.firebox.lining_m2(r.gas_path[0].area_m2());
        r.fuel.density_kg_m3 = 550.0;
        logs(&mut r, self.twig_m.0, self.twig_m.1, self.moisture_wet);
        r.fuel.stick.shape = StickShape::Round;
        r.lighting = Lighting {
            kindling_kg: self.first_kg,
            kindling_thickness_m: self.twig_m.0,
            kindling_moisture_wet: self.moisture_wet,
            starter_j: self.starter_j,
            starter_s: 60.0,
        };
        r.feeding = Feeding {
            list: vec![],
            every: vec![FeedEvery {
                from_s: 60.0,
                interval_s: 30.0,
                until: Until::Target,
                mass_kg: self.then_kg,
            }],
            rules: vec![],
            door_open_s: 0.0,
        };
        r.controls.air_inlet = steady(1.0);
        let v = vessel(&mut r);
        v.kind = VesselKind::Barrel;
        v.surface = None;
        v.water_m3 = self.water_m3;
        v.water_depth_m = self.level_m();
        v.floor_z_m = self.bowl_high_m;
        v.hot_port_m = 0.8 * v.water_depth_m;
        v.cold_port_m = 0.2 * v.water_depth_m;
        v.draw_port_m = 0.5 * v.water_depth_m;
        v.layers = 1;
        v.loss_w_k = self.loss_w_k;
        v.shell_heat_capacity_j_k = self.shell_j_k;
        // Half a kelvin under the boil at that height.
        r.target.temperature_k = 372.15;
        r.stop.at_target = true;
        r.stop.after_target_s = 0.0;
        r.stop.latest_s = 2400.0;
        r.solver.output_interval_s = 5.0;
        r
    }
}

/// Given: kettle of 95 x 171 mm with a sleeve, bowl of 108 mm, pencil-thin twigs and thinner, 0.47 L from 10 °C. Open: chimney, bowl's depth, air, wood, wind, from when the
/// time counts: from lighting to a minute after.
pub fn small_kettle_rig(d: &Dice) -> Rig {
    let mut r = Kettle {
        bowl_m: 0.105,
        bowl_high_m: d.between(0, 0.04, 0.05),
        shell_m: (0.093, 0.093),
        chimney_m: (d.between(1, 0.07, 0.075), d.between(2, 0.035, 0.045)),
        high_m: 0.165,
        water_m3: 0.00047,
        inlet_m2: d.between(3, 0.0005, 0.0012),
        loss_w_k: d.between(4, 0.2, 0.4),
        shell_j_k: 90.0,
        twig_m: (d.between(5, 0.004, 0.008), 0.08),
        moisture_wet: d.between(6, 0.1, 0.16),
        first_kg: d.between(7, 0.025, 0.045),
        then_kg: d.between(8, 0.004, 0.01),
        starter_j: d.between(9, 0.05e6, 0.15e6),
    }
    .rig();
    r.site.air_temperature_k = Profile::constant(273.15 + d.between(10, 5.0, 20.0));
    r.site.wind_m_s = d.between(11, 0.0, 3.0);
    vessel(&mut r).start_temperature_k = 283.15;
    r
}

/// Given: cone of some 1.45 L, bowl 60 mm deep with one round opening in the wind, pencil-thin twigs; 0.95 L, or what a second user fills in. Open: chimney, opening, start, wood, wind (on the cap: none on the opening in the model).
pub fn large_kettle_rig(d: &Dice, litres: f64) -> Rig {
    let mut r = Kettle {
        bowl_m: 0.165,
        bowl_high_m: 0.06,
        shell_m: (0.176, 0.105),
        chimney_m: (d.between(0, 0.13, 0.14), d.between(1, 0.05, 0.06)),
        high_m: d.between(2, 0.21, 0.26),
        water_m3: litres * 1e-3,
        inlet_m2: 0.25 * PI * d.between(3, 0.04, 0.05).powi(2),
        loss_w_k: d.between(4, 0.6, 1.2),
        shell_j_k: 350.0,
        twig_m: (d.between(5, 0.006, 0.009), 0.12),
        moisture_wet: d.between(6, 0.1, 0.16),
        first_kg: d.between(7, 0.06, 0.11),
        then_kg: d.between(8, 0.007, 0.018),
        starter_j: d.between(9, 0.1e6, 0.3e6),
    }
    .rig();
    r.site.air_temperature_k = Profile::constant(273.15 + d.between(10, 5.0, 22.0));
    r.site.wind_m_s = d.between(11, 0.5, 4.0);
    vessel(&mut r).start_temperature_k = 273.15 + d.between(12, 10.0, 20.0);
    r
}

pub fn rows() -> Vec<Check> {
    let [small] = blind(|d| {
        let s = run(&d.closures(&small_kettle_rig(&d), &[]))?.summary;
        Some([60.0 * hours(&s) - d.between(12, 0.0, 1.0)])
    });
    let [large] = blind(|d| {
        let s = run(&d.closures(&large_kettle_rig(&d, 0.95), &[]))?.summary;
        Some([60.0 * hours(&s) - d.between(13, 0.5, 1.5)])
    });
    let [match_to_boil] = blind(|d| {
        let s = run(&d.closures(&large_kettle_rig(&d, d.between(14, 0.8, 1.4)), &[]))?.summary;
        Some([60.0 * hours(&s)])
    });
    vec![
        row(
            &SMALL_KETTLE,
            "time to boil 0.47 L in a small chimney kettle",
            "min",
            6.5,
            &small,
            Tolerance::Relative(0.15),
        )
        .because("6.5 min ask for 0.46 kW, and 0.68 are given of a fire of 2.8 kW: the twigs have surface enough to burn all the air that the openings sampled let in, at a ratio of 1.1; with half the openings 5.8 min. Others boiled it in 4.5 and 5.5 min"),
        row(
            &LARGE_KETTLE,
            "time to boil 0.95 L in a large chimney kettle",
            "min",
            5.0,
            &large,
            Tolerance::Relative(0.15),
        )
        .because("as the small one, 1.3 kW where 1.1 are asked for; told to the minute"),
        row(
            &LARGE_KETTLE,
            "time from the match to the boil, large chimney kettle",
            "min",
            8.0,
            &match_to_boil,
            Tolerance::Relative(0.15),
        )
        .because("five of the eight minutes were with the kettle on: three went into laying and lighting a bowl that a starter lights here under the kettle"),
    ]
}
