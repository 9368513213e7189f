//! Named defaults: the value of every key that may be left out, and why it is what it is.
//!
//! `key` is the path of the key in the schema; `/variant` follows where the default depends on the rig.

/// One default.
#[derive(Debug)]
pub(super) struct Default {
    pub key: &'static str,
    /// As it would be written in the file.
    pub value: &'static str,
    pub reason: &'static str,
}

const fn d(key: &'static str, value: &'static str, reason: &'static str) -> Default {
    Default { key, value, reason }
}

const NEUTRAL: &str = "the closure as its source gives it";

/// Every fixed default. Derived ones (a rise equal to the length, say) are made where they are needed.
#[rustfmt::skip]
pub(super) static DEFAULTS: &[Default] = &[
    d("site.altitude", "0 m", "sea level"),
    d("site.wind", "0 m/s", "still air"),
    d("site.humidity", "70 %", "temperate outdoor air (common practice)"),
    d("thermometer.sheath", "3 mm", "a sheathed thermocouple of type K (common practice)"),
    d("thermometer.emissivity", "0.8", "a sheath of steel that has oxidised in the fire (handbooks: 0.8 to 0.9, from memory)"),
    d("thermometer.from_coil", "50 mm", "a hand's breadth or less from the turns (common practice)"),
    d("target.probe", "mean", "energy mean of the store"),
    d("target.probe/once_through", "outlet", "without a store the outlet is what counts"),
    d("stop.when", "target", "the question is how long until it is hot"),
    d("stop.when/dry", "time", "without water there is no target"),
    d("stop.after_target", "30 min", "shows how the fire coasts beyond the target"),
    d("stop.latest", "12 h", "a day's burn"),
    d("fuel.stick.shape", "round", "split wood is taken as round sticks of the same thickness"),
    d("lighting.thickness", "12 mm", "finger-thick kindling (common practice)"),
    d("lighting.moisture", "12 % wet", "kindling kept under a roof (common practice)"),
    d("lighting.starter", "1.0 MJ", "three sheets of newspaper, about 60 g (common practice)"),
    d("lighting.starter_burns", "2 min", "crumpled paper (common practice)"),
    d("feeding.door_open", "20 s", "opening, laying one charge and closing (common practice)"),
    d("feeding.every.until", "end", "feeding goes on to the end of the run"),
    d("feeding.rules.from", "0 s", "the rule is awake from lighting"),
    d("feeding.rules.until", "end", "feeding goes on to the end of the run"),
    d("firebox.mouth_cover", "0 %", "nothing lies over the mouth"),
    d("firebox.air_inlet", "0 cm2", "the mouth is the only inlet"),
    d("firebox.air_over", "0 %", "air enters below or beside the wood"),
    d("firebox.inlet_loss", "1.5", "sharp entry 0.5 and the turn into the fire 1.0 (common practice)"),
    d("firebox.door", "4 mm of steel", "a plain door without lining or glass"),
    d("firebox.hearth_mass", "5 kg", "grate, ash and the brick right under the embers (common practice)"),
    d("gas_path.passages", "1", "one passage"),
    d("gas_path.outdoors", "false", "under a roof"),
    d("gas_path.loss/riser", "0", "a straight duct"),
    d("gas_path.loss/mass", "0", "changes of section are reckoned from the areas"),
    d("gas_path.loss/passage", "0", "changes of section are reckoned from the areas"),
    d("gas_path.loss/bend", "1.2", "mitred 90 degree bend (EN 13384-1 table B.8, from memory)"),
    d("gas_path.loss/damper", "0", "the plate's own loss follows from its position"),
    d("gas_path.loss/flue", "0.5", "a rain cap; the outlet's own velocity head is reckoned beside it (common practice)"),
    d("gas_path.loss/fan", "0.5", "entry into the fan (common practice)"),
    d("gas_path.roughness/metal", "1 mm", "welded steel flue (EN 13384-1 table B.4, from memory)"),
    d("gas_path.roughness/masonry", "3 mm", "mineral surface between concrete and brick (EN 13384-1 table B.4, from memory)"),
    d("coil.water_enters", "gas outlet", "counter-flow"),
    d("coil.core_plug", "0 %", "open core"),
    d("coil.parallel", "1", "a single tube"),
    d("coil.fouling", "0 m2K/W", "a clean coil"),
    d("coil.exposed", "100 %", "a tube that stands free in the fire"),
    d("store.closed.relief_bore", "12 mm", "bore of the usual half-inch valve of a small heating loop (common practice)"),
    d("store.closed.relief_discharge", "0.7", "a small valve without a certified figure (common practice)"),
    d("coil.water_gap", "50 mm", "room for water to rise in and for a brush (common practice)"),
    d("coil.insulation", "none", "a bare shell"),
    d("coil.jacket.water_enters", "at its lower end", "cold water below, warm above"),
    d("coil.gap", "0.1 mm", "a tube wound tight by hand on a rolled pipe; a loose or oval one has several times as much (common practice)"),
    d("drum.layers", "4", "enough to show layering in a drum that is stirred from below or beside"),
    d("drum.shell", "0 J/K", "the shell is left out beside the water"),
    d("drum.open", "false", "a loose lid lies on it"),
    d("drum.wind_share", "50 %", "the drum's rim shelters the surface (common practice)"),
    d("loop.check_valve", "false", "none fitted"),
    d("loop.supply.fittings", "4", "entry, exit and two bends (common practice)"),
    d("loop.return.fittings", "4", "entry, exit and two bends (common practice)"),
    d("loop.bypass.check_valve", "false", "none fitted"),
    d("loop.bypass.riser.fittings", "4", "tee, entry and two bends (common practice)"),
    d("loop.bypass.return.fittings", "4", "entry, tee and two bends (common practice)"),
    d("loop.bypass.header.layers", "4", "enough to show layering in a small tank"),
    d("loop.bypass.header.shell", "0 J/K", "the shell is left out beside the water"),
    d("once_through.supply.fittings", "4", "entry, exit and two bends (common practice)"),
    d("once_through.return.fittings", "4", "entry, exit and two bends (common practice)"),
    d("pump.settings.speed", "100 %", "the curve as given"),
    d("pump.stopped_loss", "10", "water can pass a stopped wheel (common practice)"),
    d("pump.power_to_water", "70 %", "wet-rotor circulator: most of the motor's loss warms the water (common practice)"),
    d("store.layers/barrel", "6", "enough to show layering in a drum"),
    d("store.layers/tank", "10", "enough to show layering in a tall tank"),
    d("store.layers/tub", "1", "bathers stir the tub"),
    d("store.shell", "0 J/K", "the shell is left out beside the water"),
    d("store.clouds", "50 %", "half the sky clouded"),
    d("store.wind_share", "50 %", "the tub's rim shelters the surface (common practice)"),
    d("store.cover.leak", "5 %", "a lid that lies well (common practice)"),
    d("once_through.valve_loss", "10", "a globe valve, fully open (common practice)"),
    d("bench.pump_power", "0 W", "not given, so none is counted"),
    d("controls.damper.initial", "100 %", "open at lighting"),
    d("controls.damper.rule.from", "0 s", "the rule is awake from lighting"),
    d("controls.air_inlet.initial", "100 %", "open at lighting"),
    d("controls.air_inlet.rule.from", "0 s", "the rule is awake from lighting"),
    d("controls.valve.initial", "100 %", "open at lighting"),
    d("controls.valve.rule.from", "0 s", "the rule is awake from lighting"),
    d("controls.pump.rule.from", "0 s", "the rule is awake from lighting"),
    d("controls.cover.initial", "on", "a tub that has a cover is heated under it"),
    d("closures.inlet_area", "1", NEUTRAL),
    d("closures.bed_rate", "1", NEUTRAL),
    d("closures.char_rate", "1", NEUTRAL),
    d("closures.mixing_time", "1", NEUTRAL),
    d("closures.unmixedness", "0.25", "hand-fed fire (common practice)"),
    d("closures.emissivity", "1", NEUTRAL),
    d("closures.flame_soot", "1.0 1/m", "yellow wood flame (common practice)"),
    d("closures.duct_convection", "1", NEUTRAL),
    d("closures.bank_exposure", "1", NEUTRAL),
    d("closures.water_convection", "1", NEUTRAL),
    d("closures.water_friction", "1", NEUTRAL),
    d("closures.gas_friction", "1", NEUTRAL),
    d("closures.casing_loss", "1", NEUTRAL),
    d("closures.coil_radiation", "1", NEUTRAL),
    d("closures.contact", "1", NEUTRAL),
    d("closures.fouling_rate", "1", NEUTRAL),
    d("closures.evaporation", "1", NEUTRAL),
    d("closures.vessel_loss", "1", NEUTRAL),
    d("closures.tank_mixing", "1", NEUTRAL),
    d("closures.leakage_share", "2 %", "joints of a home-built firebox (common practice)"),
    d("closures.ember_size", "1", NEUTRAL),
    d("closures.ember_emission", "1", NEUTRAL),
    d("closures.hearth_contact", "1", NEUTRAL),
    d("solver.rtol", "5e-3", "until the target the store within 0.05 K of a run a thousand times tighter, time to target within 0.1 %"),
    d("solver.atol", "1e-3", "a tenth of a kelvin a step: goes with the relative tolerance"),
    d("solver.cell_factor", "1", "the default grid"),
    d("solver.output_interval", "20 s", "a smooth curve without a large file"),
    d("solver.air_inertia", "12 s", "slower than the real air column, faster than anything of interest"),
    d("solver.flame_inertia", "8 s", "the flame keeps no heat: it is only how soon what it radiates is looked at anew"),
    d("solver.pump_inertia", "8 s", "slower than the real loop, faster than anything of interest"),
];

