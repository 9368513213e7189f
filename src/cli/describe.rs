//! Figures that follow from a rig before any fire burns: what `check` shows, so that a slip of the pen
//! (a coil in feet, a flue in inches) is seen at a glance.

use comfy_table::{CellAlignment, Table, presets};
use serde_json::{Map, Value, json};
use std::f64::consts::PI;

use crate::components::spec::{
    Bore, Coil, CoilForm, Firebox, FireboxKind, Fuel, Loop, Pipe, Rig, Section, Vessel, Water,
};
use crate::properties::atmosphere;
use crate::properties::water::Water as WaterTable;
use crate::properties::wood;
use crate::units::{self, UnitSystem};

/// In which way a figure is shown; the value is SI.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Shown {
    Length,
    Area,
    Volume,
    Mass,
    Energy,
    HeatingValue,
    Temperature,
    Time,
    Fraction,
    /// A plain number.
    Number,
}

/// One figure.
#[derive(Debug, Clone, PartialEq)]
struct Figure {
    /// JSON key, with its SI unit.
    key: &'static str,
    label: &'static str,
    value: f64,
    shown: Shown,
}

/// Figures of one part of the rig.
#[derive(Debug, Clone, PartialEq)]
struct Group {
    /// JSON key: "firebox", "coil".
    part: &'static str,
    /// The scenario's own name for it, where there is one.
    name: Option<String>,
    figures: Vec<Figure>,
}

/// All that follows from a rig.
#[derive(Debug, Clone, PartialEq)]
pub struct Description {
    groups: Vec<Group>,
}

impl Description {
    /// Works the figures out.
    pub fn of(rig: &Rig) -> Self {
        let mut groups = vec![fuel(&rig.fuel), firebox(&rig.firebox), gas_path(rig)];
        groups.extend(rig.coils.iter().map(|c| coil(rig, c)));
        groups.extend(rig.drum.iter().map(|d| drum(rig, d)));
        groups.extend(water(rig));
        Self { groups }
    }

    /// As lines of text, in the person's units.
    pub fn text(&self, units: UnitSystem) -> String {
        let mut table = Table::new();
        table.load_style(presets::NOTHING);
        for group in &self.groups {
            let title = match &group.name {
                Some(name) if name != group.part => format!("{} \"{name}\"", group.part),
                _ => group.part.to_owned(),
            };
            table.add_row([title, String::new()]);
            for figure in &group.figures {
                table.add_row([format!("  {}", figure.label), figure.text(units)]);
            }
        }
        if let Some(column) = table.column_mut(1) {
            column.set_cell_alignment(CellAlignment::Right);
        }
        // The table pads each cell with a blank on both sides.
        let lines: Vec<String> = table
            .lines()
            .map(|l| l.strip_prefix(' ').unwrap_or(&l).trim_end().to_owned())
            .collect();
        lines.join("\n")
    }

    /// As JSON, SI: a list of parts, each with its figures.
    pub fn json(&self) -> Value {
        self.groups
            .iter()
            .map(|group| {
                let mut object = Map::new();
                object.insert("part".into(), json!(group.part));
                if let Some(name) = &group.name {
                    object.insert("name".into(), json!(name));
                }
                for figure in &group.figures {
                    object.insert(figure.key.into(), json!(figure.value));
                }
                Value::Object(object)
            })
            .collect()
    }
}

impl Figure {
    fn text(&self, sys: UnitSystem) -> String {
        let v = self.value;
        match self.shown {
            Shown::Length => units::format_length(v, sys),
            Shown::Area => units::format_area(v, sys),
            Shown::Volume => units::format_volume(v, sys),
            Shown::Mass => units::format_mass(v, sys),
            Shown::Energy => units::format_energy(v, sys),
            Shown::HeatingValue => units::format_heating_value(v, sys),
            Shown::Temperature => units::format_temperature(v, sys),
            Shown::Time => units::format_time(v),
            Shown::Fraction => units::format_fraction(v),
            Shown::Number => units::significant(v, 3),
        }
    }
}

fn figure(key: &'static str, label: &'static str, value: f64, shown: Shown) -> Figure {
    Figure {
        key,
        label,
        value,
        shown,
    }
}

fn group(part: &'static str, figures: Vec<Figure>) -> Group {
    Group {
        part,
        name: None,
        figures,
    }
}

