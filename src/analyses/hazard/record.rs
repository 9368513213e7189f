//! What a faulted burn shows: figures at close moments, extremes, and the limits met, each with its first moment.

use super::trapped::Trapped;
use crate::analyses::gather::BARE_SHARE;
use crate::analyses::warnings::SCALD_K;
use crate::analyses::watch::CREOSOTE_WALL_K;
use crate::components::closed::tube_wall;
use crate::components::spec::{Rig, VesselKind, Water};
use crate::correlations::hazard::TubeWall;
use crate::integrate::Segment;
use crate::network::{Instant, Network};
use crate::properties::limits::{self, Strength};
use crate::results::{Burst, LimitMet, Series};

/// Longest time between two looks, s, right after the fault and later.
const CLOSE_S: f64 = 2.0;
const LATER_S: f64 = 15.0;
const CLOSE_FOR_S: f64 = 600.0;
/// Spacing of the series, s.
const ROW_S: f64 = 5.0;
/// Time over which a peak of steam or heat is averaged, s: surges within a second are qualitative.
const MEAN_S: f64 = 20.0;
/// Firing rate under which there is no fire to spill smoke, W.
const FIRE_W: f64 = 500.0;
/// Smoke must spill for so long to count, s.
const SPILL_S: f64 = 20.0;
const FREEZING_K: f64 = 273.15;

/// A peak of a mean over [`MEAN_S`].
#[derive(Debug, Clone, Copy, Default)]
struct Peak {
    since_s: f64,
    sum: f64,
    peak: f64,
}

impl Peak {
    fn add(&mut self, t_s: f64, dt_s: f64, v: f64) {
        self.sum += v * dt_s;
        if t_s - self.since_s >= MEAN_S {
            self.peak = self.peak.max(self.sum / (t_s - self.since_s));
            self.since_s = t_s;
            self.sum = 0.0;
        }
    }
}

/// Follows one faulted burn.
#[derive(Debug, Clone)]
pub struct Record {
    from_s: f64,
    last_s: f64,
    strength: Option<&'static Strength>,
    tube: Option<TubeWall>,
    joint: bool,
    steam: Peak,
    heat: Peak,
    pub outlet_max_k: f64,
    pub tap_max_k: f64,
    pub wall_max_k: f64,
    pub margin_min_k: f64,
    pub flow_min_kg_s: f64,
    pub water_min_k: f64,
    pub outside: (f64, String),
    pub tank_last_k: f64,
    pub tank_first_k: f64,
    pub loop_pressure_peak_pa: f64,
    pub trapped: Option<Trapped>,
    pub limits: Vec<LimitMet>,
    pub series: Option<Series>,
    next_row_s: f64,
    spill_since_s: Option<f64>,
    tub: bool,
    draws: bool,
    /// Limits that the burn itself had passed when the fault struck: not the fault's doing.
    standing: Vec<String>,
    state: Vec<f64>,
}

impl Record {
    /// From the moment of the fault on; with `series`, rows are kept.
    pub fn new(rig: &Rig, from_s: f64, shut_in: Option<Trapped>, series: bool) -> Self {
        let (tub, draws) = match &rig.water {
            Water::Store { vessel, draws, .. } => {
                (vessel.kind == VesselKind::Tub, !draws.is_empty())
            }
            Water::OnceThrough { .. } => (false, true),
            _ => (false, false),
        };
        let names = [
            "time_s",
            "coil_outlet_temperature_K",
            "coil_wall_max_temperature_K",
            "boiling_point_K",
            "tank_top_temperature_K",
            "steam_kg_s",
            "heat_to_coil_W",
            "loop_flow_kg_s",
            "trapped_pressure_Pa",
            "outside_surface_max_temperature_K",
        ];
        Self {
            from_s,
            last_s: from_s,
            strength: rig
                .coils
                .first()
                .and_then(|c| limits::strength_of(&c.metal.name)),
            tube: rig.coils.first().filter(|c| !c.is_jacket()).map(tube_wall),
            // Sheets are welded.
            joint: rig.coils.iter().any(|c| !c.is_jacket()),
            steam: Peak::default(),
            heat: Peak::default(),
            outlet_max_k: f64::NEG_INFINITY,
            tap_max_k: f64::NEG_INFINITY,
            wall_max_k: f64::NEG_INFINITY,
            margin_min_k: f64::INFINITY,
            flow_min_kg_s: f64::INFINITY,
            water_min_k: f64::INFINITY,
            outside: (f64::NEG_INFINITY, String::new()),
            tank_last_k: f64::NAN,
            tank_first_k: f64::NAN,
            loop_pressure_peak_pa: f64::NEG_INFINITY,
            trapped: shut_in,
            limits: Vec::new(),
            series: series
                .then(|| Series::with_names(names.iter().map(|n| (*n).to_string()).collect())),
            next_row_s: 0.0,
            spill_since_s: None,
            tub,
            draws,
            standing: Vec::new(),
            state: Vec::new(),
        }
    }

