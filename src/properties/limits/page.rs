//! The limits as a page for people: `docs/limits.md` is this text, and a test holds it to that.

use super::*;
use crate::properties::metals;
use crate::properties::water::Water;
use std::fmt::Write;

/// The page.
pub fn markdown() -> String {
    let mut s = String::from(
        "# Limits\n\nWritten from the data in `src/properties/limits/`; a test holds this page to them. Screening figures for people who heat \
         water with a fire. None of them is a clearance to build or run: **local codes and licensed practice decide**. \
         \"From memory\" means that the figure has not been looked up again.\n\n## Strength of tubes\n\n",
    );
    s.push_str("Allowable stress gives the pressure of a tube by P = 2 S t / (D − 0.8 t), with the least wall and the largest outside diameter \
                (ASME B31, as the Copper Tube Handbook writes it). Beyond the last temperature nothing is allowed. A coil that has been bent or \
                brazed counts as annealed.\n\n| metal | allowable stress, MPa at °C | tensile strength, MPa at °C |\n|---|---|---|\n");
    let list = |points: &[(f64, f64)]| {
        let words: Vec<String> = points
            .iter()
            .map(|(t, v)| format!("{v:.0} at {t:.0}"))
            .collect();
        words.join(", ")
    };
    for m in strength::table() {
        let temper = match (m.metal, m.temper) {
            ("copper", Temper::Annealed) => ", annealed",
            ("copper", Temper::Drawn) => ", drawn",
            _ => "",
        };
        let soft = m
            .softening_c
            .map_or(String::new(), |(_, why)| format!(" Softening: {why}."));
        let _ = writeln!(
            s,
            "| {}{temper} | {} ({}) | {} ({}).{soft} |",
            m.metal,
            list(m.allowable),
            m.allowable_source,
            list(m.tensile),
            m.tensile_source
        );
    }
    s.push_str("\n| metal | Young's modulus, GPa | Poisson's ratio | growth of 10 m by 60 K, mm | source |\n|---|---|---|---|---|\n");
    for m in metals::table() {
        let e = elastic(m.name);
        let _ = writeln!(
            s,
            "| {} | {:.0} | {} | {:.1} | elasticity: {} |",
            m.name,
            e.young_pa / 1e9,
            e.poisson,
            1e3 * m.expansion_per_k * 10.0 * 60.0,
            e.source
        );
    }
    s.push_str("\n## Joints\n\nA joint with water behind it stays near the water's temperature; a dry one does not.\n\n| filler | melts from, °C | molten at, °C | source | |\n|---|---|---|---|---|\n");
    for j in JOINTS {
        let _ = writeln!(
            s,
            "| {} | {} | {} | {} | {} |",
            j.name, j.solidus_c, j.liquidus_c, j.source, j.remark
        );
    }
    s.push_str("\n## Hot water on skin\n\nAdults; children burn in a fraction of the time.\n\n| water, °C | second degree, s | full depth, s | source |\n|---|---|---|---|\n");
    for p in SCALD {
        let _ = writeln!(
            s,
            "| {} | {} | {} | {} |",
            p.t_c, p.second_degree_s, p.full_depth_s, p.source
        );
    }
    s.push_str("\n## Water that expands\n\nFrom 4 °C, at the loop's pressure; from the program's own water table (IAPWS-IF97).\n\n| to, °C | more volume, % |\n|---|---|\n");
    let water = Water::shared();
    for t in [20.0, 40.0, 60.0, 80.0, 90.0, 100.0] {
        let more = water.rho_kg_m3(277.15) / water.rho_kg_m3(t + ZERO_C_K) - 1.0;
        let _ = writeln!(s, "| {t} | {:.1} |", 100.0 * more);
    }
    let _ = writeln!(
        s,
        "\n## Metals that touch\n\n{}. From about {} V apart a couple in fresh water is usually parted (common practice, no source); copper before \
         galvanised steel is the worst of the common ones, because dissolved copper plates out on the zinc.\n\n| metal | V |\n|---|---|",
        galvanic::SOURCE,
        GALVANIC_CAUTION_V
    );
    for g in GALVANIC {
        let _ = writeln!(s, "| {} | {:.2} to {:.2} |", g.metal, g.low_v, g.high_v);
    }
    s.push_str("\n## Cautions\n\n| what | value | source |\n|---|---|---|\n");
    for c in CAUTIONS {
        let value = if c.value == c.high {
            format!("{}", c.value)
        } else {
            format!("{} to {}", c.value, c.high)
        };
        let unit = if c.unit == "degC" { "°C" } else { c.unit };
        let _ = writeln!(s, "| {} | {value} {unit} | {} |", c.what, c.source);
    }
    s
}
