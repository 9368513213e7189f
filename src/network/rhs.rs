//! The right-hand side: bed → chamber → gas path → draught, then water, vessel and the ledger integrals.

use super::layout::*;
use super::observe::Instant;
use super::{Network, Scratch};
use crate::components::immersed::{Beside, Immersed};
use crate::components::jacket::Jacket;
use crate::components::tube;
use crate::integrate::OdeSystem;

/// Tolerance of the air's flow against the others'. It follows its balance within an inertia of a few seconds that is inflated
/// anyway, so that an error is gone by the next step; with 3 the store was as near a tight run as with 1, in a twentieth fewer
/// right-hand sides.
const QUASI_STEADY_AIR: f64 = 3.0;

impl OdeSystem for Network {
    fn len(&self) -> usize {
        self.layout.len()
    }

    fn state_name(&self, i: usize) -> String {
        self.layout.names[i].clone()
    }

    fn atol_factor(&self, i: usize) -> f64 {
        let l = &self.layout;
        if i == l.flame {
            // It keeps no heat: an error only shifts the temperature about which slopes are taken.
            100.0
        } else if i == l.air {
            QUASI_STEADY_AIR
        } else if i == l.integral(Integral::CoTime) {
            // A few times a thousandth part over a burn; in the first seconds, when the match smokes, it alone would set the steps.
            10.0
        } else {
            self.rtol_factor(i)
        }
    }

    fn rtol_factor(&self, i: usize) -> f64 {
        let l = &self.layout;
        // The store is what a run is for, and it forgets nothing; nor does the char, which decides when the fire is out.
        if (l.layers..l.layers + l.layer_count).contains(&i) || i == l.char_kg {
            0.1
        } else if !self.moves_by_itself()
            && ((l.tubes..l.tubes + l.tube_cells).contains(&i)
                || (l.tube_walls..l.tube_walls + l.wall_cells).contains(&i))
        {
            // Water on its way has forgotten an error within a minute; where no pump or mains drives it, its
            // temperatures decide the flow.
            3.0
        } else if i == l.air {
            QUASI_STEADY_AIR
        } else {
            1.0
        }
    }

    /// Water of a driven loop that changes places while metal follows it: at rest nothing shows it to the power method, and
    /// long steps would ride on noise of the tolerance's size.
    fn known_rate_per_s(&self) -> f64 {
        let driven = if self.is_driven() {
            1.0 / (3.0 * tube::DRIVEN.exchange_s) + 1.0 / tube::METAL_DRIVEN_S
        } else {
            0.0
        };
        // A node that begins to boil answers faster than before.
        driven.max(self.damp.fastest_per_s())
    }

    fn rhs(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        rhs_by_processor(self, t_s, y, dy);
    }
}

/// The right-hand side in the widest instructions of the processor at hand. Fused are only those written as `mul_add`,
/// which is exact everywhere, and none is reordered, so that every processor gives the same bits. Only what is inlined takes part, hence the `inline(always)` on its way.
#[multiversion::multiversion(targets("x86_64+avx2+fma"))]
fn rhs_by_processor(net: &Network, t_s: f64, y: &[f64], dy: &mut [f64]) {
    net.rhs_portable(t_s, y, dy);
}

impl Network {
    /// [`OdeSystem::rhs`] in the instructions that every processor has; the same bit for bit.
    #[inline(always)]
    pub fn rhs_portable(&self, t_s: f64, y: &[f64], dy: &mut [f64]) {
        let mut guard = self.scratch.borrow_mut();
        let s = &mut *guard;
        s.instant = Instant::default();
        for d in dy.iter_mut() {
            *d = 0.0;
        }
        let t_air = self.rig.site.air_temperature_k.at(t_s);
        self.unpack(y, s);
        let to_jackets_w = self.jackets(s);
        self.fire_side(t_air, y, dy, s);
        s.instant.to_coil_w += to_jackets_w;
        s.instant.into_walls_w -= to_jackets_w;
        self.wraps(s);
        let soaked_w = self.soak(y, s);
        s.instant.to_coil_w += soaked_w;
        s.instant.into_walls_w -= soaked_w;
        self.water_side(t_air, y, dy, s);
        self.wall_rates(t_air, y, dy, s);
        s.seen_t_s = t_s;
        s.seen_y.clear();
        s.seen_y.extend_from_slice(y);
    }

