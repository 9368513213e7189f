"""A standard ODE routine (scipy's LSODA) from a script, on the right-hand side of a bundled burn in its compiled library.

    cargo build --release --example rhs
    python3 scripts/bench-script.py target/release/examples/librhs.so
"""

import ctypes
import sys
import time

import numpy as np
from scipy.integrate import solve_ivp

lib = ctypes.CDLL(sys.argv[1])
numbers = np.ctypeslib.ndpointer(dtype=np.float64, flags="C_CONTIGUOUS")
lib.stretches.restype = lib.states.restype = ctypes.c_size_t
lib.start.argtypes = [ctypes.c_size_t, numbers, numbers]
lib.start.restype = None
lib.rhs.argtypes = [ctypes.c_size_t, ctypes.c_double, ctypes.c_void_p, ctypes.c_void_p]
lib.rhs.restype = None
lib.tank_mean_k.argtypes = [ctypes.c_size_t, numbers]
lib.tank_mean_k.restype = ctypes.c_double

n = lib.states()


def burn(rtol):
    """All stretches: seconds it took, right-hand sides, the store's mean at each end."""
    calls, ends = 0, []
    began = time.perf_counter()
    for i in range(lib.stretches()):
        times, y0, dy = np.empty(2), np.empty(n), np.empty(n)
        lib.start(i, times, y0)

        def f(t, y):
            lib.rhs(i, t, y.ctypes.data, dy.ctypes.data)
            return dy.copy()

        done = solve_ivp(f, times, y0, method="LSODA", rtol=rtol, atol=rtol)
        if not done.success:
            sys.exit(f"stretch {i}: {done.message}")
        calls += done.nfev
        ends.append(lib.tank_mean_k(i, np.ascontiguousarray(done.y[:, -1])))
    return time.perf_counter() - began, calls, np.array(ends)


burn(1e-2)  # The library simulates its burn once, and all is loaded.
seconds, calls, ends = burn(1e-3)
_, _, tight = burn(1e-7)
name = "LSODA of scipy from a script, rtol 1e-3"
print(f"{name:<44} {seconds * 1e3:>10.2f} {calls:>10} {abs(ends - tight).max():>10.1e}")
