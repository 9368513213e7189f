//! Lays a rig out in one vertical plane: where each section, the store and the drawing's edges stand.

use crate::output::canvas::{Px, Rect};
use crate::results::{RigDrawing, SectionShape, VesselShape};

/// A point in metres, height upwards.
pub type Xz = (f64, f64);

/// One section as a strip around its centre line.
#[derive(Debug, Clone)]
pub struct Strip {
    pub from: Xz,
    pub to: Xz,
    pub width_m: f64,
    pub wall_m: f64,
    /// A nominal connection between two columns, not a section.
    pub link: bool,
    /// Index of the section that it draws or leads to.
    pub section: usize,
}

impl Strip {
    /// The firebox, as an upright strip.
    pub fn firebox(rig: &RigDrawing) -> Self {
        let f = &rig.firebox;
        let x = 0.5 * f.depth_m;
        Self {
            from: (x, 0.0),
            to: (x, f.height_m),
            width_m: f.depth_m,
            wall_m: f.wall_m,
            link: false,
            section: 0,
        }
    }

    /// A drum with its middle at `x_m`, as an upright strip.
    pub fn drum(v: &VesselShape, x_m: f64) -> Self {
        Self {
            from: (x_m, v.floor_z_m),
            to: (x_m, v.floor_z_m + v.water_depth_m),
            width_m: v.width_m,
            wall_m: 0.0,
            link: false,
            section: 0,
        }
    }

    /// Runs mostly upwards or downwards.
    pub fn upright(&self) -> bool {
        (self.to.1 - self.from.1).abs() >= (self.to.0 - self.from.0).abs()
    }
    pub fn middle(&self) -> Xz {
        (
            0.5 * (self.from.0 + self.to.0),
            0.5 * (self.from.1 + self.to.1),
        )
    }
    pub fn at(&self, s: f64) -> Xz {
        (
            self.from.0 + (self.to.0 - self.from.0) * s,
            self.from.1 + (self.to.1 - self.from.1) * s,
        )
    }
    /// Corners of the strip, `extra_m` wider on both sides and `ends_m` longer at start and end.
    pub fn corners(&self, extra_m: f64, ends_m: (f64, f64)) -> [Xz; 4] {
        let (dx, dz) = (self.to.0 - self.from.0, self.to.1 - self.from.1);
        let l = dx.hypot(dz).max(1e-9);
        let h = 0.5 * self.width_m + extra_m;
        let (nx, nz) = (-dz / l * h, dx / l * h);
        let (tx, tz) = (dx / l, dz / l);
        let a = (self.from.0 - tx * ends_m.0, self.from.1 - tz * ends_m.0);
        let b = (self.to.0 + tx * ends_m.1, self.to.1 + tz * ends_m.1);
        [
            (a.0 + nx, a.1 + nz),
            (b.0 + nx, b.1 + nz),
            (b.0 - nx, b.1 - nz),
            (a.0 - nx, a.1 - nz),
        ]
    }
}

/// The laid-out rig.
#[derive(Debug, Clone, Default)]
pub struct Plan {
    pub strips: Vec<Strip>,
    /// Horizontal extent of firebox and gas path, walls included.
    pub x_range: (f64, f64),
    pub z_range: (f64, f64),
    /// Width of the store, metres; of the bench where there is no store.
    pub store_m: f64,
    /// Left edge of a store or drum that stands around the stove.
    around_x_m: Option<f64>,
    /// It is the store; else that stands beside the gas path.
    store_around: bool,
    /// Width of a bypass's header, metres; zero without one.
    header_m: f64,
    /// A bench beside the store.
    bench_beside: bool,
}

/// Pixels between gas path and store: room for pipes and the height between coil and port.
const PIPE_ROOM: f64 = 400.0;
/// More of it left of a header, and the header's distance from the store.
const HEADER_ROOM: (f64, f64) = (40.0, 210.0);
/// Pixels left of the firebox and right of the store for dimension lines.
const LEFT_ROOM: f64 = 280.0;
pub const RIGHT_ROOM: f64 = 330.0;
/// Least and greatest height of the drawing in pixels.
const HEIGHT: (f64, f64) = (700.0, 1700.0);

