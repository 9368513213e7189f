//! Prediction bands over samples of the closures' priors.

mod support {
    pub mod rigs;
}

use emberloop::analyses::bands::{bands, sample_rig};
use emberloop::analyses::burn;
use emberloop::components::priors::{PRIORS, Scatter};
use emberloop::components::spec::Closures;
use emberloop::results::{Band, Bands};

fn run(samples: usize) -> Bands {
    let mut rig = support::rigs::barrel();
    rig.solver.output_interval_s = 300.0;
    let base = burn(&rig, &Default::default(), &mut |_| true).expect("runs");
    bands(&rig, &base, samples, &|| ())
}

/// Every prior is the range that the document gives with its reason.
#[test]
fn identity_priors_are_those_of_the_document() {
    let text = include_str!("../docs/closures.md");
    let rows: Vec<Vec<&str>> = text
        .lines()
        .filter(|l| l.starts_with("| `"))
        .map(|l| l.split('|').map(str::trim).collect())
        .collect();
    assert_eq!(rows.len(), PRIORS.len());
    for (row, p) in rows.iter().zip(PRIORS) {
        assert_eq!(row[1], format!("`{}`", p.name));
        let default = *(p.value)(&mut Closures::default());
        assert_eq!(row[3].parse(), Ok(default), "{}", p.name);
        let (low, high) = row[4].split_once(" to ").expect("a range");
        assert_eq!((low.parse(), high.parse()), (Ok(p.low), Ok(p.high)));
        assert!(!row[5].is_empty());
    }
}

/// A tenth of 1,024 points of each closure lies below the tenth of its prior, nine tenths below its nine tenths: to 1 %,
/// and no two closures move together.
#[test]
fn analytic_samples_fill_the_priors_evenly() {
    let rig = support::rigs::barrel();
    let n = 1024;
    let closures: Vec<Closures> = (0..n).map(|i| sample_rig(&rig, i).closures).collect();
    let ranks = |p: usize| -> Vec<f64> {
        let mut order: Vec<usize> = (0..n).collect();
        let value = |i: usize| *(PRIORS[p].value)(&mut closures[i].clone());
        order.sort_by(|&a, &b| value(a).total_cmp(&value(b)));
        let mut ranks = vec![0.0; n];
        for (rank, i) in order.into_iter().enumerate() {
            ranks[i] = (rank as f64 + 0.5) / n as f64 - 0.5;
        }
        ranks
    };
    let all: Vec<Vec<f64>> = (0..PRIORS.len()).map(ranks).collect();
    for (p, prior) in PRIORS.iter().enumerate() {
        let default = *(prior.value)(&mut Closures::default());
        for probability in [0.1, 0.5, 0.9] {
            let edge = prior.quantile(default, probability);
            let below = closures
                .iter()
                .filter(|c| *(prior.value)(&mut (*c).clone()) < edge)
                .count() as f64
                / n as f64;
            assert!(
                (below - probability).abs() < 0.01,
                "{}: {below} below {edge}",
                prior.name
            );
        }
        for q in 0..p {
            let together: f64 =
                all[p].iter().zip(&all[q]).map(|(a, b)| a * b).sum::<f64>() * 12.0 / n as f64;
            assert!(
                together.abs() < 0.1,
                "{} and {}: {together}",
                prior.name,
                PRIORS[q].name
            );
        }
    }
}

#[test]
fn practice_bands_hold_the_median_and_do_not_depend_on_threads() {
    let all = run(16);
    println!("{}", serde_json::to_string_pretty(&all).expect("plain"));
    let ordered = |b: Band| match (b.low, b.median, b.high) {
        (Some(l), Some(m), Some(h)) => l < m && m < h,
        _ => false,
    };
    assert!(ordered(all.time_to_target_s) && ordered(all.fuel_burnt_kg));
    assert!(ordered(all.stack_loss_fraction) && ordered(all.coil_outlet_max_K));
    assert_eq!((all.samples, all.failed), (16, 0));
    let t = &all.tank;
    assert!(t.time_s.len() > 10);
    assert!(
        (0..t.time_s.len()).all(|i| t.low_k[i] <= t.median_k[i] && t.median_k[i] <= t.high_k[i])
    );
    // All start from the same water.
    assert!(t.high_k[0] - t.low_k[0] < 1e-9);
    let one = rayon::ThreadPoolBuilder::new()
        .num_threads(1)
        .build()
        .expect("a pool")
        .install(|| run(16));
    assert_eq!(
        serde_json::to_string(&all).expect("plain"),
        serde_json::to_string(&one).expect("plain")
    );
    assert_eq!(all.tank.high_k, one.tank.high_k);
}

/// Draws scatter about the rig as given, not about the defaults: their mean (of the logarithm) is its value.
#[test]
fn identity_the_mean_of_every_prior_is_the_rig_as_given() {
    let mut rig = support::rigs::barrel();
    rig.closures.bank_exposure = 0.8;
    for p in PRIORS.iter().filter(|p| p.scatter == Scatter::Ratio) {
        let given = *(p.value)(&mut rig.closures);
        let n = 4000;
        let sum: f64 = (0..n)
            .map(|i| (p.quantile(given, (f64::from(i) + 0.5) / f64::from(n)) / given).ln())
            .sum();
        assert!((sum / f64::from(n)).abs() < 2e-3, "{}: {sum}", p.name);
    }
}
