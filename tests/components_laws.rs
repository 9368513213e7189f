//! Vessel and closed loop on their own, each law written out by hand.

mod support {
    pub mod parts;
}

use emberloop::components::closed::ClosedLoop;
use emberloop::components::spec::{Closed, OpenSurface, Vessel, VesselKind};
use emberloop::components::vessel::{PortFlow, SurfaceAir, VesselModel};
use emberloop::properties::water::Water;
use std::f64::consts::PI;
use support::parts::still_air;

fn close(what: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{what}: got {got}, want {want}"
    );
}

fn tub_spec(surface: Option<OpenSurface>, layers: usize) -> Vessel {
    Vessel {
        kind: VesselKind::Tub,
        water_m3: 1.2,
        water_depth_m: 0.8,
        floor_z_m: 0.3,
        layers,
        start_temperature_k: 293.15,
        loss_w_k: 20.0,
        shell_heat_capacity_j_k: 60_000.0,
        hot_port_m: 0.7,
        cold_port_m: 0.1,
        draw_port_m: 0.4,
        surface,
        closed: None,
    }
}

fn tub(surface: Option<OpenSurface>, layers: usize) -> VesselModel {
    let v = tub_spec(surface, layers);
    VesselModel::new(&v, Water::shared(), 101_325.0, layers, 1.1, 1.0)
}

fn rates(
    m: &VesselModel,
    t_k: &[f64],
    ports: &[PortFlow],
    air: &SurfaceAir,
) -> (Vec<f64>, [f64; 5]) {
    let mut q = vec![0.0; m.layers];
    let l = m.rates(Water::shared(), t_k, m.layer_kg, ports, air, &mut q);
    let losses = [
        l.walls_w,
        l.surface_w,
        l.evaporation_w,
        l.vented_w,
        l.water_out_kg_s,
    ];
    (q, losses)
}

/// A tub of 1.2 m3 and 0.8 m depth: 1.5 m2 of water, a round wall of √(4π 1.5) 0.8 = 3.473 m2, floor and lid 1.5 m2 each; 20 W/K (times 1.1) over
/// these areas; the layers share the wall alike.
#[test]
fn analytic_a_vessel_loses_through_wall_floor_and_lid() {
    let m = tub(None, 4);
    let (side, ends) = ((4.0 * PI * 1.5).sqrt() * 0.8, 1.5);
    let total = side + 2.0 * ends;
    let t = [310.0, 320.0, 330.0, 340.0];
    for (i, g) in m.layer_loss_w_k.iter().enumerate() {
        let area = side / 4.0 + if i == 0 || i == 3 { ends } else { 0.0 };
        close("layer", *g, 22.0 * area / total, 1e-12);
    }
    close("one layer", tub(None, 1).layer_loss_w_k[0], 22.0, 1e-12);
    let (_, l) = rates(&m, &t, &[], &still_air());
    let by_hand: f64 = (0..4).map(|i| m.layer_loss_w_k[i] * (t[i] - 293.15)).sum();
    close("walls", l[0], by_hand, 1e-12);
    assert_eq!(l[1..], [0.0; 4]);
    // Heights above the datum, and shares of the shell.
    close("surface", m.surface_z_m, 1.1, 1e-12);
    close("hot port", m.hot_port_z_m, 1.0, 1e-12);
    close("cold port", m.cold_port_z_m, 0.4, 1e-12);
    close("shell", m.layer_shell_j_k, 15_000.0, 1e-12);
    close("mass", 4.0 * m.layer_kg, 1.2 * 998.2, 1e-4);
    close(
        "scale",
        m.scale_j_k(),
        m.layer_kg * 4186.0 + 15_000.0,
        1e-12,
    );
    for (z, layer) in [(-0.1, 0), (0.1, 0), (0.21, 1), (0.79, 3), (2.0, 3)] {
        assert_eq!(m.layer_at(z), layer, "{z}");
    }
    // Enthalpy of water and shell there and back (steam tables: 209.3 kJ/kg at 50, 104.8 at 25 °C).
    let w = Water::shared();
    let h = m.layer_enthalpy_j(w, 323.15, m.layer_kg);
    close("enthalpy", h, m.layer_kg * 104.55e3 + 15_000.0 * 25.0, 1e-3);
    for t_k in [275.0, 300.0, 323.15, 372.0] {
        let h = m.layer_enthalpy_j(w, t_k, m.layer_kg);
        assert!((m.layer_temperature_k(w, h, m.layer_kg) - t_k).abs() < 1e-3);
    }
    // A shell of stone that holds as much heat as its water.
    let mut heavy = tub(None, 4);
    heavy.layer_shell_j_k = heavy.layer_kg * 4186.0;
    for t_k in [275.0, 300.0, 323.15, 372.0] {
        let h = heavy.layer_enthalpy_j(w, t_k, heavy.layer_kg);
        let back = heavy.layer_temperature_k(w, h, heavy.layer_kg);
        assert!((back - t_k).abs() < 1e-3, "{t_k}: {back}");
    }
}

