//! Closures and solver settings.

use super::{Cx, Features};
use crate::components::spec::{Closures, SolverSettings};
use crate::scenario::raw::RawScenario;

/// Multipliers on closures; those that could not move this rig are refused.
pub(super) fn closures(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<Closures> {
    let none = Default::default();
    let c = raw.closures.as_ref().map_or(&none, |c| &c.value);
    let neutral = Closures::default();
    macro_rules! take {
        ($key:ident) => {
            cx.or(
                &c.$key,
                concat!("closures.", stringify!($key)),
                concat!("closures.", stringify!($key)),
            )
        };
        ($key:ident, $effect:expr, $why:literal, $neutral:expr) => {
            if $effect {
                take!($key)
            } else {
                cx.no_effect(&c.$key, concat!("closures.", stringify!($key)), $why);
                Some($neutral)
            }
        };
    }
    let inlet_area = take!(inlet_area);
    let bed_rate = take!(bed_rate);
    let char_rate = take!(char_rate);
    let mixing_time = take!(mixing_time);
    let unmixedness = take!(unmixedness);
    let emissivity = take!(emissivity);
    let flame_soot = take!(flame_soot);
    let duct_convection = take!(duct_convection);
    let bank_exposure = take!(
        bank_exposure,
        f.coil_in_gas,
        "no coil stands in the gas",
        neutral.bank_exposure
    );
    let water_convection = take!(
        water_convection,
        f.coil || f.in_water,
        "there is no coil, and no wall stands in water",
        neutral.water_convection
    );
    let water_friction = take!(
        water_friction,
        f.coil,
        "there is no coil",
        neutral.water_friction
    );
    let gas_friction = take!(gas_friction);
    let casing_loss = take!(casing_loss);
    let coil_radiation = take!(
        coil_radiation,
        f.coil_in_gas,
        "no coil stands in the gas",
        neutral.coil_radiation
    );
    let contact = take!(
        contact,
        f.coil_around,
        "no coil is wound on the outside of a section",
        neutral.contact
    );
    let fouling_rate = take!(
        fouling_rate,
        f.sooty,
        "no coil stands in the gas and there is no flue",
        neutral.fouling_rate
    );
    let evaporation = take!(
        evaporation,
        f.tub || f.drum_open,
        "only a tub or an open drum has an open surface",
        neutral.evaporation
    );
    let vessel_loss = take!(
        vessel_loss,
        f.store || f.drum,
        "there is no [store]",
        neutral.vessel_loss
    );
    let tank_mixing = take!(
        tank_mixing,
        f.store && f.layered || f.drum_layered,
        "the store is one mixed layer, or there is none",
        neutral.tank_mixing
    );
    let leakage_share = take!(leakage_share);
    let ember_size = take!(ember_size);
    let ember_emission = take!(ember_emission);
    let hearth_contact = take!(hearth_contact);
    Some(Closures {
        inlet_area: inlet_area?,
        bed_rate: bed_rate?,
        char_rate: char_rate?,
        mixing_time: mixing_time?,
        unmixedness: unmixedness?,
        emissivity: emissivity?,
        flame_soot_per_m: flame_soot?,
        duct_convection: duct_convection?,
        bank_exposure: bank_exposure?,
        water_convection: water_convection?,
        water_friction: water_friction?,
        gas_friction: gas_friction?,
        casing_loss: casing_loss?,
        coil_radiation: coil_radiation?,
        contact: contact?,
        fouling_rate: fouling_rate?,
        evaporation: evaporation?,
        vessel_loss: vessel_loss?,
        tank_mixing: tank_mixing?,
        leakage_share: leakage_share?,
        ember_size: ember_size?,
        ember_emission: ember_emission?,
        hearth_contact: hearth_contact?,
    })
}

/// Numerical settings.
pub(super) fn solver(raw: &RawScenario, f: &Features, cx: &mut Cx<'_>) -> Option<SolverSettings> {
    let none = Default::default();
    let s = raw.solver.as_ref().map_or(&none, |s| &s.value);
    let rtol = cx.or(&s.rtol, "solver.rtol", "solver.rtol");
    let atol = cx.or(&s.atol, "solver.atol", "solver.atol");
    let cell_factor = match &s.cell_factor {
        Some(n) => n.value.read,
        None => cx
            .default_text("solver.cell_factor", "solver.cell_factor")
            .parse()
            .ok(),
    };
    let output = cx.or(
        &s.output_interval,
        "solver.output_interval",
        "solver.output_interval",
    );
    let air = cx.or(&s.air_inertia, "solver.air_inertia", "solver.air_inertia");
    let flame = cx.or(
        &s.flame_inertia,
        "solver.flame_inertia",
        "solver.flame_inertia",
    );
    let pump = if f.pumped {
        cx.or(
            &s.pump_inertia,
            "solver.pump_inertia",
            "solver.pump_inertia",
        )
    } else {
        cx.no_effect(
            &s.pump_inertia,
            "solver.pump_inertia",
            "no pump drives the loop",
        );
        Some(SolverSettings::default().pump_inertia_s)
    };
    Some(SolverSettings {
        rtol: rtol?,
        atol: atol?,
        cell_factor: cell_factor?,
        output_interval_s: output?,
        air_inertia_s: air?,
        flame_inertia_s: flame?,
        pump_inertia_s: pump?,
    })
}
