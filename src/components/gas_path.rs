//! Gas marched exactly from cell to cell: burn-out of what is still unburnt, convection and radiation to walls
//! and turns, buoyancy and losses. Quasi-steady: the gas holds nothing.

use super::across::{Across, facing};
use super::immersed::Immersed;
use super::jacket::Jacket;
use super::octaves::{from_octaves, step_of};
use super::wall::{OutsideConvection, Wall};
use crate::correlations::radiation::{GasLayer, STEFAN_BOLTZMANN, WsggWeights, linearised_h_w_m2k};
use crate::correlations::{gone, lesser, mean_left};
use crate::properties::gas::GasMix;
use std::ops::Range;

/// Octaves of a [`ReTable`], up to Re = 204,700, and steps in each.
const OCTAVES: usize = 11;
const PER_OCTAVE: usize = 12;

/// Values over Reynolds number, tabulated at assembly over octaves of 1 + Re/100.
#[derive(Debug, Clone)]
pub struct ReTable<const N: usize> {
    rows: Vec<[f64; N]>,
}

impl<const N: usize> ReTable<N> {
    const RE0: f64 = 100.0;

    /// Fills the table.
    pub fn new(f: impl Fn(f64) -> [f64; N]) -> Self {
        let rows = (0..=OCTAVES * PER_OCTAVE)
            .map(|i| f(Self::RE0 * (from_octaves(i as f64 / PER_OCTAVE as f64) - 1.0)))
            .collect();
        Self { rows }
    }

    /// Values at this Reynolds number, held beyond the table's end.
    #[inline]
    pub fn at(&self, re: f64) -> [f64; N] {
        const STEPS: usize = OCTAVES * PER_OCTAVE;
        let (i, u) = step_of::<{ PER_OCTAVE as u64 }, STEPS>(1.0 + re * (1.0 / Self::RE0));
        let rows = &self.rows[i..i + 2];
        let (a, b) = (&rows[0], &rows[1]);
        std::array::from_fn(|k| (b[k] - a[k]).mul_add(u, a[k]))
    }
}

/// A coil in a section, as the gas sees it.
#[derive(Debug, Clone)]
pub struct Bank {
    /// Tube cells that each gas cell faces.
    pub tubes: Vec<Range<usize>>,
    pub tube_outside_m: f64,
    /// Outside surface per gas cell.
    pub area_m2: f64,
    /// Narrowest free cross-section.
    pub free_area_m2: f64,
    /// Share of the bank coefficient that the gas by-passing through an open core leaves.
    pub exposure: f64,
    /// Turns (rows) per gas cell.
    pub rows: f64,
    /// `[Nu, loss coefficient per row × Re]` over Re on the tube's outside at the narrowest section.
    pub table: ReTable<2>,
    pub emissivity: f64,
    pub fouling_m2k_w: f64,
    /// First state of the deposit that grows on it: soot on each gas cell's turns, then tar.
    pub deposit_state: usize,
    /// Mean beam length between the turns.
    pub beam_m: f64,
    /// Radiating area between shell and turns, per gas cell, m2 (with its view and emissivities).
    pub shell_view_m2: f64,
    /// Area × view × emissivity with which the turns of the first gas cells see the section before, m2 each.
    pub mouth_views_m2: Vec<f64>,
}

/// A coil wound on the outside of a section: each of its tube cells faces one wall cell.
#[derive(Debug, Clone)]
pub struct Wrap {
    pub first_tube_cell: usize,
    /// Wall cell that tube cell `i` of the coil lies on.
    pub wall_cell: Vec<usize>,
    /// Shape factor of the wedge between tube and wall times tube length, per tube cell, m: times the conductivity of
    /// what fills it, the conductance.
    pub wedge_m: f64,
    pub filler_w_mk: Option<f64>,
    /// Area × exchange factor for radiation between wall and tube, per tube cell, m2.
    pub radiating_m2: f64,
    /// Share of each wall cell's outside that the tubes hide from the surroundings.
    pub hidden: Vec<f64>,
}

