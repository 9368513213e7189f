//! The look that all pictures share: sizes, colours, dashes, markers.
//!
//! A picture is 1600 px wide and is read at 400 px on a phone, hence the big type.
//! Curves differ by dash and marker as well as by colour; neighbouring colours differ in lightness too.

/// Width of every picture in pixels.
pub const WIDTH: f64 = 1600.0;
/// Blank margin on all sides.
pub const MARGIN: f64 = 36.0;
pub const TITLE: f64 = 44.0;
pub const SUBTITLE: f64 = 38.0;
pub const TEXT: f64 = 34.0;
pub const SMALL: f64 = 28.0;

/// Red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rgb(pub u8, pub u8, pub u8);

impl Rgb {
    /// This colour laid over `under`, 0: `under`, 1: this one. Blended here because see-through shapes
    /// cost the renderer a layer each.
    pub fn over(self, under: Rgb, share: f64) -> Rgb {
        let mix =
            |a: u8, b: u8| (f64::from(a) * share + f64::from(b) * (1.0 - share)).round() as u8;
        Rgb(
            mix(self.0, under.0),
            mix(self.1, under.1),
            mix(self.2, under.2),
        )
    }

    /// A lighter tone of this colour.
    pub fn tint(self, share: f64) -> Rgb {
        self.over(PAPER, share)
    }

    /// Relative luminance, 0 black to 1 white (sRGB, IEC 61966-2-1).
    pub fn luminance(self) -> f64 {
        let linear = |v: u8| {
            let v = f64::from(v) / 255.0;
            if v <= 0.040_45 {
                v / 12.92
            } else {
                ((v + 0.055) / 1.055).powf(2.4)
            }
        };
        0.2126 * linear(self.0) + 0.7152 * linear(self.1) + 0.0722 * linear(self.2)
    }
}

pub const INK: Rgb = Rgb(27, 31, 36);
pub const GREY: Rgb = Rgb(96, 103, 112);
pub const GRID: Rgb = Rgb(214, 218, 223);
pub const PAPER: Rgb = Rgb(255, 255, 255);
/// For curves and areas, where `GREY` is for words.
pub const SLATE: Rgb = Rgb(132, 141, 153);
pub const BLUE: Rgb = Rgb(65, 75, 185);
pub const ORANGE: Rgb = Rgb(218, 121, 31);
pub const TEAL: Rgb = Rgb(0, 170, 99);
pub const PLUM: Rgb = Rgb(118, 44, 110);
pub const GOLD: Rgb = Rgb(246, 196, 2);
pub const SKY: Rgb = Rgb(98, 166, 242);
pub const BROWN: Rgb = Rgb(94, 80, 66);
pub const RED: Rgb = Rgb(164, 19, 0);
/// Under the hatching of what must not be built so.
pub const HATCHED: Rgb = Rgb(250, 238, 232);

/// The order in which curves without a fixed meaning take their colours.
pub const CYCLE: [Rgb; 8] = [RED, ORANGE, PLUM, GOLD, TEAL, SKY, BROWN, BLUE];

/// On and off lengths in pixels; empty: an unbroken line.
pub type Dash = &'static [f64];
pub const SOLID: Dash = &[];
pub const LONG: Dash = &[26.0, 11.0];
pub const SHORT: Dash = &[11.0, 8.0];
pub const DOT: Dash = &[4.0, 7.0];
pub const DASH_DOT: Dash = &[24.0, 8.0, 4.0, 8.0];
pub const DASHES: [Dash; 5] = [SOLID, LONG, SHORT, DASH_DOT, DOT];

/// Shape repeated along a curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Marker {
    None,
    Circle,
    Square,
    Triangle,
    Diamond,
    TriangleDown,
    HollowCircle,
    HollowSquare,
    HollowTriangle,
    HollowDiamond,
    Cross,
}

/// The order in which curves without a fixed meaning take their markers.
pub const MARKERS: [Marker; 10] = [
    Marker::Circle,
    Marker::Square,
    Marker::Triangle,
    Marker::Diamond,
    Marker::TriangleDown,
    Marker::HollowCircle,
    Marker::HollowSquare,
    Marker::HollowTriangle,
    Marker::HollowDiamond,
    Marker::Cross,
];

/// How one curve is drawn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    pub color: Rgb,
    pub dash: Dash,
    pub marker: Marker,
    pub width: f64,
}

impl Look {
    pub const fn new(color: Rgb, dash: Dash, marker: Marker) -> Self {
        Self {
            color,
            dash,
            marker,
            width: 5.0,
        }
    }

    pub const fn thin(mut self) -> Self {
        self.width = 3.0;
        self
    }

    /// The `i`-th of many curves without a fixed meaning: colour, dash and marker change together
    /// with different periods, so that the first 40 all differ.
    pub fn nth(i: usize) -> Self {
        Self::new(
            CYCLE[i % CYCLE.len()],
            DASHES[i % DASHES.len()],
            MARKERS[i % MARKERS.len()],
        )
    }
}

/// Lines drawn over a filled area, so that areas differ without colour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hatch {
    None,
    Up,
    Down,
    Level,
    Upright,
    Crossed,
    Dots,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Colour as seen without red or without green cones, in linear light: Machado, Oliveira and
    /// Fernandes, "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15
    /// (2009), table 1, severity 1.0 (values from memory).
    const VISION: [[[f64; 3]; 3]; 3] = [
        [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]],
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
    ];

    /// CIE L*a*b* (1976), white D65, of an sRGB colour (IEC 61966-2-1) seen through `m`.
    fn lab(c: Rgb, m: &[[f64; 3]; 3]) -> [f64; 3] {
        let linear = [c.0, c.1, c.2].map(|v| Rgb(v, v, v).luminance());
        let seen = m.map(|row| {
            (row[0] * linear[0] + row[1] * linear[1] + row[2] * linear[2]).clamp(0.0, 1.0)
        });
        let dot = |a: f64, b: f64, c: f64| a * seen[0] + b * seen[1] + c * seen[2];
        let f = |t: f64| {
            if t > 216.0 / 24389.0 {
                t.cbrt()
            } else {
                (24389.0 / 27.0 * t + 16.0) / 116.0
            }
        };
        let x = f(dot(0.4124564, 0.3575761, 0.1804375) / 0.95047);
        let y = f(dot(0.2126729, 0.7151522, 0.0721750));
        let z = f(dot(0.0193339, 0.1191920, 0.9503041) / 1.08883);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    #[test]
    fn published_colours_stay_apart_without_red_or_green_cones() {
        let all = [INK, SLATE, BLUE, ORANGE, TEAL, PLUM, GOLD, SKY, BROWN, RED];
        for vision in &VISION {
            for (i, &a) in all.iter().enumerate() {
                for &b in &all[..i] {
                    let (p, q) = (lab(a, vision), lab(b, vision));
                    let d = (0..3).map(|k| (p[k] - q[k]).powi(2)).sum::<f64>().sqrt();
                    // 2.3 is a just noticeable difference; ten times that for thin lines.
                    assert!(d > 23.0, "{a:?} {b:?}: {d}");
                }
            }
        }
    }

    #[test]
    fn behaves_forty_curves_all_look_different() {
        let looks: Vec<Look> = (0..40).map(Look::nth).collect();
        for (i, a) in looks.iter().enumerate() {
            assert!(looks[..i].iter().all(|b| a != b), "{i}");
        }
    }
}
