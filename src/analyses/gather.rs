//! What a run leaves behind: series, extremes, durations, events; at the end the summary.

use super::burn::BurnOptions;
use super::flue_meter::FlueMeter;
use super::series_columns::Columns;
use super::shown::Shown;
use super::summarise;
use super::unburnt_band::UnburntBand;
use super::working_points::WorkingPoints;
use crate::components::spec::Rig;
use crate::integrate::Segment;
use crate::network::fullness::Fullness;
use crate::network::{Fed, Instant, Integral, Network};
use crate::results::{BurnResult, Burst, Echo, EventKind, EventRecord, Series, SolverCounters};

/// Longest time between two looks at the extremes, s.
const LONGEST_GAP_S: f64 = 60.0;

/// Firing rate under which there is no fire whose gas could condense, W.
const FIRE_W: f64 = 500.0;

/// Share of the walls in a drum's water that must have come out of it to be told.
pub const BARE_SHARE: f64 = 0.1;

/// Extremes over all moments looked at: the ends of the steps, and between where these are far apart.
#[derive(Debug, Clone)]
pub struct Extremes {
    pub chamber_max_k: f64,
    pub outlet_max_k: f64,
    pub coil_wall_max_k: f64,
    pub critical_flux_share_max: f64,
    pub margin_min_k: f64,
    pub margin_min_s: f64,
    pub margin_at_m: Option<(f64, f64)>,
    pub outlet_max_s: f64,
    pub outlet_hot_s: Option<f64>,
    pub coil_wall_max_s: f64,
    pub wall_over_s: f64,
    /// Flue wall under the dew point while the fire burns: first, for how long, most K and when.
    pub dew_first_s: Option<f64>,
    pub dew_total_s: f64,
    pub dew_most: (f64, f64),
    last_s: f64,
    pub draught_max_pa: f64,
    pub tank_peak_k: f64,
    pub header_peak_k: f64,
    pub header_boils_s: Option<f64>,
    pub drum_peak_k: f64,
    pub drum_boils_s: Option<f64>,
    /// More than a tenth of the walls in the drum's water are out of it.
    pub drum_bare_s: Option<f64>,
    pub drum_bare_most: f64,
    pub tap_max_k: f64,
    pub tap_max_s: f64,
    pub scald_first_s: Option<f64>,
    pub wall_over: Option<(f64, f64, String, String, f64)>,
    pub coil_wall_over_s: Option<f64>,
    pub tank_boils_s: Option<f64>,
    /// Of a closed loop, over the air's.
    pub pressure_peak_pa: f64,
    /// First steam through its relief valve.
    pub steam_out_s: Option<f64>,
}

/// Snapshot of the cumulative quantities.
#[derive(Debug, Clone)]
pub struct Snapshot {
    pub t_s: f64,
    pub y: Vec<f64>,
    pub fuel_net_j: f64,
}

/// Collects while the run goes on.
#[derive(Clone)]
pub struct Gather {
    pub series: Option<(Columns, Series)>,
    /// Mean temperature of the store alone, where that is asked for.
    pub tank_curve: Option<Series>,
    interval_s: f64,
    next_sample: u64,
    pub events: Vec<EventRecord>,
    pub extremes: Extremes,
    pub counters: SolverCounters,
    pub feeds: u64,
    pub trips: u64,
    last_visit_s: Option<f64>,
    /// Feeds that did not go in on top of what lay there: the first, how many, and the worst fullness of firebox and mouth.
    pub no_room: Option<(f64, u64, Fullness)>,
    pub boiling_first_s: Option<f64>,
    boiling_since_s: Option<f64>,
    pub boiling_total_s: f64,
    pub boilings: usize,
    pub wall_boiling_first_s: Option<f64>,
    flue_cold_since_s: Option<f64>,
    pub flue_cold_total_s: f64,
    /// `(first start, total)` of smoke coming out of the mouth.
    pub spill: Option<(f64, f64)>,
    pub relief_first_s: Option<f64>,
    pub relief_lifts: u64,
    relief_since_s: Option<f64>,
    pub relief_open_s: f64,
    pub burst: Option<Burst>,
    pub at_target: Option<Snapshot>,
    pub unburnt_band: UnburntBand,
    pub flue_meter: FlueMeter,
    pub shown: Shown,
    pub working: WorkingPoints,
    row: Vec<f64>,
    state: Vec<f64>,
    pub defaults: Vec<Echo>,
}

