//! A season of burns for people: the answer in words, tables, pictures; its burns as a table that grows row by row.

mod layer_picture;
mod pictures;
mod table;
mod text;

pub use layer_picture::season_layer_svg;
pub use pictures::{season_interval_svg, season_svg};
pub use table::{BURNS, BurnTable, LAYER, layer_csv};
pub use text::season_text;
