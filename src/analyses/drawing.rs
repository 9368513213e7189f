//! From a rig's description to the geometry that is drawn to scale.

use crate::components::spec::{
    Bore, Coil, CoilForm, FireboxKind, Layer, Loop, Pipe, Rig, Section, SectionKind, Vessel,
    VesselKind, Water, WaterEntry,
};
use crate::results::{
    BenchShape, ClosedShape, CoilShape, DrumShape, FireboxShape, PipeShape, PortKind, PortMark,
    RigDrawing, SectionMark, SectionShape, VesselShape,
};
use std::f64::consts::PI;

/// Geometry of a rig for the picture. The gas leaves the firebox at its top, or at its hearth where it is drawn down.
pub fn rig_drawing(rig: &Rig) -> RigDrawing {
    let (vessel, mut pipes, bench) = water_side(rig);
    let header = header(rig, &mut pipes);
    RigDrawing {
        title: rig.title.clone(),
        firebox: firebox(rig),
        sections: sections(rig),
        ground_z_m: vessel
            .as_ref()
            .map_or(0.0, |v: &VesselShape| v.floor_z_m.min(0.0))
            .min(rig.drum.as_ref().map_or(0.0, |d| d.floor_z_m)),
        vessel,
        header,
        drum: drum(rig),
        pipes,
        bench,
    }
}

fn wall_m(layers: &[Layer]) -> f64 {
    layers.iter().map(|l| l.thickness_m).sum()
}

fn firebox(rig: &Rig) -> FireboxShape {
    let f = &rig.firebox;
    let open_mouth = f.kind == FireboxKind::FeedTube;
    // The plane of the drawing holds depth and height; the mouth is as wide as the firebox at most.
    let across = f.mouth_area_m2 / f.width_m.max(1e-3);
    FireboxShape {
        label: match f.kind {
            FireboxKind::FeedTube => "firebox with feed mouth".into(),
            FireboxKind::Door => "firebox with door".into(),
            FireboxKind::DownDraught => "firebox with door, drawn down".into(),
        },
        depth_m: f.depth_m,
        height_m: f.height_m,
        wall_m: wall_m(&f.wall),
        open_mouth,
        coils: rig
            .coils
            .iter()
            .filter(|c| c.in_firebox())
            .filter_map(|c| Some(coil(c, rig.gas_path.first()?, (f.depth_m, wall_m(&f.wall)))))
            .collect(),
        in_water: f.in_water,
        air_over: f.air_over_share,
        drawn_down: f.kind == FireboxKind::DownDraught,
        mouth_m: across.min(if open_mouth { f.depth_m } else { f.height_m }),
    }
}

fn sections(rig: &Rig) -> Vec<SectionShape> {
    let mut z_m = rig.firebox.outlet_z_m();
    rig.gas_path
        .iter()
        .enumerate()
        .map(|(i, s)| {
            let start_z_m = z_m;
            z_m += s.rise_m;
            SectionShape {
                name: s.name.clone(),
                mark: match s.kind {
                    SectionKind::Damper => SectionMark::Damper,
                    SectionKind::Fan { .. } => SectionMark::Fan,
                    _ => SectionMark::Plain,
                },
                width_m: drawn_m(s),
                passages: s.passages,
                wall_m: wall_m(&s.wall),
                length_m: s.length_m,
                rise_m: s.rise_m,
                start_z_m,
                in_water: s.in_water,
                dry_share: s.dry_share,
                coils: rig
                    .coils
                    .iter()
                    .filter(|c| c.section == i && !c.in_firebox() && !c.in_drum())
                    .map(|c| coil(c, s, (drawn_m(s), wall_m(&s.wall))))
                    .collect(),
            }
        })
        .collect()
}

/// Many passages as a bundle of theirs.
fn drawn_m(s: &Section) -> f64 {
    width_m(&s.bore) * (s.passages.max(1) as f64).sqrt()
}

fn width_m(bore: &Bore) -> f64 {
    match *bore {
        Bore::Round { diameter_m } => diameter_m,
        Bore::Rect { width_m, .. } => width_m,
    }
}

