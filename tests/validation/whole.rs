//! Whole systems: measured burns with a store, rigs built from what is given and sampled over what is not.

use super::check::{Check, Source, Tolerance};
use super::sampled::{row, run, samples};
use crate::support::loops::steady_flow;
use crate::support::rigs::{layer, section, steel};
use crate::support::stoves::pumps;
use crate::support::variants::{brick, circuit, door_stove, steady, tub, vessel};
use emberloop::components::spec::*;
use emberloop::properties::combustion::stoichiometric_air_kg_kg_dry;

const TUB_BY_WOOD: Source = Source::published(
    "a tub's owner (jnsgr.uk, November 2024)",
    "1,700 L with lid, external wood burner, 1.5-2 h for the rise that 3 kW electric takes 12-15 h for; seen. Open: burner, wood per hour, temperatures, air",
);
const BOILER: Source = Source::published(
    "log boiler owners' measurements (hearth.com 34531, 56938, 54083)",
    "fan-assisted boiler into 3.8 m³, wood weighed; seen. Open: moisture, air ratio, heat exchanger, insulation; the air flow is fixed by a fan",
);
const TUB_LOSS: Source = Source::published(
    "notes on a home-built tub (public repository)",
    "1,600 L, 50 mm insulation all round, covered, 6-10 K a day; seen. Open: weather, lid's leaks, joints",
);
const OIL_LOOP: Source = Source::published(
    "Zweibaum 2015 (UC Berkeley); ANL/NSE-19/11",
    "nine steady states of an oil loop, least squares; seen. Open: geometry; only the exponent, ± 20 %",
);

pub fn rows() -> Vec<Check> {
    let mut rows = vec![tub_by_wood()];
    rows.extend(boiler());
    rows.push(tub_loss());
    rows.push(oil_loop());
    rows.extend(super::fires::rows());
    rows
}

/// Stands for a water jacket, which the model does not have: a wall that keeps next to nothing and passes next to nothing on,
/// so that all heat is left to the coil, as a jacket gives all it takes to the water.
pub fn jacket() -> Vec<Layer> {
    vec![
        layer("ceramic fibre", 0.05, 128.0, 1000.0, 0.12, false),
        layer("mineral wool", 0.05, 80.0, 840.0, 0.06, false),
        steel(1.0),
    ]
}

/// A heater of the tub's kind: logs behind a door, coil right above the fire, thermosyphon through wide hoses, its chamber lined with brick or jacketed. The rise is
/// what 36 to 45 kWh of electric heat leave in the water after a lidded tub's losses: 16 to 20 K.
fn tub_by_wood() -> Check {
    let [hours] = samples(|d| {
        let kg_h = d.between(0, 6.0, 12.0);
        let mut r = tub();
        let stove = door_stove();
        r.title = "Tub with an external burner (invented)".into();
        r.site.air_temperature_k = Profile::constant(273.15 + d.between(1, 0.0, 15.0));
        r.firebox = Firebox {
            width_m: 0.45,
            depth_m: 0.6,
            height_m: 0.45,
            mouth_area_m2: 0.08,
            air_inlet_area_m2: d.between(2, 0.004, 0.008),
            air_over_share: 0.0,
            burning_length_m: 0.5,
            hearth_mass_kg: 15.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: if d.between(7, 0.0, 1.0) < 0.5 {
                vec![brick(30.0), steel(4.0)]
            } else {
                jacket()
            },
            ..stove.firebox
        };
        r.gas_path = vec![
            section(
                "coil passage",
                SectionKind::Passage,
                0.5,
                0.6,
                vec![
                    steel(3.0),
                    layer("mineral wool", 0.03, 80.0, 840.0, 0.06, false),
                ],
            ),
            Section {
                loss_k: 0.5,
                in_wind: true,
                ..section("flue", SectionKind::Flue, 0.15, 2.5, vec![steel(0.8)])
            },
        ];
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(3, 0.06, 0.09),
            length_m: 0.45,
        };
        r.fuel.moisture_wet = d.between(4, 0.14, 0.22);
        r.lighting.kindling_kg = 1.5;
        r.lighting.kindling_thickness_m = 0.02;
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: 240.0,
                mass_kg: kg_h / 3.0,
                thickness_m: Some(0.05),
            }],
            every: vec![FeedEvery {
                from_s: 1200.0,
                interval_s: 900.0,
                until: Until::Target,
                mass_kg: kg_h / 4.0,
            }],
            rules: vec![],
            door_open_s: 20.0,
        };
        let length_m = d.between(5, 12.0, 20.0);
        let (z0, pitch_m) = (r.firebox.height_m + 0.03, 0.04);
        let turns = length_m / (std::f64::consts::PI * 0.42);
        let c = &mut r.coils[0];
        c.section = 0;
        c.form = CoilForm::Helix {
            coil_diameter_m: 0.42,
            pitch_m,
        };
        c.tube_outside_m = 0.035;
        c.tube_inside_m = 0.032;
        c.length_m = length_m;
        c.bottom_z_m = z0;
        c.top_z_m = z0 + turns * pitch_m;
        let l = circuit(&mut r);
        l.supply.inside_m = 0.05;
        l.ret.inside_m = 0.05;
        let v = vessel(&mut r);
        v.water_m3 = 1.7;
        v.water_depth_m = 0.85;
        v.floor_z_m = 0.3;
        v.hot_port_m = 0.7;
        v.cold_port_m = 0.15;
        v.loss_w_k = 15.0;
        v.start_temperature_k = 311.15 - d.between(6, 16.0, 20.0);
        if let Some(s) = &mut v.surface {
            s.area_m2 = 2.0;
        }
        r.controls.cover = steady(true);
        r.controls.air_inlet = steady(1.0);
        r.target.temperature_k = 311.15;
        r.stop.after_target_s = 0.0;
        r.stop.latest_s = 8.0 * 3600.0;
        let s = run(&d.closures(&r, &[]))?.summary;
        Some([s.time_to_target_s.unwrap_or(f64::INFINITY) / 3600.0])
    });
    row(
        &TUB_BY_WOOD,
        "time to heat a tub of 1,700 L",
        "h",
        1.75,
        &hours,
        Tolerance::Relative(0.25),
    )
    .because("the burner is not described: of the heaters sampled (6 to 12 kg/h) nine of the ten with a jacket and over 8 kg/h are as quick, none lined with brick is")
}