pub fn plan(rig: &RigDrawing) -> Plan {
    let f = &rig.firebox;
    let strips = strips(rig);
    let mut x_range = (-f.wall_m, f.depth_m + f.wall_m);
    let mut z_range = (
        rig.ground_z_m.min(-f.wall_m).min(-0.05),
        f.height_m + f.wall_m,
    );
    for s in &strips {
        for (x, z) in s.corners(s.wall_m, (0.0, 0.0)) {
            x_range = (x_range.0.min(x), x_range.1.max(x));
            z_range = (z_range.0.min(z), z_range.1.max(z));
        }
    }
    let mut store_m = 0.0;
    let mut around_x_m = None;
    if let Some(v) = rig.around() {
        let x_m = middle_in_water_m(rig, &strips) - 0.5 * v.width_m;
        around_x_m = Some(x_m);
        x_range = (x_range.0.min(x_m), x_range.1.max(x_m + v.width_m));
    }
    for v in rig.vessel.iter().chain(rig.around()) {
        z_range = (
            z_range.0.min(v.floor_z_m - 0.05),
            z_range.1.max(v.floor_z_m + 1.1 * v.water_depth_m),
        );
        if v.closed.is_some() {
            let top = v.floor_z_m + 1.1 * v.water_depth_m + CLOSED_M;
            z_range.1 = z_range.1.max(top);
        }
    }
    let store_around = rig.vessel.as_ref().is_some_and(|v| v.around_stove);
    if let Some(v) = rig.vessel.as_ref().filter(|v| !v.around_stove) {
        store_m = v.width_m;
    }
    let mut header_m = 0.0;
    if let Some(h) = &rig.header {
        header_m = h.width_m;
        z_range = (
            z_range.0.min(h.floor_z_m - 0.05),
            z_range.1.max(h.floor_z_m + 1.1 * h.water_depth_m),
        );
    }
    if let Some(b) = &rig.bench {
        if rig.vessel.is_none() {
            store_m = BENCH_M.0;
        }
        z_range = (z_range.0.min(b.z_m - 0.1), z_range.1.max(b.z_m + 0.3));
    }
    Plan {
        strips,
        x_range,
        z_range,
        store_m,
        around_x_m,
        store_around,
        header_m,
        bench_beside: rig.vessel.is_some() && rig.bench.is_some(),
    }
}

/// Height kept free over a closed store for its expansion vessel and relief valve.
const CLOSED_M: f64 = 0.4;

/// Nominal width and height of a bench's symbol.
pub const BENCH_M: (f64, f64) = (0.8, 0.15);

/// Middle of all parts that stand in water.
pub fn middle_in_water_m(rig: &RigDrawing, strips: &[Strip]) -> f64 {
    let firebox = Strip::firebox(rig);
    let of_path = strips
        .iter()
        .filter(|s| !s.link && rig.sections[s.section].in_water);
    let own = Some(&firebox).filter(|_| rig.firebox.in_water > 0.0);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for s in own.into_iter().chain(of_path) {
        for (x, _) in s.corners(s.wall_m, (0.0, 0.0)) {
            (low, high) = (low.min(x), high.max(x));
        }
    }
    if low <= high {
        0.5 * (low + high)
    } else {
        firebox.from.0
    }
}

fn strips(rig: &RigDrawing) -> Vec<Strip> {
    let f = &rig.firebox;
    let mut out: Vec<Strip> = Vec::new();
    let mut x = match (rig.sections.first(), f.open_mouth) {
        // The fuel stands at the front, the gas leaves at the back.
        (Some(s), true) => {
            (f.depth_m - 0.5 * s.width_m).max(f.mouth_m + 0.5 * s.width_m + s.wall_m)
        }
        // Drawn down, it leaves by the hearth: to the back, unless the first section falls.
        (Some(s), false) if f.drawn_down && s.rise_m >= 0.0 => {
            let level = run_m(s) > 0.0;
            let clear = if level {
                0.0
            } else {
                f.wall_m + 0.5 * s.width_m + s.wall_m + 0.06
            };
            let x = f.depth_m + clear;
            if !level {
                out.push(Strip {
                    from: (0.5 * f.depth_m, s.start_z_m),
                    to: (x, s.start_z_m),
                    width_m: 0.5 * s.width_m,
                    wall_m: s.wall_m,
                    link: true,
                    section: 0,
                });
            }
            x
        }
        _ => 0.5 * f.depth_m,
    };
    for (i, s) in rig.sections.iter().enumerate() {
        let run_m = run_m(s);
        let up = s.rise_m.signum();
        // Up and then down again, or the other way: the next column stands beside the last.
        let turn = out
            .last()
            .filter(|last| run_m == 0.0 && last.upright())
            .filter(|last| (last.to.1 - last.from.1).signum() != up)
            .cloned();
        if let Some(last) = turn {
            let side = 0.5 * last.width_m + last.wall_m + 0.5 * s.width_m + s.wall_m + 0.06;
            out.push(Strip {
                from: (x, s.start_z_m),
                to: (x + side, s.start_z_m),
                width_m: last.width_m.min(s.width_m),
                wall_m: last.wall_m.min(s.wall_m),
                link: true,
                section: i,
            });
            x += side;
        }
        out.push(Strip {
            from: (x, s.start_z_m),
            to: (x + run_m, s.start_z_m + s.rise_m),
            width_m: s.width_m,
            wall_m: s.wall_m,
            link: false,
            section: i,
        });
        x += run_m;
    }
    out
}

