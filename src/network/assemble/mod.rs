//! From the rig's description to the network: cells, tables, state layout.

mod bank;
mod immersed;
mod water;

use super::deposits::{self, Carried};
use super::fuel::{AIR_AR, AIR_CO2, AIR_O2, FuelData};
use super::layout::*;
use super::mode::Mode;
use super::{BANDS, BenchModel, DrumStates, FireboxModel, Network, Plate, Scratch};
use crate::components::across::Across;
use crate::components::drying::DampRow;
use crate::components::gas_path::{Duct, ReTable};
use crate::components::jacket;
use crate::components::outside_table::OutsideTable;
use crate::components::spec::*;
use crate::components::tube::NaturalTable;
use crate::components::vessel::VesselModel;
use crate::components::wall::{OutsideConvection, Wall, WallShape};
use crate::components::wall_row::WallRow;
use crate::correlations::cross_section::CrossSection;
use crate::correlations::{draught, natural_convection, nusselt_external, radiation};
use crate::properties::atmosphere;
use crate::properties::gas::{self, Composition, GasMix};
use crate::properties::water::Water;
use std::cell::RefCell;
use std::f64::consts::PI;

/// Heat capacity of what glows besides the char itself: a millimetre or two of loose ash and bits, per area of hearth
/// (estimate).
const BITS_J_M2K: f64 = 1000.0;
/// Specific heat of what lies under it: brick and ash (iron has half of it).
const HEARTH_J_KGK: f64 = 900.0;

/// Why a rig cannot be assembled. `scenario` refuses these earlier with a place in the file; this is the last guard.
#[derive(Debug, Clone, thiserror::Error, PartialEq)]
pub enum AssembleError {
    #[error("the gas path is empty")]
    NoGasPath,
    #[error("{0} has no wall")]
    NoWall(String),
    #[error("coil {0} leaves no free cross-section for the gas")]
    NoFreeArea(String),
    #[error("two coils in section {0}: not modelled")]
    TwoCoils(String),
    #[error("a water side without a coil and without a wall in it: nothing would heat it")]
    NoCoil,
    #[error("a drum needs a coil in its water, and a coil in a drum its drum")]
    Drum,
}

/// Depth over which `leakage_share` counts along a door's joint: by default it is then 0.3 mm open, at the end of the prior
/// 1.5 mm (a rope seal passes a paper's thickness here and there, a cast door without one grinds ajar; from memory).
const DOOR_JOINT_M: f64 = 0.015;

/// Half-width of a box whose walls count as flat, m.
const FLAT_M: f64 = 1e6;

/// Default number of gas cells of a section.
pub fn default_cells(kind: &SectionKind, has_coil: bool) -> usize {
    match kind {
        _ if has_coil => 8,
        SectionKind::Riser => 3,
        SectionKind::Mass => 6,
        SectionKind::Passage => 3,
        SectionKind::Flue => 4,
        SectionKind::Bend | SectionKind::Damper | SectionKind::Fan { .. } => 1,
    }
}

/// Air near an outside surface: kinematic viscosity, conductivity, Prandtl number at a film temperature
/// (Sutherland's law and k ~ T^0.82, within 2 % of tables from 250 to 900 K).
fn film_air(t_k: f64, pressure_pa: f64) -> (f64, f64, f64) {
    let mu = 1.458e-6 * t_k.powf(1.5) / (t_k + 110.4);
    let rho = pressure_pa / (287.05 * t_k);
    (mu / rho, 0.0263 * (t_k / 300.0).powf(0.82), 0.70)
}

fn cross_section(bore: &Bore) -> CrossSection {
    match *bore {
        Bore::Round { .. } => CrossSection::ROUND,
        Bore::Rect { width_m, depth_m } => {
            CrossSection::rectangle(width_m.min(depth_m) / width_m.max(depth_m))
        }
    }
}

