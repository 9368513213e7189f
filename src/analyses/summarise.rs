//! From what was gathered to the summary, the ledger, the warnings and the loop picture.

use super::gather::{Extremes, Gather, Snapshot};
use super::warnings::{SCALD_K, TUB_K};
use super::working_points::Moment;
use crate::components::spec::{Probe, Rig, VesselKind, Water};
use crate::network::{Drive, DrumIntegral, Fed, Integral, Network};
use crate::results::{BurnResult, LayerMoisture, Ledger, OperatingPicture, Summary, Warning};

/// Every flue sweats while it warms up: only what lasts longer is told, s.
const DEW_S: f64 = 600.0;
const FLAT_J_KG: f64 = 20e6;
/// Drying under this share of the net energy burnt is not told.
const DRYING: f64 = 0.02;

pub(super) fn finish(
    g: Gather,
    rig: &Rig,
    net: &Network,
    fed: &Fed,
    t_s: f64,
    y: &[f64],
    target_s: Option<f64>,
) -> BurnResult {
    let ledger = net.ledger(fed, y);
    let end = Snapshot {
        t_s,
        y: y.to_vec(),
        fuel_net_j: net.fuel_net_j(fed),
    };
    // Means run from lighting to the target, or to the end.
    let span = g
        .at_target
        .clone()
        .filter(|s| s.t_s > 0.0)
        .unwrap_or_else(|| end.clone());
    let whole = |q: Integral| net.layout.integral_value(y, q);
    let mean = |q: Integral| (span.t_s > 0.0).then(|| span.integral(net, q) / span.t_s);
    let ratio = |a: f64, b: f64| (b > 1e3).then(|| a / b);
    let left = net.wood_left(y);
    let fuel_net = end.fuel_net_j;
    let fuel_gross = fed.dry_kg * net.fuel.gross_j_kg + fed.starter_j;
    let left_gross = left.dry_kg * net.fuel.gross_j_kg + left.char_kg * crate::network::CHAR_J_KG;
    let heat = whole(Integral::HeatToStore);
    let burnt = whole(Integral::NetBurnt);
    let in_loop = net.circuit.is_some();
    // Only a loop's water has an outlet, a margin and a flow.
    let some = |v: f64| v.is_finite().then_some(v);
    let x = &g.extremes;
    let stack_above_air = whole(Integral::StackSensible) - whole(Integral::AirEnthalpy);
    let content = |y: &[f64]| match &net.bench {
        Some(b) if b.direct => net.bench_j(y) + net.vessel_j(y),
        _ => net.vessel_j(y),
    };
    let has_coil = in_loop && !rig.coils.is_empty();
    let gas_at_coil = has_coil && rig.coils.iter().any(|c| !c.in_drum());
    let of_drum = |q: DrumIntegral| net.drum.as_ref().map(|_| net.drum_integral(y, q));
    let has_deposit = net.ducts.iter().any(|d| d.bank.is_some());
    let [on_coils, on_walls] = {
        let (end, start) = (net.deposit_kg(y), net.deposit_kg(&fed.start));
        [end[0] - start[0], end[1] - start[1]]
    };
    let (stack_mean, chamber_mean) = (mean(Integral::StackT), mean(Integral::ChamberT));
    let [below_mean, above_mean] =
        [Integral::BelowT, Integral::AboveT].map(|q| mean(q).filter(|_| gas_at_coil));
    let meter = g.flue_meter.reading().filter(|_| burnt > 1e5);
    let [unburnt_ends, co_ends] = g.unburnt_band.factors();
    let unburnt = ratio(whole(Integral::Unburnt), burnt);
    let co = mean(Integral::CoTime).filter(|_| burnt > 1e5);
    let tank_peak = some(x.tank_peak_k).filter(|_| net.vessel.is_some());
    let damp = net.has_damp_walls();
    let dried = net.dried(y);
    let mut summary = Summary {
        title: rig.title.clone(),
        target_reached: target_s.is_some(),
        time_to_target_s: target_s,
        end_s: t_s,
        fuel_fed_kg: fed.moist_kg,
        fuel_burnt_kg: fed.moist_kg - left.dry_kg - left.water_kg,
        fuel_energy_J: fuel_net,
        fuel_energy_gross_J: fuel_gross,
        heat_to_tank_J: heat,
        efficiency_net: ratio(heat, fuel_net),
        efficiency_gross: ratio(heat, fuel_gross),
        efficiency_flat_20MJ_kg: ratio(heat, FLAT_J_KG * fed.moist_kg),
        efficiency_to_target_net: g
            .at_target
            .as_ref()
            .and_then(|s| ratio(s.integral(net, Integral::HeatToStore), s.fuel_net_j)),
        efficiency_net_char_credited: ratio(heat, fuel_net - left.net_j),
        efficiency_gross_char_credited: ratio(heat, fuel_gross - left_gross),
        mean_heat_to_tank_W: mean(Integral::HeatToStore).unwrap_or(0.0),
        stack_loss_fraction: ratio(stack_above_air, burnt),
        stack_latent_fraction: ratio(
            whole(Integral::StackLatent) - whole(Integral::CondensateLatent),
            burnt,
        ),
        stack_loss_short_formula_fraction: meter.map(|m| m.short),
        stack_loss_while_read_fraction: meter.map(|m| m.exact),
        meter_o2_dry_fraction: meter.map(|m| m.o2_dry),
        meter_co2_dry_fraction: meter.map(|m| m.co2_dry),
        meter_stack_temperature_K: meter.map(|m| m.stack_k),
        unburnt_fraction: unburnt,
        unburnt_fraction_low: unburnt.map(|v| v * unburnt_ends[0]),
        unburnt_fraction_high: unburnt.map(|v| (v * unburnt_ends[1]).min(1.0)),
        casing_loss_fraction: ratio(whole(Integral::Casing) + whole(Integral::Opening), burnt),
        heat_in_walls_J: ledger
            .stored
            .iter()
            .find(|l| l.key == "walls")
            .map_or(0.0, |l| l.energy_j),
        drying_heat_J: damp.then_some(dried.0),
        drying_fraction: ratio(dried.0, burnt).filter(|_| damp),
        dried_kg: damp.then_some(dried.1),
        wall_water_left_kg: damp.then(|| net.damp_kg(y)),
        wall_moisture: wall_moisture(net, &fed.start, y),
        stack_temperature_mean_K: stack_mean,
        chamber_shown_mean_K: g.shown.mean_k(0, chamber_mean),
        gas_below_coil_shown_mean_K: g.shown.mean_k(1, below_mean),
        gas_above_coil_shown_mean_K: g.shown.mean_k(2, above_mean),
        stack_shown_mean_K: g.shown.mean_k(3, stack_mean),
        gas_below_coil_mean_K: below_mean,
        gas_above_coil_mean_K: above_mean,
        chamber_mean_K: chamber_mean,
        chamber_max_K: x.chamber_max_k,
        coil_outlet_max_K: some(x.outlet_max_k),
        coil_wall_max_K: some(x.coil_wall_max_k),
        coil_critical_flux_share_max: some(x.critical_flux_share_max),
        coil_deposit_kg: has_deposit.then_some(on_coils),
        flue_deposit_kg: net
            .ducts
            .iter()
            .any(|d| d.wall_deposit.is_some())
            .then_some(on_walls),
        coil_fouling_grown_m2K_W: has_deposit.then(|| net.fouling_grown_m2k_w(y)),
        coil_wall_limit_K: rig
            .coils
            .iter()
            .map(|c| c.metal.limit_k)
            .reduce(f64::min)
            .filter(|limit_k| has_coil && limit_k.is_finite()),
        boiling_margin_min_K: some(x.margin_min_k),
        boiling_margin_min_s: some(x.margin_min_k).map(|_| x.margin_min_s),
        boiling_margin_min_at_m: some(x.margin_min_k).and(x.margin_at_m.map(|m| m.0)),
        wall_boiling_first_s: g.wall_boiling_first_s,
        boiling_first_s: g.boiling_first_s,
        boiling_total_s: g.boiling_total_s,
        steam_total_kg: whole(Integral::Steam),
        air_ratio_mean: ratio_small(
            span.integral(net, Integral::AirIn),
            span.integral(net, Integral::StoichAir),
        ),
        draught_max_Pa: x.draught_max_pa,
        loop_flow_mean_kg_s: mean(Integral::LoopFlow).filter(|_| in_loop),
        heat_to_header_J: net.header().map(|_| whole(Integral::HeatToHeader)),
        header_peak_K: net.header().map(|_| x.header_peak_k),
        bypass_flow_mean_kg_s: net.header().and(mean(Integral::BypassFlow)),
        heat_to_drum_J: of_drum(DrumIntegral::FromWalls),
        heat_drum_to_coil_J: of_drum(DrumIntegral::ToCoils),
        drum_peak_K: net.drum.as_ref().map(|_| x.drum_peak_k),
        drum_boils_first_s: x.drum_boils_s,
        drum_water_gone_kg: of_drum(DrumIntegral::WaterOut),
        drum_bare_first_s: x.drum_bare_s,
        pressure_peak_Pa: net.closed().map(|_| x.pressure_peak_pa),
        relief_first_s: g.relief_first_s,
        relief_lifts: net.closed().map(|_| g.relief_lifts),
        relief_open_s: net.closed().map(|_| g.relief_open_s),
        relief_water_kg: net.closed().map(|_| whole(Integral::ReliefWater)),
        relief_steam_kg: net.closed().map(|_| whole(Integral::ReliefSteam)),
        burst: g.burst,
        feeds: g.feeds,
        trips: g.trips,
        tank_peak_K: tank_peak,
        overshoot_K: tank_peak
            .filter(|_| target_s.is_some() && rig.target.probe == Probe::Mean)
            .map(|p| p - rig.target.temperature_k),
        flue_wall_below_393K_s: g.flue_cold_total_s,
        storage_content_rise_J: content(y) - content(&fed.start),
        condensate_kg: whole(Integral::Condensate),
        flue_wall_below_dew_s: x.dew_total_s,
        pump_energy_J: whole(Integral::PumpElectric),
        co_estimate_fraction: co,
        co_estimate_fraction_low: co.map(|v| v * co_ends[0]),
        co_estimate_fraction_high: co.map(|v| (v * co_ends[1]).min(1.0)),
        energy_residual_fraction: ledger.residual_fraction,
        solver: g.counters,
        warnings: Vec::new(),
    };
    summary.warnings = warnings(&g, rig, net, &summary, &ledger, y, t_s);
    let operating = g.working.typical().and_then(|m| operating_picture(net, m));
    BurnResult {
        summary,
        ledger,
        events: {
            let mut e = g.events;
            e.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
            e
        },
        series: g
            .series
            .map(|(_, s)| s)
            .or(g.tank_curve)
            .unwrap_or_default(),
        bands: None,
        operating,
        target_k: rig.target.temperature_k,
        rig: Some(super::drawing::rig_drawing(rig)),
        defaults: g.defaults,
    }
}

