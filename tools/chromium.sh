#!/usr/bin/env bash
# The browser tests drive Debian's Chromium. As root it is installed; anyone else is told how.
set -euo pipefail

command -v chromium >/dev/null && exit 0
if [ "$(id -u)" -ne 0 ]; then
    echo "Chromium is missing: sudo apt-get install -y chromium chromium-driver" >&2
    exit 1
fi
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq
apt-get install -y -qq chromium chromium-driver
