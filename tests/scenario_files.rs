//! Bundled scenarios, the starter, the schema, overrides: what loads, and to what.

use emberloop::components::spec::{
    CoilForm, FeedWhen, FireboxKind, Probe, Rig, SolverSettings, Until, VesselKind, Water,
};
use emberloop::properties::wood;
use emberloop::scenario::{LoadError, Loaded, load_path, load_str, schema, starter};
use serde_json::Value;
use std::path::{Path, PathBuf};

const BARREL: &str = include_str!("scenario_data/wash-up-barrel.toml");
const BENCH: &str = include_str!("scenario_data/night-store-bench.toml");

fn bundled() -> Vec<PathBuf> {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut all: Vec<PathBuf> = std::fs::read_dir(dir)
        .expect("scenarios")
        .filter_map(|e| Some(e.ok()?.path()))
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    all.sort();
    all
}

/// The frozen copies that these tests reckon with; the bundled files may be tuned without touching them.
fn load(name: &str) -> Loaded {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("tests/scenario_data")
        .join(name);
    load_path(&path, &[]).unwrap_or_else(|e| panic!("{e}"))
}

fn with(text: &str, sets: &[(&str, &str)]) -> Loaded {
    let sets: Vec<(String, String)> = sets
        .iter()
        .map(|(p, v)| ((*p).to_owned(), (*v).to_owned()))
        .collect();
    load_str("rig.toml", text, &sets).unwrap_or_else(|d| panic!("{}", d.render(false)))
}

fn near(got: f64, expected: f64) {
    assert!(
        (got - expected).abs() <= 1e-9 * expected.abs().max(1e-9),
        "{got} instead of {expected}"
    );
}

#[test]
fn practice_every_bundled_scenario_loads_without_a_note_and_says_that_it_is_invented() {
    let all = bundled();
    assert_eq!(all.len(), 7);
    for path in all {
        let loaded = load_path(&path, &[]).unwrap_or_else(|e| panic!("{e}"));
        assert!(
            loaded.notes.items().is_empty(),
            "{}",
            loaded.notes.render(false)
        );
        assert!(
            loaded.rig.title.contains("invented"),
            "{}",
            loaded.rig.title
        );
        assert!(
            loaded
                .text
                .starts_with("# Invented scenario. No real place, person or product.")
        );
        assert_eq!(
            Some(loaded.stem.as_str()),
            path.file_stem().and_then(|s| s.to_str())
        );
        assert!(
            loaded
                .defaults
                .iter()
                .all(|d| !d.reason.is_empty() && !d.value.is_empty())
        );
    }
}

#[test]
fn analytic_the_barrel_resolves_to_its_figures_in_si() {
    let Rig {
        title: _,
        site,
        target,
        fuel,
        firebox,
        feeding,
        gas_path,
        coils,
        water,
        solver,
        ..
    } = load("wash-up-barrel.toml").rig;
    near(site.altitude_m, 420.0);
    near(site.air_temperature_k.at(0.0), 271.15);
    near(target.temperature_k, 338.15);
    assert_eq!(target.probe, Probe::Mean);
    near(fuel.moisture_wet, 0.18);
    near(
        fuel.carbon_daf + fuel.hydrogen_daf + fuel.oxygen_daf + fuel.nitrogen_daf,
        1.0,
    );
    assert_eq!(firebox.kind, FireboxKind::FeedTube);
    near(firebox.mouth_area_m2, 0.15 * 0.13);
    near(firebox.mouth_cover, 0.5);
    near(feeding.every[0].interval_s, 600.0);
    assert_eq!(feeding.every[0].until, Until::End);
    assert_eq!(gas_path.len(), 4);
    near(gas_path[0].rise_m, 1.0);
    assert!(gas_path[3].in_wind);
    assert!(gas_path[1].wall[0].thin && !gas_path[1].wall[1].thin);
    // The coil: turns = L / sqrt((pi D)^2 + p^2), centred in the passage that begins at 0.3 + 1.0 m.
    let per_turn = ((std::f64::consts::PI * 0.36).powi(2) + 0.03f64.powi(2)).sqrt();
    let extent = 9.1 / per_turn * 0.03 + 0.0159;
    near(coils[0].bottom_z_m, 1.3 + 0.13 - 0.5 * extent);
    near(coils[0].top_z_m, 1.3 + 0.13 + 0.5 * extent);
    near(coils[0].tube_inside_m, 13.8e-3);
    let Water::Store {
        circuit: Some(circuit),
        vessel,
        draws,
        bench,
    } = water
    else {
        panic!("a store");
    };
    let pump = circuit.pump.expect("a pump");
    near(pump.settings[1].curve[1].0, 10e-3 / 60.0);
    near(pump.settings[1].curve[1].1, 24e3);
    assert_eq!(vessel.kind, VesselKind::Barrel);
    near(vessel.water_m3, 0.2);
    near(vessel.loss_w_k, 4.0);
    near(vessel.shell_heat_capacity_j_k, 18.0 * 450.0);
    near(draws[0].for_s, 7200.0);
    assert!(bench.is_none() && vessel.surface.is_none());
    near(solver.rtol, 5e-3);
    near(solver.atol, SolverSettings::default().atol);
}

