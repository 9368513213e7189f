//! Water side of a rig: cells of pipes and coils, the vessels at both ends of the branches, what drives the flow.

use super::bank;
use crate::components::closed::{ClosedLoop, tube_wall};
use crate::components::gas_path::Duct;
use crate::components::jacket::Jacket;
use crate::components::spec::*;
use crate::components::tube::{METAL_DRIVEN_S, METAL_FREE_S, TubeCell, TubeTable};
use crate::components::vessel::VesselModel;
use crate::correlations::{friction, nusselt_internal};
use crate::network::{
    BranchModel, BypassModel, Drive, DrumModel, FireboxModel, LoopModel, Neighbours,
};
use crate::properties::water::Water as WaterProperties;
use std::f64::consts::PI;
use std::ops::Range;

const G_M_S2: f64 = 9.80665;
/// Density for the static head, kg/m3: water at some 60 degC.
const HEAD_KG_M3: f64 = 985.0;

/// Where the water comes into a jacket and leaves it, velocity heads on its own wide area: in and out of pipes cost theirs.
const JACKET_LOSS_K: f64 = 1.5;
/// Share of a coil's metal that counts with its water: what a cell without water has left to hold heat.
const SKIN_SHARE: f64 = 0.05;
/// Conductivity of water in the middle of a loop's temperatures, W/mK.
const WATER_W_MK: f64 = 0.65;
/// Cells of a pipe. Fewer smear the fronts that go round a thermosyphon, where they also must be short, and those of a
/// gravity branch beside a pumped one. Where a pump or the mains set the flow, a front only passes.
const PIPE_CELL_FREE_M: f64 = 0.15;
const PIPE_CELLS_FREE: std::ops::RangeInclusive<usize> = 8..=32;
const PIPE_CELLS_BYPASS: usize = 8;
const PIPE_CELLS_DRIVEN: usize = 4;

/// What the water side gives the network.
#[derive(Default)]
pub(super) struct WaterSideParts {
    pub tubes: Vec<TubeCell>,
    pub tables: Vec<TubeTable>,
    pub circuit: Option<LoopModel>,
    pub vessel: Option<VesselModel>,
    pub drum: Option<DrumModel>,
    pub bench: Option<Bench>,
}

/// Rows of cells while they are being laid.
struct Rows {
    water: &'static WaterProperties,
    tubes: Vec<TubeCell>,
    tables: Vec<TubeTable>,
    factor: usize,
    pipe_cells: usize,
    metal_s: f64,
    /// Nothing but buoyancy moves the water: the way of its fronts decides the flow, so cells are short and the pipes' walls,
    /// which slow water warms within minutes, have temperatures of their own.
    free: bool,
    /// Pressure there: the air's, or that of a closed loop's cold fill.
    surface_pa: f64,
    /// Height of the water's surface; `None`: open end, head unknown.
    surface_z_m: Option<f64>,
}

impl Rows {
    fn pressure_pa(&self, z_m: f64) -> f64 {
        let head = self.surface_z_m.map_or(0.0, |s| (s - z_m).max(-8.0));
        (self.surface_pa + HEAD_KG_M3 * G_M_S2 * head).max(2e3)
    }

