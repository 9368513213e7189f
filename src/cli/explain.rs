//! `explain`: an error or warning code at length.

use serde_json::json;

use super::args::ExplainArgs;
use super::console::Console;
use super::error::CliError;
use super::ports;

pub fn run(console: &Console, args: &ExplainArgs) -> Result<(), CliError> {
    let code = args.code.trim().to_ascii_uppercase();
    let Some(text) = ports::explain(&code) else {
        let known = ports::known_codes();
        let nearest = known
            .iter()
            .max_by(|a, b| {
                let near = |c: &str| strsim::jaro_winkler(&code, c);
                near(a).total_cmp(&near(b))
            })
            .map(|c| {
                format!("the nearest code is {c}; codes look like E0101 (scenario) or W0101 (run)")
            });
        return Err(CliError::Usage {
            message: format!("no error or warning has the code `{}`", args.code),
            hint: nearest,
        });
    };
    if args.json {
        console.result(&format!("{:#}", json!({ "code": code, "text": text })))
    } else {
        console.result(&text)
    }
}
