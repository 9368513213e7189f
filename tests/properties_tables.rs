//! Rows of the tables of tubes, pipes, metals, materials and woods, each against a published figure of another kind (weights, other units,
//! laws) or, where the material itself scatters more, against that scatter.

use emberloop::properties::{metals, pipes, solids, tubes, wood};
use std::f64::consts::{FRAC_PI_4, PI};

fn close(name: &str, got: f64, want: f64, rel: f64) {
    assert!(
        (got - want).abs() <= rel * want.abs(),
        "{name}: got {got}, want {want}, relative error {:.2e}",
        got / want - 1.0
    );
}

/// Weight of a tube of this density, kg/m.
fn kg_m(name: &str, density_kg_m3: f64) -> f64 {
    let t = tubes::by_name(name).unwrap();
    FRAC_PI_4 * (t.outside_m * t.outside_m - t.inside_m * t.inside_m) * density_kg_m3
}

/// Weights in the tables of the standards and the trade (from memory): ASTM B88 and B280 in lb/ft at 0.323 lb/in3; EN 1057 and EN 10312 in
/// kg/m at 8900 and 8000 kg/m3; ISO 65 medium and ASME B36.10M schedule 40, plain ends, at 7850 kg/m3. A weight is wrong if either diameter
/// or wall is. Outside diameters: nominal and 1/8 in (B88), the name itself (B280, EN), thread sizes (pipe).
#[test]
fn published_tube_weights() {
    let b88 = [
        ("1/4", [0.145, 0.126, 0.0]),
        ("3/8", [0.269, 0.198, 0.145]),
        ("1/2", [0.344, 0.285, 0.204]),
        ("5/8", [0.418, 0.362, 0.0]),
        ("3/4", [0.641, 0.455, 0.328]),
        ("1", [0.839, 0.655, 0.465]),
        ("1-1/4", [1.04, 0.884, 0.682]),
        ("1-1/2", [1.36, 1.14, 0.940]),
        ("2", [2.06, 1.75, 1.46]),
    ];
    let lb_ft = 0.453_592_37 / 0.3048;
    let copper = 0.323 * 0.453_592_37 / 0.0254f64.powi(3);
    let in_inches = |text: &str| -> f64 {
        text.split('-')
            .map(|part| match part.split_once('/') {
                Some((a, b)) => a.parse::<f64>().unwrap() / b.parse::<f64>().unwrap(),
                None => part.parse().unwrap(),
            })
            .sum()
    };
    for (size, weights) in b88 {
        for (kind, lb) in ["K", "L", "M"].iter().zip(weights) {
            let name = format!("{size} in type {kind}");
            if lb == 0.0 {
                assert!(tubes::by_name(&name).is_none(), "{name}");
                continue;
            }
            close(&name, kg_m(&name, copper), lb * lb_ft, 0.012);
            let outside = tubes::by_name(&name).unwrap().outside_m / 0.0254;
            close(&name, outside, in_inches(size) + 0.125, 1e-9);
        }
    }
    for (size, lb) in [
        ("1/4", 0.0804),
        ("5/16", 0.109),
        ("3/8", 0.134),
        ("1/2", 0.182),
        ("5/8", 0.251),
        ("3/4", 0.305),
        ("7/8", 0.455),
        ("1-1/8", 0.655),
        ("1-3/8", 0.884),
    ] {
        let name = format!("{size} in ACR");
        close(&name, kg_m(&name, copper), lb * lb_ft, 0.012);
        let outside = tubes::by_name(&name).unwrap().outside_m / 0.0254;
        close(&name, outside, in_inches(size), 1e-9);
    }
    for (name, kg) in [
        ("8x1", 0.196),
        ("10x1", 0.252),
        ("12x1", 0.308),
        ("15x0.7", 0.280),
        ("15x1", 0.391),
        ("18x1", 0.475),
        ("22x0.9", 0.531),
        ("22x1", 0.587),
        ("22x1.2", 0.698),
        ("22x1.5", 0.860),
        ("28x0.9", 0.682),
        ("28x1", 0.755),
        ("28x1.2", 0.899),
        ("28x1.5", 1.11),
        ("35x1.2", 1.13),
        ("35x1.5", 1.40),
        ("42x1.2", 1.37),
        ("42x1.5", 1.70),
        ("54x1.5", 2.20),
        ("54x2", 2.91),
    ] {
        close(name, kg_m(name, 8900.0), kg, 0.012);
    }
    for (name, kg) in [
        ("15x1", 0.351),
        ("18x1", 0.426),
        ("22x1.2", 0.625),
        ("28x1.2", 0.805),
        ("35x1.5", 1.258),
        ("42x1.5", 1.521),
        ("54x1.5", 1.972),
    ] {
        let name = format!("{name} stainless");
        close(&name, kg_m(&name, 8000.0), kg, 0.01);
    }
    for (dn, inch, iso, lb, outside_mm) in [
        ("DN10", "3/8", 0.84, 0.57, 17.2),
        ("DN15", "1/2", 1.21, 0.85, 21.3),
        ("DN20", "3/4", 1.56, 1.13, 26.8),
        ("DN25", "1", 2.41, 1.68, 33.6),
        ("DN32", "1-1/4", 3.10, 2.27, 42.3),
        ("DN40", "1-1/2", 3.56, 2.72, 48.3),
        ("DN50", "2", 5.03, 3.65, 60.3),
    ] {
        let (a, b) = (format!("{dn} steel"), format!("{inch} in schedule 40"));
        close(&a, kg_m(&a, 7850.0), iso, 0.012);
        close(&b, kg_m(&b, 7850.0), lb * lb_ft, 0.012);
        for name in [a, b] {
            let outside = tubes::by_name(&name).unwrap().outside_m;
            close(&name, outside, outside_mm * 1e-3, 0.01);
        }
    }
}

