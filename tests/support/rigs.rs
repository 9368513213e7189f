//! Rigs built in code for tests: the wash-up barrel of the bundled scenario, and small variations of it.
#![allow(dead_code)]

use emberloop::components::spec::*;

pub fn layer(material: &str, thickness_m: f64, rho: f64, c: f64, k: f64, thin: bool) -> Layer {
    Layer {
        material: material.into(),
        thickness_m,
        density_kg_m3: rho,
        heat_capacity_j_kgk: c,
        heat_capacity_slope_j_kgk2: 0.0,
        conductivity_w_mk: k,
        conductivity_slope_w_mk2: 0.0,
        emissivity: 0.85,
        limit_k: None,
        thin,
        moisture: 0.0,
        vapour_resistance: None,
    }
}

pub fn steel(mm: f64) -> Layer {
    layer("steel", mm * 1e-3, 7850.0, 490.0, 45.0, true)
}

fn fixed<T>(v: T) -> Control<T> {
    Control {
        steps: Steps {
            initial: v,
            moves: vec![],
        },
        rule: None,
    }
}

pub fn section(
    name: &str,
    kind: SectionKind,
    bore_m: f64,
    length_m: f64,
    wall: Vec<Layer>,
) -> Section {
    Section {
        name: name.into(),
        kind,
        bore: Bore::Round { diameter_m: bore_m },
        passages: 1,
        length_m,
        rise_m: length_m,
        loss_k: 0.0,
        roughness_m: 1e-3,
        wall,
        in_wind: false,
        in_water: false,
        dry_share: 0.0,
        dry_wall: vec![],
        cells: None,
    }
}

pub fn hose(length_m: f64) -> Pipe {
    Pipe {
        length_m,
        inside_m: 0.019,
        wall_heat_capacity_j_mk: 300.0,
        loss_w_mk: 0.6,
        loss_k: 6.0,
        roughness_m: 1e-5,
    }
}

pub fn barrel() -> Rig {
    Rig {
        title: "Wash-up barrel (invented)".into(),
        site: Site {
            altitude_m: 420.0,
            air_temperature_k: Profile::constant(271.15),
            wind_m_s: 1.0,
            relative_humidity: 0.7,
        },
        target: Target {
            temperature_k: 338.15,
            probe: Probe::Mean,
        },
        stop: Stop {
            at_target: true,
            after_target_s: 600.0,
            latest_s: 6.0 * 3600.0,
        },
        fuel: Fuel {
            name: "maple".into(),
            carbon_daf: 0.49,
            hydrogen_daf: 0.062,
            oxygen_daf: 0.447,
            nitrogen_daf: 0.001,
            ash_dry: 0.005,
            density_kg_m3: 600.0,
            gross_heating_value_dry_j_kg: 19.8e6,
            moisture_wet: 0.18,
            char_yield_dry: 0.2,
            stick: Stick {
                shape: StickShape::Round,
                thickness_m: 0.03,
                length_m: 0.5,
            },
        },
        lighting: Lighting {
            kindling_kg: 0.8,
            kindling_thickness_m: 0.012,
            kindling_moisture_wet: 0.12,
            starter_j: 1e6,
            starter_s: 120.0,
        },
        feeding: Feeding {
            every: vec![FeedEvery {
                from_s: 360.0,
                interval_s: 600.0,
                until: Until::End,
                mass_kg: 0.7,
            }],
            ..Feeding::default()
        },
        firebox: Firebox {
            kind: FireboxKind::FeedTube,
            width_m: 0.15,
            depth_m: 0.3,
            height_m: 0.3,
            mouth_area_m2: 0.15 * 0.13,
            mouth_cover: 0.55,
            air_inlet_area_m2: 0.0,
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.2,
            hearth_mass_kg: 1.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![layer("fire brick", 0.06, 2000.0, 900.0, 1.0, false)],
            door: vec![],
        },
        gas_path: vec![
            section(
                "riser",
                SectionKind::Riser,
                0.15,
                1.0,
                vec![
                    layer("ceramic fibre", 0.05, 128.0, 1000.0, 0.12, false),
                    steel(0.8),
                ],
            ),
            section(
                "coil passage",
                SectionKind::Passage,
                0.42,
                0.26,
                vec![
                    steel(1.5),
                    layer("mineral wool", 0.03, 80.0, 840.0, 0.06, false),
                ],
            ),
            section("damper", SectionKind::Damper, 0.15, 0.1, vec![steel(0.8)]),
            Section {
                loss_k: 0.5,
                in_wind: true,
                ..section("flue", SectionKind::Flue, 0.15, 3.0, vec![steel(0.8)])
            },
        ],
        coils: vec![Coil {
            name: "coil".into(),
            section: 1,
            form: CoilForm::Helix {
                coil_diameter_m: 0.36,
                pitch_m: 0.03,
            },
            metal: TubeMetal {
                name: "copper".into(),
                density_kg_m3: 8940.0,
                heat_capacity_j_kgk: 385.0,
                conductivity_w_mk: 390.0,
                emissivity: 0.8,
                limit_k: 477.0,
            },
            tube_outside_m: 0.0159,
            tube_inside_m: 0.0138,
            length_m: 9.1,
            parallel: 1,
            water_entry: WaterEntry::GasOutlet,
            core_plug_share: 0.6,
            cells: None,
            bottom_z_m: 1.31,
            top_z_m: 1.55,
            fouling_m2k_w: 0.0,
        }],
        drum: None,
        wetted: vec![],
        thermometer: Thermometer {
            sheath_m: 0.003,
            emissivity: 0.8,
            from_coil_m: 0.05,
        },
        water: Water::Store {
            circuit: Some(Loop {
                pump: Some(Pump {
                    settings: vec![
                        PumpSetting {
                            name: "low".into(),
                            curve: vec![(0.0, 12e3), (1e-4, 8e3), (2e-4, 0.0)],
                            power_w: 8.0,
                        },
                        PumpSetting {
                            name: "high".into(),
                            curve: vec![(0.0, 30e3), (1.667e-4, 24e3), (4.17e-4, 0.0)],
                            power_w: 18.0,
                        },
                    ],
                    stopped_loss_k: 12.0,
                    power_to_water: 0.5,
                }),
                supply: hose(3.0),
                ret: hose(3.0),
                check_valve: false,
                bypass: None,
            }),
            vessel: Vessel {
                kind: VesselKind::Barrel,
                water_m3: 0.2,
                water_depth_m: 0.85,
                floor_z_m: 0.2,
                layers: 6,
                start_temperature_k: 277.15,
                loss_w_k: 4.0,
                shell_heat_capacity_j_k: 18.0 * 490.0,
                hot_port_m: 0.7,
                cold_port_m: 0.08,
                draw_port_m: 0.8,
                surface: None,
                closed: None,
            },
            draws: vec![],
            bench: None,
        },
        controls: Controls {
            damper: fixed(1.0),
            air_inlet: fixed(1.0),
            pump: fixed(Some(1)),
            valve: fixed(1.0),
            cover: fixed(false),
        },
        closures: Closures::default(),
        solver: SolverSettings::default(),
    }
}
