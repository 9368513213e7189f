//! A rig as plain data: resolved, complete, SI. `scenario` fills these structures, `network` reads them.
//!
//! Heights (`*_height_m`, `*_z_m`) are measured from one datum, the hearth floor (bottom of the firebox).
//! Every field moves some output of a run; a key that could not is refused by `scenario`.

pub use super::closures::Closures;
pub use super::coil_spec::{Coil, CoilForm, JacketGiven, TubeMetal, WaterEntry};
pub use super::thermometer::Thermometer;
use serde::Serialize;

/// A quantity that changes with time: points joined by straight lines, held flat outside.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Profile {
    /// `(time_s, value)`, strictly increasing in time, at least one point.
    pub points: Vec<(f64, f64)>,
}

impl Profile {
    /// A profile that never changes.
    pub fn constant(value: f64) -> Self {
        Self {
            points: vec![(0.0, value)],
        }
    }

    /// Value at `t_s`.
    pub fn at(&self, t_s: f64) -> f64 {
        let p = &self.points;
        let i = p.partition_point(|&(t, _)| t <= t_s);
        if i == 0 {
            return p[0].1;
        }
        if i == p.len() {
            return p[i - 1].1;
        }
        let ((t0, v0), (t1, v1)) = (p[i - 1], p[i]);
        v0 + (v1 - v0) * (t_s - t0) / (t1 - t0)
    }
}

/// One complete rig with its burn: what `network` needs to assemble and `analyses` to run.
#[derive(Debug, Clone, Serialize)]
pub struct Rig {
    /// One line for the person, printed on every picture.
    pub title: String,
    pub site: Site,
    pub target: Target,
    pub stop: Stop,
    pub fuel: Fuel,
    pub lighting: Lighting,
    pub feeding: Feeding,
    pub firebox: Firebox,
    /// In the order in which the gas passes, firebox excluded. Never empty.
    pub gas_path: Vec<Section>,
    /// In the order in which the water passes (series). Empty: no water side.
    pub coils: Vec<Coil>,
    /// Vented water between fire and coil: the walls in water stand in it, and a coil lies in it. Its ports count for nothing.
    pub drum: Option<Vessel>,
    pub water: Water,
    /// Pipes and shells that the water touches, coils apart.
    pub wetted: Vec<Wetted>,
    /// In the gas, wherever a place of it is read.
    pub thermometer: Thermometer,
    pub controls: Controls,
    pub closures: Closures,
    pub solver: SolverSettings,
}

/// Weather and place.
#[derive(Debug, Clone, Serialize)]
pub struct Site {
    /// Above sea level; sets air pressure (ISA) and with it draught and boiling point.
    pub altitude_m: f64,
    pub air_temperature_k: Profile,
    pub wind_m_s: f64,
    /// 0..1
    pub relative_humidity: f64,
}

/// Which temperature counts as "hot".
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Probe {
    /// Energy mean of the storage (default).
    Mean,
    Top,
    Bottom,
    /// Water leaving the coil.
    Outlet,
    /// Water at the draw-off tap (the tank's draw port).
    Tap,
}

#[derive(Debug, Clone, Serialize)]
pub struct Target {
    /// Infinite where the rig has no water.
    pub temperature_k: f64,
    pub probe: Probe,
}

/// When the run ends. It always ends at `latest_s`; with `at_target`, `after_target_s` after the target was reached.
#[derive(Debug, Clone, Serialize)]
pub struct Stop {
    pub at_target: bool,
    pub after_target_s: f64,
    pub latest_s: f64,
}