/// Walls of connecting pipes against the sizes of their standards, inside diameter and wall in mm, within 20 %: EN 1057 (15x1 to 54x2),
/// EN 10312 (to 35x1.5; the largest two have thinner walls), ISO 65 medium, ISO 15875 S 3.2, heater hose of SAE J20 (3.6 to 4.3 mm).
#[test]
fn published_walls_of_connecting_pipes() {
    let rows: [(&str, &[(f64, f64)]); 5] = [
        (
            "copper",
            &[
                (13.0, 1.0),
                (20.0, 1.0),
                (25.6, 1.2),
                (32.0, 1.5),
                (39.0, 1.5),
                (50.0, 2.0),
            ],
        ),
        (
            "stainless",
            &[
                (13.0, 1.0),
                (16.0, 1.0),
                (19.6, 1.2),
                (25.6, 1.2),
                (32.0, 1.5),
            ],
        ),
        (
            "steel",
            &[
                (16.1, 2.6),
                (21.7, 2.6),
                (27.3, 3.2),
                (36.0, 3.2),
                (41.9, 3.2),
                (53.1, 3.6),
            ],
        ),
        ("pex", &[(11.6, 2.2), (14.4, 2.8), (18.0, 3.5), (23.2, 4.4)]),
        ("hose", &[(16.0, 3.6), (19.0, 4.0)]),
    ];
    for (kind, sizes) in rows {
        for name in [kind.to_string(), format!("insulated {kind}")] {
            let p = pipes::kind_by_name(&name).unwrap();
            for &(inside, wall) in sizes {
                let what = format!("{name} {inside} mm");
                close(&what, p.wall_m(inside * 1e-3) * 1e3, wall, 0.20);
            }
        }
    }
}

