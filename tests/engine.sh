# shellcheck shell=bash
# shellcheck disable=SC2154 # root and logs are set by the script that sources this
# A container engine for Testcontainers. Sourced by tests/run, which has sourced deploy/shell.sh.
#
# An engine that runs here is used as it is. Where there is none, root on Debian installs one and runs it for the tests
# alone: with its own socket, data folder and log, published ports on 127.0.0.1 and the machine's forwarding rules left
# alone. Several test runs share it: each holds a lock, and the last to let go ends the engine.

readonly engine_state=/run/fleetlight-tests engine_data=/var/lib/fleetlight/test-engine
engine_is_ours=''

# Leaves the environment set for docker and Testcontainers, or returns 1 if no engine can be had.
find_engine() {
    [[ -z ${FLEETLIGHT_NO_ENGINE:-} ]] || return 1
    if engine_answers; then
        say 'Container engine: the one that runs here.'
        return
    fi
    [[ $EUID -eq 0 ]] || return 1
    command -v dockerd >/dev/null || install_engine || return 1
    # Where services are managed, the package has started one.
    ! engine_answers || return 0
    (umask 077 && mkdir -p "$engine_state")
    exec 8>"$engine_state/start.lock" 7>"$engine_state/users.lock"
    flock 8
    flock -s 7
    engine_is_ours=yes
    export DOCKER_HOST=unix://$engine_state/docker.sock
    engine_answers || start_engine || return 1
    flock -u 8
    # What Testcontainers asks for by default is newer than Debian's engine, its clean-up image cannot be pulled where
    # we need an engine of our own, and ports are published on the loopback address only.
    DOCKER_API_VERSION=$(docker version --format '{{.Server.APIVersion}}')
    export DOCKER_API_VERSION TESTCONTAINERS_RYUK_DISABLED=true TESTCONTAINERS_HOST_OVERRIDE=127.0.0.1
    say "Container engine: our own, version $(docker version --format '{{.Server.Version}}')."
}

engine_answers() {
    timeout 20 docker info >/dev/null 2>&1
}

install_engine() {
    command -v apt-get >/dev/null || return 1
    export DEBIAN_FRONTEND=noninteractive
    step 'Looking up Debian packages' "$logs/apt.log" apt-get update &&
        step 'Installing a container engine' "$logs/apt.log" \
            apt-get install -y --no-install-recommends docker.io iptables
}

start_engine() {
    rm -f "$engine_state/docker.pid"
    # In a session of its own, so that Ctrl-C ends the tests before their engine.
    setsid dockerd --host "$DOCKER_HOST" --data-root "$engine_data" --exec-root "$engine_state/exec" \
        --pidfile "$engine_state/docker.pid" --ip 127.0.0.1 --iptables=false --ip6tables=false --ip-forward=false \
        --ip-masq=false >"$engine_state/dockerd.log" 2>&1 </dev/null 7>&- 8>&- &
    step 'Starting the container engine' "$logs/engine.log" wait_for_engine "$!" || {
        tail -n 20 "$engine_state/dockerd.log" >&2
        return 1
    }
    remove_containers
}

wait_for_engine() {
    local tries
    for ((tries = 0; tries < 150; tries++)); do
        ! engine_answers || return 0
        kill -0 "$1" || return 1
        sleep 0.2
    done
    return 1
}

# Of our own engine's only, and only while no other run uses it.
remove_containers() {
    local left
    mapfile -t left < <(docker ps --all --quiet --filter label=org.testcontainers)
    ((${#left[@]} == 0)) || docker rm --force --volumes "${left[@]}" >/dev/null
}

stop_engine() {
    local pid tries
    [[ -n $engine_is_ours ]] || return 0
    engine_is_ours=''
    flock 8
    # Our share of the lock becomes the whole of it, unless another run has its share.
    flock -n -x 7 || return 0
    remove_containers || true
    pid=$(cat "$engine_state/docker.pid" 2>/dev/null) || return 0
    kill "$pid" 2>/dev/null || return 0
    for ((tries = 0; tries < 100; tries++)); do
        kill -0 "$pid" 2>/dev/null || return 0
        sleep 0.2
    done
    say "The container engine, process $pid, does not end; ending it hard."
    kill -KILL "$pid" 2>/dev/null || true
}

# The image that the tests ask for: there already, pulled, or made of this machine's PostgreSQL.
provide_image() {
    ! docker image inspect "$1" >/dev/null 2>&1 || return 0
    say "The image $1 is not here yet."
    ! timeout 90 docker pull --quiet "$1" >"$logs/pull.log" 2>&1 || return 0
    say 'It cannot be pulled; making one of the PostgreSQL of this machine.'
    step 'Making the image' "$logs/image.log" "$root/tests/local-postgres-image" "$1"
}

# The base images that deploy/Dockerfile asks for: there already, pulled, or made of this machine's .NET. Without an engine,
# or without them, the test that builds the image says so.
provide_dotnet_images() {
    local version images image missing=''
    engine_answers || return 0
    version=$(sed -n 's/^ARG DOTNET=//p' "$root/deploy/Dockerfile")
    images=("mcr.microsoft.com/dotnet/aspnet:$version" "mcr.microsoft.com/dotnet/sdk:$version")
    for image in "${images[@]}"; do
        docker image inspect "$image" >/dev/null 2>&1 || timeout 300 docker pull --quiet "$image" >"$logs/pull.log" 2>&1 || missing=yes
    done
    [[ -n $missing ]] || return 0
    say 'The base images of .NET cannot be pulled; making stand-ins of the .NET of this machine.'
    step 'Making the base images' "$logs/image.log" "$root/tests/local-dotnet-images" "${images[@]}" || true
}
