//! The account at the end of a run: both sides from independent ends, so that the residual can fail.

use super::Network;
use super::fuel::CHAR_J_KG;
use super::layout::*;
use crate::results::{Ledger, LedgerLine, MassBalance};

/// What the bed was given, and the state that the run started from.
#[derive(Debug, Clone, Default)]
pub struct Fed {
    pub start: Vec<f64>,
    pub moist_kg: f64,
    pub dry_kg: f64,
    pub water_kg: f64,
    pub sensible_j: f64,
    /// Net heating value of the moist wood.
    pub net_j: f64,
    /// Gross energy of the starter burnt so far.
    pub starter_j: f64,
}

/// What is left of the wood in the bed.
#[derive(Debug, Clone, Copy, Default)]
pub struct WoodLeft {
    pub dry_kg: f64,
    pub water_kg: f64,
    pub char_kg: f64,
    pub sensible_j: f64,
    /// Net energy of wood and char left.
    pub net_j: f64,
}

impl Network {
    /// Wood and char in the bed.
    pub fn wood_left(&self, y: &[f64]) -> WoodLeft {
        let mut left = WoodLeft {
            char_kg: y[self.layout.char_kg],
            ..WoodLeft::default()
        };
        left.net_j = CHAR_J_KG * left.char_kg;
        for k in 0..COHORTS {
            let c = &self.mode.cohorts[k].fed;
            let dry = c.dry_kg * y[self.layout.virgin + k];
            left.dry_kg += dry;
            left.water_kg += dry * c.water_per_dry;
            left.sensible_j += dry * c.sensible_j_kg;
            left.net_j += dry * self.fuel.net_moist_j_kg_dry(c.water_per_dry);
        }
        left
    }

    /// Energy of all walls above the reference, J.
    fn walls_j(&self, y: &[f64]) -> f64 {
        let f = &self.firebox;
        let mut sum = f
            .wall
            .enthalpy_j(&y[f.wall_state..f.wall_state + f.wall.len()]);
        for d in &f.plates {
            sum += d
                .wall
                .enthalpy_j(&y[d.wall_state..d.wall_state + d.wall.len()]);
        }
        for d in &self.ducts {
            for (wall, first) in d.walls() {
                let n = wall.len();
                for c in 0..d.wall_cells {
                    let at = first + c * n;
                    sum += wall.enthalpy_j(&y[at..at + n]);
                }
            }
        }
        sum
    }

    fn tubes_j(&self, y: &[f64]) -> f64 {
        self.tubes
            .iter()
            .enumerate()
            .map(|(i, t)| {
                let wall = t
                    .wall
                    .map_or(0.0, |k| y[self.layout.tube_walls + k] * t.wall_j_k);
                (y[self.layout.tubes + i] * t.scale_j_k() + wall) * T_SCALE_K
            })
            .sum()
    }

    /// Energy of the vessel's water and shell, J above the reference.
    pub fn vessel_j(&self, y: &[f64]) -> f64 {
        self.vessel.as_ref().map_or(0.0, |v| {
            (0..v.layers)
                .map(|i| y[self.layout.layers + i])
                .sum::<f64>()
                * v.scale_j_k()
                * T_SCALE_K
        })
    }

    /// Energy of the header's water and shell, J above the reference.
    pub fn header_j(&self, y: &[f64]) -> f64 {
        self.header().map_or(0.0, |v| {
            let first = self.layout.header_layers;
            y[first..first + v.layers].iter().sum::<f64>() * v.scale_j_k() * T_SCALE_K
        })
    }

    /// Energy of the bench mass, J above the reference.
    pub fn bench_j(&self, y: &[f64]) -> f64 {
        match (&self.bench, self.layout.bench) {
            (Some(b), Some(i)) => y[i] * b.scale_j_k * T_SCALE_K,
            _ => 0.0,
        }
    }

    fn coil_water_kg(&self, y: &[f64]) -> f64 {
        self.tubes
            .iter()
            .filter_map(|t| {
                t.inventory
                    .map(|k| y[self.layout.inventory + k] * t.water_kg)
            })
            .sum()
    }

    fn vessel_water_kg(&self, y: &[f64]) -> f64 {
        self.vessel
            .as_ref()
            .map_or(0.0, |v| v.layers as f64 * self.layer_kg(y))
            + self
                .header()
                .map_or(0.0, |v| v.layers as f64 * self.header_layer_kg(y))
    }

