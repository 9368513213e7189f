//! One fault at one moment, without looking for the worst.

use super::{Fault, Saved, Strikes, USUAL_RELIEF_PA, follow, record};
use crate::analyses::burn::RunError;
use crate::components::spec::Rig;

/// One fault at one moment, followed for `for_s`: what a test of many pairs needs. Returns the limits met, the energy
/// residual and the highest mass residual.
///
/// # Errors
/// See [`RunError`].
pub fn try_fault(
    f: Fault,
    rig: &Rig,
    at_s: f64,
    for_s: f64,
) -> Result<(Vec<crate::results::LimitMet>, f64, f64), RunError> {
    let own = f.rig(rig);
    let mut s = Saved::new(&own)?;
    s.go_on();
    if f.strikes() != Strikes::FromTheStart {
        s.advance_to(at_s, &mut |_, _| true)?;
    }
    let mut r = record(f, rig, &s, false);
    f.strike(&mut s, USUAL_RELIEF_PA);
    let until = s.time_s() + for_s;
    follow(f, &mut s, &mut r, until, &|_, _| false)?;
    let ledger = s.ledger();
    let mass = ledger
        .masses
        .iter()
        .map(|m| m.residual_fraction)
        .fold(0.0, f64::max);
    Ok((r.limits, ledger.residual_fraction, mass))
}
