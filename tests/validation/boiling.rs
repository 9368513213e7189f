//! Boiling, critical flux, two-phase flow.

use super::check::{Check, Source};
use super::support::steam::{ATM, RHO_F, RHO_G, STEAM_AND_WATER, WATER};
use emberloop::correlations::boiling::{
    BoilingStream, Saturated, flow_boiling_h_w_m2k, gorenflo_w_m2k, onset_superheat_k,
    pool_cooper_at_superheat_w_m2k, pool_cooper_w_m2k, rohsenow_flux_w_m2, zuber_chf_w_m2,
};
use emberloop::correlations::two_phase::{
    friction_multiplier_friedel, slip_chisholm, slip_zivi, void_fraction,
};

const BERGLES: Source = Source::published(
    "Bergles & Rohsenow 1964",
    "onset, 50 kW/m², 1.013 bar, closed form; formula from memory",
);
const EXAMPLE_10_1: Source = Source::published(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Example 10.1; book answer from memory",
);
const ROHSENOW: Source = Source::published("Rohsenow 1952", "ht 1.2.0 Rohsenow");
const ZUBER: Source = Source::published("Zuber 1958", "ht 1.2.0 Zuber, K 0.149");
const COOPER: Source = Source::published("Cooper 1984", "ht 1.2.0 boiling_nucleic.Cooper");
const GORENFLO: Source = Source::published("Gorenflo 1993", "ht 1.2.0 boiling_nucleic.Gorenflo");
const LIU: Source = Source::published(
    "Liu & Winterton 1991",
    "ht 1.2.0, G 300 kg/m² s, 20 mm, 1 atm, superheat 8 K",
);
const VOID: Source = Source::published("Zivi 1964; Chisholm 1972", "fluids 1.3.1, water at 1 atm");
const FRIEDEL: Source = Source::published(
    "Friedel 1979",
    "fluids 1.3.1, G 300 kg/m² s, 20 mm, water at 1 atm",
);

pub fn rows() -> Vec<Check> {
    let kw = |s: &Saturated| 1e-3 * rohsenow_flux_w_m2(18.0, s, 0.0128, 1.0);
    // The book prints Pr = 1.76 beside a conductivity that gives 1.73; the flux goes with Pr^-3.
    let tabulated = Saturated {
        k_f_w_mk: 4217.0 * 279e-6 / 1.76,
        ..WATER
    };
    let mut rows = vec![
        ROHSENOW.relative(
            "pool boiling on polished copper, 18 K",
            "kW/m²",
            880.4,
            kw(&WATER),
            0.01,
        ),
        EXAMPLE_10_1.relative(
            "the same with the tabulated Pr 1.76",
            "kW/m²",
            836.0,
            kw(&tabulated),
            0.01,
        ),
        ZUBER.relative(
            "critical flux of a pool, 1 atm",
            "MW/m²",
            1.25854,
            1e-6 * zuber_chf_w_m2(&WATER),
            0.01,
        ),
        EXAMPLE_10_1.relative(
            "critical flux of a pool, 1 atm",
            "MW/m²",
            1.26,
            1e-6 * zuber_chf_w_m2(&WATER),
            0.01,
        ),
        BERGLES.relative(
            "superheat at the onset of boiling",
            "K",
            3.25897,
            onset_superheat_k(50e3, 1.013e5),
            1e-4,
        ),
        COOPER.relative(
            "pool boiling, 50 kW/m², 1 atm",
            "W/m² K",
            5990.157,
            pool_cooper_w_m2k(5e4, ATM),
            1e-3,
        ),
        COOPER.relative(
            "pool boiling, 100 kW/m², 3 bar",
            "W/m² K",
            12288.094,
            pool_cooper_w_m2k(1e5, 3e5),
            1e-3,
        ),
        GORENFLO.relative(
            "pool boiling, 50 kW/m², 1 atm",
            "W/m² K",
            4571.322,
            gorenflo_w_m2k(5e4, ATM),
            1e-3,
        ),
        GORENFLO.relative(
            "two models of pool boiling, 50 kW/m², 1 atm",
            "W/m² K",
            4571.322,
            pool_cooper_w_m2k(5e4, ATM),
            0.35,
        ),
    ];
    let re_lo: f64 = 300.0 * 0.02 / WATER.mu_f_pa_s;
    let pr_f: f64 = WATER.cp_f_j_kgk * WATER.mu_f_pa_s / WATER.k_f_w_mk;
    let h_liquid = 0.023 * re_lo.powf(0.8) * pr_f.powf(0.4) * WATER.k_f_w_mk / 0.02;
    let h_pool = pool_cooper_at_superheat_w_m2k(8.0, ATM);
    for (x, h) in [(0.0, 5176.088), (0.1, 20853.895), (0.3, 30277.949)] {
        let s = BoilingStream {
            x,
            re_lo,
            pr_f,
            density_ratio: RHO_F / RHO_G,
        };
        rows.push(LIU.relative(
            format!("flow boiling, quality {x}"),
            "W/m² K",
            h,
            flow_boiling_h_w_m2k(h_liquid, h_pool, &s),
            1e-3,
        ));
    }
    for (x, zivi, chisholm) in [(0.02, 0.736942, 0.850770), (0.1, 0.938470, 0.933562)] {
        let void = |slip| void_fraction(x, RHO_F, RHO_G, slip);
        rows.push(VOID.relative(
            format!("void fraction, Zivi, quality {x}"),
            "",
            zivi,
            void(slip_zivi(RHO_F, RHO_G)),
            1e-3,
        ));
        rows.push(VOID.relative(
            format!("void fraction, Chisholm, quality {x}"),
            "",
            chisholm,
            void(slip_chisholm(x, RHO_F, RHO_G)),
            1e-3,
        ));
    }
    let s = STEAM_AND_WATER;
    for (x, phi) in [(0.02, 40.92699), (0.1, 120.9188), (0.3, 292.3274)] {
        rows.push(FRIEDEL.relative(
            format!("two-phase friction multiplier, quality {x}"),
            "",
            phi,
            friction_multiplier_friedel(x, &s),
            1e-3,
        ));
    }
    rows
}
