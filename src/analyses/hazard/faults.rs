//! The faults: which rig can have each, and what it does to a running burn.

use crate::analyses::burn::{RunError, Saved};
use crate::components::spec::{Coil, Rig, SectionKind, Water};
use crate::network::Blocked;

/// One thing that goes wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    PumpStop,
    PowerCut,
    HotValve,
    ColdValve,
    ShutInRelief,
    ShutIn,
    ReturnHalf,
    ReturnTenth,
    AirLock,
    SaggingPipe,
    IceInReturn,
    LevelFalls,
    DryCoil,
    ReliefStuck,
    DamperOpen,
    OverFiring,
    FlueBlocked,
    SwappedPorts,
    Overnight,
}

/// When a fault strikes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Strikes {
    /// At any moment of the burn; the worst is looked for.
    Any,
    /// It is there from the start.
    FromTheStart,
    /// When the burn is over.
    AfterTheEnd,
}

/// Every fault, in the order of the issue at hand.
pub const ALL: &[Fault] = &[
    Fault::PumpStop,
    Fault::PowerCut,
    Fault::HotValve,
    Fault::ColdValve,
    Fault::ShutInRelief,
    Fault::ShutIn,
    Fault::ReturnHalf,
    Fault::ReturnTenth,
    Fault::AirLock,
    Fault::SaggingPipe,
    Fault::IceInReturn,
    Fault::LevelFalls,
    Fault::DryCoil,
    Fault::ReliefStuck,
    Fault::DamperOpen,
    Fault::OverFiring,
    Fault::FlueBlocked,
    Fault::SwappedPorts,
    Fault::Overnight,
];

/// What nobody could tell from this model; stands in the table all the same.
pub const NOT_MODELLED: &[(&str, &str, &str)] = &[
    (
        "chimney_fire",
        "tar in the flue burns",
        "the flue's tar is not burnt here; `season` tells how it grows, `burn` for how long the wall is cold enough for it",
    ),
    (
        "frozen_coil_bursts",
        "water freezes and bursts the coil",
        "ice is not modelled; the night after the fire tells whether the water comes below 0 °C",
    ),
];

/// Open share of a return pipe blocked by half, and of one almost shut.
const HALF: f64 = 0.5;
const TENTH: f64 = 0.1;
/// Open share of a flue that a nest or a fallen cap blocks.
const FLUE_LEFT: f64 = 0.05;
/// Pressure up to which the water's tables go: so hot must shut-in water become to boil, Pa.
const SHUT_PA: f64 = 2.4e6;
/// Kindling as firewood: sticks of this thickness and moisture.
const THIN_M: f64 = 0.015;
const DRY_WET_BASIS: f64 = 0.10;

/// Loss of a sharp-edged plate that leaves `open` of a pipe's cross-section, velocity heads of the pipe:
/// (1 + 0.707 √(1 − s) − s)²/s². Source: Idelchik, Handbook of Hydraulic Resistance, diagram 4-9, from memory.
pub fn plate_loss_k(open: f64) -> f64 {
    ((1.0 + 0.707 * (1.0 - open).sqrt() - open) / open).powi(2)
}