    /// Temperatures of all nodes.
    #[inline(always)]
    pub(super) fn unpack(&self, y: &[f64], s: &mut Scratch) {
        let l = &self.layout;
        self.wall_row.temperatures(&y[l.walls..], &mut s.wall_t_k);
        self.damp
            .temperatures(&y[l.walls..], self.damp_shares(y), &mut s.wall_t_k);
        s.wall_heat_w.fill(0.0);
        let inventory = &y[l.inventory..];
        let states = &y[l.tubes..];
        for ((tube, node), e) in self.tubes.iter().zip(&mut s.tube).zip(states) {
            let kg = tube
                .inventory
                .map_or(tube.water_kg, |k| inventory[k] * tube.water_kg);
            *node = tube.node(self.water, e * tube.scale_j_k() * T_SCALE_K, kg);
        }
        s.tube_heat_w.fill(0.0);
        s.face_heat_w.fill(0.0);
        if let Some(v) = &self.vessel {
            let kg = self.layer_kg(y);
            for (t_k, state) in s.layer_t_k.iter_mut().zip(&y[l.layers..]) {
                *t_k = self.layer_of(v, *state, kg);
            }
        }
        self.unpack_drum(y, s);
        if let Some(c) = self.closed() {
            self.pressurise(c, y, s);
        }
        self.coil_films(y, s);
    }

    /// Heat from walls into jackets, W; the walls' temperatures are from here on those that the fire meets.
    #[inline(always)]
    fn jackets(&self, s: &mut Scratch) -> f64 {
        s.outer_heat_w.fill(0.0);
        let w0 = self.layout.walls;
        let mut all = 0.0;
        let mut pass = |jacket: &Jacket, first: usize, nodes: usize| {
            all += jacket.pass(
                |w| first + w * nodes + nodes - 1,
                &mut s.wall_t_k,
                &mut s.outer_heat_w,
                &s.face_t_k,
                &mut s.face_heat_w,
            );
        };
        if let Some(j) = &self.firebox.jacket {
            pass(j, 0, self.firebox.wall.len());
        }
        for d in &self.ducts {
            if let Some(j) = &d.jacket {
                pass(j, d.wall_state - w0, d.wall.len());
            }
        }
        all
    }

    /// Heat from walls that stand in the water of drum or store into its layers, W.
    fn soak(&self, y: &[f64], s: &mut Scratch) -> f64 {
        let (v, layer_kg, t_k) = match (&self.drum, &self.vessel) {
            (Some(d), _) => (&d.vessel, self.drum_layer_kg(y), &s.drum.t_k),
            (None, Some(v)) if self.has_immersed => (v, self.layer_kg(y), &s.layer_t_k),
            _ => return 0.0,
        };
        s.soak_w.fill(0.0);
        let beside = Beside {
            water: self.water,
            // All layers keep equal masses as the level falls.
            layer_m: v.layer_height_m * layer_kg / v.layer_kg,
            t_k,
            convection: self.rig.closures.water_convection,
        };
        let mut all = 0.0;
        let mut pass = |i: &Immersed, first: usize, nodes: usize, cells: usize| {
            for cell in 0..cells {
                let at = first + (cell + 1) * nodes - 1;
                let (q, wet) = i.pass(cell, s.wall_t_k[at], &beside, &mut s.soak_w);
                s.outer_heat_w[at] += q;
                s.wet_share[at] = wet;
                all += q;
            }
        };
        let w0 = self.layout.walls;
        for p in &self.firebox.plates {
            if let Some(i) = &p.immersed {
                pass(i, p.wall_state - w0, p.wall.len(), 1);
            }
        }
        for d in &self.ducts {
            if let Some(i) = &d.immersed {
                pass(i, d.wall_state - w0, d.wall.len(), d.wall_cells);
            }
        }
        all
    }