/// Two kilopascals falling to nothing: the few pascals of the path do not move such a flow.
pub fn set_fan(rig: &mut Rig, m3_s: f64) {
    for s in &mut rig.gas_path {
        if let SectionKind::Fan { curve } = &mut s.kind {
            *curve = vec![(0.0, 2000.0), (m3_s, 0.0)];
        }
    }
}

pub fn fan() -> Section {
    section(
        "fan",
        SectionKind::Fan {
            curve: vec![(0.0, 2000.0), (0.02, 0.0)],
        },
        0.15,
        0.2,
        vec![steel(1.5)],
    )
}

/// What a log boiler's burn leaves open.
pub struct LogBoiler {
    pub wood_kg: f64,
    pub burn_s: f64,
    pub moisture_wet: f64,
    pub air_ratio: f64,
    pub coil_m: f64,
}

impl LogBoiler {
    /// Fan-assisted: fire in a jacket, burn-out duct, heat exchanger, fan; a store of 3.8 m³.
    pub fn rig(&self) -> Rig {
        let mut r = door_stove();
        r.title = "Fan-assisted heater into a large store (invented)".into();
        r.site.air_temperature_k = Profile::constant(288.15);
        r.firebox = Firebox {
            width_m: 0.4,
            depth_m: 0.55,
            height_m: 0.5,
            mouth_area_m2: 0.08,
            air_inlet_area_m2: 0.006,
            air_over_share: 0.0,
            burning_length_m: 0.5,
            hearth_mass_kg: 20.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: jacket(),
            door: jacket(),
            ..r.firebox
        };
        r.gas_path = vec![
            section("burn-out duct", SectionKind::Riser, 0.2, 0.6, jacket()),
            section("coil passage", SectionKind::Passage, 0.45, 1.0, jacket()),
            fan(),
            Section {
                loss_k: 0.5,
                ..section("flue", SectionKind::Flue, 0.15, 4.0, vec![steel(0.8)])
            },
        ];
        let turns = self.coil_m / (std::f64::consts::PI * 0.36);
        let z0 = 0.5 + 0.6 + 0.02;
        let c = &mut r.coils[0];
        c.section = 1;
        c.form = CoilForm::Helix {
            coil_diameter_m: 0.36,
            pitch_m: 0.95 / turns,
        };
        c.tube_outside_m = 0.022;
        c.tube_inside_m = 0.02;
        c.length_m = self.coil_m;
        c.core_plug_share = 0.5;
        c.bottom_z_m = z0;
        c.top_z_m = z0 + 0.95;
        r.fuel.moisture_wet = self.moisture_wet;
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: 0.09,
            length_m: 0.5,
        };
        r.lighting.kindling_kg = 2.5;
        let loads = ((self.burn_s - 3600.0) / 1800.0).round();
        let load_kg = (self.wood_kg - 2.5) / loads;
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: 300.0,
                mass_kg: load_kg,
                thickness_m: Some(0.06),
            }],
            every: vec![FeedEvery {
                from_s: 2100.0,
                interval_s: 1800.0,
                until: Until::Time(2100.0 + (loads - 1.5) * 1800.0),
                mass_kg: load_kg,
            }],
            rules: vec![],
            door_open_s: 20.0,
        };
        r.controls.air_inlet = steady(1.0);
        pumps(&mut r, 30.0);
        r.controls.pump = steady(Some(0));
        let v = vessel(&mut r);
        v.water_m3 = 3.785;
        v.water_depth_m = 1.5;
        v.hot_port_m = 1.4;
        v.cold_port_m = 0.1;
        v.layers = 8;
        v.start_temperature_k = 322.15;
        v.loss_w_k = 6.0;
        r.target.temperature_k = 368.0;
        r.stop.at_target = false;
        // Until the embers are out: the wood is all burnt.
        r.stop.latest_s = self.burn_s + 3600.0;
        r.solver.output_interval_s = 60.0;
        // Air as for the mean wood rate at this air ratio; the gas leaves at some 120 °C.
        let dry = 1.0 - r.fuel.moisture_wet;
        let f = &r.fuel;
        let air_kg = self.air_ratio
            * dry
            * stoichiometric_air_kg_kg_dry(f.carbon_daf, f.hydrogen_daf, f.oxygen_daf);
        set_fan(
            &mut r,
            self.wood_kg / self.burn_s * (air_kg + 1.0) * 287.0 * 393.0 / 101_325.0,
        );
        r
    }
}

