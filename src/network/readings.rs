//! What bare thermometers show at the places where people put them: gas of its own temperature warms the sheath, and the
//! walls that it sees cool it, or a hot lining warms it.

use super::fire::EMBER_EMISSION;
use super::layout::{T_REF_K, T_SCALE_K};
use super::{Instant, Network};
use crate::components::gas_path::{Bank, Duct, ReTable, grey_exchange};
use crate::components::thermometer::{Passing, disc_share};
use crate::components::wall::Wall;
use crate::correlations::radiation::{WsggWeights, linearised_h_w_m2k};
use crate::properties::gas::{GasMix, MoleFractions};

/// Beam from the middle of a passage to its wall over the mean beam of all that the wall sees: (π/4) D for a thin gas in a long
/// tube, where a wall sees D; 3/4 in a sphere.
const FROM_THE_MIDDLE: f64 = 0.78;

/// One thermometer at one moment, K.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Of the gas itself.
    pub gas_k: f64,
    pub shown_k: f64,
    /// What a black body in its place would come to by radiation alone.
    pub seen_k: f64,
}

/// All places of a rig. Beside a coil: none where nothing in the gas heats water.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Readings {
    pub chamber: Reading,
    pub below_coil: Option<Reading>,
    pub above_coil: Option<Reading>,
    pub stack: Reading,
}

/// The gas as it comes to a thermometer, and the passage around it.
struct Spot<'a> {
    gas_k: f64,
    area_m2: f64,
    hydraulic_m: f64,
    beam_m: f64,
    soot_per_m: f64,
    wall: &'a Wall,
    wall_k: f64,
    /// Nusselt number of the passage, first of two.
    table: &'a ReTable<2>,
    /// What looks into the passage from its end: share of the sheath's view, fourth power of its temperature.
    end: (f64, f64),
}

/// What holds for all places at one moment.
struct Moment {
    mix: GasMix,
    weights: WsggWeights,
    m_kg_s: f64,
    /// Floor of the unburnt, and over the volatiles' heat.
    floor_w: f64,
    per_volatile_w: f64,
}

/// Which end of a section with turns in it.
#[derive(Clone, Copy)]
enum End {
    In,
    Out,
}

/// With fused instructions where the processor has them, as the right-hand side: the same bits.
#[multiversion::multiversion(targets("x86_64+avx2+fma"))]
fn readings_by_processor(net: &Network, y: &[f64], i: &Instant) -> Readings {
    net.all_readings(y, i)
}

impl Network {
    /// Of the state `y`, of which `i` is the record.
    pub fn readings(&self, y: &[f64], i: &Instant) -> Readings {
        readings_by_processor(self, y, i)
    }

    #[inline(always)]
    fn all_readings(&self, y: &[f64], i: &Instant) -> Readings {
        let now = self.moment(i);
        let chamber = self.in_chamber(&now, y, i, (0.0, 0.0));
        let first = self.ducts.iter().position(Duct::heats_water);
        let behind = self.ducts.iter().rposition(Duct::heats_water);
        // No closures: they would not take part in the wider instructions.
        let below_coil = match first {
            _ if self.firebox.heats_water() => Some(chamber),
            Some(k) => Some(self.before(&now, y, i, k)),
            None => None,
        };
        let above_coil = match behind {
            Some(k) => Some(self.behind(&now, y, i, k)),
            None if self.firebox.heats_water() => Some(chamber),
            None => None,
        };
        let last = self.ducts.len() - 1;
        Readings {
            chamber,
            below_coil,
            above_coil,
            stack: self.in_duct(&now, y, (last, End::Out), i.stack_k, 0.0, (0.0, 0.0)),
        }
    }

    #[inline(always)]
    fn moment(&self, i: &Instant) -> Moment {
        let (h2o, co2, o2) = (i.x_h2o, i.x_co2, i.x_o2);
        let rest = (1.0 - h2o - co2 - o2).max(0.0);
        let mix = GasMix::new(
            &MoleFractions {
                n2: 0.988 * rest,
                ar: 0.012 * rest,
                o2,
                co2,
                h2o,
                co: 0.0,
            }
            .to_mass(),
        );
        let atm = self.p_air_pa / 101_325.0;
        let p = &i.unburnt_parts;
        Moment {
            mix,
            weights: WsggWeights::new((h2o * atm).max(1e-4), (co2 * atm).max(1e-4)),
            m_kg_s: i.gas_kg_s,
            floor_w: p.short * (p.volatile_w + p.co_w),
            per_volatile_w: 1.0 / (p.volatile_w + 1.0),
        }
    }

