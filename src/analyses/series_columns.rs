//! Columns of the time series and how they are filled.

use crate::components::spec::Rig;
use crate::network::{Instant, Network, Reading, Readings};

type Value = fn(&Instant) -> f64;

/// Columns taken straight from an instant.
const ALWAYS: &[(&str, Value)] = &[
    ("gas_firebox_temperature_K", |i| i.flame_k),
    ("stack_temperature_K", |i| i.stack_k),
    ("flue_wall_min_temperature_K", |i| {
        if i.flue_wall_min_k.is_finite() {
            i.flue_wall_min_k
        } else {
            i.stack_k
        }
    }),
    ("ember_temperature_K", |i| i.embers_k),
    ("hearth_temperature_K", |i| i.hearth_k),
    ("lining_temperature_K", |i| i.free_lining_k),
    ("stack_loss_fraction", |i| {
        if i.net_burnt_w > 200.0 {
            ((i.stack_sensible_w - i.air_enthalpy_w) / i.net_burnt_w).clamp(0.0, 5.0)
        } else {
            0.0
        }
    }),
    ("air_flow_kg_s", |i| i.air_kg_s),
    ("air_ratio", |i| {
        if i.air_ratio.is_finite() {
            i.air_ratio.min(99.0)
        } else {
            99.0
        }
    }),
    ("draught_Pa", |i| i.draught_pa),
    ("free_inlet_m2", |i| i.free_inlet_m2),
    ("burn_rate_kg_s", |i| i.dry_wood_kg_s),
    ("char_burn_rate_kg_s", |i| i.char_kg_s),
    ("firing_rate_W", |i| i.net_burnt_w),
    ("unburnt_W", |i| i.unburnt_w),
    ("heat_to_coil_W", |i| i.to_coil_w),
    ("heat_to_tank_W", |i| i.to_store_w),
    ("heat_stack_sensible_W", |i| {
        i.stack_sensible_w - i.air_enthalpy_w
    }),
    ("heat_stack_latent_W", |i| i.stack_latent_w),
    ("heat_casing_W", |i| i.casing_w + i.opening_w),
    ("heat_into_walls_W", |i| {
        i.into_walls_w - i.casing_w - i.drying_w
    }),
    ("heat_pipe_loss_W", |i| i.pipe_loss_w),
    ("heat_vessel_loss_W", |i| i.vessel_loss_w),
    ("flue_o2_dry_fraction", |i| i.o2_dry),
    ("flue_co2_dry_fraction", |i| i.co2_dry),
    ("flue_co_estimate_dry_fraction", |i| i.co_dry),
    ("condensate_kg_s", |i| i.condensate_kg_s),
    ("flue_gas_dew_point_K", |i| i.dew_point_k),
];

const WATER: &[(&str, Value)] = &[
    ("tank_mean_temperature_K", |i| i.tank_mean_k),
    ("tap_temperature_K", |i| i.tap_k),
];

/// Where a coil or a jacket meets the gas.
const GAS_AT_COIL: &[(&str, Value)] = &[
    ("gas_below_coil_temperature_K", |i| i.below_coil_k),
    ("gas_above_coil_temperature_K", |i| i.above_coil_k),
];

type Shown = fn(&Readings) -> Option<Reading>;

/// Where a bare thermometer is read.
const SHOWN: &[(&str, Shown)] = &[
    ("firebox", |r| Some(r.chamber)),
    ("stack", |r| Some(r.stack)),
];
const SHOWN_AT_COIL: &[(&str, Shown)] = &[
    ("below_coil", |r| r.below_coil),
    ("above_coil", |r| r.above_coil),
];

fn shown_names(places: &[(&str, Shown)]) -> impl Iterator<Item = String> {
    places.iter().flat_map(|(place, _)| {
        ["shown", "seen"].map(|what| format!("{what}_{place}_temperature_K"))
    })
}

fn shown_values(places: &[(&str, Shown)], r: &Readings) -> impl Iterator<Item = f64> {
    places
        .iter()
        .flat_map(|(_, of)| of(r).map_or([f64::NAN; 2], |p| [p.shown_k, p.seen_k]))
}

const LOOP: &[(&str, Value)] = &[
    ("loop_flow_kg_s", |i| i.flow_kg_s),
    ("loop_drive_Pa", |i| i.loop_drive_pa),
    ("coil_inlet_temperature_K", |i| i.coil_in_k),
    ("coil_outlet_temperature_K", |i| i.coil_out_k),
    ("coil_wall_max_temperature_K", |i| i.coil_wall_max_k),
    ("coil_fouling_grown_m2K_W", |i| i.coil_fouling_m2k_w),
    ("boiling_point_K", |i| i.boiling_point_k),
    ("boiling_margin_K", |i| i.boiling_margin_k),
    ("steam_kg_s", |i| i.steam_kg_s),
];

const BYPASS: &[(&str, Value)] = &[
    ("bypass_flow_kg_s", |i| i.bypass_flow_kg_s),
    ("header_mean_temperature_K", |i| i.header_mean_k),
    ("header_top_temperature_K", |i| i.header_top_k),
    ("heat_to_header_W", |i| i.to_header_w),
    ("heat_header_loss_W", |i| i.header_loss_w),
];

