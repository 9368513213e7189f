//! A coil in a passage as the gas sees it: areas, free section, bank tables, views.

use super::AssembleError;
use crate::components::gas_path::{Bank, Duct, ReTable, Wrap};
use crate::components::spec::{Bore, Coil, CoilForm, Rig, Section, WaterEntry};
use crate::components::submerged::Submerged;
use crate::correlations::nusselt_external::{Arrangement, TubeBank};
use crate::correlations::radiation;
use crate::network::ChamberCoil;
use std::f64::consts::PI;

pub(super) fn bank_of(
    rig: &Rig,
    ci: usize,
    section: usize,
    area: f64,
    s: &Section,
    cells: usize,
) -> Result<Bank, AssembleError> {
    let c = &rig.coils[ci];
    let d = c.tube_outside_m;
    let total_length = c.length_m * c.parallel.max(1) as f64;
    let open = area * (1.0 - c.core_plug_share);
    let (blocked, pitch, rows, core) = match c.form {
        CoilForm::Helix {
            coil_diameter_m: dc,
            pitch_m,
        } => {
            let turns = total_length / (PI * dc);
            // Core inside the helix that the plug does not fill: gas that never meets a turn.
            let core = (PI / 4.0 * (dc - d).powi(2) - c.core_plug_share * area).max(0.0);
            (PI * dc * d, pitch_m, turns, core)
        }
        CoilForm::Serpentine { pitch_m } => {
            // Each tube runs to and fro across the section's width; `parallel` tubes lie side by side in a row.
            let run = run_m(&s.bore);
            let beside = c.parallel.max(1) as f64;
            (beside * run * d, pitch_m, (c.length_m / run).max(1.0), 0.0)
        }
        // Not in the gas of a section at all.
        CoilForm::Around { .. }
        | CoilForm::Chamber { .. }
        | CoilForm::Jacket { .. }
        | CoilForm::Submerged { .. } => {
            return Err(AssembleError::NoFreeArea(c.name.clone()));
        }
    };
    let free = open - blocked;
    if free <= 0.02 * area {
        return Err(AssembleError::NoFreeArea(c.name.clone()));
    }
    // Gas in the open core exchanges with the turns only by cross mixing: estimate, the bank exposure's prior covers it.
    let exposure = 1.0 - 0.6 * (core / free).min(1.0);
    let b_ratio = (pitch_m_or(pitch, d) / d).max(1.05);
    let a_ratio = ((open / (blocked / d).max(1e-6)) / d).clamp(1.2, 6.0);
    let turns = TubeBank::new(a_ratio, b_ratio, Arrangement::Inline, rows);
    // The correlation counts Re on l = πd/2 and the void-averaged velocity; the march knows Re on d and the gap.
    let to_psi = free / open * 0.5 * PI / turns.void();
    let table = ReTable::new(move |re| {
        [
            turns.nusselt(re * to_psi, 0.71) * 2.0 / PI,
            turns.loss_re(re),
        ]
    });
    let area_cell = PI * d * total_length / cells as f64;
    // Beam between the turns: 3.6 V/A of the gas between shell, plug and tubes.
    let volume = open * s.length_m;
    let beam = radiation::mean_beam_length(
        volume,
        s.bore.perimeter_m() * s.length_m + PI * d * total_length,
    );
    // Turns seen from the shell: they cover d/pitch of the view.
    let eps_shell = s.wall.first().map_or(0.9, |l| l.emissivity);
    let shell_m2 = s.bore.perimeter_m() * s.length_m;
    let cover = (1.0 / b_ratio).min(total_length * d / shell_m2);
    let shell_view = s.bore.perimeter_m() * s.length_m / cells as f64 * cover
        / (1.0 / eps_shell + 1.0 / c.metal.emissivity - 1.0);
    // The section before looks at plug and turns; half of what the plug gets is passed on to the turns.
    let port = if section > 0 {
        rig.gas_path[section - 1].area_m2()
    } else {
        0.5 * rig.firebox.width_m * rig.firebox.depth_m
    };
    // A coil smaller than the port catches only what falls on it.
    let mouth_view = (0.5 * port).min(total_length * d) * c.metal.emissivity;
    Ok(Bank {
        tubes: Vec::new(),
        tube_outside_m: d,
        area_m2: area_cell,
        free_area_m2: free,
        exposure,
        rows: rows / cells as f64,
        table,
        emissivity: c.metal.emissivity,
        fouling_m2k_w: wall_and_fouling_m2k_w(c),
        deposit_state: 0,
        beam_m: beam,
        shell_view_m2: shell_view,
        mouth_views_m2: mouth_shares(port, &s.bore, s.length_m, cells)
            .iter()
            .map(|share| share * mouth_view)
            .collect(),
    })
}

