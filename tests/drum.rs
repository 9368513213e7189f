//! A coil in a drum of water that the fire heats: steady heat and effectiveness against handbooks, the account, the drum that boils off when
//! nothing takes its heat, every key.

mod support {
    pub mod account;
    pub mod rigs;
    pub mod variants;
}

use emberloop::analyses::hazard::{HazardOptions, hazard};
use emberloop::analyses::{BurnOptions, burn};
use emberloop::components::spec::*;
use emberloop::network::Network;
use emberloop::properties::water::Water as WaterProperties;
use emberloop::results::{BurnResult, FaultStatus, Ledger, LedgerLine};
use emberloop::scenario::load_str;
use std::f64::consts::PI;
use support::account::assert_closes;
use support::rigs::hose;
use support::variants::{at_rest, steady};

const SCENARIO: &str = include_str!("scenario_data/drum-and-tub.toml");

fn load(set: &[(&str, &str)]) -> Rig {
    let set: Vec<(String, String)> = set
        .iter()
        .map(|(k, v)| ((*k).into(), (*v).into()))
        .collect();
    match load_str("drum.toml", SCENARIO, &set) {
        Ok(l) => l.rig,
        Err(d) => panic!("{}", d.render(false)),
    }
}

/// Without its pump, the store over the drum.
fn thermosyphon() -> Rig {
    let pump = SCENARIO.find("[pump]").expect("a pump");
    let store = SCENARIO.find("[store]").expect("a store");
    let text = format!("{}{}", &SCENARIO[..pump], &SCENARIO[store..])
        .replace("drive = \"pump\"", "drive = \"thermosyphon\"")
        .replace("floor_height = \"500 mm\"", "floor_height = \"1.2 m\"");
    parse(&text)
}

const CLOSED: &str = "closed = { fill_pressure = \"1.5 bar\", vessel_volume = \"80 L\", relief_pressure = \"3 bar\" }";
const SECOND: &str = "[[coil]]\nname = \"second\"\nin = \"flue\"\nform = \"around\"\ntube = \"22x1 copper\"\nlength = \"6 m\"\n\n[loop]";

fn parse(text: &str) -> Rig {
    match load_str("changed.toml", text, &[]) {
        Ok(l) => l.rig,
        Err(d) => panic!("{}", d.render(false)),
    }
}

/// The pump never starts, and next to nothing passes its wheel.
fn stands(r: &mut Rig) {
    r.controls.pump = steady(None);
    let pump = support::variants::circuit(r).pump.as_mut();
    pump.expect("a pump").stopped_loss_k = 1e7;
}

fn run(rig: &Rig) -> BurnResult {
    burn(rig, &BurnOptions::default(), &mut |_| true).expect("the rig burns")
}

fn drum(rig: &mut Rig) -> &mut Vessel {
    rig.drum.as_mut().expect("a drum")
}

/// Nothing takes its heat: the pump stands, and the drum is small.
fn pump_off(water_m3: f64, hours: f64) -> Rig {
    let mut r = load(&[]);
    stands(&mut r);
    drum(&mut r).water_m3 = water_m3;
    r.stop.at_target = false;
    r.stop.latest_s = hours * 3600.0;
    r
}

fn last(b: &BurnResult, column: &str) -> f64 {
    let values = b.series.get(column).unwrap_or_else(|| panic!("{column}"));
    *values.last().expect("a row")
}

fn line(list: &[LedgerLine], key: &str) -> f64 {
    let found = list.iter().find(|l| l.key == key);
    found.unwrap_or_else(|| panic!("{key}")).energy_j
}

/// No fire: a drum too large to cool gives its heat to cold water that passes straight runs of tube once.
fn steady_drum(drum_k: f64, deposit_m2k_w: f64, length_m: f64, pressure_pa: f64) -> Rig {
    let mut r = load(&[]);
    r.water = Water::OnceThrough {
        supply: hose(1.0),
        ret: hose(1.0),
        inlet_k: 288.15,
        supply_pressure_pa: pressure_pa,
        valve_loss_k: 60.0,
    };
    r.target.probe = Probe::Outlet;
    let mut r = at_rest(r, 288.15);
    let d = drum(&mut r);
    (d.water_m3, d.layers, d.loss_w_k) = (500.0, 1, 0.0);
    d.start_temperature_k = drum_k;
    let c = &mut r.coils[0];
    c.form = CoilForm::Submerged {
        coil_diameter_m: 0.0,
        run_m: 1.0,
        pitch_m: 0.03,
    };
    c.fouling_m2k_w = deposit_m2k_w;
    c.length_m = length_m;
    c.cells = Some(40);
    r.stop.latest_s = 1800.0;
    r
}

