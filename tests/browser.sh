# shellcheck shell=bash
# shellcheck disable=SC2154 # logs is set by the script that sources this
# Chromium, in which the pages are tested. Sourced by tests/run, which has sourced deploy/shell.sh.

# Brings it along where it is not here yet. Where it cannot be had, the tests themselves say so: they are skipped, and
# in CI they fail.
provide_browser() {
    [[ -z ${FLEETLIGHT_TEST_CHROMIUM:-} ]] || return 0
    ! command -v chromium >/dev/null || return 0
    ! install_browser || return 0
    say "No Chromium here and none could be installed; as root: apt-get install chromium"
}

install_browser() {
    local as_root=()
    command -v apt-get >/dev/null || return 1
    if [[ $EUID -ne 0 ]]; then
        # Only where it asks for no password: nobody may be there to type one.
        sudo -n true 2>/dev/null || return 1
        as_root=(sudo -n env DEBIAN_FRONTEND=noninteractive)
    fi
    export DEBIAN_FRONTEND=noninteractive
    step 'Looking up Debian packages' "$logs/apt.log" "${as_root[@]}" apt-get update &&
        step 'Installing the browser Chromium' "$logs/apt.log" \
            "${as_root[@]}" apt-get install -y --no-install-recommends chromium fonts-dejavu-core
}
