//! Energy spent beside the wood, other ways to the same heat, wood and money per bath and year.

use super::given::Given;
use crate::logs::Account;
use crate::properties::wood;
use crate::results::{Measured, SourceRow};
use crate::units::{Kind, parse};

/// Net energy of petrol, J/m3 (from memory, 32 MJ/L).
const PETROL_J_M3: f64 = 32.0e9;

pub(super) struct Costs {
    pub extra: Vec<(String, f64)>,
    pub sources: Vec<SourceRow>,
    pub currency: String,
    pub wood_cost: Option<f64>,
    pub wood_per_bath_kg: Option<f64>,
    pub cords_per_year: Option<f64>,
    pub steres_per_year: Option<f64>,
    pub burns_per_year: f64,
    pub problems: Vec<crate::logs::Problem>,
}

pub(super) fn costs(
    a: &Account,
    given: &Given,
    fuel_kg: Option<f64>,
    fuel_j: Option<f64>,
    heat: Measured,
    lasted_s: f64,
    assumed: &mut Vec<(String, String, String)>,
) -> Costs {
    let mut problems = Vec::new();
    let mut si = |kind, key: &str, text: &Option<String>| {
        text.as_deref().and_then(|t| match parse(kind, t) {
            Ok(p) => Some(p.si),
            Err(e) => {
                problems.push(crate::logs::Problem::error(
                    format!("`account.{key}`: {e}"),
                    e.help(),
                ));
                None
            }
        })
    };
    let stacked = |m3| wood::stacked_kg(m3, given.fuel.density_kg_m3, given.fuel.moisture_wet);
    let cord_kg = stacked(wood::CORD_M3);
    let cords = fuel_kg.map(|kg| kg / cord_kg);
    let mut extra = Vec::new();
    let petrol = a.petrol_source_factor.unwrap_or(1.2);
    for (name, key, text) in [
        (
            "petrol of the saw",
            "saw_petrol_per_cord",
            &a.saw_petrol_per_cord,
        ),
        (
            "petrol of hauling",
            "hauling_petrol_per_cord",
            &a.hauling_petrol_per_cord,
        ),
    ] {
        if let (Some(m3), Some(cords)) = (si(Kind::Volume, key, text), cords) {
            extra.push((name.to_owned(), m3 * cords * PETROL_J_M3 * petrol));
        }
    }
    let electricity = a.electricity_source_factor.unwrap_or(2.80);
    if let Some(w) = given.pump_w {
        extra.push((
            "electricity of the pump".to_owned(),
            w * lasted_s * electricity,
        ));
    }
    let gas = a.gas_source_factor.unwrap_or(1.05);
    let of_wood = a.wood_source_factor.unwrap_or(1.0);
    if a.electricity_source_factor.is_none() {
        assumed.push(("source factors".into(), format!("electricity {electricity}, gas {gas}, wood {of_wood}"), "national figures of the US, from memory; they differ by region: [account] changes them".into()));
    }
    let price = |p: Option<f64>, j: f64| p.map(|p| p * j / 3.6e6);
    let kwh_price = a.electricity_price_per_kwh.or(Some(0.17));
    let wood_price = a.wood_price_per_cord.or(Some(300.0));
    if a.electricity_price_per_kwh.is_none() || a.wood_price_per_cord.is_none() {
        assumed.push((
            "prices".into(),
            "0.17 a kWh, 300 a cord".into(),
            "examples to be edited under [account]".into(),
        ));
    }
    let mut sources = Vec::new();
    let spent: f64 = extra.iter().map(|e| e.1).sum();
    let wood_cost = cords.zip(wood_price).map(|(c, p)| c * p);
    if let Some(fuel_j) = fuel_j {
        let of = |q: f64| q / (fuel_j * of_wood + spent);
        sources.push(SourceRow {
            name: "this wood fire".into(),
            source_efficiency: of(heat.value),
            source_low: of(heat.value - heat.expanded),
            source_high: of(heat.value + heat.expanded),
            cost: wood_cost,
        });
    }
    for (name, eff, factor, price_kwh) in [
        (
            "electric resistance tank",
            a.resistance_efficiency.unwrap_or(0.92),
            electricity,
            kwh_price,
        ),
        (
            "heat pump tank",
            a.heat_pump_performance.unwrap_or(3.3),
            electricity,
            kwh_price,
        ),
        (
            "gas tank",
            a.gas_tank_efficiency.unwrap_or(0.60),
            gas,
            a.gas_price_per_kwh,
        ),
        (
            "condensing gas heater",
            a.gas_condensing_efficiency.unwrap_or(0.93),
            gas,
            a.gas_price_per_kwh,
        ),
    ] {
        let source = eff / factor;
        sources.push(SourceRow {
            name: name.into(),
            source_efficiency: source,
            source_low: source,
            source_high: source,
            cost: price(price_kwh, heat.value / eff),
        });
    }
    let bath_m3 = si(Kind::Volume, "bath_volume", &a.bath_volume).unwrap_or(0.150);
    let bath_k = si(Kind::TemperatureDifference, "bath_rise", &a.bath_rise).unwrap_or(30.0);
    let bath_j = bath_m3 * 994.0 * 4179.0 * bath_k;
    let burns_per_year = a.burns_per_year.unwrap_or(52.0);
    Costs {
        extra,
        sources,
        currency: a.currency.clone().unwrap_or_default(),
        wood_cost,
        wood_per_bath_kg: fuel_kg
            .filter(|_| heat.value > 0.0)
            .map(|kg| kg * bath_j / heat.value),
        cords_per_year: cords.map(|c| c * burns_per_year),
        steres_per_year: fuel_kg.map(|kg| kg / stacked(1.0) * burns_per_year),
        burns_per_year,
        problems,
    }
}
