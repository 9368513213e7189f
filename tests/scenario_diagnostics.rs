//! Every kind of problem is found at its exact place, and all of them in one pass.

use emberloop::scenario::{Diagnostics, Loaded, Severity, codes, load_str};
use std::collections::BTreeSet;

const BARREL: &str = include_str!("scenario_data/wash-up-barrel.toml");
const STOVE: &str = include_str!("scenario_data/wash-up-barrel-stove.toml");
const TUB: &str = include_str!("scenario_data/cedar-tub.toml");
const BENCH: &str = include_str!("scenario_data/night-store-bench.toml");
const BOILER: &str = include_str!("scenario_data/workshop-boiler.toml");
const ORCHARD: &str = include_str!("scenario_data/orchard-tub.toml");
const DRUM: &str = include_str!("scenario_data/drum-and-tub.toml");

/// One case: in `base`, `from` is replaced by `to`; code at the first `at` within the changed text.
struct Case {
    base: &'static str,
    from: &'static str,
    to: &'static str,
    code: &'static str,
    /// Text at whose first occurrence (within `to`, or in the whole file) the caret stands.
    at: &'static str,
    /// A part of message or help.
    says: &'static str,
}

#[rustfmt::skip]
const CASES: &[Case] = &[
    // E01: syntax and keys
    Case { base: BARREL, from: "wind = \"1 m/s\"", to: "wind = \"1 m/s", code: "E0101", at: "\nhumidity", says: "not readable as TOML" },
    Case { base: BARREL, from: "wind = \"1 m/s\"", to: "wind = \"1 m/s\"\nwind = \"2 m/s\"", code: "E0101", at: "wind = \"2", says: "duplicate key" },
    Case { base: BARREL, from: "wind = \"1 m/s\"", to: "wnd = \"1 m/s\"", code: "E0102", at: "wnd", says: "did you mean \"wind\"?" },
    Case { base: BARREL, from: "wind = \"1 m/s\"", to: "pitch = \"30 mm\"", code: "E0102", at: "pitch", says: "belongs in [coil]" },
    Case { base: BARREL, from: "outside = \"15.9 mm\", inside", to: "outsid = \"15.9 mm\", inside", code: "E0102", at: "outsid", says: "did you mean \"outside\"?" },
    Case { base: BARREL, from: "check_valve = false", to: "check_valve = \"no\"", code: "E0103", at: "\"no\"", says: "true or false" },
    Case { base: BARREL, from: "layers = 6", to: "layers = 6.5", code: "E0103", at: "6.5", says: "a whole number" },
    Case { base: BARREL, from: "wall = [{ material = \"steel\", thickness = \"0.8 mm\" }]", to: "wall = \"steel\"", code: "E0103", at: "\"steel\"", says: "a list in square brackets" },
    Case { base: BARREL, from: "volume = \"20 L\"", to: "", code: "E0104", at: "[[draw]]", says: "needs the key \"volume\"" },
    Case { base: BARREL, from: "when = \"target\"", to: "when = \"targt\"", code: "E0105", at: "\"targt\"", says: "did you mean \"target\"?" },
    Case { base: BARREL, from: "name = \"damper\"", to: "name = \"riser\"", code: "E0108", at: "\"riser\"\nbore = \"150 mm\"\nlength = \"100 mm\"", says: "two sections" },
    Case { base: BARREL, from: "{ name = \"high\"", to: "{ name = \"low\"", code: "E0108", at: "\"low\", power = \"18 W\"", says: "two pump settings" },
    Case { base: BARREL, from: "wall = [{ material = \"steel\", thickness = \"0.8 mm\" }]", to: "wall = []", code: "E0109", at: "[]", says: "at least 1" },
    // E02: units and ranges
    Case { base: BARREL, from: "altitude = \"420 m\"", to: "altitude = 420", code: "E0201", at: "420", says: "needs its unit" },
    Case { base: BARREL, from: "altitude = \"420 m\"", to: "altitude = \"420\"", code: "E0201", at: "\"420\"", says: "has no unit" },
    Case { base: BARREL, from: "altitude = \"420 m\"", to: "altitude = \"420 furlong\"", code: "E0202", at: "furlong", says: "unknown unit \"furlong\"" },
    Case { base: BARREL, from: "altitude = \"420 m\"", to: "altitude = \"420 kg\"", code: "E0202", at: "kg", says: "is a unit of mass" },
    Case { base: BARREL, from: "altitude = \"420 m\"", to: "altitude = \"0,42 km\"", code: "E0202", at: "0,42", says: "comma" },
    Case { base: BARREL, from: "interval = \"10 min\"", to: "interval = \"14:05\"", code: "E0202", at: ":05", says: "time of day" },
    Case { base: BARREL, from: "until = \"end\"", to: "until = \"ned\"", code: "E0202", at: "ned", says: "did you mean \"end\"" },
    Case { base: BARREL, from: "moisture = \"18 %\"", to: "moisture = \"400 %\"", code: "E0203", at: "\"400 %\"", says: "allowed: 0 % to 150 %" },
    Case { base: BARREL, from: "moisture = \"18 %\"", to: "moisture = 18", code: "E0203", at: "18\nmoisture_basis", says: "needs its sign" },
    Case { base: BARREL, from: "moisture = \"18 %\"", to: "moisture = \"70 %\"", code: "E0203", at: "\"70 %\"\nmoisture_basis", says: "on the wet basis" },
    Case { base: BARREL, from: "loss = 1.5 ", to: "loss = inf ", code: "E0203", at: "inf ", says: "not usable" },
    Case { base: BARREL, from: "layers = 6", to: "layers = 600", code: "E0203", at: "600", says: "allowed: 1 to 60" },
    // E03: geometry and order
    Case { base: BARREL, from: "diameter = \"360 mm\"", to: "diameter = \"410 mm\"", code: "E0301", at: "\"410 mm\"", says: "does not go into" },
    Case { base: BARREL, from: "form = \"helix\"", to: "form = \"serpentine\"", code: "E0301", at: "\"serpentine\"", says: "rectangular" },
    Case { base: BARREL, from: "length = \"9.1 m\"", to: "length = \"20 m\"", code: "E0302", at: "\"20 m\"", says: "the section \"coil passage\" only 260 mm" },
    Case { base: TUB, from: "kind = \"door\"", to: "kind = \"down-draught\"", code: "E0401", at: "\"coil passage\"\nform", says: "burn out in the first section" },
    Case { base: BARREL, from: "pitch = \"30 mm\"", to: "pitch = \"10 mm\"", code: "E0302", at: "\"10 mm\"", says: "smaller than the tube" },
    Case { base: BARREL, from: "pitch = \"30 mm\"", to: "pitch = \"30 mm\"\noffset = \"50 mm\"", code: "E0302", at: "\"50 mm\"\nwater", says: "ends beyond its section" },
    Case { base: BARREL, from: "core_plug = \"60 %\"", to: "core_plug = \"75 %\"", code: "E0303", at: "\"75 %\"", says: "at most 67 %" },
    Case { base: BARREL, from: "inside = \"13.8 mm\"", to: "inside = \"16 mm\"", code: "E0304", at: "\"16 mm\"", says: "not smaller than the outside" },
    Case { base: BENCH, from: "rise = \"-700 mm\"", to: "rise = \"-800 mm\"", code: "E0305", at: "\"-800 mm\"", says: "larger than the length" },
    Case { base: BARREL, from: "hot_port = \"700 mm\"", to: "hot_port = \"900 mm\"", code: "E0306", at: "\"900 mm\"", says: "850 mm deep" },
    Case { base: BARREL, from: "core_plug = \"60 %\"", to: "core_plug = \"60 %\"\nparallel = 1", code: "", at: "", says: "" },
    Case { base: BARREL, from: "[\"6 L/min\", \"8 kPa\"]", to: "[\"6 L/min\", \"13 kPa\"]", code: "E0308", at: "[\"6 L/min\"", says: "must fall" },
    Case { base: BARREL, from: "[\"0 L/min\", \"12 kPa\"]", to: "[\"1 L/min\", \"12 kPa\"]", code: "E0308", at: "[\"1 L/min\"", says: "begin at zero flow" },
    Case { base: BARREL, from: "[\"25 L/min\", \"0 kPa\"]", to: "[\"25 L/min\", \"1 kPa\"]", code: "E0308", at: "[\"25 L/min\"", says: "end at zero head" },
    Case { base: BENCH, from: "{ at = \"10 h\"", to: "{ at = \"0 h\"", code: "E0309", at: "{ at = \"0 h\", value = \"-4", says: "later than the one before" },
    Case { base: BARREL, from: "every = \"20 min\"", to: "every = \"2 min\"", code: "E0309", at: "\"2 min\"\nfor", says: "not finished" },
    Case { base: BARREL, from: "burning_length = \"200 mm\"", to: "burning_length = \"600 mm\"", code: "E0310", at: "\"600 mm\"", says: "longer than the stick" },
    Case { base: TUB, from: "length = \"380 mm\" }", to: "length = \"500 mm\" }", code: "E0310", at: "\"500 mm\"", says: "does not go into the firebox" },
    Case { base: BARREL, from: "species = \"maple\"", to: "species = \"maple\"\ncarbon = \"50 %\"\nhydrogen = \"6 %\"\noxygen = \"40 %\"\nnitrogen = \"0 %\"", code: "E0311", at: "\"50 %\"\nhydrogen", says: "add up to 96" },
    Case { base: BENCH, from: "off_above = \"20 degC\"", to: "off_above = \"17 degC\"", code: "E0313", at: "\"17 degC\"", says: "must lie above" },
    Case { base: BENCH, from: "above = \"60 degC\"", to: "above = \"30 degC\"", code: "E0313", at: "\"30 degC\"", says: "higher than \"below\"" },
    Case { base: TUB, from: "air_inlet = \"55 cm2\"", to: "air_inlet = \"0 cm2\"", code: "E0314", at: "\"0 cm2\"", says: "larger than zero" },
    Case { base: BARREL, from: "width = \"150 mm\", depth = \"130 mm\"", to: "width = \"170 mm\", depth = \"130 mm\"", code: "E0315", at: "\"170 mm\"", says: "larger than the plan" },
    Case { base: TUB, from: "height = \"250 mm\" }", to: "height = \"450 mm\" }", code: "E0315", at: "\"450 mm\"", says: "larger than the front" },
    Case { base: BENCH, from: "check_valve = true", to: "check_valve = true\nbypass = { riser = { length = \"2 m\", inside = \"26 mm\", kind = \"copper\" }, return = { length = \"2 m\", inside = \"26 mm\", kind = \"copper\" }, header = { water = \"100 L\", depth = \"0.5 m\", floor_height = \"1 m\", start = \"20 degC\", loss = \"5 W/K\", hot_port = \"0.4 m\", cold_port = \"0.1 m\" } }", code: "E0316", at: "{ water = \"100 L\"", says: "below the other water of the loop" },
    Case { base: BARREL, from: "layers = 6", to: "layers = 6\nclosed = { fill_pressure = \"1 bar\", vessel_volume = \"18 L\", vessel_precharge = \"1.5 bar\", relief_pressure = \"3 bar\" }", code: "E0317", at: "\"1.5 bar\"", says: "above the fill pressure" },
    Case { base: BARREL, from: "layers = 6", to: "layers = 6\nclosed = { fill_pressure = \"2 bar\", vessel_volume = \"18 L\", relief_pressure = \"1.9 bar\" }", code: "E0317", at: "\"1.9 bar\"", says: "not above the fill pressure" },
    Case { base: BOILER, from: "wall = [{ material = \"steel\", thickness = \"5 mm\" }]", to: "wall = [{ material = \"fire brick\", thickness = \"50 mm\" }]", code: "E0318", at: "{ material = \"fire brick\", thickness = \"50 mm\"", says: "no metal sheet" },
    Case { base: BOILER, from: "water_gap = \"25 mm\"", to: "water_gap = \"25 mm\"\nlength = \"2 m\"", code: "E0502", at: "\"2 m\"", says: "has no tube" },
    Case { base: BOILER, from: "layers = 8", to: "layers = 8\nclosed = { fill_pressure = \"1 bar\", vessel_volume = \"80 L\", relief_pressure = \"3 bar\" }", code: "E0504", at: "[[coil]]\nname = \"firebox jacket\"", says: "what pressure its sheets hold" },
    Case { base: BOILER, from: "passages = 16", to: "passages = 16\noutdoors = true", code: "E0502", at: "true\nlength", says: "keeps the wind off" },
    Case { base: BARREL, from: "core_plug = \"60 %\"", to: "water_gap = \"30 mm\"", code: "E0502", at: "\"30 mm\"", says: "only a jacket has a shell" },
    Case { base: BARREL, from: "tube = { outside = \"15.9 mm\", inside = \"13.8 mm\" }", to: "", code: "E0104", at: "[[coil]]", says: "needs \"tube\"" },
    Case { base: BOILER, from: "form = \"jacket\"            #", to: "form = \"jaket\"            #", code: "E0105", at: "\"jaket\"", says: "did you mean \"jacket\"?" },
    Case { base: ORCHARD, from: "floor_height = \"-60 mm\"", to: "floor_height = \"600 mm\"", code: "E0319", at: "\"85 %\"", says: "it is not in the water" },
    Case { base: ORCHARD, from: "wall = [{ material = \"steel\", thickness = \"4 mm\" }]", to: "wall = [{ material = \"fire brick\", thickness = \"40 mm\" }]", code: "E0318", at: "{ material = \"fire brick\"", says: "the store's water touches" },
    Case { base: ORCHARD, from: "layers = 4", to: "layers = 4\nhot_port = \"0.5 m\"", code: "E0502", at: "\"0.5 m\"", says: "no [loop] comes to the store" },
    Case { base: ORCHARD, from: "[target]", to: "[thermometer]\nfrom_coil = \"40 mm\"\n\n[target]", code: "E0502", at: "\"40 mm\"", says: "no coil or jacket meets the gas" },
    Case { base: ORCHARD, from: "probe = \"mean\"", to: "probe = \"outlet\"", code: "E0502", at: "\"outlet\"", says: "there is no coil" },
    Case { base: ORCHARD, from: "in_water = true", to: "in_water = true\noutdoors = true", code: "E0502", at: "true\nwall", says: "all of it stands in water" },
    Case { base: ORCHARD, from: "wall = [{ material = \"steel\", thickness = \"4 mm\" }]", to: "wall = [{ material = \"fire brick\", thickness = \"40 mm\" }]\nwet_wall = [{ material = \"steel\", thickness = \"4 mm\" }]", code: "", at: "", says: "" },
    Case { base: ORCHARD, from: "in_water = \"85 %\"", to: "in_water = \"85 %\"\nwet_wall = [{ material = \"fire brick\", thickness = \"40 mm\" }]", code: "E0318", at: "{ material = \"fire brick\"", says: "the store's water touches" },
    Case { base: TUB, from: "hearth_mass = \"20 kg\"", to: "hearth_mass = \"20 kg\"\nwet_wall = [{ material = \"steel\", thickness = \"4 mm\" }]", code: "E0502", at: "[{ material = \"steel\", thickness = \"4 mm\" }]", says: "give in_water" },
    Case { base: ORCHARD, from: "in_water = true\n", to: "in_water = true\ndry_share = \"40 %\"\ndry_wall = [{ material = \"fire brick\", thickness = \"60 mm\", moisture = \"5 %\" }]\noutdoors = true\n", code: "", at: "", says: "" },
    Case { base: ORCHARD, from: "in_water = true\n", to: "in_water = true\ndry_share = \"40 %\"\n", code: "E0104", at: "[[gas_path]]", says: "dry_wall is missing" },
    Case { base: ORCHARD, from: "in_water = true\n", to: "in_water = true\ndry_wall = [{ material = \"fire brick\", thickness = \"60 mm\" }]\n", code: "E0104", at: "[[gas_path]]", says: "dry_share is missing" },
    Case { base: ORCHARD, from: "in_water = true\n", to: "dry_share = \"40 %\"\n", code: "E0502", at: "\"40 %\"", says: "no wall of this section stands in water" },
    Case { base: ORCHARD, from: "in_water = \"85 %\"", to: "in_water = \"100 %\"", code: "E0203", at: "\"100 %\"", says: "allowed: 1 % to 98 %" },
    Case { base: BARREL, from: "{ material = \"fire brick\", thickness = \"60 mm\" }", to: "{ material = \"fire brick\", thickness = \"60 mm\", moisture = \"20 %\" }", code: "E0320", at: "\"20 %\"", says: "have room for 11.0 %" },
    Case { base: BARREL, from: "{ material = \"fire brick\", thickness = \"60 mm\" }", to: "{ material = \"fire brick\", thickness = \"60 mm\", moisture = \"40 %\" }", code: "E0203", at: "\"40 %\"", says: "allowed: 0 % to 30 %" },
    Case { base: BARREL, from: "{ material = \"fire brick\", thickness = \"60 mm\" }", to: "{ material = \"granite\", thickness = \"60 mm\", moisture = \"1 %\" }", code: "E0320", at: "\"1 %\"", says: "have room for 0.3 %" },
    Case { base: BARREL, from: "{ material = \"fire brick\", thickness = \"60 mm\" }", to: "{ material = \"lava\", thickness = \"60 mm\", density = \"2000 kg/m3\", conductivity = \"1 W/mK\", heat_capacity = \"900 J/kgK\", emissivity = \"80 %\", moisture = \"5 %\" }", code: "E0320", at: "\"5 %\"", says: "name the nearest material of the table" },
    Case { base: BARREL, from: "wall = [{ material = \"steel\", thickness = \"0.8 mm\" }]", to: "wall = [{ material = \"steel\", thickness = \"0.8 mm\", moisture = \"5 %\" }]", code: "E0320", at: "\"5 %\"", says: "steel holds no free water" },
    Case { base: ORCHARD, from: "wall = [{ material = \"steel\", thickness = \"4 mm\" }]", to: "wall = [{ material = \"fire brick\", thickness = \"40 mm\", moisture = \"5 %\" }, { material = \"steel\", thickness = \"4 mm\" }]", code: "E0320", at: "\"5 %\"", says: "in the store's water does not dry" },
    Case { base: BARREL, from: "hot_port = \"700 mm\"", to: "", code: "E0104", at: "[store]", says: "needs \"hot_port\"" },
    Case { base: BARREL, from: "add = \"0.7 kg\"", to: "add = \"30 kg\"", code: "E0321", at: "\"30 kg\"", says: "the firebox holds 8.70 L of it" },
    Case { base: BARREL, from: "add = \"0.7 kg\"", to: "add = \"30 kg\"", code: "E0321", at: "\"30 kg\"", says: "at most 3.12 kg at a time" },
    Case { base: BARREL, from: "add = \"0.7 kg\"", to: "add = \"5 kg\"", code: "E0321", at: "\"5 kg\"", says: "the open mouth has 97.5 cm²" },
    Case { base: TUB, from: "add = \"3 kg\"", to: "add = \"43 kg\"", code: "E0321", at: "\"43 kg\"", says: "feeding.list[0].add: 43.0 kg" },
    // A coil in a drum
    Case { base: DRUM, from: "wet_wall = [{ material = \"steel\", thickness = \"3 mm\" }]", to: "wet_wall = [{ material = \"fire brick\", thickness = \"40 mm\", moisture = \"5 %\" }, { material = \"steel\", thickness = \"3 mm\" }]", code: "E0320", at: "\"5 %\"", says: "in the drum's water does not dry" },
    Case { base: DRUM, from: "layers = 4\n", to: "layers = 6\nopen = true\nwind_share = \"30 %\"\n", code: "", at: "", says: "" },
    Case { base: DRUM, from: "[drum]\nwater = \"120 L\"\ndepth = \"500 mm\"\nfloor_height = \"400 mm\"\nlayers = 4\nstart = \"10 degC\"\nloss = \"4 W/K\"\nshell = { material = \"steel\", mass = \"15 kg\" }\n", to: "", code: "E0503", at: "\"drum\"\nform", says: "needs the [drum]" },
    Case { base: DRUM, from: "in = \"drum\"\nform = \"helix\"\ntube = \"22x1 copper\"\nlength = \"12 m\"\ndiameter = \"400 mm\"", to: "in = \"flue\"\nform = \"around\"\ntube = \"22x1 copper\"\nlength = \"6 m\"", code: "E0503", at: "[drum]", says: "needs a [[coil]] in its water" },
    Case { base: DRUM, from: "in_water = true\n", to: "", code: "", at: "", says: "" },
    Case { base: DRUM, from: "in_water = \"22 %\"\nwet_wall = [{ material = \"steel\", thickness = \"3 mm\" }]\n\n[[gas_path]]\npart = \"passage\"\nname = \"flue in the drum\"\nbore = \"150 mm\"\nlength = \"550 mm\"\nin_water = true\n", to: "\n[[gas_path]]\npart = \"passage\"\nname = \"flue in the drum\"\nbore = \"150 mm\"\nlength = \"550 mm\"\n", code: "E0503", at: "[drum]", says: "needs a wall that heats its water" },
    Case { base: DRUM, from: "layers = 4\n", to: "layers = 4\nclosed = { fill_pressure = \"1 bar\", vessel_volume = \"18 L\", relief_pressure = \"3 bar\" }\n", code: "E0102", at: "closed", says: "belongs in [store]" },
    Case { base: DRUM, from: "layers = 4\n", to: "layers = 4\nwind_share = \"30 %\"\n", code: "E0502", at: "\"30 %\"", says: "only an open surface" },
    Case { base: DRUM, from: "loss = \"4 W/K\"\n", to: "", code: "E0104", at: "[drum]", says: "needs \"loss\" or \"insulation\"" },
    Case { base: DRUM, from: "floor_height = \"400 mm\"", to: "floor_height = \"600 mm\"", code: "E0319", at: "\"22 %\"", says: "the drum's water from" },
    Case { base: DRUM, from: "wall = [{ material = \"steel\", thickness = \"2 mm\" }]", to: "wall = [{ material = \"fire brick\", thickness = \"40 mm\" }]", code: "E0318", at: "{ material = \"fire brick\", thickness = \"40 mm\"", says: "the drum's water touches" },
    Case { base: DRUM, from: "form = \"helix\"", to: "form = \"jacket\"", code: "E0401", at: "\"jacket\"", says: "in the drum is a helix or a serpentine" },
    Case { base: DRUM, from: "length = \"12 m\"", to: "length = \"40 m\"", code: "E0302", at: "\"40 m\"", says: "the drum's water 500 mm deep" },
    Case { base: DRUM, from: "length = \"12 m\"", to: "length = \"12 m\"\noffset = \"300 mm\"", code: "E0302", at: "\"300 mm\"", says: "above the drum's water" },
    Case { base: DRUM, from: "length = \"12 m\"", to: "length = \"12 m\"\npitch = \"20 mm\"", code: "E0302", at: "\"20 mm\"\ndiameter", says: "smaller than the tube" },
    Case { base: DRUM, from: "length = \"12 m\"", to: "length = \"12 m\"\nwater_enters = \"gas inlet\"", code: "E0502", at: "\"gas inlet\"", says: "at its lower end" },
    Case { base: DRUM, from: "length = \"12 m\"", to: "length = \"12 m\"\ncore_plug = \"30 %\"", code: "E0502", at: "\"30 %\"\ndiameter", says: "no gas reaches" },
    // E04: names that lead nowhere
    Case { base: BARREL, from: "in = \"coil passage\"", to: "in = \"coil pasage\"", code: "E0401", at: "\"coil pasage\"", says: "did you mean \"coil passage\"?" },
    Case { base: BARREL, from: "in = \"coil passage\"", to: "in = \"damper\"", code: "E0401", at: "\"damper\"\nform", says: "cannot carry a coil" },
    Case { base: BARREL, from: "material = \"fire brick\"", to: "material = \"fire brik\"", code: "E0402", at: "\"fire brik\"", says: "did you mean \"fire brick\"?" },
    Case { base: BARREL, from: "material = \"fire brick\"", to: "material = \"lava\", density = \"2000 kg/m3\"", code: "E0402", at: "\"lava\"", says: "conductivity, heat_capacity, emissivity" },
    Case { base: BARREL, from: "species = \"maple\"", to: "species = \"mapel\"", code: "E0403", at: "\"mapel\"", says: "did you mean \"maple\"?" },
    Case { base: BENCH, from: "tube = \"3/4 in type L\"", to: "tube = \"3/4 in\"", code: "E0404", at: "\"3/4 in\"", says: "with its type" },
    Case { base: BARREL, from: "to = \"high\"", to: "to = \"hihg\"", code: "E0405", at: "\"hihg\"", says: "did you mean \"high\"?" },
    Case { base: BARREL, from: "kind = \"hose\"", to: "kind = \"hoze\"", code: "E0406", at: "\"hoze\"", says: "did you mean \"hose\"?" },
    Case { base: BARREL, from: "metal = \"copper\"", to: "metal = \"coper\"", code: "E0407", at: "\"coper\"", says: "did you mean \"copper\"?" },
    // E05: conflicts and keys without effect
    Case { base: BARREL, from: "length = \"9.1 m\"", to: "length = \"9.1 m\"\nturns = 8", code: "E0501", at: "8  ", says: "contradict" },
    Case { base: BARREL, from: "bore = \"420 mm\"", to: "bore = \"420 mm\"\nwidth = \"420 mm\"", code: "E0501", at: "\"420 mm\"\nlength", says: "round or rectangular" },
    Case { base: BARREL, from: "loss = \"4 W/K\"", to: "loss = \"4 W/K\"\ninsulation = { material = \"mineral wool\", thickness = \"50 mm\" }", code: "E0501", at: "{ material = \"mineral wool\", thickness = \"50 mm\" }\n", says: "follows from the insulation" },
    Case { base: BARREL, from: "mouth = { width", to: "mouth = { area = \"195 cm2\", width", code: "E0501", at: "\"150 mm\", depth = \"130 mm\"", says: "given twice" },
    Case { base: TUB, from: "kind = \"tub\"", to: "kind = \"tub\"\nclosed = { fill_pressure = \"1 bar\", vessel_volume = \"18 L\", relief_pressure = \"3 bar\" }", code: "E0501", at: "{ fill_pressure", says: "open to the air" },
    Case { base: BARREL, from: "hearth_mass = ", to: "air_over = \"50 %\"\nhearth_mass = ", code: "E0502", at: "\"50 %\"\nhearth", says: "comes in by the mouth" },
    Case { base: TUB, from: "hearth_mass = \"20 kg\"", to: "hearth_mass = \"20 kg\"\nmouth_cover = \"20 %\"", code: "E0502", at: "\"20 %\"\nwall", says: "only a feed tube" },
    Case { base: TUB, from: "[controls.air_inlet]", to: "[pump]\nsettings = [{ name = \"on\", power = \"20 W\", curve = [[\"0 L/min\", \"9 kPa\"], [\"9 L/min\", \"0 kPa\"]] }]\n\n[controls.air_inlet]", code: "E0502", at: "[pump]", says: "thermosyphon" },
    Case { base: TUB, from: "[controls.air_inlet]", to: "[controls.damper]", code: "E0502", at: "[controls.damper]", says: "no section with part = \"damper\"" },
    Case { base: BARREL, from: "cold_port = \"80 mm\"", to: "cold_port = \"80 mm\"\nsurface = \"1 m2\"", code: "E0502", at: "\"1 m2\"", says: "only a tub" },
    Case { base: TUB, from: "cold_port = \"100 mm\"", to: "cold_port = \"100 mm\"\ndraw_port = \"400 mm\"", code: "E0502", at: "\"400 mm\"\nsurface", says: "nothing is drawn" },
    Case { base: BARREL, from: "inlet_area = 1.0", to: "evaporation = 2.0", code: "E0502", at: "2.0", says: "open surface" },
    Case { base: TUB, from: "[controls.air_inlet]", to: "[solver]\npump_inertia = \"3 s\"\n[controls.air_inlet]", code: "E0502", at: "\"3 s\"", says: "no pump" },
    Case { base: BENCH, from: "stopped_loss = 10.0", to: "stopped_loss = 10.0\n[controls.valve]\ninitial = \"50 %\"\n[pump2]", code: "E0502", at: "[controls.valve]", says: "once-through" },
    Case { base: BENCH, from: "latest = \"14 h\"", to: "latest = \"14 h\"\nafter_target = \"1 h\"", code: "E0502", at: "\"1 h\"", says: "not at the target" },
    Case { base: BARREL, from: "every = \"20 min\"\n", to: "", code: "E0502", at: "\"2 h\"\nvolume", says: "happens once" },
    Case { base: BARREL, from: "wall = [\n  { material = \"steel\", thickness = \"1.5 mm\" },", to: "wall = [\n  { material = \"steel\", thickness = \"1.5 mm\" }, { material = \"sand\", thickness = \"9 mm\", emissivity = 0.5 },", code: "E0502", at: "0.5 }", says: "first and the last layer" },
    Case { base: TUB, from: "inlet_loss = 1.5", to: "inlet_loss = 1.5\n[feeding2]", code: "E0102", at: "feeding2", says: "did you mean \"feeding\"?" },
    Case { base: STOVE, from: "[store]", to: "[tank]", code: "E0503", at: "[loop]", says: "needs a [store] or a [bench]" },
    Case { base: TUB, from: "drive = \"thermosyphon\"", to: "drive = \"pump\"", code: "E0503", at: "[loop]", says: "needs a [pump]" },
    Case { base: TUB, from: "cover = { leak = \"5 %\", conductance = \"2.5 W/m2K\" }\n", to: "", code: "E0503", at: "[controls.cover]", says: "cover's figures" },
    Case { base: BARREL, from: "part = \"riser\"", to: "part = \"damper\"", code: "E0504", at: "[[gas_path]]\npart = \"damper\"\nname = \"damper\"", says: "two damper sections" },
    // notes
    Case { base: BARREL, from: "temperature = \"65 degC\"", to: "temperature = \"99 degC\"", code: "N0304", at: "\"99 degC\"", says: "98.6" },
    Case { base: BARREL, from: "start = \"4 degC\"", to: "start = \"70 degC\"", code: "N0305", at: "\"65 degC\"", says: "at lighting" },
    Case { base: BARREL, from: "hot_port = \"700 mm\"", to: "hot_port = \"70 mm\"", code: "N0306", at: "\"70 mm\"", says: "not above" },
    Case { base: BARREL, from: "moisture = \"18 %\"", to: "moisture = \"18 %\"\nthickness = \"40 mm\"", code: "E0102", at: "thickness = \"40 mm\"\nmoisture_basis", says: "belongs in \"stick\"" },
    Case { base: BARREL, from: "volume = \"20 L\"", to: "volume = \"5 gal\"", code: "N0201", at: "\"5 gal\"", says: "US gallon" },
    Case { base: BARREL, from: "bore = \"150 mm\"\nlength = \"3.0 m\"", to: "bore = \"250 mm\"\nlength = \"3.0 m\"", code: "N0301", at: "[[coil]]", says: "less than the flue's" },
    Case { base: TUB, from: "floor_height = \"380 mm\"", to: "floor_height = \"0 mm\"", code: "N0302", at: "\"450 mm\"\ncold_port", says: "not above the middle" },
    Case { base: BARREL, from: "moves = [{ at = \"15 min\", to = \"high\" }]", to: "", code: "N0303", at: "\"high\", power", says: "never used" },
];