    /// Adds a pipe from height `z0` to `z1` in forward direction.
    fn pipe(&mut self, p: &Pipe, z0: f64, z1: f64) -> Range<usize> {
        let first = self.tubes.len();
        let table = self.tables.len();
        let d_l = (p.inside_m / p.length_m.max(0.01)).min(1.0);
        let rough = p.roughness_m / p.inside_m;
        let f_re = move |re| friction::pipe_f_re(re, rough);
        self.tables.push(if self.free {
            let nu = move |re, pr| nusselt_internal::duct(re, pr, d_l);
            TubeTable::new(self.water, nu, f_re)
        } else {
            // The metal is as warm as the water: nobody asks for a film.
            TubeTable::of_friction(f_re)
        });
        let a = PI / 4.0 * p.inside_m * p.inside_m;
        let n = if self.free {
            let cells = (p.length_m / PIPE_CELL_FREE_M).ceil() as usize;
            self.factor * cells.clamp(*PIPE_CELLS_FREE.start(), *PIPE_CELLS_FREE.end())
        } else {
            self.pipe_cells
        };
        let share = 1.0 / n as f64;
        for i in 0..n {
            let l = p.length_m * share;
            let z = z0 + (z1 - z0) * (i as f64 + 0.5) * share;
            let p_pa = self.pressure_pa(z);
            let wall_j_k = p.wall_heat_capacity_j_mk * l;
            self.tubes.push(
                TubeCell {
                    metal_j_k: if self.free { 0.0 } else { wall_j_k },
                    wall_j_k: if self.free { wall_j_k } else { 0.0 },
                    water_kg: 990.0 * a * l,
                    inside_area_m2: PI * p.inside_m * l,
                    flow_area_m2: a,
                    inside_m: p.inside_m,
                    length_m: l,
                    rise_m: (z1 - z0) * share,
                    loss_k: p.loss_k * share,
                    loss_w_k: p.loss_w_mk * l,
                    p_pa,
                    sat: self.water.sat(p_pa),
                    metal_s: self.metal_s,
                    re_per: 0.0,
                    skin_per: 0.0,
                    fittings_per: 0.0,
                    per: Default::default(),
                    per_critical_w: 0.0,
                    shelled: false,
                    table,
                    inventory: None,
                    wall: None,
                }
                .prepared(),
            );
        }
        first..self.tubes.len()
    }

    fn inertia_per_m(&self, cells: &Range<usize>) -> f64 {
        self.tubes[cells.clone()]
            .iter()
            .map(|t| t.length_m / t.flow_area_m2)
            .sum()
    }

    /// Who stands beside whom: along every row, and over the tees between the coil and the legs of the branches.
    fn neighbours(
        &self,
        coil: &Range<usize>,
        main: &BranchModel,
        bypass: Option<&BranchModel>,
    ) -> Vec<Neighbours> {
        let mut list = vec![Neighbours::default(); self.tubes.len()];
        let rise = |i: usize, j: usize| {
            let (own, other) = (self.tubes[i].water_kg, self.tubes[j].water_kg);
            2.0 * own / (own + other)
        };
        let legs = [Some(main), bypass];
        for row in legs
            .iter()
            .flatten()
            .flat_map(|b| [&b.cold, &b.hot])
            .chain([coil])
        {
            for i in row.start + 1..row.end {
                list[i - 1].after = Some((i, rise(i - 1, i)));
                list[i].before = Some((i - 1, rise(i, i - 1)));
            }
        }
        if coil.is_empty() {
            return list;
        }
        for b in legs.iter().flatten() {
            let (last, first) = (b.cold.end - 1, b.hot.start);
            list[last].after = Some((coil.start, rise(last, coil.start)));
            list[first].before = Some((coil.end - 1, rise(first, coil.end - 1)));
        }
        // The coil's own neighbours are the legs of the loop's branch.
        list[coil.start].before = Some((main.cold.end - 1, rise(coil.start, main.cold.end - 1)));
        list[coil.end - 1].after = Some((main.hot.start, rise(coil.end - 1, main.hot.start)));
        // Into the coil no leg is preferred: two equal branches stay equal.
        for i in (0..list.len()).filter(|&i| i != coil.start) {
            if let Some((j, _)) = list[i].before {
                let (a, b) = (&self.tubes[i], &self.tubes[j]);
                let resistance = |t: &TubeCell| 0.5 * t.length_m / (WATER_W_MK * t.flow_area_m2);
                list[i].conductance_w_k = 1.0 / (resistance(a) + resistance(b));
            }
        }
        list
    }

    fn branch(&self, cold: Range<usize>, hot: Range<usize>, check_valve: bool) -> BranchModel {
        BranchModel {
            inertia_per_m: self.inertia_per_m(&cold) + self.inertia_per_m(&hot),
            cold,
            hot,
            check_valve,
        }
    }
}

