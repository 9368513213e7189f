//! The first screen of a season: whether and when to clean, what it costs, what lies in the flue, and how sure that is.

use crate::output::hazard::wrap;
use crate::output::show::{duration, temperature_short, text};
use crate::results::{Band, LayerCell, SeasonBand, SeasonBurn, SeasonReport};
use crate::units::{PlotKind as P, UnitSystem, significant};
use comfy_table::{Cell, ContentArrangement, Table, presets};
use std::fmt::Write;

/// Solid wood in a stacked cubic metre of split logs (0.6 to 0.7; common practice, no source).
const STACKED: f64 = 0.65;
/// A cord of 128 cubic feet, m3.
const CORD_M3: f64 = 3.6246;
/// Burns of the table.
const SHOWN: [usize; 9] = [1, 2, 5, 10, 20, 50, 100, 200, 500];

const CAUTION: &str = "Estimates, not a clearance to burn. Soot and tar in a flue burn as a chimney fire, far hotter than the flue is \
used to, and narrow the way of the smoke, with carbon monoxide in the room. Have flue and connector looked at at least once a year and \
swept by those licensed for it; what local codes ask goes before every figure here. A shiny, glazed layer is a matter for a sweep at once, \
however thin. Let everything go cold before cleaning; wear gloves, glasses and a dust mask, and keep the dust off skin and lungs.";

/// Wood as weight and as a stack.
pub fn wood(kg: f64, r: &SeasonReport, units: UnitSystem) -> String {
    let stack_m3 = kg * r.wood_solid_m3_kg / STACKED;
    let stack = match units {
        UnitSystem::Metric => format!("{} stere", significant(stack_m3, 2)),
        UnitSystem::Us => format!("{} cord", significant(stack_m3 / CORD_M3, 2)),
    };
    format!("{} ({stack} stacked)", text(P::Mass, kg, units))
}

/// `a to b` of a band, or with words for an end that was not met.
fn ends(b: &Band, of: &dyn Fn(f64) -> String, never: &str) -> String {
    let end = |v: Option<f64>| v.map_or_else(|| never.to_string(), of);
    format!("{} to {}", end(b.low), end(b.high))
}

fn burns(v: f64) -> String {
    format!("{v:.0}")
}

/// `12 of 16 samples`.
fn of_samples(share: f64, b: &SeasonBand) -> String {
    let all = b.samples - b.left_out;
    format!("{:.0} of {all} samples", share * all as f64)
}

/// What to do with the coil.
fn coil_words(r: &SeasonReport, units: UnitSystem) -> String {
    if !r.has_coil {
        return "No coil stands in the gas of a section: nothing to clean but the flue.".into();
    }
    let never = r.never.total;
    let mut s = match (r.best_interval, &r.cleaned) {
        (best, Some(c)) => {
            let every = c.clean_every.unwrap_or(1);
            let mut s = if best == Some(every) {
                format!("Clean the coil every {} burns", burns(every as f64))
            } else {
                let best = best.map_or_else(
                    || "cleaning does not pay within the season".into(),
                    |n| format!("every {n} burns would cost least"),
                );
                format!("Cleaned every {every} burns as asked ({best})")
            };
            if let (Some(b), true) = (&r.band, best == Some(every)) {
                let _ = write!(
                    s,
                    " ({}, eight samples in ten)",
                    ends(&b.best_interval, &burns, "never")
                );
            }
            if let (Some(n), true) = (r.linear_interval, best == Some(every)) {
                let _ = write!(
                    s,
                    "; the rule of thumb, root of twice the cleaning over the growth of a burn's cost, says {}",
                    significant(n, 2)
                );
            }
            let (dt, dw) = (
                never.time_s - c.total.time_s,
                never.wood_kg - c.total.wood_kg,
            );
            let _ = write!(
                s,
                ". Uncleaned, the {} burns cost {} at the fire and {} of wood more; the {} take {}.",
                r.burns,
                duration(dt.max(0.0)),
                wood(dw.max(0.0), r, units),
                match c.total.cleanings {
                    1 => "one cleaning".to_string(),
                    n => format!("{n} cleanings"),
                },
                duration(c.total.cleaning_time_s)
            );
            s
        }
        (_, None) => format!(
            "Cleaning the coil does not pay within {} burns: uncleaned, they cost {} at the fire and {} of wood more than with a bare coil, spread \
             over the season; one cleaning takes {}.",
            r.burns,
            duration(never.extra_time_s.max(0.0)),
            wood(never.extra_wood_kg.max(0.0), r, units),
            duration(r.cleaning_time_s)
        ),
    };
    if let Some(b) = &r.band
        && b.season_extra_time_s.median.is_some()
    {
        let _ = write!(
            s,
            " Against bare surfaces the uncleaned season costs {} (band {}) and {} (band {}); cleaning pays in {}.",
            duration(never.extra_time_s),
            ends(&b.season_extra_time_s, &duration, "no end"),
            text(P::Mass, never.extra_wood_kg, units),
            ends(
                &b.season_extra_wood_kg,
                &|v| text(P::Mass, v, units),
                "no end"
            ),
            of_samples(b.pays_fraction, b)
        );
    }
    if let (Some(n), Some(gap)) = (r.coil_half_filled_after, r.coil_gap_m) {
        let _ = write!(
            s,
            " From burn {n} on the layer fills half of the gap of {} between the turns, which soon grow together: the figures are too kind from there, as \
             the gas finds less surface and less way. Clean before.",
            layer_text(gap, units)
        );
    }
    s
}