    /// Soot follows what still burns.
    fn soot_per_m(&self, now: &Moment, unburnt_w: f64) -> f64 {
        let burning = (unburnt_w - now.floor_w).max(0.0) * now.per_volatile_w;
        self.rig.closures.flame_soot_per_m * burning.min(1.0)
    }

    /// Ahead of a section with a coil, a jacket or turns around it: in the section before, or in the chamber.
    #[inline(always)]
    fn before(&self, now: &Moment, y: &[f64], i: &Instant, section: usize) -> Reading {
        let d = &self.ducts[section];
        let port_m2 = match section.checked_sub(1) {
            Some(k) => self.ducts[k].area_m2.min(d.area_m2),
            None => d.area_m2.min(self.firebox.flow_area_m2),
        };
        let end = self.looks_out(d, y, End::In, port_m2);
        match section.checked_sub(1) {
            Some(k) => {
                let soot = self.soot_per_m(now, i.below_coil_unburnt_w);
                self.in_duct(now, y, (k, End::Out), i.below_coil_k, soot, end)
            }
            None => self.in_chamber(now, y, i, end),
        }
    }

    /// Behind it: in the section that follows, or at its own end.
    #[inline(always)]
    fn behind(&self, now: &Moment, y: &[f64], i: &Instant, section: usize) -> Reading {
        let d = &self.ducts[section];
        let soot = self.soot_per_m(now, i.above_coil_unburnt_w);
        let at = match self.ducts.get(section + 1) {
            Some(_) => (section + 1, End::In),
            None => (section, End::Out),
        };
        let port_m2 = self.ducts[at.0].area_m2.min(d.area_m2);
        let end = self.looks_out(d, y, End::Out, port_m2);
        self.in_duct(now, y, at, i.above_coil_k, soot, end)
    }

    /// What shines out of a section's end onto a sheath before it: turns in it by what they take of light that comes in, and its
    /// wall the rest.
    fn looks_out(&self, d: &Duct, y: &[f64], end: End, port_m2: f64) -> (f64, f64) {
        let radius_m = (port_m2 / std::f64::consts::PI).sqrt();
        let share = disc_share(self.rig.thermometer.from_coil_m, radius_m);
        let wall_k = self.end_wall_k(d, y, end);
        let (turns, turns_k4) = match &d.bank {
            Some(b) => self.turns_seen(b, y, end, port_m2),
            None => (0.0, 0.0),
        };
        (share, turns * turns_k4 + (1.0 - turns) * wall_k.powi(4))
    }

    /// Inner node of a section's wall at one of its ends.
    fn end_wall_k(&self, d: &Duct, y: &[f64], end: End) -> f64 {
        let cell = match end {
            End::In => 0,
            End::Out => d.wall_cells - 1,
        };
        self.wall_node_k(&d.wall.nodes[0], y, d.wall_state + cell * d.wall.len())
    }

    /// Share of a port's view that the turns behind it take, and the fourth power of their temperature. From either end alike.
    fn turns_seen(&self, b: &Bank, y: &[f64], end: End, port_m2: f64) -> (f64, f64) {
        let l = &self.layout;
        let (mut views_m2, mut sum) = (0.0, 0.0);
        for (j, view_m2) in b.mouth_views_m2.iter().enumerate() {
            let j = match end {
                End::In => j,
                End::Out => b.tubes.len() - 1 - j,
            };
            let tubes = &self.tubes[b.tubes[j].clone()];
            let metal_k4 = |k: usize| (T_REF_K + y[l.tube_walls + k] * T_SCALE_K).powi(4);
            let of_all: f64 = tubes.iter().filter_map(|t| t.wall).map(metal_k4).sum();
            views_m2 += view_m2;
            sum += view_m2 * of_all / tubes.len() as f64;
        }
        let share = (views_m2 / (b.emissivity * port_m2)).min(1.0);
        (share, sum / views_m2)
    }

