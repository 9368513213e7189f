//! Coils: tube, length and turns, fit in the passage, heights.

use super::gas::section_name;
use super::{Cx, Features, si, text, word};
use crate::components::spec::{
    Bore, Coil, CoilForm, Firebox, Section, SectionKind, TubeMetal, WaterEntry,
};
use crate::properties::{metals, tubes};
use crate::scenario::codes;
use crate::scenario::raw::types::{At, NameOr};
use crate::scenario::raw::{Enters, Form, RawCoil, RawScenario};
use crate::units::{UnitSystem, format_area, format_length, significant};
use std::f64::consts::PI;
use std::ops::Range;

fn mm(m: f64) -> String {
    format!("{} mm", significant(m * 1e3, 3))
}

/// All coils, in the order of the water.
pub(super) fn coils(
    raw: &RawScenario,
    gas: Option<&[Section]>,
    firebox: Option<&Firebox>,
    hot_port_z_m: Option<(f64, Range<usize>)>,
    f: &Features,
    cx: &mut Cx<'_>,
) -> Option<Vec<Coil>> {
    let Some(list) = &raw.coil else {
        return Some(Vec::new());
    };
    let list = &list.value.0;
    let mut names: Vec<(String, Range<usize>)> = Vec::new();
    let mut taken: Vec<(usize, Range<usize>)> = Vec::new();
    let mut out = Vec::new();
    for (i, c) in list.iter().enumerate() {
        let name = match (&c.value.name, text(&c.value.name)) {
            (Some(_), given) => given.map(str::to_owned),
            (None, _) if list.len() == 1 => Some("coil".to_owned()),
            (None, _) => Some(format!("coil {}", i + 1)),
        };
        if let Some(n) = &name {
            let at = c.value.name.as_ref().map_or(&c.span, |n| &n.span);
            if let Some((_, first)) = names.iter().find(|(m, _)| m == n) {
                let report = cx
                    .at(
                        &codes::DUPLICATE_NAME,
                        at,
                        format!("two coils are named \"{n}\""),
                    )
                    .label("second")
                    .also(&first.clone(), "first");
                cx.report(report);
            }
            names.push((n.clone(), at.clone()));
        }
        let section = find_section(raw, &c.value, cx);
        if let Some((s, at)) = &section {
            if let Some((_, first)) = taken.iter().find(|(t, _)| t == s) {
                let report = cx
                    .at(
                        &codes::COIL_CROWDED,
                        at,
                        "this section already carries a coil",
                    )
                    .label("second coil")
                    .also(&first.clone(), "first coil")
                    .help("split the section in two, or use `parallel` for tubes side by side");
                cx.report(report);
            }
            taken.push((*s, at.clone()));
        }
        let single = list.len() == 1;
        out.push(coil(
            c,
            name,
            section.map(|(s, _)| s),
            single,
            raw,
            gas,
            firebox,
            cx,
        ));
    }
    let coils: Option<Vec<Coil>> = out.into_iter().collect();
    if let (Some(all), Some((port, span)), false) = (&coils, hot_port_z_m, f.pumped) {
        check_head(all, port, &span, cx);
    }
    coils
}

/// A thermosyphon needs its cooled water above its heated water.
fn check_head(coils: &[Coil], port_z_m: f64, span: &Range<usize>, cx: &mut Cx<'_>) {
    let Some(top) = coils.iter().max_by(|a, b| a.top_z_m.total_cmp(&b.top_z_m)) else {
        return;
    };
    let middle = 0.5 * (top.bottom_z_m + top.top_z_m);
    if port_z_m <= middle {
        let report = cx
            .at(
                &codes::LOW_STORE,
                span,
                format!(
                    "the hot port, {} above the hearth, is not above the middle of coil \"{}\" at {}",
                    format_length(port_z_m, UnitSystem::Metric),
                    top.name,
                    format_length(middle, UnitSystem::Metric)
                ),
            )
            .label("too low to be driven by buoyancy");
        cx.report(report);
    }
}

/// The section that a coil names.
fn find_section(raw: &RawScenario, c: &RawCoil, cx: &mut Cx<'_>) -> Option<(usize, Range<usize>)> {
    let (given, name) = (c.section.as_ref()?, text(&c.section)?);
    let sections = &raw.gas_path.as_ref()?.value.0;
    let names: Vec<String> = sections
        .iter()
        .filter_map(|s| section_name(&s.value))
        .collect();
    let found = sections
        .iter()
        .position(|s| section_name(&s.value).as_deref() == Some(name));
    if found.is_none() {
        let known: Vec<&str> = names.iter().map(String::as_str).collect();
        cx.unknown_name(
            &codes::NO_SUCH_SECTION,
            &given.span,
            "section of the gas path",
            name,
            &known,
        );
    }
    found.map(|i| (i, given.span.clone()))
}