/// What lies in the flue.
fn flue_words(r: &SeasonReport, units: UnitSystem) -> Option<String> {
    let (mid, low, high) = (r.flue_layer_m?, r.flue_layer_low_m?, r.flue_layer_high_m?);
    let mm = |m: f64| layer_text(m, units);
    let at = mm(r.sweep_at_m);
    let mut s = match r.sweep_after {
        Some(n) => format!(
            "Sweep the flue before burn {n} at the latest: by then its thickest place has {at}, at which flues are swept ({}); that is after {} of wood.",
            r.sweep_at_source,
            wood(
                r.never.burns.iter().take(n - 1).map(|b| b.wood_kg).sum(),
                r,
                units
            )
        ),
        None => format!(
            "The flue's thickest place has {} after the {} burns (the same mass can lie {} to {} thick); flues are swept at {at} ({}), and looked at \
             every year whatever this says.",
            mm(mid),
            r.burns,
            mm(low),
            mm(high),
            r.sweep_at_source
        ),
    };
    if let Some(b) = &r.band {
        if b.sweep_after.low.is_some() {
            let _ = write!(
                s,
                " Eight samples in ten reach it after {} burns.",
                ends(&b.sweep_after, &burns, &format!("more than {}", r.burns))
            );
        } else if b.season_extra_time_s.median.is_some() {
            let _ = write!(
                s,
                " Reached within the season: {}.",
                of_samples(b.sweep_within_fraction, b)
            );
        }
    }
    let _ = write!(
        s,
        " Alight, what is in the flue would give off {}.",
        text(P::Energy, r.wall_deposit_J, units)
    );
    Some(s)
}

/// A thin layer's thickness.
pub fn layer_text(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{} mm", significant(1e3 * m, 2)),
        UnitSystem::Us => format!("{} in", significant(m / 0.0254, 2)),
    }
}

fn fire_words(r: &SeasonReport) -> String {
    let mut s = String::from("The fire with bare surfaces:");
    if let Some(l) = r.air_ratio {
        let _ = write!(s, " air ratio {l:.1} in the mean,");
    }
    if let Some(u) = r.unburnt_fraction {
        let _ = write!(s, " {:.1} % of the wood's heat unburnt.", 100.0 * u);
    }
    s.push_str(match r.air_ratio {
        Some(l) if l < 1.3 => " Below about 1.3 smoke rises: more air, drier wood and smaller loads foul less.",
        Some(l) if l > 4.0 => " Above about 4 the fire is blown through and smoke rises: less air fouls less.",
        _ => " Smoke, and with it all fouling, rises below an air ratio of about 1.3 and above about 4.",
    });
    s
}

/// The whole answer.
pub fn season_text(r: &SeasonReport, units: UnitSystem, width: usize) -> String {
    let mut s = format!("{}\nFouling over {} burns\n\n", r.title, r.burns);
    wrap(&mut s, &coil_words(r, units), width, "  ");
    if let Some(w) = flue_words(r, units) {
        wrap(&mut s, &w, width, "  ");
    }
    wrap(&mut s, &fire_words(r), width, "  ");
    s.push('\n');
    s.push_str(&burn_table(r, units, width));
    s.push_str("\n\nThe layer after the season without cleaning, along the gas:\n");
    s.push_str(&layer_table(r, units, width));
    s.push_str("\n\n");
    let basis = if r.to_target {
        "to the target"
    } else {
        "scaled to the heat of the first burn, as the target is not reached"
    };
    wrap(
        &mut s,
        &format!(
            "Costs are {basis}, more than with bare surfaces. A cleaning takes {} (--cleaning), a kilogram of wood is worth {} of work \
             (--wood-worth). {} burns were integrated, the others lie between two of them (--all-burns: each). The band is eight samples in ten of all closures' \
             priors (docs/closures.md), of how tar hardens and how loose the layer lies. Energy closes to {:.0e}, masses to {:.0e}, in each burn.",
            duration(r.cleaning_time_s),
            duration(r.wood_worth_s_kg),
            r.never.burnt_in_full,
            r.energy_residual_fraction,
            r.mass_residual_fraction
        ),
        width,
        "",
    );
    if let Some(b) = r.band.as_ref().filter(|b| b.left_out > 0) {
        let words = format!(
            "{} of {} samples are left out: their fire dies with bare surfaces already.",
            b.left_out, b.samples
        );
        wrap(&mut s, &words, width, "");
    }
    s.push_str("\nWhat the model leaves out:\n");
    for l in LEFT_OUT {
        wrap(&mut s, &format!("- {l}"), width, "  ");
    }
    s.push('\n');
    wrap(&mut s, CAUTION, width, "");
    s
}