#[test]
fn analytic_the_tub_stands_above_its_coil_and_its_loss_follows_from_its_staves() {
    let rig = load("cedar-tub.toml").rig;
    let coil = &rig.coils[0];
    let Water::Store {
        circuit: Some(circuit),
        vessel,
        ..
    } = rig.water
    else {
        panic!("a store");
    };
    assert!(circuit.pump.is_none());
    let middle = 0.5 * (coil.bottom_z_m + coil.top_z_m);
    near(middle, 0.58);
    near(vessel.floor_z_m + vessel.hot_port_m - middle, 0.25);
    // The hot pipe rises from the coil's top, the cold one enters near its bottom.
    assert!(vessel.floor_z_m + vessel.hot_port_m > coil.top_z_m);
    assert!(vessel.floor_z_m + vessel.cold_port_m < coil.top_z_m);
    // Side and floor of an upright cylinder through 45 mm of wood and a film of 0.13 m2K/W.
    let base: f64 = 1.15 / 0.57;
    let area = base + 2.0 * (std::f64::consts::PI * base).sqrt() * 0.57;
    let wood = emberloop::properties::solids::by_name("wood wall").expect("in the table");
    let k = wood.conductivity_w_mk + 15.0 * wood.conductivity_slope_w_mk2;
    near(vessel.loss_w_k, area / (0.045 / k + 0.13));
    let surface = vessel.surface.expect("open");
    near(surface.area_m2, 2.0);
    near(surface.cover_leak, 0.05);
    assert!(rig.controls.cover.steps.initial);
}

#[test]
fn analytic_the_bench_runs_two_tubes_down_with_the_gas() {
    let rig = load("night-store-bench.toml").rig;
    let coil = &rig.coils[0];
    assert_eq!(coil.parallel, 2);
    near(rig.gas_path[coil.section].rise_m, -0.7);
    // ASTM B88 type L, 3/4 in nominal: 0.875 in outside, 0.045 in wall.
    near(coil.tube_outside_m, 0.875 * 0.0254);
    near(coil.tube_inside_m, (0.875 - 0.09) * 0.0254);
    let CoilForm::Helix {
        pitch_m,
        coil_diameter_m,
    } = coil.form
    else {
        panic!("a helix");
    };
    let lead = 2.0 * pitch_m;
    let turns = 12.0 / ((std::f64::consts::PI * coil_diameter_m).powi(2) + lead * lead).sqrt();
    near(
        coil.top_z_m - coil.bottom_z_m,
        turns * lead + coil.tube_outside_m,
    );
    // Firebox 0.45, riser 1.5, then 0.7 down: the middle of the passage.
    near(0.5 * (coil.top_z_m + coil.bottom_z_m), 0.45 + 1.5 - 0.35);
    near(rig.site.air_temperature_k.at(5.0 * 3600.0), 275.15);
    let Water::Store { bench, .. } = rig.water else {
        panic!("a store");
    };
    near(bench.expect("a bench").supply_k, 308.15);
    let rule = rig.controls.pump.rule.expect("a rule");
    assert_eq!((rule.when_high, rule.when_low), (Some(0), None));
}