/// Between layers: 1 W/mK of water and walls where it is stable; a warmer layer below mixes within 3 s (common practice, no source), rounded over
/// 0.2 K. What one layer loses the next one gains.
#[test]
fn analytic_layers_conduct_or_mix() {
    let mut m = tub(None, 2);
    m.layer_loss_w_k = vec![0.0; 2];
    let (q, _) = rates(&m, &[300.0, 310.0], &[], &still_air());
    close("conducts", q[0], 1.0 * 1.5 / 0.4 * 10.0, 1e-12);
    close("conserves", q[1], -q[0], 1e-12);
    let (q, _) = rates(&m, &[301.0, 300.0], &[], &still_air());
    let plume = m.layer_kg * 4186.0 / 3.0 / 1.2;
    close("mixes", q[1], plume + 3.75, 1e-12);
    close("conserves", q[1], -q[0], 1e-12);
    // Far over the rounding by the whole difference, within it by its square.
    for (over, mixes) in [(20.0, 20.0 / 1.01), (0.05, 0.05 / 5.0)] {
        let (q, _) = rates(&m, &[300.0 + over, 300.0], &[], &still_air());
        let plume = m.layer_kg * 4186.0 / 3.0 * mixes;
        close("mixes", q[1], plume + 3.75 * over, 1e-9);
    }
    let stirred = VesselModel::new(&tub_spec(None, 2), Water::shared(), 101_325.0, 2, 1.1, 2.5);
    close("stirred", stirred.mixing_w_k, 2.5 * m.mixing_w_k, 1e-12);
    // In flat layers of half the height the path is half as long.
    close("thin layers", tub(None, 4).stable_w_k, 1.5 / 0.2, 1e-12);
}

/// Flow let in at one height and out at another: each layer passes on what comes, with the enthalpy of the layer it leaves; energy and mass close. A port
/// between the middles of two layers shares by its height (0.4 m of four layers of 0.2 m: half and half; 0.7 m: the top one; 0.34 m: 0.8 and 0.2).
#[test]
fn identity_ports_share_and_the_vessel_keeps_energy() {
    let m = tub(None, 4);
    let w = Water::shared();
    let h = |i: usize| 1000.0 * (i as f64 + 1.0);
    let out = m.draw_port.out(2.0, h);
    assert_eq!((out[0].layer, out[1].layer), (1, 2));
    close("half", out[0].mdot_kg_s, -1.0, 1e-9);
    close("half", out[1].enthalpy_w, -3000.0, 1e-9);
    close("mix", m.draw_port.mix(h), 2500.0, 1e-9);
    close("cold", m.cold_port.mix(h), 1000.0, 1e-9);
    close("hot", m.hot_port.mix(h), 4000.0, 1e-9);
    let into = m.draw_port.into_layers(2.0, 600.0);
    close("in", into[0].enthalpy_w, 300.0, 1e-9);
    close("in", into[1].mdot_kg_s, 1.0, 1e-9);
    let uneven = VesselModel::new(
        &Vessel {
            kind: VesselKind::Tank,
            water_m3: 0.2,
            water_depth_m: 0.8,
            floor_z_m: 0.0,
            layers: 4,
            start_temperature_k: 293.15,
            loss_w_k: 0.0,
            shell_heat_capacity_j_k: 0.0,
            hot_port_m: 0.34,
            cold_port_m: 0.0,
            draw_port_m: 0.8,
            surface: None,
            closed: None,
        },
        w,
        101_325.0,
        4,
        1.0,
        1.0,
    );
    // Middles of the layers at 0.1, 0.3, 0.5, 0.7: 0.34 lies a fifth of the way from the second to the third.
    close("a fifth", uneven.hot_port.mix(h), 2200.0, 1e-9);
    let out = uneven.hot_port.out(1.0, h);
    close("four fifths", out[0].enthalpy_w, -0.8 * 2000.0, 1e-9);
    close("a fifth", out[1].enthalpy_w, -0.2 * 3000.0, 1e-9);

    // Hot in at the third layer, cold out of the first: the flow goes down through the second.
    let t = [300.0, 301.0, 330.0, 340.0];
    let (flow, h_in) = (0.3, w.h_j_kg(350.0));
    let ports = [
        PortFlow {
            layer: 2,
            mdot_kg_s: flow,
            enthalpy_w: flow * h_in,
        },
        PortFlow {
            layer: 0,
            mdot_kg_s: -flow,
            enthalpy_w: -flow * w.h_j_kg(t[0]),
        },
    ];
    let (with, l) = rates(&m, &t, &ports, &still_air());
    let (without, _) = rates(&m, &t, &[], &still_air());
    let moved: Vec<f64> = (0..4).map(|i| with[i] - without[i]).collect();
    close(
        "first",
        moved[0],
        flow * (w.h_j_kg(t[1]) - w.h_j_kg(t[0])),
        1e-9,
    );
    close(
        "second",
        moved[1],
        flow * (w.h_j_kg(t[2]) - w.h_j_kg(t[1])),
        1e-9,
    );
    close("third", moved[2], flow * (h_in - w.h_j_kg(t[2])), 1e-9);
    assert!(moved[3].abs() < 1e-6);
    let net = ports.iter().map(|p| p.enthalpy_w).sum::<f64>() - l[0];
    close("all", with.iter().sum(), net, 1e-9);
    // More in than out: all layers grow alike, the rest rises or sinks; upwards it takes the lower layer's enthalpy.
    let fill = [PortFlow {
        layer: 0,
        mdot_kg_s: 0.4,
        enthalpy_w: 0.0,
    }];
    let (with, _) = rates(&m, &t, &fill, &still_air());
    for (i, up_in, up_out) in [(0, 0.0, 0.3), (1, 0.3, 0.2), (2, 0.2, 0.1), (3, 0.1, 0.0)] {
        let below = if i > 0 { w.h_j_kg(t[i - 1]) } else { 0.0 };
        let want = up_in * below - up_out * w.h_j_kg(t[i]);
        let got = with[i] - without[i];
        assert!(
            (got - want).abs() < 1e-6 * want.abs().max(1.0),
            "{i}: {got} {want}"
        );
    }
}