/// Wood: composition on the dry, ash-free basis, the rest on the dry basis unless named.
#[derive(Debug, Clone, Serialize)]
pub struct Fuel {
    pub name: String,
    /// Mass fractions, dry ash-free, sum 1.
    pub carbon_daf: f64,
    pub hydrogen_daf: f64,
    pub oxygen_daf: f64,
    pub nitrogen_daf: f64,
    /// kg ash per kg dry wood.
    pub ash_dry: f64,
    /// Oven-dry density.
    pub density_kg_m3: f64,
    /// Gross (higher) heating value of dry wood.
    pub gross_heating_value_dry_j_kg: f64,
    /// kg water per kg moist wood (wet basis).
    pub moisture_wet: f64,
    /// kg char left per kg dry wood passing the front.
    pub char_yield_dry: f64,
    pub stick: Stick,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum StickShape {
    Round,
    Square,
}

#[derive(Debug, Clone, Serialize)]
pub struct Stick {
    pub shape: StickShape,
    /// Diameter, or side of the square.
    pub thickness_m: f64,
    pub length_m: f64,
}

/// How the fire is lit, at t = 0.
#[derive(Debug, Clone, Serialize)]
pub struct Lighting {
    /// Moist mass; zero: the fire is never lit.
    pub kindling_kg: f64,
    pub kindling_thickness_m: f64,
    pub kindling_moisture_wet: f64,
    /// Gross energy of paper or firelighter, and the time over which it burns.
    pub starter_j: f64,
    pub starter_s: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct FeedEvent {
    pub at_s: f64,
    /// Moist mass.
    pub mass_kg: f64,
    /// Overrides the fuel's stick thickness for this feed.
    pub thickness_m: Option<f64>,
}

/// Until when a repeated or ruled feeding goes on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Until {
    Target,
    Time(f64),
    End,
}

#[derive(Debug, Clone, Serialize)]
pub struct FeedEvery {
    pub from_s: f64,
    pub interval_s: f64,
    pub until: Until,
    pub mass_kg: f64,
}

/// What a tending rule looks at.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum FeedWhen {
    /// Moist wood not yet charred in the bed, kg.
    BedBelow(f64),
    /// Chamber (flame) temperature, K.
    ChamberBelow(f64),
}

#[derive(Debug, Clone, Serialize)]
pub struct FeedRule {
    pub when: FeedWhen,
    pub mass_kg: f64,
    /// Shortest time between two visits that the person accepts.
    pub not_within_s: f64,
    /// The rule is asleep before this time.
    pub from_s: f64,
    pub until: Until,
}

/// All ways of feeding add up.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Feeding {
    pub list: Vec<FeedEvent>,
    pub every: Vec<FeedEvery>,
    pub rules: Vec<FeedRule>,
    /// Time for which the door stands open at each visit (door firebox only; else 0).
    pub door_open_s: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum FireboxKind {
    /// Sticks stand in an open mouth through which the air also comes.
    FeedTube,
    /// Logs lie behind a door; air comes through the inlets.
    Door,
    /// Logs lie behind a door over embers, and the flames are drawn down through these into the first section of the gas path.
    DownDraught,
}

#[derive(Debug, Clone, Serialize)]
pub struct Firebox {
    pub kind: FireboxKind,
    pub width_m: f64,
    pub depth_m: f64,
    pub height_m: f64,
    /// Feed mouth (feed tube) or door opening.
    pub mouth_area_m2: f64,
    /// Share of the mouth that a brick or plate covers, 0..1 (feed tube only; a door is shut between feeds).
    pub mouth_cover: f64,
    /// Air inlets besides the mouth, fully open.
    pub air_inlet_area_m2: f64,
    /// Share of them that opens over the fire, 0..1.
    pub air_over_share: f64,
    /// Velocity heads lost at inlet and mouth together, on their free area.
    pub inlet_loss_k: f64,
    /// Length of each stick that lies in the fire (feed tube); for a door firebox the stick length.
    pub burning_length_m: f64,
    /// Iron, brick and ash under the embers that heat and cool with them.
    pub hearth_mass_kg: f64,
    /// From the fire outwards.
    pub wall: Vec<Layer>,
    /// The shut door, from the fire outwards; empty for a feed tube, whose mouth is open.
    pub door: Vec<Layer>,
    /// Share of the wall's outside that stands in the water of drum or store while that is full, 0..1.
    pub in_water: f64,
    /// That part, from the fire outwards; empty: built as `wall`.
    pub wet_wall: Vec<Layer>,
}

impl Section {
    /// Cross-section of all passages together, m2.
    pub fn area_m2(&self) -> f64 {
        self.passages.max(1) as f64 * self.bore.area_m2()
    }

    /// Wetted perimeter of all passages together, m.
    pub fn perimeter_m(&self) -> f64 {
        self.passages.max(1) as f64 * self.bore.perimeter_m()
    }
}

impl Firebox {
    /// Whether it is fed by a door, shut between feeds.
    pub fn has_door(&self) -> bool {
        self.kind != FireboxKind::FeedTube
    }

    /// Where the gas leaves it, from the datum, m: at its top, or down through its grate.
    pub fn outlet_z_m(&self) -> f64 {
        match self.kind {
            FireboxKind::FeedTube | FireboxKind::Door => self.height_m,
            FireboxKind::DownDraught => 0.0,
        }
    }

    /// Inner surface of the box, openings included, m2.
    pub fn box_m2(&self) -> f64 {
        let (w, d, h) = (self.width_m, self.depth_m, self.height_m);
        2.0 * (w * d + w * h + d * h)
    }

