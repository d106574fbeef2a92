# The private environment in .venv, shared by run.sh and test.sh: sourced, not run. POSIX sh.
# Needs $checkout. Says what it does on standard error, so that standard output stays the program's own.

say() { printf '%s\n' "greenhouse-desk: $*" >&2; }
die() { say "$*"; exit 1; }

may_install() { [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1; }

# Install Debian packages where permitted, else print the exact command and fail.
debian_install() {
    if may_install; then
        say "installing $*"
        log=$(mktemp)
        if ! DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$@" >"$log" 2>&1; then
            apt-get update >>"$log" 2>&1 || true
            DEBIAN_FRONTEND=noninteractive apt-get install -y --no-install-recommends "$@" >>"$log" 2>&1 || {
                tail -n 15 "$log" >&2; rm -f "$log"; die "apt-get could not install: $*"; }
        fi
        rm -f "$log"
    elif command -v apt-get >/dev/null 2>&1; then
        die "missing on this machine. Please run:  sudo apt-get install --no-install-recommends $*"
    else
        die "missing on this machine. Please install what your system calls these Debian packages: $*"
    fi
}

# A Python that PySide6's wheels exist for; sets $python.
find_python() {
    for python in "${GREENHOUSE_PYTHON:-python3}" python3.11 python3.12 python3.13 python3.14 python; do
        "$python" -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2] < (3, 15))' >/dev/null 2>&1 && return
    done
    die "no Python from 3.11 to 3.14 was found. Install one, or name it: GREENHOUSE_PYTHON=/path/to/python sh $0"
}

make_environment() {
    venv=$checkout/.venv
    if [ -x "$venv/bin/python" ] && "$venv/bin/python" -m pip --version >/dev/null 2>&1 &&
        [ "$(cat "$venv/of-checkout" 2>/dev/null || printf %s "$checkout")" = "$checkout" ]; then
        return
    fi
    [ -w "$checkout" ] || [ -w "$venv" ] ||
        die "nothing can be written in $checkout. Copy it to a folder of your own, and start it there"
    find_python
    "$python" -c 'import ensurepip, venv' >/dev/null 2>&1 || debian_install python3-venv
    say "making the private environment .venv with $("$python" --version)"
    "$python" -m venv --clear "$venv" || die "could not make $venv"
    printf %s "$checkout" >"$venv/of-checkout"
}

# install_locked LOCK [PIP OPTIONS]: what the lock names, with its hashes; done at once when it was installed before.
# Only built packages are taken, but for two of pure Python that are published in source form only.
install_locked() {
    lock=$checkout/packaging/$1
    wanted=$("$venv/bin/python" -c 'import hashlib, sys; print(hashlib.sha256(open(sys.argv[1], "rb").read()).hexdigest())' "$lock")
    stamp=$venv/installed-$1
    [ "$(cat "$stamp" 2>/dev/null)" = "$wanted" ] && return
    say "installing what packaging/$1 names (once; the first time takes some minutes)"
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check --no-input --require-hashes \
        ${2---only-binary=:all: --no-binary=psychrolib,autograd-gamma} --requirement "$lock" ||
        die "pip could not install packaging/$1; is the network there?"
    printf '%s\n' "$wanted" >"$stamp"
}

# The project itself: a path file and the command, so that a checkout needs no build and runs what it holds.
install_project() {
    site=$("$venv/bin/python" -c 'import sysconfig; print(sysconfig.get_path("purelib"))')
    [ "$(cat "$site/greenhouse_desk_checkout.pth" 2>/dev/null)" = "$checkout" ] ||
        printf '%s\n' "$checkout" >"$site/greenhouse_desk_checkout.pth"
    for command in greenhouse-desk greenhouse-desk-window; do
        [ -x "$venv/bin/$command" ] && continue
        printf '#!/bin/sh\nexec "%s/bin/python" -P -m greenhouse_desk "$@"\n' "$venv" >"$venv/bin/$command"
        chmod +x "$venv/bin/$command"
    done
}

# What Qt's window and sound libraries ask for and do not find on this machine: one library a line.
missing_libraries() {
    [ "$(uname -s)" = Linux ] && command -v ldd >/dev/null 2>&1 || return 0
    qt=$("$venv/bin/python" -c 'import PySide6; print(PySide6.__path__[0])')
    for part in "$qt"/Qt/plugins/platforms/libqxcb.so "$qt"/Qt/plugins/platforms/libqoffscreen.so \
        "$qt"/Qt/plugins/multimedia/*.so "$qt"/QtWidgets*.so "$qt"/QtMultimedia*.so "$qt"/Qt/lib/libQt6Svg.so.6; do
        [ -e "$part" ] && ldd "$part" 2>/dev/null
    done | sed -n 's/^[[:space:]]*\([^ ]*\) => not found.*/\1/p' | sort -u
}

# package_of LIBRARY: the Debian package of a shared library, by Debian's naming rule and its few exceptions.
package_of() {
    case $1 in
    libglib-2.0.so.0 | libgthread-2.0.so.0 | libgobject-2.0.so.0 | libgio-2.0.so.0) echo libglib2.0-0 ;;
    libz.so.1) echo zlib1g ;;
    libnss3.so | libnssutil3.so | libsmime3.so) echo libnss3 ;;
    libnspr4.so) echo libnspr4 ;;
    libgssapi_krb5.so.2) echo libgssapi-krb5-2 ;;
    libstdc++.so.6) echo libstdc++6 ;;
    libpulse-simple.so.0 | libpulse-mainloop-glib.so.0) echo libpulse0 ;;
    *) printf '%s\n' "$1" | tr 'A-Z_' 'a-z-' | sed -e 's/\([0-9]\)\.so\./\1-/' -e 's/\.so\.//' ;;
    esac
}

check_libraries() {
    stamp=$venv/libraries-found
    [ -e "$stamp" ] && [ "$stamp" -nt "$venv/installed-requirements.txt" ] && return
    libraries=$(missing_libraries)
    if [ -n "$libraries" ]; then
        say "Qt does not find" $libraries
        debian_install $(for library in $libraries; do package_of "$library"; done | sort -u)
        libraries=$(missing_libraries)
        [ -z "$libraries" ] || die "Qt still does not find" $libraries
    fi
    : >"$stamp"
}

environment() {
    make_environment
    install_locked requirements.txt
    check_libraries
    install_project
}
