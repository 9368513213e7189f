//! Heat transfer of gas and water at ducts, tubes, banks and outer surfaces.

use super::check::{Check, Source};
use emberloop::correlations::natural_convection::{
    churchill_chu_cylinder, churchill_chu_plate, horizontal_plate_down, horizontal_plate_up,
    vertical_slender_cylinder,
};
use emberloop::correlations::nusselt_external::{
    Arrangement, TubeBank, bank_gnielinski, churchill_bernstein, zukauskas_bank, zukauskas_cylinder,
};
use emberloop::correlations::nusselt_internal::{
    dittus_boelter, duct, gnielinski, hausen, helix, helix_laminar_manlapaz_churchill,
    laminar_developing,
};
use std::f64::consts::PI;

const GNIELINSKI: Source = Source::published("Gnielinski 1976", "ht 1.2.0 turbulent_Gnielinski");
const DITTUS: Source =
    Source::published("Dittus & Boelter 1930", "ht 1.2.0 turbulent_Dittus_Boelter");
const HAUSEN: Source = Source::published("Hausen 1943", "ht 1.2.0 laminar_entry_thermal_Hausen");
const EXAMPLE_7_3: Source = Source::published(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Example 7.3; ht 1.2.0",
);
const EXAMPLE_9_2: Source = Source::published(
    "Bergman et al., Introduction to Heat Transfer, 6th ed.",
    "Example 9.2 (book 147); ht 1.2.0",
);
const CHURCHILL_CHU: Source = Source::published(
    "Churchill & Chu 1975",
    "ht 1.2.0 Nu_horizontal_cylinder_Churchill_Chu",
);
const MCADAMS: Source = Source::published("McAdams", "ht 1.2.0 Nu_horizontal_plate_McAdams");
const POPIEL: Source = Source::published(
    "Popiel et al. 2007",
    "ht 1.2.0 Nu_vertical_cylinder_Popiel_Churchill",
);
const ZUKAUSKAS: Source = Source::published("Zukauskas 1972", "ht 1.2.0 Nu_cylinder_Zukauskas");
const ZUKAUSKAS_BANK: Source = Source::published(
    "Zukauskas 1972",
    "ht 1.2.0 Nu_Zukauskas_Bejan, in-line exponent repaired; row factor read off a figure, 4 %",
);
const HEDH: Source = Source::published(
    "Gnielinski 1978 (Heat Exchanger Design Handbook)",
    "ht 1.2.0 Nu_HEDH_tube_bank",
);
const GRIMISON: Source = Source::published(
    "Grimison 1937",
    "ht 1.2.0 Nu_Grimison_tube_bank, 11 rows, 50 x 50 mm, 25 mm, Re 10,263; our banks are two other models, each ± 15 %",
);
const GADDIS: Source = Source::published(
    "Gaddis & Gnielinski 1983 (VDI Heat Atlas L1.4)",
    "staggered bank in closed form; formula from memory",
);
const HELIX: Source = Source::published(
    "Schmidt 1967; Mori & Nakayama 1967; Xin & Ebadian 1997",
    "ht 1.2.0; ours is Gnielinski 1986 (VDI G3), stated ± 15 %",
);
const GRAETZ: Source = Source::analytic("Graetz problem", "long tube, wall of one temperature");
const MANLAPAZ: Source = Source::published(
    "Manlapaz & Churchill 1981",
    "laminar coil, De 224; formula from memory; both models ± 15 %",
);

pub fn rows() -> Vec<Check> {
    let mut rows = inside();
    rows.extend(across());
    rows.extend(outside());
    rows
}