/// Cells, vessels and drive of the water side. `rig` has water, and coils where it has a loop.
pub(super) fn parts(
    rig: &Rig,
    water: &'static WaterProperties,
    p_air_pa: f64,
    factor: usize,
    ducts: &mut [Duct],
    firebox: &mut FireboxModel,
) -> WaterSideParts {
    let closures = &rig.closures;
    let model = |v: &Vessel, surface_pa: f64| {
        let layers = if v.layers == 1 { 1 } else { v.layers * factor };
        let (loss, mixing) = (closures.vessel_loss, closures.tank_mixing);
        VesselModel::new(v, water, surface_pa, layers, loss, mixing)
    };
    let header_surface = |c: &Loop| {
        c.bypass
            .as_ref()
            .map(|b| b.header.floor_z_m + b.header.water_depth_m)
    };
    // A vessel under a header is full and shut: its pressure is that of the header's surface over it.
    let over_pa = |v: &Vessel, c: &Loop| {
        let own = v.floor_z_m + v.water_depth_m;
        let head = header_surface(c).map_or(0.0, |z| (z - own).max(0.0));
        // Steam of a closed store leaves by its relief valve only: it never boils over.
        let shut = v.closed.as_ref().map_or(0.0, |c| 1.5 * c.burst_pa);
        p_air_pa + shut + HEAD_KG_M3 * G_M_S2 * head
    };
    let mut circuit = None;
    let mut vessel = None;
    let mut bench = None;
    let (supply, ret) = match &rig.water {
        Water::OnceThrough { supply, ret, .. } => (supply, ret),
        Water::Store {
            circuit: None,
            vessel: v,
            bench,
            ..
        } => {
            return WaterSideParts {
                vessel: Some(model(v, p_air_pa)),
                bench: bench.clone(),
                ..WaterSideParts::default()
            };
        }
        Water::Store {
            circuit: Some(c),
            vessel: v,
            bench: be,
            ..
        } => {
            bench = be.clone();
            circuit = Some(c);
            vessel = Some(model(v, over_pa(v, c)));
            (&c.supply, &c.ret)
        }
        Water::BenchOnly {
            circuit: c,
            bench: be,
            bench_z_m,
        } => {
            let v = bench_water(be, *bench_z_m);
            bench = Some(be.clone());
            circuit = Some(c);
            vessel = Some(VesselModel::new(&v, water, over_pa(&v, c), 1, 0.0, 1.0));
            (&c.supply, &c.ret)
        }
        Water::None => return WaterSideParts::default(),
    };
    let (first, last) = (&rig.coils[0], &rig.coils[rig.coils.len() - 1]);
    let (hot_z, cold_z) = vessel
        .as_ref()
        .map_or((exit_z(rig, last), entry_z(rig, first)), |v| {
            (v.hot_port_z_m, v.cold_port_z_m)
        });
    let closed = match &rig.water {
        Water::Store { vessel, .. } => vessel.closed.as_ref(),
        _ => None,
    };
    let own_surface = vessel.as_ref().map(|v| v.surface_z_m);
    let drive = drive(rig, water);
    let free = matches!(drive, Drive::Thermosyphon);
    let mut rows = Rows {
        water,
        tubes: Vec::new(),
        tables: Vec::new(),
        factor,
        pipe_cells: factor
            * if circuit.is_some_and(|c| c.bypass.is_some()) {
                PIPE_CELLS_BYPASS
            } else {
                PIPE_CELLS_DRIVEN
            },
        free,
        metal_s: match drive {
            Drive::Thermosyphon => METAL_FREE_S,
            Drive::Pump(_) | Drive::Mains { .. } => METAL_DRIVEN_S,
        },
        surface_pa: p_air_pa + closed.map_or(0.0, |c| c.fill_pa),
        surface_z_m: match circuit.and_then(header_surface) {
            Some(z) => own_surface.map(|s| s.max(z)),
            None => own_surface,
        },
    };
    let cold = rows.pipe(ret, cold_z, entry_z(rig, first));
    let drum = rig.drum.as_ref();
    let mut drum = drum.map(|v| DrumModel::of(model(v, p_air_pa)));
    let coil = coils(rig, ducts, firebox, drum.as_mut(), &mut rows);
    let hot = rows.pipe(supply, exit_z(rig, last), hot_z);
    let bypass = circuit.and_then(|c| c.bypass.as_ref()).map(|b| {
        let header = model(&b.header, p_air_pa);
        let cold = rows.pipe(&b.ret, header.cold_port_z_m, entry_z(rig, first));
        let hot = rows.pipe(&b.riser, exit_z(rig, last), header.hot_port_z_m);
        BypassModel {
            branch: rows.branch(cold, hot, b.check_valve),
            header,
        }
    });
    // After the coil's come those of the pipes.
    let walled = rows
        .tubes
        .iter_mut()
        .filter(|t| t.inventory.is_none() && t.wall_j_k > 0.0);
    for (t, wall) in walled.zip(coil.len()..) {
        t.wall = Some(wall);
    }
    let coil_inertia = rows.inertia_per_m(&coil);
    let main = rows.branch(cold, hot, circuit.is_none_or(|c| c.check_valve));
    // While it is driven a forced loop finds its flow within the inflated inertia; a thermosyphon keeps its own.
    let forced = rig.solver.pump_inertia_s * 2.0 * most_pa_s_kg(&drive);
    let forced_inertia_per_m = (forced - coil_inertia - main.inertia_per_m).max(0.0);
    let neighbours = rows.neighbours(&coil, &main, bypass.as_ref().map(|b| &b.branch));
    let loop_model = LoopModel {
        neighbours,
        drive,
        ret_area_m2: PI / 4.0 * ret.inside_m * ret.inside_m,
        coil,
        coil_inertia_per_m: coil_inertia,
        forced_inertia_per_m,
        main,
        bypass,
        closed: closed.map(|c| {
            let pipes: f64 = rows.tubes.iter().map(|t| t.water_kg).sum();
            let store = vessel
                .as_ref()
                .map_or(0.0, |v| v.layer_kg * v.layers as f64);
            let stretch = tube_wall(last).stretch_per_pa();
            ClosedLoop::new(c, water, pipes + store, stretch, p_air_pa)
        }),
    };
    WaterSideParts {
        tubes: rows.tubes,
        tables: rows.tables,
        circuit: Some(loop_model),
        vessel,
        drum,
        bench,
    }
}