impl Wrap {
    /// Conduction shape factor per metre between a cylinder of radius `r_m` and a plane that come within `gap_m`:
    /// 2π / arcosh(z/r) with z the distance of the axis (handbook shape factors, e.g. Incropera & DeWitt, table 4.1).
    pub fn wedge_shape(r_m: f64, gap_m: f64) -> f64 {
        2.0 * std::f64::consts::PI / (1.0 + gap_m / r_m).acosh()
    }

    /// Heat from the wall's outer face at `t_wall_k` to a tube cell, W.
    #[inline]
    pub fn heat_w(&self, contact: f64, t_wall_k: f64, t_tube_k: f64) -> f64 {
        let mean = 0.5 * (t_wall_k + t_tube_k);
        // Air between 300 and 900 K: within 4 % of tables.
        let k = self.filler_w_mk.unwrap_or(0.0263 + 6.4e-5 * (mean - 300.0));
        let radiation = self.radiating_m2
            * STEFAN_BOLTZMANN
            * (t_wall_k * t_wall_k + t_tube_k * t_tube_k)
            * (t_wall_k + t_tube_k);
        (contact * k * self.wedge_m + radiation) * (t_wall_k - t_tube_k)
    }
}

/// One section, assembled.
#[derive(Debug, Clone)]
pub struct Duct {
    pub name: String,
    pub cells: usize,
    pub area_m2: f64,
    pub hydraulic_m: f64,
    /// Per gas cell.
    pub cell_length_m: f64,
    pub cell_rise_m: f64,
    pub cell_wall_area_m2: f64,
    pub beam_m: f64,
    /// Fittings of the whole section, on its own area, with change of section at its inlet.
    pub loss_k: f64,
    /// `[Nu, f × Re]`
    pub table: ReTable<2>,
    pub wall: Wall,
    /// Wall cells; each faces `per_wall_cell` gas cells, and all of them all. `wall` is the wall of one wall cell.
    pub wall_cells: usize,
    pub per_wall_cell: usize,
    /// First wall state.
    pub wall_state: usize,
    pub outside: OutsideConvection,
    pub bank: Option<Bank>,
    /// A dry wall that faces its own, which is in water.
    pub across: Option<Across>,
    /// First state of the deposit on its wall: soot on each wall cell, then tar. None where the wall stays clean.
    pub wall_deposit: Option<usize>,
    /// A coil on its outside.
    pub wrap: Option<Wrap>,
    /// Water around it.
    pub jacket: Option<Jacket>,
    /// Where its outside stands in the store's water.
    pub immersed: Option<Immersed>,
    pub is_damper: bool,
    /// Suction at the section, `(m3/s, Pa)`.
    pub fan: Option<Vec<(f64, f64)>>,
    /// How freely gas burns on here (among turns cold surfaces quench it), 0..1.
    pub flame: f64,
    /// Flame sheets of the burning wood reach this section (before any coil), 0 or 1.
    pub sheets: f64,
    pub is_flue: bool,
}

impl Duct {
    /// Whether its wall is cold for water behind it.
    pub fn wall_is_wet(&self) -> bool {
        self.jacket.is_some() || self.immersed.is_some()
    }

    /// Its walls: each of one wall cell, with its first state.
    pub fn walls(&self) -> impl Iterator<Item = (&Wall, usize)> {
        let across = self.across.iter().map(|a| (&a.wall, a.wall_state));
        std::iter::once((&self.wall, self.wall_state)).chain(across)
    }

    /// A coil in it or on it, or a jacket around it.
    pub fn heats_water(&self) -> bool {
        self.bank.is_some() || self.wrap.is_some() || self.jacket.is_some()
    }
}

