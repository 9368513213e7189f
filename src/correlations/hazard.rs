//! Hand formulas of what can go wrong: trapped water, bursting tubes, steam through a relief valve, time to boil, a dry
//! coil. Plain functions; water and metal come as values.

use std::f64::consts::PI;

/// Isothermal compressibility of liquid water at atmospheric pressure, 1/Pa.
///
/// - `t_c` degC, 0 to 110; beyond it is continued by the same formula (at 200 degC within 5 % of steam tables), at most
///   250
///
/// Source: G. S. Kell 1975, J. Chem. Eng. Data 20:97, equation for 0..100 degC as in the Handbook of Chemistry and
/// Physics, from memory. Evidence: `published_compressibility_of_water_is_the_handbooks`.
pub fn water_compressibility_per_pa(t_c: f64) -> f64 {
    let t = t_c.clamp(0.0, 250.0);
    let p = [
        50.884_96,
        0.616_381_3,
        1.459_187e-3,
        20.084_38e-6,
        -58.477_27e-9,
        410.411_0e-12,
    ];
    let sum = p.iter().rev().fold(0.0, |s, c| s * t + c);
    sum / (1.0 + 19.673_48e-3 * t) * 1e-11
}

/// A tube as a vessel.
#[derive(Debug, Clone, Copy)]
pub struct TubeWall {
    pub outside_m: f64,
    pub inside_m: f64,
    pub young_pa: f64,
    pub poisson: f64,
    /// Linear, 1/K.
    pub expansion_per_k: f64,
}

impl TubeWall {
    /// Share by which the bore's volume grows per pascal, ends closed.
    ///
    /// (1/E) [3 (1 − 2ν) + 2 (1 + ν) K²]/(K² − 1), K = D/d: Lamé's thick cylinder with end load; for thin walls
    /// D/(t E) (5/4 − ν). Source: Timoshenko, Strength of Materials II, thick-walled cylinders.
    pub fn stretch_per_pa(&self) -> f64 {
        let k2 = (self.outside_m / self.inside_m).powi(2);
        (3.0 * (1.0 - 2.0 * self.poisson) + 2.0 * (1.0 + self.poisson) * k2)
            / ((k2 - 1.0) * self.young_pa)
    }

    /// Pressure at which the mean hoop stress is `stress_pa`: Barlow with the mean diameter, 2 S t/(D − t).
    pub fn barlow_pa(&self, stress_pa: f64) -> f64 {
        let t = 0.5 * (self.outside_m - self.inside_m);
        2.0 * stress_pa * t / (self.outside_m - t)
    }

    /// Pressure at which the stress at the bore is `stress_pa`: S (K² − 1)/(K² + 1). Source: Lamé 1852.
    pub fn lame_pa(&self, stress_pa: f64) -> f64 {
        let k2 = (self.outside_m / self.inside_m).powi(2);
        stress_pa * (k2 - 1.0) / (k2 + 1.0)
    }

    /// Rated pressure of the tube tables, 2 S t/(D − 0.8 t). Source: ASME B31, as in the Copper Tube Handbook.
    /// Evidence: `published_rated_pressures_of_copper_tube`.
    pub fn rated_pa(&self, allowable_pa: f64) -> f64 {
        let t = 0.5 * (self.outside_m - self.inside_m);
        2.0 * allowable_pa * t / (self.outside_m - 0.8 * t)
    }
}

/// Pressure rise of water shut in by two valves, for rises of the water's and the metal's temperature, Pa.
///
/// Δp = (β ΔT_water − 3 α ΔT_metal)/(κ + stretch): volume of water and bore stay equal. Liquid full: no bubble of air,
/// which would soften it; linear, for steps over which β and κ hold.
///
/// - `expansion_per_k` volumetric, of water; `compressibility_per_pa` isothermal
pub fn trapped_rise_pa(
    tube: &TubeWall,
    expansion_per_k: f64,
    compressibility_per_pa: f64,
    water_rise_k: f64,
    metal_rise_k: f64,
) -> f64 {
    (expansion_per_k * water_rise_k - 3.0 * tube.expansion_per_k * metal_rise_k)
        / (compressibility_per_pa + tube.stretch_per_pa())
}

/// Steam that heat makes of boiling water, kg/h.
pub fn steam_kg_h(heat_w: f64, h_fg_j_kg: f64) -> f64 {
    3600.0 * heat_w / h_fg_j_kg
}

/// Dry saturated steam through a valve's flow area at the critical velocity, kg/h.
///
/// Napier as in API 520-1 and ASME BPVC I/VIII: W = 51.5 A P K_d with lb/h, in², psia; W = 5.25 A P K_d with kg/h, mm², MPa.
///
/// - `area_m2` narrowest flow area; `p_pa` absolute, with the overpressure; `discharge` K_d, certified for the valve
///
/// Up to 10.3 MPa; the outlet below 0.577 of the inlet's absolute pressure, so from 0.75 bar over the air's on; below that
/// [`steam_flow_kg_h`]. Evidence: `published_napier_worked_example`.
pub fn napier_kg_h(area_m2: f64, p_pa: f64, discharge: f64) -> f64 {
    const LB_KG: f64 = 0.453_592_37;
    const IN2_M2: f64 = 6.4516e-4;
    const PSI_PA: f64 = 6894.757;
    51.5 * LB_KG * area_m2 / IN2_M2 * p_pa / PSI_PA * discharge
}

