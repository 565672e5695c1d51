#!/usr/bin/env bash
# Makes requirements.lock: every release with its hashes, no addresses. uv stands in a place of its own, so that .venv
# holds nothing that the lock does not name.
set -euo pipefail
cd "$(dirname "$0")/.."

uv=.cache/uv
[ -x "$uv/bin/uv" ] || { .venv/bin/python -m venv "$uv" && "$uv/bin/python" -m pip install --quiet uv; }
"$uv/bin/uv" pip compile pyproject.toml --extra dev --python-version 3.11 --upgrade --universal \
    --generate-hashes --no-annotate --no-header --quiet --output-file requirements.lock
if grep -n '://' requirements.lock; then
    echo "requirements.lock holds addresses" >&2
    exit 1
fi