fn outside_convection(
    height_m: f64,
    diameter_m: f64,
    wind_m_s: f64,
    air_k: f64,
    pressure_pa: f64,
) -> OutsideConvection {
    OutsideConvection::tabulate(|excess| {
        let film = air_k + 0.5 * excess;
        let (nu_m2_s, k, pr) = film_air(film, pressure_pa);
        let l = height_m.max(0.05);
        let ra = 9.80665 / film * excess * l.powi(3) * pr / (nu_m2_s * nu_m2_s);
        let natural = natural_convection::churchill_chu_plate(ra, pr) * k / l;
        let re = wind_m_s * diameter_m / nu_m2_s;
        let forced = if wind_m_s > 0.0 {
            nusselt_external::churchill_bernstein(re, pr) * k / diameter_m
        } else {
            0.0
        };
        natural_convection::mixed_with_wind(natural, forced)
    })
}

impl Network {
    /// Assembles the network of a rig; the mode is that of time zero, before lighting.
    pub fn new(rig: &Rig) -> Result<Self, AssembleError> {
        let water = Water::shared();
        let factor = rig.solver.cell_factor.max(1);
        if rig.gas_path.is_empty() {
            return Err(AssembleError::NoGasPath);
        }
        let has_water = !matches!(rig.water, crate::components::spec::Water::None);
        let heated = match &rig.water {
            crate::components::spec::Water::Store { circuit: None, .. } => {
                rig.heats_store_by_walls()
            }
            _ => !rig.coils.is_empty(),
        };
        if has_water && !heated {
            return Err(AssembleError::NoCoil);
        }
        if rig.drum.is_some() != rig.coils.iter().any(Coil::in_drum)
            || rig.drum.is_some() && !has_water
        {
            return Err(AssembleError::Drum);
        }
        let p_air = atmosphere::pressure_pa(rig.site.altitude_m);
        let mean_air = {
            let p = &rig.site.air_temperature_k.points;
            p.iter().map(|x| x.1).sum::<f64>() / p.len() as f64
        };
        let air_range = {
            let of = |pick: fn(f64, f64) -> f64| {
                let points = &rig.site.air_temperature_k.points;
                points.iter().map(|p| p.1).reduce(pick).unwrap_or(mean_air)
            };
            (of(f64::min), of(f64::max))
        };
        let outside = |wall: &Wall, convection: &OutsideConvection| {
            OutsideTable::new(wall, convection, rig.closures.casing_loss, air_range)
        };
        let mut b = LayoutBuilder::default();
        let air = b.one("air_flow");
        let flame = b.one("flame_temperature");
        let embers = b.one("ember_temperature");
        let hearth = b.one("hearth_temperature");
        let char_kg = b.one("char_mass");
        let char_surface = b.one("char_surface");
        let virgin = b.many("virgin_share_cohort", COHORTS);
        let kindled = b.many("ignition_cohort", COHORTS);
        let magazine = rig.firebox.kind == FireboxKind::DownDraught;
        let flap = magazine.then(|| b.one("flap"));

        // Firebox.
        let f = &rig.firebox;
        if f.wall.is_empty() {
            return Err(AssembleError::NoWall("firebox".into()));
        }
        let inner = f.box_m2();
        let lining = f.lining_m2(rig.gas_path[0].area_m2());
        let half_width = f.half_width_m();
        // Of the firebox: none.
        let jacketed = |section: Option<usize>| {
            rig.coils.iter().any(|c| {
                let place = (!c.in_firebox()).then_some(c.section);
                c.is_jacket() && place == section
            })
        };
        let layers = jacket::gas_side(&f.wall, jacketed(None));
        let part = |layers: &[Layer], share: f64| {
            let shape = WallShape::Box {
                inner_area_m2: share * lining,
                half_width_m: half_width,
            };
            Wall::new(layers, shape, factor)
        };
        let wall = part(&layers, 1.0 - f.in_water);
        let walls = b.many("firebox_wall", wall.len());
        let firebox_outside =
            outside_convection(f.height_m, f.width_m.max(f.depth_m), 0.0, mean_air, p_air);
        let dry_m2 = (1.0 - f.in_water) * lining;
        let mut plates = Vec::new();
        if f.has_door() && !f.door.is_empty() {
            let flat = WallShape::Box {
                inner_area_m2: f.mouth_area_m2,
                half_width_m: FLAT_M,
            };
            let wall = Wall::new(&f.door, flat, factor);
            let air = outside_convection(f.mouth_area_m2.sqrt(), 0.3, 0.0, mean_air, p_air);
            plates.push(Plate {
                name: "door",
                wall_state: b.many("firebox_door", wall.len()),
                outside: outside(&wall, &air),
                immersed: None,
                // It is small against the lining.
                lining_view_m2: wall.inner_area_m2,
                seen: 0.0,
                wall,
            });
        }
        if f.in_water > 0.0 {
            let share = f.in_water / BANDS as f64;
            for i in 1..=BANDS {
                let wall = part(f.wetted_wall(), share);
                let area_m2 = wall.inner_area_m2;
                plates.push(Plate {
                    name: "firebox",
                    wall_state: b.many(&format!("firebox_band_{i}"), wall.len()),
                    outside: outside(&wall, &firebox_outside),
                    immersed: None,
                    lining_view_m2: area_m2 * dry_m2 / (area_m2 + dry_m2),
                    seen: share,
                    wall,
                });
            }
        }
        let volume = f.width_m * f.depth_m * f.height_m;
        let flow_area = (f.width_m * f.depth_m)
            .min(f.width_m * f.height_m)
            .min(f.depth_m * f.height_m);
        let hydraulic = 4.0 * volume / inner;
        let duct_table = |section: CrossSection, d_over_l: f64, rough: f64| {
            ReTable::new(move |re| {
                [
                    section.nusselt(re, 0.71, d_over_l),
                    section.friction_f_re(re, rough),
                ]
            })
        };
        let mut firebox = FireboxModel {
            volume_m3: volume,
            height_m: f.height_m,
            floor_m2: f.width_m * f.depth_m,
            pile_room_m3: match f.kind {
                FireboxKind::FeedTube => f.mouth_area_m2 * f.burning_length_m,
                FireboxKind::Door | FireboxKind::DownDraught => {
                    0.5 * f.width_m * f.depth_m * f.height_m
                }
            },
            // A mouth leaks around the firebox that it was cut into; a door along its joint.
            leaky_m2: f.air_inlet_area_m2
                + match f.kind {
                    FireboxKind::FeedTube => f.mouth_area_m2,
                    FireboxKind::Door | FireboxKind::DownDraught => {
                        4.0 * f.mouth_area_m2.sqrt() * DOOR_JOINT_M
                    }
                },
            lining_m2: dry_m2,
            hydraulic_m: hydraulic,
            flow_area_m2: flow_area,
            beam_m: radiation::mean_beam_length(volume, inner),
            wall_state: walls,
            wall,
            outside: firebox_outside,
            table: duct_table(CrossSection::ROUND, 1.0, 0.01),
            bits_j_k: BITS_J_M2K * f.width_m * f.depth_m,
            hearth_j_k: HEARTH_J_KGK * f.hearth_mass_kg,
            coil: None,
            jacket: None,
            enclosure_m2: dry_m2 + plates.iter().map(|p| p.wall.inner_area_m2).sum::<f64>(),
            plates,
            lining_seen: 1.0 - f.in_water,
        };

        // Gas path.
        let mut ducts = Vec::with_capacity(rig.gas_path.len());
        let mut sheets_reach = true;
        let mut before = (flow_area, "firebox".to_string());
        for (i, s) in rig.gas_path.iter().enumerate() {
            if s.wall.is_empty() {
                return Err(AssembleError::NoWall(s.name.clone()));
            }
            let coils: Vec<usize> = (0..rig.coils.len())
                .filter(|&c| rig.coils[c].section == i && !bank::apart(&rig.coils[c]))
                .collect();
            if coils.len() > 1 {
                return Err(AssembleError::TwoCoils(s.name.clone()));
            }
            let has_coil = !coils.is_empty();
            let coil_cells = coils.first().and_then(|&c| rig.coils[c].cells);
            let cells = factor
                * coil_cells
                    .or(s.cells)
                    .unwrap_or(default_cells(&s.kind, has_coil || jacketed(Some(i))))
                    .max(1);
            let wall_cells = if has_coil {
                (1..=4 * factor)
                    .rev()
                    .find(|&w| cells.is_multiple_of(w))
                    .unwrap_or(1)
            } else {
                cells
            };
            let area = s.area_m2();
            // Of one of the passages, whose walls are like one wall of all their lengths.
            let perimeter = s.bore.perimeter_m();
            let passages = s.passages.max(1) as f64;
            let d_h = s.bore.hydraulic_diameter_m();
            let shape = |share: f64| WallShape::Cylinder {
                inner_radius_m: perimeter / (2.0 * PI),
                length_m: share * passages * s.length_m / wall_cells as f64,
            };
            let layers = jacket::gas_side(&s.wall, jacketed(Some(i)));
            let wall = Wall::new(&layers, shape(1.0 - s.dry_share), factor);
            let wall_state = b.many(
                &format!("{}_wall", s.name.replace(' ', "_")),
                wall.len() * wall_cells,
            );
            let outer_d =
                (perimeter / PI) + 2.0 * s.wall.iter().map(|l| l.thickness_m).sum::<f64>();
            let convection = outside_convection(
                s.length_m,
                outer_d,
                if s.in_wind { rig.site.wind_m_s } else { 0.0 },
                mean_air,
                p_air,
            );
            // Of a gas cell.
            let [wall_m2, dry_m2] = [1.0 - s.dry_share, s.dry_share]
                .map(|share| share * passages * perimeter * s.length_m / cells as f64);
            let across = (s.dry_share > 0.0).then(|| {
                let facing = Wall::new(&s.dry_wall, shape(s.dry_share), factor);
                let name = format!("{}_dry_wall", s.name.replace(' ', "_"));
                Across {
                    wall_state: b.many(&name, facing.len() * wall_cells),
                    area_m2: dry_m2,
                    view_m2: Across::exchange_m2(
                        (wall_m2, wall.inner_emissivity),
                        (dry_m2, facing.inner_emissivity),
                    ),
                    outside: outside(&facing, &convection),
                    wall: facing,
                }
            });
            // Change of section at the inlet: Borda-Carnot on the larger velocity, referred to this section's area.
            let change = if area >= before.0 {
                draught::sudden_expansion_k(before.0 / area) * (area / before.0).powi(2)
            } else {
                draught::sudden_contraction_k(area / before.0)
            };
            let exit = if i + 1 == rig.gas_path.len() {
                1.0
            } else {
                0.0
            };
            before = (area, s.name.clone());
            let flame = match s.kind {
                _ if has_coil => 0.3,
                SectionKind::Riser | SectionKind::Mass | SectionKind::Passage => 1.0,
                SectionKind::Bend
                | SectionKind::Damper
                | SectionKind::Flue
                | SectionKind::Fan { .. } => 0.5,
            };
            sheets_reach &= !has_coil
                && matches!(
                    s.kind,
                    SectionKind::Riser
                        | SectionKind::Mass
                        | SectionKind::Passage
                        | SectionKind::Bend
                );
            let bank = coils
                .first()
                .map(|&c| bank::bank_of(rig, c, i, area, s, cells))
                .transpose()?;
            ducts.push(Duct {
                name: s.name.clone(),
                cells,
                area_m2: area,
                hydraulic_m: d_h,
                cell_length_m: s.length_m / cells as f64,
                cell_rise_m: s.rise_m / cells as f64,
                cell_wall_area_m2: wall_m2,
                beam_m: 0.95 * d_h,
                loss_k: s.loss_k + change + exit,
                table: duct_table(
                    cross_section(&s.bore),
                    (d_h / s.length_m).min(1.0),
                    s.roughness_m / d_h,
                ),
                wall,
                wall_cells,
                per_wall_cell: cells / wall_cells,
                wall_state,
                outside: convection,
                bank,
                across,
                wall_deposit: None,
                wrap: None,
                jacket: None,
                immersed: None,
                is_damper: s.kind == SectionKind::Damper,
                fan: match &s.kind {
                    SectionKind::Fan { curve } => Some(curve.clone()),
                    _ => None,
                },
                flame,
                sheets: if sheets_reach { 1.0 } else { 0.0 },
                is_flue: s.kind == SectionKind::Flue,
            });
        }

        let outside_losses = std::iter::once(outside(&firebox.wall, &firebox.outside))
            .chain(ducts.iter().map(|d: &Duct| outside(&d.wall, &d.outside)))
            .collect();

        // Water side.
        let water::WaterSideParts {
            tubes,
            tables,
            circuit: loop_model,
            vessel,
            drum,
            bench,
        } = if has_water {
            water::parts(rig, water, p_air, factor, &mut ducts, &mut firebox)
        } else {
            water::WaterSideParts::default()
        };
        let bath = drum.as_ref().map(|d| &d.vessel).or(vessel.as_ref());
        let any_immersed =
            bath.is_some_and(|v| immersed::soak(rig, v, water, p_air, &mut ducts, &mut firebox));
        let has_immersed = any_immersed && drum.is_none();
        let n_tubes = tubes.len();
        let coil_cells = tubes.iter().filter(|t| t.inventory.is_some()).count();
        let tube_state = b.many("tube_node", n_tubes);
        let inventory_state = b.many("coil_water", coil_cells);
        let tube_wall_state = b.many("coil_wall", coil_cells);
        let wall_cells = tubes.iter().filter(|t| t.wall.is_some()).count();
        b.many("pipe_wall", wall_cells - coil_cells);
        let deposits = b.many("", 0);
        let deposit_count = deposits::lay_out(&mut ducts, &mut b);
        let flow = loop_model.as_ref().map(|_| b.one("loop_flow"));
        let layer_count = vessel.as_ref().map_or(0, |v: &VesselModel| v.layers);
        let layers = b.many("tank_layer", layer_count);
        let vessel_mass = vessel.as_ref().map(|_| b.one("tank_water"));
        let header = loop_model.as_ref().and_then(|c| c.bypass.as_ref());
        let bypass_flow = header.map(|_| b.one("bypass_flow"));
        let header_count = header.map_or(0, |h| h.header.layers);
        let header_layers = b.many("header_layer", header_count);
        let header_mass = header.map(|_| b.one("header_water"));
        let bench_model = bench.map(|spec| {
            let v = spec.mass_heat_capacity_j_k;
            BenchModel {
                direct: matches!(rig.water, crate::components::spec::Water::BenchOnly { .. }),
                scale_j_k: v,
                spec,
            }
        });
        let bench_state = bench_model.as_ref().map(|_| b.one("bench_temperature"));
        let drum_states = drum.as_ref().map(|d| DrumStates::lay_out(d, &mut b));
        let vapour_pa = rig.site.relative_humidity * water.p_sat_pa(mean_air);
        let mut damp = DampRow::new(water, p_air, vapour_pa);
        damp.push(&firebox.wall, 1, "firebox.wall");
        for p in &firebox.plates {
            damp.push(&p.wall, 1, &format!("firebox.{}", p.name));
        }
        for d in &ducts {
            for (which, (wall, _)) in ["wall", "dry_wall"].into_iter().zip(d.walls()) {
                let path = format!("gas_path.{}.{which}", d.name);
                damp.push(wall, d.wall_cells, &path);
            }
        }
        let damp_count = damp.len();
        let damp_state = b.many("wall_water", damp_count);
        if damp_count > 0 {
            b.one("drying_J");
            b.one("dried_kg");
        }
        let integrals = b.many("", 0);
        for q in Integral::ALL {
            b.one(q.key());
        }
        let layout = Layout {
            names: b.finish(),
            air,
            flame,
            embers,
            hearth,
            char_kg,
            char_surface,
            virgin,
            kindled,
            flap,
            walls,
            tubes: tube_state,
            tube_cells: n_tubes,
            inventory: inventory_state,
            tube_walls: tube_wall_state,
            wall_cells,
            deposits,
            deposit_count,
            flow,
            bypass_flow,
            layers,
            layer_count,
            vessel_mass,
            header_layers,
            header_count,
            header_mass,
            bench: bench_state,
            drum: drum_states,
            damp: damp_state,
            damp_count,
            integrals,
        };
        let sky_emissivity = match &vessel {
            Some(VesselModel {
                surface: Some(s), ..
            }) => radiation::cloudy_sky_emissivity(
                radiation::sky_emissivity(gas::water_dew_point_k(vapour_pa.max(50.0))),
                s.cloud_cover,
            ),
            _ => 1.0,
        };
        let n_gas = ducts.iter().map(|d| d.cells).sum();
        let n_wall = firebox.wall.len()
            + firebox.plates.iter().map(|p| p.wall.len()).sum::<usize>()
            + ducts
                .iter()
                .flat_map(|d| d.walls().map(|(w, _)| w.len() * d.wall_cells))
                .sum::<usize>();
        let mut wall_row = WallRow::default();
        wall_row.push(&firebox.wall, 1);
        for p in &firebox.plates {
            wall_row.push(&p.wall, 1);
        }
        for d in &ducts {
            for (wall, _) in d.walls() {
                wall_row.push(wall, d.wall_cells);
            }
        }
        let closed = loop_model.as_ref().is_some_and(|c| c.closed.is_some());
        let pressed = if closed { tubes.clone() } else { Vec::new() };
        let mut scratch = Scratch::new(
            n_gas,
            n_wall,
            n_tubes,
            layer_count,
            header_count,
            layout.deposit_count,
            damp_count,
            pressed,
        );
        if let Some(d) = &drum {
            scratch.hold_drum(d);
        }
        let mut net = Network {
            fuel: FuelData::new(&rig.fuel),
            rig: rig.clone(),
            water,
            p_air_pa: p_air,
            nominal_gas: radiation::WsggWeights::new(0.12, 0.10).over(firebox.beam_m),
            air_mix: GasMix::new(&combustion_air(0.622 * vapour_pa / (p_air - vapour_pa))),
            vapour_pa,
            sky_emissivity,
            firebox,
            ducts,
            wall_row,
            damp,
            outside_losses,
            tubes,
            tables,
            natural: NaturalTable::new(water),
            circuit: loop_model,
            vessel,
            has_immersed,
            drum,
            bench: bench_model,
            mode: Mode::idle(),
            carried: Carried::default(),
            scratch: RefCell::new(scratch),
            layout,
        };
        let wet_m2 = net.wet_walls_m2(rig.bath().map_or(0.0, |v| v.water_depth_m));
        if let Some(d) = &mut net.drum {
            d.wet_m2 = wet_m2;
        }
        net.mode.damper = rig.controls.damper.steps.initial;
        net.mode.air_inlet = rig.controls.air_inlet.steps.initial;
        net.mode.pump = rig.controls.pump.steps.initial;
        net.mode.valve = rig.controls.valve.steps.initial;
        net.mode.cover_on = rig.controls.cover.steps.initial;
        Ok(net)
    }
}

/// Air as the combustion gas contains it: the same mass shares, so that an unlit stove stays as warm as its air.
fn combustion_air(humidity_ratio: f64) -> Composition {
    let d = 1.0 / (1.0 + humidity_ratio);
    Composition {
        n2: (1.0 - AIR_O2 - AIR_CO2 - AIR_AR) * d,
        o2: AIR_O2 * d,
        co2: AIR_CO2 * d,
        h2o: 1.0 - d,
        ar: AIR_AR * d,
        co: 0.0,
    }
}
