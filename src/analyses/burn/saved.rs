//! A burn that can stand still, be copied and go on: from any saved state a fault or a remedy is tried without the
//! burn before it. A copy that nothing is done to goes on exactly as the original.

use super::{BurnOptions, Run, RunError};
use crate::analyses::watch::SPILL_AIR_KG_S;
use crate::components::spec::Rig;
use crate::integrate::{Integrator, Segment};
use crate::network::{Blocked, Integral, Network};
use crate::results::{Burst, Ledger};

/// A running burn with the integrator's memory.
#[derive(Clone)]
pub struct Saved<'a> {
    run: Run<'a>,
    integrator: Integrator,
}

impl<'a> Saved<'a> {
    /// A burn at its lit match.
    ///
    /// # Errors
    /// See [`RunError`].
    pub fn new(rig: &'a Rig) -> Result<Self, RunError> {
        let options = BurnOptions {
            series: false,
            ..BurnOptions::default()
        };
        let mut run = Run::new(rig, Network::new(rig)?, &options);
        let integrator = run.begin()?;
        Ok(Self { run, integrator })
    }

    /// Goes on to `until_s` exactly, or to the end of the run; `watch` sees each segment and whether to go on.
    ///
    /// # Errors
    /// See [`RunError`].
    pub fn advance_to(
        &mut self,
        until_s: f64,
        watch: &mut dyn FnMut(&Network, &Segment) -> bool,
    ) -> Result<bool, RunError> {
        while self.run.t < until_s {
            let mut on = true;
            let more = self.run.advance(
                &mut self.integrator,
                until_s,
                &mut |_| true,
                &mut |net, seg| on = watch(net, seg),
            )?;
            if !more {
                return Ok(false);
            }
            if !on {
                break;
            }
        }
        Ok(true)
    }

    pub fn time_s(&self) -> f64 {
        self.run.t
    }

    pub fn state(&self) -> &[f64] {
        &self.run.y
    }

    pub fn net(&self) -> &Network {
        &self.run.net
    }

    /// Water boils in the coil's bulk.
    pub fn boils(&self) -> bool {
        self.run.boiling
    }

    /// A fire burns and no air comes in.
    pub fn spills(&self) -> bool {
        self.run.net.air_kg_s(&self.run.y) < SPILL_AIR_KG_S
    }

    pub fn ledger(&self) -> Ledger {
        self.run.net.ledger(&self.run.fed, &self.run.y)
    }

    /// The pump takes this setting, and schedule and rules no longer move it.
    pub fn hold_pump(&mut self, setting: Option<usize>) {
        self.run.net.mode.pump = setting;
        self.run.hand.pump_held = true;
    }

    /// Damper and air inlets take these positions for good.
    pub fn hold_air(&mut self, damper: f64, air_inlet: f64) {
        self.run.net.mode.damper = damper;
        self.run.net.mode.air_inlet = air_inlet;
        self.run.hand.air_held = true;
    }

    /// No power: pumps and fans stand still.
    pub fn cut_power(&mut self) {
        self.hold_pump(None);
        self.run.net.mode.fan_on = false;
        self.run.net.mode.bench_on = false;
    }

    /// Stops the flow of the loop's own branch at once (water hammer is left out), or frees it.
    pub fn block(&mut self, how: Blocked) {
        self.run.net.mode.blocked = how;
        if let (true, Some(i)) = (how != Blocked::No, self.run.net.layout.flow) {
            self.run.y[i] = 0.0;
        }
    }

    /// Velocity heads on the return pipe's bore, besides the rig's own.
    pub fn obstruct(&mut self, loss_k: f64) {
        self.run.net.mode.obstruction_k = loss_k;
    }

    /// Shuts coil and pipes in: their water boils only at this pressure.
    pub fn shut_in(&mut self, p_pa: f64) {
        self.block(Blocked::Standing);
        self.run.net.shut_in(p_pa);
    }

    /// The coil runs empty, and stays so.
    pub fn drain(&mut self) {
        self.block(Blocked::Standing);
        self.run.net.drain_coil(&mut self.run.y);
    }

    /// The store's water falls to this share at once.
    pub fn lower_level(&mut self, share: f64) {
        self.run.net.lower_level(share, &mut self.run.y);
    }

    /// Velocity heads in the last section of the gas path, on its own area.
    pub fn obstruct_flue(&mut self, loss_k: f64) {
        if let Some(d) = self.run.net.ducts.last_mut() {
            d.loss_k += loss_k;
        }
    }

    /// One feed now, and all later ones, of so much more mass and of this wood.
    pub fn over_fire(&mut self, mass_kg: f64, share: f64, thickness_m: f64, moisture_wet: f64) {
        self.run.hand.feed_share = share;
        self.run.hand.wood = Some((thickness_m, moisture_wet));
        self.run.feed(mass_kg, None);
    }

    /// Nobody feeds any more.
    pub fn stop_feeding(&mut self) {
        self.run.hand.feeds = false;
    }

    /// The run no longer ends where the scenario says.
    pub fn go_on(&mut self) {
        self.run.hand.endless = true;
        self.run.ended = false;
    }

    /// Draws hot water from the store from now on, made up with cold.
    pub fn draw(&mut self, kg_s: f64, cold_k: f64) {
        self.run.net.mode.draw_kg_s += kg_s;
        self.run.net.mode.draw_cold_k = cold_k;
    }

    /// The loop as the rig has it, open again.
    ///
    /// # Errors
    /// See [`RunError`].
    pub fn reopen(&mut self) -> Result<(), RunError> {
        self.exchange(self.run.rig)?;
        self.block(Blocked::No);
        Ok(())
    }

    /// The relief valve shuts if it was open, and lifts no more.
    pub fn stick_relief(&mut self) {
        self.run.hand.relief_stuck = true;
        if self.run.net.mode.relief_open {
            self.run.set_relief(false);
        }
    }

    /// How often the relief valve has lifted, and what it has let out so far: kg of water, kg of steam.
    pub fn let_out(&self) -> (u64, f64, f64) {
        let total = |q| self.run.net.layout.integral_value(&self.run.y, q);
        (
            self.run.gather.relief_lifts,
            total(Integral::ReliefWater),
            total(Integral::ReliefSteam),
        )
    }

    /// Something burst: the run has ended there.
    pub fn burst(&self) -> Option<Burst> {
        self.run.gather.burst
    }

    /// Goes on with another rig of the same states, as if it had been this one from here on.
    ///
    /// # Errors
    /// See [`RunError`].
    pub fn exchange(&mut self, rig: &'a Rig) -> Result<(), RunError> {
        let mut net = Network::new(rig)?;
        net.mode = self.run.net.mode.clone();
        self.run.net = net;
        self.run.rig = rig;
        Ok(())
    }
}
