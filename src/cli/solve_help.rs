//! The long texts of `--help` for `size`, `trade` and `sensitivity`.

pub const SIZE: &str = "\
Find the scenario value that meets a target.

The range is scanned, every bracket searched: all values that meet the target are told, or the lowest \
(--highest: the highest) that keeps all conditions. Where none does, how near it comes and at which value.";

pub const SIZE_AFTER: &str = "\
Files written to the result folder: tried.csv, size.svg, size.png, solved.toml (fit for `burn`).

Examples:
  emberloop size my-heater.toml --solve 'coil.length = 3 m .. 40 m' --for 'time = 2 h'
  emberloop size my-heater.toml --solve 'pump.settings.low.speed = 10 % .. 100 %' --for 'boiling_margin >= 5 K'
      The slowest pump that keeps the coil from boiling.
  emberloop size my-heater.toml --solve 'store.water = 50 L .. 600 L' --for 'time <= 4 h' --highest
  emberloop size my-heater.toml --last-feed '40 degC'
      When to feed last so that the store peaks at 40 degC.
  emberloop size my-heater.toml --trips 3 --ready-by '3 h'
      Mass and interval of three equal charges after lighting, on the least wood.

Exit codes: 0 found, 1 no value meets it (the nearest is told), 2 command line, 3 scenario, 6 files.";

pub const TRADE: &str = "\
Search the trade-off between two or three results over several values.

Points of the front are those that no other tried point beats in all results. The search (NSGA-II) depends \
on the seed alone, not on the number of processors.";

pub const TRADE_AFTER: &str = "\
Files written to the result folder: front.csv, tried.csv, trade.svg, trade.png, chosen-N.toml with --choose.

Example:
  emberloop trade my-heater.toml --vary 'coil.length = 6 m .. 30 m' \\
      --vary 'feeding.every[0].interval = 5 min .. 20 min' --least time,wood --keep 'boiling_margin >= 5 K'

Exit codes: 0 front found, 1 no point keeps the conditions, 2 command line, 3 scenario, 6 files.";

pub const SENSITIVITY: &str = "\
Tell which inputs matter for a result.

Screening by elementary effects (Morris) over all values, variance shares (Sobol) with 95 % intervals for the \
strongest. Without --vary: moisture (5 points of share either way), stick, feeding, coil, flue, store and wind of the \
scenario by a fifth of their value either way, and the closures over the range that nine in ten rigs lie in \
(docs/closures.md).";

pub const SENSITIVITY_AFTER: &str = "\
Files written to the result folder: sensitivity.csv, tornado.svg, tornado.png.

Examples:
  emberloop sensitivity my-heater.toml
  emberloop sensitivity my-heater.toml --of wood --vary 'coil.length = 8 m .. 12 m' --vary 'fuel.moisture = 12 % .. 30 %'";
