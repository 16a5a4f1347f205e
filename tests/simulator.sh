# shellcheck shell=bash
# shellcheck disable=SC2154 # logs is set by the script that sources this
# The circuit simulator ngspice, against which the electrics are tested. Sourced by tests/run, which has sourced
# deploy/shell.sh.

# Brings it along where it is not here yet. Where it cannot be had, the tests themselves say so: they are skipped, and
# in CI they fail.
provide_simulator() {
    ! command -v ngspice >/dev/null || return 0
    ! install_simulator || return 0
    say "No ngspice here and none could be installed; as root: apt-get install ngspice"
}

install_simulator() {
    local as_root=()
    command -v apt-get >/dev/null || return 1
    if [[ $EUID -ne 0 ]]; then
        # Only where it asks for no password: nobody may be there to type one.
        sudo -n true 2>/dev/null || return 1
        as_root=(sudo -n env DEBIAN_FRONTEND=noninteractive)
    fi
    export DEBIAN_FRONTEND=noninteractive
    step 'Looking up Debian packages' "$logs/apt.log" "${as_root[@]}" apt-get update &&
        step 'Installing the simulator ngspice' "$logs/apt.log" \
            "${as_root[@]}" apt-get install -y --no-install-recommends ngspice
}
