//! Findings of a run that the person should know, with stable codes, and their long explanations.

/// Water hotter than this at the tap scalds within seconds: 60 °C, about 3..5 s (after Moritz & Henriques 1947, from memory).
pub const SCALD_K: f64 = 333.15;
/// A tub is not used above 40 °C (US consumer safety guidance, from memory).
pub const TUB_K: f64 = 313.15;

/// Codes, short names and explanations.
const EXPLANATIONS: &[(&str, &str)] = &[
    (
        "W0201",
        "Water boils in the coil.\n\nSteam takes about 1,600 times the volume of the water that it was. It drives scalding water out of the loop, \
hammers, and in a loop that is shut anywhere it bursts the coil. What the model says after the first boiling (surging flow, steam rate) is \
qualitative: real loops geyser.\n\nMore flow (pump setting, wider pipe, higher tank), less fire or a shorter coil raise the margin. A relief \
valve belongs at the heated part with nothing that can shut or freeze between; its size and place are for local codes and licensed practice.",
    ),
    (
        "W0202",
        "Boiling starts at the tube wall.\n\nThe bulk of the water is still below its boiling point, but the wall is hot enough for bubbles \
(Bergles & Rohsenow 1964). It sings; with little flow it is the step before W0201.",
    ),
    (
        "W0203",
        "The margin to boiling is small.\n\nThe hottest water in the coil came within 10 K of its local boiling point. Feeding, wood and draught \
vary by more than that from burn to burn. A margin in this model is not a clearance to build or run.",
    ),
    (
        "W0204",
        "The coil's metal goes over its limit.\n\nCopper has no rated pressure above about 204 °C in the tube tables and loses strength; soldered \
joints fail before that. A coil gets there dry or steaming. Never put water on a hot dry coil: rake the fire out and let the metal fall below \
100 °C first.",
    ),
    (
        "W0205",
        "A wall of the stove or flue goes over its material's service limit.\n\nSteel scales, brick spalls, fibre sinters. Use the material \
that the temperature needs, or less fire; distances to wood follow local codes.",
    ),
    (
        "W0206",
        "Smoke spills from the mouth.\n\nFor a time the draught did not suffice to draw any air: the flue was cold, blocked, or the fire too \
large for it. Smoke carries carbon monoxide. Never run such a stove indoors or in a tent; use an alarm where people are near.",
    ),
    (
        "W0207",
        "The flue's wall stays cold.\n\nTar and soot condense on walls below about 120 °C and later burn as a chimney fire. A shorter coil, drier \
wood or an insulated flue keep it warmer. Inspect and sweep at least yearly; follow local codes.",
    ),
    (
        "W0208",
        "Hot water that scalds.\n\nWater above 60 °C burns skin within seconds, children's faster. Use a mixing valve at every tap; this figure is \
not a clearance to draw water.",
    ),
    (
        "W0209",
        "The tub is hotter than 40 °C.\n\nThat is the usual limit for people; less for children and in pregnancy. Stir, then measure under the \
surface before anyone gets in.",
    ),
    (
        "W0210",
        "The fire is starved.\n\nLess than 1.3 times the air that the wood needs: much leaves unburnt as smoke and carbon monoxide. Open the \
inlet, feed less at a time, or raise the flue.",
    ),
    (
        "W0211",
        "The fire is blown through.\n\nMore than four times the air that the wood needs: the chamber stays cool and the heat goes up the stack. \
Cover part of the mouth, close the damper a little, or feed more.",
    ),
    (
        "W0212",
        "Water of the flue gas condenses on coil or wet walls.\n\nTurns, and walls with water behind them, below the dew point (about 40..60 °C) run wet. It regains latent heat but makes a \
wet, sooty coil; return water above 50 °C keeps it dry.",
    ),
    (
        "W0213",
        "The vessel boils over.\n\nIts top reached the boiling point and gives off steam. Draw hot water, let the fire die, keep people away from \
vent and lid.",
    ),
    (
        "W0214",
        "The energy account does not close.\n\nMore than 1e-5 of the fuel's energy is unaccounted for: the result should not be used. Please \
report the scenario.",
    ),
    (
        "W0215",
        "The target was not reached within the run.\n\nThe peak is given. More wood, more coil, less loss or a later end are what moves it.",
    ),
    (
        "W0216",
        "The loop runs backwards.\n\nAfter the fire the colder coil can pull water down the hot pipe and cool the store. A check valve or a loop in \
the pipe prevents it.",
    ),
    (
        "W0217",
        "Store kept lukewarm.\n\nWater stored between 20 and 45 °C can grow legionella. Stores for taps are usually kept at 60 °C or above; ask \
local guidance.",
    ),
    (
        "W0218",
        "More wood than goes in.\n\nThe feeds come faster than the wood burns: at one of them the firebox would hold more than wood stacked close has room for \
(65 % of it solid), or the sticks stand side by side in more than the open mouth. No person could do that, so what follows is no burn that can be \
had. Feed less at a time or later, or by a rule (`bed_below`); a choked mouth also starves the fire (W0210).",
    ),
    (
        "W0230",
        "The bypass runs backwards.\n\nThe pump presses water from the coil's inlet up through the header and down to the coil's outlet: it \
passes the coil by, and what the pump delivers no longer all cools the coil. A light check valve in the bypass prevents it; it must still open \
by buoyancy alone when the pump stops, and must not stick.",
    ),
    (
        "W0231",
        "The header boils.\n\nThe heat dump is full: the header's top reached the boiling point and gives off steam. More water in the header, \
less fire after a power cut. Keep people away from vent and lid; where the vent leads is for local codes and licensed practice.",
    ),
    (
        "W0233",
        "The drum boils.\n\nThe water between fire and coil has come to its boiling point. That is what it is for: the coil in it gets no hotter than \
this, and what the loop does not take leaves as steam. But each kilogram takes only 2.3 MJ along, a few kilowatts boil off some 5 to 10 L an hour, and \
steam and splashes scald. Keep people away from its vent, never close it, and never let it boil low: fill up hot water in small amounts while the walls are \
still covered, never on bare hot walls. More flow through the coil, more of it, or less fire keeps the drum below boiling.",
    ),
    (
        "W0234",
        "The drum boils low.\n\nMore than a tenth of the walls that stood in its water have come out of it: they get as hot as the fire makes them \
(W0205), and cold water poured on them flashes to steam. Rake the fire out and let the metal fall below 100 °C before filling up. Turns of the coil \
that the water has left give no heat.",
    ),
    (
        "W0232",
        "The relief valve lifts.\n\nThe water expands by some 2 % to 60 °C and 4 % to 90 °C, or boils, and the vessel has no \
room left below the relief valve's setting. The valve blows scalding water or steam, and shuts again when the pressure has fallen. What it \
passes follows EN ISO 4126-1 for cold water and for dry steam; hot water that flashes in the valve passes at a rate between the two, and scale or \
dirt pass less. A valve that has lifted often leaks. A loop that has blown off has less pressure when it is cold: top it up. A valve that \
sticks, is shut off or is too small means a burst tank. Less fire, a larger vessel with the right precharge, or a vented store. Vessel, valve, \
their place and the discharge pipe are for local codes and licensed practice; a solid-fuel fire on a closed loop needs more than a relief valve \
in many codes. This is not a clearance to build or run.",
    ),
    (
        "W0241",
        "Water leaves the coil above 60 °C.\n\nThat burns skin within seconds (after Moritz & Henriques 1947), children's faster. It goes to the \
store, not to a tap, but hoses slip off and soften: garden hose at some 60 °C, cross-linked polyethylene is rated to about 93 °C. Clamp hot hoses, \
keep them out of reach, and mix down what is drawn. This is not a clearance to draw water.",
    ),
    (
        "W0242",
        "The flue sweats.\n\nFor longer than the first ten minutes the coldest wall of the flue stood below the dew point of the gas (some 35..60 °C, \
by the wood's moisture and the air), while the fire burnt. Water runs down, takes tar and acids along, and rusts steel from inside. A shorter coil, \
drier wood, less spare air or an insulated flue keep it dry; a drain at its foot keeps it out of the stove. Follow local codes.",
    ),
    (
        "W0250",
        "Much of the fire goes into drying the masonry.\n\nEach kilogram of water that leaves a wall takes 2.6 MJ along, about what a seventh \
of a kilogram of dry wood gives; until it has gone, its part of the wall stays at the boiling point, the gas behind it cooler and the draught weaker. The \
next burns start with what is left and run hotter: `emberloop burn --in-a-row` shows it burn by burn. Heat new masonry gently, with small fires \
over days: a hot fire makes steam faster than pores let it out, which cracks and spalls brick, castable and clay, and can burst dense castable \
(common practice). The makers' drying schedule comes first; local codes and licensed practice decide. Never estimate from this model how \
fast masonry may be heated: it knows no pressure of steam in pores.",
    ),
    (
        "W0240",
        "Store or vessel bursts.\n\nThe pressure came to `store.closed.burst_pressure`, and the run ends there: the fitted relief valve passes less \
than what fire and steam press out, or it does not lift. Where no burst pressure is given, it is that at which a vessel allowed for this relief \
setting has been tested; a real one may give way sooner. Water hotter than 100 °C flashes as the pressure falls: a tenth of it at 150 °C, at \
1,600 times the volume, at once. That is what kills. What comes first and how fast the rest follows is not modelled. Vent the store, or size valve \
and vessel by local codes with licensed practice, so that nothing can shut or freeze between valve and fire.",
    ),
];

/// Long explanation of a warning.
pub fn explain(code: &str) -> Option<&'static str> {
    EXPLANATIONS
        .iter()
        .find(|e| e.0.eq_ignore_ascii_case(code))
        .map(|e| e.1)
}

/// All codes.
pub fn codes() -> impl Iterator<Item = &'static str> {
    EXPLANATIONS.iter().map(|e| e.0)
}