/// Outside of water at `t_k` around a tube whose face is `face_k` (Churchill & Chu, Bergman et al. eq. 9.34).
fn outside_w_m2k(d_m: f64, t_k: f64, face_k: f64) -> f64 {
    let w = WaterProperties::shared();
    let film_k = 0.5 * (t_k + face_k);
    let p = w.liquid(film_k);
    let beta = (w.rho_kg_m3(film_k - 0.5) - w.rho_kg_m3(film_k + 0.5)) / p.rho_kg_m3;
    let (nu, alpha) = (
        p.mu_pa_s / p.rho_kg_m3,
        p.k_w_mk / (p.rho_kg_m3 * p.cp_j_kgk),
    );
    let ra = 9.80665 * beta * (t_k - face_k).abs() * d_m.powi(3) / (nu * alpha);
    let f = (1.0 + (0.559 / (nu / alpha)).powf(9.0 / 16.0)).powf(8.0 / 27.0);
    (0.60 + 0.387 * ra.powf(1.0 / 6.0) / f).powi(2) * p.k_w_mk / d_m
}

/// Inside of turbulent water in a smooth tube (Gnielinski, Bergman et al. eqs. 8.21 and 8.62).
fn inside_w_m2k(d_m: f64, t_k: f64, kg_s: f64) -> f64 {
    let p = WaterProperties::shared().liquid(t_k);
    let re = 4.0 * kg_s / (PI * d_m * p.mu_pa_s);
    assert!(re > 4000.0, "{re}");
    let pr = p.mu_pa_s * p.cp_j_kgk / p.k_w_mk;
    let f = (0.790 * re.ln() - 1.64f64).powi(-2);
    let nu =
        f / 8.0 * (re - 1000.0) * pr / (1.0 + 12.7 * (f / 8.0).sqrt() * (pr.powf(2.0 / 3.0) - 1.0));
    nu * p.k_w_mk / d_m
}

/// The whole coil in steady state against a walk along its tube with the handbook's film on both sides.
#[test]
fn published_the_steady_heat_of_a_coil_is_that_of_both_handbook_films() {
    for (drum_k, pressure_pa) in [(353.15, 4e4), (333.15, 4e4), (363.15, 1.2e4)] {
        let r = steady_drum(drum_k, 0.0, 12.0, pressure_pa);

        let b = run(&r);
        let kg_s = last(&b, "loop_flow_kg_s");
        let (q, out_k) = (
            last(&b, "heat_drum_to_coil_W"),
            last(&b, "coil_outlet_temperature_K"),
        );
        let c = &r.coils[0];
        let n = 400;
        let dl = c.length_m / f64::from(n);
        let mut t = last(&b, "coil_inlet_temperature_K");
        let mut by_hand = 0.0;
        for _ in 0..n {
            let h_in = inside_w_m2k(c.tube_inside_m, t, kg_s) * PI * c.tube_inside_m * dl;
            let (mut low, mut high) = (t, drum_k);
            for _ in 0..50 {
                let face = 0.5 * (low + high);
                let came =
                    outside_w_m2k(c.tube_outside_m, drum_k, face) * PI * c.tube_outside_m * dl;
                if came * (drum_k - face) > h_in * (face - t) {
                    low = face;
                } else {
                    high = face;
                }
            }
            let w = h_in * (low - t);
            by_hand += w;
            t += w / (kg_s * 4182.0);
        }
        eprintln!(
            "{drum_k} K, {kg_s:.3} kg/s: {q:.0} W, by hand {by_hand:.0}, out {out_k:.2} {t:.2}"
        );
        assert!((q / by_hand - 1.0).abs() < 0.03, "{q} {by_hand}");
        assert!((out_k - t).abs() < 0.03 * (t - 288.15), "{out_k} {t}");
    }
}