#[test]
fn identity_the_two_stoves_share_coil_loop_store_and_wood_per_hour() {
    let (a, b) = (
        load("wash-up-barrel.toml").rig,
        load("wash-up-barrel-stove.toml").rig,
    );
    let same = |x: &dyn erased::Json, y: &dyn erased::Json| assert_eq!(x.json(), y.json());
    same(&a.water, &b.water);
    same(&a.coils[0].form, &b.coils[0].form);
    near(a.coils[0].length_m, b.coils[0].length_m);
    let rate = |r: &Rig| r.feeding.every[0].mass_kg / r.feeding.every[0].interval_s;
    near(rate(&a), rate(&b));
    let top = |r: &Rig| r.firebox.height_m + r.gas_path.iter().map(|s| s.rise_m).sum::<f64>();
    near(top(&a), top(&b));
}

/// Anything that serializes, compared as JSON.
mod erased {
    pub trait Json {
        fn json(&self) -> String;
    }
    impl<T: serde::Serialize> Json for T {
        fn json(&self) -> String {
            serde_json::to_string(self).unwrap_or_default()
        }
    }
}

#[test]
fn practice_the_starter_loads_and_names_every_section_that_a_first_rig_needs() {
    let loaded = with(starter(), &[]);
    assert!(
        loaded.notes.items().is_empty(),
        "{}",
        loaded.notes.render(false)
    );
    assert!(loaded.rig.title.contains("invented"));
    for section in [
        "site", "target", "stop", "fuel", "lighting", "feeding", "firebox", "loop", "pump", "store",
    ] {
        assert!(starter().contains(&format!("[{section}]")), "{section}");
    }
}

/// Every commented-out line of the starter that holds a key is good as it stands.
#[test]
fn practice_the_commented_alternatives_of_the_starter_are_known_keys() {
    let keys: std::collections::BTreeSet<String> = {
        let mut all = Vec::new();
        collect(&schema(), &mut all);
        all.into_iter().collect()
    };
    for line in starter().lines() {
        let Some(rest) = line.strip_prefix("# ") else {
            continue;
        };
        let Some((key, _)) = rest.split_once(" = ") else {
            continue;
        };
        if key.chars().all(|c| c.is_ascii_lowercase() || c == '_') {
            assert!(keys.contains(key), "{line}");
        }
    }
}

fn collect(node: &Value, out: &mut Vec<String>) {
    match node {
        Value::Object(map) => {
            if let Some(Value::Object(p)) = map.get("properties") {
                out.extend(p.keys().cloned());
            }
            map.values().for_each(|v| collect(v, out));
        }
        Value::Array(all) => all.iter().for_each(|v| collect(v, out)),
        _ => {}
    }
}

/// The node of a key below a schema node, lists and unions included.
fn below<'a>(node: &'a Value, key: &str) -> Option<&'a Value> {
    if let Some(v) = node.get("properties").and_then(|p| p.get(key)) {
        return Some(v);
    }
    if let Some(v) = node.get("items").and_then(|i| below(i, key)) {
        return Some(v);
    }
    node.get("anyOf")?
        .as_array()?
        .iter()
        .find_map(|b| below(b, key))
}

fn check_keys(node: &Value, value: &toml::Value, path: &str) {
    match value {
        toml::Value::Table(t) => {
            for (k, v) in t {
                let child =
                    below(node, k).unwrap_or_else(|| panic!("{path}.{k} is not in the schema"));
                assert!(
                    child["description"].as_str().is_some_and(|d| d.len() > 3),
                    "{path}.{k}"
                );
                check_keys(child, v, &format!("{path}.{k}"));
            }
        }
        toml::Value::Array(a) => a.iter().for_each(|v| check_keys(node, v, path)),
        _ => {}
    }
}