/// How what comes through a port falls on the gas cells behind it: the views of coaxial discs, port against section, at
/// the ends of each cell (Howell's catalogue C-41, from memory); what goes beyond the last cell is spread alike.
fn mouth_shares(port_m2: f64, bore: &Bore, length_m: f64, cells: usize) -> Vec<f64> {
    /// Share under which a cell far down the coil is left out.
    const LEAST: f64 = 0.02;
    let r1 = (port_m2 / PI).sqrt();
    let r2 = (bore.area_m2() / PI).sqrt().max(r1);
    let beyond = |z: f64| {
        if z <= 0.0 {
            return 1.0;
        }
        let (a, b) = (r1 / z, r2 / z);
        let s = 1.0 + (1.0 + b * b) / (a * a);
        0.5 * (s - (s * s - 4.0 * (r2 / r1).powi(2)).max(0.0).sqrt())
    };
    let end = |j: usize| length_m * j as f64 / cells as f64;
    let mut shares: Vec<f64> = (0..cells)
        .map(|j| beyond(end(j)) - beyond(end(j + 1)))
        .collect();
    let sum: f64 = shares.iter().sum();
    let kept = (0..cells)
        .rev()
        .find(|&j| shares[j] * cells as f64 >= 12.0 * LEAST * sum)
        .unwrap_or(0);
    shares.truncate(kept + 1);
    let sum: f64 = shares.iter().sum();
    shares.iter().map(|v| v / sum).collect()
}

/// Tube cells to a gas cell at the least, where nothing but buoyancy moves the water.
const FREE_PARTS: usize = 3;

/// Gives the gas cells of a bank their tube cells from `first` on; returns the tube cells' lengths as shares of the
/// coil in the direction of the water. The turns that see the fire are cut smaller, the first quarter in three and the eighth after it in
/// two: there the water is heated fastest, and that of a stopped loop boils first. `free`: nothing but buoyancy moves the
/// water, and the fronts in it count.
pub(super) fn tube_cells(
    bank: &mut Bank,
    c: &Coil,
    cells: usize,
    first: usize,
    free: bool,
) -> Vec<f64> {
    let least = if free { FREE_PARTS } else { 1 };
    let parts = |j: usize| match 8 * j / cells {
        0 if free => 4,
        0 | 1 => 3,
        2 => least.max(2),
        _ => least,
    };
    let backward = c.water_entry == WaterEntry::GasOutlet;
    let mut tubes = vec![0..0; cells];
    let mut lengths = Vec::new();
    for step in 0..cells {
        let j = if backward { cells - 1 - step } else { step };
        let from = first + lengths.len();
        let n = parts(j);
        lengths.extend(std::iter::repeat_n(1.0 / (cells * n) as f64, n));
        tubes[j] = from..from + n;
    }
    bank.tubes = tubes;
    lengths
}

/// Length of one straight run of a serpentine.
pub(super) fn run_m(bore: &Bore) -> f64 {
    match *bore {
        Bore::Rect { width_m, .. } => width_m,
        Bore::Round { diameter_m } => 0.8 * diameter_m,
    }
}

fn pitch_m_or(pitch_m: f64, d_m: f64) -> f64 {
    if pitch_m > 0.0 { pitch_m } else { 1.5 * d_m }
}

/// Not in the gas of its section: on the outside, in the firebox, in a drum.
pub(super) fn apart(c: &Coil) -> bool {
    matches!(
        c.form,
        CoilForm::Around { .. }
            | CoilForm::Chamber { .. }
            | CoilForm::Jacket { .. }
            | CoilForm::Submerged { .. }
    )
}

