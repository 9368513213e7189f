//! Random but valid rigs from a seed: all kinds of gas path, coil, water side and tending.
#![allow(dead_code)]
use super::rigs::*;
use super::variants::{bench, brick, faced, may_be_drawn_down, steady};
use emberloop::components::spec::*;

/// SplitMix64 (Steele, Lea & Flood 2014): reproducible everywhere, no dependency.
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5851_F42D_4C95_7F2D)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// Uniform in a..b.
    pub fn between(&mut self, a: f64, b: f64) -> f64 {
        a + (b - a) * (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn chance(&mut self, p: f64) -> bool {
        self.between(0.0, 1.0) < p
    }

    pub fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }
}

/// Height of the top of each section above the hearth floor.
fn tops(r: &Rig) -> Vec<f64> {
    let mut z = r.firebox.height_m;
    r.gas_path
        .iter()
        .map(|s| {
            z += s.rise_m;
            z
        })
        .collect()
}

fn coil_for(d: &mut Dice, name: &str, section: usize, s: &mut Section, z0: f64) -> Coil {
    let (outside, inside) = [
        (0.0159, 0.0138),
        (0.0222, 0.0199),
        (0.0269, 0.0216),
        (0.0127, 0.0107),
    ][d.below(4)];
    let turns = d.between(2.0, 9.0);
    let helix = d.chance(0.75);
    let pitch = outside * d.between(1.4, 3.0);
    let (form, bore, length, plug) = if helix {
        let dc = d.between(0.22, 0.42);
        let bore = dc + outside * d.between(2.5, 6.0);
        // A plug inside the helix leaves room for the tube.
        let inner = ((dc - 2.0 * outside) / bore).powi(2);
        let plug = if d.chance(0.5) {
            0.0
        } else {
            inner * d.between(0.3, 0.9)
        };
        (
            CoilForm::Helix {
                coil_diameter_m: dc,
                pitch_m: pitch,
            },
            Bore::Round { diameter_m: bore },
            std::f64::consts::PI * dc * turns,
            plug,
        )
    } else {
        let w = d.between(0.2, 0.35);
        (
            CoilForm::Serpentine { pitch_m: pitch },
            Bore::Rect {
                width_m: w,
                depth_m: w * d.between(0.8, 1.2),
            },
            w * (turns * 3.0).round(),
            0.0,
        )
    };
    s.bore = bore;
    let height = (turns * pitch).max(0.1);
    s.length_m = height + 0.05;
    s.rise_m = s.length_m;
    let copper = d.chance(0.5);
    Coil {
        name: name.into(),
        section,
        form,
        metal: TubeMetal {
            name: if copper { "copper" } else { "stainless" }.into(),
            density_kg_m3: if copper { 8940.0 } else { 7900.0 },
            heat_capacity_j_kgk: if copper { 385.0 } else { 500.0 },
            conductivity_w_mk: if copper { 390.0 } else { 15.0 },
            emissivity: 0.8,
            limit_k: if copper { 477.0 } else { 1073.0 },
        },
        tube_outside_m: outside,
        tube_inside_m: inside,
        length_m: length,
        parallel: 1 + usize::from(d.chance(0.15)),
        water_entry: if d.chance(0.5) {
            WaterEntry::GasInlet
        } else {
            WaterEntry::GasOutlet
        },
        core_plug_share: plug,
        cells: d.chance(0.3).then(|| 6 + d.below(10)),
        bottom_z_m: z0 + 0.02,
        top_z_m: z0 + 0.02 + height,
        fouling_m2k_w: if d.chance(0.3) {
            d.between(0.0, 0.01)
        } else {
            0.0
        },
    }
}

