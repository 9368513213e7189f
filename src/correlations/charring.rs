//! The char front in a stick, its ignition, and the burning of char.

use super::{cube_root, quick_exp, radiation::STEFAN_BOLTZMANN, smooth_positive};

/// Front speed per incident flux of a fresh face, (m/s)/(W/m²): 0.06 mm/min per kW/m², by which a kilogram of dry wood takes 2.2 MJ
/// to gasify (heats of gasification: 1.8 MJ/kg for Douglas fir, Tewarson; 2 to 4 for others; from memory). The first minute of a
/// spruce slab under 50 kW/m² asks for it, and sticks thin enough to burn before much char lies on them. Butler's 0.022 (1971, from
/// memory) is that of wood under its char.
const BARE_M_S_PER_W_M2: f64 = 0.06e-3 / 60.0 / 1000.0;
/// Depth at which cracks and surface recession have halved the growth of the insulating layer, and the layer's conductance,
/// m²/s at 50 kW/m²: the pair for which the rate under the standard fire is that of EN 1995-1-2 and stays the same from half
/// an hour to one and a half, as the standard's single figure says, and for which the slab's release falls from its peak as it was recorded.
const CHAR_LIMIT_M: f64 = 0.012;
const LAYER_M2_S: f64 = 4.0e-6 / 60.0;
/// Char front temperature, 300 °C (EN 1995-1-2).
const FRONT_K: f64 = 573.15;
/// Excess of a black surface in radiative equilibrium with 50 kW/m² over the front.
const EXCESS_AT_50_K: f64 = 395.8;
/// Flux below which bare wood only smoulders.
const CRITICAL_W_M2: f64 = 6_000.0;

/// Speed of the char front into the wood, m/s.
///
/// 1/β = 1/β_bare + δ_eff/K: fresh wood gasifies with the flux, formed char resists as a layer that
/// saturates, δ_eff = δ/(1 + δ/12 mm); its conductance K grows with the excess of the surface (radiative
/// equilibrium with the flux) over the 300 °C front. Both vanish smoothly below about 6 kW/m², where wood
/// only smoulders. Density and moisture by Schaffer's ratio, see [`wood_factor`].
///
/// - `q_incident_w_m2` radiation and convection on a black, warm surface, >= 0; 10 to 150 kW/m²
/// - `char_depth_m` char on this face, >= 0
/// - `density_kg_m3` oven-dry; 300 to 800; `moisture_wet` [-] 0 to 0.5
///
/// Scatter: multiplier 0.6 to 1.6. Sources: EN 1995-1-2 table 3.1; Aalto University's cone records; A. Tewarson (from memory); E. L. Schaffer,
/// FPL 69 (1967) (from memory). Evidence: `published_charring_under_iso_834_matches_en_1995_1_2`,
/// `published_charring_at_50_kw_follows_the_spruce_cone_plateau`, `published_crib_stick_speed_order`.
#[inline]
pub fn front_speed_m_s(
    q_incident_w_m2: f64,
    char_depth_m: f64,
    density_kg_m3: f64,
    moisture_wet: f64,
) -> f64 {
    Front::new(q_incident_w_m2).speed_m_s(char_depth_m, density_kg_m3, moisture_wet)
}

/// What [`front_speed_m_s`] has of the flux alone: sticks that lie in one fire share it.
#[derive(Debug, Clone, Copy)]
pub struct Front {
    bare_m_s: f64,
    layer_m2_s: f64,
}

impl Front {
    /// At an incident flux.
    #[inline]
    pub fn new(q_incident_w_m2: f64) -> Self {
        let q = q_incident_w_m2.max(0.0);
        let r = q * (1.0 / CRITICAL_W_M2);
        let r4 = (r * r) * (r * r);
        let surface_k = (q * (1.0 / STEFAN_BOLTZMANN)).sqrt().sqrt();
        Self {
            bare_m_s: BARE_M_S_PER_W_M2 * q * r4 / (1.0 + r4),
            layer_m2_s: LAYER_M2_S / EXCESS_AT_50_K * smooth_positive(surface_k - FRONT_K, 60.0),
        }
    }

    /// Speed under `char_depth_m` of char, m/s.
    #[inline]
    pub fn speed_m_s(&self, char_depth_m: f64, density_kg_m3: f64, moisture_wet: f64) -> f64 {
        self.reference_speed_m_s(char_depth_m) * wood_factor(density_kg_m3, moisture_wet)
    }

    /// The same in the wood that [`wood_factor`] is relative to, m/s.
    #[inline]
    pub fn reference_speed_m_s(&self, char_depth_m: f64) -> f64 {
        let (bare, layer) = (self.bare_m_s, self.layer_m2_s);
        if bare <= 1e-15 {
            return 0.0;
        }
        // Char in series with the bare front counts as depth/(1 + depth/limit); both fractions as one.
        let depth = char_depth_m.max(0.0);
        let limited = layer * (1.0 + depth * (1.0 / CHAR_LIMIT_M));
        bare * limited / (limited + bare * depth)
    }
}