/// Length of one straight run of a coil's tube.
pub(super) fn run_of(c: &Coil, bore: &Bore) -> f64 {
    match c.form {
        CoilForm::Chamber { run_m, .. } | CoilForm::Submerged { run_m, .. } => run_m,
        _ => run_m(bore),
    }
}

/// Deposit at the start and the tube's wall, on the outside area, m2K/W.
fn wall_and_fouling_m2k_w(c: &Coil) -> f64 {
    let d = c.tube_outside_m;
    c.fouling_m2k_w + 0.5 * d * (d / c.tube_inside_m).ln() / c.metal.conductivity_w_mk
}

/// A coil in the water of a drum whose floor lies at `floor_z_m`, with `n` tube cells from `first` on.
pub(super) fn submerged_of(c: &Coil, floor_z_m: f64, first: usize, n: usize) -> Submerged {
    let low_m = c.bottom_z_m - floor_z_m;
    let cell_m = (c.top_z_m - c.bottom_z_m) / n as f64;
    let downwards = c.water_entry == WaterEntry::GasOutlet;
    let span = |i: usize| {
        let i = if downwards { n - 1 - i } else { i };
        let from_m = low_m + cell_m * i as f64;
        (from_m, from_m + cell_m)
    };
    Submerged {
        first_tube_cell: first,
        spans_m: (0..n).map(span).collect(),
        cell_m2: PI * c.tube_outside_m * c.length_m * c.parallel.max(1) as f64 / n as f64,
        outside_m: c.tube_outside_m,
        wall_m2k_w: wall_and_fouling_m2k_w(c),
    }
}

/// A coil among the flames, with `n` tube cells from `first` on.
pub(super) fn chamber_coil_of(c: &Coil, exposed_share: f64, first: usize, n: usize) -> ChamberCoil {
    ChamberCoil {
        first_tube_cell: first,
        cells: n,
        tube_outside_m: c.tube_outside_m,
        area_m2: PI * c.tube_outside_m * c.length_m * c.parallel.max(1) as f64 / n as f64,
        exposed_share,
        emissivity: c.metal.emissivity,
        fouling_m2k_w: wall_and_fouling_m2k_w(c),
    }
}

/// Heat lost by the outer half of a tube cell of a coil wound outside, W/K: natural convection and radiation of a warm
/// tube, 6 W/m2K and 4 σ T³ at 330 K.
pub(super) fn bare_half_w_k(c: &Coil, length_m: f64) -> f64 {
    let per_m2 = 6.0 + c.metal.emissivity * 4.0 * radiation::STEFAN_BOLTZMANN * 330f64.powi(3);
    0.5 * PI * c.tube_outside_m * length_m * c.parallel.max(1) as f64 * per_m2
}

/// A coil on the outside of an assembled section, with `n` tube cells from `first` on.
pub(super) fn wrap_of(c: &Coil, d: &Duct, first: usize, n: usize) -> Option<Wrap> {
    let CoilForm::Around {
        start_m,
        span_m,
        gap_m,
        filler_w_mk,
        ..
    } = c.form
    else {
        return None;
    };
    let section_m = d.cell_length_m * d.cells as f64;
    let wall_cell: Vec<usize> = (0..n)
        .map(|i| {
            let i = if c.water_entry == WaterEntry::GasOutlet {
                n - 1 - i
            } else {
                i
            };
            let x = start_m + (i as f64 + 0.5) / n as f64 * span_m;
            ((x / section_m * d.wall_cells as f64) as usize).min(d.wall_cells - 1)
        })
        .collect();
    let length_m = c.length_m * c.parallel.max(1) as f64 / n as f64;
    // The wall sees the tube's underside: the strip below it, as between parallel plates.
    let strip_m2 = c.tube_outside_m * length_m;
    let mut hidden = vec![0.0; d.wall_cells];
    for &w in &wall_cell {
        hidden[w] += strip_m2 / d.wall.outer_area_m2;
    }
    for h in &mut hidden {
        *h = h.min(1.0);
    }
    Some(Wrap {
        first_tube_cell: first,
        wall_cell,
        wedge_m: Wrap::wedge_shape(0.5 * c.tube_outside_m, gap_m) * length_m,
        filler_w_mk,
        radiating_m2: strip_m2 / (1.0 / d.wall.outer_emissivity + 1.0 / c.metal.emissivity - 1.0),
        hidden,
    })
}
