#!/bin/sh
# Makes the project's own environment, .venv, afresh; says what to install when Python cannot.
set -eu
python=$(sh scripts/find_python.sh)
if ! "$python" -m venv --clear .venv; then
    version=$("$python" -c 'import sys; print("%d.%d" % sys.version_info[:2])')
    rm -rf .venv
    echo "" >&2
    echo "Python $version could not make the environment .venv: its venv or ensurepip part is missing." >&2
    echo "On Debian or Ubuntu run:  apt-get install python$version-venv    (as root, or with sudo), then try again." >&2
    exit 1
fi
