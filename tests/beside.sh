# shellcheck shell=bash
# shellcheck disable=SC2154,SC2034 # what it does not set or use is of the script that sources this
# What runs beside the tests that mostly wait, and in which order those come. Sourced by tests/run, which has sourced deploy/shell.sh.

beside_pid=''
quiet_projects=()
# While the processors are busy beside them, those that wait most come first; the image is built by the time of the last.
readonly first='FieldAgent Faults EndToEnd Pages' last='Endurance Deploy'

# Projects that calculate and wait for nobody run beside the others: those mostly wait, for a database, a browser or a container.
quiet() {
    [[ $1 != FleetLight.Deploy.Tests ]] &&
        ! grep -rqE 'TestDatabase|StartedService|Postgres' --include='*.cs' --exclude-dir=obj "$root/tests/$1"
}

# The order of those that do not: names of the first, then all others, then those of the last.
ordered() {
    local project name part
    for part in $first '' $last; do
        for project in "${projects[@]}"; do
            name=${project#FleetLight.}
            name=${name%.Tests}
            if [[ -n $part ]]; then
                [[ $name != "$part" ]] || printf '%s\n' "$project"
            else
                [[ " $first $last " == *" $name "* ]] || printf '%s\n' "$project"
            fi
        done
    done
}

# What needs processors and no server, one after the other in the background: the image, the formatting, and the quiet projects.
# What they print is kept until they are asked for.
start_beside() {
    local name
    for name in "${quiet_projects[@]}"; do
        rm -f "$root/TestResults/$name.trx" "$logs/$name.code"
    done
    rm -f "$logs/format.code"
    set -m
    (
        set +em
        ! deploy_wanted || build_image >"$logs/service-image.log" 2>&1
        touch "$logs/service-image.done"
        if [[ -n $check ]]; then
            nice -n 10 dotnet format FleetLight.sln --verify-no-changes --no-restore </dev/null 7>&- 8>&- >"$logs/format.log" 2>&1
            echo "$?" >"$logs/format.code"
        fi
        for name in "${quiet_projects[@]}"; do
            began=$SECONDS
            timeout --foreground --kill-after=10 "${minutes_per_project}m" dotnet test --project "$root/tests/$name" --no-build \
                --configuration Release --results-directory "$root/TestResults" --report-trx --report-trx-filename "$name.trx" \
                "${options[@]}" </dev/null 7>&- 8>&- >"$logs/$name.log" 2>&1
            echo "$? $((SECONDS - began))" >"$logs/$name.code"
        done
    ) &
    beside_pid=$!
    set +m
}

# The first stage of the image as its test builds it, which finds every step in the engine's cache then, and says itself what is wrong
# with one that failed here. It gives way to the tests, some of which measure how long an answer takes.
build_image() {
    local proxies=() name
    for name in HTTP_PROXY HTTPS_PROXY NO_PROXY; do
        [[ -z ${!name:-} ]] || proxies+=(--build-arg "$name")
    done
    docker image inspect mcr.microsoft.com/dotnet/sdk:"$(sed -n 's/^ARG DOTNET=//p' "$root/deploy/Dockerfile")" >/dev/null || return 0
    DOCKER_BUILDKIT=0 docker build --network host --cpu-shares 256 --file deploy/Dockerfile "${proxies[@]}" --target build \
        --tag fleetlight/service:test-build . </dev/null 7>&- 8>&-
}

# Whatever is beside is at its end with the image before the test of the image begins.
await_image() {
    local until=$((SECONDS + minutes_per_project * 60))
    while [[ -n $beside_pid && ! -f $logs/service-image.done ]] && kill -0 "$beside_pid" 2>/dev/null && ((SECONDS < until)); do
        sleep 1
    done
}

finish_beside() {
    local name code seconds failed_before
    [[ -n $beside_pid ]] || return 0
    wait "$beside_pid" || true
    beside_pid=''
    if [[ -n $check && $(cat "$logs/format.code" 2>/dev/null) != 0 ]]; then
        tail -n 20 "$logs/format.log" >&2
        broken+=('the formatting differs; to mend it: dotnet format FleetLight.sln')
    fi
    for name in "${quiet_projects[@]}"; do
        say "$name: ran beside the others"
        cat "$logs/$name.log"
        read -r code seconds <"$logs/$name.code"
        failed_before=$failed
        count "$name" "$root/TestResults/$name.trx"
        judge "$name" "$code" $((failed - failed_before))
        say "$name: $seconds s"
    done
}