/// Outside, inside, metal name of the tube.
fn tube(c: &At<RawCoil>, path: &str, cx: &mut Cx<'_>) -> Option<(f64, f64, Option<String>)> {
    let given = c.value.tube.as_ref()?;
    match &given.value {
        NameOr::Name(name) => match tubes::by_name(name) {
            Some(t) => Some((t.outside_m, t.inside_m, Some(t.metal.to_owned()))),
            None => {
                let names = tubes::names();
                let known: Vec<&str> = names.iter().map(String::as_str).collect();
                let report = cx
                    .at(
                        &codes::NO_SUCH_TUBE,
                        &given.span,
                        format!("unknown tube \"{}\"", crate::scenario::walk::clip(name)),
                    )
                    .label("not in the table");
                let help = "write the size with its type (\"1/2 in type L\", \"1/2 in ACR\", \"22x1 copper\", \"DN20\"), \
                            or { outside = \"15.9 mm\", inside = \"13.8 mm\" }";
                let near = crate::scenario::diagnostic::nearest(name, known.iter().copied());
                let report = match near {
                    Some(near) => report.help(format!("did you mean \"{near}\"? {help}")),
                    None => report.help(help),
                };
                cx.report(report);
                None
            }
        },
        NameOr::Group(t) => {
            let (o, i) = (si(&t.outside)?, si(&t.inside)?);
            if i >= o {
                let (outside, inside) = (t.outside.as_ref()?, t.inside.as_ref()?);
                let report = cx
                    .at(
                        &codes::TUBE_WALL,
                        &inside.span,
                        format!("{path}.tube: the inside is not smaller than the outside"),
                    )
                    .label("inside")
                    .also(&outside.span, "outside");
                cx.report(report);
                return None;
            }
            Some((o, i, None))
        }
        NameOr::Neither => None,
    }
}

fn metal(c: &At<RawCoil>, of_tube: Option<&str>, path: &str, cx: &mut Cx<'_>) -> Option<TubeMetal> {
    let name = match (&c.value.metal, of_tube) {
        (Some(_), _) => text(&c.value.metal)?.to_owned(),
        (None, Some(m)) => {
            cx.echo(format!("{path}.metal"), m, "the metal of this trade size");
            m.to_owned()
        }
        (None, None) => {
            if matches!(
                c.value.tube.as_ref().map(|t| &t.value),
                Some(NameOr::Group(_))
            ) {
                cx.missing(
                    &c.span,
                    format!("{path} needs \"metal\" where the tube is given by diameters"),
                );
            }
            return None;
        }
    };
    let Some(m) = metals::by_name(&name) else {
        let span = c.value.metal.as_ref().map_or(&c.span, |m| &m.span);
        cx.unknown_name(
            &codes::NO_SUCH_METAL,
            span,
            "tube metal",
            &name,
            &metals::names(),
        );
        return None;
    };
    Some(TubeMetal {
        name: m.name.to_owned(),
        density_kg_m3: m.density_kg_m3,
        heat_capacity_j_kgk: m.heat_capacity_j_kgk,
        conductivity_w_mk: m.conductivity_w_mk,
        emissivity: m.emissivity,
        limit_k: m.limit_k,
    })
}

