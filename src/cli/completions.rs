//! `completions`: what a shell needs to complete the command line.

use clap::{Args, CommandFactory};
use clap_complete::Shell;

use super::arguments::Arguments;
use super::{Exit, Outcome, Session};

/// Write completions for a shell
#[derive(Args)]
#[command(
    after_help = "Examples:\n  rotorbook completions bash > ~/.local/share/bash-completion/completions/rotorbook\n  \
    rotorbook completions fish > ~/.config/fish/completions/rotorbook.fish"
)]
pub(super) struct CompletionsArguments {
    /// The shell
    #[arg(value_enum, value_name = "SHELL")]
    shell: Shell,
}

pub(super) fn run(session: &mut Session, arguments: &CompletionsArguments) -> Outcome {
    let mut script = Vec::new();
    clap_complete::generate(arguments.shell, &mut Arguments::command(), "rotorbook", &mut script);
    let script = String::from_utf8_lossy(&script);
    // Its last lines say what answers: what is first called where zsh loads it, or at once where it is read.
    let (options, names) = match (arguments.shell, script.rsplit_once("\nif [ \"$funcstack[1]\"")) {
        (Shell::Zsh, Some((options, _))) => (options, ZSH),
        (Shell::Bash, _) => (&*script, BASH),
        (Shell::Fish, _) => (&*script, FISH),
        _ => (&*script, ""),
    };
    session.terminal.print(options);
    session.terminal.print(names);
    Ok(Exit::Clean)
}

/// Names of items and results come from the book. `filenames` makes bash quote what has a space in it, which the scripts of
/// `clap_complete`, its dynamic ones included, do not.
const BASH: &str = r#"
_rotorbook_names() {
    local name names
    names=$(rotorbook complete -- "${COMP_WORDS[@]:1:COMP_CWORD-1}" "$2" 2>/dev/null)
    if [[ -n $names ]]; then
        COMPREPLY=()
        while IFS= read -r name; do COMPREPLY+=("$name"); done <<<"$names"
        compopt -o filenames 2>/dev/null
    else
        _rotorbook "$@"
    fi
}
complete -F _rotorbook_names -o bashdefault -o default rotorbook
"#;

const ZSH: &str = r#"
_rotorbook_names() {
    local -a names
    names=(${(f)"$(rotorbook complete -- "${(@)words[2,CURRENT-1]}" "$PREFIX" 2>/dev/null)"})
    if (( $#names )); then
        compadd -- "${names[@]}"
    else
        _rotorbook "$@"
    fi
}
compdef _rotorbook_names rotorbook
if [ "$funcstack[1]" = "_rotorbook" ]; then
    _rotorbook_names "$@"
fi
"#;

const FISH: &str = r#"
complete -c rotorbook -a "(rotorbook complete -- (commandline -opc)[2..-1] (commandline -ct) 2>/dev/null)"
"#;
