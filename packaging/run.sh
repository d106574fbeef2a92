#!/bin/sh
# Opens Greenhouse Desk from a checkout: makes the private environment, the demo collection, and shows it.
#
#   sh packaging/run.sh                       the demo collection, in build/demo of the checkout
#   sh packaging/run.sh --store FOLDER ...    the same arguments as the command greenhouse-desk
#
# Without a screen it plays a whole bench session off-screen and leaves pictures and the record in build/played.
set -eu
checkout=$(CDPATH= cd -- "$(dirname -- "$0")/.." && pwd)
. "$checkout/packaging/environment.sh"
reused=$([ -e "$checkout/.venv/installed-requirements.txt" ] && echo "used as it was" || echo "made now")
environment
desk=$venv/bin/greenhouse-desk

if [ $# -gt 0 ]; then
    exec "$desk" "$@"
fi

if [ "$(uname -s)" != Darwin ] && [ -z "${DISPLAY:-}" ] && [ -z "${WAYLAND_DISPLAY:-}" ]; then
    say "ready: $venv is $reused. No screen here, so a whole bench session is played anew, off-screen at simulated" \
        "time, on a demo built for it (a minute or two)"
    exec "$venv/bin/python" "$checkout/packaging/play.py" "$checkout/build/played"
fi

demo=$checkout/build/demo
if [ ! -e "$demo/collection.db" ]; then
    say "building the demo collection in $demo"
    mkdir -p "$checkout/build"
    "$desk" --store "$demo" demo
fi
say "ready: $venv is $reused; opening the demo collection in $demo (delete that folder to have it built afresh)"
exec "$desk" --store "$demo"