    /// Looks at the moment before the fault: what is met then is not told.
    pub fn before(&mut self, net: &Network, y: &[f64]) {
        let kept = self.clone();
        self.look(net, self.from_s, y);
        let standing = self.limits.drain(..).map(|l| l.key).collect();
        *self = Self { standing, ..kept };
    }

    pub fn steam_peak_kg_s(&self) -> f64 {
        self.steam.peak
    }

    pub fn heat_peak_w(&self) -> f64 {
        self.heat.peak
    }

    pub fn severity(&self) -> u8 {
        self.limits.iter().map(|l| l.severity).max().unwrap_or(0)
    }

    /// The run ended in a burst of store or vessel.
    pub fn bursts(&mut self, b: Burst) {
        let after_s = b.at_s - self.from_s;
        self.limits.retain(|l| l.after_s <= after_s);
        self.meet("burst", after_s, 4, || {
            format!(
                "store or vessel bursts at {:.1} bar over the air's",
                b.pressure_Pa * 1e-5
            )
        });
    }

    /// First moment of a limit.
    pub fn met(&self, key: &str) -> Option<f64> {
        self.limits.iter().find(|l| l.key == key).map(|l| l.after_s)
    }

    /// Sees a segment.
    pub fn segment(&mut self, net: &Network, seg: &Segment) {
        let mut state = std::mem::take(&mut self.state);
        state.resize(net.state_count(), 0.0);
        let mut t = seg.dense.t0().max(self.last_s);
        while t < seg.t_s {
            let after = t - self.from_s;
            t = (t + if after < CLOSE_FOR_S {
                CLOSE_S
            } else {
                LATER_S
            })
            .min(seg.t_s);
            if t < seg.t_s {
                seg.dense.eval_into(t, &mut state);
                self.look(net, t, &state);
            }
        }
        self.look(net, seg.t_s, &seg.y);
        self.state = state;
    }

    fn look(&mut self, net: &Network, t_s: f64, y: &[f64]) {
        if self.met("burst").is_some() {
            return;
        }
        let i = net.observe(t_s, y);
        let after = t_s - self.from_s;
        let dt = t_s - self.last_s;
        self.last_s = t_s;
        self.steam.add(after, dt, i.steam_kg_s);
        self.heat.add(after, dt, i.to_coil_w);
        let (outside_k, place) = net.outside_max_k(y);
        if outside_k > self.outside.0 {
            self.outside = (outside_k, place.to_string());
        }
        if let Some((over, limit, material, place)) = net.wall_over_limit(y)
            && over > 0.0
        {
            self.meet("wall", after, 2, || {
                format!(
                    "{material} in the {place} goes over its limit of {:.0} °C",
                    limit - 273.15
                )
            });
        }
        if net.air_kg_s(y) < crate::analyses::watch::SPILL_AIR_KG_S && i.net_burnt_w > FIRE_W {
            let since = *self.spill_since_s.get_or_insert(after);
            if after - since > SPILL_S {
                self.meet("spill", since, 3, || {
                    "smoke with carbon monoxide spills from the mouth".into()
                });
            }
        } else {
            self.spill_since_s = None;
        }
        let mut pressure = f64::NAN;
        if net.has_water() {
            self.store(net, after, &i);
            if net.flue_wall_min_k(y) < CREOSOTE_WALL_K && i.net_burnt_w > FIRE_W {
                self.meet("tar", after, 1, || {
                    "the flue is cold enough for tar while the fire burns".into()
                });
            }
        }
        self.drum(net, after, y, &i);
        if net.circuit.is_some() {
            self.in_loop(net, after, y, &i);
            if let Some(t) = &mut self.trapped
                && let Some((water, metal, hottest)) = net.coil_means_k(y)
            {
                t.step(net.water, water, metal, hottest, after);
                pressure = t.pressure_pa;
                if let Some(s) = t.rated_s {
                    self.meet("over_pressure", s, 3, || {
                        "trapped water passes the tube's rated pressure".into()
                    });
                }
                let t = self.trapped.as_ref();
                if let Some(s) = t.and_then(|t| t.burst_s) {
                    self.meet("burst", s, 4, || "the coil's tube bursts".into());
                }
            }
        }
        let due = after >= self.next_row_s;
        if let (Some(series), true) = (&mut self.series, due) {
            series.push(&[
                after,
                i.coil_out_k,
                wall_k(net, y, &i),
                i.boiling_point_k,
                i.tank_top_k,
                i.steam_kg_s,
                i.to_coil_w,
                i.flow_kg_s,
                pressure,
                outside_k,
            ]);
            let later = after > CLOSE_FOR_S;
            self.next_row_s = after + if later { 3.0 * ROW_S } else { ROW_S };
        }
    }

