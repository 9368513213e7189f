//! Invented burns for tests of files and pictures: plausible curves, no physics behind them.
#![allow(dead_code)] // each test file uses its own part

mod drawing;

use drawing::rig;
use emberloop::results::{
    BurnResult, Echo, EventKind, EventRecord, Ledger, LedgerLine, MassBalance, OperatingPicture,
    Series, SolverCounters, Summary, Warning,
};

/// What kind of burn to invent.
#[derive(Debug, Clone)]
pub struct Case {
    pub title: String,
    pub hours: f64,
    pub interval_s: f64,
    pub feed_every_s: f64,
    pub sections: usize,
    pub coil: bool,
    pub layers: usize,
    pub target_c: f64,
    /// Heats faster and boils near the end.
    pub boiling: bool,
    pub pump: bool,
    /// Shut in from the air.
    pub closed: bool,
}

impl Default for Case {
    fn default() -> Self {
        Self {
            title: "Wash-up barrel, hill sugarbush in March (invented)".into(),
            hours: 3.5,
            interval_s: 20.0,
            feed_every_s: 600.0,
            sections: 4,
            coil: true,
            layers: 6,
            target_c: 65.0,
            boiling: false,
            pump: true,
            closed: false,
        }
    }
}

/// Every awkward case with a name.
pub fn cases() -> Vec<(&'static str, Case)> {
    let base = Case::default();
    vec![
        ("plain", base.clone()),
        (
            "never-reached",
            Case {
                target_c: 92.0,
                ..base.clone()
            },
        ),
        (
            "no-coil",
            Case {
                coil: false,
                layers: 0,
                pump: false,
                ..base.clone()
            },
        ),
        (
            "boiling",
            Case {
                boiling: true,
                ..base.clone()
            },
        ),
        (
            "closed",
            Case {
                closed: true,
                ..base.clone()
            },
        ),
        (
            "one-row",
            Case {
                hours: 0.0,
                ..base.clone()
            },
        ),
        (
            "long-title",
            Case {
                title: "A very long title that somebody wrote with love & <care> about the barrel behind the second shed, ".repeat(3),
                ..base.clone()
            },
        ),
        (
            "sixty-feeds",
            Case {
                hours: 6.0,
                feed_every_s: 360.0,
                ..base.clone()
            },
        ),
        (
            "fourteen-hours",
            Case {
                hours: 14.0,
                feed_every_s: 4500.0,
                pump: false,
                ..base.clone()
            },
        ),
        (
            "ten-sections",
            Case {
                sections: 10,
                ..base.clone()
            },
        ),
        (
            "eight-minutes",
            Case {
                hours: 8.0 / 60.0,
                interval_s: 1.0,
                ..base
            },
        ),
    ]
}

const SECTION_NAMES: [&str; 10] = [
    "riser",
    "coil passage",
    "damper",
    "flue",
    "heavy masonry bench",
    "downdraught space beside the riser",
    "second coil passage",
    "elbow",
    "fan",
    "chimney above the roof",
];

fn section_names(case: &Case) -> Vec<String> {
    // The last section is always the one that ends in the open.
    let mut names: Vec<String> = SECTION_NAMES[..case.sections.min(10)]
        .iter()
        .map(|s| s.replace(' ', "_"))
        .collect();
    names.truncate(case.sections.max(1));
    names
}

