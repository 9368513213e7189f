//! The screen that a person reads after a burn: the answer first, then why, then what to mind.

use super::account::account;
use super::show::{clock, duration, temperature_short, text};
use crate::results::{Band, Bands, BurnResult, Summary, Warning};
use crate::units::{PlotKind, UnitSystem, format_pressure, format_time};
use comfy_table::presets::NOTHING;
use comfy_table::{Attribute, Cell, Color, ColumnConstraint, ContentArrangement, Table, Width};

/// Printed under every summary.
pub const CAUTIONS: [&str; 6] = [
    "Estimate, not a clearance to build or run.",
    "Scald: water above 50 °C (120 °F) burns skin in minutes, at 65 °C (150 °F) in a second or two. Mix it down at the tap.",
    "Steam: never let a pump stop, a valve close, a coil run dry or a level fall below walls that it cools over a fire; a closed loop needs a relief valve at the heated part with nothing between.",
    "Carbon monoxide: a smoking or smouldering fire indoors kills. Ventilate, and hang up an alarm.",
    "Chimney fire: a flue wall that stays cool collects tar. Sweep it, and keep the clearances.",
    "Local codes and licensed practice come before this programme.",
];

/// The summary as text, at most `width` columns wide, with colours where `color` is set.
pub fn summary_table(result: &BurnResult, units: UnitSystem, color: bool, width: usize) -> String {
    let mut sheet = Sheet::new(color, width);
    let s = &result.summary;
    sheet.section(&s.title, None);
    answer(&mut sheet, result, units);
    if let Some(b) = &result.bands {
        bands(&mut sheet, b, units);
    }
    heat(&mut sheet, result, units);
    water(&mut sheet, s, units);
    fire(&mut sheet, s, units);
    drying(&mut sheet, s, units);
    warnings(&mut sheet, &s.warnings, units);
    sheet.section("Account", Some(Color::Cyan));
    sheet.row(
        "energy not accounted for",
        &format!("{:.1e} of the fuel's energy", s.energy_residual_fraction),
    );
    sheet.section("Mind", Some(Color::Cyan));
    for line in CAUTIONS {
        sheet.paragraph(line);
    }
    sheet.text()
}

/// Blocks under each other: tables of label and value, and paragraphs over the whole width.
struct Sheet {
    blocks: Vec<Table>,
    color: bool,
    width: u16,
}

impl Sheet {
    fn new(color: bool, width: usize) -> Self {
        let width = width.clamp(40, 100) as u16;
        Self {
            blocks: Vec::new(),
            color,
            width,
        }
    }

    fn table(&self) -> Table {
        let mut table = Table::new();
        table
            .load_style(NOTHING)
            .set_content_arrangement(ContentArrangement::Dynamic)
            .set_width(self.width);
        if self.color {
            table.enforce_styling();
        } else {
            table.force_no_tty();
        }
        table
    }

    fn style(&self, cell: Cell, fg: Option<Color>) -> Cell {
        if !self.color {
            return cell;
        }
        let cell = cell.add_attribute(Attribute::Bold);
        match fg {
            Some(fg) => cell.fg(fg),
            None => cell,
        }
    }

    /// One paragraph over the whole width.
    fn paragraph(&mut self, words: &str) {
        let mut table = self.table();
        table.add_row(vec![Cell::new(words)]);
        self.blocks.push(table);
    }

    /// A heading, and a fresh table under it.
    fn section(&mut self, name: &str, fg: Option<Color>) {
        let mut table = self.table();
        if !self.blocks.is_empty() {
            table.add_row(vec![Cell::new("")]);
        }
        table.add_row(vec![self.style(Cell::new(name), fg)]);
        self.blocks.push(table);
        self.blocks.push(self.table());
    }

    fn row(&mut self, label: &str, value: &str) {
        self.cells(label, Cell::new(value));
    }

    fn loud(&mut self, label: &str, value: &str, fg: Color) {
        self.cells(label, self.style(Cell::new(value), Some(fg)));
    }

    fn cells(&mut self, label: &str, value: Cell) {
        let first = (self.width / 3).clamp(15, 29);
        let widths = [first, self.width - first];
        if let Some(table) = self.blocks.last_mut() {
            table.add_row(vec![Cell::new(label), value]);
            // Only columns that exist take a width: all sections line up.
            table.set_constraints(widths.map(|w| ColumnConstraint::Absolute(Width::Fixed(w))));
        }
    }

