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
status=0
# One process a core; a core that has run out of tests takes some of another's.
"$bin/python" -m pytest -n "$(nproc)" --dist worksteal $long || status=$?
if [ -n "$failed" ]; then
    say "failed before the tests: ${failed#, }"
    exit 1
fi
exit $status
