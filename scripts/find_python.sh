#!/bin/sh
# Prints the first command that is really a Python 3.11 or newer, or says what to install.
set -eu
for candidate in ${PYTHON:-} python3.11 python3 python3.12 python3.13 python3.14 python; do
    if "$candidate" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1; then
        echo "$candidate"
        exit 0
    fi
done
echo "stavewright needs Python 3.11 or newer and found none." >&2
echo "Install it (on Debian: apt-get install python3 python3-venv), or name yours: make PYTHON=/path/to/python3 ..." >&2
exit 1