/// Open water of 1.5 m2 at 40 °C in still air of 20 °C and 1000 Pa, sky of emissivity 0.8: evaporation after the ASHRAE Handbook (natatoriums)
/// 0.089 (7384 - 1000)/2.406e6 = 0.236 g/m2s, carrying vapour at 2574 - 105 kJ/kg above liquid at 25 °C (steam tables); convection 2.8 + 3.0 v
/// W/m2K; radiation 0.95 σ (T⁴ - 0.8 T_air⁴). A cover leaves a share of these and conducts.
#[test]
fn published_open_water_loses_by_evaporation_convection_and_sky() {
    let surface = OpenSurface {
        area_m2: 1.5,
        cover_leak: 0.1,
        cover_w_m2k: 2.0,
        cloud_cover: 0.0,
        wind_share: 0.5,
    };
    let m = tub(Some(surface), 2);
    let t = [310.0, 313.15];
    let (p_w, h_fg, h_g) = (7384.4, 2.4060e6, 2574.3e3 - 104.83e3);
    for (wind, multiplier) in [(0.0, 1.0), (3.0, 0.6)] {
        let air = SurfaceAir {
            wind_m_s: wind,
            evaporation: multiplier,
            ..still_air()
        };
        let v = 0.5 * wind;
        let kg_s = multiplier * 1.5 * (0.089 + 0.0782 * v) * (p_w - 1000.0) / h_fg;
        let dry_w_m2 = (2.8 + 3.0 * v) * 20.0
            + 0.95 * 5.670_374e-8 * (313.15f64.powi(4) - 0.8 * 293.15f64.powi(4));
        let (q, l) = rates(&m, &t, &[], &air);
        close("water", l[4], kg_s, 2e-3);
        close("evaporation", l[2], kg_s * h_g, 2e-3);
        close("surface", l[1], 1.5 * dry_w_m2, 1e-6);
        close("all", q.iter().sum(), -l[0] - l[1] - l[2], 1e-9);
        let closed = rates(
            &m,
            &t,
            &[],
            &SurfaceAir {
                cover_on: true,
                ..air
            },
        );
        close("under cover", closed.1[2], 0.1 * l[2], 1e-9);
        close("cover", closed.1[1], 0.1 * l[1] + 2.0 * 1.5 * 20.0, 1e-9);
        close(
            "all",
            closed.0.iter().sum(),
            -closed.1[..3].iter().sum::<f64>(),
            1e-9,
        );
        // The top layer pays, apart from what moves between the layers as the level sinks by the same in both.
        let dry = rates(&tub(None, 2), &t, &[], &air).0;
        let sinks = 0.5 * l[4] * Water::shared().h_j_kg(t[0]);
        close("lower", q[0] - dry[0], -sinks, 1e-6);
    }
    // Damp air over cold water: nothing condenses.
    let damp = SurfaceAir {
        vapour_pa: 9e3,
        ..still_air()
    };
    assert_eq!(rates(&m, &t, &[], &damp).1[2], 0.0);
}

