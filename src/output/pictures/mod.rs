//! The pictures of a burn, one file each; this file knows which a run has.

mod audit;
mod bed;
mod compare;
mod draught;
mod energy;
mod fit;
mod gas;
mod heat;
mod operating;
mod rig;
mod tank;
mod view;
mod water;

pub use audit::audit_pictures;
pub use compare::compare_pictures;
pub use fit::fit_pictures;
pub use rig::rig_svg;

use super::error::OutputError;
use crate::results::BurnResult;
use crate::units::UnitSystem;
use view::View;

/// One kind of picture.
struct Picture {
    name: &'static str,
    has: fn(&BurnResult) -> bool,
    paint: fn(&View) -> Result<String, OutputError>,
}

const PICTURES: [Picture; 9] = [
    Picture {
        name: "tank",
        has: |r| r.series.get("tank_mean_temperature_K").is_some(),
        paint: tank::paint,
    },
    Picture {
        name: "gas-temperatures",
        has: |r| r.series.get("gas_firebox_temperature_K").is_some(),
        paint: gas::paint,
    },
    Picture {
        name: "water",
        has: |r| r.series.get("coil_outlet_temperature_K").is_some(),
        paint: water::paint,
    },
    Picture {
        name: "heat-flows",
        has: |r| r.series.get("firing_rate_W").is_some(),
        paint: heat::paint,
    },
    Picture {
        name: "energy",
        has: |r| !r.ledger.inputs.is_empty(),
        paint: energy::paint,
    },
    Picture {
        name: "draught",
        has: |r| r.series.get("draught_Pa").is_some(),
        paint: draught::paint,
    },
    Picture {
        name: "bed",
        has: |r| r.series.get("bed_wood_kg").is_some(),
        paint: bed::paint,
    },
    Picture {
        name: "operating-point",
        has: |r| r.operating.is_some(),
        paint: operating::paint,
    },
    Picture {
        name: "rig",
        has: |r| r.rig.is_some(),
        paint: rig::paint,
    },
];

/// Names of all kinds of picture, whether this run has them or not.
pub fn all_names() -> impl Iterator<Item = &'static str> {
    PICTURES.iter().map(|p| p.name)
}

/// Names of the pictures that this run has, in the order in which they are written.
pub fn picture_names(result: &BurnResult) -> Vec<&'static str> {
    PICTURES
        .iter()
        .filter(|p| result.series.rows() > 0 && (p.has)(result))
        .map(|p| p.name)
        .collect()
}

/// Draws one picture as SVG text.
///
/// # Errors
/// [`OutputError::NoSuchPicture`] when the run has no such picture, [`OutputError::Drawing`] when drawing fails.
pub fn draw_one(name: &str, result: &BurnResult, units: UnitSystem) -> Result<String, OutputError> {
    let have = picture_names(result);
    match PICTURES
        .iter()
        .find(|p| p.name == name && have.contains(&p.name))
    {
        Some(p) => (p.paint)(&View { result, units }),
        None => Err(OutputError::NoSuchPicture {
            name: name.to_string(),
            have: have.join(", "),
        }),
    }
}