/// Largest head over largest flow of what drives the loop, Pa s/kg; none for a thermosyphon.
fn most_pa_s_kg(drive: &Drive) -> f64 {
    match drive {
        Drive::Pump(p) => {
            let (w_max, dp) = p.settings.iter().fold((1e-3f64, 0.0f64), |(w, d), s| {
                let q = s.curve.last().map_or(0.0, |c| c.0);
                (
                    w.max(1000.0 * q),
                    d.max(s.curve.first().map_or(0.0, |c| c.1)),
                )
            });
            dp / w_max
        }
        Drive::Mains { pressure_pa, .. } => pressure_pa / 0.3,
        Drive::Thermosyphon => 0.0,
    }
}

fn drive(rig: &Rig, water: &WaterProperties) -> Drive {
    match &rig.water {
        Water::OnceThrough {
            supply_pressure_pa,
            valve_loss_k,
            inlet_k,
            ..
        } => Drive::Mains {
            pressure_pa: *supply_pressure_pa,
            valve_loss_k: *valve_loss_k,
            inlet_j_kg: water.h_j_kg(*inlet_k),
        },
        Water::Store { .. } | Water::BenchOnly { .. } | Water::None => {
            match rig.circuit().and_then(|c| c.pump.as_ref()) {
                Some(p) => Drive::Pump(p.clone()),
                None => Drive::Thermosyphon,
            }
        }
    }
}