fn inside() -> Vec<Check> {
    let mut rows = vec![
        GNIELINSKI.relative(
            "tube, Re 1e5, Pr 1.2, f 0.0185",
            "Nu",
            254.627,
            gnielinski(1e5, 1.2, 0.0185),
            1e-3,
        ),
        GNIELINSKI.relative(
            "tube, Re 2e4, Pr 5, f 0.0259",
            "Nu",
            128.6695,
            gnielinski(2e4, 5.0, 0.0259),
            1e-3,
        ),
        DITTUS.relative(
            "tube, Re 1e5, Pr 1.2, heating",
            "Nu",
            247.4004,
            dittus_boelter(1e5, 1.2, true),
            1e-3,
        ),
        DITTUS.relative(
            "tube, Re 1e5, Pr 1.2, cooling",
            "Nu",
            242.9306,
            dittus_boelter(1e5, 1.2, false),
            1e-3,
        ),
        HAUSEN.relative(
            "laminar, developing, Re 1000, Pr 0.7, D/L 0.05",
            "Nu",
            5.297261,
            hausen(1000.0, 0.7, 0.05),
            1e-3,
        ),
        HAUSEN.relative(
            "the model's laminar branch at Re 500, Pr 100, Gz 50",
            "Nu",
            hausen(500.0, 100.0, 1e-3),
            laminar_developing(500.0, 100.0, 1e-3),
            0.09,
        ),
        GRAETZ.relative("long laminar duct", "Nu", 3.66, duct(100.0, 0.7, 0.0), 1e-3),
    ];
    // Smooth-pipe friction of fluids 1.3.1 in that library, the explicit formula in ours: 3 %.
    for (re, pr, nu) in [
        (6e3, 10.0, 54.37335),
        (2e4, 10.0, 169.3164),
        (1e5, 10.0, 697.1971),
    ] {
        rows.push(GNIELINSKI.relative(
            format!("the model's duct, Re {re:.0}, Pr {pr}"),
            "Nu",
            nu,
            duct(re, pr, 0.0),
            0.03,
        ));
    }
    let ours = helix(2e5, 0.7, 0.05);
    for (what, nu) in [
        ("Schmidt", 466.257),
        ("Mori & Nakayama", 496.252),
        ("Xin & Ebadian", 474.114),
    ] {
        rows.push(HELIX.relative(
            format!("coil, Re 2e5, Pr 0.7, d/D 0.05, against {what}"),
            "Nu",
            nu,
            ours,
            0.15,
        ));
    }
    for (re, pr, r, family) in [
        (2e4, 2.0, 0.11, [123.62, 105.81, 102.08]),
        (5e4, 5.0, 0.11, [349.68, 326.24, 342.16]),
    ] {
        rows.push(HELIX.relative(
            format!("coil, Re {re:.0}, Pr {pr}, d/D {r}, against the mean of the three"),
            "Nu",
            family.iter().sum::<f64>() / 3.0,
            helix(re, pr, r),
            0.15,
        ));
    }
    let de = 1000.0 * 0.05f64.sqrt();
    rows.push(MANLAPAZ.relative(
        "coil, laminar, Re 1000, Pr 5, d/D 0.05",
        "Nu",
        helix_laminar_manlapaz_churchill(de, 5.0),
        helix(1000.0, 5.0, 0.05),
        0.15,
    ));
    rows
}