/// Where a deposit rules, U is the same all along: effectiveness of a stream in a bath of one temperature, ε = 1 - exp(-UA/(m cp)).
#[test]
fn analytic_a_coil_whose_deposit_rules_has_the_effectiveness_of_its_transfer_units() {
    for (deposit, pressure_pa) in [(0.05, 3e4), (0.02, 3e4), (0.01, 2e4)] {
        let r = steady_drum(353.15, deposit, 60.0, pressure_pa);
        let b = run(&r);
        let c = &r.coils[0];
        let kg_s = last(&b, "loop_flow_kg_s");
        let (t_in, t_out) = (
            last(&b, "coil_inlet_temperature_K"),
            last(&b, "coil_outlet_temperature_K"),
        );
        let bath = last(&b, "drum_mean_temperature_K");
        let ratio = c.tube_outside_m / c.tube_inside_m;
        let mean = 0.5 * (t_in + t_out);
        let p = WaterProperties::shared().liquid(mean);
        let re = 4.0 * kg_s / (PI * c.tube_inside_m * p.mu_pa_s);
        let inside = inside_w_m2k(c.tube_inside_m, mean, kg_s);
        // The film's share of what bath and water differ by, in the middle.
        let (mut face_k, mut u) = (bath - 0.03 * (bath - mean), 0.0);
        for _ in 0..20 {
            let outside = outside_w_m2k(c.tube_outside_m, bath, face_k);
            u = 1.0 / (deposit + 1.0 / outside + ratio / inside);
            face_k = bath - u / outside * (bath - mean);
        }
        let ntu = u * PI * c.tube_outside_m * c.length_m / (kg_s * 4182.0);
        let effect = (t_out - t_in) / (bath - t_in);
        eprintln!(
            "R {deposit}: {kg_s:.4} kg/s, Re {re:.0}, {effect:.4} against {:.4}",
            1.0 - (-ntu).exp()
        );
        assert!(
            (effect / (1.0 - (-ntu).exp()) - 1.0).abs() < 0.02,
            "{effect} {ntu}"
        );
    }
}

fn without(ledger: &Ledger, key: &str) -> f64 {
    let sum = |v: &[LedgerLine]| {
        v.iter()
            .filter(|l| l.key != key)
            .map(|l| l.energy_j)
            .sum::<f64>()
    };
    let gap = sum(&ledger.inputs) - sum(&ledger.outputs) - sum(&ledger.stored);
    gap.abs() / line(&ledger.inputs, "fuel_gross")
}

#[test]
fn identity_energy_and_mass_close_with_a_drum_and_not_without_one_of_its_lines() {
    let pumped = load(&[]);
    let mut thermosyphon = thermosyphon();
    thermosyphon.stop.latest_s = 2.0 * 3600.0;
    let mut once = load(&[]);
    once.water = Water::OnceThrough {
        supply: hose(4.0),
        ret: hose(2.0),
        inlet_k: 281.15,
        supply_pressure_pa: 2e4,
        valve_loss_k: 60.0,
    };
    once.target = Target {
        temperature_k: 330.0,
        probe: Probe::Outlet,
    };
    once.stop.latest_s = 2.0 * 3600.0;
    let open = load(&[("drum.open", "true"), ("drum.layers", "1")]);
    let boils = pump_off(0.05, 4.0);
    let closed = parse(
        &SCENARIO
            .replace("kind = \"tub\"", "kind = \"tank\"")
            .replace("cover = { conductance = \"3 W/m2K\" }", CLOSED),
    );
    let two = parse(
        &SCENARIO
            .replace("[loop]", SECOND)
            .replace("in = \"drum\"", "in = \"drum\"\nname = \"first\""),
    );
    for (what, r, lines) in [
        ("pumped", pumped, &["drum_loss", "drum"][..]),
        ("thermosyphon", thermosyphon, &["drum_loss", "drum"]),
        ("once through", once, &["drum_loss", "drum"]),
        ("closed loop", closed, &["drum_loss", "drum"]),
        ("coil on the flue behind it", two, &["drum_loss", "drum"]),
        (
            "open",
            open,
            &["drum_loss", "drum", "drum_evaporation", "drum_surface_loss"],
        ),
        ("boils off", boils, &["drum_loss", "drum_vented"]),
    ] {
        let b = run(&r);
        let s = &b.summary;
        eprintln!(
            "{what}: target {:?} s, net {:?}, drum {:?} K, gone {:?} kg, coil {:?} J of {:?}, flow {:?}, residual {:e}, {} right-hand sides",
            s.time_to_target_s,
            s.efficiency_net,
            s.drum_peak_K,
            s.drum_water_gone_kg,
            s.heat_drum_to_coil_J,
            s.heat_to_drum_J,
            s.loop_flow_mean_kg_s,
            b.ledger.residual_fraction,
            s.solver.right_hand_sides
        );
        assert_closes(what, &b);
        for key in lines {
            let gap = without(&b.ledger, key);
            assert!(gap > 1e-4, "{what}: without {key} it still closes, {gap:e}");
        }
        // What the drum got is what it keeps and gave away.
        let gave = [
            "drum_loss",
            "drum_surface_loss",
            "drum_evaporation",
            "drum_vented",
        ]
        .map(|k| line(&b.ledger.outputs, k))
        .iter()
        .sum::<f64>()
            + line(&b.ledger.stored, "drum")
            + s.heat_drum_to_coil_J.expect("a drum");
        let got = s.heat_to_drum_J.expect("a drum");
        assert!((gave / got - 1.0).abs() < 1e-9, "{what}: {gave} {got}");
    }
}

