//! What a thermosyphon can carry: the rise that a prescribed heat gives in a loop of plain tube, by bore and power.

mod support {
    pub mod rigs;
    pub mod variants;
}

use emberloop::components::spec::*;
use emberloop::integrate::{NoCrossings, OdeSystem, Tolerances, integrate_segment};
use emberloop::network::{Instant, Network};
use support::variants;

/// A network with heat put into its coil cells instead of the fire's.
struct Heated {
    net: Network,
    /// Heat per kilogram of coil water: even along the tube.
    w_kg: f64,
}

impl OdeSystem for Heated {
    fn len(&self) -> usize {
        self.net.len()
    }
    fn state_name(&self, i: usize) -> String {
        self.net.state_name(i)
    }
    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        self.net.rhs(t_s, y, dy);
        for (i, t) in self.net.tubes.iter().enumerate() {
            if t.inventory.is_some() {
                dy[self.net.layout.tubes + i] += self.w_kg * t.water_kg / (t.scale_j_k() * 100.0);
            }
        }
    }
}

/// 12 m of straight tube, 8 velocity heads, a store so large that it stays at 30 degC, with its hot port 0.6 m over the
/// floor and its cold port at the floor; the coil's lower end at 1.40 m.
fn rig(bore_m: f64, floor_z_m: f64, coil_rise_m: f64) -> Rig {
    let mut r = variants::at_rest(variants::tub(), 303.15);
    r.site.altitude_m = 0.0;
    r.site.wind_m_s = 0.0;
    // Nothing but the prescribed heat reaches the tube.
    r.closures.coil_radiation = 0.0;
    r.closures.bank_exposure = 0.0;
    r.closures.emissivity = 0.0;
    r.gas_path[1].bore = Bore::Rect {
        width_m: 60.0,
        depth_m: 0.4,
    };
    let c = &mut r.coils[0];
    c.tube_inside_m = bore_m;
    c.tube_outside_m = bore_m + 0.002;
    c.length_m = 6.0;
    c.form = CoilForm::Serpentine { pitch_m: 0.08 };
    c.core_plug_share = 0.0;
    c.bottom_z_m = 1.40;
    c.top_z_m = 1.40 + coil_rise_m;
    let pipe = Pipe {
        length_m: 3.0,
        inside_m: bore_m,
        wall_heat_capacity_j_mk: 300.0,
        loss_w_mk: 0.0,
        loss_k: 4.0 - 0.5 * 1.5 * 6.0 / 60.0,
        roughness_m: 0.0,
    };
    let l = variants::circuit(&mut r);
    l.supply = pipe.clone();
    l.ret = pipe;
    let v = variants::vessel(&mut r);
    v.kind = VesselKind::Tank;
    v.surface = None;
    v.water_m3 = 1e3;
    v.water_depth_m = 0.65;
    v.floor_z_m = floor_z_m;
    v.layers = 1;
    v.start_temperature_k = 303.15;
    v.loss_w_k = 0.0;
    v.hot_port_m = 0.6;
    v.cold_port_m = 0.0;
    r
}

/// Runs a loop with `heat_w` and shows every `every_s` seconds, until `end_s` or until `look` has seen enough.
fn heat(
    rig: &Rig,
    heat_w: f64,
    every_s: f64,
    end_s: f64,
    mut look: impl FnMut(f64, &Instant) -> bool,
) {
    let net = Network::new(rig).expect("assembles");
    let coil = net.tubes.iter().filter(|t| t.inventory.is_some());
    let kg: f64 = coil.map(|t| t.water_kg).sum();
    let mut y = net.initial_state();
    let heated = Heated {
        net,
        w_kg: heat_w / kg,
    };
    let tol = Tolerances::default();
    let mut t = 0.0;
    while t < end_s {
        y = integrate_segment(&heated, &NoCrossings, t, t + every_s, &y, 0.0, &tol)
            .expect("integrates")
            .y;
        t += every_s;
        if !look(t, &heated.net.observe(t, &y)) {
            return;
        }
    }
}

