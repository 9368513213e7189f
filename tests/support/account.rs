//! What every account must fulfil.

use emberloop::results::BurnResult;

/// Energy and masses to rounding.
pub fn assert_closes(what: &str, b: &BurnResult) {
    let residual = b.ledger.residual_fraction;
    assert!(residual < 1e-10, "{what}: {residual}");
    for m in &b.ledger.masses {
        assert!(m.residual_fraction < 1e-9, "{what}: {m:?}");
    }
}
