#!/bin/sh
# Sees that the system packages the tests need are there (Debian names, one a line in
# scripts/system_packages.txt; empty lines and lines starting with # do not count).
# Installs what is missing as root or through `sudo -n`; otherwise fails with the exact command.
set -eu
list=scripts/system_packages.txt
wanted=$(sed -e 's/#.*//' -e '/^[[:space:]]*$/d' "$list" | tr -s '[:space:]' ' ')
[ -n "${wanted% }" ] || exit 0

if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "The tests need these system packages (Debian names): $wanted" >&2
    echo "This is not Debian: install their like with your system's package manager, then run" >&2
    echo "  make test SYSTEM_PACKAGES=present" >&2
    exit 1
fi

missing=""
for package in $wanted; do
    state=$(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null || true)
    [ "$state" = installed ] || missing="$missing $package"
done
[ -n "$missing" ] || exit 0

command="apt-get update && apt-get install -y --no-install-recommends$missing"
export DEBIAN_FRONTEND=noninteractive
if [ "$(id -u)" = 0 ]; then
    sh -c "$command"
elif sudo -n true 2>/dev/null; then
    sudo -n sh -c "DEBIAN_FRONTEND=noninteractive; export DEBIAN_FRONTEND; $command"
else
    echo "The tests need system packages that are not installed. Run this as root, then try again:" >&2
    echo "  $command" >&2
    exit 1
fi