fn gas_path(d: &mut Dice, r: &mut Rig, with_coil: bool) {
    let bore = d.between(0.11, 0.2);
    let insulated = vec![
        layer("ceramic fibre", 0.04, 128.0, 1000.0, 0.12, false),
        steel(0.8),
    ];
    let mut path = Vec::new();
    if d.chance(0.8) {
        let h = d.between(0.3, 1.3);
        path.push(section("riser", SectionKind::Riser, bore, h, insulated));
    }
    if d.chance(0.25) {
        path.push(Section {
            rise_m: 0.0,
            ..section(
                "mass",
                SectionKind::Mass,
                bore * 1.2,
                d.between(0.8, 3.0),
                vec![brick(70.0)],
            )
        });
    }
    if d.chance(0.3) {
        path.push(Section {
            loss_k: 0.8,
            ..section("bend", SectionKind::Bend, bore, 0.15, vec![steel(1.5)])
        });
    }
    let coils = if with_coil {
        1 + usize::from(d.chance(0.25))
    } else {
        0
    };
    for n in 0..coils {
        let mut s = section(
            &format!("passage {}", n + 1),
            SectionKind::Passage,
            0.3,
            0.3,
            vec![
                steel(1.5),
                layer("mineral wool", 0.03, 80.0, 840.0, 0.06, false),
            ],
        );
        r.gas_path = path.clone();
        let z0 = tops(r).last().copied().unwrap_or(r.firebox.height_m);
        let c = coil_for(d, &format!("coil {}", n + 1), path.len(), &mut s, z0);
        // Water passes the coils in either order.
        if d.chance(0.5) {
            r.coils.push(c);
        } else {
            r.coils.insert(0, c);
        }
        path.push(s);
    }
    if d.chance(0.5) {
        path.push(section(
            "damper",
            SectionKind::Damper,
            bore,
            0.1,
            vec![steel(0.8)],
        ));
    }
    if d.chance(0.15) {
        let p = d.between(5.0, 30.0);
        path.push(section(
            "fan",
            SectionKind::Fan {
                curve: vec![(0.0, p), (0.05, 0.5 * p), (0.1, 0.0)],
            },
            bore,
            0.2,
            vec![steel(1.0)],
        ));
    }
    path.push(Section {
        loss_k: 0.5,
        in_wind: d.chance(0.6),
        ..section(
            "flue",
            SectionKind::Flue,
            bore,
            d.between(1.2, 5.0),
            vec![steel(0.8)],
        )
    });
    r.gas_path = path;
}

fn firebox(d: &mut Dice, r: &mut Rig) {
    let tube = d.chance(0.65);
    if tube {
        let w = d.between(0.12, 0.2);
        r.firebox = Firebox {
            kind: FireboxKind::FeedTube,
            width_m: w,
            depth_m: d.between(0.25, 0.4),
            height_m: d.between(0.2, 0.35),
            mouth_area_m2: w * 0.9 * w,
            mouth_cover: d.between(0.2, 0.95),
            air_inlet_area_m2: if d.chance(0.3) { 0.002 } else { 0.0 },
            air_over_share: 0.0,
            inlet_loss_k: d.between(1.2, 2.5),
            burning_length_m: d.between(0.12, 0.25),
            hearth_mass_kg: d.between(0.3, 4.0),
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![brick(d.between(30.0, 80.0))],
            door: vec![],
        };
        r.fuel.stick.thickness_m = d.between(0.015, 0.05);
        r.fuel.stick.length_m = d.between(0.3, 0.7);
        r.lighting.kindling_kg = d.between(0.3, 1.0);
        r.feeding = Feeding::default();
        if d.chance(0.5) {
            r.feeding.every.push(FeedEvery {
                from_s: d.between(200.0, 500.0),
                interval_s: d.between(240.0, 900.0),
                until: Until::Time(d.between(1500.0, 4000.0)),
                mass_kg: d.between(0.2, 1.0),
            });
        } else {
            r.feeding.rules.push(FeedRule {
                when: if d.chance(0.5) {
                    FeedWhen::BedBelow(d.between(0.2, 0.6))
                } else {
                    FeedWhen::ChamberBelow(d.between(700.0, 1000.0))
                },
                mass_kg: d.between(0.2, 0.8),
                not_within_s: d.between(120.0, 600.0),
                from_s: 240.0,
                until: Until::Time(d.between(1500.0, 4000.0)),
            });
        }
    } else {
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: d.between(0.25, 0.4),
            depth_m: d.between(0.35, 0.6),
            height_m: d.between(0.3, 0.45),
            mouth_area_m2: d.between(0.03, 0.08),
            mouth_cover: 0.0,
            air_inlet_area_m2: d.between(0.0006, 0.008),
            air_over_share: 0.0,
            inlet_loss_k: d.between(1.2, 2.5),
            burning_length_m: 0.35,
            hearth_mass_kg: d.between(2.0, 15.0),
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![brick(30.0), steel(5.0)],
            door: vec![steel(4.0)],
        };
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: d.between(0.04, 0.1),
            length_m: 0.35,
        };
        r.lighting.kindling_kg = d.between(1.0, 2.5);
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: d.between(300.0, 700.0),
                mass_kg: d.between(1.0, 4.0),
                thickness_m: d.chance(0.5).then(|| d.between(0.03, 0.06)),
            }],
            every: vec![FeedEvery {
                from_s: 1500.0,
                interval_s: d.between(900.0, 2400.0),
                until: Until::End,
                mass_kg: d.between(1.0, 3.5),
            }],
            rules: vec![],
            door_open_s: d.between(0.0, 60.0),
        };
    }
    r.fuel.moisture_wet = d.between(0.08, 0.35);
    if d.chance(0.5) {
        // Softwood: ISO 17225-1 Annex B typical coniferous wood, from memory.
        r.fuel.name = "spruce".into();
        r.fuel.carbon_daf = 0.51;
        r.fuel.hydrogen_daf = 0.063;
        r.fuel.oxygen_daf = 0.426;
        r.fuel.density_kg_m3 = 420.0;
        r.fuel.gross_heating_value_dry_j_kg = 20.4e6;
    }
}