/// Net heating value of the fuel as fired, J/kg moist.
fn net_heating_value_j_kg(fuel: &Fuel) -> f64 {
    wood::net_heating_value_j_kg(
        fuel.gross_heating_value_dry_j_kg,
        fuel.hydrogen_daf * (1.0 - fuel.ash_dry),
        fuel.moisture_wet,
    )
}

fn fuel(fuel: &Fuel) -> Group {
    let mut group = group(
        "fuel",
        vec![
            figure(
                "moisture_wet",
                "moisture, wet basis",
                fuel.moisture_wet,
                Shown::Fraction,
            ),
            figure(
                "net_heating_value_J_kg",
                "net heating value as fired",
                net_heating_value_j_kg(fuel),
                Shown::HeatingValue,
            ),
        ],
    );
    group.name = Some(fuel.name.clone());
    group
}

fn firebox(f: &Firebox) -> Group {
    group(
        "firebox",
        vec![
            figure(
                "hearth_area_m2",
                "hearth area",
                f.width_m * f.depth_m,
                Shown::Area,
            ),
            figure(
                "volume_m3",
                "volume",
                f.width_m * f.depth_m * f.height_m,
                Shown::Volume,
            ),
            figure(
                "air_opening_m2",
                "open mouth and air inlets",
                air_opening_m2(f),
                Shown::Area,
            ),
        ],
    )
}

/// What stays open to the air while the fire burns.
fn air_opening_m2(f: &Firebox) -> f64 {
    let mouth_m2 = match f.kind {
        FireboxKind::FeedTube => f.mouth_area_m2 * (1.0 - f.mouth_cover),
        FireboxKind::Door | FireboxKind::DownDraught => 0.0,
    };
    mouth_m2 + f.air_inlet_area_m2
}

fn gas_path(rig: &Rig) -> Group {
    let length_m: f64 = rig.gas_path.iter().map(|s| s.length_m).sum();
    let rise_m: f64 = rig.gas_path.iter().map(|s| s.rise_m).sum();
    let mut figures = vec![
        figure("length_m", "length", length_m, Shown::Length),
        figure(
            "top_height_m",
            "top above the hearth floor",
            rig.firebox.height_m + rise_m,
            Shown::Length,
        ),
    ];
    if let Some(area_m2) = narrowest_m2(rig) {
        figures.push(figure(
            "narrowest_m2",
            "narrowest bore",
            area_m2,
            Shown::Area,
        ));
    }
    if let Some(last) = rig.gas_path.last() {
        let ratio = air_opening_m2(&rig.firebox) / last.area_m2();
        figures.push(figure(
            "air_opening_over_flue",
            "air opening / flue area",
            ratio,
            Shown::Number,
        ));
    }
    group("gas path", figures)
}

/// Smallest bore of the gas path, coils left out.
fn narrowest_m2(rig: &Rig) -> Option<f64> {
    let areas = rig.gas_path.iter().map(Section::area_m2);
    areas.min_by(f64::total_cmp)
}

/// What coil and core plug leave open for the gas at the tightest cross-section.
fn free_gas_area_m2(section: &Section, coil: &Coil) -> f64 {
    let open_m2 = section.bore.area_m2() * (1.0 - coil.core_plug_share);
    let blocked_m2 = match coil.form {
        CoilForm::Helix {
            coil_diameter_m, ..
        } => PI * coil_diameter_m * coil.tube_outside_m,
        CoilForm::Serpentine { .. } => {
            let across_m = match section.bore {
                Bore::Round { diameter_m } => diameter_m,
                Bore::Rect { width_m, .. } => width_m,
            };
            across_m * coil.tube_outside_m * coil.parallel as f64
        }
        CoilForm::Around { .. }
        | CoilForm::Chamber { .. }
        | CoilForm::Jacket { .. }
        | CoilForm::Submerged { .. } => 0.0,
    };
    open_m2 - blocked_m2
}