/// Boiling over: heat over saturation leaves within 20 s (common practice, no source) as steam of 2676 kJ/kg (419 kJ/kg liquid and 2257 kJ/kg latent,
/// steam tables at 1 atm; less 105 kJ/kg at 25 °C).
#[test]
fn published_water_over_saturation_leaves_as_steam() {
    let m = tub(None, 2);
    let t_sat = m.sat.t_k;
    close("boils", t_sat, 373.124, 1e-5);
    let (q, l) = rates(&m, &[t_sat - 5.0, t_sat + 2.0], &[], &still_air());
    let kg_s = 2.0 * (m.layer_kg * 4186.0 + 30_000.0) / (20.0 * 2.2565e6);
    close("steam", l[4], kg_s, 1e-3);
    close("heat", l[3], kg_s * (2675.6e3 - 104.83e3), 1e-3);
    close("all", q.iter().sum(), -l[0] - l[3], 1e-9);
    // Where the lower layer boils, water sinks into it: both layers keep equal masses, so half of what has left comes from above.
    let w = Water::shared();
    let t = [t_sat + 2.0, t_sat + 2.0];
    let (q, l) = rates(&m, &t, &[], &still_air());
    let cool = [t_sat + 2.0, t_sat - 1e-9];
    let (below, lost) = rates(&m, &cool, &[], &still_air());
    close("half the steam", 2.0 * lost[4], l[4], 1e-6);
    let sinks = 0.5 * lost[4] * w.h_j_kg(t_sat);
    let mixes = m.mixing_w_k * 4.0 / 2.2 + 2.0 * m.stable_w_k;
    let walls = m.layer_loss_w_k[0] * (t[0] - 293.15);
    close("lower", below[0], sinks - mixes - walls - lost[3], 1e-6);
    close("both", q[0], -l[3] / 2.0 - walls, 1e-6);
}

/// A port at the very top, or over the water, belongs to the top layer, whatever its number; what comes in there stays in the vessel.
#[test]
fn identity_a_port_at_the_top_feeds_the_top_layer() {
    for (layers, top_m) in [(1, 0.8), (2, 0.8), (7, 0.9), (40, 2.0)] {
        let spec = Vessel {
            hot_port_m: top_m,
            cold_port_m: 0.8 * (1.0 - 0.5 / layers as f64),
            ..tub_spec(None, layers)
        };
        let m = VesselModel::new(&spec, Water::shared(), 101_325.0, layers, 0.0, 1.0);
        let t = vec![300.0; layers];
        for port in [&m.hot_port, &m.cold_port] {
            assert!(port.up < layers && port.low == layers - 1, "{port:?}");
            let came = port.into_layers(0.2, 5e3);
            let left = port.out(0.2, |_| 25e3);
            let (q, _) = rates(&m, &t, &[came, left].concat(), &still_air());
            assert!(q[..layers - 1].iter().all(|q| q.abs() < 1e-6), "{q:?}");
            assert!((q[layers - 1]).abs() < 1e-6, "{q:?}");
        }
    }
}

fn closed() -> Closed {
    Closed {
        fill_pa: 1.5e5,
        vessel_m3: 0.025,
        precharge_pa: 1.0e5,
        relief_pa: 3.0e5,
        reseat_pa: 2.7e5,
        relief_bore_m: 0.012,
        relief_discharge: 0.5,
        burst_pa: 6.0e5,
    }
}