    /// Layers of the part that stands in water.
    pub fn wetted_wall(&self) -> &[Layer] {
        if self.wet_wall.is_empty() {
            &self.wall
        } else {
            &self.wet_wall
        }
    }

    /// Inner surface of its wall, where the gas leaves by an opening of `outlet_m2`, m2.
    pub fn lining_m2(&self, outlet_m2: f64) -> f64 {
        let all = self.box_m2();
        (all - self.mouth_area_m2 - outlet_m2).max(0.4 * all)
    }

    /// Half-width of a cube with as much room per surface, m: what a wall's outside grows by counts against it.
    pub fn half_width_m(&self) -> f64 {
        3.0 * self.width_m * self.depth_m * self.height_m / self.box_m2()
    }
}

/// One layer of a wall. Properties are looked up once at resolution.
#[derive(Debug, Clone, Serialize)]
pub struct Layer {
    pub material: String,
    pub thickness_m: f64,
    pub density_kg_m3: f64,
    /// Specific heat c(T) = c0 + c1 (T - 298.15 K).
    pub heat_capacity_j_kgk: f64,
    pub heat_capacity_slope_j_kgk2: f64,
    /// Conductivity k(T) = k0 + k1 (T - 298.15 K), never below 10 % of k0.
    pub conductivity_w_mk: f64,
    pub conductivity_slope_w_mk2: f64,
    /// Total hemispherical emissivity of the surface.
    pub emissivity: f64,
    /// Service limit; `None` where no figure is known.
    pub limit_k: Option<f64>,
    /// A thin metal sheet: always one node, exempt when cells are doubled.
    pub thin: bool,
    /// Free water at lighting, kg per kg dry.
    pub moisture: f64,
    /// How many times worse than through still air vapour diffuses through it; `None`: vapour-tight.
    pub vapour_resistance: Option<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum Bore {
    Round { diameter_m: f64 },
    Rect { width_m: f64, depth_m: f64 },
}

impl Bore {
    /// Cross-section, m2.
    pub fn area_m2(&self) -> f64 {
        match *self {
            Bore::Round { diameter_m: d } => std::f64::consts::PI / 4.0 * d * d,
            Bore::Rect {
                width_m: w,
                depth_m: d,
            } => w * d,
        }
    }

    /// Wetted perimeter, m.
    pub fn perimeter_m(&self) -> f64 {
        match *self {
            Bore::Round { diameter_m: d } => std::f64::consts::PI * d,
            Bore::Rect {
                width_m: w,
                depth_m: d,
            } => 2.0 * (w + d),
        }
    }

    /// Hydraulic diameter 4 A / P, m.
    pub fn hydraulic_diameter_m(&self) -> f64 {
        4.0 * self.area_m2() / self.perimeter_m()
    }
}

#[derive(Debug, Clone, PartialEq, Serialize)]
pub enum SectionKind {
    /// Insulated burn-out duct.
    Riser,
    /// Masonry bench or heavy mass.
    Mass,
    /// Where a coil sits.
    Passage,
    /// A turn; only its loss and its walls count.
    Bend,
    /// A plate that closes the section; position from `controls.damper`.
    Damper,
    Flue,
    /// Suction or blower: pressure rise against volume flow at the section, `(m3_s, pa)`, falling.
    Fan {
        curve: Vec<(f64, f64)>,
    },
}

/// One section of the gas path.
#[derive(Debug, Clone, Serialize)]
pub struct Section {
    pub name: String,
    pub kind: SectionKind,
    pub bore: Bore,
    /// Identical passages of this bore side by side that share the gas (fire tubes); 1 beside a coil.
    pub passages: usize,
    pub length_m: f64,
    /// Height gained along the section, negative where the gas goes down; |rise| <= length.
    pub rise_m: f64,
    /// Fittings in the section (bends, cap, expansion), velocity heads on its own area.
    pub loss_k: f64,
    pub roughness_m: f64,
    /// From the gas outwards; never empty.
    pub wall: Vec<Layer>,
    /// Outside surface feels the wind (outdoors).
    pub in_wind: bool,
    /// Its outside stands in the water of drum or store, as far as that reaches.
    pub in_water: bool,
    /// Share of the inner surface that is another wall, dry, across the gas from the one in the water; 0 without one.
    pub dry_share: f64,
    /// From the gas outwards; empty where `dry_share` is 0.
    pub dry_wall: Vec<Layer>,
    /// Gas cells; `None`: the default for the kind.
    pub cells: Option<usize>,
}

/// A part that the water touches, for questions of corrosion.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Wetted {
    /// "supply pipe"
    pub place: String,
    /// As the tables name it: "copper".
    pub material: String,
}

