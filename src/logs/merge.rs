//! Two tables of one burn on one clock: a second logger, a feed sheet.

use super::{ClockBase, Decision, Problem, Reading};

const DAY_S: f64 = 86_400.0;

/// Lays `other` (named `name`) beside `main` on the clock of `main`.
pub fn merge(main: &mut Reading, other: Reading, name: &str) {
    let mut shift = 0.0;
    let day = |t: f64| (t / DAY_S).floor() * DAY_S;
    match (main.base, other.base) {
        (ClockBase::Date, ClockBase::Date) | (ClockBase::Midnight, ClockBase::Midnight) => {}
        (ClockBase::Date, ClockBase::Midnight) => shift = day(main.first_s),
        (ClockBase::Midnight, ClockBase::Date) => shift = -day(other.first_s),
        (ClockBase::Start, ClockBase::Start) => {
            main.decisions.push(
                Decision::new(format!("clock of {name}"), "as that of the log", "both count from an unknown moment")
                    .asking(format!("did {name} begin with the log? `offset` under [time] of its mapping says by how much its clock differs")),
            );
        }
        _ => main.problems.push(Problem::error(
            format!("{name} and the log have no common clock: one tells the time of day, the other counts from an unknown moment"),
            "write `start = \"17:05\"`, the clock at the first row, under [time] of the mapping of the one that counts",
        )),
    }
    // Clocks without date: the day on which the two lie nearest to each other.
    if main.base != ClockBase::Start
        && other.base != ClockBase::Start
        && (main.base, other.base) != (ClockBase::Date, ClockBase::Date)
    {
        let middle = |a: f64, b: f64| 0.5 * (a + b);
        let apart =
            middle(main.first_s, main.last_s) - (middle(other.first_s, other.last_s) + shift);
        shift += (apart / DAY_S).round() * DAY_S;
    }
    let tag = |text: String| format!("{name}: {text}");
    for mut channel in other.channels {
        if main.channels.iter().any(|c| c.name == channel.name) {
            channel.name = tag(channel.name);
        }
        channel.time_s.iter_mut().for_each(|t| *t += shift);
        main.channels.push(channel);
    }
    for mut event in other.events {
        event.time_s += shift;
        main.events.push(event);
    }
    for mut flag in other.flags {
        flag.first_s += shift;
        flag.last_s += shift;
        flag.reason = tag(flag.reason);
        main.flags.push(flag);
    }
    for mut problem in other.problems {
        problem.message = tag(problem.message);
        main.problems.push(problem);
    }
    for mut decision in other.decisions {
        decision.about = tag(decision.about);
        main.decisions.push(decision);
    }
    main.events.sort_by(|a, b| a.time_s.total_cmp(&b.time_s));
    main.flags.sort_by(|a, b| a.first_s.total_cmp(&b.first_s));
}
