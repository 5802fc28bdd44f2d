#!/usr/bin/env bash
# Both passes of the tests: all of tests/builds on PostgreSQL, then everything on SQLite.
set -euo pipefail

unset DATABASE_URL REDIS_URL DEBUG DEMO SECRET_KEY ALLOWED_HOSTS
workers=${WORKERS:-2}

echo "== compiling the engine's loops, if that is not done yet: once for all that follows"
.venv/bin/python -m tests.scheduling.compile_all

if [ -n "${TEST_DATABASE_URL:-}" ]; then
  echo "== tests/builds on PostgreSQL"
  DATABASE_URL=$TEST_DATABASE_URL .venv/bin/pytest tests/builds -q -n "$workers" -m "not redis and not faults and not fault"
fi

echo "== everything, on SQLite"
# The browser's driver keeps a loop running in the thread; Django refuses its
# database there unless told that nothing is shared.
DJANGO_ALLOW_ASYNC_UNSAFE=true .venv/bin/pytest tests -q -n "$workers" --dist loadgroup -m "not faults and not fault"

echo "== workers, servers and disks fail, with nothing else running"
.venv/bin/pytest tests/builds -q -m "faults or fault"