/// Rise over the coil against the table of a simple reckoning for beginners: 12 m of straight tube with 8 velocity heads,
/// 0.6 m of hot column, bottom of the store at 30 degC (common practice, no source: one momentum balance with
/// handbook friction). "Boils" means there that the outlet would come over some 95 degC.
#[test]
fn practice_the_capacity_of_a_thermosyphon_by_bore_and_power() {
    let powers = [1e3, 3e3, 6e3, 12e3, 20e3];
    let table = [
        (0.0138, [Some(30.0), Some(57.0), None, None, None]),
        (0.0199, [Some(17.0), Some(34.0), Some(50.0), None, None]),
        (
            0.026,
            [Some(11.0), Some(23.0), Some(34.0), Some(51.0), None],
        ),
        (
            0.038,
            [Some(6.0), Some(13.0), Some(20.0), Some(30.0), Some(40.0)],
        ),
        (
            0.051,
            [Some(4.0), Some(8.0), Some(13.0), Some(19.0), Some(27.0)],
        ),
    ];
    for (bore, row) in table {
        for (q, expected) in powers.into_iter().zip(row) {
            let mut steam = 0.0f64;
            let (mut rise, mut most) = (0.0, 0.0f64);
            // A loop that comes to boiling swings: it is looked at often, once it is under way.
            let every_s = if expected.is_some() { 500.0 } else { 100.0 };
            heat(&rig(bore, 1.40, 0.0), q, every_s, 6000.0, |t, i| {
                steam = steam.max(i.steam_kg_s);
                rise = i.coil_out_k - i.coil_in_k;
                if t > 3000.0 {
                    most = most.max(rise);
                }
                true
            });
            println!(
                "{:.1} mm {q:>5} W: {rise:.1} K, table {expected:?}, steam {steam:.1e} kg/s",
                1e3 * bore
            );
            match expected {
                Some(k) => {
                    assert!(
                        (rise / k - 1.0).abs() < 0.15,
                        "{bore} m, {q} W: {rise} K, not {k}"
                    );
                    assert_eq!(steam, 0.0);
                }
                None => assert!(most > 65.0, "{bore} m, {q} W: {most} K"),
            }
        }
    }
}

/// A store under the coil: the hot column of the supply pipe works against the coil's. What flows before boiling is only
/// the water that the coil's own height (none, or a coil of 0.24 m) pushes into the pipe until both columns balance: up
/// to a quarter of the raised loop's flow for a minute, and next to nothing by the time the coil boils.
#[test]
fn practice_a_store_below_the_coil_gives_next_to_no_flow_and_the_coil_boils() {
    for (heat_w, coil_rise_m) in [(3e3, 0.0), (3e3, 0.24), (12e3, 0.24)] {
        let mut raised = 0.0f64;
        heat(
            &rig(0.026, 1.40, coil_rise_m),
            heat_w,
            500.0,
            3000.0,
            |_, i| {
                raised = i.flow_kg_s;
                true
            },
        );
        let (mut most, mut last) = (0.0f64, 0.0);
        let mut boils = None;
        heat(
            &rig(0.026, -0.4, coil_rise_m),
            heat_w,
            10.0,
            2000.0,
            |t, i| {
                if i.steam_kg_s > 0.0 {
                    boils = Some(t);
                } else {
                    most = most.max(i.flow_kg_s.abs());
                    last = i.flow_kg_s.abs();
                }
                boils.is_none()
            },
        );
        println!(
            "{heat_w} W, coil {coil_rise_m} m: at most {most:.5}, at last {last:.5} of {raised:.4} kg/s until {boils:?} s"
        );
        assert!(boils.is_some());
        assert!(last < 0.05 * raised, "{last} of {raised} kg/s");
    }
}
