//! How much of the room for wood is taken.

use super::Network;
use super::layout::COHORTS;
use crate::components::spec::{Firebox, FireboxKind, StickShape};
use crate::properties::wood;

/// Area that sticks of one unit of section take up side by side. Round sticks take up the corners between them too (4/π, less what
/// their leaning closes), square ones lie close (common practice, no source).
#[inline]
pub fn side_by_side(shape: StickShape) -> f64 {
    match shape {
        StickShape::Round => 1.2,
        StickShape::Square => 1.05,
    }
}

/// Area that sticks can stand in, m2; none behind a door.
#[inline]
pub fn mouth_m2(f: &Firebox) -> f64 {
    match f.kind {
        FireboxKind::FeedTube => f.mouth_area_m2 * (1.0 - f.mouth_cover),
        FireboxKind::Door | FireboxKind::DownDraught => 0.0,
    }
}

/// Solid wood that goes into a firebox, stacked as close as a cord, m3.
pub fn room_m3(f: &Firebox) -> f64 {
    wood::SOLID_SHARE * f.width_m * f.depth_m * f.height_m
}

/// Wood over the room for it: above one it does not go in.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Fullness {
    /// Of the firebox.
    pub firebox: f64,
    /// Of a feed tube's mouth; 0 behind a door.
    pub mouth: f64,
}

impl Network {
    /// How full the firebox is of wood that has not charred; charcoal falls to the hearth and takes next to no room.
    pub fn fullness(&self, y: &[f64]) -> Fullness {
        let f = &self.rig.firebox;
        let virgin = &y[self.layout.virgin..self.layout.virgin + COHORTS];
        let kindled = &y[self.layout.kindled..self.layout.kindled + COHORTS];
        let (mut solid_m3, mut section_m2) = (0.0, 0.0);
        for ((sticks, v), g) in self.mode.cohorts.iter().zip(virgin).zip(kindled) {
            let left = sticks.left(*v, *g);
            solid_m3 += sticks.volume_m3 * left.in_fire;
            section_m2 += sticks.mouth_section_m2(*v);
        }
        let taken_m2 = side_by_side(self.rig.fuel.stick.shape) * section_m2;
        let mouth_m2 = mouth_m2(f);
        Fullness {
            firebox: solid_m3 / room_m3(f),
            mouth: if mouth_m2 > 0.0 {
                taken_m2 / mouth_m2
            } else {
                0.0
            },
        }
    }
}
