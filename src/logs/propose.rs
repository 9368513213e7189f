//! A mapping proposed from what the log shows, with the reason of each line and what to ask.

use super::{Reading, role_words};

/// The text of a mapping that would read the log as it was read now.
pub fn propose(reading: &Reading, log_name: &str) -> String {
    let mut text = format!(
        "# Mapping of {log_name}, proposed from what it shows. Edit, and keep it beside the log as {log_name}.toml.\n"
    );
    text.push_str("# How it was read:\n");
    for d in &reading.decisions {
        text.push_str(&format!("#   {}: {} ({})\n", d.about, d.taken, d.reason));
    }
    let questions: Vec<&String> = reading
        .decisions
        .iter()
        .filter_map(|d| d.question.as_ref())
        .collect();
    if !questions.is_empty() {
        text.push_str("# To be answered:\n");
        for q in questions {
            text.push_str(&format!("#   - {q}\n"));
        }
    }
    for p in &reading.problems {
        let place = p.line.map_or(String::new(), |l| format!("line {l}: "));
        text.push_str(&format!("# Problem: {place}{}\n", p.message));
    }
    text.push_str("\n[time]\n# light_up = \"17:05\"     # clock of the match; without it the first feed or the first row\n");
    for c in &reading.channels {
        text.push_str(&format!(
            "\n[[channel]]\ncolumn = {}\nas = \"{}\"",
            quoted(&c.name),
            c.role.word()
        ));
        if c.role.word() == "other" {
            text.push_str(&format!(
                "            # one of: {}",
                role_words().join(", ")
            ));
        }
        text.push_str("\n# unit = \"degC\"\n# offset = \"-0.5 K\"      # correction of this probe\n# uncertainty = \"1 K\"    # standard uncertainty of one reading\n");
    }
    let feeds = reading
        .events
        .iter()
        .filter(|e| e.mass_kg.is_some())
        .count();
    text.push_str(&format!(
        "\n# {feeds} weighed feeds were found in the log.\n"
    ));
    if feeds == 0 {
        text.push_str("# [[feed]]\n# at = \"17:05\"\n# mass = \"1.8 kg\"\n");
    }
    text.push_str(
        "\n[rig]\n# volume = \"200 L\"         # water in the tank: needed for the heat\n# volume_uncertainty = \"2 %\"\n# metal_mass = \"18 kg\"      # what heats with the water\n# metal = \"steel\"\n# loss = \"4 W/K\"            # of the tank to its surroundings\n# ambient = \"5 degC\"\n\n\
         [fuel]\n# species = \"birch\"\n# moisture = \"20 %\"\n# moisture_basis = \"wet\"    # wet (of the moist weight) or dry (of the dry weight): 20 % wet is 25 % dry\n",
    );
    text
}

fn quoted(name: &str) -> String {
    toml::Value::String(name.to_owned()).to_string()
}