fn pipe(d: &mut Dice, wide: bool) -> Pipe {
    Pipe {
        length_m: d.between(1.0, 6.0),
        inside_m: if wide {
            d.between(0.02, 0.04)
        } else {
            d.between(0.012, 0.022)
        },
        wall_heat_capacity_j_mk: 400.0,
        loss_w_mk: d.between(0.1, 1.5),
        loss_k: d.between(1.0, 10.0),
        roughness_m: 1.5e-6,
    }
}

fn pump(d: &mut Dice) -> Pump {
    let setting = |name: &str, p: f64, q: f64| PumpSetting {
        name: name.into(),
        curve: vec![(0.0, p), (0.5 * q, 0.75 * p), (q, 0.0)],
        power_w: p * q * 3.0,
    };
    let (p, q) = (d.between(6e3, 4e4), d.between(5e-5, 5e-4));
    Pump {
        settings: vec![setting("low", 0.4 * p, 0.5 * q), setting("high", p, q)],
        stopped_loss_k: d.between(2.0, 20.0),
        power_to_water: 0.5,
    }
}

/// A loop and where its store stands: `(loop, floor height)`.
fn loop_and_height(d: &mut Dice, r: &mut Rig) -> (Loop, f64) {
    let thermosyphon = d.chance(0.4);
    let above = d.chance(0.6);
    let low = r
        .coils
        .iter()
        .map(|c| c.bottom_z_m)
        .fold(f64::INFINITY, f64::min);
    let floor = if above {
        low + d.between(0.1, 1.5)
    } else {
        d.between(0.0, 0.4)
    };
    let circuit = Loop {
        pump: (!thermosyphon).then(|| pump(d)),
        supply: pipe(d, thermosyphon),
        ret: pipe(d, thermosyphon),
        check_valve: d.chance(0.3),
        bypass: None,
    };
    if !thermosyphon {
        r.controls.pump = steady(Some(d.below(2)));
        if d.chance(0.25) {
            r.controls.pump.steps.moves = vec![(d.between(900.0, 2400.0), None)];
            if d.chance(0.5) {
                let again = r.controls.pump.steps.moves[0].0 + d.between(60.0, 900.0);
                r.controls.pump.steps.moves.push((again, Some(1)));
            }
        } else if d.chance(0.3) {
            r.controls.pump.rule = Some(ControlRule {
                signal: Signal::CoilOutlet,
                low: 308.15,
                high: 323.15,
                when_low: Some(0),
                when_high: Some(1),
                from_s: 0.0,
            });
        }
    }
    (circuit, floor)
}

