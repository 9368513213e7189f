//! The geometry of an invented rig.

use super::Case;
use emberloop::results::{
    BenchShape, ClosedShape, CoilShape, FireboxShape, PipeShape, PortKind, PortMark, RigDrawing,
    SectionMark, SectionShape, VesselShape,
};

/// A rig with as many sections as asked: up, across, down, up again.
pub fn rig(case: &Case, sections: &[String]) -> RigDrawing {
    let shapes = [
        (0.15, 0.052, 1.0, 1.0),
        (0.42, 0.032, 0.26, 0.26),
        (0.15, 0.001, 0.1, 0.1),
        (0.15, 0.001, 3.0, 3.0),
        (0.25, 0.12, 1.8, 0.0),
        (0.30, 0.05, 1.2, -1.2),
        (0.42, 0.032, 0.5, 0.0),
        (0.15, 0.001, 0.2, 0.2),
        (0.15, 0.001, 0.3, 0.3),
        (0.15, 0.03, 4.0, 4.0),
    ];
    let mut z = 0.3;
    let coil_at = 1.min(sections.len() - 1);
    let sections: Vec<SectionShape> = sections
        .iter()
        .zip(shapes)
        .enumerate()
        .map(|(i, (name, (width_m, wall_m, length_m, rise_m)))| {
            let start_z_m = z;
            z += rise_m;
            let coils = if case.coil && i == coil_at {
                vec![CoilShape {
                    jacket: false,
                    name: "coil".into(),
                    tube_outside_m: 0.0159,
                    length_m: 9.1,
                    bottom_z_m: start_z_m + 0.02,
                    top_z_m: start_z_m + 0.24,
                    width_m: 0.36,
                    turns: 8.0,
                    helix: true,
                    parallel: 1,
                }]
            } else {
                Vec::new()
            };
            SectionShape {
                dry_share: 0.0,
                name: name.replace('_', " "),
                mark: match name.as_str() {
                    "damper" => SectionMark::Damper,
                    "fan" => SectionMark::Fan,
                    _ => SectionMark::Plain,
                },
                passages: 1,
                width_m,
                wall_m,
                length_m,
                rise_m,
                start_z_m,
                coils,
                in_water: false,
            }
        })
        .collect();
    let ports = vec![
        port("hot port", 0.9, PortKind::Hot),
        port("cold port", 0.28, PortKind::Cold),
        port("draw port", 1.0, PortKind::Draw),
    ];
    let closed = case.closed.then_some(ClosedShape {
        vessel_m3: 0.025,
        fill_pa: 1e5,
        relief_pa: 2.5e5,
    });
    let vessel = (case.layers > 0).then_some(VesselShape {
        label: "barrel, 200 L".into(),
        width_m: 0.547,
        floor_z_m: 0.2,
        water_depth_m: 0.85,
        open_top: false,
        layers: case.layers,
        ports,
        closed,
        around_stove: false,
    });
    let pipe = |hot: bool, coil_z_m: f64, far_z_m: f64| PipeShape {
        label: if hot { "hot pipe" } else { "cold pipe" }.into(),
        hot,
        length_m: 3.0,
        inside_m: 0.019,
        coil_z_m,
        far_z_m,
        pump: !hot && case.pump,
        check_valve: false,
        to_header: false,
    };
    RigDrawing {
        title: case.title.clone(),
        firebox: FireboxShape {
            label: "firebox with feed mouth".into(),
            depth_m: 0.3,
            height_m: 0.3,
            wall_m: 0.06,
            open_mouth: true,
            coils: Vec::new(),
            in_water: 0.0,
            air_over: 0.0,
            drawn_down: false,
            mouth_m: 0.13,
        },
        pipes: if case.coil {
            vec![pipe(true, 1.32, 0.9), pipe(false, 1.54, 0.28)]
        } else {
            Vec::new()
        },
        sections,
        vessel,
        header: None,
        drum: None,
        bench: (case.sections == 10).then(|| BenchShape {
            label: "bench, fed from the store".into(),
            z_m: 0.3,
        }),
        ground_z_m: 0.0,
    }
}

fn port(label: &str, z_m: f64, kind: PortKind) -> PortMark {
    let label = label.into();
    PortMark { label, z_m, kind }
}