#[allow(clippy::too_many_arguments)] // one call, everything that a coil refers to
fn coil(
    c: &At<RawCoil>,
    name: Option<String>,
    section: Option<usize>,
    single: bool,
    raw: &RawScenario,
    gas: Option<&[Section]>,
    firebox: Option<&Firebox>,
    cx: &mut Cx<'_>,
) -> Option<Coil> {
    let v = &c.value;
    let shown = name.as_deref().unwrap_or("?");
    let path = if single {
        "coil".to_owned()
    } else {
        format!("coil.{shown}")
    };
    let tube = tube(c, &path, cx);
    let metal = metal(c, tube.as_ref().and_then(|t| t.2.as_deref()), &path, cx);
    let parallel = match &v.parallel {
        Some(p) => p.value.read,
        None => {
            cx.default_text(&format!("{path}.parallel"), "coil.parallel");
            Some(1)
        }
    };
    let entry = cx.word_or(
        &v.water_enters,
        &format!("{path}.water_enters"),
        "coil.water_enters",
    );
    let fouling = cx.or(&v.fouling, &format!("{path}.fouling"), "coil.fouling");
    let form = word(&v.form);
    let plug = if form == Some(Form::Serpentine) {
        let why = "a serpentine has no core";
        cx.no_effect(&v.core_plug, &format!("{path}.core_plug"), why);
        cx.no_effect(
            &v.diameter,
            &format!("{path}.diameter"),
            "a serpentine has straight runs",
        );
        Some(0.0)
    } else {
        cx.or(&v.core_plug, &format!("{path}.core_plug"), "coil.core_plug")
    };
    let pitch = match (&v.pitch, tube.as_ref()) {
        (Some(q), _) => q.value.si(),
        (None, Some((outside, ..))) => {
            cx.echo(
                format!("{path}.pitch"),
                mm(2.0 * outside),
                "two tube diameters (common practice)",
            );
            Some(2.0 * outside)
        }
        (None, None) => None,
    };
    if form == Some(Form::Helix) && v.diameter.is_none() {
        cx.missing(&c.span, format!("{path}: a helix needs its \"diameter\""));
    }
    if v.length.is_none() && v.turns.is_none() {
        cx.missing(&c.span, format!("{path} needs \"length\" or \"turns\""));
    }
    if let (Some(l), Some(t)) = (&v.length, &v.turns) {
        cx.conflict(
            (&l.span, "length"),
            (&t.span, "turns"),
            "one follows from the other",
        );
    }
    let (outside_m, inside_m, _) = tube?;
    let (section, parallel, pitch, form) = (section?, parallel?, pitch?, form?);
    let place = gas?.get(section)?;
    let carries = !matches!(
        place.kind,
        SectionKind::Bend | SectionKind::Damper | SectionKind::Fan { .. }
    );
    if !carries && let Some(given) = &v.section {
        let report = cx
            .at(
                &codes::NO_SUCH_SECTION,
                &given.span,
                format!("{path}: section \"{}\" cannot carry a coil", place.name),
            )
            .label("a bend, damper or fan")
            .help("put the coil into a passage, riser, mass or flue");
        cx.report(report);
        return None;
    }
    let w = Winding {
        c,
        path: &path,
        outside_m,
        pitch_m: pitch,
        parallel,
        place,
    };
    let (coil_form, length_m, span_m) = match form {
        Form::Helix => w.helix(plug?, cx)?,
        Form::Serpentine => w.serpentine(cx)?,
    };
    let start_m = w.start_m(span_m, cx)?;
    let (bottom_z_m, top_z_m) = heights_z_m(
        raw, firebox, gas?, section, &coil_form, outside_m, start_m, span_m,
    )?;
    let free_m2 = free_area_m2(place, &coil_form, outside_m, parallel, plug?);
    w.check_free(free_m2, gas?, cx);
    Some(Coil {
        name: name?,
        section,
        form: coil_form,
        metal: metal?,
        tube_outside_m: outside_m,
        tube_inside_m: inside_m,
        length_m,
        parallel,
        water_entry: match entry? {
            Enters::GasInlet => WaterEntry::GasInlet,
            Enters::GasOutlet => WaterEntry::GasOutlet,
        },
        core_plug_share: plug?,
        cells: match &v.cells {
            Some(n) => Some(n.value.read?),
            None => None,
        },
        bottom_z_m,
        top_z_m,
        fouling_m2k_w: fouling?,
    })
}

/// Smallest side of a bore.
fn clear_m(bore: &Bore) -> f64 {
    match *bore {
        Bore::Round { diameter_m } => diameter_m,
        Bore::Rect { width_m, depth_m } => width_m.min(depth_m),
    }
}

/// A tube being wound into a section.
struct Winding<'a> {
    c: &'a At<RawCoil>,
    path: &'a str,
    outside_m: f64,
    pitch_m: f64,
    parallel: usize,
    place: &'a Section,
}