const LEFT_OUT: [&str; 5] = [
    "fly ash; flakes that fall or burn off by themselves; tar that runs down",
    "what the layer takes of the free way of the gas, and of the draught with it",
    "a cleaning takes everything: a brush leaves some, and glaze stays",
    "every burn alike, lit cold, with the scenario's wood, weather and water",
    "deposits on walls before the coil, and on coils in the firebox or wound around a pipe",
];

fn table(width: usize, head: &[&str], rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut t = Table::new();
    t.load_style(presets::NOTHING)
        .set_content_arrangement(ContentArrangement::Dynamic)
        .set_width(width as u16)
        .set_header(head.iter().copied());
    for row in rows {
        t.add_row(row.into_iter().map(Cell::new));
    }
    t.to_string()
}

fn signed(seconds: f64) -> String {
    let m = seconds / 60.0;
    format!(
        "{}{} min",
        if m < 0.0 { "−" } else { "+" },
        significant(m.abs(), 2)
    )
}

fn burn_table(r: &SeasonReport, units: UnitSystem, width: usize) -> String {
    let picked = |b: &&SeasonBurn| SHOWN.contains(&b.burn) || b.burn == r.burns;
    let wood = |v: f64| {
        let words = text(P::Mass, v.abs(), units);
        format!("{}{words}", if v < 0.0 { "−" } else { "+" })
    };
    let rows = r.never.burns.iter().filter(picked).map(|b| {
        let band = |list: &dyn Fn(&SeasonBand) -> Option<Band>, of: &dyn Fn(f64) -> String| {
            r.band
                .as_ref()
                .and_then(list)
                .filter(|band| b.burn > 1 && band.median.is_some())
                .map_or_else(|| "–".into(), |b| ends(&b, of, "no end"))
        };
        vec![
            b.burn.to_string(),
            duration(b.time_s),
            signed(b.extra_time_s),
            band(&|s| s.extra_time_s.get(b.burn - 1).copied(), &signed),
            wood(b.extra_wood_kg),
            band(&|s| s.extra_wood_kg.get(b.burn - 1).copied(), &wood),
            format!("{:.4}", b.coil_fouling_m2K_W),
            layer_text(b.flue_layer_m, units),
        ]
    });
    table(
        width,
        &[
            "burn",
            if r.to_target {
                "to target"
            } else {
                "same heat"
            },
            "more time",
            "band",
            "more wood",
            "band",
            "coil m2K/W",
            "flue",
        ],
        rows,
    )
}

/// One row a surface: from its first cell to its last.
fn layer_table(r: &SeasonReport, units: UnitSystem, width: usize) -> String {
    let mut surfaces: Vec<Vec<&LayerCell>> = Vec::new();
    for c in &r.layer {
        match surfaces.last_mut() {
            Some(s) if s[0].surface == c.surface && s[0].is_coil == c.is_coil => s.push(c),
            _ => surfaces.push(vec![c]),
        }
    }
    let span = |cells: &[&LayerCell], of: &dyn Fn(&LayerCell) -> String| {
        let (a, b) = (of(cells[0]), of(cells[cells.len() - 1]));
        if a == b { a } else { format!("{a} … {b}") }
    };
    let rows = surfaces.iter().map(|cells| {
        let least = cells
            .iter()
            .map(|c| c.thickness_low_m)
            .fold(f64::INFINITY, f64::min);
        let most = cells.iter().map(|c| c.thickness_high_m).fold(0.0, f64::max);
        vec![
            if cells[0].is_coil {
                cells[0].surface.clone()
            } else {
                format!("{} (wall)", cells[0].surface)
            },
            span(cells, &|c| {
                temperature_short(c.surface_bare_K.round(), units)
            }),
            span(cells, &|c| format!("{:.0} %", 100.0 * c.wet_share)),
            span(cells, &|c| layer_text(c.thickness_m, units)),
            format!(
                "{} to {}",
                layer_text(least, units),
                layer_text(most, units)
            ),
            span(cells, &|c| format!("{:.0} %", 100.0 * c.tar_share)),
            span(cells, &|c| c.kind.word().into()),
            {
                let low = cells.iter().map(|c| c.kind_low).min();
                let high = cells.iter().map(|c| c.kind_high).max();
                match (low, high) {
                    (Some(a), Some(b)) if a != b => format!("{} to {}", a.word(), b.word()),
                    (Some(a), _) => a.word().into(),
                    _ => String::new(),
                }
            },
        ]
    });
    table(
        width,
        &[
            "surface",
            "bare surface",
            "below dew point",
            "layer",
            "band",
            "tar",
            "kind",
            "band",
        ],
        rows,
    )
}