/// Water of each damp layer at lighting and at the end.
fn wall_moisture(net: &Network, start: &[f64], end: &[f64]) -> Vec<LayerMoisture> {
    let at_start = net.damp_layers(start).into_iter();
    at_start
        .zip(net.damp_layers(end))
        .map(|(a, b)| LayerMoisture {
            at_lighting_fraction: a.left_kg / a.layer.dry_kg,
            left_fraction: b.left_kg / b.layer.dry_kg,
            layer: a.layer.path,
        })
        .collect()
}

fn ratio_small(a: f64, b: f64) -> Option<f64> {
    (b > 1e-3).then(|| a / b)
}

fn warnings(
    g: &Gather,
    rig: &Rig,
    net: &Network,
    s: &Summary,
    ledger: &Ledger,
    y: &[f64],
    t_s: f64,
) -> Vec<Warning> {
    let mut list = Vec::new();
    let mut add = |code: &str, text: String, first_s: f64, worst: f64, unit: &str| {
        list.push(Warning {
            code: code.into(),
            text,
            first_s,
            worst,
            worst_unit: unit.into(),
            worst_s: None,
            place: None,
        });
    };
    let x = &g.extremes;
    if x.dew_total_s > DEW_S
        && let Some(first) = x.dew_first_s
    {
        add(
            "W0242",
            format!(
                "the flue's wall is below the gas's dew point for {:.0} min while the fire burns: water and tar run down it",
                x.dew_total_s / 60.0
            ),
            first,
            x.dew_most.0,
            "K",
        );
    }
    if let Some(first) = x.outlet_hot_s.filter(|_| x.scald_first_s.is_none()) {
        add(
            "W0241",
            "water leaves the coil above 60 °C: it scalds at once where hot pipe or hose leaks or ends".into(),
            first,
            x.outlet_max_k,
            "K",
        );
    }
    if let Some(t) = s.boiling_first_s {
        let unsteady = if g.boilings >= 60 {
            "; it flickers, and times after the first are qualitative"
        } else {
            ""
        };
        add(
            "W0201",
            format!(
                "water boils in the coil ({} times, {:.0} min in all){unsteady}",
                g.boilings,
                s.boiling_total_s / 60.0
            ),
            t,
            s.steam_total_kg,
            "kg",
        );
    }
    if let Some(t) = s.wall_boiling_first_s {
        add(
            "W0202",
            "boiling starts at the tube wall".into(),
            t,
            s.boiling_margin_min_K.unwrap_or(0.0),
            "K",
        );
    }
    if let Some(m) = s.boiling_margin_min_K
        && s.boiling_first_s.is_none()
        && m < 10.0
    {
        add(
            "W0203",
            "the hottest water comes within 10 K of boiling".into(),
            x.margin_min_s,
            m,
            "K",
        );
    }
    if let (Some(t), Some(w)) = (x.coil_wall_over_s, s.coil_wall_max_K) {
        add(
            "W0204",
            "the coil's metal goes over its limit".into(),
            t,
            w,
            "K",
        );
    }
    if let Some((over, limit, material, place, first)) = &x.wall_over {
        add(
            "W0205",
            format!("{material} in the {place} goes over its service limit"),
            *first,
            limit + over,
            "K",
        );
    }
    if let Some((first, total)) = g.spill {
        add(
            "W0206",
            "smoke can spill from the mouth: the draught fails for a time".into(),
            first,
            total,
            "s",
        );
    }
    // Only while a fire burns: the cold hours before and after say nothing about deposits.
    let fire_s = fire_duration_s(g, t_s);
    if fire_s > 0.0 && s.fuel_burnt_kg > 0.5 {
        let cold = s.flue_wall_below_393K_s.min(fire_s);
        if cold > 0.35 * fire_s && net.ducts.iter().any(|d| d.is_flue) {
            add(
                "W0207",
                "the flue's wall is below 120 °C for much of the burn: tar settles there".into(),
                0.0,
                cold,
                "s",
            );
        }
    }
    if let Some(t) = x.scald_first_s {
        let tub =
            matches!(&rig.water, Water::Store { vessel, .. } if vessel.kind == VesselKind::Tub);
        if !tub && x.tap_max_k > SCALD_K {
            add(
                "W0208",
                "water that scalds at the draw-off: mix it down".into(),
                t,
                x.tap_max_k,
                "K",
            );
        }
    }
    if let Water::Store { vessel, .. } = &rig.water {
        if vessel.kind == VesselKind::Tub && x.tank_peak_k > TUB_K {
            add(
                "W0209",
                "the tub gets hotter than 40 °C".into(),
                x.tap_max_s,
                x.tank_peak_k,
                "K",
            );
        }
        let end_k = net.tank_mean_k(y);
        if vessel.kind == VesselKind::Tank && (293.15..318.15).contains(&end_k) {
            add(
                "W0217",
                "the store ends lukewarm (20..45 °C)".into(),
                t_s,
                end_k,
                "K",
            );
        }
    }
    let fire_air = net.layout.integral_value(y, Integral::FireAir)
        / net.layout.integral_value(y, Integral::StoichAir).max(1e-6);
    if s.fuel_burnt_kg > 0.5 {
        let a = fire_air;
        if a < 1.3 {
            add("W0210", "the fire is starved of air".into(), 0.0, a, "");
        } else if a > 4.0 {
            add(
                "W0211",
                "far more air than the wood needs: the fire is blown through".into(),
                0.0,
                a,
                "",
            );
        }
    }
    if let Some((first, times, most)) = g.no_room {
        let (place, worst) = if most.firebox > most.mouth {
            ("firebox", most.firebox)
        } else {
            ("mouth", most.mouth)
        };
        add(
            "W0218",
            format!(
                "{times} of {} feeds do not go in on top of what still lies there: {worst:.1} times the wood that the {place} has room for",
                g.feeds
            ),
            first,
            worst,
            "",
        );
    }
    if let (Some(share), Some(kg), Some(left)) =
        (s.drying_fraction, s.dried_kg, s.wall_water_left_kg)
        && share > DRYING
    {
        add(
            "W0250",
            format!(
                "{:.0} % of the fuel's heat went into drying the masonry: {kg:.1} kg of water left it, {left:.1} kg are still in it; the next burns \
                 will be hotter. Heat new masonry gently: steam shut in can crack it",
                100.0 * share
            ),
            0.0,
            share,
            "",
        );
    }
    if s.condensate_kg > 0.05 {
        add(
            "W0212",
            "water of the flue gas condenses on coil or wet walls".into(),
            0.0,
            s.condensate_kg,
            "kg",
        );
    }
    if let Some(t) = x.header_boils_s {
        add(
            "W0231",
            "the header of the bypass boils".into(),
            t,
            x.header_peak_k,
            "K",
        );
    }
    if let (Some(t), Some(kg)) = (x.drum_boils_s, s.drum_water_gone_kg) {
        add(
            "W0233",
            format!("the drum around the coil boils: {kg:.1} kg of its water are gone at the end"),
            t,
            kg,
            "kg",
        );
    }
    if let Some(t) = x.drum_bare_s {
        add(
            "W0234",
            "the drum's water has sunk below walls that the fire heats".into(),
            t,
            x.drum_bare_most,
            "",
        );
    }
    if let (Some(t), Some(p)) = (s.relief_first_s, s.pressure_peak_Pa) {
        add(
            "W0232",
            format!(
                "the relief valve lifts {}, and lets out {:.1} kg of water and {:.2} kg of steam",
                match g.relief_lifts {
                    1 => "once".to_owned(),
                    n => format!("{n} times"),
                },
                s.relief_water_kg.unwrap_or(0.0),
                s.relief_steam_kg.unwrap_or(0.0)
            ),
            t,
            p,
            "Pa",
        );
    }
    if let Some(b) = &s.burst {
        add(
            "W0240",
            format!(
                "store or vessel bursts, and the run ends: up to {:.0} kg of water come out, {:.1} kg of it as steam at once",
                b.water_kg, b.steam_kg
            ),
            b.at_s,
            b.pressure_Pa,
            "Pa",
        );
    }
    let backwards = backward_share(g, "bypass_flow_kg_s");
    if backwards > 0.02 {
        add(
            "W0230",
            "the bypass runs backwards for a time: water passes the coil by".into(),
            0.0,
            backwards,
            "",
        );
    }
    if let Some(t) = x.tank_boils_s.or(x.steam_out_s) {
        add("W0213", "the vessel boils over".into(), t, x.tap_max_k, "K");
    }
    if ledger.residual_fraction > 1e-5 {
        add(
            "W0214",
            "the energy account does not close".into(),
            0.0,
            ledger.residual_fraction,
            "",
        );
    }
    if !s.target_reached && net.has_water() {
        add(
            "W0215",
            "the target was not reached".into(),
            t_s,
            x.tank_peak_k,
            "K",
        );
    }
    let backwards = backward_share(g, "loop_flow_kg_s");
    if backwards > 0.02 {
        add(
            "W0216",
            "the loop runs backwards for a time".into(),
            0.0,
            backwards,
            "",
        );
    }
    for w in &mut list {
        let (worst_s, place) = worst_of(&w.code, x);
        (w.worst_s, w.place) = (worst_s.filter(|t| *t > w.first_s + 1.0), place);
    }
    list
}