/// Loss of an insulated pipe by hand, 20 mm of foam at 0.040 W/mK on 22 mm copper, water at 60 in air of 20 °C: ln(62/22)/(2π 0.04) = 4.12 mK/W
/// inside; outside h about 1.32 (7/0.062)^¼ + 0.9·5.9 = 9.6 W/m2K, 0.53 mK/W: 8.6 W/m. The limits of the pipes are their standards'.
#[test]
fn analytic_insulated_pipe_by_hand() {
    let p = pipes::kind_by_name("insulated copper").unwrap();
    close("loss", p.loss_w_mk(0.020, 40.0) * 40.0, 8.6, 0.02);
    // Walls resist by ln(D/d)/(2π k): a hose loses less than copper of its outside diameter by that.
    let hose = pipes::kind_by_name("hose").unwrap();
    let (d_m, excess_k) = (0.019, 40.0);
    let out_m = d_m + 2.0 * hose.wall_m(d_m);
    let wall_mk_w = (out_m / d_m).ln() / (2.0 * PI * 0.25);
    let loss = hose.loss_w_mk(d_m, excess_k) * excess_k;
    let surface_k = excess_k - loss * wall_mk_w;
    let mean_k = 293.15 + 0.5 * surface_k;
    let h = 1.32 * (surface_k / out_m).powf(0.25) + 4.0 * 0.92 * 5.670_374e-8 * mean_k.powi(3);
    close("balance", PI * out_m * h * surface_k, loss, 1e-4);
    assert!(surface_k < 0.9 * excess_k);
}

/// Pipes: metals as in the alloys' data sheets; EPDM 1150 to 1250 kg/m3, 1600 to 2000 J/kgK, 0.20 to 0.30 W/mK; PE-X 930 to 950 kg/m3, 2000 to
/// 2400 J/kgK, 0.35 to 0.41 W/mK (ISO 15875 and DIN 16892 sheets); roughness of drawn tube and of commercial steel after Moody (0.000005 and
/// 0.00015 ft), plastic 7 to 10 µm; foam 0.035 to 0.040 W/mK; emissivity of tarnished copper and brushed stainless 0.2 to 0.4, steel 0.79 to
/// 0.82, plastics and rubber 0.88 to 0.95 (Incropera table A.11 and A.8); all from memory.
#[test]
fn published_pipe_materials() {
    let rows = [
        (
            "copper",
            [8890.0, 8960.0, 377.0, 395.0, 330.0, 345.0, 0.2, 0.4],
            0.000_005,
            110.0,
        ),
        (
            "steel",
            [7800.0, 7870.0, 434.0, 487.0, 50.0, 60.5, 0.79, 0.82],
            0.000_15,
            110.0,
        ),
        (
            "stainless",
            [7900.0, 8000.0, 477.0, 515.0, 14.0, 16.3, 0.2, 0.4],
            0.000_005,
            120.0,
        ),
        (
            "pex",
            [930.0, 950.0, 2000.0, 2400.0, 0.35, 0.41, 0.88, 0.95],
            7e-6 / 0.3048,
            90.0,
        ),
        (
            "hose",
            [1150.0, 1250.0, 1600.0, 2000.0, 0.20, 0.30, 0.88, 0.95],
            10e-6 / 0.3048,
            95.0,
        ),
    ];
    for (kind, range, rough_ft, limit_c) in rows {
        let bare = pipes::kind_by_name(kind).unwrap();
        let lagged = pipes::kind_by_name(&format!("insulated {kind}")).unwrap();
        for p in [bare, lagged] {
            assert!(
                (range[0]..=range[1]).contains(&p.density_kg_m3),
                "{}",
                p.name
            );
            assert!(
                (range[2]..=range[3]).contains(&p.heat_capacity_j_kgk),
                "{}",
                p.name
            );
            assert!(
                (range[4]..=range[5]).contains(&p.conductivity_w_mk),
                "{}",
                p.name
            );
            close(p.name, p.roughness_m, rough_ft * 0.3048, 0.03);
            close(p.name, p.limit_k - 273.15, limit_c, 1e-9);
            assert!(p.insulation_m == 0.0 || (0.035..=0.0401).contains(&p.insulation_w_mk));
        }
        assert!((range[6]..=range[7]).contains(&bare.emissivity), "{kind}");
        assert!((0.88..=0.95).contains(&lagged.emissivity), "{kind}");
        close(kind, lagged.insulation_m, 0.020, 1e-9);
    }
}