fn water(d: &mut Dice, r: &mut Rig) {
    if d.chance(0.15) {
        r.water = Water::OnceThrough {
            supply: pipe(d, false),
            ret: pipe(d, false),
            inlet_k: d.between(276.0, 290.0),
            supply_pressure_pa: d.between(1e3, 1e5),
            valve_loss_k: d.between(5.0, 300.0),
        };
        r.target.probe = Probe::Outlet;
        r.controls.valve.steps.moves = vec![(1500.0, d.between(0.0, 1.0))];
        return;
    }
    let (circuit, floor) = loop_and_height(d, r);
    if d.chance(0.12) {
        r.water = Water::BenchOnly {
            circuit,
            bench: Bench {
                water_m3: d.between(0.004, 0.02),
                pipe_w_k: d.between(100.0, 500.0),
                ..bench()
            },
            bench_z_m: floor,
        };
        return;
    }
    let m3 = d.between(0.04, 0.6);
    let depth = d.between(0.5, 1.1);
    let tub = d.chance(0.3);
    r.water = Water::Store {
        circuit: Some(circuit),
        vessel: Vessel {
            kind: if tub {
                VesselKind::Tub
            } else {
                VesselKind::Tank
            },
            water_m3: m3,
            water_depth_m: depth,
            floor_z_m: floor,
            layers: 1 + d.below(10),
            start_temperature_k: d.between(275.0, 345.0),
            loss_w_k: d.between(0.5, 12.0),
            shell_heat_capacity_j_k: d.between(0.0, 4e4),
            hot_port_m: depth * d.between(0.5, 0.95),
            cold_port_m: depth * d.between(0.02, 0.3),
            draw_port_m: depth * d.between(0.5, 0.95),
            surface: tub.then(|| OpenSurface {
                area_m2: m3 / depth,
                cover_leak: d.between(0.0, 0.3),
                cover_w_m2k: d.between(0.5, 4.0),
                cloud_cover: d.between(0.0, 1.0),
                wind_share: d.between(0.0, 1.0),
            }),
            closed: None,
        },
        draws: if d.chance(0.3) {
            vec![Draw {
                starts: DrawStart::At(d.between(300.0, 2500.0)),
                every_s: d.chance(0.5).then_some(900.0),
                for_s: 2000.0,
                volume_m3: d.between(0.005, 0.03),
                flow_m3_s: d.between(5e-5, 2e-4),
                cold_k: d.between(276.0, 288.0),
            }]
        } else {
            vec![]
        },
        bench: d.chance(0.2).then(bench),
    };
    if tub {
        r.controls.cover.steps.moves = vec![(600.0, true), (2000.0, false)];
    }
}