    /// Heat from outer walls to coils wound on them.
    #[inline(always)]
    fn wraps(&self, s: &mut Scratch) {
        let w0 = self.layout.walls;
        for d in &self.ducts {
            let Some(wrap) = &d.wrap else { continue };
            let n = d.wall.len();
            for (i, &w) in wrap.wall_cell.iter().enumerate() {
                let node = d.wall_state - w0 + w * n + n - 1;
                let tube = wrap.first_tube_cell + i;
                let q = wrap.heat_w(
                    self.rig.closures.contact,
                    s.wall_t_k[node],
                    s.face_t_k[tube],
                );
                s.outer_heat_w[node] += q;
                s.face_heat_w[tube] += q;
                s.instant.to_coil_w += q;
                s.instant.into_walls_w -= q;
            }
        }
    }

    /// Conduction through the walls and loss outside, once all heat into their inner faces is known.
    #[inline(always)]
    fn wall_rates(&self, t_air: f64, y: &[f64], dy: &mut [f64], s: &mut Scratch) {
        let w0 = self.layout.walls;
        let mut casing = 0.0;
        let mut flue_min = f64::INFINITY;
        let n = self.firebox.wall.len();
        let of_firebox = &self.outside_losses[0];
        // All have the same rows of air temperatures.
        let air = of_firebox.place(t_air);
        let out = match self.firebox.jacket {
            Some(_) => 0.0,
            None => of_firebox.loss_w(air, s.wall_t_k[n - 1] - t_air),
        };
        casing += out;
        s.outer_heat_w[n - 1] += out;
        for p in &self.firebox.plates {
            let at = p.wall_state - w0 + p.wall.len() - 1;
            let out = (1.0 - s.wet_share[at]) * p.outside.loss_w(air, s.wall_t_k[at] - t_air);
            casing += out;
            s.outer_heat_w[at] += out;
        }
        for (d, outside) in self.ducts.iter().zip(&self.outside_losses[1..]) {
            let n = d.wall.len();
            for c in 0..d.wall_cells {
                let at = d.wall_state - w0 + c * n;
                let hidden = d.wrap.as_ref().map_or(0.0, |w| w.hidden[c]);
                let bare = 1.0 - hidden - s.wet_share[at + n - 1];
                let out = match d.jacket {
                    Some(_) => 0.0,
                    None => bare * outside.loss_w(air, s.wall_t_k[at + n - 1] - t_air),
                };
                casing += out;
                s.outer_heat_w[at + n - 1] += out;
                if d.is_flue {
                    flue_min = flue_min.min(s.wall_t_k[at]);
                }
            }
            if let Some(a) = &d.across {
                let n = a.wall.len();
                for c in 0..d.wall_cells {
                    let at = a.wall_state - w0 + (c + 1) * n - 1;
                    let out = a.outside.loss_w(air, s.wall_t_k[at] - t_air);
                    casing += out;
                    s.outer_heat_w[at] += out;
                }
            }
        }
        if self.has_damp_walls() {
            let walls = (
                &s.wall_t_k[..],
                &mut s.damp_open[..],
                &mut s.outer_heat_w[..],
            );
            self.dry_walls(y, dy, walls, &mut s.instant);
        }
        self.wall_row.rates(
            &s.wall_t_k,
            &s.wall_heat_w,
            &s.outer_heat_w,
            &mut s.wall_k_w_mk,
            &mut s.wall_passed_w,
            &mut dy[w0..],
        );
        s.instant.casing_w = casing;
        s.instant.flue_wall_min_k = flue_min;
        dy[self.layout.integral(Integral::Casing)] = casing / E_SCALE_J;
    }
}