/// When and where a warning's figure was worst.
fn worst_of(code: &str, x: &Extremes) -> (Option<f64>, Option<String>) {
    let along = x.margin_at_m.map(|(at, of)| {
        format!("{at:.1} m along the {of:.1} m of coil, from where the water enters")
    });
    match code {
        "W0202" | "W0203" => (Some(x.margin_min_s), along),
        "W0201" => (None, along),
        "W0204" => (Some(x.coil_wall_max_s), None),
        "W0205" => (Some(x.wall_over_s), None),
        "W0208" | "W0209" => (Some(x.tap_max_s), None),
        "W0241" => (Some(x.outlet_max_s), None),
        "W0242" => (Some(x.dew_most.1), Some("coldest place of the flue".into())),
        _ => (None, None),
    }
}

/// Time from lighting until the firing rate has finally fallen below 500 W.
fn fire_duration_s(g: &Gather, t_s: f64) -> f64 {
    let Some((_, s)) = &g.series else { return t_s };
    match (s.get("time_s"), s.get("firing_rate_W")) {
        (Some(t), Some(q)) => q.iter().rposition(|&q| q > 500.0).map_or(0.0, |i| t[i]),
        _ => t_s,
    }
}

/// Share of the samples in which a flow runs backwards.
fn backward_share(g: &Gather, column: &str) -> f64 {
    let Some((_, s)) = &g.series else { return 0.0 };
    s.get(column).map_or(0.0, |f| {
        f.iter().filter(|&&w| w < -1e-3).count() as f64 / f.len().max(1) as f64
    })
}

