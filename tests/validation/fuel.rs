//! Wood: composition, heating values, thermal properties, charring.

use super::check::{Check, Source};
use emberloop::components::bed::PILE_FLUX_W_M2;
use emberloop::correlations::charring::front_speed_m_s;
use emberloop::correlations::radiation::STEFAN_BOLTZMANN;
use emberloop::properties::wood::{
    self, CHAR_NET_J_KG, conductivity_w_mk, gross_heating_value_dry_j_kg, heat_capacity_j_kgk,
    net_from_net_dry_j_kg, net_heating_value_j_kg,
};

const ANNEX_B: Source = Source::published(
    "ISO 17225-1:2014",
    "Annex B, typical virgin wood, dry ash-free; from memory",
);
const CHANNIWALA: Source = Source::published(
    "Channiwala & Parikh 2002, Fuel 81:1051",
    "the correlation in closed form (numpy 2.4.6); formula from memory",
);
const ISO_18125: Source = Source::published(
    "ISO 18125:2017",
    "q = q_dry (1 - M) - 0.02443 M, dry 19.1 MJ/kg; formula from memory",
);
const WOOD_HANDBOOK: Source = Source::published(
    "USDA Wood Handbook FPL-GTR-190",
    "ch. 4, thermal properties; formulas from memory",
);
const EUROCODE: Source = Source::published(
    "EN 1995-1-2:2004",
    "Table 3.1, standard fire, ± 20 % as physics; from memory",
);
const CRIBS: Source = Source::published(
    "Babrauskas, SFPE Handbook (wood cribs)",
    "v = 2.2e-6 D^-0.6, data ± 30 %; formula from memory",
);
const CONE: Source = Source::published(
    "Aalto University cone-calorimeter records",
    "open fire-experiments collection, spruce, flaming, 50 kW/m²; seen",
);

/// The rows of Annex B, each scaled to sum 1.
const CONIFEROUS: [f64; 4] = [51.0, 6.3, 42.0, 0.1];
const BROAD_LEAVED: [f64; 4] = [49.0, 6.2, 44.0, 0.1];

fn normalised(chon: [f64; 4]) -> [f64; 4] {
    let sum: f64 = chon.iter().sum();
    chon.map(|x| x / sum)
}

pub fn rows() -> Vec<Check> {
    let mut rows = composition();
    rows.extend(heating_values());
    rows.extend([
        WOOD_HANDBOOK.relative(
            "conductivity across the grain, G 0.45, 12 % dry basis",
            "W/m K",
            0.127931,
            conductivity_w_mk(450.0, 0.12),
            1e-4,
        ),
        WOOD_HANDBOOK.relative(
            "heat capacity of oven-dry wood, 300 K",
            "kJ/kg K",
            1.2632,
            1e-3 * heat_capacity_j_kgk(300.0, 0.0),
            0.05,
        ),
        Source::practice("net value of char, 30 to 33 MJ/kg").within(
            "net heating value of wood char",
            "MJ/kg",
            (30.0, 33.0),
            1e-6 * CHAR_NET_J_KG,
        ),
    ]);
    rows.extend(charring());
    rows
}

/// The wood table's typical rows against the annex: oak stands for broad-leaved wood, spruce for coniferous.
fn composition() -> Vec<Check> {
    let mut rows = Vec::new();
    for (name, [c, h, o, _]) in [("spruce", CONIFEROUS), ("oak", BROAD_LEAVED)] {
        let w = wood::by_name(name).expect("listed");
        for (what, percent, got, most) in [
            ("carbon", c, w.carbon_daf, 1.0),
            ("hydrogen", h, w.hydrogen_daf, 0.3),
            ("oxygen", o, w.oxygen_daf, 2.0),
        ] {
            rows.push(ANNEX_B.absolute(
                format!("{name}: {what}"),
                "wt%",
                percent,
                100.0 * got,
                most,
            ));
        }
    }
    rows
}

fn heating_values() -> Vec<Check> {
    const TWO_SOURCES: &str = "the correlation (its own stated error 1.45 %) and the annex lie 2.6 % apart for this composition; both cannot hold";
    let mut rows = Vec::new();
    for (name, chon, gross, net, exact) in [
        ("coniferous", CONIFEROUS, 20.5, 19.1, 21.0318),
        ("broad-leaved", BROAD_LEAVED, 20.1, 18.9, 20.0219),
    ] {
        // The closed form's author left nitrogen out of the sum.
        let [c, h, o, _] = normalised([chon[0], chon[1], chon[2], 0.0]);
        let correlated = gross_heating_value_dry_j_kg(c, h, o, 0.0, 0.0, 0.0);
        rows.push(CHANNIWALA.relative(
            format!("gross heating value, {name}"),
            "MJ/kg",
            exact,
            1e-6 * correlated,
            5e-4,
        ));
        let [c, h, o, n] = normalised(chon);
        let got_gross = gross_heating_value_dry_j_kg(c, h, o, n, 0.0, 0.0);
        let got_net = net_heating_value_j_kg(got_gross, h, 0.0);
        for (what, annex, got) in [("gross", gross, got_gross), ("net", net, got_net)] {
            let row = ANNEX_B.absolute(
                format!("{what} heating value from composition, {name}"),
                "MJ/kg",
                annex,
                1e-6 * got,
                0.5,
            );
            rows.push(if name == "coniferous" {
                row.because(TWO_SOURCES)
            } else {
                row
            });
        }
        rows.push(ANNEX_B.absolute(
            format!("gross less net, {name} (hydrogen alone)"),
            "MJ/kg",
            gross - net,
            1e-6 * (got_gross - got_net),
            0.2,
        ));
    }
    for (percent, mj_kg) in [
        (0.0, 19.1),
        (10.0, 16.9457),
        (20.0, 14.7914),
        (30.0, 12.6371),
        (50.0, 8.3285),
    ] {
        rows.push(ISO_18125.absolute(
            format!("net value as received, {percent} % moisture"),
            "MJ/kg",
            mj_kg,
            1e-6 * net_from_net_dry_j_kg(19.1e6, 0.01 * percent),
            0.01,
        ));
    }
    rows
}