fn coil(rig: &Rig, c: &Coil) -> Group {
    if let CoilForm::Jacket {
        wall_m2,
        water_m2,
        sheet_m,
        shell_m2,
        ..
    } = c.form
    {
        let metal_kg = (0.5 * wall_m2 + shell_m2) * sheet_m * c.metal.density_kg_m3;
        let figures = vec![
            figure("inside_area_m2", "heated surface", wall_m2, Shown::Area),
            figure(
                "water_m3",
                "water in it",
                water_m2 * c.length_m,
                Shown::Volume,
            ),
            figure("metal_kg", "metal in it", metal_kg, Shown::Mass),
        ];
        let mut group = group("coil", figures);
        group.name = Some(c.name.clone());
        return group;
    }
    let tubes = c.parallel as f64;
    let length_m = c.length_m * tubes;
    let metal_m2 = PI / 4.0 * (c.tube_outside_m.powi(2) - c.tube_inside_m.powi(2));
    let bore_m2 = PI / 4.0 * c.tube_inside_m.powi(2);
    let mut figures = vec![
        figure(
            "outside_area_m2",
            "outside area",
            PI * c.tube_outside_m * length_m,
            Shown::Area,
        ),
        figure(
            "inside_area_m2",
            "inside area",
            PI * c.tube_inside_m * length_m,
            Shown::Area,
        ),
        figure("water_m3", "water in it", bore_m2 * length_m, Shown::Volume),
        figure(
            "metal_kg",
            "metal in it",
            metal_m2 * length_m * c.metal.density_kg_m3,
            Shown::Mass,
        ),
    ];
    if let CoilForm::Helix {
        coil_diameter_m,
        pitch_m,
    }
    | CoilForm::Around {
        coil_diameter_m,
        pitch_m,
        ..
    } = c.form
    {
        let turns = c.length_m / (PI * coil_diameter_m).hypot(pitch_m);
        figures.push(figure("turns", "turns", turns, Shown::Number));
        figures.push(figure(
            "wound_length_m",
            "length along the section",
            turns * pitch_m,
            Shown::Length,
        ));
    }
    if let CoilForm::Chamber {
        coil_diameter_m,
        run_m,
        exposed_share,
    } = c.form
    {
        let (key, label, one_m) = if coil_diameter_m > 0.0 {
            ("turns", "turns", PI * coil_diameter_m)
        } else {
            ("runs", "runs", run_m)
        };
        figures.push(figure(key, label, c.length_m / one_m, Shown::Number));
        figures.push(figure(
            "exposed_area_m2",
            "outside area that sees the fire",
            PI * c.tube_outside_m * length_m * exposed_share,
            Shown::Area,
        ));
    }
    if let CoilForm::Submerged {
        coil_diameter_m,
        run_m,
        ..
    } = c.form
    {
        let (key, label, one_m) = if coil_diameter_m > 0.0 {
            ("turns", "turns", PI * coil_diameter_m)
        } else {
            ("runs", "runs", run_m)
        };
        figures.push(figure(key, label, c.length_m / one_m, Shown::Number));
    }
    if let Some(section) = rig.gas_path.get(c.section)
        && !matches!(
            c.form,
            CoilForm::Around { .. } | CoilForm::Chamber { .. } | CoilForm::Submerged { .. }
        )
    {
        let free_m2 = free_gas_area_m2(section, c);
        figures.push(figure(
            "free_gas_area_m2",
            "free gas area past it",
            free_m2,
            Shown::Area,
        ));
        if let Some(last) = rig.gas_path.last() {
            figures.push(figure(
                "free_gas_area_over_flue",
                "free gas area / flue area",
                free_m2 / last.area_m2(),
                Shown::Number,
            ));
        }
    }
    figures.extend([
        figure(
            "bottom_height_m",
            "bottom above the hearth floor",
            c.bottom_z_m,
            Shown::Length,
        ),
        figure(
            "top_height_m",
            "top above the hearth floor",
            c.top_z_m,
            Shown::Length,
        ),
        figure(
            "wall_limit_K",
            "service limit of the metal",
            c.metal.limit_k,
            Shown::Temperature,
        ),
    ]);
    let mut group = group("coil", figures);
    group.name = Some(c.name.clone());
    group
}

/// The drum between fire and coil.
fn drum(rig: &Rig, d: &Vessel) -> Group {
    let table = WaterTable::shared();
    let boils = table.sat(atmosphere::pressure_pa(rig.site.altitude_m));
    let start_k = d.start_temperature_k;
    let mass_kg = d.water_m3 * table.rho_kg_m3(start_k);
    let heat_j = mass_kg * (boils.h_f_j_kg - table.h_j_kg(start_k))
        + d.shell_heat_capacity_j_k * (boils.t_k - start_k);
    let figures = vec![
        figure("water_m3", "water in it", d.water_m3, Shown::Volume),
        figure("start_K", "start", start_k, Shown::Temperature),
        figure("boils_K", "boils at", boils.t_k, Shown::Temperature),
        figure(
            "heat_to_boiling_J",
            "heat from start to boiling",
            heat_j,
            Shown::Energy,
        ),
        figure(
            "walls_in_water_m2",
            "stove walls in its water",
            rig.in_water_m2(),
            Shown::Area,
        ),
        figure(
            "floor_height_m",
            "floor above the hearth floor",
            d.floor_z_m,
            Shown::Length,
        ),
        figure(
            "surface_height_m",
            "water's surface above the hearth floor",
            d.floor_z_m + d.water_depth_m,
            Shown::Length,
        ),
    ];
    group("drum", figures)
}

