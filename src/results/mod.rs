//! What a run gives, as plain data: series, events, ledger, summary. Nothing here computes physics,
//! touches a file or knows a component; everything serializes whole.

mod audit;
mod bands;
mod compare;
mod drawing;
pub mod figures;
mod fit;
mod hazard;
mod in_a_row;
mod ledger;
mod season;
mod series;
mod study;
mod summary;

pub use audit::{
    Audit, AuditBudget, AuditCurve, AuditEvent, AuditFlag, BudgetLine, Measured, SourceRow,
};
pub use bands::{Band, Bands, TankBand};
pub use compare::{
    CompareCurves, ComparedEntry, ComparedPair, Comparison, Difference, EntryKind, Quantity, Span,
    Verdict,
};
pub use drawing::{
    BenchShape, ClosedShape, CoilShape, DrumShape, FireboxShape, PipeShape, PortKind, PortMark,
    RigDrawing, SectionMark, SectionShape, VesselShape,
};
pub use fit::{
    FitAdvice, FitCurves, FitProbe, FitReport, FitValue, Rehearsal, RehearsedLog, RehearsedValue,
};
pub use hazard::{Couple, FaultReport, FaultStatus, Growth, HazardReport, LimitMet, Remedy};
pub use in_a_row::BurnInRow;
pub use ledger::{Ledger, LedgerLine, MassBalance};
pub use season::{
    LayerCell, LayerKind, SeasonBand, SeasonBurn, SeasonReport, SeasonRun, SeasonSample,
    SeasonTotal,
};
pub use series::Series;
pub use study::{Part, RowStatus, StudyAxis, StudyHead, StudyRow};
pub use summary::{Burst, Echo, LayerMoisture, SolverCounters, Summary, Warning};

use serde::Serialize;

/// Something that happened at one moment.
#[derive(Debug, Clone, Serialize)]
pub struct EventRecord {
    pub time_s: f64,
    pub kind: EventKind,
    /// Plain words, without the time ("added 0.7 kg", "pump to high").
    pub text: String,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum EventKind {
    Lit,
    Feed,
    DoorClosed,
    Damper,
    AirInlet,
    Pump,
    Valve,
    Cover,
    Draw,
    Bench,
    TargetReached,
    BoilingStarts,
    BoilingEnds,
    WallBoilingStarts,
    ReliefLifts,
    ReliefReseats,
    Burst,
    SmokeSpill,
    End,
}

/// One curve of the picture "pump against system" (or buoyancy against friction).
#[derive(Debug, Clone, Serialize)]
pub struct OperatingPicture {
    /// What the driving curve is: "pump, setting high" or "buoyancy".
    pub driving_label: String,
    /// `(flow_kg_s, pa)`
    pub driving: Vec<(f64, f64)>,
    pub system_label: String,
    pub system: Vec<(f64, f64)>,
    /// Where the loop typically worked, `(flow_kg_s, pa)`: the moment of the median heat into the store over the time that
    /// the pump ran at this setting with the fire heating the store; of the settings, the one that did so longest.
    pub point: (f64, f64),
}

/// Everything that one burn gives.
#[derive(Debug, Clone, Serialize)]
pub struct BurnResult {
    pub summary: Summary,
    pub ledger: Ledger,
    pub events: Vec<EventRecord>,
    pub series: Series,
    pub operating: Option<OperatingPicture>,
    /// Geometry for the picture of the rig.
    pub rig: Option<RigDrawing>,
    /// Target temperature for the pictures.
    pub target_k: f64,
    /// Over samples of the closures' priors, where these were run.
    pub bands: Option<Bands>,
    /// Named defaults that the scenario did not set, `(path, value as text, reason)`.
    pub defaults: Vec<Echo>,
}
