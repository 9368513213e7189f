//! Files and pictures from results.