/// Tube metals as their data sheets have them (from memory): lb/in3, Btu/lb°F, Btu/ft h °F, solidus in °F. C12200, 304, 316, C23000, 6063-T6; plain
/// carbon steel at 400 K after Incropera table A.1 (56.7 W/mK, 487 J/kgK), solidus of 0.2 % carbon 2600 to 2650 °F.
#[test]
fn published_tube_metals() {
    for (name, lb_in3, btu_lb_f, btu_ft_h_f, solidus_f, [rho_rel, c_rel, k_rel]) in [
        ("copper", 0.323, 0.092, 196.0, 1981.0, [0.003, 0.03, 0.01]),
        (
            "stainless steel 304",
            0.286,
            0.120,
            9.4,
            2550.0,
            [0.01, 0.03, 0.01],
        ),
        (
            "stainless steel 316",
            0.289,
            0.120,
            8.8,
            2500.0,
            [0.01, 0.03, 0.01],
        ),
        (
            "carbon steel",
            0.2836,
            0.1163,
            32.76,
            2610.0,
            [0.003, 0.01, 0.01],
        ),
        ("brass", 0.316, 0.09, 92.0, 1810.0, [0.003, 0.03, 0.01]),
        ("aluminium", 0.097, 0.222, 116.0, 1140.0, [0.01, 0.01, 0.01]),
    ] {
        let m = metals::by_name(name).unwrap();
        let rho = lb_in3 * 0.453_592_37 / 0.0254f64.powi(3);
        close(name, m.density_kg_m3, rho, rho_rel);
        close(name, m.heat_capacity_j_kgk, btu_lb_f * 4186.8, c_rel);
        close(name, m.conductivity_w_mk, btu_ft_h_f * 1.730_735, k_rel);
        let solidus_k = (solidus_f + 459.67) / 1.8;
        assert!((m.melting_k - solidus_k).abs() < 6.0, "{name}");
        // Moody: drawn tubing 0.000005 ft, commercial steel 0.00015 ft.
        let rough_ft = if name == "carbon steel" {
            0.000_15
        } else {
            0.000_005
        };
        close(name, m.roughness_m, rough_ft * 0.3048, 0.03);
        // Oxidised: copper 0.5 to 0.65 (Incropera A.11: 0.50 at 600 K to 0.58 at 1000 K), stainless 0.5 to 0.65, steel 0.79 to 0.82, aluminium 0.2 to 0.3.
        let range = match name {
            "carbon steel" => 0.79..=0.82,
            "aluminium" => 0.11..=0.21,
            _ => 0.5..=0.65,
        };
        assert!(range.contains(&m.emissivity), "{name}");
    }
    // Where they are done for, °F: copper and brass ratings 400; graphitisation 800; overageing 350; sensitising of stainless 800 (425 °C).
    for (name, f) in [
        ("copper", 400.0),
        ("brass", 400.0),
        ("carbon steel", 800.0),
        ("aluminium", 350.0),
        ("stainless steel 304", 797.0),
        ("stainless steel 316", 797.0),
    ] {
        let m = metals::by_name(name).unwrap();
        assert!((m.limit_k - (f + 459.67) / 1.8).abs() < 1.0, "{name}");
    }
}

/// Wall materials whose source gives one figure, within 5 %: Incropera table A.3 (fireclay brick, sand, common brick, stone concrete, granite),
/// EN ISO 10456 (plasterboard, softwood timber), DIN 4108-4 (clay), ASTM C533 type I at 38 °C; all from memory.
#[test]
fn published_wall_materials_of_the_tables() {
    for (name, rho, c, k, at_c) in [
        ("fire brick", 2050.0, 850.0, 1.05, 205.0),
        ("sand", 1515.0, 800.0, 0.27, 27.0),
        ("red brick", 1920.0, 835.0, 0.72, 27.0),
        ("concrete", 2300.0, 880.0, 1.4, 27.0),
        ("granite", 2630.0, 775.0, 2.79, 27.0),
        ("plasterboard", 800.0, 1000.0, 0.25, 10.0),
        ("wood wall", 450.0, 1600.0, 0.12, 10.0),
        ("clay", 1600.0, 900.0, 0.73, 10.0),
        ("clay plaster", 1200.0, 900.0, 0.47, 10.0),
        ("calcium silicate", 240.0, 840.0, 0.055, 20.0),
    ] {
        let s = solids::by_name(name).unwrap();
        let got_k = s.conductivity_w_mk + s.conductivity_slope_w_mk2 * (at_c - 25.0);
        close(name, s.density_kg_m3, rho, 0.05);
        close(name, s.heat_capacity_j_kgk, c, 0.05);
        close(name, got_k, k, 0.05);
    }
}