fn water(rig: &Rig) -> Vec<Group> {
    match &rig.water {
        Water::None => Vec::new(),
        Water::OnceThrough { supply, ret, .. } => {
            vec![group("pipes", vec![pipe_content(supply, ret)])]
        }
        Water::BenchOnly { circuit, .. } => vec![circuit_group(rig, circuit, None)],
        Water::Store {
            circuit, vessel, ..
        } => circuit
            .iter()
            .map(|c| circuit_group(rig, c, Some(vessel)))
            .chain([store(rig, vessel)])
            .collect(),
    }
}

fn pipe_content(supply: &Pipe, ret: &Pipe) -> Figure {
    let content_m3 = |p: &Pipe| PI / 4.0 * p.inside_m.powi(2) * p.length_m;
    figure(
        "pipe_water_m3",
        "water in the pipes",
        content_m3(supply) + content_m3(ret),
        Shown::Volume,
    )
}

fn circuit_group(rig: &Rig, circuit: &Loop, vessel: Option<&Vessel>) -> Group {
    let mut figures = vec![pipe_content(&circuit.supply, &circuit.ret)];
    if let (Some(vessel), Some((low_m, high_m))) = (vessel, coil_span_m(rig)) {
        let hot_m = vessel.floor_z_m + vessel.hot_port_m;
        figures.push(figure(
            "hot_port_over_coil_middle_m",
            "hot port above the coil's middle",
            hot_m - 0.5 * (low_m + high_m),
            Shown::Length,
        ));
    }
    group("loop", figures)
}

/// Lowest and highest point of all coils.
fn coil_span_m(rig: &Rig) -> Option<(f64, f64)> {
    let low = rig
        .coils
        .iter()
        .map(|c| c.bottom_z_m)
        .min_by(f64::total_cmp)?;
    let high = rig.coils.iter().map(|c| c.top_z_m).max_by(f64::total_cmp)?;
    Some((low, high))
}

fn store(rig: &Rig, v: &Vessel) -> Group {
    let table = WaterTable::shared();
    let (start_k, target_k) = (v.start_temperature_k, rig.target.temperature_k);
    let mass_kg = v.water_m3 * table.rho_kg_m3(start_k);
    let heat_j = mass_kg * (table.h_j_kg(target_k) - table.h_j_kg(start_k))
        + v.shell_heat_capacity_j_k * (target_k - start_k);
    let mut figures = vec![
        figure("water_m3", "water in it", v.water_m3, Shown::Volume),
        figure("start_K", "start", start_k, Shown::Temperature),
        figure("target_K", "target", target_k, Shown::Temperature),
        figure(
            "heat_to_target_J",
            "heat from start to target",
            heat_j,
            Shown::Energy,
        ),
        figure(
            "least_fuel_kg",
            "wood for that if nothing were lost",
            (heat_j / net_heating_value_j_kg(&rig.fuel)).max(0.0),
            Shown::Mass,
        ),
    ];
    if rig.heats_store_by_walls() {
        figures.push(figure(
            "walls_in_water_m2",
            "stove walls in its water",
            rig.in_water_m2(),
            Shown::Area,
        ));
    }
    if v.loss_w_k > 0.0 {
        let time_s =
            (mass_kg * table.dh_dt_j_kgk(start_k) + v.shell_heat_capacity_j_k) / v.loss_w_k;
        figures.push(figure(
            "cooling_time_constant_s",
            "cooling time constant, walls alone",
            time_s,
            Shown::Time,
        ));
    }
    let mut ports = Vec::new();
    if rig.circuit().is_some() {
        ports.push((
            "hot_port_height_m",
            "hot port above the hearth floor",
            v.hot_port_m,
        ));
        ports.push((
            "cold_port_height_m",
            "cold port above the hearth floor",
            v.cold_port_m,
        ));
    }
    ports.push((
        "draw_port_height_m",
        "draw port above the hearth floor",
        v.draw_port_m,
    ));
    for (key, label, z_m) in ports {
        figures.push(figure(key, label, v.floor_z_m + z_m, Shown::Length));
    }
    group("store", figures)
}