/// A loop that moves by itself takes the drum's heat as it does a hot coil's: by buoyancy, forwards.
#[test]
fn practice_a_thermosyphon_starts_from_a_drum() {
    let mut r = thermosyphon();
    r.stop.at_target = false;
    r.stop.latest_s = 2.0 * 3600.0;
    let b = run(&r);
    let flow = b.series.get("loop_flow_kg_s").expect("a flow");
    assert!(flow.last().is_some_and(|&w| w > 0.01), "{:?}", flow.last());
    assert!(b.summary.heat_to_tank_J > 0.5 * b.summary.heat_drum_to_coil_J.expect("a drum"));
}

/// The point of the arrangement: with the pump stopped the coil comes to the drum's boiling point and stays there; nothing boils in it, as the
/// store stands over it, and the drum boils off instead (common practice, no source).
#[test]
fn practice_a_stopped_pump_leaves_the_coil_as_hot_as_the_boiling_drum() {
    let mut r = load(&[]);
    drum(&mut r).water_m3 = 0.06;
    support::variants::circuit(&mut r)
        .pump
        .as_mut()
        .expect("a pump")
        .stopped_loss_k = 1e7;
    r.controls.pump.steps.moves = vec![(2400.0, None)];
    r.stop.at_target = false;
    r.stop.latest_s = 3.0 * 3600.0;
    let b = run(&r);
    let s = &b.summary;
    let boils_k = Network::new(&r)
        .expect("assembles")
        .drum
        .expect("a drum")
        .vessel
        .sat
        .t_k;
    eprintln!(
        "boils at {boils_k:.2} K from {:?} s, drum {:?}, coil wall {:?}, outlet {:?}, margin {:?}, gone {:?} kg",
        s.drum_boils_first_s,
        s.drum_peak_K,
        s.coil_wall_max_K,
        s.coil_outlet_max_K,
        s.boiling_margin_min_K,
        s.drum_water_gone_kg
    );
    assert!(s.drum_boils_first_s.is_some_and(|t| t > 2400.0));
    let drum_k = s.drum_peak_K.expect("a drum");
    assert!(drum_k > boils_k && drum_k < boils_k + 1.5, "{drum_k}");
    // As warm as the water that it lies in, or what the pump put in before.
    assert!(s.coil_wall_max_K.expect("a coil") <= drum_k + 0.05);
    assert!(s.coil_outlet_max_K.expect("a coil") > boils_k - 5.0);
    assert!(s.boiling_first_s.is_none() && s.steam_total_kg == 0.0);
    assert!(s.drum_water_gone_kg.expect("a drum") > 2.0);
    assert!(s.warnings.iter().any(|w| w.code == "W0233"));
    assert!(!s.warnings.iter().any(|w| w.code == "W0201"));
}