/// The others as widely as makers' sheets and handbooks scatter (from memory): density kg/m3, heat capacity J/kgK and conductivity W/mK
/// at 25 °C. Ranges are wider than a tenth: a test that knew each figure to the last digit would be a copy of the table.
#[test]
fn practice_wall_materials_lie_where_sheets_have_them() {
    let rows: [(&str, [f64; 6]); 17] = [
        (
            "insulating fire brick",
            [450.0, 650.0, 800.0, 1050.0, 0.09, 0.15],
        ),
        (
            "refractory castable",
            [2000.0, 2400.0, 800.0, 960.0, 0.9, 1.6],
        ),
        (
            "insulating castable",
            [800.0, 1200.0, 800.0, 960.0, 0.15, 0.30],
        ),
        ("ceramic fibre", [96.0, 160.0, 800.0, 1050.0, 0.03, 0.05]),
        (
            "vermiculite board",
            [375.0, 750.0, 800.0, 1050.0, 0.11, 0.20],
        ),
        ("perlite clay", [350.0, 700.0, 800.0, 1000.0, 0.1, 0.2]),
        ("loose perlite", [50.0, 150.0, 800.0, 1000.0, 0.04, 0.06]),
        ("mineral wool", [80.0, 140.0, 800.0, 1030.0, 0.033, 0.040]),
        ("glass wool", [12.0, 48.0, 800.0, 1030.0, 0.031, 0.040]),
        ("gravel", [1500.0, 1900.0, 790.0, 1000.0, 0.3, 0.7]),
        ("soapstone", [2750.0, 3000.0, 850.0, 1000.0, 3.0, 6.5]),
        (
            "polyurethane foam",
            [28.0, 45.0, 1400.0, 1500.0, 0.022, 0.028],
        ),
        (
            "polystyrene foam",
            [15.0, 40.0, 1400.0, 1500.0, 0.030, 0.040],
        ),
        ("cast iron", [6900.0, 7400.0, 460.0, 550.0, 46.0, 58.0]),
        ("steel", [7800.0, 7870.0, 434.0, 486.0, 50.0, 61.0]),
        (
            "galvanised steel",
            [7800.0, 7870.0, 434.0, 486.0, 50.0, 61.0],
        ),
        ("air gap", [1.16, 1.20, 1004.0, 1010.0, 0.1, 0.11]),
    ];
    for (name, r) in rows {
        let s = solids::by_name(name).unwrap();
        let figures = [s.density_kg_m3, s.heat_capacity_j_kgk, s.conductivity_w_mk];
        for (i, figure) in figures.into_iter().enumerate() {
            assert!(
                (r[2 * i]..=r[2 * i + 1]).contains(&figure),
                "{name}: {figure}"
            );
        }
    }
    // Total emissivity (Incropera table A.11): masonry, wood, plastics, oxidised iron 0.75 to 0.95; zinc 0.2 to 0.3; oxidised copper and
    // stainless 0.5 to 0.7; aluminium 0.05 to 0.25.
    for s in solids::table() {
        let e = match s.name {
            "galvanised steel" => 0.2..=0.32,
            "stainless steel" | "copper" => 0.5..=0.7,
            "aluminium" => 0.05..=0.25,
            _ => 0.75..=0.95,
        };
        assert!(e.contains(&s.emissivity), "{}", s.name);
    }
}

