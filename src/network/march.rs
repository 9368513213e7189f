//! The march of the water: from the vessels through the branches' legs to the coil's ends, through the coil, and out
//! again, in every direction that the flows may take.
//!
//! Two tees join the branches at the coil's ends. Each branch has a vessel in its middle, which is a state; so the
//! legs that bring water to a tee come first, then the coil, then the legs that take it away: no loop to iterate.

use super::{Blocked, BranchModel, Drive, Network, Scratch};
use crate::components::tube::{self, Stream};
use crate::components::vessel::VesselModel;
use crate::correlations::{greater, lesser, smoothstep};
use crate::properties::water::SatProps;
use std::ops::Range;

pub(super) const G_M_S2: f64 = 9.80665;
/// Flow about zero within which the march is a mixture of both directions, kg/s: standing water that boils sends its
/// steam out of both ends, and the column of either leg must not jump as the flow changes sign.
const BOTH_WAYS_KG_S: f64 = 1e-3;
/// What leaves a tee at rest goes to all its ways out alike: flow added to each, kg/s.
const TEE_REST_KG_S: f64 = 1e-7;
/// Flow under which a tee's enthalpy is no longer told from rounding, kg/s.
const TRICKLE_KG_S: f64 = 1e-12;
/// The loop's own branch, and the bypass.
pub(super) const BRANCHES: usize = 2;

/// One set of directions with its flows and its share of the mixture.
#[derive(Clone, Copy, Default)]
struct Course {
    share: f64,
    flow_kg_s: [f64; BRANCHES],
    forward: [bool; BRANCHES],
    coil_forward: bool,
}

/// Net transport of a branch through the ports of its vessel, both directions apart; positive rates.
#[derive(Clone, Copy, Default)]
pub(super) struct Transport {
    /// Taken at the cold (forward) or hot port (backward): kg/s, W.
    pub taken: [(f64, f64); 2],
    /// Given at the hot (forward) or cold port (backward).
    pub given: [(f64, f64); 2],
    pub end_t_k: f64,
}

impl Transport {
    /// Given less taken, kg/s and W.
    pub fn net(&self) -> (f64, f64) {
        let d = |i: usize| {
            (
                self.given[i].0 - self.taken[i].0,
                self.given[i].1 - self.taken[i].1,
            )
        };
        let (f, r) = (d(0), d(1));
        (f.0 + r.0, f.1 + r.1)
    }
}

/// What all courses together give, by their shares.
#[derive(Clone, Copy, Default)]
pub(super) struct Marched {
    pub branch: [Transport; BRANCHES],
    /// Pressure that density gives in forward direction, less the loss with the flow's sign, Pa.
    pub branch_buoyancy_pa: [f64; BRANCHES],
    pub branch_loss_pa: [f64; BRANCHES],
    pub coil_buoyancy_pa: f64,
    pub coil_loss_pa: f64,
    pub steam_kg_s: f64,
    pub margin_k: f64,
    /// The cell of the margin, in the course that counts most.
    pub cell: usize,
    pub point_k: f64,
    pub excess_j_kg: f64,
    pub coil_in_k: f64,
    pub coil_out_k: f64,
}

/// Findings on the coil in one course.
#[derive(Clone, Copy)]
struct Findings {
    steam: f64,
    /// Enthalpy that is short of saturation where it is least, J/kg, and the cell.
    short: f64,
    at: usize,
    excess: f64,
}

/// Water at a tee: what came, and what share goes on.
#[derive(Clone, Copy)]
struct Tee {
    sum: Option<Stream>,
    mixed: bool,
}

impl Tee {
    const EMPTY: Tee = Tee {
        sum: None,
        mixed: false,
    };

    fn add(&mut self, s: Stream) {
        self.sum = Some(match self.sum {
            None => s,
            Some(a) => {
                self.mixed = true;
                let mdot = a.mdot_kg_s + s.mdot_kg_s;
                let enthalpy_w = a.enthalpy_w + s.enthalpy_w;
                // At rest the mean of both stands for what is there.
                let h = if mdot > TRICKLE_KG_S {
                    enthalpy_w / mdot
                } else {
                    0.5 * (a.h_j_kg + s.h_j_kg)
                };
                Stream {
                    mdot_kg_s: mdot,
                    enthalpy_w,
                    h_j_kg: h,
                    ..a
                }
            }
        });
    }
}

/// A row of cells: density pressure in forward direction and loss at the flow.
#[derive(Clone, Copy, Default)]
struct Row {
    buoyancy_pa: f64,
    loss_pa: f64,
}