/// `around`: clear width and wall thickness of what a jacket lies around.
fn coil(c: &Coil, s: &Section, around: (f64, f64)) -> CoilShape {
    let (width, turns, helix) = match c.form {
        CoilForm::Helix {
            coil_diameter_m: d,
            pitch_m,
        } => {
            let turn_m = (PI * d).hypot(pitch_m);
            (d, c.length_m / turn_m, true)
        }
        CoilForm::Around {
            coil_diameter_m: d,
            pitch_m,
            ..
        } => (d, c.length_m / (PI * d).hypot(pitch_m), true),
        CoilForm::Chamber {
            coil_diameter_m: d, ..
        }
        | CoilForm::Submerged {
            coil_diameter_m: d, ..
        } if d > 0.0 => (d, c.length_m / (PI * d), true),
        CoilForm::Chamber { run_m, .. } | CoilForm::Submerged { run_m, .. } => {
            (run_m, c.length_m / run_m, false)
        }
        CoilForm::Serpentine { pitch_m } => {
            let run_m = (width_m(&s.bore) - c.tube_outside_m).max(pitch_m);
            (run_m, c.length_m / (run_m + pitch_m), false)
        }
        CoilForm::Jacket { .. } => (
            around.0 + 2.0 * around.1 + 0.5 * c.tube_inside_m,
            0.0,
            false,
        ),
    };
    CoilShape {
        name: c.name.clone(),
        tube_outside_m: if c.is_jacket() {
            0.5 * c.tube_inside_m
        } else {
            c.tube_outside_m
        },
        jacket: c.is_jacket(),
        length_m: c.length_m * c.parallel as f64,
        bottom_z_m: c.bottom_z_m,
        top_z_m: c.top_z_m,
        width_m: width,
        turns,
        helix,
        parallel: c.parallel,
    }
}

/// Heights at which the water enters the first and leaves the last coil.
fn water_ends_z_m(rig: &Rig) -> Option<(f64, f64)> {
    let upwards = |c: &Coil| {
        c.in_firebox() || c.in_drum() || rig.gas_path.get(c.section).is_none_or(|s| s.rise_m >= 0.0)
    };
    let (first, last) = (rig.coils.first()?, rig.coils.last()?);
    let enters_low = |c: &Coil| (c.water_entry == WaterEntry::GasInlet) == upwards(c);
    let inlet = if enters_low(first) {
        first.bottom_z_m
    } else {
        first.top_z_m
    };
    let outlet = if enters_low(last) {
        last.top_z_m
    } else {
        last.bottom_z_m
    };
    Some((inlet, outlet))
}

type WaterShapes = (Option<VesselShape>, Vec<PipeShape>, Option<BenchShape>);

fn water_side(rig: &Rig) -> WaterShapes {
    // Without a coil there are no pipes to draw.
    let (inlet_z_m, outlet_z_m) = water_ends_z_m(rig).unwrap_or_default();
    let pair = |supply: &Pipe, ret: &Pipe, far: (f64, f64), circuit: Option<&Loop>| {
        let shape = |p: &Pipe, hot: bool, coil_z_m: f64, far_z_m: f64| PipeShape {
            label: if hot { "hot pipe" } else { "cold pipe" }.into(),
            hot,
            length_m: p.length_m,
            inside_m: p.inside_m,
            coil_z_m,
            far_z_m,
            pump: !hot && circuit.is_some_and(|c| c.pump.is_some()),
            check_valve: !hot && circuit.is_some_and(|c| c.check_valve),
            to_header: false,
        };
        vec![
            shape(supply, true, outlet_z_m, far.0),
            shape(ret, false, inlet_z_m, far.1),
        ]
    };
    match &rig.water {
        Water::None => (None, Vec::new(), None),
        Water::OnceThrough { supply, ret, .. } => {
            (None, pair(supply, ret, (outlet_z_m, inlet_z_m), None), None)
        }
        Water::Store {
            circuit,
            vessel,
            bench,
            ..
        } => {
            let far = (
                vessel.floor_z_m + vessel.hot_port_m,
                vessel.floor_z_m + vessel.cold_port_m,
            );
            let bench = bench.as_ref().map(|_| BenchShape {
                label: "bench, fed from the store".into(),
                z_m: vessel.floor_z_m,
            });
            (
                Some(vessel_shape(vessel, circuit.is_some())),
                circuit
                    .as_ref()
                    .map_or_else(Vec::new, |c| pair(&c.supply, &c.ret, far, Some(c))),
                bench,
            )
        }
        Water::BenchOnly {
            circuit, bench_z_m, ..
        } => (
            None,
            pair(
                &circuit.supply,
                &circuit.ret,
                (*bench_z_m, *bench_z_m),
                Some(circuit),
            ),
            Some(BenchShape {
                label: "bench".into(),
                z_m: *bench_z_m,
            }),
        ),
    }
}

