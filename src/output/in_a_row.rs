//! Burns in a row over damp walls: the table for the person, the same as CSV, and its picture.

use super::axis::Axis;
use super::error::OutputError;
use super::figure::{Curve, Figure, Panel, Row};
use super::show::{duration, shown, temperature_short, text, unit};
use super::style::{BLUE, LONG, Look, Marker, ORANGE, SKY, SOLID};
use super::table_csv::number;
use crate::results::BurnInRow;
use crate::units::{PlotKind, UnitSystem};

/// Name of the CSV file.
pub const BURNS_IN_A_ROW: &str = "burns-in-a-row.csv";

/// One line per burn.
pub fn in_a_row_text(row: &[BurnInRow], units: UnitSystem) -> String {
    use PlotKind as P;
    let mut t =
        String::from("\nBurns in a row, each from cold with the water that the one before left\n");
    let heads = [
        "burn",
        "water",
        "dried",
        "drying",
        "of fire",
        "walls",
        "tank",
        "stack",
        "hot after",
    ];
    let mut lines = vec![heads.map(String::from)];
    let maybe = |v: Option<f64>, f: &dyn Fn(f64) -> String| v.map_or_else(|| "-".into(), f);
    for b in row {
        lines.push([
            b.burn.to_string(),
            text(P::Mass, b.wall_water_kg, units),
            text(P::Mass, b.dried_kg, units),
            // A trace of a joule is none.
            text(P::Energy, b.drying_heat_J.round().abs(), units),
            maybe(b.drying_fraction, &|v| text(P::Fraction, v, units)),
            text(P::Energy, b.heat_in_walls_J, units),
            text(P::Energy, b.heat_to_tank_J, units),
            maybe(b.stack_temperature_mean_K, &|k| temperature_short(k, units)),
            maybe(b.time_to_target_s, &duration),
        ]);
    }
    let width = |i: usize| {
        lines
            .iter()
            .map(|l| l[i].chars().count())
            .max()
            .unwrap_or(0)
    };
    let widths: Vec<usize> = (0..heads.len()).map(width).collect();
    for line in &lines {
        for (i, (cell, width)) in line.iter().zip(&widths).enumerate() {
            let gap = if i == 0 { " " } else { "  " };
            t.push_str(&format!("{gap}{cell:>width$}"));
        }
        t.push('\n');
    }
    t.push_str(
        "water: in the walls at lighting; drying: heat that left with it;\nwalls: heat stored in them at the end. What dries between two burns is left out,\n\
and so is soot. Heat new masonry gently: steam shut in can crack it.\n",
    );
    t
}

/// Heat into drying and into the walls, the walls' water and the stack's temperature, burn by burn.
///
/// # Errors
/// [`OutputError::Drawing`].
pub fn in_a_row_svg(
    title: &str,
    row: &[BurnInRow],
    units: UnitSystem,
) -> Result<String, OutputError> {
    use PlotKind as P;
    let curve = |label: &str, look: Look, of: &dyn Fn(&BurnInRow) -> f64| Curve {
        label: label.into(),
        xs: row.iter().map(|b| b.burn as f64).collect(),
        ys: row.iter().map(of).collect(),
        look,
    };
    let panel = |title: String, height: f64, from: Option<f64>, curves: Vec<Curve>| {
        let all = curves.iter().flat_map(|c| &c.ys).copied();
        let first = from.unwrap_or(f64::INFINITY);
        let (lo, hi) = all
            .filter(|v| v.is_finite())
            .fold((first, 0.0f64), |(l, h), v| (l.min(v), h.max(v)));
        let mut p = Panel::new(Axis::covering(lo.min(hi), 1.02 * hi, 5), title, height);
        p.curves = curves;
        p
    };
    let energy = |j: f64| shown(P::Energy, j, units);
    let heats = vec![
        curve(
            "stored in the walls at the end",
            Look::new(BLUE, LONG, Marker::None),
            &|b| energy(b.heat_in_walls_J),
        ),
        curve(
            "into drying",
            Look::new(ORANGE, SOLID, Marker::None),
            &|b| energy(b.drying_heat_J),
        ),
    ];
    let water = vec![curve("", Look::new(SKY, SOLID, Marker::None), &|b| {
        shown(P::Mass, b.wall_water_kg, units)
    })];
    let stack = vec![curve("", Look::new(ORANGE, SOLID, Marker::None), &|b| {
        let k = b.stack_temperature_mean_K.unwrap_or(f64::NAN);
        shown(P::Temperature, k, units)
    })];
    let head = |words: &str, kind: P| format!("{words}, {}", unit(kind, units));
    Figure {
        name: "burns-in-a-row",
        title: title.into(),
        subtitle: "Heat into drying and into the walls, burn by burn".into(),
        // Whole burns only.
        x: Axis::exact(1.0, row.len().max(2) as f64, (row.len().max(2) - 1).min(8)),
        x_title: "burn".into(),
        rows: vec![
            Row::from(panel(head("heat", P::Energy), 480.0, Some(0.0), heats)),
            Row::from(panel(
                head("water in the walls at lighting", P::Mass),
                340.0,
                Some(0.0),
                water,
            )),
            Row::from(panel(
                head("stack, mean", P::Temperature),
                340.0,
                None,
                stack,
            )),
        ],
        note: "What dries between two burns is left out. Heat new masonry gently: steam shut in can crack it.".into(),
    }
    .svg()
}

/// The same in SI.
///
/// # Errors
/// What the CSV writer reports.
pub fn in_a_row_csv(row: &[BurnInRow]) -> Result<Vec<u8>, csv::Error> {
    let mut out = csv::WriterBuilder::new()
        .terminator(csv::Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    out.write_record([
        "burn",
        "wall_water_kg",
        "dried_kg",
        "drying_heat_J",
        "drying_fraction",
        "heat_in_walls_J",
        "fuel_energy_J",
        "heat_to_tank_J",
        "chamber_mean_K",
        "stack_temperature_mean_K",
        "time_to_target_s",
        "energy_residual_fraction",
        "mass_residual_fraction",
    ])?;
    for b in row {
        let some = |v: Option<f64>| number(v.unwrap_or(f64::NAN));
        out.write_record([
            b.burn.to_string(),
            number(b.wall_water_kg),
            number(b.dried_kg),
            number(b.drying_heat_J),
            some(b.drying_fraction),
            number(b.heat_in_walls_J),
            number(b.fuel_energy_J),
            number(b.heat_to_tank_J),
            some(b.chamber_mean_K),
            some(b.stack_temperature_mean_K),
            some(b.time_to_target_s),
            number(b.energy_residual_fraction),
            number(b.mass_residual_fraction),
        ])?;
    }
    out.into_inner().map_err(|e| e.into_error().into())
}