/// Defaults that are worked out from other keys where they are needed; here for the reference page.
pub(super) static DERIVED: &[(&str, &str)] = &[
    ("feeding.every.from", "one interval after lighting"),
    ("gas_path.name", "the word of the part"),
    (
        "gas_path.rise",
        "as much as the length; 0 m for a mass or a bend",
    ),
    ("gas_path.cells", "by part"),
    ("coil.name", "coil, or coil 1, coil 2 ..."),
    ("coil.metal", "that of the trade size"),
    ("coil.pitch", "two tube diameters"),
    ("coil.offset", "in the middle of the section"),
    ("coil.cells", "by length"),
    ("drum.loss", "from the insulation"),
    ("loop.supply.loss", "by kind and bore"),
    ("loop.supply.heat_capacity", "by kind and bore"),
    ("loop.supply.roughness", "by kind"),
    ("loop.bypass.header.loss", "from the insulation"),
    (
        "store.closed.reseat_pressure",
        "a fifth under the relief pressure",
    ),
    (
        "store.closed.burst_pressure",
        "1.43 times the relief pressure",
    ),
    (
        "store.closed.vessel_precharge",
        "0.3 bar under the fill pressure",
    ),
    ("store.draw_port", "nine tenths of the depth"),
    ("store.surface", "volume over depth"),
    ("store.loss", "from the insulation"),
    ("draw.for", "to the end of the run"),
    ("controls.pump.initial", "the first setting"),
    ("fuel.ash", "of the species"),
    ("fuel.density", "of the species"),
    ("fuel.char_yield", "of the species"),
    ("fuel.heating_value", "from the composition"),
    ("gas_path.dry_wall.conductivity", "of the material"),
    ("gas_path.dry_wall.density", "of the material"),
    ("gas_path.dry_wall.heat_capacity", "of the material"),
    ("gas_path.dry_wall.emissivity", "of the material"),
    ("gas_path.dry_wall.limit", "of the material"),
    ("gas_path.wall.conductivity", "of the material"),
    ("gas_path.wall.density", "of the material"),
    ("gas_path.wall.heat_capacity", "of the material"),
    ("gas_path.wall.emissivity", "of the material"),
    ("gas_path.wall.limit", "of the material"),
    ("firebox.door.conductivity", "of the material"),
    ("firebox.door.density", "of the material"),
    ("firebox.door.heat_capacity", "of the material"),
    ("firebox.door.emissivity", "of the material"),
    ("firebox.door.limit", "of the material"),
    ("firebox.wet_wall.conductivity", "of the material"),
    ("firebox.wet_wall.density", "of the material"),
    ("firebox.wet_wall.heat_capacity", "of the material"),
    ("firebox.wet_wall.emissivity", "of the material"),
    ("firebox.wet_wall.limit", "of the material"),
    ("firebox.wall.conductivity", "of the material"),
    ("firebox.wall.density", "of the material"),
    ("firebox.wall.heat_capacity", "of the material"),
    ("firebox.wall.emissivity", "of the material"),
    ("firebox.wall.limit", "of the material"),
];

/// The default of a key.
pub(super) fn find(key: &str) -> Option<&'static Default> {
    DEFAULTS.iter().find(|d| d.key == key)
}

/// The defaults of a schema path: its own, and those of its variants.
pub(super) fn of_path(path: &str) -> Vec<(&'static str, &'static Default)> {
    DEFAULTS
        .iter()
        .filter_map(|d| {
            let rest = d.key.strip_prefix(path)?;
            match rest.strip_prefix('/') {
                Some(variant) => Some((variant, d)),
                None if rest.is_empty() => Some(("", d)),
                None => None,
            }
        })
        .collect()
}