/// A pipe or hose between coil and store.
#[derive(Debug, Clone, Serialize)]
pub struct Pipe {
    pub length_m: f64,
    pub inside_m: f64,
    /// Heat capacity of the pipe's own material per metre.
    pub wall_heat_capacity_j_mk: f64,
    /// Loss to air per metre and kelvin.
    pub loss_w_mk: f64,
    /// Fittings, velocity heads.
    pub loss_k: f64,
    pub roughness_m: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct PumpSetting {
    pub name: String,
    /// `(flow_m3_s, head_pa)`, flow rising, head falling; first point at zero flow, last at zero head.
    pub curve: Vec<(f64, f64)>,
    pub power_w: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Pump {
    /// At least one; `controls.pump` picks by index, `None` = stopped.
    pub settings: Vec<PumpSetting>,
    /// Velocity heads, on the return pipe's bore, that a stopped pump costs.
    pub stopped_loss_k: f64,
    /// Share of the electrical power that ends in the water.
    pub power_to_water: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Loop {
    /// `None`: thermosyphon.
    pub pump: Option<Pump>,
    /// Hot side, coil to store.
    pub supply: Pipe,
    /// Cold side, store to coil.
    pub ret: Pipe,
    pub check_valve: bool,
    /// Second branch beside the one to the store: from the coil's outlet up to a header tank and back to its inlet.
    pub bypass: Option<Bypass>,
}

/// A branch that works by gravity beside the pumped one: it carries the coil's heat to a header tank when the pump stops.
#[derive(Debug, Clone, Serialize)]
pub struct Bypass {
    /// From the tee at the coil's outlet to the header's hot port.
    pub riser: Pipe,
    /// From the header's cold port to the tee at the coil's inlet.
    pub ret: Pipe,
    pub check_valve: bool,
    /// Vented; its water's surface stands over the whole loop and sets its pressure.
    pub header: Vessel,
}

/// A vessel of water with ports.
#[derive(Debug, Clone, Serialize)]
pub struct Vessel {
    pub kind: VesselKind,
    pub water_m3: f64,
    pub water_depth_m: f64,
    /// Height of the vessel's floor above the datum.
    pub floor_z_m: f64,
    pub layers: usize,
    pub start_temperature_k: f64,
    /// Loss of walls, floor and lid together to air at rest.
    pub loss_w_k: f64,
    /// Shell (steel drum, staves) heating with the water.
    pub shell_heat_capacity_j_k: f64,
    /// Heights of the ports above the vessel's floor.
    pub hot_port_m: f64,
    pub cold_port_m: f64,
    pub draw_port_m: f64,
    /// Open water surface (tub); `None`: closed or loosely lidded.
    pub surface: Option<OpenSurface>,
    /// Shut in from the air, with an expansion vessel; `None`: vented.
    pub closed: Option<Closed>,
}

/// Expansion vessel and relief setting of a closed loop. Pressures over the air's, at the water's top in the store.
#[derive(Debug, Clone, Serialize)]
pub struct Closed {
    /// With all water at 10 degC.
    pub fill_pa: f64,
    /// Of the whole vessel, gas and water.
    pub vessel_m3: f64,
    /// Of its gas, the vessel empty of water; at most the fill pressure.
    pub precharge_pa: f64,
    /// At which the relief valve opens; above the fill pressure.
    pub relief_pa: f64,
    /// At which it shuts again; between fill pressure and relief setting.
    pub reseat_pa: f64,
    /// Its narrowest flow bore.
    pub relief_bore_m: f64,
    pub relief_discharge: f64,
    /// At which store or vessel gives way: the run ends there.
    pub burst_pa: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum VesselKind {
    Barrel,
    Tank,
    Tub,
}

#[derive(Debug, Clone, Serialize)]
pub struct OpenSurface {
    pub area_m2: f64,
    /// Share of the open surface's losses that is left under the cover, 0..1.
    pub cover_leak: f64,
    /// Conductance of the cover per area, W/m2K.
    pub cover_w_m2k: f64,
    /// Share of the sky hidden by clouds, 0..1.
    pub cloud_cover: f64,
    /// Share of the site's wind felt at the surface, 0..1.
    pub wind_share: f64,
}

/// Water taken from the vessel's draw port and made up with cold water at its bottom.
#[derive(Debug, Clone, Serialize)]
pub struct Draw {
    pub starts: DrawStart,
    /// `None`: once.
    pub every_s: Option<f64>,
    /// Counted from the first draw.
    pub for_s: f64,
    pub volume_m3: f64,
    pub flow_m3_s: f64,
    pub cold_k: f64,
}

#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub enum DrawStart {
    At(f64),
    AtTarget,
}

/// A floor or bench warmed from the vessel by a mixing loop.
#[derive(Debug, Clone, Serialize)]
pub struct Bench {
    /// Water in the bench pipes.
    pub water_m3: f64,
    /// Flow through the bench pipes.
    pub flow_kg_s: f64,
    /// Mixed supply temperature: the flow taken from the vessel is what gives this temperature.
    pub supply_k: f64,
    /// Conductance from bench water to bench mass.
    pub pipe_w_k: f64,
    pub mass_heat_capacity_j_k: f64,
    pub start_temperature_k: f64,
    /// Loss of the bench mass to the air.
    pub loss_w_k: f64,
    pub pump_power_w: f64,
    /// Thermostat on the bench mass: on below, off above.
    pub on_below_k: f64,
    pub off_above_k: f64,
}

/// Where the water goes.
#[derive(Debug, Clone, Serialize)]
#[allow(clippy::large_enum_variant)] // there is one in a rig
pub enum Water {
    /// Nothing: a stove without water.
    None,
    /// Cold water passes the coil once.
    OnceThrough {
        supply: Pipe,
        ret: Pipe,
        inlet_k: f64,
        /// Pressure of the supply against the open end, Pa.
        supply_pressure_pa: f64,
        /// Valve: velocity heads on the return pipe's bore when fully open.
        valve_loss_k: f64,
    },
    /// A vessel, with draws, and a bench loop where there is one. A loop brings it the heat of coils; without one walls that stand in
    /// its water do.
    Store {
        circuit: Option<Loop>,
        vessel: Vessel,
        draws: Vec<Draw>,
        bench: Option<Bench>,
    },
    /// The loop warms a bench directly, without a vessel. Of the bench only conductance, mass, start and loss count:
    /// flow and pump power are zero, supply is the start temperature, the thermostat is always on (thresholds infinite).
    BenchOnly {
        circuit: Loop,
        bench: Bench,
        bench_z_m: f64,
    },
}

/// A control that moves at given times; holds its value between.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Steps<T> {
    pub initial: T,
    /// `(at_s, value)` in increasing time.
    pub moves: Vec<(f64, T)>,
}

/// What a control rule looks at; values in K or Pa.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub enum Signal {
    Chamber,
    Stack,
    CoilOutlet,
    TankTop,
    TankMean,
}

/// Two-point rule with hysteresis: above `high` take `when_high`, below `low` take `when_low`, between keep.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ControlRule<T> {
    pub signal: Signal,
    pub low: f64,
    pub high: f64,
    pub when_low: T,
    pub when_high: T,
    /// The rule is asleep before this time.
    pub from_s: f64,
}

