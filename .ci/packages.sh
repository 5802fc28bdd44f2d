#!/usr/bin/env bash
# Fetch the servers and the browser the whole test run needs, where that is possible.
set -euo pipefail

missing=()
command -v redis-server >/dev/null || missing+=(redis-server)
ls /usr/lib/postgresql/*/bin/initdb >/dev/null 2>&1 || missing+=(postgresql)
command -v "${CHROMIUM:-chromium}" >/dev/null || missing+=(chromium fonts-dejavu-core)

if [ ${#missing[@]} -eq 0 ]; then
  exit 0
fi
if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
  echo "Not here, and only root on Debian or Ubuntu can fetch them: ${missing[*]}"
  exit 0
fi
echo "Fetching ${missing[*]} ..."
export DEBIAN_FRONTEND=noninteractive
apt-get update -qq >/dev/null || true
apt-get install -y -qq --no-install-recommends "${missing[@]}" >/dev/null ||
  echo "Could not fetch them all."