fn across() -> Vec<Check> {
    let mut rows = vec![EXAMPLE_7_3.relative(
        "cylinder, Churchill & Bernstein, Re 6071, Pr 0.7",
        "Nu",
        40.6371,
        churchill_bernstein(6071.0, 0.7),
        1e-3,
    )];
    for (re, nu) in [(100.0, 5.211289), (2000.0, 22.93134), (10_000.0, 53.9301)] {
        rows.push(
            Source::published(
                "Churchill & Bernstein 1977",
                "ht 1.2.0 Nu_cylinder_Churchill_Bernstein",
            )
            .relative(
                format!("cylinder, Re {re}, Pr 0.72"),
                "Nu",
                nu,
                churchill_bernstein(re, 0.72),
                1e-3,
            ),
        );
    }
    rows.push(EXAMPLE_7_3.relative(
        "cylinder, Zukauskas, Re 7992, Pr 0.707, wall 0.69",
        "Nu",
        50.5236,
        zukauskas_cylinder(7992.0, 0.707) * (0.707f64 / 0.69).powf(0.25),
        1e-3,
    ));
    for (re, nu) in [(20.0, 2.178510), (200.0, 6.320791), (5e5, 649.7987)] {
        rows.push(ZUKAUSKAS.relative(
            format!("cylinder, Re {re}, Pr 0.7"),
            "Nu",
            nu,
            zukauskas_cylinder(re, 0.7),
            1e-3,
        ));
    }
    for (kind, name, a_over_b, re, n, nu) in [
        (Arrangement::Inline, "in line", 1.0, 500.0, 4.0, 9.259001),
        (Arrangement::Inline, "in line", 1.0, 3000.0, 16.0, 36.5966),
        (Arrangement::Inline, "in line", 1.0, 1e4, 1.0, 53.2181),
        (
            Arrangement::Staggered,
            "staggered",
            4.0 / 3.0,
            3000.0,
            16.0,
            39.5441,
        ),
    ] {
        rows.push(ZUKAUSKAS_BANK.relative(
            format!("bank, {name}, Re {re:.0}, Pr 0.7, {n} rows"),
            "Nu",
            nu,
            zukauskas_bank(re, 0.7, kind, a_over_b, n),
            0.04,
        ));
    }
    for (re, a, n, nu) in [(500.0, 1.5, 4.0, 29.762102), (5000.0, 2.0, 20.0, 94.893581)] {
        let void = 1.0 - PI / 4.0 / a;
        rows.push(HEDH.relative(
            format!("bank, in line, Re {re}, pitches {a}, {n} rows"),
            "Nu",
            nu,
            bank_gnielinski(re / void, 0.7, a, a, Arrangement::Inline, n),
            1e-3,
        ));
    }
    for (a, b, re, xi, gap) in [
        (2.0, 1.5, 1e4, 0.3562478, 2.0),
        (2.0, 0.9, 1e4, 0.3564461, 2.8955091),
        (1.5, 2.5, 2e3, 0.6355441, 3.0),
    ] {
        let bank = TubeBank::new(a, b, Arrangement::Staggered, 10.0);
        rows.push(GADDIS.relative(
            format!("loss per row, staggered {a} x {b}, Re {re:.0}"),
            "",
            xi,
            bank.loss_per_row(re),
            0.005,
        ));
        rows.push(GADDIS.relative(
            format!("narrowest gap over free velocity, staggered {a} x {b}"),
            "",
            gap,
            bank.contraction(),
            0.005,
        ));
    }
    // Both on the tube's diameter and the gap's velocity.
    let bank = TubeBank::new(2.0, 2.0, Arrangement::Inline, 11.0);
    let re_psi = 10_263.37 / bank.contraction() * 0.5 * PI / bank.void();
    rows.push(GRIMISON.relative(
        "bank, against the model's Gnielinski bank",
        "Nu",
        79.0788,
        bank.nusselt(re_psi, 0.708) / (0.5 * PI),
        0.15,
    ));
    rows.push(GRIMISON.relative(
        "bank, against the second model (Zukauskas)",
        "Nu",
        79.0788,
        zukauskas_bank(10_263.37, 0.708, Arrangement::Inline, 1.0, 11.0),
        0.15,
    ));
    rows
}

fn outside() -> Vec<Check> {
    vec![
        EXAMPLE_9_2.relative(
            "vertical plate, Pr 0.69, Gr 2.63e9",
            "Nu",
            147.162,
            churchill_chu_plate(0.69 * 2.63e9, 0.69),
            1e-3,
        ),
        CHURCHILL_CHU.relative(
            "horizontal cylinder, Pr 0.69, Gr 2.63e9",
            "Nu",
            139.135,
            churchill_chu_cylinder(0.69 * 2.63e9, 0.69),
            1e-3,
        ),
        CHURCHILL_CHU.relative(
            "horizontal cylinder, Pr 0.7, Gr 1e5",
            "Nu",
            7.076842,
            churchill_chu_cylinder(0.7e5, 0.7),
            1e-3,
        ),
        POPIEL.relative(
            "slender vertical cylinder, Pr 0.7, Gr 1e10, 2.5 m by 1 m",
            "Nu",
            228.898,
            vertical_slender_cylinder(1e10, 0.7, 2.5),
            1e-3,
        ),
        MCADAMS.relative(
            "horizontal plate, hot side up, Ra 1e6",
            "Nu",
            17.076299,
            horizontal_plate_up(1e6),
            0.01,
        ),
        MCADAMS.relative(
            "horizontal plate, hot side up, Ra 1e9",
            "Nu",
            150.0,
            horizontal_plate_up(1e9),
            0.01,
        ),
        MCADAMS.relative(
            "horizontal plate, hot side down, Ra 1e8",
            "Nu",
            27.0,
            horizontal_plate_down(1e8),
            1e-3,
        ),
    ]
}
