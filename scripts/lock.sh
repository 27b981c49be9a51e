#!/bin/sh
# Re-makes the hashed locks in requirements/ from pyproject.toml; refuses a lock that names a host or a path.
# `make lock` keeps the versions already locked where they still fit; `make lock UPGRADE=--upgrade` takes the newest.
set -eu
python=$(sh scripts/find_python.sh)
[ -x .lock-tools/bin/uv ] || { "$python" -m venv --clear .lock-tools && .lock-tools/bin/python -m pip install -q uv; }

lock() {
    .lock-tools/bin/uv pip compile --quiet --universal --generate-hashes --python-version 3.11 --no-header \
        --no-emit-index-url --no-annotate ${UPGRADE:-} "$@"
}
lock --extra tunes --group build pyproject.toml -o requirements/run.txt
lock --extra tunes --group build --group test -c requirements/run.txt pyproject.toml -o requirements/test.txt
lock --group pyproject.toml:bench -o requirements/bench.txt

if grep -nE '://|^-|(^|[[:space:]])/|@ ' requirements/*.txt; then
    echo "A lock names a host or a path (above): it would not install elsewhere." >&2
    exit 1
fi
grep -ciE '^(torch|nvidia|cuda)' requirements/*.txt | grep -v ':0$' && { echo "A lock pulls in torch or CUDA." >&2; exit 1; }
wc -l requirements/*.txt
