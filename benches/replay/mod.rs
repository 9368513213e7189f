//! A bundled burn as its stretches between events, to be integrated again by others from the same starts on the same
//! right-hand side.

use emberloop::analyses::burn_watched;
use emberloop::network::Network;
use emberloop::scenario::load_path;
use std::path::Path;

/// One stretch: the network in the mode that held, both times and the state at the start.
pub struct Stretch {
    pub net: Network,
    pub t0_s: f64,
    pub t1_s: f64,
    pub start: Vec<f64>,
}

/// The stretches of the wash-up barrel's burn, those shorter than a second left out.
pub fn stretches() -> Vec<Stretch> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/wash-up-barrel.toml");
    let rig = load_path(&path, &[]).expect("a bundled scenario loads").rig;
    let mut all = Vec::new();
    burn_watched(
        &rig,
        &Default::default(),
        &mut |_| true,
        &mut |net, segment| {
            let t0_s = segment.dense.t0();
            if segment.t_s - t0_s < 1.0 {
                return;
            }
            let mut start = vec![0.0; segment.y.len()];
            segment.dense.eval_into(t0_s, &mut start);
            all.push(Stretch {
                net: net.clone(),
                t0_s,
                t1_s: segment.t_s,
                start,
            });
        },
    )
    .expect("a bundled rig burns");
    all
}