#[test]
fn identity_every_key_of_every_bundled_scenario_stands_in_the_schema_with_a_description() {
    let schema = schema();
    assert_eq!(
        schema["$schema"],
        "https://json-schema.org/draft/2020-12/schema"
    );
    for path in bundled() {
        let text = std::fs::read_to_string(&path).expect("a file");
        let table: toml::Table = toml::from_str(&text).expect("TOML");
        check_keys(&schema, &toml::Value::Table(table), "");
    }
}

#[test]
fn practice_the_schema_has_no_null_and_refuses_unknown_keys_everywhere() {
    fn walk(node: &Value) {
        match node {
            Value::Object(map) => {
                if map.contains_key("properties") && map.get("type").is_some_and(|t| t == "object")
                {
                    assert_eq!(map["additionalProperties"], false);
                }
                map.values().for_each(walk);
            }
            Value::Array(all) => all.iter().for_each(walk),
            Value::String(s) => assert_ne!(s, "null"),
            _ => {}
        }
    }
    walk(&schema());
    let text =
        schema()["properties"]["firebox"]["properties"]["mouth_cover"]["description"].to_string();
    assert!(
        text.contains("0 % to 99 %") && text.contains("default 0 %"),
        "{text}"
    );
}

#[test]
fn practice_overrides_replace_and_add_values() {
    let rig = with(
        BARREL,
        &[
            ("coil.length", "20 ft"),
            ("gas_path.flue.length", "\"4 m\""),
            ("gas_path.coil passage.loss", "2.5"),
            ("fuel.moisture", "0.25"),
            ("feeding.every[0].interval", "5 min"),
            ("closures.bank_exposure", "0.7"),
            ("pump.settings.high.power", "25 W"),
            ("loop.supply.length", "6'"),
            ("controls.pump.initial", "high"),
            ("controls.pump.moves", "[{ at = \"1 h\", to = \"low\" }]"),
            ("controls.damper.rule", "{ signal = \"stack\", above = \"350 degC\", then = \"40 %\", below = \"250 degC\", else = \"100 %\" }"),
            ("solver.cell_factor", "2"),
            ("loop.check_valve", "true"),
            ("title", "Another (invented)"),
        ],
    )
    .rig;
    near(rig.coils[0].length_m, 6.096);
    near(rig.gas_path[3].length_m, 4.0);
    near(rig.gas_path[1].loss_k, 2.5);
    near(rig.fuel.moisture_wet, 0.25);
    near(rig.feeding.every[0].interval_s, 300.0);
    near(rig.closures.bank_exposure, 0.7);
    assert_eq!(rig.solver.cell_factor, 2);
    assert_eq!(rig.title, "Another (invented)");
    assert_eq!(rig.controls.pump.steps.moves, [(3600.0, Some(0))]);
    assert!(rig.controls.damper.rule.is_some());
    let circuit = rig.circuit().expect("a loop");
    assert!(circuit.check_valve);
    near(circuit.supply.length_m, 1.8288);
    near(
        circuit.pump.as_ref().expect("a pump").settings[1].power_w,
        25.0,
    );
}