/// Slopes of the heat capacity: dry minerals and ceramics reach 1000 to 1250 J/kgK at 1000 °C (Dulong & Petit's 3R an atom: 25 J/mol over
/// 20 to 22 g/mol, as for silica and alumina), so lines that end there rise by 0.1 to 0.45 J/kgK2. Atoms of metals hold about 3R at 25 °C
/// (copper 24.5, aluminium 24.4, iron 25.1 J/molK) within 3 %, grey iron with its carbon and silicon within 12 %.
#[test]
fn identity_heat_capacities_follow_dulong_and_petit() {
    let three_r = 3.0 * 8.314_462_6;
    for (name, g_mol, rel) in [
        ("copper", 63.546, 0.03),
        ("aluminium", 26.982, 0.03),
        ("steel", 55.845, 0.03),
        ("galvanised steel", 55.845, 0.03),
        ("cast iron", 55.845, 0.13),
    ] {
        let s = solids::by_name(name).unwrap();
        close(name, s.heat_capacity_j_kgk * g_mol * 1e-3, three_r, rel);
    }
    for name in [
        "fire brick",
        "insulating fire brick",
        "refractory castable",
        "insulating castable",
        "ceramic fibre",
        "vermiculite board",
        "perlite clay",
        "loose perlite",
        "red brick",
    ] {
        let s = solids::by_name(name).unwrap();
        let at_1000_c = s.heat_capacity_j_kgk + s.heat_capacity_slope_j_kgk2 * 975.0;
        assert!((1000.0..1250.0).contains(&at_1000_c), "{name}: {at_1000_c}");
    }
    // Up to 600 °C they all stay under water-free minerals' 1250 J/kgK, up to 90 °C nothing but wood and foam is over 1020.
    for s in solids::table() {
        let organic = s.density_kg_m3 < 50.0 || s.name == "wood wall";
        let at = |t_c: f64| s.heat_capacity_j_kgk + s.heat_capacity_slope_j_kgk2 * (t_c - 25.0);
        assert!(
            at(600.0) < 1250.0 && at(90.0) < 1020.0 || organic,
            "{}",
            s.name
        );
        assert!(at(600.0) >= at(25.0), "{}", s.name);
    }
}

/// USDA Wood Handbook, table 5-3 (from memory): specific gravity of green wood, and its equation for 12 % moisture,
/// G12 = Gb/(1 - 0.265 (30 - 12)/30 Gb). A row of a species stands for its relatives too: within 6 %.
#[test]
fn published_wood_densities_from_green_gravity() {
    for (name, green) in [
        ("pine", 0.41),
        ("spruce", 0.37),
        ("larch", 0.48),
        ("fir", 0.37),
        ("douglas fir", 0.45),
        ("cedar", 0.31),
        ("hemlock", 0.42),
        ("birch", 0.48),
        ("beech", 0.56),
        ("oak", 0.58),
        ("maple", 0.56),
        ("ash", 0.55),
        ("alder", 0.37),
        ("elm", 0.46),
        ("hickory", 0.64),
        ("black locust", 0.66),
        ("cherry", 0.47),
        ("apple", 0.61),
        ("poplar", 0.365),
        ("willow", 0.36),
    ] {
        let g12 = green / (1.0 - 0.265 * 0.6 * green);
        let w = wood::by_name(name).unwrap();
        let rel = if name == "black locust" { 0.10 } else { 0.075 };
        close(name, w.density_kg_m3, 1000.0 * g12, rel);
    }
    let mean = |kind| {
        let of: Vec<f64> = wood::table()
            .iter()
            .filter(|w| w.kind == kind)
            .map(|w| w.density_kg_m3)
            .collect();
        of.iter().sum::<f64>() / of.len() as f64
    };
    close(
        "softwood",
        wood::by_name("softwood").unwrap().density_kg_m3,
        mean(wood::WoodKind::Softwood),
        0.03,
    );
    // Of the hardwoods poplar, willow and alder are seldom cut for fuel.
    let hard = wood::by_name("hardwood").unwrap().density_kg_m3;
    assert!(hard > mean(wood::WoodKind::Hardwood) && hard < 650.0);
}