/// The rig of a seed.
pub fn random_rig(seed: u64) -> Rig {
    let mut dice = Dice::new(seed);
    let d = &mut dice;
    let mut r = barrel();
    r.title = format!("random {seed}");
    r.coils.clear();
    r.site = Site {
        altitude_m: d.between(0.0, 2500.0),
        air_temperature_k: Profile {
            points: vec![
                (0.0, d.between(255.0, 303.0)),
                (4000.0, d.between(255.0, 303.0)),
            ],
        },
        wind_m_s: d.between(0.0, 8.0),
        relative_humidity: d.between(0.2, 1.0),
    };
    r.stop = Stop {
        at_target: false,
        after_target_s: 0.0,
        latest_s: d.between(2400.0, 4800.0),
    };
    r.controls.pump = steady(None);
    firebox(d, &mut r);
    let has_water = d.chance(0.9);
    gas_path(d, &mut r, has_water);
    if has_water {
        water(d, &mut r);
    } else {
        r.water = Water::None;
    }
    if r.gas_path.iter().any(|s| s.kind == SectionKind::Damper) {
        r.controls.damper.steps.moves = vec![
            (d.between(600.0, 1500.0), d.between(0.1, 1.0)),
            (2000.0, 1.0),
        ];
    }
    if d.chance(0.3) {
        r.controls.air_inlet.steps.moves = vec![(d.between(600.0, 2000.0), d.between(0.0, 1.0))];
    }
    if has_water {
        seat(d, &mut r);
        jacket(d, &mut r);
        bypass(d, &mut r);
        shut(d, &mut r);
        submerged(d, &mut r);
    }
    // Last, so that all else stays as it was drawn.
    if r.firebox.in_water > 0.0 && d.chance(0.5) {
        r.firebox.wet_wall = std::mem::replace(&mut r.firebox.wall, vec![brick(60.0)]);
    }
    if r.firebox.air_inlet_area_m2 > 0.0 && d.chance(0.25) {
        r.firebox.air_over_share = d.between(0.0, 1.2).min(1.0);
        // Wood burns slower so: some are filled to the brim, as such stoves are.
        if d.chance(0.6) {
            r.feeding.list.iter_mut().for_each(|f| f.mass_kg *= 2.0);
            r.feeding.every.iter_mut().for_each(|f| f.mass_kg *= 2.0);
        }
    }
    if may_be_drawn_down(&r) && d.chance(0.3) {
        r.firebox.kind = FireboxKind::DownDraught;
    }
    faced(&mut r, d.between(-0.5, 0.9));
    r
}

/// Some coils sit on the outside of their section, or among the flames.
fn seat(d: &mut Dice, r: &mut Rig) {
    let (run_m, height_m) = (r.firebox.width_m, r.firebox.height_m);
    let (outside, inside) = (d.chance(0.1), d.chance(0.1));
    let section_m = r.gas_path[r.coils[0].section].length_m;
    let c = &mut r.coils[0];
    if outside {
        let start_m = d.between(0.0, 0.3) * section_m;
        c.form = CoilForm::Around {
            coil_diameter_m: d.between(0.15, 0.3),
            pitch_m: 0.03,
            start_m,
            span_m: d.between(0.3, 1.0) * (section_m - start_m),
            gap_m: 10f64.powf(d.between(-5.0, -3.0)),
            filler_w_mk: d.chance(0.3).then(|| d.between(0.5, 30.0)),
        };
    } else if inside {
        c.form = CoilForm::Chamber {
            coil_diameter_m: 0.0,
            run_m,
            exposed_share: d.between(0.2, 1.0),
        };
        c.length_m = c.length_m.min(5.0);
        c.bottom_z_m = 0.2 * height_m;
        c.top_z_m = 0.8 * height_m;
    }
}

/// Some heat their water through a wall: the coil's place becomes a jacket around its section or around the firebox.
fn jacket(d: &mut Dice, r: &mut Rig) {
    let (wanted, around_fire) = (d.chance(0.12), d.chance(0.5));
    if !wanted || r.coils.len() != 1 {
        return;
    }
    let given = JacketGiven {
        name: "jacket".into(),
        gap_m: d.between(0.01, 0.1),
        shell_w_m2k: d.between(0.4, 7.0),
        water_entry: None,
        cells: None,
    };
    let sheet = steel(d.between(2.0, 6.0));
    let i = r.coils[0].section;
    r.coils[0] = if around_fire {
        r.firebox.wall = vec![sheet];
        let outlet_m2 = r.gas_path[0].area_m2();
        given.around_firebox(&r.firebox, outlet_m2)
    } else {
        let start_z_m = r.firebox.height_m + r.gas_path[..i].iter().map(|s| s.rise_m).sum::<f64>();
        let s = &mut r.gas_path[i];
        s.wall = vec![sheet];
        s.in_wind = false;
        if d.chance(0.4) {
            s.bore = Bore::Round {
                diameter_m: d.between(0.05, 0.09),
            };
            s.passages = d.between(4.0, 16.0) as usize;
        }
        given.around_section(s, i, start_z_m)
    }
    .expect("a wall");
}