/// Invents a burn.
pub fn burn(case: &Case) -> BurnResult {
    let sections = section_names(case);
    let mut names: Vec<String> = [
        "time_s",
        "tank_mean_temperature_K",
        "gas_firebox_temperature_K",
    ]
    .map(String::from)
    .to_vec();
    names.extend(
        sections
            .iter()
            .map(|s| format!("gas_after_{s}_temperature_K")),
    );
    names.extend(
        [
            "stack_temperature_K",
            "flue_wall_min_temperature_K",
            "stack_loss_fraction",
            "air_flow_kg_s",
            "air_ratio",
            "draught_Pa",
            "bed_wood_kg",
            "bed_char_kg",
            "burn_rate_kg_s",
            "firing_rate_W",
            "unburnt_W",
            "heat_to_coil_W",
            "heat_to_tank_W",
            "heat_stack_sensible_W",
            "heat_stack_latent_W",
            "heat_casing_W",
            "heat_into_walls_W",
            "heat_pipe_loss_W",
            "heat_vessel_loss_W",
            "flue_o2_dry_fraction",
            "flue_co2_dry_fraction",
        ]
        .map(String::from),
    );
    if case.coil {
        names.extend(
            [
                "gas_below_coil_temperature_K",
                "gas_above_coil_temperature_K",
                "loop_flow_kg_s",
                "coil_inlet_temperature_K",
                "coil_outlet_temperature_K",
                "coil_wall_max_temperature_K",
                "boiling_point_K",
                "boiling_margin_K",
                "steam_kg_s",
            ]
            .map(String::from),
        );
    }
    names.extend((1..=case.layers).map(|i| format!("tank_layer_{i}_temperature_K")));
    names.extend(["damper_fraction", "air_inlet_fraction", "pump_setting"].map(String::from));
    let mut series = Series::with_names(names);

    let end_s = case.hours * 3600.0;
    let mut events = vec![event(0.0, EventKind::Lit, "lit the kindling")];
    let (mut wood, mut char_kg, mut wall) = (0.8f64, 0.0f64, 275.0f64);
    let mut tank = 277.15f64;
    let (mut target_s, mut boil_s) = (None, None);
    let (mut peak, mut chamber_max, mut fed, mut burnt) = (tank, 0.0f64, 0.8, 0.0);
    let (mut to_tank_j, mut fuel_j) = (0.0, 0.0);
    let mut next_feed = 360.0;
    let mut t = 0.0;
    let last_feed_s = 0.8 * end_s;
    let pump_off = (0.45 * end_s, 0.48 * end_s);
    loop {
        if t >= next_feed && t <= last_feed_s {
            events.push(event(next_feed, EventKind::Feed, "added 0.7 kg"));
            wood += 0.7;
            fed += 0.7;
            next_feed += case.feed_every_s;
        }
        let wobble = 1.0 + 0.05 * (t / 37.0).sin() + 0.03 * (t / 11.3).cos();
        let rate = (0.7 * wood / 620.0 * (1.0 - (-t / 240.0).exp()) + char_kg / 2400.0) * wobble;
        let firing = rate * 16.5e6;
        let dt = case.interval_s;
        wood = (wood - 0.8 * wood / 620.0 * dt).max(0.0);
        char_kg = (char_kg + (0.2 * wood / 620.0 - char_kg / 2400.0) * dt).max(0.0);
        burnt += rate * dt;
        let chamber = 290.0 + 880.0 * (firing / 20e3).powf(0.4).min(1.25);
        chamber_max = chamber_max.max(chamber);
        wall += (0.55 * (chamber - 290.0) + 290.0 - wall) * dt / 1500.0;
        let pump_on = case.pump && !(t >= pump_off.0 && t < pump_off.1);
        let share = if case.boiling { 0.62 } else { 0.32 };
        let to_tank = if case.coil && (pump_on || !case.pump) {
            share * firing
        } else if case.coil {
            0.03 * firing
        } else {
            0.0
        } - 4.0 * (tank - 272.0);
        tank += to_tank * dt / (200.0 * 4180.0);
        tank = tank.min(371.6);
        peak = peak.max(tank);
        let stack = 285.0 + 0.33 * (chamber - 290.0);
        let boiling_point = 371.75 + 1.5;
        let outlet = (tank + to_tank.max(0.0) / (0.127 * 4180.0) * if pump_on { 1.2 } else { 2.5 })
            .min(boiling_point);
        if target_s.is_none() && tank >= case.target_c + 273.15 {
            target_s = Some(t);
            events.push(event(t, EventKind::TargetReached, "target reached"));
        }
        if boil_s.is_none() && outlet >= boiling_point {
            boil_s = Some(t);
            events.push(event(
                t,
                EventKind::BoilingStarts,
                "water boils in the coil",
            ));
        }
        to_tank_j += to_tank * dt;
        fuel_j += firing * dt;
        let damper = if t > 0.6 * end_s { 0.6 } else { 1.0 };
        let mut row = vec![t, tank, chamber];
        for i in 0..sections.len() {
            let s = (i + 1) as f64 / sections.len() as f64;
            row.push(chamber + (stack - chamber) * s.powf(0.7));
        }
        let sensible = 0.24 * firing;
        let latent = 0.09 * firing;
        let unburnt = 0.02 * firing * (1.0 + (t / 300.0).sin().max(0.0));
        let casing = 0.05 * firing + 60.0;
        let walls = firing - sensible - latent - unburnt - casing - to_tank.max(0.0);
        row.extend([
            stack,
            273.0 + 0.55 * (stack - 273.0),
            (0.14 + 0.05 * (t / 400.0).sin()).max(0.0) + 0.4 * (-t / 200.0).exp(),
            0.006 + 0.004 * (firing / 20e3),
            1.6 + 0.3 * (t / 333.0).sin() + 2e3 / (firing + 60.0),
            2.0 + 11.0 * (firing / 20e3).sqrt(),
            wood,
            char_kg,
            rate,
            firing,
            unburnt,
            to_tank.max(0.0) * 1.02,
            to_tank,
            sensible,
            latent,
            casing,
            walls,
            0.02 * to_tank.max(0.0),
            4.0 * (tank - 272.0),
            0.09,
            0.11,
        ]);
        if case.coil {
            let flow = if pump_on {
                0.127
            } else if case.pump {
                -0.004 * (t / 60.0).sin()
            } else {
                0.03 + 0.02 * (firing / 20e3)
            };
            row.extend([
                chamber - 120.0,
                stack + 40.0,
                flow,
                tank - 1.5,
                outlet,
                outlet + 9.0 + firing / 4e3,
                boiling_point,
                boiling_point - outlet,
                if outlet >= boiling_point { 1e-4 } else { 0.0 },
            ]);
        }
        for i in 1..=case.layers {
            row.push(tank + (i as f64 - 0.5 * (case.layers as f64 + 1.0)) * 1.6);
        }
        row.extend([damper, 1.0, if pump_on { 2.0 } else { 0.0 }]);
        series.push(&row);
        if t >= end_s {
            break;
        }
        t = (t + dt).min(end_s);
    }
    if case.pump && end_s > 0.0 {
        events.push(event(pump_off.0, EventKind::Pump, "pump off"));
        events.push(event(pump_off.1, EventKind::Pump, "pump to high"));
    }
    if end_s > 0.0 {
        events.push(event(
            0.6 * end_s + 3.0,
            EventKind::Damper,
            "damper to 60 %",
        ));
    }
    events.push(event(end_s, EventKind::End, "end"));
    events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    let feeds = events.iter().filter(|e| e.kind == EventKind::Feed).count() as u64;
    let summary = summary(
        case,
        Figures {
            target_s,
            boil_s,
            end_s,
            fed,
            burnt,
            fuel_j,
            to_tank_j,
            peak,
            chamber_max,
            feeds,
        },
    );
    BurnResult {
        ledger: ledger(fuel_j, to_tank_j),
        summary,
        events,
        series,
        operating: case.coil.then(|| operating(case.pump)),
        rig: Some(rig(case, &sections)),
        target_k: case.target_c + 273.15,
        bands: None,
        defaults: vec![Echo {
            path: "closures.bed_rate".into(),
            value: "1".into(),
            reason: "as measured on small stick fires".into(),
        }],
    }
}