#[test]
fn practice_overrides_pick_entries_by_name_and_number() {
    let two = BARREL.replacen(
        "[[gas_path]]\npart = \"damper\"",
        "[[gas_path]]\npart = \"passage\"\nname = \"upper\"\nbore = \"420 mm\"\nlength = \"260 mm\"\nwall = [{ material = \"steel\", thickness = \"1 mm\" }]\n\n[[gas_path]]\npart = \"damper\"",
        1,
    );
    let two = two.replacen(
        "[loop]",
        "[[coil]]\nname = \"second\"\nin = \"upper\"\nform = \"helix\"\ntube = \"1/2 in type L\"\nlength = \"5 m\"\ndiameter = \"360 mm\"\npitch = \"30 mm\"\n\n[loop]",
        1,
    );
    let rig = with(
        &two,
        &[("coil[1].length", "6 m"), ("coil.coil.length", "8 m")],
    )
    .rig;
    near(rig.coils[1].length_m, 6.0);
    near(rig.coils[0].length_m, 8.0);
    let sets = [("coil.length".to_owned(), "8 m".to_owned())];
    let e = load_str("rig.toml", &two, &sets).expect_err("ambiguous");
    assert_eq!(e.items()[0].code, "E0106");
    assert!(
        e.items()[0]
            .help
            .as_deref()
            .is_some_and(|h| h.contains("coil, second")),
        "{e}"
    );
}

#[test]
fn practice_overrides_that_lead_nowhere_are_pointed_at() {
    for (path, value, code, line_column, says) in [
        (
            "coil.lenght",
            "9 m",
            "E0106",
            (1, 12),
            "did you mean \"length\"?",
        ),
        (
            "coi.length",
            "9 m",
            "E0106",
            (1, 7),
            "did you mean \"coil\"?",
        ),
        ("coil[3].length", "9 m", "E0106", (1, 11), "counted from 0"),
        (
            "gas_path.flu.length",
            "9 m",
            "E0106",
            (1, 16),
            "did you mean gas_path.flue?",
        ),
        (
            "feeding.rules[0].add",
            "1 kg",
            "E0106",
            (1, 15),
            "no list feeding.rules",
        ),
        ("site.altitude.x", "1", "E0106", (1, 21), "single value"),
        ("..", "1", "E0106", (1, 7), "no path"),
        (
            "controls.pump.moves",
            "[{ at = ",
            "E0107",
            (1, 34),
            "not readable",
        ),
        ("coil.length", "9 furlong", "E0202", (1, 21), "unknown unit"),
        ("coil.length", "9", "E0201", (1, 19), "has no unit"),
        (
            "solver.cell_factor",
            "many",
            "E0103",
            (1, 26),
            "a whole number",
        ),
        ("coil.length", "30 m", "E0302", (1, 19), "only 260 mm"),
        ("mouth", "1 m", "E0106", (1, 7), "no key"),
    ] {
        let sets = [(path.to_owned(), value.to_owned())];
        let e = load_str("rig.toml", BARREL, &sets).expect_err(path);
        let d = &e.items()[0];
        assert_eq!((d.code, d.place.file.as_str()), (code, "--set"), "{e}");
        assert_eq!((d.place.line, d.place.column), line_column, "{e}");
        let all = format!("{} {}", d.message, d.help.clone().unwrap_or_default());
        assert!(all.contains(says), "{all}");
    }
}

#[test]
fn identity_the_text_after_overrides_loads_to_the_same_rig() {
    for path in bundled() {
        let text = std::fs::read_to_string(&path).expect("a file");
        let first = with(&text, &[("site.wind", "3 m/s"), ("solver.rtol", "1e-6")]);
        let again = with(&first.text, &[]);
        assert_eq!(
            serde_json::to_string(&first.rig).expect("JSON"),
            serde_json::to_string(&again.rig).expect("JSON")
        );
    }
    assert_eq!(with(BARREL, &[]).text, BARREL);
}

#[test]
fn identity_defaults_written_out_give_the_same_rig() {
    // Each echoed fixed default, set by hand, changes nothing.
    let loaded = with(BARREL, &[]);
    let rig = serde_json::to_string(&loaded.rig).expect("JSON");
    let mut tried = 0;
    for d in &loaded.defaults {
        let fixed = !d.reason.contains("species")
            && !d.reason.contains("table")
            && !d.reason.contains("follow")
            && !d.reason.contains("composition")
            && !d.reason.contains("middle");
        if !fixed {
            continue;
        }
        let again = with(BARREL, &[(&d.path, &d.value)]);
        assert_eq!(
            rig,
            serde_json::to_string(&again.rig).expect("JSON"),
            "{} = {}",
            d.path,
            d.value
        );
        assert!(again.defaults.len() < loaded.defaults.len(), "{}", d.path);
        tried += 1;
    }
    assert!(tried > 30, "{tried}");
}

