//! Whole stoves: measured fires without a store of their own, and the trade's figures for a stick-fed stove.

use super::check::{Check, Source, Tolerance};
use super::sampled::{Dice, mean, row, run, samples};
use super::whole::{fan, set_fan};
use crate::support::rigs::{barrel, section, steel};
use crate::support::stoves::{drum, light_brick, rocket};
use crate::support::variants::{brick, no_water, steady};
use emberloop::components::spec::*;
use emberloop::results::BurnResult;

const MASONRY: Source = Source::published(
    "batch-fired masonry heater test logs (heatkit.com)",
    "load, pieces, moisture, time until the air is closed; seen. Open: firebox, free inlet, channels, flue, how warm the heater was",
);
const DRUM: Source = Source::published(
    "a drum stove's owner (hoppynet.blogspot.com)",
    "coil falls from 12 to 8 kW in 15-20 min; seen; only the loss of a third, factor 2. Open: wood, air",
);
const APROVECHO: Source = Source::published(
    "Aprovecho Research Center, test note",
    "stove with forced-air insert, air ratio 2.91, 4.0 kW, mean of a test set, ± 60 K; seen. Open: chamber, lining, moisture, where the temperature was taken; the air flow is fixed by a fan",
);
const CRIBS: Source = Source::published(
    "Kawagoe 1958; D. Drysdale, An Introduction to Fire Dynamics, ch. 10",
    "wood cribs in compartments: 0.092 A√H kg/s of wood on 0.5 A√H kg/s of air; 0.06 to 0.14 measured; from memory",
);
const TRADE_STUFFED: Source = Source::practice(
    "rocket-type stove of 150 mm fed by 3 kg at a time; closures sampled, the inlet as given",
);
const TRADE: Source = Source::practice(
    "rocket-type stove of 150 mm under 11 m of 3/4 in coil; wood, mouth and moisture sampled",
);

/// A heater of brick behind a door, lit cold: upper chamber, long channels, flue.
pub struct Heater {
    pub load_kg: f64,
    pub kindling_kg: f64,
    pub pieces: f64,
    pub moisture: f64,
    pub dry_kg_m3: f64,
    pub length_m: f64,
    pub width_m: f64,
    pub height_m: f64,
    pub inlet_m2: f64,
    pub flue_m: f64,
}

impl Heater {
    /// Square pieces as heavy as the load says, five minutes after the kindling; air open.
    pub fn rig(&self) -> Rig {
        let piece_m2 =
            self.load_kg / self.pieces * (1.0 - self.moisture) / (self.dry_kg_m3 * self.length_m);
        let channel = |name: &str, bore: f64, length: f64, rise: f64| Section {
            rise_m: rise,
            ..section(name, SectionKind::Mass, bore, length, vec![brick(100.0)])
        };
        let mut r = no_water();
        r.title = "Masonry heater (invented)".into();
        r.site.air_temperature_k = Profile::constant(283.15);
        r.fuel.density_kg_m3 = self.dry_kg_m3;
        r.fuel.moisture_wet = self.moisture;
        r.fuel.stick = Stick {
            shape: StickShape::Square,
            thickness_m: piece_m2.sqrt(),
            length_m: self.length_m,
        };
        r.firebox = Firebox {
            kind: FireboxKind::Door,
            width_m: self.width_m,
            depth_m: 0.52,
            height_m: self.height_m,
            mouth_area_m2: 0.12,
            mouth_cover: 0.0,
            air_inlet_area_m2: self.inlet_m2,
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: self.length_m,
            hearth_mass_kg: 20.0,
            in_water: 0.0,
            wet_wall: vec![],
            wall: vec![brick(100.0)],
            door: vec![steel(4.0)],
        };
        r.gas_path = vec![
            channel("upper chamber", 0.3, 0.8, 0.8),
            channel("channels", 0.28, 3.6, 0.0),
            Section {
                loss_k: 2.0,
                in_wind: true,
                ..section(
                    "flue",
                    SectionKind::Flue,
                    0.2,
                    self.flue_m,
                    vec![brick(60.0)],
                )
            },
        ];
        r.lighting.kindling_kg = self.kindling_kg;
        r.lighting.kindling_thickness_m = 0.02;
        r.feeding = Feeding {
            list: vec![FeedEvent {
                at_s: 300.0,
                mass_kg: self.load_kg,
                thickness_m: None,
            }],
            ..Feeding::default()
        };
        r.controls.air_inlet = steady(1.0);
        r.stop.at_target = false;
        r.solver.output_interval_s = 60.0;
        r
    }
}

pub fn rows() -> Vec<Check> {
    let mut rows = masonry();
    rows.push(drum_coil());
    rows.push(forced_air());
    rows.extend(starved_cribs());
    rows.extend(trade());
    rows.push(stuffed_mouth());
    rows
}