    fn text(&self) -> String {
        let mut out = String::new();
        for line in self.blocks.iter().flat_map(|b| b.lines()) {
            out.push_str(line.trim_end());
            out.push('\n');
        }
        out
    }
}

/// A value or "-" where it does not exist.
fn maybe(kind: PlotKind, v: Option<f64>, units: UnitSystem) -> String {
    v.map_or_else(|| "-".into(), |v| text(kind, v, units))
}

fn answer(sheet: &mut Sheet, result: &BurnResult, units: UnitSystem) {
    use PlotKind as P;
    let s = &result.summary;
    let target = temperature_short(result.target_k, units);
    if let Some(b) = &s.burst {
        let words = format!(
            "after {} at {}: the run ends there; up to {} of water come out, {} of it as steam at once",
            duration(b.at_s),
            format_pressure(b.pressure_Pa, units),
            text(P::Mass, b.water_kg, units),
            text(P::Mass, b.steam_kg, units)
        );
        sheet.loud("BURSTS", &words, Color::Red);
    }
    // A rig without water has nothing to heat.
    let dry = !result.target_k.is_finite();
    match s.time_to_target_s {
        _ if dry => sheet.row("ran", &format!("{}, without water", duration(s.end_s))),
        Some(t) => sheet.loud(
            "hot",
            &format!("{target} after {}", duration(t)),
            Color::Green,
        ),
        None => {
            let peak = s.tank_peak_K.map_or_else(String::new, |k| {
                format!(": at most {}", text(P::Temperature, k, units))
            });
            let words = format!("{target} not reached in {}{peak}", duration(s.end_s));
            sheet.loud("hot", &words, Color::Red);
        }
    }
    sheet.row(
        "wood",
        &format!(
            "{} fed in {} feeds and kindling, {} burnt",
            text(P::Mass, s.fuel_fed_kg, units),
            s.feeds,
            text(P::Mass, s.fuel_burnt_kg, units)
        ),
    );
    sheet.row("trips to the stove", &s.trips.to_string());
    if dry {
        return;
    }
    sheet.row(
        "into the water",
        &format!(
            "{} on average, {} in all",
            text(P::Power, s.mean_heat_to_tank_W, units),
            text(P::Energy, s.heat_to_tank_J, units)
        ),
    );
    let share = |v: Option<f64>| maybe(P::Fraction, v, units);
    sheet.row(
        "efficiency, net",
        &format!(
            "{} of the wood's net heating value, whole run{}",
            share(s.efficiency_net),
            s.efficiency_to_target_net
                .map_or_else(String::new, |v| format!(
                    "; {} up to the target",
                    text(P::Fraction, v, units)
                ))
        ),
    );
    sheet.row(
        "efficiency, gross",
        &format!("{} of its gross heating value", share(s.efficiency_gross)),
    );
    sheet.row(
        "efficiency, flat",
        &format!("{} of 20 MJ per kg fed", share(s.efficiency_flat_20MJ_kg)),
    );
    if s.efficiency_net_char_credited.is_some() {
        sheet.row(
            "with fuel left credited",
            &format!(
                "{} net, {} gross",
                share(s.efficiency_net_char_credited),
                share(s.efficiency_gross_char_credited)
            ),
        );
    }
}

