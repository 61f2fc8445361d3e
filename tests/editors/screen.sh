# Sourced by the tests of editors that draw in a terminal: one that nobody sees, whose keys are sent and screen is read.
socket=rotorbook-$$
trap 'tmux -L "$socket" kill-server 2>/dev/null || true' EXIT

begin() { tmux -L "$socket" -f /dev/null new-session -d -x 140 -y 70 "$1"; }
screen() { tmux -L "$socket" capture-pane -p; }
# An escape that is read together with the next key would be another key.
keys() {
  for key; do
    tmux -L "$socket" send-keys "$key"
    if [ "$key" = Escape ]; then sleep 0.6; else sleep 0.15; fi
  done
}
text() { tmux -L "$socket" send-keys -l "$1"; sleep 0.15; }
fail() { screen; echo "not so: $1"; exit 1; }

# The screen shows a text, or no longer does.
shows() { for _ in $(seq 150); do screen | grep -qF -- "$1" && return; sleep 0.2; done; fail "the screen shows $1"; }
hides() { for _ in $(seq 150); do screen | grep -qF -- "$1" || return 0; sleep 0.2; done; fail "$1 goes from the screen"; }

line_of() { grep -nF -- "$2" "$1" | head -n 1 | cut -d: -f1; }
