#!/usr/bin/env python3
"""Viscosity and conductivity of wood flue gas by Cantera: the table in tests/properties_gas_mixing.rs.

Needs Cantera (the table was made with 3.2.0, its gri30.yaml and mixture-averaged transport: Wilke's rule for the viscosity, half
the sum of arithmetic and harmonic mean for the conductivity, both over polynomial fits of each species).
"""
import cantera as ct

C, H, O = 51.0 / 99.3, 6.3 / 99.3, 42.0 / 99.3  # ISO 17225-1 Annex B coniferous, mass shares


def flue_gas(air_ratio, moisture_wet):
    """Mole fractions of N2, O2, CO2, H2O, Ar of burnt wood in dry air."""
    c, h, o = C / 12.011e-3, H / 1.008e-3, O / 15.999e-3
    needed = c + h / 4 - o / 2
    air = air_ratio * needed / 0.2095
    water = h / 2 + moisture_wet / (1 - moisture_wet) / 18.015e-3
    moles = [0.7808 * air, 0.2095 * air - needed, c, water, 0.0097 * air]
    return [max(n, 0.0) / sum(moles) for n in moles]


gas = ct.Solution("gri30.yaml")
gas.transport_model = "mixture-averaged"
print("// Cantera", ct.__version__)
for air_ratio, moisture in [(1.0, 0.0), (1.0, 0.3), (1.0, 0.5), (1.5, 0.2), (3.0, 0.5), (30.0, 0.2)]:
    x = flue_gas(air_ratio, moisture)
    for t_k in (300.0, 600.0, 1200.0, 2000.0):
        gas.TPX = t_k, 101325.0, dict(zip(["N2", "O2", "CO2", "H2O", "AR"], x))
        print(f"    ({air_ratio}, {moisture}, {t_k}, {gas.viscosity:.6e}, {gas.thermal_conductivity:.6e}),")