/// Three kilograms at a time into a mouth of 150 mm: what goes unburnt in the minutes whose air ratio lies under 1.4.
fn stuffed_mouth() -> Check {
    let [percent] = samples(|d| {
        let mut r = barrel();
        r.firebox.mouth_cover = 0.2;
        r.feeding.every[0].mass_kg = 3.0;
        r.stop.at_target = false;
        r.stop.after_target_s = 0.0;
        r.stop.latest_s = 2400.0;
        let result = run(&d.closures(&r, &[]))?;
        let column = |name| result.series.get(name).expect("a column");
        let (t, ratio) = (column("time_s"), column("air_ratio"));
        let short = |name| -> f64 {
            let v = column(name);
            (0..t.len())
                .filter(|&i| t[i] > 960.0 && ratio[i] < 1.4)
                .map(|i| v[i])
                .sum()
        };
        let fire = short("firing_rate_W");
        (fire > 0.0).then(|| [100.0 * short("unburnt_W") / fire])
    });
    row(
        &TRADE_STUFFED,
        "unburnt of a fire in a stuffed mouth, while it is short of air",
        "%",
        12.5,
        &percent,
        Tolerance::Within(5.0, 20.0),
    )
}

/// Compartments whose fire takes all the air that comes in: air per kilogram of wood. A crib of 40 mm sticks in a hot chamber of brick
/// behind a fan that gives a half and a quarter of what the crib would burn in the open, from four fifths of the load to three tenths.
fn starved_cribs() -> Vec<Check> {
    [(0.5, "half"), (0.25, "a quarter")]
        .map(|(share, word)| {
            let (load_kg, moisture, dry_kg_m3, thickness_m) = (14.0, 0.1, 450.0, 0.04);
            let [kg_kg] = samples(|d| {
                let mut r = Heater {
                    load_kg,
                    kindling_kg: 1.0,
                    pieces: 1.0,
                    moisture,
                    dry_kg_m3,
                    length_m: 0.45,
                    width_m: d.between(0, 0.45, 0.6),
                    height_m: d.between(1, 0.45, 0.6),
                    inlet_m2: 0.01,
                    flue_m: 5.0,
                }
                .rig();
                r.fuel.stick.thickness_m = thickness_m;
                r.gas_path.insert(2, fan());
                // Babrauskas: 2.2e-6 D^-0.6 m/s from every face; what the fan takes in is some three quarters air at 20 degC once the
                // chamber is hot: its own temperature stands at 500 K or so.
                let dry_kg = load_kg * (1.0 - moisture);
                let free_kg_s = dry_kg * 4.0 * 2.2e-6 * thickness_m.powf(-0.6) / thickness_m;
                let air_kg_s = share * 5.4 * free_kg_s;
                set_fan(&mut r, air_kg_s * 1.15 * 287.0 * 500.0 / 101_325.0);
                r.stop.latest_s = 7200.0;
                r.solver.output_interval_s = 20.0;
                let result = run(&d.closures(&r, &[]))?;
                let column = |name| result.series.get(name).expect("a column");
                let wood = column("bed_wood_kg");
                let of = |name| -> f64 {
                    let v = column(name);
                    (0..v.len())
                        .filter(|&i| column("time_s")[i] > 400.0 && (0.3..0.8).contains(&(wood[i] / dry_kg)))
                        .map(|i| v[i])
                        .sum()
                };
                // What a balance under the crib shows: the wood that chars with its water, less the char that is left.
                let lost = of("burn_rate_kg_s") * (1.0 / (1.0 - moisture) - r.fuel.char_yield_dry) + of("char_burn_rate_kg_s");
                Some([of("air_flow_kg_s") / lost])
            });
            row(
                &CRIBS,
                format!("air that a starved crib takes for its wood, {word} of what it would burn in the open"),
                "kg/kg",
                5.4,
                &kg_kg,
                Tolerance::Relative(0.25),
            )
        })
        .into()
}

/// Runs a rig whose last section but one is a fan, with the fan set so that the mean air ratio comes out as given.
fn at_air_ratio(rig: &mut Rig, first_m3_s: f64, lambda: f64) -> Option<BurnResult> {
    let mut flow = first_m3_s;
    for _ in 0..3 {
        set_fan(rig, flow);
        let got = run(rig)?.summary.air_ratio_mean.expect("burns");
        flow *= lambda / got;
    }
    set_fan(rig, flow);
    run(rig)
}