/// 44.5 kg in 5.5 h into a charged store.
fn boiler() -> Vec<Check> {
    let [mj_kg] = samples(|d| {
        let r = LogBoiler {
            wood_kg: 44.5,
            burn_s: 5.5 * 3600.0,
            moisture_wet: d.between(0, 0.15, 0.25),
            air_ratio: d.between(1, 1.4, 2.0),
            coil_m: d.between(2, 25.0, 45.0),
        }
        .rig();
        let s = run(&d.closures(&r, &[]))?.summary;
        Some([1e-6 * s.heat_to_tank_J / s.fuel_burnt_kg])
    });
    vec![
        row(
            &BOILER,
            "heat into the store per kilogram of wood: 44.5 kg in 5.5 h, 120 kWh",
            "MJ/kg",
            9.71,
            &mj_kg,
            Tolerance::Relative(0.1),
        ),
        row(
            &BOILER,
            "heat into the store per kilogram of wood: another rig, two days",
            "MJ/kg",
            10.83,
            &mj_kg,
            Tolerance::Relative(0.1),
        )
        .because("one boiler is modelled for two owners whose figures lie 12 % apart; it meets the first, and of the second neither boiler nor store is told. Its fan blows alike over flames and over the embers between loads, which then give their heat to much air: a boiler that throttles its fan would lie higher"),
    ]
}

/// The tub alone with its lid on for a day, walls and lid of 50 mm foam behind wood (0.6 W/m²K), nothing lit.
fn tub_loss() -> Check {
    let [kelvin] = samples(|d| {
        let mut r = tub();
        r.title = "Covered tub, no fire (invented)".into();
        r.lighting.kindling_kg = 0.0;
        r.feeding = Feeding::default();
        r.site.air_temperature_k = Profile::constant(273.15 + d.between(0, 0.0, 15.0));
        r.site.wind_m_s = d.between(1, 0.5, 4.0);
        let l = circuit(&mut r);
        l.check_valve = true;
        let v = vessel(&mut r);
        v.water_m3 = 1.6;
        v.water_depth_m = 0.8;
        v.layers = 2;
        v.start_temperature_k = 310.15;
        v.loss_w_k = 6.0 * 0.6 * d.between(2, 1.0, 1.6);
        if let Some(s) = &mut v.surface {
            s.area_m2 = 2.0;
            s.cover_w_m2k = 0.6 * d.between(3, 1.0, 2.0);
            s.cover_leak = d.between(4, 0.02, 0.15);
        }
        r.controls.cover = steady(true);
        r.target.temperature_k = 340.0;
        r.stop.at_target = false;
        r.stop.latest_s = 86_400.0;
        r.solver.output_interval_s = 600.0;
        let result = run(&d.closures(&r, &["vessel_loss"]))?;
        let t = result.series.get("tank_mean_temperature_K").expect("tank");
        Some([t[0] - t[t.len() - 1]])
    });
    row(
        &TUB_LOSS,
        "cooling of a covered tub of 1,600 L in a day",
        "K",
        8.0,
        &kelvin,
        Tolerance::Within(6.0, 10.0),
    )
    .because("insulation, lid and leak as built by the book lose half of what the owner saw; joints, rim, hoses and weather are not known")
}

fn oil_loop() -> Check {
    let [exponent] = samples(|d| {
        let (bore, high) = (d.between(0, 0.02, 0.035), d.between(1, 1.0, 3.0));
        let long = 2.0 * high + d.between(2, 1.0, 4.0);
        let fittings = d.between(3, 5.0, 40.0);
        // Cold legs as measured: 50 °C at 841 W, 71 °C at 2,509 W.
        let at =
            |q: f64, cold_c: f64| steady_flow(bore, high, long, fittings, cold_c + 273.15, q).0;
        Some([(at(2509.0, 70.6) / at(841.0, 50.5)).ln() / (2509.0f64 / 841.0).ln()])
    });
    row(
        &OIL_LOOP,
        "exponent of flow on heat in natural circulation (water in the model, oil there)",
        "",
        0.5,
        &exponent,
        Tolerance::Relative(0.2),
    )
}