impl Gather {
    pub(super) fn new(rig: &Rig, net: &Network, options: &BurnOptions) -> Self {
        let columns = Columns::new(rig, net);
        let series = options.series.then(|| {
            let s = Series::with_names(columns.names());
            (columns, s)
        });
        Self {
            series,
            tank_curve: (options.tank_curve && !options.series && net.vessel.is_some()).then(
                || Series::with_names(vec!["time_s".into(), "tank_mean_temperature_K".into()]),
            ),
            interval_s: rig.solver.output_interval_s,
            next_sample: 0,
            events: Vec::new(),
            extremes: Extremes {
                chamber_max_k: f64::NEG_INFINITY,
                outlet_max_k: f64::NEG_INFINITY,
                coil_wall_max_k: f64::NEG_INFINITY,
                critical_flux_share_max: f64::NEG_INFINITY,
                margin_min_k: f64::INFINITY,
                margin_min_s: 0.0,
                margin_at_m: None,
                outlet_max_s: 0.0,
                outlet_hot_s: None,
                coil_wall_max_s: 0.0,
                wall_over_s: 0.0,
                dew_first_s: None,
                dew_total_s: 0.0,
                dew_most: (0.0, 0.0),
                last_s: 0.0,
                draught_max_pa: 0.0,
                tank_peak_k: f64::NEG_INFINITY,
                header_peak_k: f64::NEG_INFINITY,
                header_boils_s: None,
                drum_peak_k: f64::NEG_INFINITY,
                drum_boils_s: None,
                drum_bare_s: None,
                drum_bare_most: 0.0,
                tap_max_k: f64::NEG_INFINITY,
                tap_max_s: 0.0,
                scald_first_s: None,
                wall_over: None,
                coil_wall_over_s: None,
                tank_boils_s: None,
                pressure_peak_pa: f64::NEG_INFINITY,
                steam_out_s: None,
            },
            counters: SolverCounters::default(),
            feeds: 0,
            trips: 0,
            last_visit_s: None,
            no_room: None,
            boiling_first_s: None,
            boiling_since_s: None,
            boiling_total_s: 0.0,
            boilings: 0,
            wall_boiling_first_s: None,
            flue_cold_since_s: net.ducts.iter().any(|d| d.is_flue).then_some(0.0),
            flue_cold_total_s: 0.0,
            spill: None,
            relief_first_s: None,
            relief_lifts: 0,
            relief_since_s: None,
            relief_open_s: 0.0,
            burst: None,
            at_target: None,
            unburnt_band: UnburntBand::default(),
            flue_meter: FlueMeter::new(rig),
            shown: Shown::default(),
            working: WorkingPoints::default(),
            row: Vec::new(),
            state: vec![0.0; net.state_count()],
            defaults: options.defaults.clone(),
        }
    }

    pub(super) fn event(&mut self, time_s: f64, kind: EventKind, text: String) {
        self.events.push(EventRecord { time_s, kind, text });
    }

    /// Wood has been put on, and the firebox is as full as this.
    pub(super) fn fed(&mut self, t_s: f64, now: Fullness) {
        self.feeds += 1;
        if now.firebox.max(now.mouth) > 1.0 {
            let (first, times, most) = self.no_room.unwrap_or((t_s, 0, now));
            let most = Fullness {
                firebox: most.firebox.max(now.firebox),
                mouth: most.mouth.max(now.mouth),
            };
            self.no_room = Some((first, times + 1, most));
        }
    }

    /// Visits within one minute of the last count once.
    pub(super) fn visit(&mut self, t_s: f64) {
        if self.last_visit_s.is_none_or(|last| t_s - last > 60.0) {
            self.trips += 1;
            self.last_visit_s = Some(t_s);
        }
    }

    pub(super) fn boiling(&mut self, t_s: f64, starts: bool) {
        if starts {
            self.boiling_first_s.get_or_insert(t_s);
            self.boiling_since_s = Some(t_s);
            self.boilings += 1;
        } else if let Some(from) = self.boiling_since_s.take() {
            self.boiling_total_s += t_s - from;
        }
    }

    pub(super) fn wall_boiling(&mut self, t_s: f64) {
        self.wall_boiling_first_s.get_or_insert(t_s);
    }

    /// The relief valve lifts or shuts; how often it has lifted so far.
    pub(super) fn relief(&mut self, t_s: f64, open: bool) -> u64 {
        if open {
            self.relief_first_s.get_or_insert(t_s);
            self.relief_lifts += 1;
            self.relief_since_s = Some(t_s);
        } else if let Some(from) = self.relief_since_s.take() {
            self.relief_open_s += t_s - from;
        }
        self.relief_lifts
    }

    pub(super) fn burst(&mut self, b: Burst) {
        self.burst = Some(b);
    }