#[derive(Debug, Clone, Serialize)]
pub struct Control<T> {
    pub steps: Steps<T>,
    pub rule: Option<ControlRule<T>>,
}

#[derive(Debug, Clone, Serialize)]
pub struct Controls {
    /// Open share of the damper section, 0..1 (only with a damper section).
    pub damper: Control<f64>,
    /// Open share of mouth and air inlets, 0..1.
    pub air_inlet: Control<f64>,
    /// Index of the pump setting; `None` stopped.
    pub pump: Control<Option<usize>>,
    /// Once-through valve, 0..1.
    pub valve: Control<f64>,
    /// Tub cover on.
    pub cover: Control<bool>,
}

/// Numerical settings; the physics must not depend on them.
#[derive(Debug, Clone, Serialize)]
pub struct SolverSettings {
    pub rtol: f64,
    pub atol: f64,
    /// Multiplies every default cell and layer count (thin layers exempt).
    pub cell_factor: usize,
    /// Spacing of `series.csv`.
    pub output_interval_s: f64,
    /// Inflated time constants of air column, flame zone and pumped loop, s.
    pub air_inertia_s: f64,
    pub flame_inertia_s: f64,
    pub pump_inertia_s: f64,
}

impl Default for SolverSettings {
    fn default() -> Self {
        Self {
            rtol: 5e-3,
            atol: 1e-3,
            cell_factor: 1,
            output_interval_s: 20.0,
            air_inertia_s: 12.0,
            flame_inertia_s: 8.0,
            pump_inertia_s: 8.0,
        }
    }
}
