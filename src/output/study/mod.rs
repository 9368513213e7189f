//! Studies: their durable table, the answers that it gives, its pictures.

mod answers;
mod journal;
mod map;
mod pairs;
#[cfg(feature = "parquet")]
mod parquet;
mod pictures;
mod record;
mod report;
mod table;
mod words;

pub use journal::{Journal, PARTIAL, RUNS, Record};
pub use report::{Report, ReportOptions, report};
pub use table::{Found, each_row, find, join};