fn event(time_s: f64, kind: EventKind, text: &str) -> EventRecord {
    EventRecord {
        time_s,
        kind,
        text: text.into(),
    }
}

fn operating(pump: bool) -> OperatingPicture {
    let k = if pump { 1.2e6 } else { 1.6e5 };
    let q = |n: usize| (0..=n).map(move |i| i as f64 / n as f64);
    if pump {
        OperatingPicture {
            driving_label: "pump, setting high".into(),
            driving: q(40).map(|s| (0.41 * s, 30e3 * (1.0 - s * s))).collect(),
            system_label: "coil and pipes".into(),
            system: q(40).map(|s| (0.41 * s, k * (0.41 * s).powi(2))).collect(),
            point: (0.1411, 26.45e3),
        }
    } else {
        OperatingPicture {
            driving_label: "buoyancy".into(),
            driving: q(40)
                .skip(4)
                .map(|s| (0.1 * s, (14.0 / (0.1 * s)).min(620.0)))
                .collect(),
            system_label: "friction of coil and pipes".into(),
            system: q(40).map(|s| (0.1 * s, k * (0.1 * s).powf(1.9))).collect(),
            point: (0.0402, 351.0),
        }
    }
}

fn line(key: &str, label: &str, energy_j: f64) -> LedgerLine {
    LedgerLine {
        key: key.into(),
        label: label.into(),
        energy_j,
    }
}