/// How sure the answer is.
fn bands(sheet: &mut Sheet, b: &Bands, units: UnitSystem) {
    use PlotKind as P;
    sheet.section(
        &format!("How sure: 10 / 50 / 90 % of {} samples", b.used()),
        Some(Color::Cyan),
    );
    let mut row = |label: &str, kind: P, band: Band, none: &str| {
        if band == Band::default() {
            return;
        }
        let word = |v: Option<f64>| v.map_or_else(|| none.into(), |v| text(kind, v, units));
        let words = [band.low, band.median, band.high].map(word);
        sheet.row(label, &words.join(" / "));
    };
    row(
        "time to the target",
        P::Hours,
        b.time_to_target_s,
        "not reached",
    );
    row("wood burnt", P::Mass, b.fuel_burnt_kg, "-");
    row("efficiency, net", P::Fraction, b.efficiency_net, "-");
    row(
        "up the stack as warmth",
        P::Fraction,
        b.stack_loss_fraction,
        "-",
    );
    row("chamber, mean", P::Temperature, b.chamber_mean_K, "-");
    row(
        "hottest from the coil",
        P::Temperature,
        b.coil_outlet_max_K,
        "-",
    );
    row(
        "margin to boiling",
        P::TemperatureDifference,
        b.boiling_margin_min_K,
        "-",
    );
    let share = |v: f64| text(P::Fraction, v, units);
    let died = if b.fire_died_fraction > 0.0 {
        format!(
            "In {} of {} samples the fire did not catch or went out; they are left out here. Of the rest the ",
            share(b.fire_died_fraction),
            b.samples - b.failed
        )
    } else {
        "The ".into()
    };
    let mut words = format!(
        "{died}target is reached in {}",
        share(b.target_reached_fraction)
    );
    if b.used() < 8 {
        words.push_str("; too few for a band, run more with --bands");
    }
    if b.boiled_fraction > 0.0 {
        words.push_str(&format!(", boiling in {}", share(b.boiled_fraction)));
    }
    if b.failed > 0 {
        words.push_str(&format!("; {} samples could not be run", b.failed));
    }
    sheet.paragraph(&format!(
        "{words}. Drawn from what is believed of each closure before measuring (docs/closures.md); wood, weather and building as given."
    ));
}

fn heat(sheet: &mut Sheet, result: &BurnResult, units: UnitSystem) {
    let (l, s) = (&result.ledger, &result.summary);
    let net = s.fuel_energy_J;
    if l.outputs.is_empty() && l.stored.is_empty() || !(net.is_finite() && net > 0.0) {
        return;
    }
    sheet.section("Where the heat went, whole run", Some(Color::Cyan));
    for l in &account(l).to {
        let energy = text(PlotKind::Energy, l.energy_j, units);
        let share = text(PlotKind::Fraction, l.energy_j / net, units);
        sheet.row(&l.label, &format!("{share:>7} {energy:>12}"));
    }
    sheet.paragraph(
        "Shares of the net energy of the wood fed. Net leaves out the heat of condensing the steam, so the latent line comes on top and all add up to more than 100 %.",
    );
}

