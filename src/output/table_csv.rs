//! `series.csv`: one row per moment, SI, unit suffix in each column name.

use crate::results::Series;

/// The table as CSV bytes. Numbers in the shortest form that reads back to the same bits; a value that
/// is no number becomes an empty cell.
///
/// # Errors
/// What the CSV writer reports (columns of unequal length).
pub fn series_csv(series: &Series) -> Result<Vec<u8>, csv::Error> {
    let mut out = csv::WriterBuilder::new()
        .terminator(csv::Terminator::Any(b'\n'))
        .from_writer(Vec::new());
    out.write_record(&series.names)?;
    for i in 0..series.rows() {
        let cells = series
            .columns
            .iter()
            .filter_map(|c| c.get(i))
            .map(|&v| number(v));
        out.write_record(cells)?;
    }
    out.into_inner().map_err(|e| e.into_error().into())
}

/// The shortest text that reads back to the same bits; empty for what is no number.
pub fn number(v: f64) -> String {
    if !v.is_finite() {
        return String::new();
    }
    if v == 0.0 {
        // No sign on zero.
        return "0".into();
    }
    let text = format!("{v:?}");
    match text.strip_suffix(".0") {
        Some(whole) => whole.to_string(),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn identity_numbers_read_back_to_the_same_bits() {
        for v in [
            0.1,
            1.0 / 3.0,
            1e-300,
            6.02e23,
            293.15,
            -7.0,
            f64::MIN_POSITIVE,
        ] {
            let back = number(v).parse().map(f64::to_bits);
            assert_eq!(back, Ok(v.to_bits()), "{v}");
        }
        assert_eq!(number(12.0), "12");
        assert_eq!(number(-0.0), "0");
        assert_eq!(number(f64::NAN), "");
    }
}
