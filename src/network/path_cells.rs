//! Which tube cell a gas cell faces.

use crate::components::gas_path::Bank;

/// Tube cell that gas cell `j` faces.
#[inline]
pub(super) fn tube_of(b: &Bank, cells: usize, j: usize) -> usize {
    b.first_tube_cell + if b.reversed { cells - 1 - j } else { j }
}
