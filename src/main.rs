//! Starts the command line.

fn main() -> std::process::ExitCode {
    jaconet::command()
}