fn ledger(fuel_j: f64, tank_j: f64) -> Ledger {
    let gross = 1.08 * fuel_j;
    let pump = 2.2e5_f64.min(0.01 * gross);
    let ambient = -0.012 * gross;
    let water = 0.82 * tank_j;
    let vessel = tank_j - water;
    let used = [
        ("stack_sensible", "up the stack, sensible", 0.27),
        ("stack_latent", "up the stack, latent", 0.13),
        ("unburnt", "unburnt gas", 0.03),
        ("casing", "off the casing", 0.07),
        ("pipes", "lost by the pipes", 0.008),
        ("evaporation", "evaporated from the vessel", 0.002),
    ];
    let mut outputs: Vec<LedgerLine> = used.iter().map(|(k, l, s)| line(k, l, s * gross)).collect();
    outputs.push(line("vessel_loss", "lost by the vessel", vessel));
    let gone: f64 = outputs.iter().map(|l| l.energy_j).sum();
    let walls = gross + pump + ambient - gone - water - 0.02 * gross;
    Ledger {
        inputs: vec![
            line("fuel_gross", "fuel, gross", gross),
            line("ambient", "wood and air colder than 25 °C", ambient),
            line("pump_work", "work of the pump", pump),
        ],
        outputs,
        stored: vec![
            line("storage_water", "in the tank's water", water),
            line("walls", "in walls and metal", walls),
            line("char_left", "in char and wood left", 0.02 * gross),
        ],
        unaccounted_j: 3.1e-7 * gross,
        residual_fraction: 3.1e-7,
        masses: vec![MassBalance {
            name: "water".into(),
            in_kg: 60.0,
            out_kg: 60.0,
            stored_kg: 0.0,
            residual_fraction: 1e-9,
        }],
    }
}

struct Figures {
    target_s: Option<f64>,
    boil_s: Option<f64>,
    end_s: f64,
    fed: f64,
    burnt: f64,
    fuel_j: f64,
    to_tank_j: f64,
    peak: f64,
    chamber_max: f64,
    feeds: u64,
}

