//! The pressure of a closed loop: its relief valve lifts and shuts again; where it does not suffice something bursts, and
//! the run ends.

use super::Run;
use crate::correlations::hazard::burst_steam_kg;
use crate::results::{Burst, EventKind};

/// Lifts that become events; further ones are counted.
const MOST_LIFT_EVENTS: u64 = 20;

impl Run<'_> {
    /// Lifts the valve, or ends the run, where a pressure stands over its limit already: at lighting, or since a control moved.
    pub(super) fn check_pressure(&mut self) {
        if self.net.closed().is_none() || self.burst {
            return;
        }
        let i = self.net.observe_water(self.t, &self.y);
        if i.burst_excess_pa >= 0.0 {
            self.bursts();
        } else if i.relief_excess_pa >= 0.0 && !self.net.mode.relief_open && !self.hand.relief_stuck
        {
            self.set_relief(true);
        }
    }

    pub(super) fn set_relief(&mut self, open: bool) {
        self.net.mode.relief_open = open;
        let lifts = self.gather.relief(self.t, open);
        if lifts > MOST_LIFT_EVENTS {
            return;
        }
        let (kind, text) = match open {
            true if lifts == MOST_LIFT_EVENTS => (
                EventKind::ReliefLifts,
                "the relief valve lifts; later ones are only counted",
            ),
            true => (EventKind::ReliefLifts, "the relief valve lifts"),
            false => (EventKind::ReliefReseats, "the relief valve shuts again"),
        };
        self.gather.event(self.t, kind, text.into());
    }

    /// The end of the run: what is in the loop comes out.
    pub(super) fn bursts(&mut self) {
        self.burst = true;
        let net = &self.net;
        let sat = net.water.sat(net.p_air_pa);
        let (mut water_kg, mut steam_kg) = (0.0, 0.0);
        for (kg, t_k) in net.loop_water(&self.y) {
            water_kg += kg;
            steam_kg += burst_steam_kg(kg, net.water.h_j_kg(t_k) - sat.h_f_j_kg, sat.h_fg_j_kg);
        }
        let pressure_pa = net.observe_water(self.t, &self.y).loop_pressure_pa;
        self.gather.burst(Burst {
            at_s: self.t,
            pressure_Pa: pressure_pa,
            water_kg,
            steam_kg,
        });
        self.gather.event(
            self.t,
            EventKind::Burst,
            format!(
                "store or vessel bursts at {:.1} bar: up to {water_kg:.0} kg of water come out, {steam_kg:.1} kg of it as steam; the run ends",
                pressure_pa * 1e-5
            ),
        );
    }
}
