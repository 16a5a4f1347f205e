# shellcheck shell=bash
# shellcheck disable=SC2154 # root and logs are set by the script that sources this
# Programs that judge the files in deploy/. Sourced by tests/run, which has sourced deploy/shell.sh.

# Brings them along where they are not here yet: unpacked beside the results, for nothing of theirs is to be installed or
# started. Where they cannot be had, the tests themselves say so: they are skipped, and in CI they fail.
provide_tools() {
    local tools=$root/TestResults/tools packages=()
    command -v promtool >/dev/null || [[ -x $tools/usr/bin/promtool ]] || packages+=(prometheus)
    command -v shellcheck >/dev/null || [[ -x $tools/usr/bin/shellcheck ]] || packages+=(shellcheck)
    ((${#packages[@]} > 0)) || return 0
    step "Fetching ${packages[*]}" "$logs/tools.log" fetch_tools "$tools" "${packages[@]}" ||
        say "Not to be had: ${packages[*]}; the tests that need them say so."
}

fetch_tools() {
    local tools=$1 folder file
    shift
    command -v apt-get >/dev/null && command -v dpkg-deb >/dev/null || return 1
    # Only root may bring the lists up to date; the old ones may do.
    [[ $EUID -ne 0 ]] || apt-get update || true
    folder=$(mktemp -d)
    mkdir -p "$tools"
    (cd "$folder" && apt-get download "$@") || return 1
    for file in "$folder"/*.deb; do
        dpkg-deb --extract "$file" "$tools" || return 1
    done
    rm -rf "$folder"
}