fn water(sheet: &mut Sheet, s: &Summary, units: UnitSystem) {
    use PlotKind as P;
    if s.coil_outlet_max_K.is_none() && s.boiling_margin_min_K.is_none() {
        return;
    }
    sheet.section("Water", Some(Color::Cyan));
    sheet.row(
        "hottest from the coil",
        &maybe(P::Temperature, s.coil_outlet_max_K, units),
    );
    if let Some(m) = s.boiling_margin_min_K {
        let at = s
            .boiling_margin_min_s
            .filter(|_| s.boiling_first_s.is_none())
            .map_or_else(String::new, |t| format!(", at {}", clock(t)));
        let place = s.boiling_margin_min_at_m.map_or_else(String::new, |m| {
            format!(", {} along the coil", text(P::Length, m, units))
        });
        let words = format!(
            "{} at the least{at}{place}",
            text(P::TemperatureDifference, m, units)
        );
        if m < 5.0 {
            sheet.loud("margin to boiling", &words, Color::Red);
        } else {
            sheet.row("margin to boiling", &words);
        }
    }
    match s.boiling_first_s {
        Some(t) => sheet.loud(
            "boiling",
            &format!(
                "yes, from {}, for {} in all, {} of steam",
                clock(t),
                duration(s.boiling_total_s),
                text(P::Mass, s.steam_total_kg, units)
            ),
            Color::Red,
        ),
        None => sheet.row("boiling", "no"),
    }
    if let Some(t) = s.wall_boiling_first_s {
        sheet.loud(
            "boiling at the coil wall",
            &format!("from {}", clock(t)),
            Color::Yellow,
        );
    }
    if let Some(k) = s.coil_wall_max_K {
        let limit = s.coil_wall_limit_K.map_or_else(String::new, |l| {
            format!(" (limit {})", text(P::Temperature, l, units))
        });
        let words = format!("{}{limit}", text(P::Temperature, k, units));
        sheet.row("hottest coil wall", &words);
    }
    if let (Some(kg), Some(r)) = (s.coil_deposit_kg, s.coil_fouling_grown_m2K_W)
        && kg > 5e-5
    {
        let words = format!("{:.0} g, {:.4} m2K/W (estimate, x/3 to x*3)", kg * 1e3, r);
        sheet.row("soot and tar on the coil", &words);
    }
    if let Some(kg) = s.flue_deposit_kg.filter(|kg| *kg > 5e-5) {
        let words = format!("{:.0} g (estimate, x/3 to x*3)", kg * 1e3);
        sheet.row("soot and tar behind the coil", &words);
    }
    if let Some(q) = s.loop_flow_mean_kg_s {
        sheet.row("flow, mean", &text(P::WaterFlow, q, units));
    }
    if let Some(q) = s.bypass_flow_mean_kg_s {
        sheet.row("bypass flow, mean", &text(P::WaterFlow, q, units));
    }
    if let Some(p) = s.pressure_peak_Pa {
        let words = format!("{} over the air's at the most", format_pressure(p, units));
        match s.relief_first_s {
            Some(t) => {
                sheet.loud("pressure", &words, Color::Red);
                sheet.loud(
                    "relief valve",
                    &format!(
                        "lifts {} times, first at {}, open for {}: {} of water and {} of steam let out",
                        s.relief_lifts.unwrap_or(1),
                        clock(t),
                        duration(s.relief_open_s.unwrap_or(0.0)),
                        text(P::Mass, s.relief_water_kg.unwrap_or(0.0), units),
                        text(P::Mass, s.relief_steam_kg.unwrap_or(0.0), units)
                    ),
                    Color::Red,
                );
            }
            None => sheet.row("pressure", &words),
        }
    }
    if let (Some(j), Some(k)) = (s.heat_drum_to_coil_J, s.drum_peak_K) {
        let words = format!(
            "{} from its water into the coil, at most {}",
            text(P::Energy, j, units),
            text(P::Temperature, k, units)
        );
        sheet.row("drum", &words);
        let gone = text(P::Mass, s.drum_water_gone_kg.unwrap_or(0.0), units);
        if let Some(t) = s.drum_boils_first_s {
            let words = format!("boils from {} on, {gone} of its water gone", clock(t));
            sheet.loud("", &words, Color::Yellow);
        }
        if let Some(t) = s.drum_bare_first_s {
            let words = format!("hot walls come out of its water from {} on", clock(t));
            sheet.loud("", &words, Color::Red);
        }
    }
    if let (Some(j), Some(k)) = (s.heat_to_header_J, s.header_peak_K) {
        let words = format!(
            "{}, at most {}",
            text(P::Energy, j, units),
            text(P::Temperature, k, units)
        );
        sheet.row("into the header", &words);
    }
}

/// What thermometers show, where that is told from the gas's own temperature.
fn shown(s: &Summary, units: UnitSystem) -> Option<String> {
    let places = [
        ("chamber", s.chamber_shown_mean_K),
        ("below the coil", s.gas_below_coil_shown_mean_K),
        ("above it", s.gas_above_coil_shown_mean_K),
        ("stack", s.stack_shown_mean_K),
    ];
    let words: Vec<String> = places
        .iter()
        .filter_map(|(place, k)| {
            k.map(|k| format!("{place} {}", text(PlotKind::Temperature, k, units)))
        })
        .collect();
    (!words.is_empty()).then(|| format!("shows {} (means)", words.join(", ")))
}