fn summary(case: &Case, f: Figures) -> Summary {
    let coil = |v: f64| case.coil.then_some(v);
    let fuel_energy = f.fed * 14.9e6;
    let has_fire = f.fuel_j > 0.0;
    let part = |v: f64| has_fire.then_some(v);
    let warning = |code: &str, text: &str, first_s: f64, worst: f64| Warning {
        code: code.into(),
        text: text.into(),
        first_s,
        worst,
        worst_unit: "K".into(),
        worst_s: None,
        place: None,
    };
    let cold = "the flue wall stays under 120 °C: tar and water settle in the flue";
    let mut warnings = vec![warning("W0203", cold, 0.0, 341.2)];
    if let Some(t) = f.boil_s {
        let text = "water boils in the coil; steam can throw scalding water out of the open end";
        warnings.push(warning("W0101", text, t, 0.0));
    }
    Summary {
        title: case.title.clone(),
        target_reached: f.target_s.is_some(),
        time_to_target_s: f.target_s,
        end_s: f.end_s,
        fuel_fed_kg: f.fed,
        fuel_burnt_kg: f.burnt,
        fuel_energy_J: fuel_energy,
        fuel_energy_gross_J: 1.08 * f.fuel_j,
        heat_to_tank_J: f.to_tank_j,
        efficiency_net: part(f.to_tank_j / fuel_energy),
        efficiency_gross: part(f.to_tank_j / fuel_energy / 1.09),
        efficiency_flat_20MJ_kg: part(f.to_tank_j / (f.fed * 20e6)),
        efficiency_to_target_net: f.target_s.map(|_| 0.36),
        efficiency_net_char_credited: part(f.to_tank_j / fuel_energy * 1.03),
        efficiency_gross_char_credited: part(f.to_tank_j / fuel_energy / 1.06),
        mean_heat_to_tank_W: if f.end_s > 0.0 {
            f.to_tank_j / f.end_s
        } else {
            0.0
        },
        stack_loss_fraction: part(0.27),
        stack_latent_fraction: part(0.10),
        stack_loss_short_formula_fraction: part(0.25),
        stack_loss_while_read_fraction: part(0.245),
        meter_o2_dry_fraction: part(0.113),
        meter_co2_dry_fraction: part(0.092),
        meter_stack_temperature_K: part(538.0),
        unburnt_fraction: part(0.03),
        unburnt_fraction_low: part(0.015),
        unburnt_fraction_high: part(0.07),
        casing_loss_fraction: part(0.07),
        heat_in_walls_J: 5e6,
        drying_heat_J: None,
        drying_fraction: None,
        dried_kg: None,
        wall_water_left_kg: None,
        wall_moisture: Vec::new(),
        stack_temperature_mean_K: part(531.0),
        gas_below_coil_mean_K: coil(930.0),
        gas_above_coil_mean_K: coil(571.0),
        chamber_mean_K: part(1050.0),
        chamber_max_K: f.chamber_max,
        chamber_shown_mean_K: part(1010.0),
        gas_below_coil_shown_mean_K: coil(860.0),
        gas_above_coil_shown_mean_K: coil(540.0),
        stack_shown_mean_K: part(515.0),
        coil_outlet_max_K: coil(354.0),
        coil_wall_max_K: coil(369.0),
        coil_critical_flux_share_max: coil(0.04),
        coil_deposit_kg: Some(0.0),
        flue_deposit_kg: Some(0.0),
        coil_fouling_grown_m2K_W: Some(0.0),
        coil_wall_limit_K: coil(473.15),
        boiling_margin_min_K: coil(if f.boil_s.is_some() { 0.0 } else { 19.3 }),
        boiling_margin_min_s: coil(600.0),
        boiling_margin_min_at_m: coil(4.5),
        wall_boiling_first_s: f.boil_s.map(|t| (t - 240.0).max(0.0)),
        boiling_first_s: f.boil_s,
        boiling_total_s: f.boil_s.map_or(0.0, |t| f.end_s - t),
        steam_total_kg: f.boil_s.map_or(0.0, |t| (f.end_s - t) * 1e-4),
        air_ratio_mean: part(1.87),
        draught_max_Pa: 14.2,
        loop_flow_mean_kg_s: coil(0.1266),
        heat_to_header_J: None,
        header_peak_K: None,
        bypass_flow_mean_kg_s: None,
        heat_to_drum_J: None,
        heat_drum_to_coil_J: None,
        drum_peak_K: None,
        drum_boils_first_s: None,
        drum_water_gone_kg: None,
        drum_bare_first_s: None,
        pressure_peak_Pa: None,
        relief_first_s: None,
        relief_lifts: None,
        relief_open_s: None,
        relief_water_kg: None,
        relief_steam_kg: None,
        burst: None,
        feeds: f.feeds,
        trips: f.feeds + 1,
        tank_peak_K: Some(f.peak),
        overshoot_K: f.target_s.map(|_| f.peak - case.target_c - 273.15),
        flue_wall_below_393K_s: 1460.0,
        storage_content_rise_J: 0.82 * f.to_tank_j,
        condensate_kg: 0.04,
        flue_wall_below_dew_s: 0.0,
        pump_energy_J: 2.2e5,
        co_estimate_fraction: part(0.0021),
        co_estimate_fraction_low: part(0.0008),
        co_estimate_fraction_high: part(0.0063),
        energy_residual_fraction: 3.1e-7,
        solver: SolverCounters {
            steps: 8123,
            right_hand_sides: 61_004,
            rejected: 212,
            segments: 24,
        },
        warnings,
    }
}
