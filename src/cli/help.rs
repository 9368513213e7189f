//! The long texts of `--help`: what a command is for, examples, files, exit codes.

pub const ABOUT: &str =
    "Heating water with a wood fire, simulated from the lit match to the hot tank";

pub const LONG_ABOUT: &str = "\
Heating water with a wood fire, simulated from the lit match to the hot tank.

A scenario file describes the rig (firebox, gas path, coil, water loop, store) and the burn (fuel, lighting, \
feeding, controls). The simulation answers how long until the water is hot, on how much wood, fed how often, \
and how much of the fire goes up the stack.";

pub const AFTER: &str = "\
Examples:
  emberloop new my-heater.toml         write a starter scenario to edit
  emberloop check my-heater.toml       find mistakes, draw the rig
  emberloop burn my-heater.toml        simulate; results in results/my-heater/

Results are estimates, not a clearance to build or run. `--help` says more than `-h`.";

pub const AFTER_LONG: &str = "\
Examples:
  emberloop new my-heater.toml
      Write a commented starter scenario, ready to edit.
  emberloop check my-heater.toml
      List every mistake in the file at once; draw the rig to scale.
  emberloop burn my-heater.toml
      Simulate the burn; print the summary; write numbers and pictures to results/my-heater/.
  emberloop burn my-heater.toml --set 'fuel.moisture=30 %' --out results/wet-wood
      The same rig on wetter wood, beside the first result.
  emberloop burn my-heater.toml --json --quiet | jq .time_to_target_s
      One number for a script.

Output:
  What was asked for goes to standard output; progress, notes, timings and errors go to standard error.
  A reader that closes the pipe early is not an error.

Exit codes:
    0  all went well
    1  the run failed (the message names the time and the part)
    2  the command line is wrong
    3  the scenario is wrong (every problem is listed)
    4  a log or its mapping is wrong (every problem is listed)
    5  done, but some of the runs failed (the table says why)
    6  a file cannot be read or written
  130  interrupted; files are written beside and renamed, so none is half written

Environment:
  NO_COLOR   any value but nothing: no colour, unless --color always is given

Cautions:
  Results are estimates, not a clearance to build or run. A coil in a fire can boil: an open vent or a \
temperature and pressure relief valve, sized by someone licensed, belongs on every closed loop. Hot water \
scalds; flues catch fire; fires make carbon monoxide. Local codes and licensed practice decide.";

pub const BURN: &str = "\
Simulate one burn: how long, how much wood, where the heat goes.

Reads the scenario, integrates the rig from the lit match to the end that the scenario names, prints a \
summary, and writes the results. 64 more runs with the model's closures drawn from their priors tell how \
sure the answer is (--bands).";

pub const BURN_AFTER: &str = "\
Files written to the result folder (whole or not at all; an earlier run's files are replaced):
  series.csv      everything against time, SI, the unit in each column's name
  bands.csv       10, 50 and 90 % of the store's temperature against time, SI (not with --bands 0)
  burns-in-a-row.csv  heat into drying and into the walls burn by burn, SI (with --in-a-row)
  summary.json    the summary and its warnings, SI
  as-run.toml     the scenario as it was run, overrides in it
  timing.json     how long the computer took
  *.svg, *.png    pictures, in the units chosen

Examples:
  emberloop burn scenarios/wash-up-barrel.toml
  emberloop burn my-heater.toml --units us
  emberloop burn my-heater.toml --set 'coil[0].length=12 m' --set 'controls.pump.initial=low'
  emberloop burn my-heater.toml --json --no-pictures --out results/trial
  emberloop burn my-heater.toml --bands 256
      Finer bands: how far time, wood and temperatures may lie off.
  emberloop burn my-heater.toml --set 'firebox.wall[0].moisture=8 %' --in-a-row 5
      How the water of new masonry goes, burn by burn.
  emberloop new - | emberloop burn - --out results/starter

With --json, standard output carries exactly the content of summary.json.";

pub const CHECK: &str = "\
Check a scenario without running it, and draw the rig to scale.

Every problem is listed in one pass, each with its place in the file, what is allowed, and the nearest \
valid name. A scenario without problems is described: the figures that follow from it (coil area, free gas \
area, water content, heights) and the defaults that it leaves to the program.";

pub const CHECK_AFTER: &str = "\
Files written to the result folder:
  rig.svg, rig.png    gas path, coil, pipes and ports to scale, with their heights

Examples:
  emberloop check my-heater.toml
  emberloop check my-heater.toml --set 'store.floor_height=1.2 m'
  emberloop check my-heater.toml --json --no-pictures

Exit codes: 0 no problem, 3 problems, 6 the file cannot be read.";

pub const NEW: &str = "\
Write a commented starter scenario.

The file runs as it is: an invented rig with every section of the format and a comment on each choice. \
`--like` begins from a rig that is nearer to yours: a barrel on a rocket-type or on a door stove, a tub beside its stove (thermosyphon) \
or around it, a log boiler with a tank, a store with a bench for the night. A file that exists is left alone unless --force is given.";

pub const NEW_AFTER: &str = "\
Examples:
  emberloop new
  emberloop new tub.toml --like cedar-tub
  emberloop new - | less";

pub const SCHEMA: &str = "\
Print the JSON Schema of scenario files, for editors.

Editors that understand JSON Schema for TOML complete keys and mark mistakes while typing.";

pub const SCHEMA_AFTER: &str = "\
Example:
  emberloop schema > scenario.schema.json
      then, as the first line of a scenario:  #:schema ./scenario.schema.json";

pub const EXPLAIN: &str = "\
Explain an error or warning code at length.

Codes that begin with E are problems of a scenario file, those that begin with W are findings of a run.";

pub const EXPLAIN_AFTER: &str = "\
Example:
  emberloop explain E0203";

pub const COMPLETIONS: &str = "\
Print a completion script for a shell.";

pub const COMPLETIONS_AFTER: &str = "\
Examples:
  emberloop completions bash > ~/.local/share/bash-completion/completions/emberloop
  emberloop completions zsh  > ~/.zfunc/_emberloop          (with ~/.zfunc in fpath)
  emberloop completions fish > ~/.config/fish/completions/emberloop.fish";