fn fire(sheet: &mut Sheet, s: &Summary, units: UnitSystem) {
    use PlotKind as P;
    sheet.section("Fire and flue", Some(Color::Cyan));
    sheet.row(
        "chamber",
        &format!(
            "{} mean, {} at most",
            maybe(P::Temperature, s.chamber_mean_K, units),
            text(P::Temperature, s.chamber_max_K, units)
        ),
    );
    sheet.row(
        "stack, mean",
        &maybe(P::Temperature, s.stack_temperature_mean_K, units),
    );
    if let Some(words) = shown(s, units) {
        sheet.row("a bare thermometer", &words);
    }
    sheet.row(
        "stack loss",
        &format!(
            "{} of the net energy burnt as warm gas; {} latent",
            maybe(P::Fraction, s.stack_loss_fraction, units),
            maybe(P::Fraction, s.stack_latent_fraction, units)
        ),
    );
    if let (Some(o2), Some(co2), Some(k), Some(short), Some(exact)) = (
        s.meter_o2_dry_fraction,
        s.meter_co2_dry_fraction,
        s.meter_stack_temperature_K,
        s.stack_loss_short_formula_fraction,
        s.stack_loss_while_read_fraction,
    ) {
        let share = |v: f64| text(P::Fraction, v, units);
        sheet.row(
            "flue-gas meter",
            &format!(
                "O2 {}, CO2 {}, {}: loss {} by the short formula; exact {} at the same times",
                share(o2),
                share(co2),
                text(P::Temperature, k, units),
                share(short),
                share(exact)
            ),
        );
    }
    if let (Some(v), Some(low), Some(high)) = (
        s.unburnt_fraction,
        s.unburnt_fraction_low,
        s.unburnt_fraction_high,
    ) {
        sheet.row(
            "unburnt",
            &format!(
                "{:.1} % of the net energy burnt ({:.1} to {:.1} %)",
                100.0 * v,
                100.0 * low,
                100.0 * high
            ),
        );
    }
    if let (Some(v), Some(low), Some(high)) = (
        s.co_estimate_fraction,
        s.co_estimate_fraction_low,
        s.co_estimate_fraction_high,
    ) {
        sheet.row(
            "CO in the flue gas",
            &format!(
                "{:.2} vol% dry ({:.2} to {:.2}): an estimate, no measure of danger",
                100.0 * v,
                100.0 * low,
                100.0 * high
            ),
        );
    }
    sheet.row(
        "air ratio, mean",
        &maybe(P::Number, s.air_ratio_mean, units),
    );
    sheet.row("draught, most", &text(P::Draught, s.draught_max_Pa, units));
    sheet.row(
        &format!("flue wall under {}", temperature_short(393.15, units)),
        &format_time(s.flue_wall_below_393K_s),
    );
}

/// Walls that were given water.
fn drying(sheet: &mut Sheet, s: &Summary, units: UnitSystem) {
    use PlotKind as P;
    let (Some(heat), Some(dried), Some(left)) = (s.drying_heat_J, s.dried_kg, s.wall_water_left_kg)
    else {
        return;
    };
    sheet.section("Damp walls", Some(Color::Cyan));
    let share = s.drying_fraction.map_or_else(String::new, |v| {
        format!(", {} of the net energy burnt", text(P::Fraction, v, units))
    });
    let words = format!("{}{share}", text(P::Energy, heat, units));
    sheet.row("heat into drying", &words);
    let words = format!(
        "{} gone, {} left",
        text(P::Mass, dried, units),
        text(P::Mass, left, units)
    );
    sheet.row("water", &words);
    for l in &s.wall_moisture {
        let words = format!(
            "{:.1} % at lighting, {:.1} % left (of its dry mass)",
            100.0 * l.at_lighting_fraction,
            100.0 * l.left_fraction
        );
        sheet.row(&l.layer, &words);
    }
    sheet.row(
        "heat stored in walls",
        &text(P::Energy, s.heat_in_walls_J, units),
    );
}

fn warnings(sheet: &mut Sheet, list: &[Warning], units: UnitSystem) {
    if list.is_empty() {
        return;
    }
    sheet.section("Warnings", Some(Color::Cyan));
    for w in list {
        sheet.loud(
            &w.code,
            &format!(
                "{} (first at {}, worst {}{}{}; `emberloop explain {}`)",
                w.text,
                clock(w.first_s),
                worst(w, units),
                w.worst_s
                    .map_or_else(String::new, |t| format!(" at {}", clock(t))),
                w.place
                    .as_ref()
                    .map_or_else(String::new, |p| format!(", {p}")),
                w.code
            ),
            Color::Yellow,
        );
    }
}

/// The worst value in the person's units.
fn worst(w: &Warning, units: UnitSystem) -> String {
    use PlotKind as P;
    let kind = match w.worst_unit.as_str() {
        // No absolute temperature in a rig is that low, no difference that large but in a flame.
        "K" if w.worst < 200.0 => P::TemperatureDifference,
        "K" => P::Temperature,
        // Pressure of water, not of gas.
        "Pa" if w.worst > 2e3 => return format_pressure(w.worst, units),
        "Pa" => P::Draught,
        "W" => P::Power,
        "J" => P::Energy,
        "kg" => P::Mass,
        "kg/s" => P::MassFlow,
        "m" => P::Length,
        "s" => return format_time(w.worst),
        "" | "1" => P::Number,
        other => return format!("{} {other}", text(P::Number, w.worst, units)),
    };
    text(kind, w.worst, units)
}