/// The drum between fire and coil: no pipe comes to its water.
fn drum(rig: &Rig) -> Option<DrumShape> {
    let mut vessel = vessel_shape(rig.drum.as_ref()?, false);
    vessel.label = "drum".into();
    vessel.ports.clear();
    let first = rig.gas_path.first()?;
    let coils = rig.coils.iter().filter(|c| c.in_drum());
    Some(DrumShape {
        coils: coils.map(|c| coil(c, first, (0.0, 0.0))).collect(),
        vessel,
    })
}

/// The header of a bypass; its two pipes join the others.
fn header(rig: &Rig, pipes: &mut Vec<PipeShape>) -> Option<VesselShape> {
    let b = rig.circuit()?.bypass.as_ref()?;
    let (inlet_z_m, outlet_z_m) = water_ends_z_m(rig)?;
    let shape = |label: &str, p: &Pipe, hot: bool, coil_z_m: f64, port_m: f64| PipeShape {
        label: label.into(),
        hot,
        length_m: p.length_m,
        inside_m: p.inside_m,
        coil_z_m,
        far_z_m: b.header.floor_z_m + port_m,
        pump: false,
        check_valve: !hot && b.check_valve,
        to_header: true,
    };
    let h = &b.header;
    pipes.push(shape(
        "bypass riser",
        &b.riser,
        true,
        outlet_z_m,
        h.hot_port_m,
    ));
    pipes.push(shape(
        "bypass return",
        &b.ret,
        false,
        inlet_z_m,
        h.cold_port_m,
    ));
    let mut v = vessel_shape(h, true);
    v.label = "header".into();
    v.ports.retain(|p| p.kind != PortKind::Draw);
    Some(v)
}

/// Without a loop parts of the stove stand in it.
fn vessel_shape(v: &Vessel, has_loop: bool) -> VesselShape {
    let words = match v.kind {
        VesselKind::Barrel => "barrel",
        VesselKind::Tank => "tank",
        VesselKind::Tub => "tub",
    };
    let port = |label: &str, height_m: f64, kind| PortMark {
        label: label.into(),
        z_m: v.floor_z_m + height_m,
        kind,
    };
    let mut ports = Vec::new();
    if has_loop {
        ports.push(port("hot port", v.hot_port_m, PortKind::Hot));
        ports.push(port("cold port", v.cold_port_m, PortKind::Cold));
    }
    ports.push(port("draw port", v.draw_port_m, PortKind::Draw));
    VesselShape {
        label: words.into(),
        // An upright cylinder of this content and depth.
        width_m: (4.0 * v.water_m3 / (PI * v.water_depth_m)).sqrt(),
        floor_z_m: v.floor_z_m,
        water_depth_m: v.water_depth_m,
        open_top: v.surface.is_some(),
        layers: v.layers,
        ports,
        closed: v.closed.as_ref().map(|c| ClosedShape {
            vessel_m3: c.vessel_m3,
            fill_pa: c.fill_pa,
            relief_pa: c.relief_pa,
        }),
        around_stove: !has_loop,
    }
}
