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
# As many processes as cores, each with its part of the tests; the first is seen at work, the others are told after it.
parts=$(nproc)
told=$(mktemp -d)
trap 'rm -rf "$told"' EXIT
part=2
while [ "$part" -le "$parts" ]; do
    { "$bin/python" -m pytest --part "$part/$parts" $long >"$told/$part" 2>&1 || : >"$told/$part.failed"; } &
    part=$((part + 1))
done
status=0
"$bin/python" -m pytest --part "1/$parts" $long || status=$?
wait
for part in "$told"/*; do
    case $part in
    *.failed) status=1 ;;
    *) [ -e "$part" ] && cat "$part" ;;
    esac
done
if [ -n "$failed" ]; then
    say "failed before the tests: ${failed#, }"
    exit 1
fi
exit $status
