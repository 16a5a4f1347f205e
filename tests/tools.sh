# shellcheck shell=bash
# shellcheck disable=SC2154 # root and logs are set by the script that sources this
# Programs that judge the files in deploy/. Sourced by tests/run, which has sourced deploy/shell.sh.

# Brings them along where they are not here yet: unpacked beside the results, for nothing of theirs is to be installed or
# started. Where they cannot be had, the tests themselves say so: they are skipped, and in CI they fail.
provide_tools() {
    local tools=$root/TestResults/tools packages=()
    command -v promtool >/dev/null || [[ -x $tools/usr/bin/promtool ]] || packages+=(prometheus)
    command -v shellcheck >/dev/null || [[ -x $tools/usr/bin/shellcheck ]] || packages+=(shellcheck)
    provide_lint "$tools/contracts-lint"
    ((${#packages[@]} > 0)) || return 0
    step "Fetching ${packages[*]}" "$logs/tools.log" fetch_tools "$tools" "${packages[@]}" ||
        say "Not to be had: ${packages[*]}; the tests that need them say so."
}

# Published rules that judge the documents in contracts/, from the npm registry, exact versions by their lock file.
provide_lint() {
    command -v npm >/dev/null || return 0
    [[ ! -d $1/node_modules ]] || cmp --silent "$1/package-lock.json" "$root/tests/contracts-lint/package-lock.json" || rm -rf "$1"
    if [[ ! -d $1/node_modules ]]; then
        step 'Fetching rules for documents' "$logs/contracts-lint.log" fetch_lint "$1" ||
            say 'Not to be had: rules for documents; the test that needs them says so.'
    fi
}

fetch_lint() {
    rm -rf "$1"
    mkdir -p "$1"
    cp "$root"/tests/contracts-lint/package{,-lock}.json "$root/tests/contracts-lint/.npmrc" "$1" || return 1
    npm ci --prefix "$1" --ignore-scripts --no-audit --no-fund || { rm -rf "$1/node_modules" && return 1; }
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