    #[inline(always)]
    fn in_chamber(&self, now: &Moment, y: &[f64], i: &Instant, end: (f64, f64)) -> Reading {
        let fb = &self.firebox;
        let wall_k = self.wall_node_k(&fb.wall.nodes[0], y, fb.wall_state);
        let lining = Spot {
            gas_k: i.flame_k,
            area_m2: fb.flow_area_m2,
            hydraulic_m: fb.hydraulic_m,
            beam_m: fb.beam_m,
            soot_per_m: i.flame_soot_per_m,
            wall: &fb.wall,
            wall_k,
            table: &fb.table,
            end,
        };
        let mut seen4 = fb.lining_seen * self.face_k(now, &lining).powi(4);
        for p in &fb.plates {
            let plate = Spot {
                wall: &p.wall,
                wall_k: self.wall_node_k(&p.wall.nodes[0], y, p.wall_state),
                ..lining
            };
            seen4 += p.seen * self.face_k(now, &plate).powi(4);
        }
        // From half of the height the hearth is a disc below: embers as they glow, ash between them.
        let glow = (i.glow_m2 / fb.floor_m2).min(1.0);
        let emission = EMBER_EMISSION * self.rig.closures.ember_emission;
        let floor4 = glow * emission * i.embers_k.powi(4) + (1.0 - glow) * i.hearth_k.powi(4);
        let radius_m = (fb.floor_m2 / std::f64::consts::PI).sqrt();
        seen4 += disc_share(0.5 * fb.height_m, radius_m) * (floor4 - seen4);
        self.read(now, &lining, seen4)
    }

    #[inline(always)]
    fn in_duct(
        &self,
        now: &Moment,
        y: &[f64],
        (section, end): (usize, End),
        gas_k: f64,
        soot_per_m: f64,
        looks: (f64, f64),
    ) -> Reading {
        let d = &self.ducts[section];
        let spot = Spot {
            gas_k,
            area_m2: d.area_m2,
            hydraulic_m: d.hydraulic_m,
            beam_m: d.beam_m,
            soot_per_m,
            wall: &d.wall,
            wall_k: self.end_wall_k(d, y, end),
            table: &d.table,
            end: looks,
        };
        let walls4 = self.face_k(now, &spot).powi(4);
        self.read(now, &spot, walls4)
    }

    #[inline(always)]
    fn emissivity(&self, now: &Moment, s: &Spot) -> f64 {
        let layer = now.weights.over(FROM_THE_MIDDLE * s.beam_m);
        let e = layer.emissivity_with_soot(s.gas_k, s.soot_per_m);
        (self.rig.closures.emissivity * e).min(0.95)
    }

    /// Face of a passage's wall, between the gas and the wall's first node.
    #[inline(always)]
    fn face_k(&self, now: &Moment, s: &Spot) -> f64 {
        let (mu, k) = now.mix.mu_k(s.gas_k);
        let [nu, _] = s.table.at(now.m_kg_s * s.hydraulic_m / (s.area_m2 * mu));
        let eps = grey_exchange(self.emissivity(now, s), s.wall.inner_emissivity);
        let h = self.rig.closures.duct_convection * nu * k / s.hydraulic_m
            + linearised_h_w_m2k(eps, s.gas_k, s.wall_k);
        let behind = h * s.wall.inner_area_m2 * s.wall.nodes[0].resistance_in_k_w(s.wall_k);
        s.wall_k + (s.gas_k - s.wall_k) * behind / (1.0 + behind)
    }

    #[inline(always)]
    fn read(&self, now: &Moment, s: &Spot, walls4: f64) -> Reading {
        let eps = self.emissivity(now, s);
        let around4 = walls4 + s.end.0 * (s.end.1 - walls4);
        let seen_k = (eps * s.gas_k.powi(4) + (1.0 - eps) * around4).powf(0.25);
        let passing = Passing {
            mix: &now.mix,
            pressure_pa: self.p_air_pa,
            temperature_k: s.gas_k,
            velocity_m_s: now.m_kg_s / (now.mix.rho_kg_m3(s.gas_k, self.p_air_pa) * s.area_m2),
        };
        Reading {
            gas_k: s.gas_k,
            shown_k: self.rig.thermometer.shown_k(&passing, seen_k),
            seen_k,
        }
    }
}
