#!/usr/bin/env bash
# Makes .venv hold exactly what requirements.lock says, and the package as it stands in this tree (not editable).
# Two stamps keep it a no-op: one of the lock and the Python used, one of every file the wheel is built from.
set -euo pipefail
cd "$(dirname "$0")/.."

venv=.venv
stamps=.stamps

# The first Python on the path that is new enough; `python3.13` may exist as a mere shim, so each is asked.
find_python() {
    local name
    for name in python3.11 python3.12 python3.13 python3.14 python3; do
        if "$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; then
            command -v "$name"
            return
        fi
    done
    echo "Python 3.11 or later is missing: apt-get install -y python3 python3-venv" >&2
    return 1
}

need_venv() {
    "$1" -c 'import ensurepip, venv' 2>/dev/null && return
    echo "Python's venv is missing: apt-get install -y python3-venv" >&2
    return 1
}

digest() { sha256sum | cut -d ' ' -f 1; }

lock_digest() { { "$venv/bin/python" --version; cat requirements.lock; } | digest; }

tree_digest() {
    {
        lock_digest
        find pyproject.toml LICENSE README.md src examples -type f \
            -not -path '*/__pycache__/*' -not -path '*/.cache/*' -not -path 'examples/*/book/*' -print0 \
            | LC_ALL=C sort -z | xargs -0 sha256sum
    } | digest
}

unchanged() { [ -f "$stamps/$1" ] && [ "$(cat "$stamps/$1")" = "$2" ]; }

mkdir -p "$stamps"
if ! "$venv/bin/python" -m pip --version >/dev/null 2>&1; then
    python=$(find_python)
    need_venv "$python"
    rm -rf "$venv" "$stamps"/*
    "$python" -m venv "$venv"
fi

if ! unchanged lock "$(lock_digest)"; then
    echo "Installing the tools named in requirements.lock"
    "$venv/bin/python" -m pip install --quiet --quiet --require-hashes -r requirements.lock
    lock_digest >"$stamps/lock"
fi

if ! unchanged tree "$(tree_digest)"; then
    echo "Installing Cordwright into $venv"
    "$venv/bin/python" -m pip install --quiet --quiet --force-reinstall --no-deps --no-build-isolation .
    # Compiled once here, so that nobody waits for it at the first layout.
    "$venv/bin/cordwright" lay examples/weaving-studio --panel W --json >/dev/null
    "$venv/bin/python" -c 'from cordwright.heat.solve import warm_up; warm_up()'
    "$venv/bin/python" -c 'from cordwright.heat.year_run import warm_up; warm_up()'
    tree_digest >"$stamps/tree"
fi