/// 12 % moisture of dry mass, as the standards test wood.
const MOISTURE_WET: f64 = 0.12 / 1.12;

/// Char depth of `density_kg_m3` wood after a time under a flux that varies, one-second steps.
fn depth_m(from_s: u32, until_s: u32, density_kg_m3: f64, flux_w_m2: impl Fn(f64) -> f64) -> f64 {
    (from_s..until_s).fold(0.0, |d, t| {
        d + front_speed_m_s(flux_w_m2(f64::from(t)), d, density_kg_m3, MOISTURE_WET)
    })
}

/// Standard fire (ISO 834-1) as a black furnace.
fn iso_834_w_m2(t_s: f64) -> f64 {
    STEFAN_BOLTZMANN * (293.15 + 345.0 * (8.0 * t_s / 60.0 + 1.0).log10()).powi(4)
}

fn charring() -> Vec<Check> {
    let mm_min = |minutes: u32, density: f64| {
        depth_m(0, 60 * minutes, density, iso_834_w_m2) * 1e3 / f64::from(minutes)
    };
    let mut rows = Vec::new();
    for (minutes, wood, rate, density) in [
        (30, "softwood of 450 kg/m³", 0.65, 450.0),
        (60, "softwood of 450 kg/m³", 0.65, 450.0),
        (90, "softwood of 450 kg/m³", 0.65, 450.0),
        (30, "hardwood of 650 kg/m³", 0.5, 650.0),
        (60, "hardwood of 650 kg/m³", 0.5, 650.0),
        (
            30,
            "hardwood of 290 kg/m³ characteristic (330 mean)",
            0.65,
            330.0,
        ),
    ] {
        let what = format!("one-dimensional charring in {minutes} min, {wood}");
        rows.push(EUROCODE.relative(what, "mm/min", rate, mm_min(minutes, density), 0.2));
    }
    rows.extend(crib());
    rows.extend(cone());
    rows
}

/// Free-burning time of sticks in a crib, at the flux that the model gives a pile: the one of 38 mm fits by the choice of that
/// flux, the others must follow.
fn crib() -> Vec<Check> {
    [20.0, 30.0, 38.0, 60.0, 90.0]
        .into_iter()
        .map(|mm: f64| {
            let d = 1e-3 * mm;
            let (mut depth, mut t_s) = (0.0, 0.0);
            while depth < 0.5 * d {
                depth += front_speed_m_s(PILE_FLUX_W_M2, depth, 450.0, MOISTURE_WET);
                t_s += 1.0;
            }
            let what = format!("free-burning time of a {mm} mm stick in a crib");
            CRIBS.relative(what, "s", 0.5 * d / (2.2e-6 * d.powf(-0.6)), t_s, 0.3)
        })
        .collect()
}

/// Heat release per area: front speed x density x volatile share x their heat of about 13 MJ/kg of dry wood lost (density
/// and moisture of the sample not stated: 450 kg/m³, 12 %).
fn cone() -> Vec<Check> {
    let release_kw_m2 = |at_s: u32| {
        let depth = depth_m(20, at_s, 450.0, |_| 50e3);
        let speed = front_speed_m_s(50e3, depth, 450.0, MOISTURE_WET);
        1e-3 * speed * 450.0 * 0.8 * 13e6
    };
    vec![
        CONE.relative(
            "heat release of spruce, first peak, at 40 s",
            "kW/m²",
            161.5,
            release_kw_m2(40),
            0.15,
        ),
        CONE.relative(
            "heat release of spruce at 60 s",
            "kW/m²",
            126.5,
            release_kw_m2(60),
            0.15,
        ),
        CONE.relative(
            "heat release of spruce at 100 s",
            "kW/m²",
            86.5,
            release_kw_m2(100),
            0.15,
        ),
        CONE.relative(
            "heat release of spruce at 200 s",
            "kW/m²",
            61.8,
            release_kw_m2(200),
            0.15,
        )
        .because("the record falls from its peak to its plateau within 200 s, the model a minute or two later; the standard's charring from a quarter of an hour on is met with the same figures"),
        CONE.relative(
            "heat release of spruce, plateau at 300 s",
            "kW/m²",
            58.4,
            release_kw_m2(300),
            0.15,
        ),
        CONE.relative(
            "heat release of spruce, plateau at 500 s",
            "kW/m²",
            58.2,
            release_kw_m2(500),
            0.15,
        ),
    ]
}