/// One load on its burning kindling, in a heavy heater without water, cold at first. Over when 5 % of the load is left, as the logs'
/// one weighed rest (1.8 of 32.1 kg when the test ended).
fn masonry() -> Vec<Check> {
    let mut rows = Vec::new();
    for (name, kg, kindling_kg, pieces, moisture, minutes, dry_kg_m3) in [
        (
            "32.1 kg of hardwood in 8 pieces, 16.8 %",
            32.1,
            0.9,
            8.0,
            0.168,
            130.0,
            640.0,
        ),
        (
            "29.1 kg of birch in 11 pieces, 20 %",
            29.1,
            2.0,
            11.0,
            0.2,
            71.0,
            550.0,
        ),
        (
            "31.0 kg of birch in 11 pieces, 20 %",
            31.0,
            1.6,
            11.0,
            0.2,
            94.0,
            550.0,
        ),
        (
            "37.1 kg of birch in 10 pieces, 20 %",
            37.1,
            1.5,
            10.0,
            0.2,
            120.0,
            550.0,
        ),
    ] {
        let [kg_h] = samples(|d| {
            let length_m = d.between(0, 0.4, 0.5);
            let mut r = Heater {
                load_kg: kg - kindling_kg,
                kindling_kg,
                pieces,
                moisture,
                dry_kg_m3,
                length_m,
                width_m: d.between(1, 0.4, 0.55),
                height_m: d.between(2, 0.5, 0.7),
                inlet_m2: d.between(3, 0.008, 0.016),
                flue_m: d.between(4, 5.0, 7.0),
            }
            .rig();
            r.stop.latest_s = 5.0 * 3600.0;
            let result = run(&d.closures(&r, &[]))?;
            let column = |n: &str| result.series.get(n).expect("column");
            let left = column("bed_wood_kg").iter().zip(column("bed_char_kg"));
            let over = left
                .zip(column("time_s"))
                .filter(|(_, t)| **t > 600.0)
                .find(|((wood, char), _)| *wood + *char < 0.05 * kg)
                .map_or(f64::INFINITY, |(_, t)| *t);
            Some([0.95 * kg / (over / 3600.0)])
        });
        let rate = row(
            &MASONRY,
            format!("mean burning rate, {name}"),
            "kg/h",
            (0.95 * kg / minutes * 600.0).round() / 10.0,
            &kg_h,
            Tolerance::Relative(0.2),
        );
        rows.push(if minutes == 71.0 {
            rate.because("all four loads burn slower here than in the logs, this one most: the next one, of as many pieces and 1.9 kg more of the same birch, took 94 min where this one took 71, and the model has the two alike, as their weights are. What made this one quicker the logs do not tell")
        } else {
            rate
        });
    }
    rows
}

/// The same fire with and without growth of the deposit, a quarter of an hour to twenty minutes after it is up.
fn drum_coil() -> Check {
    let [lost] = samples(|d| {
        let (kg_h, inlet) = (d.between(0, 9.0, 15.0), d.between(1, 0.004, 0.006));
        let power = |rate: f64| {
            let result = run(&d.closures(&drum(kg_h, inlet, rate), &[]))?;
            Some(mean(&result, "heat_to_tank_W", 1200.0, 1800.0))
        };
        Some([100.0 * (1.0 - power(1.0)? / power(0.0)?)])
    });
    row(
        &DRUM,
        "power that a coil in a drum stove loses to soot within 20 min",
        "%",
        33.3,
        &lost,
        Tolerance::Within(16.7, 66.7),
    )
    .because("a third less asks for 0.08 m2K/W: 3 to 6 mm of layer in 20 min; 0.7 kg as fresh deposits lie here, seven times all hydrocarbons that this fire leaves unburnt, or 50 g of the loosest dry soot measured, half of them; so the log's own fire, not weighed, must have fallen too")
}