/// Some stoves stand in their store: with the loop that they have, or without any.
fn submerged(d: &mut Dice, r: &mut Rig) {
    let wanted = d.chance(0.08);
    let (of_box, of_path) = (d.between(0.1, 0.98), d.chance(0.5));
    let (alone, deep_m) = (d.chance(0.6), d.between(-0.1, 0.2));
    let sheets = [d.between(1.0, 6.0), d.between(1.0, 6.0)];
    let Water::Store {
        circuit, vessel, ..
    } = &mut r.water
    else {
        return;
    };
    let wound = |c: &Coil| c.is_jacket() || matches!(c.form, CoilForm::Around { .. });
    if !wanted || vessel.closed.is_some() || r.coils.iter().any(wound) {
        return;
    }
    vessel.floor_z_m = deep_m;
    r.firebox.wall = vec![steel(sheets[0])];
    r.firebox.in_water = of_box;
    if of_path {
        r.gas_path[0].wall = vec![steel(sheets[1])];
        r.gas_path[0].in_water = true;
    }
    if alone {
        *circuit = None;
        r.coils.clear();
        r.controls.pump = steady(None);
        if r.target.probe == Probe::Outlet {
            r.target.probe = Probe::Mean;
        }
    }
}

/// Some pumped stores have a header above everything, fed by gravity.
fn bypass(d: &mut Dice, r: &mut Rig) {
    let wanted = d.chance(0.25);
    let top_z_m = r.coils.iter().map(|c| c.top_z_m).fold(0.0, f64::max);
    let Water::Store {
        circuit: Some(circuit),
        vessel,
        ..
    } = &mut r.water
    else {
        return;
    };
    if !wanted || circuit.pump.is_none() || vessel.surface.is_some() {
        return;
    }
    let pipe = Pipe {
        length_m: d.between(0.8, 3.0),
        inside_m: d.between(0.012, 0.03),
        ..circuit.supply.clone()
    };
    let over_m = top_z_m.max(vessel.floor_z_m + vessel.water_depth_m);
    circuit.bypass = Some(Bypass {
        riser: pipe.clone(),
        ret: pipe,
        check_valve: d.chance(0.7),
        header: Vessel {
            kind: VesselKind::Tank,
            water_m3: d.between(0.03, 0.2),
            water_depth_m: 0.5,
            floor_z_m: over_m + d.between(0.2, 1.5),
            layers: 3,
            start_temperature_k: vessel.start_temperature_k,
            loss_w_k: d.between(2.0, 12.0),
            shell_heat_capacity_j_k: 5e3,
            hot_port_m: 0.4,
            cold_port_m: 0.05,
            draw_port_m: 0.4,
            surface: None,
            closed: None,
        },
    });
}

/// Some tanks are shut in from the air, with an expansion vessel large enough, or too small.
fn shut(d: &mut Dice, r: &mut Rig) {
    let wanted = d.chance(0.3);
    let (fill, vessel_share) = (d.between(0.2e5, 2e5), d.between(0.02, 0.15));
    let (precharge, relief) = (d.between(0.3, 1.0), d.between(0.3e5, 2e5));
    let (reseat, bore, burst) = (
        d.between(0.3, 0.95),
        d.between(0.002, 0.02),
        d.between(1.05, 2.0),
    );
    let Water::Store {
        circuit: Some(circuit),
        vessel,
        ..
    } = &mut r.water
    else {
        return;
    };
    if !wanted || circuit.bypass.is_some() || vessel.surface.is_some() {
        return;
    }
    vessel.closed = Some(Closed {
        fill_pa: fill,
        vessel_m3: vessel_share * vessel.water_m3,
        precharge_pa: precharge * fill,
        relief_pa: fill + relief,
        reseat_pa: fill + reseat * relief,
        relief_bore_m: bore,
        relief_discharge: 0.7,
        burst_pa: burst * (fill + relief),
    });
}