const DRUM: &[(&str, Value)] = &[
    ("drum_mean_temperature_K", |i| i.drum_mean_k),
    ("drum_max_temperature_K", |i| i.drum_max_k),
    ("drum_water_kg", |i| i.drum_water_kg),
    ("heat_to_drum_W", |i| i.to_drum_w),
    ("heat_drum_to_coil_W", |i| i.drum_to_coil_w),
    ("heat_drum_loss_W", |i| i.drum_loss_w),
];

/// The table's layout for one rig.
#[derive(Clone)]
pub struct Columns {
    sections: Vec<String>,
    layers: usize,
    water: bool,
    circuit: bool,
    gas_at_coil: bool,
    bypass: bool,
    drum: bool,
    damp: bool,
    closed: bool,
    bench: bool,
    damper: bool,
    pump: bool,
}

impl Columns {
    pub(super) fn new(rig: &Rig, net: &Network) -> Self {
        Self {
            sections: rig
                .gas_path
                .iter()
                .map(|s| s.name.replace(' ', "_"))
                .collect(),
            layers: net.vessel.as_ref().map_or(0, |v| v.layers),
            water: net.has_water(),
            circuit: net.circuit.is_some(),
            gas_at_coil: rig.coils.iter().any(|c| !c.in_drum()),
            bypass: net.header().is_some(),
            drum: net.drum.is_some(),
            damp: net.has_damp_walls(),
            closed: net.closed().is_some(),
            bench: net.bench.is_some(),
            damper: net.ducts.iter().any(|d| d.is_damper),
            pump: net
                .circuit
                .as_ref()
                .is_some_and(|c| matches!(c.drive, crate::network::Drive::Pump(_))),
        }
    }

    pub(super) fn names(&self) -> Vec<String> {
        let mut n = vec!["time_s".to_string()];
        n.extend(ALWAYS.iter().map(|c| c.0.to_string()));
        n.extend(shown_names(SHOWN));
        n.extend(
            self.sections
                .iter()
                .map(|s| format!("gas_after_{s}_temperature_K")),
        );
        n.push("bed_wood_kg".into());
        n.push("bed_char_kg".into());
        n.push("air_inlet_fraction".into());
        if self.damper {
            n.push("damper_fraction".into());
        }
        if self.water {
            n.extend(WATER.iter().map(|c| c.0.to_string()));
            if self.circuit {
                if self.gas_at_coil {
                    n.extend(GAS_AT_COIL.iter().map(|c| c.0.to_string()));
                    n.extend(shown_names(SHOWN_AT_COIL));
                }
                n.extend(LOOP.iter().map(|c| c.0.to_string()));
            }
            if self.layers > 1 {
                n.extend((1..=self.layers).map(|i| format!("tank_layer_{i}_temperature_K")));
            }
        }
        if self.bypass {
            n.extend(BYPASS.iter().map(|c| c.0.to_string()));
        }
        if self.drum {
            n.extend(DRUM.iter().map(|c| c.0.to_string()));
        }
        if self.damp {
            n.push("heat_drying_W".into());
            n.push("wall_water_kg".into());
        }
        if self.closed {
            n.push("loop_pressure_Pa".into());
        }
        if self.bench {
            n.push("bench_temperature_K".into());
        }
        if self.pump {
            n.push("pump_setting".into());
        }
        n
    }

    pub(super) fn fill(&self, net: &Network, t_s: f64, y: &[f64], i: &Instant, row: &mut Vec<f64>) {
        row.clear();
        row.push(t_s);
        row.extend(ALWAYS.iter().map(|c| (c.1)(i)));
        let readings = net.readings(y, i);
        row.extend(shown_values(SHOWN, &readings));
        row.extend(
            (0..self.sections.len()).map(|k| i.section_exit_k.get(k).copied().unwrap_or(i.stack_k)),
        );
        row.push(net.bed_wood_kg(y));
        row.push(y[net.layout.char_kg]);
        row.push(net.mode.air_inlet);
        if self.damper {
            row.push(net.mode.damper);
        }
        if self.water {
            row.extend(WATER.iter().map(|c| (c.1)(i)));
            if self.circuit {
                if self.gas_at_coil {
                    row.extend(GAS_AT_COIL.iter().map(|c| (c.1)(i)));
                    row.extend(shown_values(SHOWN_AT_COIL, &readings));
                }
                row.extend(LOOP.iter().map(|c| (c.1)(i)));
            }
            if self.layers > 1 {
                row.extend((0..self.layers).map(|k| net.layer_k(y, k)));
            }
        }
        if self.bypass {
            row.extend(BYPASS.iter().map(|c| (c.1)(i)));
        }
        if self.drum {
            row.extend(DRUM.iter().map(|c| (c.1)(i)));
        }
        if self.damp {
            row.push(i.drying_w);
            row.push(net.damp_kg(y));
        }
        if self.closed {
            row.push(i.loop_pressure_pa);
        }
        if self.bench {
            row.push(i.bench_k);
        }
        if self.pump {
            row.push(net.mode.pump.map_or(0.0, |p| p as f64 + 1.0));
        }
    }
}