#[test]
fn identity_defaults_of_closures_and_solver_are_those_of_the_model() {
    use emberloop::components::spec::Closures;
    let rig = with(BARREL, &[]).rig;
    let same = |a: String, b: String| assert_eq!(a, b);
    let json = |x: &dyn erased::Json| x.json();
    same(json(&rig.closures), json(&Closures::default()));
    same(json(&rig.solver), json(&SolverSettings::default()));
}

/// 25 % on the dry basis is 20 % on the wet one (a = b / (1 + b); EN ISO 18134 uses the wet basis).
#[test]
fn analytic_moisture_bases_and_heating_value_bases_convert() {
    let rig = with(
        BARREL,
        &[
            ("fuel.moisture", "25 %"),
            ("fuel.moisture_basis", "dry"),
            ("lighting.moisture", "25 %"),
        ],
    )
    .rig;
    near(rig.fuel.moisture_wet, 0.2);
    near(rig.lighting.kindling_moisture_wet, 0.2);
    let fuel = with(
        BARREL,
        &[
            ("fuel.heating_value", "18.6 MJ/kg"),
            ("fuel.heating_value_basis", "net"),
        ],
    )
    .rig
    .fuel;
    let h_dry = fuel.hydrogen_daf * (1.0 - fuel.ash_dry);
    // ISO 18125: net = gross - 2.443 MJ/kg times 8.937 kg water per kg hydrogen.
    let net = fuel.gross_heating_value_dry_j_kg - 2.443e6 * wood::WATER_PER_HYDROGEN * h_dry;
    near(net, 18.6e6);
}

/// Affinity laws of pumps at constant wheel: flow with the speed, head with its square, power with its cube (pump handbooks,
/// from memory).
#[test]
fn published_a_slower_pump_follows_the_affinity_laws() {
    let setting = |sets: &[(&str, &str)]| {
        let rig = with(BARREL, sets).rig;
        let pump = rig.circuit().and_then(|c| c.pump.as_ref());
        pump.expect("a pump").settings[0].clone()
    };
    let (full, half) = (
        setting(&[]),
        setting(&[("pump.settings.low.speed", "50 %")]),
    );
    for (a, b) in full.curve.iter().zip(&half.curve) {
        near(b.0, 0.5 * a.0);
        near(b.1, 0.25 * a.1);
    }
    near(half.power_w, full.power_w / 8.0);
}

#[test]
fn practice_own_wood_and_own_materials_are_taken() {
    let own = BARREL
        .replacen(
            "species = \"maple\"",
            "name = \"my wood\"\ncarbon = \"50 %\"\nhydrogen = \"6 %\"\noxygen = \"43.8 %\"\nnitrogen = \"0.2 %\"\nash = \"1 %\"\ndensity = \"600 kg/m3\"\nchar_yield = \"20 %\"\nheating_value = \"20 MJ/kg\"\nheating_value_basis = \"gross\"",
            1,
        )
        .replacen(
            "{ material = \"fire brick\", thickness = \"60 mm\" }",
            "{ material = \"field stone of mine\", thickness = \"60 mm\", conductivity = \"2 W/mK\", density = \"2600 kg/m3\", heat_capacity = \"800 J/kgK\", emissivity = 0.9 }",
            1,
        );
    let rig = with(&own, &[]).rig;
    assert_eq!(rig.fuel.name, "my wood");
    near(rig.fuel.gross_heating_value_dry_j_kg, 20e6);
    let layer = &rig.firebox.wall[0];
    near(layer.conductivity_w_mk, 2.0);
    near(layer.conductivity_slope_w_mk2, 0.0);
    assert!(!layer.thin && layer.limit_k.is_none());
}

