//! How a tube is wound into, across or around its section: length, turns, fit.

use super::{Cx, mm};
use crate::components::spec::{Bore, CoilForm, Section, SectionKind};
use crate::scenario::codes;
use crate::scenario::raw::RawCoil;
use crate::scenario::raw::types::At;
use crate::units::{UnitSystem, format_area, format_length, significant};
use std::f64::consts::PI;
use std::ops::Range;

/// Smallest side of a bore.
fn clear_m(bore: &Bore) -> f64 {
    match *bore {
        Bore::Round { diameter_m } => diameter_m,
        Bore::Rect { width_m, depth_m } => width_m.min(depth_m),
    }
}

/// As [`mm`] shows a length, rounded down or up so that what is suggested fits.
fn suggested(m: f64, round: fn(f64) -> f64) -> String {
    let step_m = if m < 1.0 { 1e-3 } else { 1e-2 };
    mm(round(m / step_m) * step_m)
}

/// A tube being wound into a section.
pub(super) struct Winding<'a> {
    pub c: &'a At<RawCoil>,
    pub path: &'a str,
    pub outside_m: f64,
    pub pitch_m: f64,
    pub parallel: usize,
    pub place: &'a Section,
}

impl Winding<'_> {
    fn refuse(
        &self,
        cx: &mut Cx<'_>,
        code: &'static codes::Code,
        span: Option<&Range<usize>>,
        message: String,
        (label, help): (&str, String),
    ) {
        let report = cx
            .at(
                code,
                span.unwrap_or(&self.c.span),
                format!("{}: {message}", self.path),
            )
            .label(label)
            .help(help);
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
        let report = cx
            .at(
                &codes::COIL_SPAN,
                span.unwrap_or(&self.c.span),
                format!("{}: {message}", self.path),
            )
            .label("tubes would overlap")
            .help(format!("at least {}", mm(self.outside_m)));
        cx.report(report);
        false
    }

    /// Form, length of one tube, extent along the section.
    pub fn helix(&self, plug: f64, cx: &mut Cx<'_>) -> Option<(CoilForm, f64, f64)> {
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
                (
                    "too wide",
                    format!(
                        "less than {}",
                        suggested(clear - self.outside_m, f64::floor)
                    ),
                ),
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
                (
                    "too narrow",
                    format!("more than {}", mm(2.0 * self.outside_m)),
                ),
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
        let most = (self.place.length_m - self.outside_m) / lead;
        sound &= self.check_span(span_m, (turns, most, per_turn, "turns"), cx);
        let form = CoilForm::Helix {
            coil_diameter_m: diameter,
            pitch_m: self.pitch_m,
        };
        sound.then_some((form, length_m, span_m))
    }

    /// Wound on the outside; gap and filler are filled in by [`Self::placed`].
    pub fn around(&self, cx: &mut Cx<'_>) -> Option<(CoilForm, f64, f64)> {
        let sound = self.check_pitch(cx);
        let wall_m: f64 = self.place.wall.iter().map(|l| l.thickness_m).sum();
        let diameter = self.place.bore.perimeter_m() / PI + 2.0 * wall_m + self.outside_m;
        let lead = self.pitch_m * self.parallel as f64;
        let per_turn = ((PI * diameter).powi(2) + lead * lead).sqrt();
        let (length_m, turns) = self.length_and_turns(per_turn, "turns", cx)?;
        let span_m = turns * lead + self.outside_m;
        let most = (self.place.length_m - self.outside_m) / lead;
        let sound = self.check_span(span_m, (turns, most, per_turn, "turns"), cx) && sound;
        let form = CoilForm::Around {
            coil_diameter_m: diameter,
            pitch_m: self.pitch_m,
            start_m: 0.0,
            span_m,
            gap_m: 0.0,
            filler_w_mk: None,
        };
        sound.then_some((form, length_m, span_m))
    }

    pub fn placed(&self, form: CoilForm, start: f64, cx: &mut Cx<'_>) -> Option<CoilForm> {
        let CoilForm::Around {
            coil_diameter_m,
            pitch_m,
            span_m,
            ..
        } = form
        else {
            return Some(form);
        };
        let v = &self.c.value;
        let gap_m = cx.or(&v.gap, &format!("{}.gap", self.path), "coil.gap")?;
        let filler_w_mk = match &v.filler {
            Some(k) => Some(k.value.si()?),
            None => None,
        };
        Some(CoilForm::Around {
            coil_diameter_m,
            pitch_m,
            start_m: start,
            span_m,
            gap_m,
            filler_w_mk,
        })
    }

    pub fn serpentine(&self, cx: &mut Cx<'_>) -> Option<(CoilForm, f64, f64)> {
        let (width_m, depth_m) = match self.place.bore {
            Bore::Rect { width_m, depth_m } => (width_m, depth_m),
            Bore::Round { .. } => {
                let span = self.c.value.form.as_ref().map(|f| &f.span);
                let message = format!(
                    "a serpentine needs a rectangular section; \"{}\" is round",
                    self.place.name
                );
                let help = "a section with width and depth, or a helix".to_owned();
                let said = ("straight runs", help);
                self.refuse(cx, &codes::COIL_DIAMETER, span, message, said);
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
            let most = (depth_m / self.outside_m).ceil() - 1.0;
            let said = ("too many", format!("at most {}", most.max(0.0)));
            self.refuse(cx, &codes::COIL_DIAMETER, span, message, said);
            sound = false;
        }
        let (length_m, runs) = self.length_and_turns(width_m, "runs", cx)?;
        let span_m = (runs.ceil() - 1.0).max(0.0) * self.pitch_m + self.outside_m;
        let most = ((self.place.length_m - self.outside_m) / self.pitch_m).floor() + 1.0;
        sound &= self.check_span(span_m, (runs, most, width_m, "runs"), cx);
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

    /// Whether the coil ends within its section. `most` of its `turns` (or runs), each of `per_turn_m` of tube, would fit.
    fn check_span(
        &self,
        span_m: f64,
        (turns, most, per_turn_m, what): (f64, f64, f64, &str),
        cx: &mut Cx<'_>,
    ) -> bool {
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
        // Rounded to the side that fits.
        let most = (most * 10.0).floor() / 10.0;
        let tube_m = (most * per_turn_m * 100.0).floor() / 100.0;
        let mut help = if most > 0.0 {
            format!(
                "at most {most} {what}, {} of tube; or ",
                format_length(tube_m, UnitSystem::Metric)
            )
        } else {
            String::new()
        };
        help += &format!("a section of at least {}", suggested(span_m, f64::ceil));
        let pitch_m = (self.pitch_m * most / turns * 1e3).floor() / 1e3;
        if what == "turns" && pitch_m >= self.outside_m {
            help += &format!("; or a pitch of {}", mm(pitch_m));
        }
        let said = ("too long for its section", help);
        self.refuse(cx, &codes::COIL_SPAN, at, message, said);
        false
    }

    /// Where along the section the coil begins.
    pub fn start_m(&self, span_m: f64, cx: &mut Cx<'_>) -> Option<f64> {
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
            let most = suggested((self.place.length_m - span_m).max(0.0), f64::floor);
            let said = ("too far", format!("at most {most}"));
            self.refuse(cx, &codes::COIL_SPAN, Some(&o.span), message, said);
            return None;
        }
        Some(start)
    }

    /// A tight passage is worth a note. It is never shut: a plug that passes inside a helix that passes inside the
    /// section, or runs that leave room in the depth, always leave some area.
    pub fn check_free(&self, free_m2: f64, gas: &[Section], cx: &mut Cx<'_>) {
        let flue = gas
            .iter()
            .filter(|s| s.kind == SectionKind::Flue)
            .map(Section::area_m2)
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