/// Latent heat of water at 99 degC: 2259 kJ/kg (Bergman et al., table A.6, between 370 and 373.15 K, from memory): while the drum boils, what walls
/// bring and neither air nor coil take leaves as that much steam.
#[test]
fn published_a_boiling_drum_loses_a_kilogram_for_each_latent_heat() {
    let b = run(&pump_off(0.05, 3.0));
    let column = |name: &str| b.series.get(name).expect("a column");
    let (t, kg) = (column("time_s"), column("drum_water_kg"));
    let (got, coil, lost) = (
        column("heat_to_drum_W"),
        column("heat_drum_to_coil_W"),
        column("heat_drum_loss_W"),
    );
    let top = column("drum_mean_temperature_K");
    let from = t
        .iter()
        .position(|&t| t > b.summary.drum_boils_first_s.expect("boils") + 1200.0);
    let from = from.expect("boils for long");
    let to = t.len() - 1;
    let mut latent_j = 0.0;
    // Its walls' loss is 4 W/K, and it stands at the boiling point.
    for i in from..to {
        let walls = |i: usize| 4.0 * (top[i] - 281.15);
        let net = |i: usize| got[i] - coil[i] - walls(i);
        latent_j += 0.5 * (net(i) + net(i + 1)) * (t[i + 1] - t[i]);
    }
    let gone = kg[from] - kg[to];
    eprintln!(
        "{gone:.2} kg, {:.0} kJ/kg; loss at the end {:.0} W",
        latent_j / gone / 1e3,
        lost[to]
    );
    assert!(gone > 1.0);
    assert!(
        (latent_j / gone / 2.259e6 - 1.0).abs() < 0.01,
        "{}",
        latent_j / gone
    );
}

/// Boiled low, the walls come out of the water and get hot, the coil gets less, and the account still closes.
#[test]
fn practice_a_drum_that_boils_low_bares_walls_and_coil() {
    let mut r = pump_off(0.03, 8.0);
    r.target.temperature_k = 400.0;
    let b = run(&r);
    let s = &b.summary;
    eprintln!(
        "boils {:?}, bare {:?}, gone {:?} kg, peak {:?}, outside warnings {:?}",
        s.drum_boils_first_s,
        s.drum_bare_first_s,
        s.drum_water_gone_kg,
        s.drum_peak_K,
        s.warnings
            .iter()
            .map(|w| w.code.as_str())
            .collect::<Vec<_>>()
    );
    assert_closes("boiled low", &b);
    assert!(s.drum_bare_first_s > s.drum_boils_first_s && s.drum_boils_first_s.is_some());
    assert!(s.warnings.iter().any(|w| w.code == "W0234"));
    assert!(s.drum_water_gone_kg.expect("a drum") < 30.0);
    assert!(
        b.series
            .get("drum_water_kg")
            .expect("a column")
            .iter()
            .all(|&kg| kg >= 0.0)
    );
}

/// Twice the cells and layers, the same answer within what is asked of all rigs.
#[test]
fn identity_cells_of_drum_and_coil_do_not_decide() {
    let coarse = load(&[]);
    let mut fine = coarse.clone();
    fine.solver.cell_factor = 2;
    fine.solver.rtol *= 0.3;
    let (a, b) = (run(&coarse).summary, run(&fine).summary);
    let (ta, tb) = (
        a.time_to_target_s.expect("hot"),
        b.time_to_target_s.expect("hot"),
    );
    eprintln!("{ta:.0} {tb:.0} s");
    assert!((ta / tb - 1.0).abs() < 0.01, "{ta} {tb}");
}