impl Network {
    pub(super) fn branch(&self, b: usize) -> Option<&BranchModel> {
        let c = self.circuit.as_ref()?;
        if b == 0 {
            Some(&c.main)
        } else {
            c.bypass.as_ref().map(|p| &p.branch)
        }
    }

    /// The vessel of a branch, and its layers' temperatures.
    fn end_of<'a>(&'a self, b: usize, s: &'a Scratch) -> Option<(&'a VesselModel, &'a [f64])> {
        if b == 0 {
            self.vessel.as_ref().map(|v| (v, &s.layer_t_k[..]))
        } else {
            self.header().map(|v| (v, &s.header_t_k[..]))
        }
    }

    /// Pressure that a branch's vessel gives it between its ports in forward direction, Pa.
    #[inline(always)]
    pub(super) fn vessel_column_pa(&self, b: usize, s: &Scratch) -> f64 {
        let Some((v, t_k)) = self.end_of(b, s) else {
            return 0.0;
        };
        let mut sum = 0.0;
        for (&t, &part_m) in t_k.iter().zip(&v.column_m) {
            sum += self.water.rho_kg_m3(t) * part_m;
        }
        G_M_S2 * sum
    }

    /// All courses of these flows. About zero a flow counts in both directions: its own, in which all of it runs, and
    /// the other, in which water stands and only its steam moves on. Where the branches run against each other, so does
    /// the coil's, and what is too much for one direction turns round at the tees without passing the coil. The shares'
    /// flows add up to the flows asked for.
    #[inline(always)]
    fn courses(&self, w: [f64; BRANCHES]) -> ([Course; 6], usize) {
        let mut list = [Course::default(); 6];
        let mut n = 0;
        let mut add = |share: f64, flow_kg_s: [f64; 2], forward: [bool; 2], coil_forward: bool| {
            if share > 0.0 {
                list[n] = Course {
                    share,
                    flow_kg_s,
                    forward,
                    coil_forward,
                };
                n += 1;
            }
        };
        let share = |w: f64| smoothstep(0.5 + 0.5 * w / BOTH_WAYS_KG_S);
        // Share of the forward courses of a flow, its flow in these and in the backward ones.
        let split = |w: f64| {
            let f = share(w);
            if w > 0.0 {
                (f, w / f, 0.0)
            } else {
                (f, 0.0, -w / (1.0 - f))
            }
        };
        let (f0, on0, back0) = match self.mode.blocked {
            // Standing water of which one end is shut sends its steam out of the other.
            Blocked::HotSide => (0.0, 0.0, 0.0),
            Blocked::ColdSide => (1.0, 0.0, 0.0),
            Blocked::No | Blocked::Standing => split(w[0]),
        };
        if self.branch(1).is_none() {
            add(f0, [on0, 0.0], [true; 2], true);
            add(1.0 - f0, [-back0, 0.0], [false; 2], false);
            return (list, n);
        }
        let (f1, on1, back1) = split(w[1]);
        add(f0 * f1, [on0, on1], [true; 2], true);
        add((1.0 - f0) * (1.0 - f1), [-back0, -back1], [false; 2], false);
        // One branch forward with `on`, the other backward with `back`: as much as both share turns round.
        let against = |on: f64, back: f64| {
            let (c, both) = (share(on - back), on.min(back));
            let more = if on > back {
                (on - (1.0 - c) * both) / c
            } else {
                (back - c * both) / (1.0 - c)
            };
            let turned = (both, both);
            if on > back {
                (c, (more, both), turned)
            } else {
                (c, turned, (both, more))
            }
        };
        let (c, with, turned) = against(on0, back1);
        let s = f0 * (1.0 - f1);
        add(s * c, [with.0, -with.1], [true, false], true);
        add(s * (1.0 - c), [turned.0, -turned.1], [true, false], false);
        let (c, with, turned) = against(on1, back0);
        let s = (1.0 - f0) * f1;
        add(s * c, [-with.1, with.0], [false, true], true);
        add(s * (1.0 - c), [-turned.1, turned.0], [false, true], false);
        (list, n)
    }

    /// Marches all courses of the branches' flows `w`, kg/s. With `count`, heat and inventories enter `dy` and `s`.
    #[inline(always)]
    pub(super) fn march_all(
        &self,
        w: [f64; BRANCHES],
        count: bool,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> Marched {
        let mut all = Marched::default();
        let (courses, n) = self.courses(w);
        for c in &courses[..n] {
            self.march(c, count, y, dy, s, &mut all);
        }
        all
    }

    #[inline(always)]
    fn march(
        &self,
        c: &Course,
        count: bool,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
        all: &mut Marched,
    ) {
        let Some(circuit) = &self.circuit else { return };
        let water = self.water;
        let counted = if count { c.share } else { 0.0 };
        let mut found = Findings {
            steam: 0.0,
            short: f64::INFINITY,
            at: circuit.coil.start,
            excess: -1e6,
        };
        // Tee at the coil's inlet, tee at its outlet.
        let mut tees = [Tee::EMPTY; 2];
        let mut out_kg_s = [0.0f64; 2];
        let mut rows = [[Row::default(); 2]; BRANCHES];
        let coil_kg_s = (c.flow_kg_s[0] + c.flow_kg_s[1]).abs();
        let (coil_from, coil_to) = if c.coil_forward { (0, 1) } else { (1, 0) };
        out_kg_s[coil_from] += coil_kg_s + TEE_REST_KG_S;
        for (b, row) in rows.iter_mut().enumerate() {
            let Some(branch) = self.branch(b) else { break };
            let forward = c.forward[b];
            let flow = c.flow_kg_s[b].abs();
            let h = match (&circuit.drive, self.end_of(b, s)) {
                (Drive::Mains { inlet_j_kg, .. }, _) if b == 0 => *inlet_j_kg,
                (_, Some((v, t_k))) => {
                    let port = if forward { &v.cold_port } else { &v.hot_port };
                    port.mix(|i| water.h_j_kg(t_k[i]))
                }
                _ => 0.0,
            };
            let taken = &mut all.branch[b].taken[usize::from(!forward)];
            taken.0 += c.share * flow;
            taken.1 += c.share * flow * h;
            let mut stream = Stream::liquid(flow, h);
            let leg = if forward { &branch.cold } else { &branch.hot };
            row[0] = self.row(leg, forward, counted, &mut stream, &mut found, y, dy, s);
            tees[usize::from(!forward)].add(stream);
            out_kg_s[usize::from(forward)] += flow + TEE_REST_KG_S;
        }
        let mut stream = self.leaving(
            &tees[coil_from],
            (coil_kg_s + TEE_REST_KG_S) / out_kg_s[coil_from],
            &circuit.coil,
            c.coil_forward,
            s,
        );
        let coil_in = stream.h_j_kg;
        let coil = self.row(
            &circuit.coil,
            c.coil_forward,
            counted,
            &mut stream,
            &mut found,
            y,
            dy,
            s,
        );
        let coil_out = stream.h_j_kg;
        tees[coil_to].add(stream);
        for (b, row) in rows.iter_mut().enumerate() {
            let Some(branch) = self.branch(b) else { break };
            let forward = c.forward[b];
            let tee = usize::from(forward);
            let leg = if forward { &branch.hot } else { &branch.cold };
            let part = (c.flow_kg_s[b].abs() + TEE_REST_KG_S) / out_kg_s[tee];
            let mut stream = self.leaving(&tees[tee], part, leg, forward, s);
            row[1] = self.row(leg, forward, counted, &mut stream, &mut found, y, dy, s);
            let t = &mut all.branch[b];
            let given = &mut t.given[usize::from(!forward)];
            given.0 += c.share * stream.mdot_kg_s;
            given.1 += c.share * stream.enthalpy_w;
            let end = if forward { leg.end - 1 } else { leg.start };
            t.end_t_k += c.share * tube::temperature_k(water, self.sat_of(end, s), stream.h_j_kg);
            let sign = if forward { c.share } else { -c.share };
            all.branch_buoyancy_pa[b] += c.share * (row[0].buoyancy_pa + row[1].buoyancy_pa);
            all.branch_loss_pa[b] += sign * (row[0].loss_pa + row[1].loss_pa);
        }
        all.coil_buoyancy_pa += c.share * coil.buoyancy_pa;
        all.coil_loss_pa += if c.coil_forward { c.share } else { -c.share } * coil.loss_pa;
        all.steam_kg_s += c.share * found.steam;
        all.excess_j_kg += c.share * found.excess;
        let sat = self.sat_of(found.at, s);
        let nearest = tube::temperature_k(water, sat, sat.h_f_j_kg - found.short);
        if c.share >= 0.5 {
            all.cell = found.at;
        }
        all.margin_k += c.share * (sat.t_k - nearest);
        all.point_k += c.share * sat.t_k;
        let end = if c.coil_forward {
            circuit.coil.end - 1
        } else {
            circuit.coil.start
        };
        let sat = self.sat_of(end, s);
        all.coil_in_k += c.share * tube::temperature_k(water, sat, coil_in);
        all.coil_out_k += c.share * tube::temperature_k(water, sat, coil_out);
    }

    /// Saturation in a cell at its present pressure.
    fn sat_of<'a>(&'a self, i: usize, s: &'a Scratch) -> &'a SatProps {
        &s.cells.get(i).unwrap_or(&self.tubes[i]).sat
    }

    /// What leaves a tee into a row of cells.
    #[inline(always)]
    fn leaving(
        &self,
        tee: &Tee,
        part: f64,
        into: &Range<usize>,
        forward: bool,
        scratch: &Scratch,
    ) -> Stream {
        // Every tee has an inflow: that of a branch or that of the coil.
        let Some(all) = tee.sum else {
            return Stream::liquid(0.0, 0.0);
        };
        let mut s = Stream {
            mdot_kg_s: part * all.mdot_kg_s,
            enthalpy_w: part * all.enthalpy_w,
            ..all
        };
        if tee.mixed {
            let i = if forward { into.start } else { into.end - 1 };
            let sat = self.sat_of(i, scratch);
            s.quality = ((s.h_j_kg - sat.h_f_j_kg) / sat.h_fg_j_kg).clamp(0.0, 1.0);
        }
        s
    }

    /// Passes a row of cells; heat and inventories count with `share`.
    #[allow(clippy::too_many_arguments)] // the state, its rates and the scratch space always go together
    #[inline(always)]
    fn row(
        &self,
        cells: &Range<usize>,
        forward: bool,
        share: f64,
        stream: &mut Stream,
        m: &mut Findings,
        y: &[f64],
        dy: &mut [f64],
        s: &mut Scratch,
    ) -> Row {
        let l = &self.layout;
        let friction = self.rig.closures.water_friction;
        let carriage = if self.is_driven() {
            &tube::DRIVEN
        } else if self.moves_by_itself() {
            &tube::FREE
        } else {
            &tube::STOPPED
        };
        let neighbours = self.circuit.as_ref().map_or(&[][..], |c| &c.neighbours);
        let inventory = &y[l.inventory..];
        // At the present pressure of a closed loop.
        let own = if s.cells.is_empty() {
            &self.tubes[..]
        } else {
            &s.cells[..]
        };
        let (nodes, films, heats_w) = (&s.tube[..], &s.film[..], &mut s.tube_heat_w[..]);
        let mut row = Row::default();
        for step in 0..cells.len() {
            let i = if forward {
                cells.start + step
            } else {
                cells.end - 1 - step
            };
            let (cell, node) = (&own[i], &nodes[i]);
            let kg = cell
                .inventory
                .map_or(cell.water_kg, |k| inventory[k] * cell.water_kg);
            // Rises of enthalpy over the cell's length, from the cell before and to the one after as the water goes.
            let n = &neighbours[i];
            let (before, after) = if forward {
                (n.before, n.after)
            } else {
                (n.after, n.before)
            };
            let most = cell.sat.h_f_j_kg;
            let from = match before {
                Some((j, per)) => per * (node.h_j_kg - lesser(nodes[j].h_j_kg, most)),
                None => 2.0 * (node.h_j_kg - stream.h_j_kg),
            };
            let to = after.map_or(0.0, |(j, per)| {
                per * (lesser(nodes[j].h_j_kg, most) - node.h_j_kg)
            });
            let h_end = tube::end_j_kg(cell, node, kg, carriage, stream.mdot_kg_s, from, to);
            let r = tube::pass_cell(
                cell,
                &self.tables[cell.table],
                friction,
                stream,
                node,
                h_end,
                kg,
                films[i],
                carriage,
            );
            *stream = r.out;
            row.buoyancy_pa -= G_M_S2 * r.density_kg_m3 * cell.rise_m;
            row.loss_pa += r.loss_pa;
            heats_w[i] -= share * r.from_node_w;
            if let Some(k) = cell.inventory {
                if r.inventory_kg_s != 0.0 || r.steam_kg_s != 0.0 {
                    dy[l.inventory + k] += share * r.inventory_kg_s / cell.water_kg;
                    m.steam += r.steam_kg_s;
                }
                let short = cell.sat.h_f_j_kg - stream.h_j_kg;
                if short < m.short {
                    m.short = short;
                    m.at = i;
                }
                // A cell without water left has nothing to boil.
                if kg > 0.02 * cell.water_kg {
                    m.excess = greater(m.excess, -short);
                }
            }
        }
        row
    }
}
