use std::process::ExitCode;

fn main() -> ExitCode {
    rotorbook::run()
}
