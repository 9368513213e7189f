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
pub const BLUE: Rgb = Rgb(30, 82, 166);
pub const ORANGE: Rgb = Rgb(224, 116, 20);
pub const TEAL: Rgb = Rgb(16, 130, 112);
pub const PLUM: Rgb = Rgb(146, 38, 116);
pub const GOLD: Rgb = Rgb(196, 154, 8);
pub const SKY: Rgb = Rgb(86, 170, 222);
pub const BROWN: Rgb = Rgb(116, 70, 40);
pub const RED: Rgb = Rgb(178, 40, 34);

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