#[test]
fn practice_feeding_rules_and_other_water_sides_resolve() {
    let rig = with(
        BARREL,
        &[("feeding.rules", "[{ chamber_below = \"650 degC\", add = \"0.5 kg\", not_within = \"4 min\", until = \"2 h\" }]")],
    )
    .rig;
    near(
        match rig.feeding.rules[0].when {
            FeedWhen::ChamberBelow(k) => k,
            FeedWhen::BedBelow(_) => 0.0,
        },
        923.15,
    );
    assert_eq!(rig.feeding.rules[0].until, Until::Time(7200.0));

    // Once-through: no loop, pump, store, draws.
    let cut = |text: &str, from: &str, to: &str| {
        let (a, b) = (text.find(from).expect("from"), text.find(to).expect("to"));
        format!("{}{}", &text[..a], &text[b..])
    };
    let once = cut(BARREL, "[loop]", "[controls.damper]");
    let once = cut(&once, "[controls.pump]", "[closures]");
    let once = once.replacen("probe = \"mean\"", "probe = \"outlet\"", 1)
        + "\n[once_through]\ninlet = \"8 degC\"\nsupply_pressure = \"20 kPa\"\nsupply = { length = \"2 m\", inside = \"13 mm\", kind = \"copper\" }\nreturn = { length = \"2 m\", inside = \"13 mm\", kind = \"copper\" }\n";
    let rig = with(&once, &[("controls.valve.initial", "30 %")]).rig;
    assert!(
        matches!(rig.water, Water::OnceThrough { inlet_k, .. } if (inlet_k - 281.15).abs() < 1e-9)
    );
    near(rig.controls.valve.steps.initial, 0.3);

    // A bench warmed by the loop itself.
    let bench = cut(BENCH, "[store]", "[bench]");
    let bench = bench
        .replacen(
            "flow = \"6 L/min\"\n",
            "height = \"300 mm\"\nwater = \"25 L\"\n",
            1,
        )
        .replacen(
            "supply = \"35 degC\"         # mixed down from the store\n",
            "",
            1,
        )
        .replacen("pump_power = \"12 W\"\n", "", 1)
        .replacen("on_below = \"18 degC\"\n", "", 1)
        .replacen("off_above = \"20 degC\"\n", "", 1);
    let rig = with(&bench, &[]).rig;
    assert!(
        matches!(rig.water, Water::BenchOnly { bench_z_m, .. } if (bench_z_m - 0.3).abs() < 1e-9)
    );

    // A stove without water.
    let dry = cut(BARREL, "[[coil]]", "[controls.damper]");
    let dry = cut(&dry, "[controls.pump]", "[closures]");
    let dry = cut(&dry, "[target]", "[stop]")
        .replacen("when = \"target\"", "when = \"time\"", 1)
        .replacen("after_target = \"2 h\"\n", "", 1);
    let rig = with(&dry, &[]).rig;
    assert!(matches!(rig.water, Water::None) && rig.coils.is_empty() && !rig.stop.at_target);
}

#[test]
fn practice_a_missing_file_is_an_input_error_and_a_bad_byte_a_finding() {
    let e = load_path(Path::new("no-such-file.toml"), &[]).expect_err("missing");
    assert!(matches!(e, LoadError::Io { .. }));
    assert!(e.to_string().contains("no-such-file.toml"));
    let dir = tempfile::tempdir().expect("a folder");
    let path = dir.path().join("latin.toml");
    std::fs::write(&path, b"title = \"caf\xe9\"\n").expect("written");
    let e = load_path(&path, &[]).expect_err("not UTF-8");
    let LoadError::Bad(d) = e else {
        panic!("a finding")
    };
    assert_eq!(
        (
            d.items()[0].code,
            d.items()[0].place.line,
            d.items()[0].place.column
        ),
        ("E0101", 1, 13)
    );
}