fn operating_picture(net: &Network, typical: &Moment) -> Option<OperatingPicture> {
    let Moment {
        t_s: t, y, pump, ..
    } = typical;
    let c = net.circuit.as_ref()?;
    let mut net = net.clone();
    net.mode.pump = *pump;
    let now = net.flow_kg_s(y);
    let most = match (&c.drive, pump) {
        (Drive::Pump(p), Some(i)) => p.settings.get(*i)?.curve.last()?.0 * 1000.0,
        _ => 2.5 * now.abs().max(0.01),
    };
    let flows: Vec<f64> = (0..=60).map(|i| most * f64::from(i) / 60.0).collect();
    // Below a fifth of the working flow the water would boil in the picture's steady sense: shown from there on.
    let from = if matches!(c.drive, Drive::Thermosyphon) {
        0.2 * now.abs()
    } else {
        0.0
    };
    let curves = net.loop_curves(*t, y, &flows);
    let keep = |v: &(f64, f64, f64)| v.0 >= from;
    let driving_label = match (&c.drive, pump) {
        (Drive::Pump(p), Some(i)) => format!("pump, setting {}", p.settings.get(*i)?.name),
        (Drive::Mains { .. }, _) => "supply pressure".into(),
        _ => "buoyancy".into(),
    };
    let at = net.loop_curves(*t, y, &[now.abs()]);
    Some(OperatingPicture {
        driving_label,
        driving: curves
            .iter()
            .filter(|v| keep(v))
            .map(|v| (v.0, v.1.max(0.0)))
            .collect(),
        system_label: "coil, pipes and fittings".into(),
        system: curves
            .iter()
            .filter(|v| keep(v))
            .map(|v| (v.0, v.2))
            .collect(),
        point: at.first().map(|v| (v.0, v.2))?,
    })
}
