//! The right-hand side of a bundled burn as a C library, for `scripts/bench-script.py`. One thread.

#[path = "../replay/mod.rs"]
mod replay;

use emberloop::integrate::OdeSystem;
use replay::Stretch;
use std::cell::OnceCell;

thread_local! {
    static ALL: OnceCell<Vec<Stretch>> = const { OnceCell::new() };
}

fn with<T>(f: impl FnOnce(&[Stretch]) -> T) -> T {
    ALL.with(|all| f(all.get_or_init(replay::stretches)))
}

/// Number of stretches.
#[unsafe(no_mangle)]
pub extern "C" fn stretches() -> usize {
    with(<[Stretch]>::len)
}

/// Number of states.
#[unsafe(no_mangle)]
pub extern "C" fn states() -> usize {
    with(|all| all[0].start.len())
}

/// Times of stretch `i` and its state at the start.
///
/// # Safety
/// `times` has room for two numbers, `y` for [`states`].
#[unsafe(no_mangle)]
pub unsafe extern "C" fn start(i: usize, times: *mut f64, y: *mut f64) {
    with(|all| {
        let s = &all[i];
        unsafe {
            *times = s.t0_s;
            *times.add(1) = s.t1_s;
            std::slice::from_raw_parts_mut(y, s.start.len()).copy_from_slice(&s.start);
        }
    });
}

/// The derivative of `y` at `t_s` in the mode of stretch `i`.
///
/// # Safety
/// `y` and `dy` hold [`states`] numbers each and do not overlap.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn rhs(i: usize, t_s: f64, y: *const f64, dy: *mut f64) {
    with(|all| {
        let s = &all[i];
        let n = s.start.len();
        let (y, dy) = unsafe {
            (
                std::slice::from_raw_parts(y, n),
                std::slice::from_raw_parts_mut(dy, n),
            )
        };
        s.net.rhs(t_s, y, dy);
    });
}

/// The store's mean temperature, K.
///
/// # Safety
/// `y` holds [`states`] numbers.
#[unsafe(no_mangle)]
pub unsafe extern "C" fn tank_mean_k(i: usize, y: *const f64) -> f64 {
    with(|all| {
        let s = &all[i];
        s.net
            .tank_mean_k(unsafe { std::slice::from_raw_parts(y, s.start.len()) })
    })
}