impl Winding<'_> {
    fn refuse(
        &self,
        cx: &mut Cx<'_>,
        code: &'static codes::Code,
        span: Option<&Range<usize>>,
        message: String,
        label: &str,
    ) {
        let report = cx
            .at(
                code,
                span.unwrap_or(&self.c.span),
                format!("{}: {message}", self.path),
            )
            .label(label);
        cx.report(report);
    }

    fn check_pitch(&self, cx: &mut Cx<'_>) -> bool {
        if self.pitch_m >= self.outside_m * (1.0 - 1e-9) {
            return true;
        }
        let span = self.c.value.pitch.as_ref().map(|p| &p.span);
        let message = format!(
            "the pitch {} is smaller than the tube {}",
            mm(self.pitch_m),
            mm(self.outside_m)
        );
        self.refuse(cx, &codes::COIL_SPAN, span, message, "tubes would overlap");
        false
    }

    /// Form, length of one tube, extent along the section.
    fn helix(&self, plug: f64, cx: &mut Cx<'_>) -> Option<(CoilForm, f64, f64)> {
        let v = &self.c.value;
        let d = v.diameter.as_ref()?;
        let diameter = d.value.si()?;
        let clear = clear_m(&self.place.bore);
        let mut sound = self.check_pitch(cx);
        if diameter + self.outside_m >= clear {
            let message = format!(
                "its outside diameter {} does not go into the section \"{}\" of {}",
                mm(diameter + self.outside_m),
                self.place.name,
                mm(clear)
            );
            self.refuse(
                cx,
                &codes::COIL_DIAMETER,
                Some(&d.span),
                message,
                "too wide",
            );
            sound = false;
        }
        if diameter <= 2.0 * self.outside_m {
            let message = format!("a tube of {} cannot be wound so narrow", mm(self.outside_m));
            self.refuse(
                cx,
                &codes::COIL_DIAMETER,
                Some(&d.span),
                message,
                "too narrow",
            );
            sound = false;
        }
        let plug_m = (4.0 * plug * self.place.bore.area_m2() / PI).sqrt();
        if plug_m > diameter - self.outside_m && plug > 0.0 {
            let span = v.core_plug.as_ref().map(|p| &p.span);
            let most = PI / 4.0 * (diameter - self.outside_m).powi(2) / self.place.bore.area_m2();
            let message = format!(
                "a round plug of this share is {} wide, but the helix is open for {}",
                mm(plug_m),
                mm(diameter - self.outside_m)
            );
            let report = cx
                .at(
                    &codes::PLUG,
                    span.unwrap_or(&self.c.span),
                    format!("{}: {message}", self.path),
                )
                .label("too wide")
                .help(format!("at most {} %", (most.max(0.0) * 100.0).floor()));
            cx.report(report);
            sound = false;
        }
        // Each of the parallel tubes climbs past its neighbours in one turn.
        let lead = self.pitch_m * self.parallel as f64;
        let per_turn = ((PI * diameter).powi(2) + lead * lead).sqrt();
        let (length_m, turns) = self.length_and_turns(per_turn, "turns", cx)?;
        let span_m = turns * lead + self.outside_m;
        sound &= self.check_span(span_m, cx);
        let form = CoilForm::Helix {
            coil_diameter_m: diameter,
            pitch_m: self.pitch_m,
        };
        sound.then_some((form, length_m, span_m))
    }

    fn serpentine(&self, cx: &mut Cx<'_>) -> Option<(CoilForm, f64, f64)> {
        let (width_m, depth_m) = match self.place.bore {
            Bore::Rect { width_m, depth_m } => (width_m, depth_m),
            Bore::Round { .. } => {
                let span = self.c.value.form.as_ref().map(|f| &f.span);
                let message = format!(
                    "a serpentine needs a rectangular section; \"{}\" is round",
                    self.place.name
                );
                self.refuse(cx, &codes::COIL_DIAMETER, span, message, "straight runs");
                return None;
            }
        };
        let mut sound = self.check_pitch(cx);
        let beside = self.parallel as f64 * self.outside_m;
        if beside >= depth_m {
            let span = self.c.value.parallel.as_ref().map(|p| &p.span);
            let message = format!(
                "{} tubes side by side take {}, the section is {} deep",
                self.parallel,
                mm(beside),
                mm(depth_m)
            );
            self.refuse(cx, &codes::COIL_DIAMETER, span, message, "too many");
            sound = false;
        }
        let (length_m, runs) = self.length_and_turns(width_m, "runs", cx)?;
        let span_m = (runs.ceil() - 1.0).max(0.0) * self.pitch_m + self.outside_m;
        sound &= self.check_span(span_m, cx);
        let form = CoilForm::Serpentine {
            pitch_m: self.pitch_m,
        };
        sound.then_some((form, length_m, span_m))
    }

    /// Length of one tube and its turns, whichever was given.
    fn length_and_turns(&self, per_turn_m: f64, what: &str, cx: &mut Cx<'_>) -> Option<(f64, f64)> {
        let v = &self.c.value;
        match (&v.length, &v.turns) {
            (Some(l), _) => {
                let length = l.value.si()?;
                let turns = length / per_turn_m;
                cx.echo(
                    format!("{}.turns", self.path),
                    significant(turns, 3),
                    format!("{what} that follow from the length"),
                );
                Some((length, turns))
            }
            (None, Some(t)) => {
                let turns = t.value.si()?;
                cx.echo(
                    format!("{}.length", self.path),
                    format_length(turns * per_turn_m, UnitSystem::Metric),
                    format!("follows from the {what}"),
                );
                Some((turns * per_turn_m, turns))
            }
            (None, None) => None,
        }
    }

    fn check_span(&self, span_m: f64, cx: &mut Cx<'_>) -> bool {
        if span_m <= self.place.length_m * (1.0 + 1e-9) {
            return true;
        }
        let v = &self.c.value;
        let at = v
            .length
            .as_ref()
            .map(|l| &l.span)
            .or(v.turns.as_ref().map(|t| &t.span));
        let message = format!(
            "the coil is {} long along the gas, the section \"{}\" only {}",
            mm(span_m),
            self.place.name,
            mm(self.place.length_m)
        );
        self.refuse(
            cx,
            &codes::COIL_SPAN,
            at,
            message,
            "too long for its section",
        );
        false
    }

    /// Where along the section the coil begins.
    fn start_m(&self, span_m: f64, cx: &mut Cx<'_>) -> Option<f64> {
        let Some(o) = &self.c.value.offset else {
            let start = 0.5 * (self.place.length_m - span_m);
            cx.echo(
                format!("{}.offset", self.path),
                mm(start.max(0.0)),
                "the coil sits in the middle of its section",
            );
            return Some(start.max(0.0));
        };
        let start = o.value.si()?;
        if start + span_m > self.place.length_m * (1.0 + 1e-9) {
            let message = format!(
                "with this offset the coil of {} ends beyond its section of {}",
                mm(span_m),
                mm(self.place.length_m)
            );
            self.refuse(cx, &codes::COIL_SPAN, Some(&o.span), message, "too far");
            return None;
        }
        Some(start)
    }

    /// A tight passage is worth a note. It is never shut: a plug that passes inside a helix that passes inside the
    /// section, or runs that leave room in the depth, always leave some area.
    fn check_free(&self, free_m2: f64, gas: &[Section], cx: &mut Cx<'_>) {
        let flue = gas
            .iter()
            .filter(|s| s.kind == SectionKind::Flue)
            .map(|s| s.bore.area_m2())
            .fold(f64::INFINITY, f64::min);
        if flue.is_finite() && free_m2 < flue {
            let show = |a| format_area(a, UnitSystem::Metric);
            let message = format!(
                "{}: {} stay free beside the tubes, less than the flue's {}",
                self.path,
                show(free_m2),
                show(flue)
            );
            let report = cx
                .at(&codes::TIGHT_PASSAGE, &self.c.span, message)
                .label("tighter than the flue");
            cx.report(report);
        }
    }
}

