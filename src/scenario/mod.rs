//! From the person's TOML file to a resolved rig, with every problem pointed at.