/// Dry saturated steam through a valve as EN ISO 4126-1 has it, at any outlet pressure, kg/h.
///
/// Q_m = 0.2883 C A K_dr √(p_0/v) [kg/h, mm², bar, m³/kg], C = 3.948 √(k (2/(k+1))^((k+1)/(k−1))), below the critical
/// pressure ratio times K_b, the isentropic flow over the critical one. k = 1.135 for saturated steam (Zeuner).
/// Source: EN ISO 4126-1 clause 8, from memory. Evidence: `identity_the_two_steam_formulas_agree`.
///
/// - `v_m3_kg` of the steam at the inlet, `back_pa` absolute
pub fn steam_flow_kg_h(area_m2: f64, p_pa: f64, v_m3_kg: f64, back_pa: f64, discharge: f64) -> f64 {
    let k = 1.135f64;
    let c = 3.948 * (k * (2.0 / (k + 1.0)).powf((k + 1.0) / (k - 1.0))).sqrt();
    let critical = (2.0 / (k + 1.0)).powf(k / (k - 1.0));
    let r = (back_pa / p_pa).clamp(0.0, 1.0);
    let isentropic = |r: f64| (r.powf(2.0 / k) - r.powf((k + 1.0) / k)).max(0.0).sqrt();
    let k_b = if r > critical {
        isentropic(r) / isentropic(critical)
    } else {
        1.0
    };
    0.2883 * c * k_b * area_m2 * 1e6 * discharge * (p_pa * 1e-5 / v_m3_kg).sqrt()
}

/// Cold water through a valve as EN ISO 4126-1 has it, kg/h.
///
/// Q_m = 1.61 A K_dr K_v √((p_0 − p_b)/v) [kg/h, mm², bar, m³/kg]; K_v = 1, water's viscosity is no hindrance. That is
/// A K_dr √(2 ρ Δp). Source: EN ISO 4126-1 clause 8, from memory. Water hotter than its boiling point at `back_pa`
/// flashes in the valve, which then passes less: between this and [`steam_flow_kg_h`] (EN ISO 4126-10 is left out).
/// Evidence: `published_water_through_a_relief_valve_is_that_of_the_us_formula`.
pub fn water_flow_kg_h(
    area_m2: f64,
    p_pa: f64,
    rho_kg_m3: f64,
    back_pa: f64,
    discharge: f64,
) -> f64 {
    3600.0 * area_m2 * discharge * (2.0 * rho_kg_m3 * (p_pa - back_pa).max(0.0)).sqrt()
}

/// Steam that a vessel of hot water makes as its pressure falls to the air's, kg: M (h_f − h_f,air)/h_fg,air, at the
/// vessel's own heat content (adiabatic, all at once).
pub fn burst_steam_kg(water_kg: f64, over_boiling_j_kg: f64, h_fg_j_kg: f64) -> f64 {
    water_kg * (over_boiling_j_kg.max(0.0) / h_fg_j_kg).min(1.0)
}

/// Bore of a round hole of this area, m.
pub fn bore_m(area_m2: f64) -> f64 {
    (4.0 * area_m2 / PI).sqrt()
}

/// Time in which standing water comes to boil, s: (m c + C_metal)(T_sat − T)/Q. None where it boils already.
pub fn time_to_boil_s(
    water_kg: f64,
    cp_j_kgk: f64,
    metal_j_k: f64,
    to_boiling_k: f64,
    heat_w: f64,
) -> f64 {
    (water_kg * cp_j_kgk + metal_j_k) * to_boiling_k.max(0.0) / heat_w
}

/// Temperature of a dry coil in gas after a time, K: one lump, C dT/dt = U A (T_gas − T).
///
/// - `gas_w_k` film and radiation together, at the mean of the two temperatures
pub fn dry_coil_k(start_k: f64, gas_k: f64, metal_j_k: f64, gas_w_k: f64, time_s: f64) -> f64 {
    gas_k + (start_k - gas_k) * (-time_s * gas_w_k / metal_j_k).exp()
}

/// Time in which that lump comes to a temperature, s; infinite where the gas is not hotter than it.
pub fn dry_coil_time_s(
    start_k: f64,
    gas_k: f64,
    metal_j_k: f64,
    gas_w_k: f64,
    limit_k: f64,
) -> f64 {
    if limit_k <= start_k {
        0.0
    } else if limit_k >= gas_k {
        f64::INFINITY
    } else {
        metal_j_k / gas_w_k * ((gas_k - start_k) / (gas_k - limit_k)).ln()
    }
}

/// Steam that a hot dry coil makes of the water that is let in, kg: its heat over boiling, at most all the water.
///
/// C (T − T_sat)/(h_fg + c (T_sat − T_in)): the water is first warmed to boiling. How fast is not told: film boiling holds it
/// back at first, and then it comes all at once.
pub fn flash_steam_kg(
    metal_j_k: f64,
    over_saturation_k: f64,
    h_fg_j_kg: f64,
    subcooling_j_kg: f64,
) -> f64 {
    metal_j_k * over_saturation_k.max(0.0) / (h_fg_j_kg + subcooling_j_kg.max(0.0))
}