/// The gas on its way. Its enthalpy is exact; its temperature follows.
#[derive(Debug, Clone, Copy)]
pub struct GasStream {
    pub mdot_kg_s: f64,
    pub per_mdot_s_kg: f64,
    pub h_j_kg: f64,
    pub t_k: f64,
    /// Net heat still to be released, W.
    pub unburnt_w: f64,
    /// Heat capacity at `t_k`, J/kgK.
    pub cp_j_kgk: f64,
    per_cp: f64,
    /// Half the relative slope of the heat capacity, 1/K.
    bend_per_k: f64,
    /// Enthalpy of the mixture at `t_k`: a few J/kg from `h_j_kg`.
    h_at_t_j_kg: f64,
    /// Half the change of temperature that the next cell of this section is likely to bring, by the last one, K.
    half_change_k: f64,
}

impl GasStream {
    /// A stream at this temperature.
    pub fn new(mix: &GasMix, mdot_kg_s: f64, t_k: f64, unburnt_w: f64) -> Self {
        let mut s = Self {
            mdot_kg_s,
            per_mdot_s_kg: 1.0 / mdot_kg_s,
            h_j_kg: 0.0,
            t_k,
            unburnt_w,
            cp_j_kgk: 0.0,
            per_cp: 0.0,
            bend_per_k: 0.0,
            h_at_t_j_kg: 0.0,
            half_change_k: 0.0,
        };
        s.look_up(mix);
        s.h_j_kg = s.h_at_t_j_kg;
        s
    }

    /// Over flow times heat capacity, K/W.
    #[inline]
    pub fn per_mcp_k_w(&self) -> f64 {
        self.per_mdot_s_kg * self.per_cp
    }

    /// Over the heat capacity, kg K/J.
    #[inline]
    pub fn per_cp(&self) -> f64 {
        self.per_cp
    }

    #[inline]
    fn look_up(&mut self, mix: &GasMix) {
        let [h, cp, slope] = mix.h_cp_slope(self.t_k);
        self.h_at_t_j_kg = h;
        self.cp_j_kgk = cp;
        self.per_cp = 1.0 / cp;
        self.bend_per_k = 0.5 * slope * self.per_cp;
    }

    /// Rise of temperature to an enthalpy, K, by two terms of the inverse series from the last temperature: within 0.1 K
    /// over 150 K. What it misses comes in with the next rise, so that nothing adds up.
    #[inline]
    fn rise_k(&self, h_j_kg: f64) -> f64 {
        let x = (h_j_kg - self.h_at_t_j_kg) * self.per_cp;
        // Bounded for wild trial states only.
        (self.bend_per_k * x).clamp(-0.2, 0.2).mul_add(-x, x)
    }

    /// Comes into another section, of which the last cell tells nothing.
    #[inline]
    pub fn enter(&mut self) {
        self.half_change_k = 0.0;
    }

    /// Adds (or takes) heat.
    #[inline(always)]
    pub fn add_heat(&mut self, mix: &GasMix, heat_w: f64) {
        self.h_j_kg = heat_w.mul_add(self.per_mdot_s_kg, self.h_j_kg);
        self.t_k = (self.t_k + self.rise_k(self.h_j_kg)).clamp(150.0, 3200.0);
        self.look_up(mix);
    }
}

/// What the cells of one section share at one moment.
#[derive(Debug, Clone, Copy)]
pub struct SectionGas {
    /// Radiating layers: across the bore, and between the turns of its coil.
    bore: GasLayer,
    turns: GasLayer,
    /// Residence over burn-out time: τ = C D/v and Δt = L/v, the velocity cancels, flame length is a number of diameters.
    burnout: f64,
    /// Share of the flame in hot sheets here.
    sheets: f64,
    /// Multiplier of the bore's Nusselt number over its diameter, 1/m.
    convection_per_m: f64,
    wall_cells_per_gas_cell: f64,
    /// Reynolds number × viscosity in the bore and on the turns, Pa s.
    re_mu: f64,
    bank_re_mu: f64,
    /// Resistance of tube wall and of the deposit given on the outside, m2K/W.
    fouling_m2k_w: f64,
    /// Over the surface of one cell's wall and of its turns, 1/m2.
    per_wall_m2: f64,
    pub per_turns_m2: f64,
    bank_convection_per_m: f64,
    bank_loss_per_k: f64,
    /// Density × temperature, velocity per kelvin.
    rho_t: f64,
    v_per_k: f64,
    friction_per_m: f64,
    /// Fittings of one cell, Pa per m/s.
    fittings: f64,
}

