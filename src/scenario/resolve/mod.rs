//! From the checked raw mirror to a complete [`Rig`]: references, geometry, conflicts, defaults.
//!
//! Every part resolves to an `Option`; a part that is missing or refused was already reported, so the rest goes
//! on and one pass finds all problems. The rig exists only where every part does.

mod bypass;
mod chamber_coil;
mod closed;
mod coil;
mod control;
mod damp;
mod drum;
mod fire;
mod gas;
mod immersed;
mod jacket;
mod numerics;
mod room;
mod site;
mod store;
mod water;
mod winding;

use super::Defaulted;
use super::codes::{self, Code};
use super::defaults;
use super::diagnostic::{Diagnostics, Report, nearest};
use super::raw::types::{At, Flag, OfKind, Q, Text, Word, Words};
use super::raw::{RawPipe, RawScenario};
use super::walk::{clip, head};
use crate::components::spec::{Rig, Wetted};
use crate::units;
use std::ops::Range;

/// What a resolution works with.
pub(super) struct Cx<'d> {
    diags: &'d mut Diagnostics,
    defaults: &'d mut Vec<Defaulted>,
}

/// What the rig has: decides which keys have an effect.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Features {
    pub damper: bool,
    pub coil: bool,
    /// Walls that stand in the store's water.
    pub in_water: bool,
    pub drum: bool,
    pub drum_open: bool,
    pub drum_layered: bool,
    pub coil_in_gas: bool,
    pub coil_around: bool,
    /// Coil, windings or jacket of a section.
    pub coil_in_path: bool,
    /// Surfaces on which soot and tar are followed: coils in sections, flues.
    pub sooty: bool,
    pub water: bool,
    pub store: bool,
    pub tub: bool,
    pub cover: bool,
    pub layered: bool,
    pub pumped: bool,
    pub once_through: bool,
    pub bench_only: bool,
}

/// A length in millimetres.
pub(super) fn mm(m: f64) -> String {
    format!("{} mm", crate::units::significant(m * 1e3, 3))
}

/// The SI value of a quantity that was given and readable.
pub(super) fn si<K: OfKind>(given: &Option<At<Q<K>>>) -> Option<f64> {
    given.as_ref()?.value.si()
}

/// A name that was given and is a text.
pub(super) fn text(given: &Option<At<Text>>) -> Option<&str> {
    given.as_ref()?.value.read.as_deref()
}

/// A word that was given and is in its list.
pub(super) fn word<E: Words>(given: &Option<At<Word<E>>>) -> Option<E> {
    given.as_ref()?.value.read
}

impl Cx<'_> {
    pub fn report(&mut self, report: Report) {
        self.diags.push(report);
    }

    /// A finding whose caret stays on the first line of a long value.
    pub fn at(
        &self,
        code: &'static Code,
        span: &Range<usize>,
        message: impl Into<String>,
    ) -> Report {
        Report::new(code, &head(self.diags, span), message)
    }

    /// Says that a default was taken, or a value worked out.
    pub fn echo(
        &mut self,
        path: impl Into<String>,
        value: impl Into<String>,
        reason: impl Into<String>,
    ) {
        self.defaults.push(Defaulted {
            path: path.into(),
            value: value.into(),
            reason: reason.into(),
        });
    }

    /// The fixed default of a key, named and echoed under `path`.
    pub fn default_text(&mut self, path: &str, key: &str) -> &'static str {
        let Some(d) = defaults::find(key) else {
            // A key without its row is a fault of this program, never of the person: it shows at once in the tests.
            debug_assert!(false, "no default for {key}");
            return "";
        };
        self.echo(path, d.value, d.reason);
        d.value
    }

    /// The given value, or the fixed default of the key.
    pub fn or<K: OfKind>(
        &mut self,
        given: &Option<At<Q<K>>>,
        path: &str,
        key: &str,
    ) -> Option<f64> {
        match given {
            Some(q) => q.value.si(),
            None => {
                let text = self.default_text(path, key);
                units::parse(K::KIND, text).ok().map(|p| p.si)
            }
        }
    }

    /// The given word, or the fixed default of the key.
    pub fn word_or<E: Words>(
        &mut self,
        given: &Option<At<Word<E>>>,
        path: &str,
        key: &str,
    ) -> Option<E> {
        match given {
            Some(w) => w.value.read,
            None => E::from_word(self.default_text(path, key)),
        }
    }

    /// The given switch, or the fixed default of the key.
    pub fn flag_or(&mut self, given: &Option<At<Flag>>, path: &str, key: &str) -> Option<bool> {
        match given {
            Some(f) => f.value.read,
            None => Some(self.default_text(path, key) == "true"),
        }
    }

    /// Refuses a key that could not move anything.
    pub fn no_effect<T>(&mut self, given: &Option<At<T>>, path: &str, why: &str) {
        if let Some(v) = given {
            let report = self
                .at(
                    &codes::NO_EFFECT,
                    &v.span,
                    format!("{path} has no effect in this rig: {why}"),
                )
                .label("no effect")
                .help("leave it out");
            self.report(report);
        }
    }

    /// Refuses two keys that say the same thing.
    pub fn conflict(&mut self, a: (&Range<usize>, &str), b: (&Range<usize>, &str), why: &str) {
        let (first, second) = (head(self.diags, a.0), head(self.diags, b.0));
        let report = Report::new(
            &codes::CONFLICT,
            &second,
            format!("{} and {} contradict each other: {why}", a.1, b.1),
        )
        .label(format!("{} here", b.1))
        .also(&first, format!("{} here", a.1))
        .help("keep one of them");
        self.report(report);
    }

    /// Reports a missing key of a group whose heading is at `span`.
    pub fn missing(&mut self, span: &Range<usize>, message: impl Into<String>) {
        // Something else than a group stood here: that was reported, and its keys are not missed.
        let written = self.diags.source().slice(span);
        let scalar = written.starts_with(['"', '\'', '+', '-'])
            || written.starts_with(|c: char| c.is_ascii_digit())
            || matches!(written, "true" | "false");
        if scalar {
            return;
        }
        let report = self.at(&codes::MISSING_KEY, span, message).label("here");
        self.report(report);
    }

    /// Reports a name that no table holds.
    pub fn unknown_name(
        &mut self,
        code: &'static Code,
        span: &Range<usize>,
        what: &str,
        name: &str,
        known: &[&str],
    ) {
        let report = Report::new(code, span, format!("unknown {what} \"{}\"", clip(name)))
            .label("not in the table");
        let list = known.join(", ");
        let report = match nearest(name, known.iter().copied()) {
            Some(near) => report.help(format!("did you mean \"{near}\"? known: {list}")),
            None => report.help(format!("known: {list}")),
        };
        self.report(report);
    }
}

