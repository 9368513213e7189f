//! Studies: their durable table, the answers that it gives, its pictures.

mod journal;
mod record;
mod table;

pub use journal::{Journal, PARTIAL, RUNS, Record};
pub use table::{Found, each_row, find, join};