    pub(super) fn flue_cold(&mut self, t_s: f64, cold: bool) {
        if cold {
            self.flue_cold_since_s = Some(t_s);
        } else if let Some(from) = self.flue_cold_since_s.take() {
            self.flue_cold_total_s += t_s - from;
        }
    }

    pub(super) fn spill(&mut self, from_s: f64, to_s: f64, fire: bool) {
        // The first seconds after the match are no spill: the column is only being set in motion.
        if !fire || to_s - from_s < 20.0 {
            return;
        }
        let (first, total) = self.spill.unwrap_or((from_s, 0.0));
        self.spill = Some((first, total + to_s - from_s));
        self.event(
            from_s,
            EventKind::SmokeSpill,
            format!(
                "no draught for {:.0} s: smoke can spill from the mouth",
                to_s - from_s
            ),
        );
    }

    pub(super) fn target(&mut self, net: &Network, fed: &Fed, t_s: f64, y: &[f64]) {
        self.at_target = Some(Snapshot {
            t_s,
            y: y.to_vec(),
            fuel_net_j: net.fuel_net_j(fed),
        });
    }

    /// Takes a segment with the mode that held during it. `moments` are its start and the ends of its steps (the last may
    /// lie beyond an event that cut it short).
    pub(super) fn segment(&mut self, net: &Network, seg: &Segment, moments: &[(f64, Instant)]) {
        self.counters.steps += seg.counters.steps;
        self.counters.right_hand_sides += seg.counters.rhs;
        self.counters.rejected += seg.counters.rejected;
        self.counters.segments += 1;
        let mut state = std::mem::take(&mut self.state);
        let mut from_s = seg.dense.t0();
        for (t, i) in moments.iter().filter(|m| m.0 <= seg.t_s) {
            self.between(net, seg, (from_s, *t), &mut state);
            seg.dense.eval_into(*t, &mut state);
            self.look(net, *t, &state, i);
            from_s = *t;
        }
        if from_s < seg.t_s {
            self.between(net, seg, (from_s, seg.t_s), &mut state);
            self.look(net, seg.t_s, &seg.y, &net.observe(seg.t_s, &seg.y));
        }
        loop {
            let t = self.next_sample as f64 * self.interval_s;
            if self.series.is_none() && self.tank_curve.is_none() || t >= seg.t_s {
                break;
            }
            seg.dense.eval_into(t, &mut state);
            match &mut self.tank_curve {
                Some(curve) => curve.push(&[t, net.tank_mean_k(&state)]),
                None => self.row(net, t, &state, &net.observe(t, &state)),
            }
            self.next_sample += 1;
        }
        self.state = state;
    }

    /// Looks into a long step.
    fn between(&mut self, net: &Network, seg: &Segment, (a, b): (f64, f64), state: &mut [f64]) {
        let parts = ((b - a) / LONGEST_GAP_S).ceil();
        for k in 1..parts as u32 {
            let t = a + (b - a) * f64::from(k) / parts;
            seg.dense.eval_into(t, state);
            self.look(net, t, state, &net.observe(t, state));
        }
    }

    /// The very first point.
    pub(super) fn start(&mut self, net: &Network, t_s: f64, y: &[f64]) {
        let i = net.observe(t_s, y);
        self.look(net, t_s, y, &i);
        self.row(net, t_s, y, &i);
        if let Some(curve) = &mut self.tank_curve {
            curve.push(&[t_s, net.tank_mean_k(y)]);
        }
        self.next_sample += 1;
    }

    /// What the summary needs of a moment: the same with and without a series.
    fn look(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        self.extremes.look(net, t_s, y, i);
        self.unburnt_band.sample(t_s, i);
        self.flue_meter.sample(net, t_s, i);
        // As the other means: to the target, where it is reached.
        if self.at_target.is_none() {
            self.shown.sample(net, t_s, y, i);
        }
        self.working.look(net, t_s, y, i);
    }

    fn row(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        if let Some((columns, series)) = &mut self.series {
            columns.fill(net, t_s, y, i, &mut self.row);
            series.push(&self.row);
        }
    }

    pub(super) fn finish(
        mut self,
        rig: &Rig,
        net: &Network,
        fed: &Fed,
        t_s: f64,
        y: &[f64],
        target_s: Option<f64>,
    ) -> BurnResult {
        let why = match &self.burst {
            Some(_) => "end of the run: something has burst",
            None => "end of the run",
        };
        self.event(t_s, EventKind::End, why.into());
        self.boiling(t_s, false);
        self.relief(t_s, false);
        self.flue_cold(t_s, false);
        if self
            .series
            .as_ref()
            .is_some_and(|(_, s)| s.columns[0].last().is_none_or(|&last| last < t_s))
        {
            self.row(net, t_s, y, &net.observe(t_s, y));
        }
        let mut fed = fed.clone();
        if net.mode.starter_on {
            // Ended while the starter burnt: only the part that burnt came in.
            fed.starter_j = rig.lighting.starter_j * t_s / rig.lighting.starter_s;
        }
        summarise::finish(self, rig, net, &fed, t_s, y, target_s)
    }
}