    fn in_loop(&mut self, net: &Network, after: f64, y: &[f64], i: &Instant) {
        self.outlet_max_k = self.outlet_max_k.max(i.coil_out_k);
        let wall_k = wall_k(net, y, i);
        self.wall_max_k = self.wall_max_k.max(wall_k);
        self.margin_min_k = self.margin_min_k.min(i.boiling_margin_k);
        self.flow_min_kg_s = self.flow_min_kg_s.min(i.flow_kg_s);
        let shut_in = self.trapped.is_some();
        if i.boiling_excess_j_kg >= 0.0 && i.steam_kg_s > 0.0 && !shut_in {
            self.meet("boiling", after, 2, || "water boils in the coil".into());
        }
        if self.joint && wall_k > limits::SOFT_SOLDER_K {
            self.meet("solder", after, 3, || {
                "soft solder (183 °C) melts where a joint is as hot as the hottest wall".into()
            });
        }
        if let Some(limit) = net
            .rig
            .coils
            .iter()
            .map(|c| c.metal.limit_k)
            .reduce(f64::min)
            && wall_k > limit
        {
            self.meet("coil_wall", after, 3, || {
                format!(
                    "the coil's metal passes its limit of {:.0} °C",
                    limit - 273.15
                )
            });
        }
        if let Some(s) = self.strength
            && limits::tensile_pa(s, wall_k) < 0.25 * limits::tensile_pa(s, 293.15)
        {
            self.meet("coil_weak", after, 3, || {
                "the coil's metal has lost three quarters of its strength".into()
            });
        }
        let water_min = net.loop_water_min_k(y);
        self.water_min_k = self.water_min_k.min(water_min);
        if water_min < FREEZING_K {
            self.meet("freezing", after, 3, || {
                "water in coil or pipes comes below 0 °C".into()
            });
        }
        if net.closed().is_some() {
            self.loop_pressure_peak_pa = self.loop_pressure_peak_pa.max(i.loop_pressure_pa);
            if i.relief_water_kg_s + i.relief_steam_kg_s > 0.0 {
                self.meet("relief", after, 2, || {
                    "the relief valve lifts and blows scalding water or steam".into()
                });
            }
            if let Some((strength, tube)) = self.strength.zip(self.tube)
                && i.loop_pressure_pa > tube.barlow_pa(limits::tensile_pa(strength, wall_k))
            {
                self.meet("burst", after, 4, || "the coil's tube bursts".into());
            }
        }
        if i.flow_kg_s < -1e-3 {
            self.meet("backwards", after, 1, || "the loop runs backwards".into());
        }
    }

    fn store(&mut self, net: &Network, after: f64, i: &Instant) {
        self.tap_max_k = self.tap_max_k.max(i.tap_k);
        if self.tank_first_k.is_nan() {
            self.tank_first_k = i.tank_mean_k;
        }
        self.tank_last_k = i.tank_mean_k;
        if let Some(v) = &net.vessel
            && i.tank_top_k > v.sat.t_k
        {
            self.meet("store_boils", after, 2, || "the store boils over".into());
        }
        if self.draws && !self.tub && i.tap_k > SCALD_K {
            self.meet("scald", after, 1, || "water at the tap scalds".into());
        }
        if self.tub && i.tank_mean_k > crate::analyses::warnings::TUB_K + 5.0 {
            self.meet("tub", after, 2, || "the tub is above 45 °C".into());
        }
    }

    /// A drum between fire and coil: it may boil, and boil low.
    fn drum(&mut self, net: &Network, after: f64, y: &[f64], i: &Instant) {
        let Some(d) = &net.drum else { return };
        if i.drum_max_k > d.vessel.sat.t_k {
            self.meet("drum_boils", after, 2, || {
                "the drum around the coil boils and gives off steam".into()
            });
        }
        if net.drum_bare_share(y) > BARE_SHARE {
            self.meet("drum_bare", after, 3, || {
                "the drum's water has sunk below a tenth of the walls that the fire heats".into()
            });
        }
    }

    fn meet(&mut self, key: &str, after_s: f64, severity: u8, what: impl FnOnce() -> String) {
        // A burst is the end: what would come after it is not told.
        if self.met("burst").is_some() {
            return;
        }
        if !self.limits.iter().any(|l| l.key == key) && !self.standing.iter().any(|k| k == key) {
            self.limits.push(LimitMet {
                key: key.into(),
                what: what(),
                after_s,
                severity,
            });
        }
    }
}

/// A drum that boils, or whose walls the fire heats bare.
pub fn drum_is_bad(net: &Network, y: &[f64], i: &Instant) -> bool {
    net.drum.as_ref().is_some_and(|d| {
        let bare = net.drum_bare_share(y) > BARE_SHARE && i.net_burnt_w > FIRE_W;
        bare || i.drum_max_k > d.vessel.sat.t_k
    })
}

/// Hottest wall of the coil, K. The moment's own figure counts superheated steam too, which is none where water is short.
pub fn wall_k(net: &Network, y: &[f64], i: &Instant) -> f64 {
    net.coil_means_k(y)
        .map_or(i.coil_wall_max_k, |(_, _, metal)| {
            i.coil_wall_max_k.min(metal)
        })
}
