//! Files and pictures from results. Reads [`crate::results`] only; the one module besides `scenario` that
//! touches files.
//!
//! [`write_all`] writes the folder of a run, [`summary_table`] is what a person reads on the screen,
//! [`summary_json`] what a program reads; [`draw_one`] and [`rig_svg`] draw, [`svg_to_png`] renders.

mod account;
mod audit_table;
mod axis;
mod canvas;
mod compare_table;
mod error;
mod figure;
mod files;
mod fit_table;
mod font;
mod hatch;
mod hazard;
mod in_a_row;
mod legend;
mod paint;
mod pictures;
mod pieces;
mod place;
mod png;
mod rig;
mod season;
mod show;
mod solve_pictures;
pub mod study;
mod style;
mod summary_json;
mod summary_table;
mod table_csv;

pub use audit_table::audit_table;
pub use compare_table::compare_table;
pub use error::OutputError;
pub use files::{WriteOptions, write_all, write_file, write_together};
pub use fit_table::fit_table;
pub use hazard::{hazard_svg, hazard_text};
pub use in_a_row::{BURNS_IN_A_ROW, in_a_row_csv, in_a_row_svg, in_a_row_text};
pub use pictures::{
    audit_pictures, compare_pictures, draw_one, fit_pictures, picture_names, rig_svg,
};
pub use pieces::PieceJournal;
pub use png::svg_to_png;
pub use season::{
    BURNS as SEASON_BURNS, BurnTable, LAYER as SEASON_LAYER, layer_csv, season_interval_svg,
    season_layer_svg, season_svg, season_text,
};
pub use solve_pictures::{Bar, CurvePicture, curve_svg, front_svg, quantity, tornado_svg};
pub use summary_json::summary_json;
pub use summary_table::summary_table;
pub use table_csv::series_csv;