impl Extremes {
    fn look(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        self.chamber_max_k = self.chamber_max_k.max(i.flame_k);
        self.draught_max_pa = self.draught_max_pa.max(i.draught_pa);
        if let Some(w) = net.wall_over_limit(y)
            && w.0 > 0.0
            && self.wall_over.as_ref().is_none_or(|o| w.0 > o.0)
        {
            let first = self.wall_over.as_ref().map_or(t_s, |o| o.4);
            self.wall_over = Some((w.0, w.1, w.2.into(), w.3.into(), first));
            self.wall_over_s = t_s;
        }
        let dt_s = t_s - self.last_s;
        self.last_s = t_s;
        let under_k = i.dew_point_k - i.flue_wall_min_k;
        if under_k > 0.0 && i.net_burnt_w > FIRE_W {
            self.dew_first_s.get_or_insert(t_s);
            self.dew_total_s += dt_s;
            if under_k > self.dew_most.0 {
                self.dew_most = (under_k, t_s);
            }
        }
        if net.circuit.is_some() {
            self.look_at_loop(net, t_s, y, i);
        }
        if net.has_water() {
            self.look_at_store(net, t_s, i);
        }
    }

    fn look_at_loop(&mut self, net: &Network, t_s: f64, y: &[f64], i: &Instant) {
        if i.coil_out_k > self.outlet_max_k {
            self.outlet_max_k = i.coil_out_k;
            self.outlet_max_s = t_s;
        }
        if i.coil_out_k > super::warnings::SCALD_K {
            self.outlet_hot_s.get_or_insert(t_s);
        }
        if i.coil_wall_max_k > self.coil_wall_max_k {
            self.coil_wall_max_k = i.coil_wall_max_k;
            self.coil_wall_max_s = t_s;
        }
        self.critical_flux_share_max = self.critical_flux_share_max.max(i.critical_flux_share);
        if i.boiling_margin_k < self.margin_min_k {
            self.margin_min_k = i.boiling_margin_k;
            self.margin_min_s = t_s;
            self.margin_at_m = net.along_coil_m(i.boiling_cell);
        }
        if net
            .rig
            .coils
            .iter()
            .any(|c| i.coil_wall_max_k > c.metal.limit_k)
        {
            self.coil_wall_over_s.get_or_insert(t_s);
        }
        if let Some(h) = net.header() {
            self.header_peak_k = self.header_peak_k.max(i.header_top_k);
            if i.header_top_k > h.sat.t_k {
                self.header_boils_s.get_or_insert(t_s);
            }
        }
        if let Some(d) = &net.drum {
            self.drum_peak_k = self.drum_peak_k.max(i.drum_max_k);
            if i.drum_max_k > d.vessel.sat.t_k {
                self.drum_boils_s.get_or_insert(t_s);
            }
            let bare = net.drum_bare_share(y);
            self.drum_bare_most = self.drum_bare_most.max(bare);
            if bare > BARE_SHARE {
                self.drum_bare_s.get_or_insert(t_s);
            }
        }
        if net.closed().is_some() {
            self.pressure_peak_pa = self.pressure_peak_pa.max(i.loop_pressure_pa);
            if i.relief_steam_kg_s > 0.0 {
                self.steam_out_s.get_or_insert(t_s);
            }
        }
    }

    fn look_at_store(&mut self, net: &Network, t_s: f64, i: &Instant) {
        let content = match &net.bench {
            Some(b) if b.direct => i.bench_k,
            _ => i.tank_mean_k,
        };
        self.tank_peak_k = self.tank_peak_k.max(content);
        if i.tap_k > self.tap_max_k {
            self.tap_max_k = i.tap_k;
            self.tap_max_s = t_s;
        }
        if i.tap_k > super::warnings::SCALD_K {
            self.scald_first_s.get_or_insert(t_s);
        }
        if net
            .vessel
            .as_ref()
            .is_some_and(|v| i.tank_top_k > v.sat.t_k)
        {
            self.tank_boils_s.get_or_insert(t_s);
        }
    }
}

impl Snapshot {
    /// Cumulative quantity at the snapshot, SI.
    pub fn integral(&self, net: &Network, q: Integral) -> f64 {
        net.layout.integral_value(&self.y, q)
    }
}