/// ISO 17225-1 annex B (from memory): short-rotation poplar and willow hold 2 % ash, virgin wood 0.3 %; lower heating values, dry and ash-free,
/// 18.8 and 18.4 to 18.9 MJ/kg for them, 19.1 and 18.9 for coniferous and broad-leaved wood, within 5 %. Char: 0.15 to 0.20 of dry wood, more
/// from softwood (common practice, no source).
#[test]
fn published_classes_of_wood() {
    for w in wood::table() {
        let short = ["poplar", "willow"].contains(&w.name);
        close(w.name, w.ash_dry, if short { 0.02 } else { 0.003 }, 0.05);
        close(
            w.name,
            w.nitrogen_daf,
            if short { 0.0045 } else { 0.001 },
            0.15,
        );
        let net =
            wood::net_heating_value_j_kg(w.gross_heating_value_dry_j_kg(), w.dry_basis().1, 0.0)
                / (1.0 - w.ash_dry);
        let want = match (short, w.kind) {
            (true, _) => 18.8e6,
            (_, wood::WoodKind::Softwood) => 19.1e6,
            _ => 18.9e6,
        };
        close(w.name, net, want, 0.05);
        // Annex B's typical carbon, hydrogen and oxygen, in shares of what is neither ash nor water, within their rounding.
        let (c, h, o) = match (w.name, w.kind) {
            ("poplar", _) => (48.0, 6.2, 43.0),
            ("willow", _) => (48.0, 6.1, 43.0),
            (_, wood::WoodKind::Softwood) => (51.0, 6.3, 42.0),
            _ => (49.0, 6.2, 44.0),
        };
        close(w.name, w.carbon_daf / w.oxygen_daf, c / o, 0.02);
        close(w.name, w.hydrogen_daf / w.carbon_daf, h / c, 0.02);
        let char_range = match w.kind {
            wood::WoodKind::Softwood => 0.175..0.195,
            wood::WoodKind::Hardwood => 0.16..0.175,
        };
        assert!(char_range.contains(&w.char_yield_dry), "{}", w.name);
    }
}

/// A cord (128 ft3 stacked, 80 to 85 ft3 solid): white oak at 20 % moisture (dry basis) weighs about 4200 lb, red pine 2900 lb a cord
/// (extension tables of firewood, from memory, within 15 %).
#[test]
fn published_weight_of_a_cord() {
    let lb = |name: &str| {
        let w = wood::by_name(name).unwrap();
        let m = wood::wet_from_dry_basis(0.20);
        wood::stacked_kg(wood::CORD_M3, w.density_kg_m3, m) / 0.453_592_37
    };
    close("oak", lb("oak"), 4200.0, 0.15);
    close("pine", lb("pine"), 2900.0, 0.15);
    // By hand: 82.5 ft3 of 650 kg/m3 and a fifth more water.
    close(
        "by hand",
        lb("oak") * 0.453_592_37,
        82.5 * 0.3048f64.powi(3) * 650.0 * 1.2,
        1e-9,
    );
}

/// Service limits in °C as widely as sheets and handbooks have them (from memory): fireclay brick and dense castables 1300 to 1500,
/// insulating castables and vermiculite boards 1000 to 1200, ceramic fibre of class 1260 °C in lasting use 1050 to 1200; perlite sinters
/// from some 900 °C; common brick is fired at 900 to 1100; talc loses its water from some 850 to 1000; granite must stay under the turn of
/// quartz at 573; wood long held over 93 to 120 (200 to 250 °F) may catch fire in the end; rigid polyurethane 90 to 130; mild steel scales
/// from 500 to 600 in air, grey iron grows from 550 to 700; hot-dip zinc 200.
#[test]
fn practice_service_limits_lie_where_sheets_have_them() {
    for (name, low_c, high_c) in [
        ("fire brick", 1300.0, 1500.0),
        ("refractory castable", 1300.0, 1500.0),
        ("insulating castable", 1000.0, 1200.0),
        ("vermiculite board", 1000.0, 1200.0),
        ("ceramic fibre", 1050.0, 1200.0),
        ("perlite clay", 900.0, 1100.0),
        ("red brick", 900.0, 1100.0),
        ("soapstone", 850.0, 1000.0),
        ("granite", 500.0, 573.0),
        ("wood wall", 93.0, 120.0),
        ("polyurethane foam", 90.0, 130.0),
        ("steel", 500.0, 600.0),
        ("cast iron", 550.0, 700.0),
        ("galvanised steel", 199.0, 201.0),
    ] {
        let limit_c = solids::by_name(name).unwrap().limit_k.unwrap() - 273.15;
        let rounded_c = limit_c.round();
        assert!(
            (low_c..=high_c).contains(&rounded_c),
            "{name}: {limit_c} °C"
        );
    }
}