/// Free cross-section beside tubes and plug, where the tubes stand.
fn free_area_m2(
    place: &Section,
    form: &CoilForm,
    outside_m: f64,
    parallel: usize,
    plug: f64,
) -> f64 {
    let area = place.bore.area_m2();
    let tubes = match *form {
        CoilForm::Helix {
            coil_diameter_m, ..
        } => PI * coil_diameter_m * outside_m,
        CoilForm::Serpentine { .. } => {
            let width = match place.bore {
                Bore::Rect { width_m, .. } => width_m,
                Bore::Round { diameter_m } => diameter_m,
            };
            width * outside_m * parallel as f64
        }
    };
    area * (1.0 - plug) - tubes
}

/// Lowest and highest point of the coil above the hearth floor.
#[allow(clippy::too_many_arguments)] // one call
fn heights_z_m(
    raw: &RawScenario,
    firebox: Option<&Firebox>,
    gas: &[Section],
    section: usize,
    form: &CoilForm,
    outside_m: f64,
    start_m: f64,
    span_m: f64,
) -> Option<(f64, f64)> {
    let outlet_z = match firebox {
        Some(f) => f.height_m,
        None => si(&raw.firebox.as_ref()?.value.height)?,
    };
    let below: f64 = gas[..section].iter().map(|s| s.rise_m).sum();
    let s = &gas[section];
    let slope = s.rise_m / s.length_m;
    let z0 = outlet_z + below + slope * (start_m + 0.5 * outside_m);
    let z1 = outlet_z + below + slope * (start_m + span_m - 0.5 * outside_m);
    let across = match *form {
        CoilForm::Helix {
            coil_diameter_m, ..
        } => 0.5 * coil_diameter_m * (1.0 - slope * slope).max(0.0).sqrt(),
        CoilForm::Serpentine { .. } => 0.0,
    };
    let half = across + 0.5 * outside_m;
    Some((z0.min(z1) - half, z0.max(z1) + half))
}