/// Front speed relative to softwood of 450 kg/m³ at 12 % moisture (dry basis), after Schaffer.
///
/// [(28.73 + 0.578 u₀) ρ₀ + 4.187] / [(28.73 + 0.578 u) ρ + 4.187], u moisture in % of dry mass, ρ in g/cm³
///
/// Schaffer's Douglas fir line; it covers the spread from softwood 0.65 to hardwood 0.50 mm/min of EN 1995-1-2.
/// Evidence: `published_hardwood_chars_slower_as_in_en_1995_1_2`.
#[inline]
pub fn wood_factor(density_kg_m3: f64, moisture_wet: f64) -> f64 {
    let w = moisture_wet.clamp(0.0, 0.8);
    let u = 100.0 * w / (1.0 - w);
    let line = |rho_g_cm3: f64, u: f64| (28.73 + 0.578 * u) * rho_g_cm3 + 4.187;
    line(0.450, 12.0) / line(1e-3 * density_kg_m3, u)
}

/// Time to piloted ignition of a thick stick under a steady flux, s (thermally thick).
///
/// t = (π/4) k ρ c [(T_ign − T_0)/q]²
///
/// - `q_w_m2` net absorbed flux; at or below 100 W/m² the time at 100 W/m² is returned (hours)
///
/// Source: J. G. Quintiere, Fundamentals of Fire Phenomena, ch. 7. Evidence: `published_ignition_time_of_spruce_at_50_kw`.
#[inline]
pub fn ignition_time_s(
    q_w_m2: f64,
    k_w_mk: f64,
    rho_kg_m3: f64,
    c_j_kgk: f64,
    t_ign_k: f64,
    t_0_k: f64,
) -> f64 {
    let x = (t_ign_k - t_0_k).max(0.0) / q_w_m2.max(100.0);
    std::f64::consts::FRAC_PI_4 * k_w_mk * rho_kg_m3 * c_j_kgk * x * x
}

/// Gas and size that limit the burning of char.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CharGas {
    /// Mass fraction of O2 in the gas.
    pub y_o2: f64,
    pub rho_kg_m3: f64,
    /// Gas velocity past the char.
    pub velocity_m_s: f64,
    /// Kinematic viscosity.
    pub nu_m2_s: f64,
    /// Diffusivity of O2.
    pub diffusivity_m2_s: f64,
}

/// Molar ratio CO/CO2 leaving a char surface (Arthur 1951): 2500 exp(−6240 K/T).
///
/// Source: J. R. Arthur, Trans. Faraday Soc. 47 (1951) 164-178 (from memory).
#[inline]
pub fn co_to_co2_ratio(t_char_k: f64) -> f64 {
    2500.0 * quick_exp(-6240.0 / t_char_k.max(250.0))
}

/// kg of carbon taken by one kg of O2 at a char surface: 0.375 (all CO2, cold) to 0.75 (all CO, hot).
#[inline]
pub fn carbon_per_oxygen(t_char_k: f64) -> f64 {
    let r = co_to_co2_ratio(t_char_k);
    12.011 / 31.998 * (1.0 + r) / (1.0 + 0.5 * r)
}

/// Rate at which char burns per area of outer surface, kg carbon/(m² s): mass transfer and kinetics in series.
///
/// m = η ρ Y_O2 / (1/β + 1/k), β = Sh D/d, Sh = 2 + 0.6 Re^(1/2) Sc^(1/3), k = 1.715 T exp(−9000 K/T) m/s
///
/// - `t_char_k` char surface; `d_char_m` > 0 piece diameter
///
/// Falls with oxygen, rises with air velocity; at rest Sh = 2. In a dense bed the neighbours' wakes raise Sh: cover by the multiplier.
/// Source: Sh from W. E. Ranz, W. R. Marshall 1952; k from D. D. Evans, H. W. Emmons, Fire Research 1 (1977) 57-66 (from memory).
/// Evidence: `practice_char_burning_limits`.
#[inline]
pub fn char_burn_flux_kg_m2s(t_char_k: f64, d_char_m: f64, gas: &CharGas) -> f64 {
    heap_burn_kg_s(t_char_k, d_char_m, 1.0, 1.0, gas)
}

/// Rate at which a heap of char burns, kg carbon/s: oxygen comes in over its outer pieces and finds the surface of all.
///
/// As [`char_burn_flux_kg_m2s`], with the transfer over `outer_m2` and the kinetics over `all_m2`: m = η ρ Y_O2/(1/(β A_o) + 1/(k A)).
/// Hot heaps burn from outside, cooling ones glow throughout. Evidence: `identity_a_heap_of_one_layer_burns_as_its_pieces`.
#[inline(always)]
pub fn heap_burn_kg_s(
    t_char_k: f64,
    d_char_m: f64,
    outer_m2: f64,
    all_m2: f64,
    gas: &CharGas,
) -> f64 {
    let t = t_char_k.max(250.0);
    let by_transfer = transfer_m_s(d_char_m, gas) * outer_m2;
    let by_kinetics = 1.715 * t * quick_exp(-9000.0 / t) * all_m2;
    carbon_per_oxygen(t) * gas.rho_kg_m3 * gas.y_o2.max(0.0) * by_transfer * by_kinetics
        / (by_transfer + by_kinetics + 1e-30)
}

/// Mass transfer of oxygen to a sphere of char, m/s.
#[inline(always)]
fn transfer_m_s(d_char_m: f64, gas: &CharGas) -> f64 {
    let d = d_char_m.max(1e-4);
    let re = gas.velocity_m_s.abs() * d / gas.nu_m2_s;
    let sh = 2.0 + 0.6 * re.sqrt() * cube_root(gas.nu_m2_s / gas.diffusivity_m2_s);
    sh * gas.diffusivity_m2_s / d
}
