# shellcheck shell=bash
# What the repository's bash scripts share: plain messages and progress for slow steps. Sourced, never run, by a script
# that has set root to the repository's folder.

step_pid=''

say() {
    printf '%s\n' "$*" >&2
}

fail() {
    say "error: $*"
    exit 1
}

# Runs a command with its output in a log file and says how long it has been going; shows the log if it fails.
# A terminal gets one line that counts the seconds; a file or a pipe gets a line every ten seconds.
step() {
    local label=$1 log=$2 began=$SECONDS told=0 took code=0
    shift 2
    "$@" >"$log" 2>&1 </dev/null &
    step_pid=$!
    while kill -0 "$step_pid" 2>/dev/null; do
        sleep 0.2
        took=$((SECONDS - began))
        ((took >= told + 1)) || continue
        if [[ -t 2 ]]; then
            told=$took
            printf '\r%s … %d s' "$label" "$took" >&2
        elif ((took >= told + 10)); then
            told=$took
            say "$label … $took s"
        fi
    done
    wait "$step_pid" || code=$?
    step_pid=''
    [[ ! -t 2 ]] || printf '\r\033[K' >&2
    if ((code == 0)); then
        say "$label: done in $((SECONDS - began)) s"
    else
        say "$label: failed after $((SECONDS - began)) s, this is what it said:"
        cat "$log" >&2
    fi
    return "$code"
}

# Ends the running step, for scripts that are interrupted in the middle of one.
end_step() {
    [[ -z $step_pid ]] || kill "$step_pid" 2>/dev/null || true
    step_pid=''
}

# True if something on this machine accepts connections on the port.
port_taken() {
    (exec 3<>"/dev/tcp/127.0.0.1/$1") 2>/dev/null
}

# The .NET command line without its banner, telemetry, certificate or servers that outlive the command, and with a
# home folder that can be written even where HOME is unset or read-only.
prepare_dotnet() {
    local spare_home=$1 version
    if [[ -z ${HOME:-} || ! -w ${HOME:-} ]]; then
        mkdir -p "$spare_home"
        export HOME=$spare_home
    fi
    export DOTNET_CLI_TELEMETRY_OPTOUT=1 DOTNET_NOLOGO=1 DOTNET_GENERATE_ASPNET_CERTIFICATE=false
    export DOTNET_CLI_USE_MSBUILD_SERVER=0 MSBUILDDISABLENODEREUSE=1 UseSharedCompilation=false
    # Asking each package author's certificate authority takes minutes where only the package registry is reachable.
    # Signatures and the hashes in the lock files are still checked.
    export NUGET_CERT_REVOCATION_MODE=${NUGET_CERT_REVOCATION_MODE:-offline}
    command -v dotnet >/dev/null || fail "the .NET 10 SDK is needed, and there is no dotnet command on the PATH."
    version=$(cd "${root:?}" && dotnet --version 2>&1) ||
        fail "the .NET 10 SDK is needed; dotnet --version said: $version"
    [[ $version == 10.* ]] || fail "the .NET 10 SDK is needed; dotnet --version says $version."
}

# One compiler for all projects of a build: else each of them starts its own and loads the analyzers again. Its name is this
# build's own, so that no other build's is ended.
share_compiler() {
    export UseSharedCompilation=true SharedCompilationId=fleetlight-$$
}

# Ends what share_compiler led to.
end_compiler() {
    local process
    [[ -n ${SharedCompilationId:-} ]] || return 0
    for process in /proc/[0-9]*; do
        ! grep -qza -- "^-pipename:$SharedCompilationId\$" "$process/cmdline" 2>/dev/null || kill "${process#/proc/}" 2>/dev/null || true
    done
    export UseSharedCompilation=false
    unset SharedCompilationId
}

# A client program of PostgreSQL: the newest on this machine, as a server takes older clients but a client no newer server.
postgres_program() {
    local found
    found=$(find /usr/lib/postgresql /usr/pgsql-* /opt/homebrew/opt/postgresql* -path "*/bin/$1" 2>/dev/null | sort -V | tail -n 1)
    [[ -n $found ]] || found=$(command -v "$1") || fail "$1 is needed; it comes with PostgreSQL's client programs."
    printf '%s\n' "$found"
}

# Tells PostgreSQL's client programs where to connect, from the connection string of the service. The password goes through
# the environment, where other users cannot read it.
libpq_settings() {
    local part name value
    while IFS= read -r -d ';' part || [[ -n $part ]]; do
        name=${part%%=*} value=${part#*=}
        case ${name,,} in
            host | server) export PGHOST=$value ;;
            port) export PGPORT=$value ;;
            database) export PGDATABASE=$value ;;
            username | 'user id' | user) export PGUSER=$value ;;
            password) export PGPASSWORD=$value ;;
        esac
    done < <(printf '%s' "$1")
}
