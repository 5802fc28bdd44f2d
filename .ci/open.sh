#!/usr/bin/env bash
# The invented workshop on one's own machine: its answer first, then its pages.
set -euo pipefail

export DEBUG=1 DEMO=1
address=127.0.0.1:${PORT:-8000}
.venv/bin/python manage.py migrate --verbosity 0
.venv/bin/python manage.py load_demo --if-empty
.venv/bin/python manage.py readiness
cat <<END

Open http://$address and sign in as the lead, a technician or a customer.
Stop with Ctrl-C.
END
exec .venv/bin/gunicorn builds.wsgi --bind "$address" --workers 2 --threads 4 \
  --timeout 120 --log-level warning