/// Resolves a whole scenario; `None` where anything was refused or is missing.
pub(super) fn rig(
    raw: &RawScenario,
    diags: &mut Diagnostics,
    defaults: &mut Vec<Defaulted>,
) -> Option<Rig> {
    let mut cx = Cx { diags, defaults };
    let cx = &mut cx;
    let title = text(&raw.title).map(str::to_owned);
    let site = site::site(raw, cx);
    let fuel = fire::fuel(raw, cx);
    let lighting = fire::lighting(raw, cx);
    let firebox = fire::firebox(raw, cx);
    let feeding = fire::feeding(raw, cx);
    if let (Some(fuel), Some(firebox)) = (&fuel, &firebox) {
        room::check(raw, fuel, firebox, cx);
    }
    let gas = gas::path(raw, cx);
    let features = water::features(raw);
    water::check_presence(raw, &features, cx);
    drum::check_presence(raw, cx);
    immersed::check(raw, &features, cx);
    let drum = raw.drum.as_ref().map(|d| drum::drum(d, cx));
    let hot_port_z_m = water::hot_port_z_m(raw);
    let coils = coil::coils(
        raw,
        gas.as_deref(),
        firebox.as_ref(),
        drum.as_ref().and_then(Option::as_ref),
        hot_port_z_m,
        &features,
        cx,
    );
    let water = water::water(raw, &features, cx);
    let target = site::target(raw, &features, cx);
    let stop = site::stop(raw, &features, cx);
    let thermometer = site::thermometer(raw, &features, cx);
    let controls = control::controls(raw, &features, cx);
    let closures = numerics::closures(raw, &features, cx);
    let solver = numerics::solver(raw, &features, cx);
    let rig = Rig {
        title: title?,
        site: site?,
        target: target?,
        stop: stop?,
        fuel: fuel?,
        lighting: lighting?,
        feeding: feeding?,
        firebox: firebox?,
        gas_path: gas?,
        coils: coils?,
        drum: match drum {
            Some(d) => Some(d?),
            None => None,
        },
        water: water?,
        wetted: wetted(raw),
        thermometer: thermometer?,
        controls: controls?,
        closures: closures?,
        solver: solver?,
    };
    immersed::check_rig(raw, &rig, cx);
    Some(rig)
}

/// What the water touches besides the coils, as far as the scenario names it.
fn wetted(raw: &RawScenario) -> Vec<Wetted> {
    let circuit = raw.circuit.as_ref().map(|c| &c.value);
    fn kind(p: Option<&At<RawPipe>>) -> Option<&str> {
        text(&p?.value.kind)
    }
    let shell = raw.store.as_ref().and_then(|s| s.value.shell.as_ref());
    [
        ("supply pipe", kind(circuit.and_then(|c| c.supply.as_ref()))),
        ("return pipe", kind(circuit.and_then(|c| c.ret.as_ref()))),
        ("store", shell.and_then(|s| text(&s.value.material))),
    ]
    .into_iter()
    .filter_map(|(place, material)| {
        Some(Wetted {
            place: place.into(),
            material: material?.into(),
        })
    })
    .collect()
}