    /// The account between the start recorded in `fed` and the state `y`.
    pub fn ledger(&self, fed: &Fed, y: &[f64]) -> Ledger {
        let l = &self.layout;
        let y0 = &fed.start;
        let int = |q: Integral| l.integral_value(y, q);
        let line = |key: &str, label: &str, energy_j: f64| LedgerLine {
            key: key.into(),
            label: label.into(),
            energy_j,
        };
        let fuel_gross = fed.dry_kg * self.fuel.gross_j_kg + fed.starter_j;
        let inputs = vec![
            line("fuel_gross", "Wood and starter, gross", fuel_gross),
            line(
                "fuel_sensible",
                "Wood at outdoor temperature",
                fed.sensible_j,
            ),
            line(
                "air_enthalpy",
                "Air at outdoor temperature",
                int(Integral::AirEnthalpy),
            ),
            line("water_in", "Cold water in", int(Integral::WaterIn)),
            line("pump_work", "Pump work", int(Integral::PumpWork)),
        ];
        let outputs = vec![
            line(
                "stack_sensible",
                "Up the stack, sensible",
                int(Integral::StackSensible),
            ),
            line(
                "stack_latent",
                "Up the stack, latent",
                int(Integral::StackLatent),
            ),
            line(
                "condensate_latent",
                "Latent heat regained by condensing",
                -int(Integral::CondensateLatent),
            ),
            line("unburnt", "Unburnt gas and smoke", int(Integral::Unburnt)),
            line(
                "casing",
                "Through stove and flue walls",
                int(Integral::Casing),
            ),
            line("drying", "Into drying walls", self.dried(y).0),
            line(
                "opening",
                "Out of the mouth or door",
                int(Integral::Opening),
            ),
            line("pipe_loss", "From pipes", int(Integral::PipeLoss)),
            line(
                "vessel_loss",
                "From the vessel's walls",
                int(Integral::VesselLoss),
            ),
            line(
                "header_loss",
                "From the header's walls",
                int(Integral::HeaderLoss),
            ),
            line(
                "surface_loss",
                "From the open surface",
                int(Integral::SurfaceLoss),
            ),
            line("evaporation", "Evaporated", int(Integral::Evaporation)),
            line("vented", "Boiled over as steam", int(Integral::Vented)),
            line(
                "relief",
                "Blown off by the relief valve",
                int(Integral::Relief),
            ),
            line("draws_out", "Hot water drawn", int(Integral::DrawsOut)),
            line(
                "bench_loss",
                "Given off by the bench",
                int(Integral::BenchLoss),
            ),
        ];
        let left = self.wood_left(y);
        let rise = |f: &dyn Fn(&[f64]) -> f64| f(y) - f(y0);
        let deposits = |y: &[f64]| self.deposit_kg(y).iter().sum::<f64>();
        let gas_nodes = |y: &[f64]| {
            (y[l.embers] * self.firebox.bits_j_k + y[l.hearth] * self.firebox.hearth_j_k)
                * T_SCALE_K
        };
        let stored = vec![
            line(
                "wood_left",
                "Wood not yet charred",
                left.dry_kg * self.fuel.gross_j_kg + left.sensible_j,
            ),
            line("char_left", "Char left", CHAR_J_KG * left.char_kg),
            line(
                "deposit",
                "Soot and tar on coil and flue",
                CHAR_J_KG * rise(&deposits),
            ),
            line("walls", "In walls and masonry", rise(&|y| self.walls_j(y))),
            line("fire_bed", "In embers and hearth", rise(&gas_nodes)),
            line(
                "loop",
                "In coil and pipes with their water",
                rise(&|y| self.tubes_j(y)),
            ),
            line("vessel", "In the store", rise(&|y| self.vessel_j(y))),
            line("header", "In the header", rise(&|y| self.header_j(y))),
            line("bench", "In the bench", rise(&|y| self.bench_j(y))),
        ];
        let starter_dry = fed.starter_j / self.fuel.gross_j_kg;
        let mass = |name: &str, in_kg: f64, out_kg: f64, stored_kg: f64| MassBalance {
            name: name.into(),
            in_kg,
            out_kg,
            stored_kg,
            residual_fraction: (in_kg - out_kg - stored_kg).abs() / in_kg.abs().max(1e-3),
        };
        let f = &self.fuel;
        let deposit = rise(&deposits);
        let mut masses = Vec::new();
        if self.has_damp_walls() {
            masses.push(mass(
                "wall_water",
                self.damp_kg(y0),
                self.dried(y).1,
                self.damp_kg(y),
            ));
        }
        let ash = f.ash * (fed.dry_kg - left.dry_kg + starter_dry);
        masses.extend([
            mass(
                "carbon",
                f.carbon * (fed.dry_kg + starter_dry),
                int(Integral::CarbonOut),
                f.carbon * left.dry_kg + left.char_kg + deposit,
            ),
            mass(
                "fuel_water",
                fed.water_kg + f.water_from_hydrogen * (fed.dry_kg + starter_dry),
                int(Integral::FuelWaterOut),
                left.water_kg + f.water_from_hydrogen * left.dry_kg,
            ),
            mass(
                "air_and_fuel",
                int(Integral::AirIn) + fed.dry_kg + fed.water_kg + starter_dry,
                int(Integral::GasOut),
                left.dry_kg + left.water_kg + left.char_kg + ash + deposit,
            ),
            mass(
                "loop_and_store_water",
                self.vessel_water_kg(y0) + self.coil_water_kg(y0),
                int(Integral::VesselWaterOut)
                    + if self.vessel.is_some() {
                        0.0
                    } else {
                        int(Integral::LoopWaterNet)
                    },
                self.vessel_water_kg(y) + self.coil_water_kg(y),
            ),
        ]);
        let mut ledger = Ledger {
            inputs,
            outputs,
            stored,
            unaccounted_j: 0.0,
            residual_fraction: 0.0,
            masses,
        };
        self.drum_account(y0, y, &mut ledger);
        let sum = |v: &[LedgerLine]| v.iter().map(|x| x.energy_j).sum::<f64>();
        ledger.unaccounted_j = sum(&ledger.inputs) - sum(&ledger.outputs) - sum(&ledger.stored);
        ledger.residual_fraction = ledger.unaccounted_j.abs() / fuel_gross.max(1e6);
        ledger
    }

    /// Net energy of the fuel fed, J.
    pub fn fuel_net_j(&self, fed: &Fed) -> f64 {
        fed.net_j + fed.starter_j * self.fuel.net_j_kg / self.fuel.gross_j_kg
    }
}
