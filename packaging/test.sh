#!/bin/sh
# All checks, in the private environment: style, types, walls, then every test. A skipped test is a failure.
#
#   sh packaging/test.sh            under 15 minutes on two cores
#   sh packaging/test.sh --long     the long campaigns too
set -eu
checkout=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$checkout/packaging/environment.sh"

long=
case ${1:-} in
'') ;;
--long) long=--long ;;
*) die "unknown argument $1; the only one is --long" ;;
esac

# System tools the tests use, as "tool:Debian package".
tools="Xvfb:xvfb xdotool:xdotool pulseaudio:pulseaudio pactl:pulseaudio-utils parec:pulseaudio-utils
pdftoppm:poppler-utils dbus-daemon:dbus-daemon"
missing=
for pair in $tools; do
    command -v "${pair%%:*}" >/dev/null 2>&1 || missing="$missing ${pair#*:}"
done
[ -z "$missing" ] || debian_install $(printf '%s\n' $missing | sort -u)

environment
install_locked requirements-dev.txt
[ -z "$long" ] || install_locked requirements-long.txt --prefer-binary
cd "$checkout"
bin=$venv/bin
failed=
check() {
    name=$1
    shift
    say "$name"
    "$@" || failed="$failed, $name"
}

check "style (ruff)" "$bin/ruff" check .
check "types (mypy)" "$bin/mypy"
check "walls (import-linter)" "$bin/lint-imports"
if [ -n "$long" ]; then
    check "measures" "$bin/python" -m tests.benchmarks.measure
    check "mutation: changes of the rules that no test noticed" "$bin/python" packaging/mutate.py --sample 500
    check "mutation: thinning and the bell" "$bin/python" packaging/mutate.py thinning bell
fi
GREENHOUSE_NO_SKIP=1
export GREENHOUSE_NO_SKIP
# In several processes for each core, one of them at work on each. A process that a signal ended has failed, and what it
# told is shown whole, the stack of Python with it.
parts=$(($(nproc) * 4))
told=$(mktemp -d)
trap 'rm -rf "$told"' EXIT
part() {
    "$bin/python" -m pytest --part "$1/$parts" $long >"$told/$1" 2>&1 && return
    ended=$?
    [ "$ended" -le 128 ] || printf '\npart %s was ended by signal %s\n' "$1" "$((ended - 128))" >>"$told/$1"
    : >"$told/$1.failed"
}
worker() {
    of=$1
    while [ "$of" -le "$parts" ]; do
        part "$of"
        say "part $of of $parts: $(tail -n 1 "$told/$of")"
        of=$((of + $(nproc)))
    done
}
core=1
while [ "$core" -le "$(nproc)" ]; do
    worker "$core" &
    core=$((core + 1))
done
wait
status=0
for one in "$told"/*; do
    case $one in
    *.failed)
        status=1
        cat "${one%.failed}"
        ;;
    esac
done
if [ -n "$failed" ]; then
    say "failed before the tests: ${failed#, }"
    exit 1
fi
exit $status