impl SectionGas {
    /// For a flow of `m_kg_s` of the gas that `weights` describe.
    pub fn new(d: &Duct, c: &PathConditions, weights: &WsggWeights, m_kg_s: f64) -> Self {
        Self::with_bore(d, c, weights, m_kg_s, weights.over(d.beam_m))
    }

    /// The same where the layer across the bore is known.
    #[inline(always)]
    pub fn with_bore(
        d: &Duct,
        c: &PathConditions,
        weights: &WsggWeights,
        m_kg_s: f64,
        bore: GasLayer,
    ) -> Self {
        let per_hydraulic_m = 1.0 / d.hydraulic_m;
        let per_area = 1.0 / d.area_m2;
        let rho_t = c.pressure_pa / c.mix.r_j_kgk();
        let mut s = Self {
            bore,
            turns: bore,
            burnout: d.cell_length_m * per_hydraulic_m * d.flame
                / (MIXING_CONSTANT * c.mixing_time),
            sheets: d.sheets * c.sheet_share,
            convection_per_m: c.duct_convection * per_hydraulic_m,
            wall_cells_per_gas_cell: d.per_wall_cell as f64,
            re_mu: m_kg_s * d.hydraulic_m * per_area,
            bank_re_mu: 0.0,
            fouling_m2k_w: 0.0,
            per_wall_m2: 1.0 / d.cell_wall_area_m2,
            per_turns_m2: 0.0,
            bank_convection_per_m: 0.0,
            bank_loss_per_k: 0.0,
            rho_t,
            v_per_k: m_kg_s * per_area / rho_t,
            friction_per_m: 0.5 * per_hydraulic_m * per_hydraulic_m * d.cell_length_m,
            fittings: d.loss_k / d.cells as f64 * 0.5 * m_kg_s * per_area,
        };
        if let Some(b) = &d.bank {
            s.turns = weights.over(b.beam_m);
            s.fouling_m2k_w = b.fouling_m2k_w;
            s.per_turns_m2 = 1.0 / b.area_m2;
            s.bank_re_mu = m_kg_s * b.tube_outside_m / b.free_area_m2;
            s.bank_convection_per_m = c.bank_exposure * b.exposure / b.tube_outside_m;
            s.bank_loss_per_k = b.rows * m_kg_s / (rho_t * b.free_area_m2 * 2.0 * b.tube_outside_m);
        }
        s
    }
}

/// What holds along the whole path at one moment.
pub struct PathConditions<'a> {
    pub mix: &'a GasMix,
    pub pressure_pa: f64,
    pub density_air_kg_m3: f64,
    /// Net heat that no mixing would burn (local shortage of air), W.
    pub unburnt_floor_w: f64,
    /// Over the net heat flow of the volatiles, 1/W: soot follows what is still burning.
    pub per_volatile_w: f64,
    /// Share of the flame that burns in hot sheets however cold the mean gas is, 0..1.
    pub sheet_share: f64,
    pub mixing_time: f64,
    pub duct_convection: f64,
    pub bank_exposure: f64,
    pub emissivity: f64,
    pub flame_soot_per_m: f64,
    pub gas_friction: f64,
}

/// Constant of the burn-out time: τ = C D/v. Flames in a turbulent duct flow burn out within 4..9 diameters,
/// i.e. C of 1.5..3 (common practice, no source; multiplier `mixing_time`); the lower end, as bends and sticks stir.
pub const MIXING_CONSTANT: f64 = 1.5;

/// Exchange factor of a grey gas filling an enclosure with its grey wall: ε_g ε_w / [1 − (1 − ε_g)(1 − ε_w)].
#[inline]
pub fn grey_exchange(eps_gas: f64, eps_wall: f64) -> f64 {
    let both = eps_gas * eps_wall;
    both / (eps_gas + eps_wall - both)
}

/// Share of the reaction that temperature allows: half at 870 K.
#[inline]
pub fn reaction_share(t_k: f64) -> f64 {
    crate::correlations::combustion::arrhenius_like_temperature_factor(t_k)
}