/// Adds all coils, in series, and tells their banks where they start.
fn coils(
    rig: &Rig,
    ducts: &mut [Duct],
    firebox: &mut FireboxModel,
    mut drum: Option<&mut DrumModel>,
    rows: &mut Rows,
) -> Range<usize> {
    let from = rows.tubes.len();
    let mut inventory = 0;
    for (ci, c) in rig.coils.iter().enumerate() {
        let first = rows.tubes.len();
        let duct = &mut ducts[c.section];
        let n = match c.form {
            // Whole numbers of tube cells on each cell of the wall.
            CoilForm::Jacket { in_firebox, .. } => {
                let on = if in_firebox { 1 } else { duct.wall_cells };
                let least = if rows.free { 12 } else { 6 };
                on * (c.cells.unwrap_or(least) * rows.factor).div_ceil(on)
            }
            _ if bank::apart(c) => c.cells.unwrap_or(12) * rows.factor,
            _ => duct.cells,
        };
        // Of every tube cell, shares of the coil in the direction of the water.
        let mut lengths = vec![1.0 / n as f64; n];
        match c.form {
            CoilForm::Around { .. } => duct.wrap = bank::wrap_of(c, duct, first, n),
            CoilForm::Chamber { exposed_share, .. } => {
                firebox.coil = Some(bank::chamber_coil_of(c, exposed_share, first, n));
            }
            CoilForm::Submerged { .. } => {
                if let Some(d) = &mut drum {
                    let floor_z_m = d.vessel.floor_z_m;
                    d.coils.push(bank::submerged_of(c, floor_z_m, first, n));
                }
            }
            CoilForm::Jacket { in_firebox, .. } => {
                let tubes = (first, n);
                let storage = (metal_j_k(c, 1.0 / n as f64).1, rows.metal_s);
                let enters = c.water_entry == WaterEntry::GasInlet;
                if in_firebox {
                    firebox.jacket = Jacket::new(c, &firebox.wall, 1, tubes, storage, enters);
                } else {
                    let cells = duct.wall_cells;
                    duct.jacket = Jacket::new(c, &duct.wall, cells, tubes, storage, enters);
                }
            }
            CoilForm::Helix { .. } | CoilForm::Serpentine { .. } => {
                if let Some(bank) = &mut duct.bank {
                    lengths = bank::tube_cells(bank, c, n, first, rows.free);
                }
            }
        }
        let ratio = match c.form {
            CoilForm::Helix {
                coil_diameter_m, ..
            }
            | CoilForm::Around {
                coil_diameter_m, ..
            } => c.tube_inside_m / coil_diameter_m,
            CoilForm::Chamber {
                coil_diameter_m, ..
            }
            | CoilForm::Submerged {
                coil_diameter_m, ..
            } if coil_diameter_m > 0.0 => c.tube_inside_m / coil_diameter_m,
            CoilForm::Serpentine { .. }
            | CoilForm::Chamber { .. }
            | CoilForm::Jacket { .. }
            | CoilForm::Submerged { .. } => 0.0,
        };
        let d_l = (c.tube_inside_m / c.length_m).min(1.0);
        let rough = 1.5e-6 / c.tube_inside_m;
        let table = rows.tables.len();
        rows.tables.push(if ratio > 0.0 {
            let helix = friction::Helix::new(ratio, rough);
            TubeTable::new(
                rows.water,
                move |re, pr| helix.nusselt(re, pr),
                move |re| helix.f_re(re),
            )
        } else {
            TubeTable::new(
                rows.water,
                move |re, pr| nusselt_internal::duct(re, pr, d_l),
                move |re| friction::pipe_f_re(re, rough),
            )
        });
        let (water_m2, heated_m2) = (c.water_area_m2(), c.heated_m2());
        let (z0, z1) = (entry_z(rig, c), exit_z(rig, c));
        // A jump in height between two coils is bridged in the first cell of the second.
        let bridge = if ci > 0 {
            z0 - exit_z(rig, &rig.coils[ci - 1])
        } else {
            0.0
        };
        let mut before = 0.0;
        for (i, share) in lengths.into_iter().enumerate() {
            let l = c.length_m * share;
            let z = z0 + (z1 - z0) * (before + 0.5 * share);
            before += share;
            let p_pa = rows.pressure_pa(z);
            let (metal_j_k, wall_j_k) = metal_j_k(c, share);
            rows.tubes.push(
                TubeCell {
                    metal_j_k,
                    wall_j_k,
                    water_kg: 990.0 * water_m2 * l,
                    inside_area_m2: heated_m2 * share,
                    flow_area_m2: water_m2,
                    inside_m: c.tube_inside_m,
                    length_m: l,
                    rise_m: (z1 - z0) * share + if i == 0 { bridge } else { 0.0 },
                    loss_k: match c.form {
                        CoilForm::Jacket { .. } => JACKET_LOSS_K * share,
                        // Straight runs are joined by return bends.
                        _ if ratio == 0.0 => {
                            1.5 * l / bank::run_of(c, &rig.gas_path[c.section].bore)
                        }
                        _ => 0.0,
                    },
                    loss_w_k: match c.form {
                        CoilForm::Around { .. } => bank::bare_half_w_k(c, l),
                        CoilForm::Jacket {
                            shell_m2,
                            shell_w_m2k,
                            ..
                        } => shell_w_m2k * shell_m2 * share,
                        _ => 0.0,
                    },
                    p_pa,
                    sat: rows.water.sat(p_pa),
                    metal_s: rows.metal_s,
                    re_per: 0.0,
                    skin_per: 0.0,
                    fittings_per: 0.0,
                    per: Default::default(),
                    per_critical_w: 0.0,
                    shelled: c.is_jacket(),
                    table,
                    inventory: Some(inventory),
                    wall: Some(inventory),
                }
                .prepared(),
            );
            inventory += 1;
        }
    }
    from..rows.tubes.len()
}