/// Line and column (from 1, in characters) of a byte offset.
fn line_column(text: &str, at: usize) -> (usize, usize) {
    let before = &text[..at];
    let line = before.matches('\n').count() + 1;
    let column = before.rsplit('\n').next().map_or(0, |l| l.chars().count()) + 1;
    (line, column)
}

fn findings(result: Result<Loaded, Diagnostics>) -> Diagnostics {
    match result {
        Ok(loaded) => loaded.notes,
        Err(d) => d,
    }
}

#[test]
fn practice_each_kind_of_problem_is_found_at_its_line_and_column() {
    let mut seen = BTreeSet::new();
    let mut wrong = String::new();
    for case in CASES {
        assert!(
            case.base.contains(case.from),
            "case is stale: {}",
            case.from
        );
        let text = case.base.replacen(case.from, case.to, 1);
        let found = findings(load_str("rig.toml", &text, &[]));
        if case.code.is_empty() {
            assert!(found.items().is_empty(), "{}", found.render(false));
            continue;
        }
        seen.insert(case.code);
        let edit = case.base.find(case.from).unwrap_or(0);
        let at = text[edit..]
            .find(case.at)
            .filter(|i| *i < case.to.len())
            .map(|i| edit + i)
            .or_else(|| text.find(case.at))
            .unwrap_or_else(|| panic!("{} is not in the text", case.at));
        let place = line_column(&text, at);
        let hit = found.items().iter().find(|d| {
            d.code == case.code
                && (d.place.line, d.place.column) == place
                && d.place.file == "rig.toml"
                && (d.message.contains(case.says)
                    || d.help.as_deref().is_some_and(|h| h.contains(case.says)))
        });
        if hit.is_none() {
            wrong += &format!(
                "wanted {} at {place:?} saying {:?} for {:?}, found:\n{}\n",
                case.code,
                case.says,
                case.to,
                found.render(false)
            );
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
    // Cases of these stand in tests of their own, below and in scenario_files.rs.
    let elsewhere = ["E0106", "E0107", "E0110", "E0312"];
    for code in codes::TABLE {
        assert!(
            seen.contains(code.id) || elsewhere.contains(&code.id),
            "no case for {}",
            code.id
        );
    }
}

#[test]
fn practice_a_single_slip_gives_a_single_finding() {
    let mut wrong = String::new();
    // Structural cases rightly show at several places.
    let several = [
        "[store]",
        "part = \"riser\"",
        "species = \"maple\"",
        "wall = [",
        "stopped_loss",
        "drive =",
        "{ name",
        "form =",
    ];
    for case in CASES.iter().filter(|c| !c.code.is_empty()) {
        if several.iter().any(|s| case.from.starts_with(s)) || case.to.contains("2]") {
            continue;
        }
        let text = case.base.replacen(case.from, case.to, 1);
        let found = findings(load_str("rig.toml", &text, &[]));
        if found.items().len() != 1 {
            wrong += &format!("{:?} gave\n{}\n", case.to, found.render(false));
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

#[test]
fn practice_a_file_that_was_cut_off_gives_one_finding_about_it() {
    let mut told = 0;
    for n in (0..TUB.len()).filter(|&n| TUB.is_char_boundary(n)) {
        let found = findings(load_str("rig.toml", &TUB[..n], &[]));
        let open: Vec<_> = found.items().iter().filter(|d| d.code == "E0101").collect();
        assert!(open.len() <= 1, "{n}:\n{}", found.render(false));
        told += usize::from(
            open.iter()
                .any(|d| d.help.as_deref().is_some_and(|h| h.contains("cut off"))),
        );
    }
    // Within the tables of walls and feeds.
    assert!(told > 50, "{told}");
}

#[test]
fn practice_all_problems_come_in_one_pass_in_the_order_of_the_file() {
    let text = BARREL
        .replacen("altitude = \"420 m\"", "altitude = 420", 1)
        .replacen("probe = \"mean\"", "prob = \"mean\"", 1)
        .replacen("mouth_cover = \"50 %\"", "mouth_cover = \"50 mm\"", 1)
        .replacen("bore = \"420 mm\"", "bore = \"320 mm\"", 1)
        .replacen("hot_port = \"700 mm\"", "hot_port = \"2 m\"", 1)
        .replacen("inlet_area = 1.0", "evaporation = 1.5", 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    let codes: Vec<&str> = found.items().iter().map(|d| d.code).collect();
    assert_eq!(
        codes,
        ["E0201", "E0102", "E0202", "E0301", "E0306", "E0502"],
        "{}",
        found.render(false)
    );
    let lines: Vec<usize> = found.items().iter().map(|d| d.place.line).collect();
    // The coil's findings point at the coil, further down than the bore that caused them.
    assert!(lines.windows(2).all(|w| w[0] <= w[1]), "{lines:?}");
    assert_eq!(found.errors(), 6);
}

/// The suggested length, turns, section and pitch each fit, and a tenth of a turn more does not.
#[test]
fn practice_a_coil_too_long_is_told_what_fits() {
    let long = |edits: &[(&str, &str)]| {
        let mut text = BARREL.replacen("length = \"9.1 m\"", "turns = 11", 1);
        for (from, to) in edits {
            assert!(text.contains(from), "{from}");
            text = text.replacen(from, to, 1);
        }
        load_str("rig.toml", &text, &[])
    };
    let found = findings(long(&[]));
    assert_eq!(found.items().len(), 1, "{}", found.render(false));
    let d = &found.items()[0];
    let help = d.help.as_deref().expect("help");
    assert_eq!(
        (d.code, d.label.as_str()),
        ("E0302", "too long for its section")
    );
    println!("{}: {help}", d.message);
    let number = |after: &str| {
        let rest = &help[help.find(after).expect(after) + after.len()..];
        let end = rest.find(|c: char| c != '.' && !c.is_ascii_digit());
        rest[..end.unwrap_or(rest.len())].to_owned()
    };
    let turns: f64 = number("at most ").parse().expect("turns");
    let tube = number("turns, ");
    let section = number("a section of at least ");
    let pitch = number("a pitch of ");
    let fits = |edits: &[(&str, &str)]| {
        let r = long(edits);
        assert!(r.is_ok(), "{edits:?}: {}", findings(r).render(false));
    };
    fits(&[("turns = 11", &format!("turns = {turns}"))]);
    fits(&[("turns = 11", &format!("length = \"{tube} m\""))]);
    let carrier = "bore = \"420 mm\"\nlength = ";
    let at = BARREL.find(carrier).expect("the coil's section") + carrier.len();
    let given = BARREL[at..].lines().next().expect("a length");
    let wide = format!("{carrier}\"{section} mm\"");
    fits(&[(&format!("{carrier}{given}"), &wide)]);
    fits(&[("pitch = \"30 mm\"", &format!("pitch = \"{pitch} mm\""))]);
    assert!(long(&[("turns = 11", &format!("turns = {:.1}", turns + 0.1))]).is_err());
}

/// A closed loop's impossible figures come with all others in one pass, each at its place with what is allowed.
#[test]
fn practice_negative_figures_of_a_closed_loop_are_reported_with_the_rest() {
    let closed = "layers = 6\nclosed = { fill_pressure = \"-1 bar\", vessel_volume = \"-18 L\", vessel_precharge = \"-0.5 bar\", relief_pressure = \"-3 bar\" }";
    let text = BARREL
        .replacen("altitude = \"420 m\"", "altitude = 420", 1)
        .replacen("layers = 6", closed, 1)
        .replacen("bore = \"420 mm\"", "bore = \"320 mm\"", 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    for (value, key) in [
        ("\"-1 bar\"", "store.closed.fill_pressure"),
        ("\"-18 L\"", "store.closed.vessel_volume"),
        ("\"-0.5 bar\"", "store.closed.vessel_precharge"),
        ("\"-3 bar\"", "store.closed.relief_pressure"),
    ] {
        let place = line_column(&text, text.find(value).expect("written"));
        let hit = found.items().iter().find(|d| {
            (d.place.line, d.place.column) == place
                && d.message.starts_with(key)
                && d.help.as_deref().is_some_and(|h| h.contains("allowed: "))
        });
        assert!(
            hit.is_some(),
            "{key} at {place:?}:\n{}",
            found.render(false)
        );
    }
    let codes: Vec<&str> = found.items().iter().map(|d| d.code).collect();
    assert_eq!(
        codes,
        ["E0201", "E0301", "E0203", "E0203", "E0203", "E0203"],
        "{}",
        found.render(false)
    );
}

#[test]
fn practice_conflicts_show_both_places() {
    let text = BARREL.replacen("length = \"9.1 m\"", "length = \"9.1 m\"\nturns = 8", 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    let d = &found.items()[0];
    let (first, label) = d.secondary.as_ref().expect("second place");
    assert_eq!(
        (first.line, first.column),
        line_column(&text, text.find("\"9.1 m\"").unwrap_or(0))
    );
    assert_eq!(label, "length here");
    let drawn = found.render(false);
    assert!(
        drawn.contains("turns here") && drawn.contains("length here"),
        "{drawn}"
    );
}

#[test]
fn practice_crowded_passages_are_refused_and_tight_ones_noted() {
    let second = "[[coil]]\nname = \"second\"\nin = \"coil passage\"\nform = \"helix\"\ntube = \"1/2 in type L\"\nlength = \"2 m\"\ndiameter = \"300 mm\"\n\n[loop]";
    let text = BARREL.replacen("[loop]", second, 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    assert_eq!(found.items().len(), 1, "{}", found.render(false));
    assert_eq!(found.items()[0].code, "E0312");
    // A serpentine of three tubes side by side fills a narrow passage.
    let text = BARREL
        .replacen(
            "bore = \"420 mm\"",
            "width = \"400 mm\"\ndepth = \"48 mm\"",
            1,
        )
        .replacen("form = \"helix\"", "form = \"serpentine\"\nparallel = 3", 1)
        .replacen("diameter = \"360 mm\"", "", 1)
        .replacen("core_plug = \"60 %\"", "", 1)
        .replacen("length = \"9.1 m\"", "turns = 4", 1)
        .replacen(
            "bore = \"150 mm\"\nlength = \"3.0 m\"",
            "bore = \"30 mm\"\nlength = \"3.0 m\"",
            1,
        );
    let found = findings(load_str("rig.toml", &text, &[]));
    assert!(
        found.items().iter().any(|d| d.code == "N0301"),
        "{}",
        found.render(false)
    );
    let text = text.replacen("depth = \"48 mm\"", "depth = \"47 mm\"", 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    assert!(
        found.items().iter().any(|d| d.code == "E0301"),
        "{}",
        found.render(false)
    );
}

#[test]
fn practice_too_large_a_file_is_refused_unread() {
    let text = "#".repeat((1 << 20) + 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    assert_eq!(found.items()[0].code, "E0110");
}

#[test]
fn practice_the_drawing_names_file_line_column_and_help() {
    let text = BARREL.replacen("species = \"maple\"", "species = \"mapel\"", 1);
    let found = findings(load_str("my rig.toml", &text, &[]));
    let plain = found.render(false);
    let (line, column) = line_column(&text, text.find("\"mapel\"").unwrap_or(0));
    assert!(
        plain.contains("error[E0403]: unknown wood \"mapel\""),
        "{plain}"
    );
    assert!(
        plain.contains(&format!("--> my rig.toml:{line}:{column}")),
        "{plain}"
    );
    assert!(plain.contains("^^^^^^^"), "{plain}");
    assert!(plain.contains("help: did you mean \"maple\"?"), "{plain}");
    assert!(plain.ends_with("1 error\n"), "{plain}");
    assert!(!plain.contains('\u{1b}'), "no escape codes without colour");
    assert!(
        found.render(true).contains('\u{1b}'),
        "colour where asked for"
    );
    let json = found.to_json();
    assert_eq!(json[0]["code"], "E0403");
    assert_eq!(json[0]["place"]["line"], line);
    assert_eq!(json[0]["place"]["column"], column);
    assert_eq!(json[0]["place"]["length"], 7);
    assert_eq!(json[0]["severity"], "error");
    assert_eq!(found.items()[0].severity, Severity::Error);
}

#[test]
fn practice_columns_count_characters_and_marks_and_windows_line_ends_do_not_shift_them() {
    let text = format!(
        "\u{feff}{}",
        BARREL.replacen("title = \"Wash-up", "title = \"Wäsch-up", 1)
    )
    .replacen("altitude = \"420 m\"", "altitude = \"420 °°\"", 1)
    .replace('\n', "\r\n");
    let found = findings(load_str("rig.toml", &text, &[]));
    let d = &found.items()[0];
    assert_eq!(
        (d.code, d.place.line, d.place.column, d.place.length),
        ("E0202", 7, 17, 2)
    );
}

#[test]
fn practice_a_file_that_is_empty_or_no_toml_is_refused_with_what_it_needs() {
    let found = findings(load_str("rig.toml", "", &[]));
    for section in ["site", "fuel", "lighting", "firebox", "gas_path"] {
        let wanted = format!("section [{section}] is missing");
        assert!(
            found.items().iter().any(|d| d.message == wanted),
            "{}",
            found.render(false)
        );
    }
    for junk in [
        "\u{0}",
        "[[[[[[",
        "= = =",
        "\"",
        "[a]\n[a]",
        "a.b=1\na=2",
        "\u{feff}\u{feff}",
    ] {
        let found = findings(load_str("rig.toml", junk, &[]));
        assert!(found.has_errors(), "{junk:?}");
    }
}

/// What stands in the way is said where the wall in the water is.
#[test]
fn practice_a_coil_between_a_wet_and_a_dry_wall_is_refused() {
    let wet = "name = \"coil passage\"\nin_water = true\ndry_share = \"40 %\"\ndry_wall = [{ material = \"fire brick\", thickness = \"60 mm\" }]\n";
    let text = BARREL
        .replacen("name = \"coil passage\"\n", wet, 1)
        .replacen("floor_height = \"200 mm\"", "floor_height = \"1 m\"", 1);
    let found = findings(load_str("rig.toml", &text, &[]));
    let told = found.render(false);
    assert!(
        told.contains("error[E0504]: a coil in \"coil passage\""),
        "{told}"
    );
    assert!(told.contains("leave out dry_share"), "{told}");
}