/// Result of one gas cell.
#[derive(Debug, Clone, Copy, Default)]
pub struct GasCell {
    pub to_wall_w: f64,
    /// To the turns of a coil, or to the dry wall across.
    pub to_turns_w: f64,
    /// From a dry wall across to the wall.
    pub across_w: f64,
    /// How much less that is per kelvin that the turns are warmer.
    pub turns_w_k: f64,
    pub t_mean_k: f64,
    /// Over it.
    pub per_t_mean: f64,
    pub released_w: f64,
    pub buoyancy_pa: f64,
    pub loss_pa: f64,
    /// Convective coefficient on the turns (for condensation), W/m2K.
    pub turns_h_w_m2k: f64,
    /// That on the wall.
    pub wall_h_w_m2k: f64,
    /// Faces that the gas touches, deposits included.
    pub wall_surface_k: f64,
    pub turns_surface_k: f64,
}

/// Resistances of what has grown on one cell's turns and wall, m2K/W.
#[derive(Debug, Clone, Copy, Default)]
pub struct Grown {
    pub turns_m2k_w: f64,
    pub wall_m2k_w: f64,
}

/// Burns and cools the gas over one cell. `t_wall_k` is the innermost wall node, `t_turns_k` the turns' face, or the innermost node of a dry wall across.
///
/// The cells form one chain of dependent operations, so that latencies decide its speed. What a section's cells share is in
/// [`SectionGas`]; coefficients are taken at the middle of the cell as the change over the last one tells it, so that they
/// need not wait for the burn-out. In the first cell of a section they are taken where the gas comes in.
#[inline(always)]
pub fn pass_cell(
    duct: &Duct,
    c: &PathConditions,
    section: &SectionGas,
    gas: &mut GasStream,
    t_wall_k: f64,
    t_turns_k: f64,
    grown: Grown,
) -> GasCell {
    let mut out = GasCell::default();
    let t_came = gas.t_k;
    let t_middle = t_came + gas.half_change_k;
    let per_mcp = gas.per_mcp_k_w();
    let mut t_in = t_came;
    let mut ntu_per_g = per_mcp;

    // Burn-out of what is left above the local shortage of air.
    let burning = gas.unburnt_w - c.unburnt_floor_w;
    let mut soot = 0.0;
    if burning > 0.1 {
        soot = c.flame_soot_per_m * lesser(burning * c.per_volatile_w, 1.0);
        if duct.flame > 0.0 {
            let react = (1.0 - section.sheets).mul_add(reaction_share(t_middle), section.sheets);
            let released = burning * gone(section.burnout * react);
            out.released_w = released;
            gas.unburnt_w -= released;
            gas.h_j_kg = released.mul_add(gas.per_mdot_s_kg, gas.h_j_kg);
        }
    }
    // Also where the last rise was a hair off.
    let rise = gas.rise_k(gas.h_j_kg);
    t_in += rise;
    ntu_per_g *= 1.0 - (2.0 * gas.bend_per_k * rise).clamp(-0.2, 0.2);

    let (mu, k) = c.mix.mu_k(t_middle);
    let per_mu = 1.0 / mu;
    let [nu, f_re] = duct.table.at(section.re_mu * per_mu);
    let eps_gas = lesser(
        c.emissivity * section.bore.emissivity_with_soot(t_middle, soot),
        0.95,
    );

    // Wall of the duct: convection and gas radiation, then the first half of the first layer.
    let eps_wall = grey_exchange(eps_gas, duct.wall.inner_emissivity);
    out.wall_h_w_m2k = section.convection_per_m * nu * k;
    let h_wall = out.wall_h_w_m2k + linearised_h_w_m2k(eps_wall, t_middle, t_wall_k);
    let film = h_wall * duct.cell_wall_area_m2;
    let (geo, k_wall) = duct.wall.nodes[0].inner_half(t_wall_k);
    let geo = geo.mul_add(
        section.wall_cells_per_gas_cell,
        k_wall * grown.wall_m2k_w * section.per_wall_m2,
    );
    let inside = film * geo;
    let (to_wall, resists) = (film * k_wall, film.mul_add(geo, k_wall));

    // Of the difference between gas and node, what falls on the way from the faces inwards.
    let (wall_behind, turns_behind);
    let (g_wall, g_turns, t_star);
    let (mut loss_bank, mut over_k) = (0.0, 0.0);
    if let Some(b) = &duct.bank {
        let [nu_b, loss_re] = b.table.at(section.bank_re_mu * per_mu);
        let h_conv = section.bank_convection_per_m * nu_b * k;
        let eps_turns = lesser(
            c.emissivity * section.turns.emissivity_with_soot(t_middle, soot),
            0.95,
        );
        let eps = grey_exchange(eps_turns, b.emissivity);
        out.turns_h_w_m2k = h_conv;
        let h = h_conv + linearised_h_w_m2k(eps, t_middle, t_turns_k);
        // Both conductances over one divisor: the temperature that the gas tends to need not wait for them.
        let behind = h * (section.fouling_m2k_w + grown.turns_m2k_w);
        let deposit = 1.0 + behind;
        let (wall, turns) = (to_wall * deposit, b.area_m2 * h * resists);
        let per = 1.0 / (resists * deposit);
        (g_wall, g_turns) = (wall * per, turns * per);
        (wall_behind, turns_behind) = (inside * deposit * per, behind * resists * per);
        t_star = wall.mul_add(t_wall_k, turns * t_turns_k) / (wall + turns);
        // K ½ρv² per row with K = (K Re)/Re stays finite at rest.
        loss_bank = section.bank_loss_per_k * loss_re * mu * t_in;
    } else if let Some(a) = &duct.across {
        let f = facing(
            a,
            section.wall_cells_per_gas_cell,
            (t_middle, eps_gas),
            (t_wall_k, t_turns_k),
            (duct.cell_wall_area_m2, eps_wall, out.wall_h_w_m2k),
            (geo, k_wall),
        );
        out.across_w = f.across_to_wall * (t_turns_k - t_wall_k);
        (g_wall, g_turns) = (f.gas_to_wall, f.gas_to_across);
        t_star = g_wall.mul_add(t_wall_k, g_turns * t_turns_k) / (g_wall + g_turns);
        (wall_behind, turns_behind) = (f.wall_behind, 0.0);
        over_k = f.wall_over_k;
    } else {
        let per = 1.0 / resists;
        (wall_behind, turns_behind) = (inside * per, 0.0);
        (g_wall, g_turns, t_star) = (to_wall * per, 0.0, t_wall_k);
    }

    let ntu = (g_wall + g_turns) * ntu_per_g;
    let on_average = mean_left(ntu);
    let t_mean = (t_in - t_star).mul_add(on_average, t_star);
    out.to_wall_w = g_wall * (t_mean - t_wall_k);
    out.to_turns_w = g_turns * (t_mean - t_turns_k);
    out.turns_w_k = g_turns;
    gas.add_heat(c.mix, -(out.to_wall_w + out.to_turns_w));
    // By so much less than in this cell, e^-NTU, the gas changes in the next: never past what it tends to.
    gas.half_change_k = ntu.mul_add(-0.5 * on_average, 0.5) * (gas.t_k - t_came);
    out.t_mean_k = t_mean;
    out.per_t_mean = 1.0 / t_mean;
    out.wall_surface_k = (t_mean - t_wall_k).mul_add(wall_behind, t_wall_k) + over_k;
    out.turns_surface_k = (t_mean - t_turns_k).mul_add(turns_behind, t_turns_k);

    out.buoyancy_pa =
        9.80665 * duct.cell_rise_m * (c.density_air_kg_m3 - section.rho_t * out.per_t_mean);
    let v = section.v_per_k * t_mean;
    let friction = f_re * mu * v * section.friction_per_m;
    let fittings = section.fittings * v;
    out.loss_pa = c.gas_friction * (friction + fittings + loss_bank);
    out
}