impl Fault {
    pub fn key(self) -> &'static str {
        match self {
            Fault::PumpStop => "pump_stop",
            Fault::PowerCut => "power_cut",
            Fault::HotValve => "valve_hot_side",
            Fault::ColdValve => "valve_cold_side",
            Fault::ShutInRelief => "valves_both_relief",
            Fault::ShutIn => "valves_both",
            Fault::ReturnHalf => "return_half",
            Fault::ReturnTenth => "return_tenth",
            Fault::AirLock => "air_lock",
            Fault::SaggingPipe => "sagging_pipe",
            Fault::IceInReturn => "ice_in_return",
            Fault::LevelFalls => "level_falls",
            Fault::DryCoil => "dry_coil",
            Fault::ReliefStuck => "relief_stuck",
            Fault::DamperOpen => "damper_open",
            Fault::OverFiring => "over_firing",
            Fault::FlueBlocked => "flue_blocked",
            Fault::SwappedPorts => "swapped_ports",
            Fault::Overnight => "overnight",
        }
    }

    /// As a person would say it.
    pub fn name(self) -> &'static str {
        match self {
            Fault::PumpStop => "pump stops",
            Fault::PowerCut => "power cut",
            Fault::HotValve => "valve shut on the hot side",
            Fault::ColdValve => "valve shut on the cold side",
            Fault::ShutInRelief => "valves shut on both sides, relief at the coil",
            Fault::ShutIn => "valves shut on both sides, no relief",
            Fault::ReturnHalf => "return pipe blocked by half",
            Fault::ReturnTenth => "return pipe nine tenths blocked",
            Fault::AirLock => "air lock stops the loop",
            Fault::SaggingPipe => "sagging pipe traps air in the thermosyphon",
            Fault::IceInReturn => "ice in the return pipe",
            Fault::LevelFalls => "store's level falls",
            Fault::DryCoil => "coil runs dry, then cold water comes in",
            Fault::ReliefStuck => "relief valve sticks shut and the pump stops",
            Fault::DamperOpen => "damper and air inlet stuck open",
            Fault::OverFiring => "over-firing: double feed, thin dry wood",
            Fault::FlueBlocked => "flue blocked",
            Fault::SwappedPorts => "store's ports swapped",
            Fault::Overnight => "left overnight after the fire",
        }
    }

    /// How the model takes it, and what that leaves out.
    pub fn how(self) -> &'static str {
        match self {
            Fault::PumpStop => {
                "pump off for good; water may still pass the stopped wheel by buoyancy"
            }
            Fault::PowerCut => "pumps and fans off for good",
            Fault::HotValve => {
                "no flow; steam leaves by the return; the stop itself (water hammer) and refilling against the steam are left out"
            }
            Fault::ColdValve => {
                "no flow; steam leaves by the supply; water hammer and refilling against the steam are left out"
            }
            Fault::ShutInRelief => {
                "no flow; water boils at the relief setting, which the valve is taken to hold"
            }
            Fault::ShutIn => {
                "water heats without boiling; pressure by expansion against compressibility and the tube's stretch, no bubble of air, valves at the coil's ends"
            }
            Fault::ReturnHalf => "a sharp plate that leaves half the return's cross-section",
            Fault::ReturnTenth => "a sharp plate that leaves a tenth of the return's cross-section",
            Fault::AirLock => "no flow until the water in the coil boils; then the steam clears it",
            Fault::SaggingPipe => "as an air lock: no flow until the water boils",
            Fault::IceInReturn => {
                "as a valve shut on the cold side; that ice also bursts pipes is left out"
            }
            Fault::LevelFalls => {
                "ports run bare: the loop stands still for good, steam leaves by both ends and nothing refills the coil; where stove walls stand in the store, or in a drum, a tenth of that water is left beside them"
            }
            Fault::DryCoil => {
                "all water leaves the coil at once; metal alone against gas, radiation and the fire"
            }
            Fault::ReliefStuck => {
                "pump off for good and the relief valve never lifts; the run ends where store or vessel gives way"
            }
            Fault::DamperOpen => "damper and air inlets fully open whatever schedule and rules say",
            Fault::OverFiring => {
                "one feed twice as large at once, all later feeds twice as large, sticks of 15 mm at 10 % moisture"
            }
            Fault::FlueBlocked => "a plate at the flue's end that leaves a twentieth of it open",
            Fault::SwappedPorts => {
                "the whole burn with supply on the low and return on the high port"
            }
            Fault::Overnight => {
                "the fire burns out, then the pump is off for ten hours; air temperature as in the scenario, held after its end"
            }
        }
    }

    pub fn strikes(self) -> Strikes {
        match self {
            Fault::SwappedPorts => Strikes::FromTheStart,
            Fault::Overnight => Strikes::AfterTheEnd,
            _ => Strikes::Any,
        }
    }

    /// Why this rig cannot have it.
    pub fn excuse(self, rig: &Rig) -> Option<&'static str> {
        let circuit = rig.circuit();
        let pump = circuit.is_some_and(|c| c.pump.is_some());
        let water = !matches!(rig.water, Water::None) && !rig.coils.is_empty();
        let fan = rig
            .gas_path
            .iter()
            .any(|s| matches!(s.kind, SectionKind::Fan { .. }));
        let store = matches!(rig.water, Water::Store { .. });
        let closed = matches!(&rig.water, Water::Store { vessel, .. } if vessel.closed.is_some());
        let needs = |has: bool, why: &'static str| (!has).then_some(why);
        match self {
            Fault::PumpStop => needs(pump, "the loop has no pump"),
            Fault::PowerCut => needs(pump || fan, "nothing in this rig needs power"),
            Fault::DamperOpen | Fault::OverFiring | Fault::FlueBlocked => None,
            Fault::SaggingPipe => needs(circuit.is_some() && !pump, "the loop is no thermosyphon"),
            Fault::SwappedPorts => needs(
                store && circuit.is_some() && !pump,
                "no thermosyphon with a store",
            ),
            Fault::LevelFalls => needs(store, "no store"),
            Fault::ReliefStuck => needs(closed, "the store is open to the air"),
            Fault::Overnight => needs(circuit.is_some(), "no loop"),
            Fault::ShutIn if rig.coils.iter().any(Coil::is_jacket) => Some(
                "a jacket: nothing is known of what pressure its sheets hold; none may ever be shut in",
            ),
            _ => needs(water, "no coil with water in this rig"),
        }
    }

    /// Does it.
    pub fn strike(self, s: &mut Saved, relief_pa: f64) {
        s.go_on();
        match self {
            Fault::PumpStop => s.hold_pump(None),
            Fault::PowerCut => s.cut_power(),
            Fault::HotValve => s.block(Blocked::HotSide),
            Fault::ColdValve | Fault::IceInReturn => s.block(Blocked::ColdSide),
            Fault::ShutInRelief => s.shut_in(relief_pa.min(SHUT_PA)),
            Fault::ShutIn => s.shut_in(SHUT_PA),
            Fault::ReturnHalf => s.obstruct(plate_loss_k(HALF)),
            Fault::ReturnTenth => s.obstruct(plate_loss_k(TENTH)),
            Fault::AirLock | Fault::SaggingPipe => s.block(Blocked::Standing),
            Fault::LevelFalls => {
                s.block(Blocked::Standing);
                if s.net().has_immersed || s.net().drum.is_some() {
                    s.lower_level(LEVEL_LEFT);
                }
            }
            Fault::DryCoil => s.drain(),
            Fault::ReliefStuck => {
                s.stick_relief();
                s.hold_pump(None);
            }
            Fault::DamperOpen => s.hold_air(1.0, 1.0),
            Fault::OverFiring => {
                let usual_kg = usual_feed_kg(&s.net().rig);
                s.over_fire(usual_kg, 2.0, THIN_M, DRY_WET_BASIS);
            }
            Fault::FlueBlocked => s.obstruct_flue(plate_loss_k(FLUE_LEFT)),
            Fault::SwappedPorts => {}
            Fault::Overnight => {
                s.stop_feeding();
                s.hold_pump(None);
            }
        }
    }

    /// What steam does to it by itself.
    pub fn boiling_clears_it(self) -> bool {
        matches!(self, Fault::AirLock | Fault::SaggingPipe)
    }

    /// The water is shut in without a way out.
    pub fn shut_in(self) -> bool {
        self == Fault::ShutIn
    }

    /// The rig that has it from the start.
    pub fn rig(self, rig: &Rig) -> Rig {
        let mut rig = rig.clone();
        if let (Fault::SwappedPorts, Water::Store { vessel, .. }) = (self, &mut rig.water) {
            std::mem::swap(&mut vessel.hot_port_m, &mut vessel.cold_port_m);
        }
        rig
    }

    /// What a person may do, in the order of how natural it is.
    pub fn remedies(self, rig: &Rig) -> Vec<Cure> {
        let mut list = Vec::new();
        match self {
            Fault::PumpStop | Fault::PowerCut | Fault::ReliefStuck => list.push(Cure::PumpOn),
            Fault::HotValve
            | Fault::ColdValve
            | Fault::ShutInRelief
            | Fault::ReturnHalf
            | Fault::ReturnTenth
            | Fault::AirLock
            | Fault::SaggingPipe => list.push(Cure::FreeLoop),
            _ => {}
        }
        if self != Fault::FlueBlocked {
            list.push(Cure::ShutAir);
        }
        if matches!(rig.water, Water::Store { .. })
            && matches!(
                self,
                Fault::PumpStop
                    | Fault::PowerCut
                    | Fault::ReliefStuck
                    | Fault::OverFiring
                    | Fault::DamperOpen
            )
        {
            list.push(Cure::Dump);
        }
        list
    }
}