/// EN 12828 annex D (from memory): a vessel of V takes up V (p_end - p_start)/p_end, absolute pressures, between fill and end pressure of its gas. 25 litres,
/// precharged to 1.0, filled at 1.5, end 3.0 bar over 1.013: gas 25 · 2.013/2.513 = 20.03 l at filling, (1 - 2.513/4.013) of it to the end: 7.49 l.
#[test]
fn published_expansion_vessel_takes_up_its_acceptance_volume() {
    let w = Water::shared();
    let c = closed();
    let air = 101_325.0;
    let l = ClosedLoop::new(&c, w, 300.0, 0.0, air);
    close("cold", l.cold_m3, 300.0 / 999.7, 1e-3);
    close("gas", l.gas_m3, 0.025 * 2.01325 / 2.51325, 1e-9);
    close("fill", l.pressure_pa(l.cold_m3), 2.51325e5, 1e-9);
    let takes = l.gas_m3 * (1.0 - 2.51325 / 4.01325);
    close("takes", takes, 7.49e-3, 1e-3);
    // Water and tubes give way too: 300 l · 4.5e-10 1/Pa · 1.5 bar = 20 ml.
    let give = l.cold_m3 * 4.45e-10 * 1.5e5;
    close(
        "end",
        l.pressure_pa(l.cold_m3 + takes + give),
        4.01325e5,
        2e-4,
    );
    close("relief", l.relief_pa, 4.01325e5, 1e-9);
    close("reseat", l.reseat_pa, 3.71325e5, 1e-9);
    close("burst", l.burst_pa, 7.01325e5, 1e-9);
    close("most", l.most_pa(), 1.2 * 7.01325e5, 1e-9);
    // Over a limit by the same sign, nothing at it, linear in the volume.
    let at_limit = l.excess_pa(l.cold_m3 + takes + give, l.relief_pa);
    assert!(at_limit.abs() < 100.0, "{at_limit}");
    let (below, above) = (
        l.excess_pa(l.cold_m3 + takes - 1e-3, l.relief_pa),
        l.excess_pa(l.cold_m3 + takes + 1e-3, l.relief_pa),
    );
    close("slope", above - below, 4.01325e5 * 2e-3 / l.gas_m3, 1e-9);
    // Stretch of the walls adds to the water's.
    let soft = ClosedLoop::new(&c, w, 300.0, 1e-10, air);
    close(
        "give",
        soft.give_m3_pa - l.give_m3_pa,
        soft.cold_m3 * 1e-10,
        1e-9,
    );
    // Without gas: the stiff rise of trapped water, dp = dV/E.
    let none = ClosedLoop::new(
        &Closed {
            vessel_m3: 1e-12,
            ..c
        },
        w,
        300.0,
        1e-10,
        air,
    );
    let p = none.pressure_pa(none.cold_m3 * (1.0 + 1e-4));
    close("trapped", p - none.fill_pa, 1e-4 / (4.45e-10 + 1e-10), 5e-3);
    // Colder water than at filling: the gas spreads.
    let p = l.pressure_pa(l.cold_m3 - 1e-3);
    close("colder", p, 2.51325e5 * l.gas_m3 / (l.gas_m3 + 1e-3), 1e-3);
}

/// Relief valve of 12 mm, K_dr 0.5, at 3 bar over the air's: cold water A K √(2 ρ Δp) = 0.69 kg/s; steam of 4 bar abs after EN ISO 4126-1 about 0.2883 C A K √(p/v)
/// with C 2.50 (k = 1.135), v = 0.4606 m3/kg (steam tables): 120 kg/h. Between 2 K under boiling and boiling the one turns into the other.
#[test]
fn published_relief_valve_blows_water_or_steam() {
    let w = Water::shared();
    let l = ClosedLoop::new(&closed(), w, 300.0, 0.0, 101_325.0);
    let area = PI / 4.0 * 0.012 * 0.012;
    let p = 401_325.0;
    let cold = l.blown_off(w, p, 333.15, 340.0);
    close(
        "water",
        cold.water_kg_s,
        area * 0.5 * (2.0 * 983.2 * 3e5f64).sqrt(),
        1e-3,
    );
    assert_eq!(cold.steam_kg_s, 0.0);
    let hot = l.blown_off(w, p, 410.0, 420.0);
    let kg_h = 0.2883 * 2.50 * area * 1e6 * 0.5 * (4.01325 / 0.4611f64).sqrt();
    close("steam", hot.steam_kg_s * 3600.0, kg_h, 0.01);
    assert_eq!(hot.water_kg_s, 0.0);
    close("saturation", hot.sat_k, 416.88, 1e-4);
    let half = l.blown_off(w, p, 410.0, hot.sat_k - 1.0);
    close("half", half.steam_kg_s, 0.5 * hot.steam_kg_s, 1e-6);
    let full = l.blown_off(w, p, 410.0, 330.0).water_kg_s;
    close("half", half.water_kg_s, 0.5 * full, 1e-6);
    assert!((half.boils(half.sat_k - 1.0) - 0.5).abs() < 1e-9);
    assert_eq!(
        (half.boils(half.sat_k - 2.1), half.boils(half.sat_k + 0.1)),
        (0.0, 1.0)
    );
}
