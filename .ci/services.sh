#!/usr/bin/env bash
# Run a command beside a throw-away PostgreSQL and Redis, and stop both afterwards.
# What could be started is told in TEST_DATABASE_URL and TEST_REDIS_URL.
set -euo pipefail

room=$(mktemp -d)
chmod 711 "$room" # the postgres user must be able to walk through
redis_pid="" postgres_bin=""

free_port() {
  .venv/bin/python -c 'import socket; s = socket.socket(); s.bind(("127.0.0.1", 0)); print(s.getsockname()[1])'
}

as_postgres() {
  if [ "$(id -u)" = 0 ]; then
    runuser -u postgres -- "$@"
  else
    "$@"
  fi
}

stop() {
  [ -z "$redis_pid" ] || kill "$redis_pid" 2>/dev/null || true
  [ -z "$postgres_bin" ] ||
    as_postgres "$postgres_bin/pg_ctl" -D "$room/pg/data" -m immediate stop >/dev/null 2>&1 || true
  wait 2>/dev/null || true
  rm -rf "$room"
}
trap stop EXIT
trap 'exit 130' INT TERM

lacking() {
  echo "NOT TESTED: $1 is not here, so $2."
  if [ "${CI:-}" = true ]; then
    echo "With CI=true that is a failure."
    exit 1
  fi
}

start_postgres() {
  local bin port
  bin=$(ls -d /usr/lib/postgresql/*/bin 2>/dev/null | sort -V | tail -1)
  [ -n "$bin" ] || bin=$(dirname "$(command -v initdb 2>/dev/null || echo ./none)")
  [ -x "$bin/initdb" ] || return 1
  mkdir "$room/pg"
  [ "$(id -u)" != 0 ] || chown postgres "$room/pg"
  port=$(free_port)
  (
    cd "$room/pg"
    as_postgres "$bin/initdb" -D "$room/pg/data" -U postgres -A trust -E UTF8 --no-sync
    as_postgres "$bin/pg_ctl" -D "$room/pg/data" -w -t 60 -l "$room/pg/log" -o \
      "-p $port -c listen_addresses=127.0.0.1 -k $room/pg -c fsync=off" start
    as_postgres "$bin/createdb" -h 127.0.0.1 -p "$port" -U postgres builds
  ) >"$room/pg-start.log" 2>&1 || { cat "$room/pg-start.log"; return 1; }
  postgres_bin=$bin
  export TEST_DATABASE_URL="postgres://postgres@127.0.0.1:$port/builds"
}

start_redis() {
  local port
  command -v redis-server >/dev/null || return 1
  port=$(free_port)
  redis-server --port "$port" --bind 127.0.0.1 --dir "$room" --save "" \
    --maxmemory-policy noeviction >"$room/redis.log" 2>&1 &
  redis_pid=$!
  for _ in $(seq 50); do
    if (exec 3<>"/dev/tcp/127.0.0.1/$port") 2>/dev/null; then
      export TEST_REDIS_URL="redis://127.0.0.1:$port/0"
      return
    fi
    sleep 0.1
  done
  cat "$room/redis.log"
  return 1
}

unset TEST_DATABASE_URL TEST_REDIS_URL
start_postgres || lacking PostgreSQL "the pass over tests/builds on it is left out"
start_redis || lacking Redis "the tests of the real queue are left out"
command -v "${CHROMIUM:-chromium}" >/dev/null ||
  lacking Chromium "the tests in a browser are left out"

"$@"