/// Sticks at 4.0 kW of net heat, air ratio 2.91 by the fan; mean of what a bare thermometer in the flame shows over half an hour.
fn forced_air() -> Check {
    let [chamber_c] = samples(|d| {
        let mut r = no_water();
        let side = d.between(0, 0.1, 0.13);
        r.title = "Small stove with a fan (invented)".into();
        r.site = Site {
            altitude_m: 0.0,
            air_temperature_k: Profile::constant(293.15),
            wind_m_s: 0.5,
            relative_humidity: 0.5,
        };
        r.fuel = rocket().fuel;
        r.fuel.moisture_wet = d.between(1, 0.07, 0.12);
        r.fuel.stick.thickness_m = d.between(2, 0.012, 0.022);
        let lining = |d: Dice| {
            vec![
                Layer {
                    thickness_m: d.between(3, 0.015, 0.04),
                    ..light_brick()
                },
                steel(0.8),
            ]
        };
        r.firebox = Firebox {
            kind: FireboxKind::FeedTube,
            width_m: side,
            depth_m: side,
            height_m: side,
            mouth_area_m2: side * side,
            mouth_cover: 0.3,
            air_inlet_area_m2: 0.0,
            air_over_share: 0.0,
            inlet_loss_k: 1.8,
            burning_length_m: 0.1,
            hearth_mass_kg: 0.5,
            in_water: 0.0,
            wet_wall: vec![],
            wall: lining(d),
            door: vec![],
        };
        r.gas_path = vec![
            section(
                "riser",
                SectionKind::Riser,
                side,
                d.between(4, 0.2, 0.3),
                lining(d),
            ),
            Section {
                length_m: 0.1,
                rise_m: 0.0,
                ..fan()
            },
            section("outlet", SectionKind::Flue, 0.1, 0.2, vec![steel(0.8)]),
        ];
        let gross = r.fuel.gross_heating_value_dry_j_kg;
        let net =
            emberloop::properties::wood::net_heating_value_j_kg(gross, 0.063, r.fuel.moisture_wet);
        r.lighting.kindling_kg = 0.15;
        r.lighting.kindling_thickness_m = 0.01;
        r.lighting.starter_j = 3e5;
        r.feeding = Feeding {
            every: vec![FeedEvery {
                from_s: 120.0,
                interval_s: 180.0,
                until: Until::End,
                mass_kg: 180.0 * 4012.0 / net,
            }],
            ..Feeding::default()
        };
        r.stop.at_target = false;
        r.stop.latest_s = 2700.0;
        r.thermometer.sheath_m = d.between(5, 0.001, 0.006);
        let result = at_air_ratio(&mut d.closures(&r, &[]), 0.01, 2.91)?;
        Some([mean(&result, "shown_firebox_temperature_K", 900.0, 2700.0) - 273.15])
    });
    row(
        &APROVECHO,
        "chamber of a stick stove with forced air",
        "°C",
        557.0,
        &chamber_c,
        Tolerance::Absolute(60.0),
    )
    .because("where the thermocouple sat is not told, taken as a bare sheath of 1 to 6 mm in the middle; the gas itself has some 90 K more, near what the air ratio allows. What was measured lies among the samples")
}

/// Figures of the trade, each a range; temperatures as bare thermometers of 1 to 6 mm show them.
fn trade() -> Vec<Check> {
    let [chamber_c, above_c, kw, flat, net] = samples(|d| {
        let mut r = rocket();
        // Of the brick; sticks beside it take a tenth of the mouth and more.
        r.firebox.mouth_cover = d.between(0, 0.6, 0.8);
        r.fuel.moisture_wet = d.between(1, 0.12, 0.18);
        r.feeding.every[0].mass_kg *= d.between(2, 0.85, 1.15);
        r.thermometer.sheath_m = d.between(3, 0.001, 0.006);
        let result = run(&d.closures(&r, &[]))?;
        let s = &result.summary;
        let end = s.time_to_target_s.unwrap_or(s.end_s);
        let char_kg = result
            .series
            .get("bed_char_kg")
            .and_then(|v| v.last())
            .expect("char");
        // Weighed as a person would: what went in less what a rake brings out.
        let heat_kg = s.heat_to_tank_J / (s.fuel_burnt_kg - char_kg);
        Some([
            mean(&result, "shown_firebox_temperature_K", 900.0, end) - 273.15,
            mean(&result, "shown_above_coil_temperature_K", 900.0, end) - 273.15,
            1e-3 * s.heat_to_tank_J / s.end_s,
            100.0 * heat_kg / 20e6,
            100.0 * heat_kg * s.fuel_fed_kg / s.fuel_energy_J,
        ])
    });
    let ranged = |case: &str, unit, (low, high): (f64, f64), values: &[f64]| {
        let middle = 0.5 * (low + high);
        row(
            &TRADE,
            case,
            unit,
            middle,
            values,
            Tolerance::Within(low, high),
        )
    };
    vec![
        ranged(
            "chamber of a rocket-type stove",
            "°C",
            (650.0, 1100.0),
            &chamber_c,
        ),
        ranged("gas above a short coil", "°C", (315.0, 430.0), &above_c)
            .because("as a bare thermometer shows it, 20 to 40 K under the gas. With the closures at their defaults and 70 % of the mouth covered the gas has 339 and shows 302, over a coil of 9 m 334; drawn from their ranges fires are a little weaker in the median: leaks and slow mixing lose more than their opposites win"),
        ranged("mean power into the water", "kW", (6.0, 8.0), &kw),
        ranged(
            "efficiency on a flat 20 MJ per weighed kilogram",
            "%",
            (26.0, 34.0),
            &flat,
        ),
        ranged(
            "efficiency, net, of the wood weighed",
            "%",
            (35.0, 45.0),
            &net,
        )
        .because("with the closures at their defaults the rig gives 35.5; drawn from their ranges they cost a point and a half in the median: leaks, slow mixing and a coil that the gas passes by lose more than their opposites win"),
    ]
}
