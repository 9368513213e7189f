//! Quantities as people write them, and their printing.
