//! Stable codes of scenario problems, each with a long explanation.
//!
//! E01xx syntax and keys, E02xx units and ranges, E03xx geometry and order, E04xx names that lead nowhere,
//! E05xx conflicts and keys without effect, N-codes notes that do not refuse a scenario.

/// One stable code.
#[derive(Debug, PartialEq, Eq)]
pub struct Code {
    /// `E0102`
    pub id: &'static str,
    /// A few words.
    pub title: &'static str,
    /// What it means, why it matters, what to do.
    pub text: &'static str,
}

macro_rules! codes {
    ($($(#[$doc:meta])* $name:ident = $id:literal, $title:literal, $text:literal;)*) => {
        $(
            $(#[$doc])*
            pub static $name: Code = Code { id: $id, title: $title, text: $text };
        )*
        /// Every code, in order.
        pub static TABLE: &[&Code] = &[$(&$name),*];
    };
}

codes! {
    /// Not TOML.
    SYNTAX = "E0101", "not readable as TOML",
        "The file breaks the rules of TOML: a quote or bracket is missing, a key stands twice, a value has no quotes. \
Quantities are text and stand in quotes: length = \"9.1 m\". A key may stand only once in its section. Only the first few \
faults of this kind can be found in one pass, since what follows an open quote cannot be read; mend them first.";
    /// A key that no section knows.
    UNKNOWN_KEY = "E0102", "unknown key",
        "The key is not known at this place. Every key moves something in the result, so a key that is misspelt, or stands in \
the wrong section, would silently change nothing; it is refused instead. The message names the nearest known key, or the \
section in which a key of this name belongs. `emberloop schema` prints all keys for an editor.";
    /// A number where a text is wanted, and so on.
    WRONG_TYPE = "E0103", "wrong type of value",
        "A quantity is text with its unit in quotes (\"150 mm\"), a switch is true or false without quotes, a list stands in \
square brackets, a group of keys in braces or under a [section] heading.";
    /// A key or section that must be there.
    MISSING_KEY = "E0104", "a required key is missing",
        "Nothing that decides the physics is assumed in silence. Keys without a sound default must be given; those with one \
are filled in, and each filled-in value is named in the results with its reason.";
    /// A word outside its list.
    UNKNOWN_WORD = "E0105", "word not known here",
        "The key takes one word of a short list; the message shows the list and the nearest word.";
    /// `--set` with a path that leads nowhere.
    UNKNOWN_PATH = "E0106", "--set names no key",
        "The path before the equals sign is written as section.key, with the name or the number of an entry where a section \
repeats: coil.length, gas_path.flue.length, coil[1].length (counted from 0), feeding.every[0].interval. A key that the \
schema allows may be set even where the file does not hold it.";
    /// `--set` with a value that cannot be read.
    BAD_VALUE = "E0107", "--set value not readable",
        "After the equals sign stands the value as in the file; the quotes around a quantity may be left out: \
--set coil.length=\"30 ft\". Lists and groups are written as in the file, with brackets and braces.";
    /// Two entries of one name.
    DUPLICATE_NAME = "E0108", "name used twice",
        "Entries of a list that carry a name (sections of the gas path, coils, pump settings) need names of their own, since \
other keys and result columns refer to them.";
    /// A list that is too short or too long.
    WRONG_COUNT = "E0109", "wrong number of entries",
        "The list needs at least, or at most, the number of entries that the message names.";
    /// Larger than any scenario.
    TOO_LARGE = "E0110", "file too large",
        "A scenario is a text of a few kilobytes. Files over one mebibyte are refused unread.";

    /// A bare number.
    NO_UNIT = "E0201", "quantity without a unit",
        "A number alone does not say whether it is millimetres or inches. Write the unit behind it, in quotes: \"420 m\", \"8 in\".";
    /// A unit that is unknown or of another kind.
    BAD_QUANTITY = "E0202", "quantity not readable",
        "The text is no quantity of the wanted kind. Metric and US units are both read: mm, m, in, ft; L, m3, US gal, imp gal; \
kg, lb; degC, degF, K; L/min, gpm; W, kW, Btu/h; Pa, kPa, psi, inH2O. Fractions (\"3/4 in\", \"1 1/2 in\") and chains of \
falling units (\"1 ft 2 in\", \"1 h 30 min\") are read. A decimal comma is not, as it could be a thousands mark.";
    /// Outside what is believable.
    OUT_OF_RANGE = "E0203", "value out of range",
        "The value lies outside what the model was made for; mostly a unit or a decimal point has slipped. The message shows \
the range. Ranges are wide: they contain every rig that the authors could imagine, and then some.";

    /// The coil does not go into its passage.
    COIL_DIAMETER = "E0301", "coil does not fit across the passage",
        "The outside of a helix (coil diameter to the tube's centre line plus one tube diameter) must be smaller than the \
bore of its section, and its inside must leave room. The runs of a serpentine must be shorter than the passage is wide.";
    /// The coil sticks out of its section.
    COIL_SPAN = "E0302", "coil does not fit along the section",
        "Turns times pitch plus one tube diameter must not exceed the length of the section that carries the coil (or the depth of the drum's \
water), offset included, and the pitch must not be smaller than the tube. Lengthen the section, close the pitch, widen the coil or shorten it.";
    /// The plug does not go inside the helix.
    PLUG = "E0303", "core plug does not fit inside the coil",
        "The core plug fills a share of the passage's cross-section; as a round plug it must pass inside the helix.";
    /// A tube without a wall.
    TUBE_WALL = "E0304", "tube without a wall",
        "The inside diameter of a tube must be smaller than its outside diameter. Trade sizes are named by either: 1/2 in \
refrigeration tube is 1/2 in outside, 1/2 in plumbing tube is 5/8 in outside.";
    /// More height than length.
    RISE = "E0305", "rise larger than the length",
        "A section cannot gain more height than it is long. `rise` is the height gained along the section, negative where the \
gas goes down, zero where it runs level.";
    /// A port that the water does not cover.
    PORT = "E0306", "port outside the water",
        "Ports are given by their height above the vessel's floor and must lie under the water's surface. A bare hot port \
lets the loop draw air.";
    /// A curve that bends the wrong way.
    CURVE = "E0308", "curve out of order",
        "A pump or fan curve is a list of points [flow, pressure] with rising flow and falling pressure. A pump curve begins \
at zero flow and ends at zero pressure, since the operating point may lie anywhere between.";
    /// Times that do not rise.
    TIME_ORDER = "E0309", "times out of order",
        "The entries must stand in the order in which they happen, each later than the one before.";
    /// The stick is shorter than its burning end.
    STICK = "E0310", "burning length longer than the stick",
        "In a feed tube only a part of each stick lies in the fire: `firebox.burning_length` cannot exceed `fuel.stick.length`.";
    /// Shares that do not add up.
    SHARES = "E0311", "shares do not add up",
        "Carbon, hydrogen, oxygen and nitrogen of the dry, ash-free wood must add up to 100 % within 1 %; small gaps are \
spread over all four.";
    /// Two coils in one place.
    COIL_CROWDED = "E0312", "section already carries a coil",
        "A section carries at most one coil. Split the section in two, or use `parallel` for identical tubes side by side.";
    /// A dead band turned around.
    BAND = "E0313", "thresholds in the wrong order",
        "A two-point rule switches at two thresholds, and the upper one must lie above the lower one, or it would chatter.";
    /// Air cannot get in.
    NO_AIR = "E0314", "no opening for air",
        "A door firebox draws its air through `air_inlet`; a feed tube through its mouth. With none open the fire dies.";

    /// An opening wider than what it opens into.
    MOUTH = "E0315", "opening larger than the firebox",
        "A feed mouth opens into the plan of the firebox (width and depth), a door into its front (width and height); it cannot \
be larger than that.";

    /// A header that would overflow.
    HEADER_LOW = "E0316", "header below the water that it feeds",
        "The header of a bypass is vented and stands over the loop: its water's surface sets the pressure of everything below. \
Water of a store or bench that stood higher would run down into it and overflow.";

    /// Pressures of a closed loop the wrong way round.
    PRESSURE_ORDER = "E0317", "pressures of the closed loop out of order",
        "The vessel's precharge may not lie above the cold fill pressure, or no water enters the vessel and nothing is left to give \
as the loop cools; the relief valve must open above the fill pressure, shut again between the two, and open before anything \
bursts. Pressures are over the air's. Sizes and settings of \
vessel and valve are for local codes and licensed practice.";

    /// Water against brick.
    JACKET_SHEET = "E0318", "no metal sheet between gas and water",
        "A jacket's or the store's water touches the outermost layer of the wall that it lies around. That must be a metal sheet of up to 6 mm; \
a lining of brick may lie inside it. How thick sheets must be, how they are stayed and what pressure they hold is for local \
codes and licensed practice.";

    /// A wall that should stand in water and does not.
    NOT_IN_WATER = "E0319", "not in the water",
        "`in_water` says which share of a wall stands in the store's water, and the heights say where: the firebox begins at the hearth \
floor, each section of the gas path where the one before ends, the store's water at `floor_height`, which is negative where the \
store begins under the hearth floor. Where there is a [drum], its water and its `floor_height` count instead. No part of this wall is as low and as high as the water. A store whose floor is as high as the \
firebox's top stands on it: its bottom is then the part that is in the water.";

    /// Water where none can be, or where it cannot dry.
    DAMP = "E0320", "no free water to dry here",
        "`moisture` is the free water in the pores of a layer at lighting, kg per kg of the dry layer. Metal and an air gap hold none; \
foam keeps it out, wood binds it in its cells, which is not modelled. Pores hold no more than their room: 1000 kg/m3 times \
(1/density - 1/2650 kg/m3), a tenth of the mass of dense brick, next to nothing in granite. A material that the table does not hold \
has no known resistance against vapour: name the nearest one of the table and override its figures. Walls that stand in the store's \
water stay as wet as they are, and cannot be given water to dry.";

    /// More wood than there is room for.
    NO_ROOM = "E0321", "load does not go into the firebox",
        "What is put on at a time must go in. Wood that is stacked close is 65 % solid (a cord of 128 cubic feet holds 80 to 85 of wood), so a \
firebox of 80 L takes some 50 L of solid wood, 30 kg of dry beech; people who want heat lay in 80 to 190 kg per cubic metre of firebox (common practice, no \
source). Of long sticks only `burning_length` lies in the fire of a feed tube, and all of them stand side by side in its open mouth. Check the unit: 60 lb are 27 kg.";

    /// A section of the gas path that is not there.
    NO_SUCH_SECTION = "E0401", "no such section of the gas path",
        "The coil names the section in which it sits by that section's `name`. Bends, dampers and fans cannot carry a coil; nor can the firebox and the first section of a down-draught, where its flames burn.";
    /// A material that no table holds.
    NO_SUCH_MATERIAL = "E0402", "material not in the table",
        "Name a material of the table, or give `conductivity`, `density` and `heat_capacity` yourself (and `emissivity` for the \
first and last layer of a wall).";
    /// A wood that no table holds.
    NO_SUCH_SPECIES = "E0403", "wood not in the table",
        "Name a species of the table, or leave `species` out and give name, composition, density, ash, char yield and heating value yourself.";
    /// A trade size that no table holds.
    NO_SUCH_TUBE = "E0404", "tube not in the table",
        "Trade sizes need their standard or type, since 1/2 in means three different tubes: \"1/2 in type L\", \"1/2 in ACR\", \
\"22x1 copper\", \"DN20\". Or give { outside = \"15.9 mm\", inside = \"13.8 mm\" }.";
    /// A pump setting that is not there.
    NO_SUCH_SETTING = "E0405", "no such pump setting",
        "`controls.pump` names settings of [pump] by their `name`, or \"off\".";
    /// A pipe that no table holds.
    NO_SUCH_PIPE = "E0406", "pipe kind not in the table",
        "Name a kind of the table: hose, copper, steel, stainless, pex, each also with \"insulated\" before it.";
    /// A metal that no table holds.
    NO_SUCH_METAL = "E0407", "tube metal not in the table",
        "Name a metal of the table; it decides conductivity, emissivity and the wall temperature at which the run warns.";

    /// Two keys that say the same thing.
    CONFLICT = "E0501", "two keys contradict each other",
        "Two ways of saying the same thing were both used; the message shows both places. Keep one.";
    /// A key that would move nothing.
    NO_EFFECT = "E0502", "key has no effect in this rig",
        "The key is known but could not move any result here, for the reason that the message gives. It is refused, so that \
nobody tunes a value that does nothing.";
    /// One section calls for another.
    NEEDS = "E0503", "another section is needed",
        "A coil needs a place for its water: a [store] with its [loop], [once_through], or [bench]. A pumped loop needs [pump]. \
A store needs at least one [[coil]], or a wall that stands in its water (`in_water`). A [drum] needs both: walls that heat its water and a [[coil]] \
in it (`in = \"drum\"`).";
    /// Known, not built.
    NOT_MODELLED = "E0504", "not modelled yet",
        "The rig is sound, but the model does not carry it yet; a key that the model would ignore is refused rather than read and dropped.";

    /// Which gallon.
    GALLON = "N0201", "which gallon",
        "A US gallon holds 3.785 L, an imperial gallon 4.546 L. \"gal\" and \"gpm\" are read as US; write \"US gal\" or \"imp gal\" \
to be explicit.";
    /// Tight passage.
    TIGHT_PASSAGE = "N0301", "coil passage narrower than the flue",
        "The free area beside the tubes is smaller than the flue. Common practice keeps it at least equal, or the draught \
suffers and smoke may come out at the fire.";
    /// The tank stands too low.
    LOW_STORE = "N0302", "store too low for a thermosyphon",
        "A thermosyphon is driven by warm water standing above where it was heated. With the middle of the coil above the hot \
port there is no head to drive it: expect no flow, or boiling in the coil. Raise the store or lower the coil.";
    /// A pump setting that nobody picks.
    UNUSED_SETTING = "N0303", "pump setting never used",
        "No position, move or rule of `controls.pump` picks this setting, so its curve and power move nothing in this run.";
    /// Hotter than an open vessel gets.
    ABOVE_BOILING = "N0304", "target above the boiling point",
        "A store open to the air (vented) boils at the local boiling point, about 1 K lower per 300 m of altitude; a closed one \
at that of its relief setting. A target above it is never reached; what is added turns to steam.";
    /// Hot from the start.
    ALREADY_HOT = "N0305", "target not above the start",
        "The water is at least as hot as the target at lighting, so the target is reached at once.";
    /// Ports the wrong way round.
    PORTS_SWAPPED = "N0306", "hot port not above the cold port",
        "Hot water should enter the store above the port from which cold water returns to the coil; the other way round the \
layers mix, and a thermosyphon has no head to drive it.";
}

/// The long explanation of a code, for example `E0202`; `None` where the code is not one of a scenario's.
pub fn explain(code: &str) -> Option<&'static str> {
    find(code).map(|c| c.text)
}

/// The code itself, by its id; case does not matter.
pub fn find(code: &str) -> Option<&'static Code> {
    let wanted = code.trim();
    TABLE
        .iter()
        .copied()
        .find(|c| c.id.eq_ignore_ascii_case(wanted))
}