/// Every figure of the drum and of the coil in it moves the result.
#[test]
fn identity_every_key_of_the_drum_and_its_coil_counts() {
    let base: &[(&str, &str)] = &[("stop.latest", "50 min")];
    let with = |more: &[(&str, &str)]| {
        let set: Vec<(&str, &str)> = base.iter().chain(more).copied().collect();
        let s = run(&load(&set)).summary;
        (s.heat_to_tank_J, s.drum_peak_K.expect("a drum"))
    };
    let insulated = [
        ("drum.insulation.thickness", "50 mm"),
        ("drum.insulation.conductivity", "0.04 W/mK"),
    ];
    let plain = with(&[]);
    let open = with(&[("drum.open", "true")]);
    let moved = |what: &str, a: (f64, f64), b: (f64, f64)| {
        assert!(
            (a.0 - b.0).abs() > 10.0 || (a.1 - b.1).abs() > 1e-3,
            "{what}: {a:?} {b:?}"
        );
    };
    for (key, value) in [
        ("drum.water", "130 L"),
        ("drum.depth", "520 mm"),
        ("drum.floor_height", "420 mm"),
        ("drum.layers", "3"),
        ("drum.start", "12 degC"),
        ("drum.loss", "6 W/K"),
        ("drum.shell.mass", "20 kg"),
        ("drum.open", "true"),
        ("coil.length", "10 m"),
        ("coil.diameter", "380 mm"),
        ("coil.pitch", "30 mm"),
        ("coil.offset", "20 mm"),
        ("coil.fouling", "0.0005 m2K/W"),
        ("coil.cells", "6"),
        ("coil.tube", "15x1 copper"),
        ("closures.water_convection", "1.2"),
        ("closures.vessel_loss", "1.3"),
        ("closures.tank_mixing", "0.3"),
    ] {
        moved(key, plain, with(&[(key, value)]));
    }
    let runs = SCENARIO
        .replace("form = \"helix\"", "form = \"serpentine\"")
        .replace("diameter = \"400 mm\"\n", "");
    let few = [
        ("coil.length".into(), "4 m".into()),
        ("stop.latest".into(), "50 min".into()),
    ];
    let s = run(&load_str("runs.toml", &runs, &few).expect("loads").rig).summary;
    let serpentine = (s.heat_to_tank_J, s.drum_peak_K.expect("a drum"));
    moved("form", with(&[("coil.length", "4 m")]), serpentine);
    let short = ("coil.length", "6 m");
    moved(
        "parallel",
        with(&[short]),
        with(&[short, ("coil.parallel", "2")]),
    );
    moved(
        "wind_share",
        open,
        with(&[("drum.open", "true"), ("drum.wind_share", "100 %")]),
    );
    moved(
        "evaporation",
        open,
        with(&[("drum.open", "true"), ("closures.evaporation", "2")]),
    );
    let text = SCENARIO.replace(
        "loss = \"4 W/K\"\nshell",
        "insulation = { thickness = \"30 mm\", conductivity = \"0.04 W/mK\" }\nshell",
    );
    let from = |set: &[(&str, &str)]| {
        let set: Vec<(String, String)> = base
            .iter()
            .chain(set)
            .map(|(k, v)| ((*k).into(), (*v).into()))
            .collect();
        let s = run(&load_str("i.toml", &text, &set).expect("loads").rig).summary;
        (s.heat_to_tank_J, s.drum_peak_K.expect("a drum"))
    };
    let lagged = from(&[]);
    for (key, value) in insulated {
        let value = if key.ends_with("conductivity") {
            "0.08 W/mK"
        } else {
            value
        };
        moved(key, lagged, from(&[(key, value)]));
    }
}

/// The hazard report of a drum: a stopped pump boils the drum, not the coil, and says when.
#[test]
fn practice_a_stopped_pump_is_told_by_the_drum_that_boils() {
    let mut r = load(&[]);
    drum(&mut r).water_m3 = 0.03;
    support::variants::circuit(&mut r)
        .pump
        .as_mut()
        .expect("a pump")
        .stopped_loss_k = 1e7;
    let options = HazardOptions {
        only: vec!["pump_stop".into()],
        relief_bore_m: None,
        relief_pa: None,
    };
    let report = hazard(&r, &options, &|_| (), &|| ()).expect("a report");
    let f = report
        .faults
        .iter()
        .find(|f| f.key == "pump_stop")
        .expect("tried");
    eprintln!("{:?}", f.limits);
    assert_eq!(f.status, FaultStatus::Ran);
    assert!(f.boiling_after_s.is_none());
    let boils = f
        .limits
        .iter()
        .find(|l| l.key == "drum_boils")
        .expect("boils");
    assert!(boils.after_s > 0.0);
    // The pump started again takes its heat and ends it.
    let pump = f.remedies.iter().find(|c| c.what.contains("pump on"));
    assert!(pump.is_some_and(|c| c.stops_after_s.is_some_and(|s| s < 900.0)));
}

/// The picture and the words of the rig know the drum.
#[test]
fn practice_the_drawing_has_drum_and_coil() {
    let b = run(&load(&[("stop.latest", "10 min")]));
    let rig = b.rig.expect("a drawing");
    let d = rig.drum.as_ref().expect("a drum");
    assert_eq!(d.coils.len(), 1);
    assert!(rig.sections.iter().all(|s| s.coils.is_empty()));
    assert!(rig.around().is_some_and(|v| v.label == "drum"));
}