/// Mass of the largest feed that the scenario has, kg.
fn usual_feed_kg(rig: &Rig) -> f64 {
    let f = &rig.feeding;
    let list = f.list.iter().map(|e| e.mass_kg);
    let every = f.every.iter().map(|e| e.mass_kg);
    let rules = f.rules.iter().map(|e| e.mass_kg);
    list.chain(every)
        .chain(rules)
        .fold(rig.lighting.kindling_kg, f64::max)
}

/// What a person does about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Cure {
    PumpOn,
    FreeLoop,
    ShutAir,
    Dump,
}

/// Share of the water that is left beside stove walls that stood in it.
const LEVEL_LEFT: f64 = 0.1;
/// Air that still comes in with everything shut: joints and a mouth that no plate seals.
const SHUT_SHARE: f64 = 0.05;
/// Hot water drawn to cool the store, kg/s (20 L/min), and the water that makes it up.
const DUMP_KG_S: f64 = 0.33;
const COLD_K: f64 = 283.15;

impl Cure {
    pub fn what(self) -> &'static str {
        match self {
            Cure::PumpOn => "pump on again, highest setting",
            Cure::FreeLoop => "loop freed again, pump as before",
            Cure::ShutAir => "no more wood, damper and air inlet shut",
            Cure::Dump => "hot water drawn at 20 L/min, made up cold",
        }
    }

    pub fn apply(self, s: &mut Saved) -> Result<(), RunError> {
        match self {
            Cure::PumpOn => {
                let highest = match &s.net().circuit.as_ref().map(|c| &c.drive) {
                    Some(crate::network::Drive::Pump(p)) => p.settings.len().checked_sub(1),
                    _ => None,
                };
                s.hold_pump(highest);
            }
            Cure::FreeLoop => {
                s.obstruct(0.0);
                s.reopen()?;
            }
            Cure::ShutAir => {
                s.stop_feeding();
                s.hold_air(SHUT_SHARE, SHUT_SHARE);
            }
            Cure::Dump => s.draw(DUMP_KG_S, COLD_K),
        }
        Ok(())
    }
}
