#!/usr/bin/env bash
# Make .venv with the first Python here that is new enough.
set -euo pipefail

say() { printf '%s\n' "$*" >&2; }

new_enough() {
  command -v "$1" >/dev/null &&
    "$1" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null
}

pick() {
  local one
  for one in ${PYTHON:-} python3 python3.13 python3.12 python3.11; do
    if new_enough "$one"; then
      printf '%s\n' "$one"
      return
    fi
  done
  say "Python 3.11 or newer is needed, and none is on the path."
  say "Install one, or name it: make run PYTHON=/path/to/python3"
  return 1
}

python=$(pick)
if "$python" -m venv .venv >/dev/null 2>&1; then
  exit 0
fi
rm -rf .venv
if [ "$(id -u)" = 0 ] && command -v apt-get >/dev/null; then
  say "Fetching python3-venv, which this Python lacks ..."
  apt-get update -qq >/dev/null && apt-get install -y -qq python3-venv >/dev/null || true
  if "$python" -m venv .venv; then
    exit 0
  fi
  rm -rf .venv
fi
say "$python -m venv does not work here. On Debian or Ubuntu:"
say "    sudo apt-get install python3-venv"
say "then run the same command again."
exit 1
