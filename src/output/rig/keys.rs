//! The words under the picture of a rig: one line per numbered part.

use crate::output::show::{length, shown, unit};
use crate::results::{CoilShape, RigDrawing, SectionShape};
use crate::units::{
    PlotKind, UnitSystem, format_fraction, format_pressure, format_volume, significant,
};

/// One line per numbered part: firebox, sections, coils, vessel, header, drum, pipes, bench, what shuts a store in.
pub fn keys(rig: &RigDrawing, u: UnitSystem) -> Vec<String> {
    let f = &rig.firebox;
    let mut out = vec![format!(
        "{}: {} high, {} deep, walls {}{}{}",
        f.label,
        short(f.height_m, u),
        short(f.depth_m, u),
        short(f.wall_m, u),
        in_water(f.in_water),
        air_over(f.air_over, f.drawn_down)
    )];
    for s in &rig.sections {
        let way = if s.rise_m.abs() < 1e-6 {
            "level".to_string()
        } else {
            let word = if s.rise_m > 0.0 { "up" } else { "down" };
            format!("{word} {}", short(s.rise_m.abs(), u))
        };
        let wide = match s.passages {
            0 | 1 => format!("{} wide", short(s.width_m, u)),
            n => format!(
                "{n} passages, {} wide each",
                short(s.width_m / (n as f64).sqrt(), u)
            ),
        };
        out.push(format!(
            "{}: {wide}, {} long, {way}, ends at {}{}",
            s.name,
            short(s.length_m, u),
            height(s.start_z_m + s.rise_m, u),
            section_in_water(s)
        ));
    }
    // In the order in which the coils are numbered: the firebox first.
    for k in &rig.firebox.coils {
        let place = if k.jacket {
            " around the firebox"
        } else {
            ", among the flames"
        };
        out.push(coil(k, place, u));
    }
    for s in &rig.sections {
        for k in &s.coils {
            let outside = k.width_m > s.width_m;
            let place = match (k.jacket, outside) {
                (true, _) => format!(" around {}", s.name),
                (false, true) => ", wound on the outside".to_owned(),
                (false, false) => String::new(),
            };
            out.push(coil(k, &place, u));
        }
    }
    let drum = rig.drum.as_ref();
    for k in drum.iter().flat_map(|d| &d.coils) {
        out.push(coil(k, ", in the drum's water", u));
    }
    let drum = drum.map(|d| &d.vessel);
    for v in rig.vessel.iter().chain(&rig.header).chain(drum) {
        let ports: Vec<String> = v
            .ports
            .iter()
            .map(|p| format!("{} {}", p.label, height(p.z_m, u)))
            .collect();
        let ports = match ports.len() {
            0 => String::new(),
            _ => format!("; {}", ports.join(", ")),
        };
        out.push(format!(
            "{}: floor at {}, water {} deep{ports}",
            v.label,
            height(v.floor_z_m, u),
            short(v.water_depth_m, u)
        ));
    }
    for p in &rig.pipes {
        let mut extra = String::new();
        if p.pump {
            extra.push_str(", with the pump");
        }
        if p.check_valve {
            extra.push_str(", with the check valve");
        }
        out.push(format!(
            "{}: {} of {} bore, from {} to {}{extra}",
            p.label,
            short(p.length_m, u),
            short(p.inside_m, u),
            height(p.coil_z_m, u),
            height(p.far_z_m, u)
        ));
    }
    if let Some(b) = &rig.bench {
        out.push(format!(
            "{}: at {}, not to scale",
            b.label,
            height(b.z_m, u)
        ));
    }
    if let Some(c) = rig.vessel.as_ref().and_then(|v| v.closed.as_ref()) {
        out.push(format!(
            "expansion vessel: {}, filled to {} when cold, not to scale",
            format_volume(c.vessel_m3, u),
            format_pressure(c.fill_pa, u)
        ));
        out.push(format!(
            "relief valve: opens at {}, not to scale",
            format_pressure(c.relief_pa, u)
        ));
    }
    out
}

/// Where the air comes in, unless all of it does so low.
fn air_over(share: f64, drawn_down: bool) -> String {
    if share == 0.0 {
        return String::new();
    }
    let place = if drawn_down {
        "below the embers"
    } else {
        "over the fire"
    };
    format!(", {} of its air inlets {place}", format_fraction(share))
}

/// How much of a part stands in water.
fn section_in_water(s: &SectionShape) -> String {
    match (s.in_water, s.dry_share) {
        (false, _) => String::new(),
        (true, 0.0) => ", in the water".into(),
        (true, dry) => format!(
            ", in the water, {} of it dry across the gas",
            format_fraction(dry)
        ),
    }
}

fn in_water(share: f64) -> String {
    if share > 0.0 {
        format!(", {} of its walls in the water", format_fraction(share))
    } else {
        String::new()
    }
}

fn coil(k: &CoilShape, place: &str, u: UnitSystem) -> String {
    if k.jacket {
        return format!(
            "{}: jacket{place}, {} of water, from {} to {}",
            k.name,
            short(k.tube_outside_m, u),
            height(k.bottom_z_m, u),
            height(k.top_z_m, u)
        );
    }
    let form = if k.helix { "turns" } else { "runs" };
    let side = match k.parallel {
        0 | 1 => String::new(),
        n => format!(" ({n} side by side)"),
    };
    format!(
        "{}: {} of {} tube{side}{place}, {} {form}, from {} to {}",
        k.name,
        short(k.length_m, u),
        short(k.tube_outside_m, u),
        significant(k.turns, 2),
        height(k.bottom_z_m, u),
        height(k.top_z_m, u)
    )
}

/// A length without needless zeros, number and unit kept together: "60 mm", "9.1 m".
pub fn short(m: f64, u: UnitSystem) -> String {
    let text = length(m, u);
    let Some((number, unit)) = text.split_once(' ') else {
        return text;
    };
    let number = match number.contains('.') {
        true => number.trim_end_matches('0').trim_end_matches('.'),
        false => number,
    };
    format!("{number}\u{a0}{unit}")
}

/// A height over the hearth floor, always in the same unit: "0.90 m", "2.95 ft".
fn height(m: f64, u: UnitSystem) -> String {
    let v = shown(PlotKind::Length, m, u);
    format!("{v:.2}\u{a0}{}", unit(PlotKind::Length, u)).replace('-', "−")
}
