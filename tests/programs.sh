# shellcheck shell=bash
# shellcheck disable=SC2154 # logs is set by the script that sources this
# Programs that tests use: the circuit simulator ngspice, against which the electrics are tested, Chromium, in which the
# pages are, and the GIS programs of GDAL, which read the open data. Sourced by tests/run, which has sourced deploy/shell.sh.

# Each is brought along where it is not here yet. Where it cannot be had, the tests themselves say so: they are skipped, and
# in CI they fail.
provide_simulator() {
    command -v ngspice >/dev/null || install_program 'the simulator ngspice' ngspice
}

provide_browser() {
    [[ -n ${FLEETLIGHT_TEST_CHROMIUM:-} ]] || command -v chromium >/dev/null ||
        install_program 'the browser Chromium' chromium fonts-dejavu-core
}

provide_gis() {
    command -v ogrinfo >/dev/null || install_program 'the GIS programs of GDAL' gdal-bin
}

# Says what to do where it fails, which ends nothing.
install_program() {
    local name=$1
    shift
    ! install_packages "$name" "$@" || return 0
    say "Not here, and not to be installed: $name. As root: apt-get install $*"
}

install_packages() {
    local name=$1 as_root=()
    shift
    command -v apt-get >/dev/null || return 1
    if [[ $EUID -ne 0 ]]; then
        # Only where it asks for no password: nobody may be there to type one.
        sudo -n true 2>/dev/null || return 1
        as_root=(sudo -n env DEBIAN_FRONTEND=noninteractive)
    fi
    export DEBIAN_FRONTEND=noninteractive
    step 'Looking up Debian packages' "$logs/apt.log" "${as_root[@]}" apt-get update &&
        step "Installing $name" "$logs/apt.log" "${as_root[@]}" apt-get install -y --no-install-recommends "$@"
}