/// Horizontal length; zero where the section is upright but for rounding.
fn run_m(s: &SectionShape) -> f64 {
    let run = (s.length_m * s.length_m - s.rise_m * s.rise_m)
        .max(0.0)
        .sqrt();
    if s.rise_m.abs() >= 0.98 * s.length_m {
        0.0
    } else {
        run
    }
}

/// Scale and size of the drawing, before it has its place on the sheet.
#[derive(Debug, Clone, Copy)]
pub struct Fit {
    pub height: f64,
    px_per_m: f64,
    x_left: f64,
    x_min: f64,
    x_store: f64,
    x_around: f64,
    header_px: f64,
    z_low: f64,
}

impl Plan {
    /// The largest scale that fits between `x0` and `x1`.
    pub fn fit(&self, (x0, x1): (f64, f64), (z_low, z_high): (f64, f64)) -> Fit {
        let path_m = self.x_range.1 - self.x_range.0;
        let pipes = match (self.store_m > 0.0, self.header_m > 0.0) {
            (true, true) => PIPE_ROOM + HEADER_ROOM.0,
            (true, false) => PIPE_ROOM,
            (false, _) => 120.0,
        };
        let bench_m = if self.bench_beside { BENCH_M.0 } else { 0.0 };
        let wide_m = path_m + self.header_m + self.store_m + bench_m;
        let margin = if self.bench_beside { 40.0 } else { 0.0 };
        let room = x1 - x0 - LEFT_ROOM - RIGHT_ROOM - pipes - margin;
        let by_width = room / wide_m;
        let px_per_m = by_width.min(HEIGHT.1 / (z_high - z_low));
        let px_per_m = px_per_m.min(by_width.max(HEIGHT.0 / (z_high - z_low)));
        let spare = room - px_per_m * wide_m;
        let x_left = x0 + LEFT_ROOM + 0.3 * spare;
        let around_m = self.around_x_m.unwrap_or(self.x_range.0);
        let x_around = x_left + px_per_m * (around_m - self.x_range.0);
        Fit {
            height: px_per_m * (z_high - z_low),
            px_per_m,
            x_left,
            x_min: self.x_range.0,
            x_store: if self.store_around {
                x_around
            } else {
                x_left + px_per_m * (path_m + self.header_m) + pipes + 0.4 * spare
            },
            x_around,
            header_px: px_per_m * self.header_m,
            z_low,
        }
    }
}

/// Metres to pixels on the sheet.
#[derive(Debug, Clone, Copy)]
pub struct OnSheet {
    fit: Fit,
    pub plot: Rect,
}

impl Fit {
    pub fn at(self, plot: Rect) -> OnSheet {
        OnSheet { fit: self, plot }
    }
}

impl OnSheet {
    pub fn px_per_m(&self) -> f64 {
        self.fit.px_per_m
    }
    pub fn z(&self, z_m: f64) -> f64 {
        self.plot.bottom() - (z_m - self.fit.z_low) * self.fit.px_per_m
    }
    /// A point of the gas side.
    pub fn path(&self, (x, z): Xz) -> Px {
        (
            self.fit.x_left + (x - self.fit.x_min) * self.fit.px_per_m,
            self.z(z),
        )
    }
    /// Left edge of the header, between gas path and store.
    pub fn header_x(&self) -> f64 {
        self.fit.x_store - HEADER_ROOM.1 - self.fit.header_px
    }
    /// Left edge of what stands around the stove.
    pub fn around_x(&self) -> f64 {
        self.fit.x_around
    }
    /// Left edge of the store.
    pub fn store_x(&self) -> f64 {
        self.fit.x_store
    }
}