/// Metal of a share of a coil that counts with its water, and that which has a temperature of its own, J/K.
fn metal_j_k(c: &Coil, share: f64) -> (f64, f64) {
    let j_m3k = c.metal.density_kg_m3 * c.metal.heat_capacity_j_kgk;
    if let CoilForm::Jacket {
        wall_m2,
        sheet_m,
        shell_m2,
        ..
    } = c.form
    {
        let sheets_m3 = (shell_m2 * sheet_m, 0.5 * wall_m2 * sheet_m);
        return (j_m3k * share * sheets_m3.0, j_m3k * share * sheets_m3.1);
    }
    let section_m2 = c.parallel.max(1) as f64 * PI / 4.0
        * (c.tube_outside_m * c.tube_outside_m - c.tube_inside_m * c.tube_inside_m);
    let all = j_m3k * section_m2 * c.length_m * share;
    (SKIN_SHARE * all, (1.0 - SKIN_SHARE) * all)
}

/// A bench without a vessel: its water is one mixed layer that gives its heat to the bench mass.
fn bench_water(b: &Bench, z_m: f64) -> Vessel {
    Vessel {
        kind: VesselKind::Tank,
        water_m3: b.water_m3,
        water_depth_m: 0.05,
        floor_z_m: z_m,
        layers: 1,
        start_temperature_k: b.start_temperature_k,
        loss_w_k: 0.0,
        shell_heat_capacity_j_k: 0.0,
        hot_port_m: 0.025,
        cold_port_m: 0.025,
        draw_port_m: 0.025,
        surface: None,
        closed: None,
    }
}

/// Height at which the water enters a coil.
fn entry_z(rig: &Rig, c: &Coil) -> f64 {
    // In the chamber the gas rises; in a drum the lower end counts as the gas's inlet.
    let gas_rises = c.in_firebox() || c.in_drum() || rig.gas_path[c.section].rise_m >= 0.0;
    let at_gas_inlet = c.water_entry == WaterEntry::GasInlet;
    if gas_rises == at_gas_inlet {
        c.bottom_z_m
    } else {
        c.top_z_m
    }
}

/// Height at which it leaves.
fn exit_z(rig: &Rig, c: &Coil) -> f64 {
    c.bottom_z_m + c.top_z_m - entry_z(rig, c)
}
