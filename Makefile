.DEFAULT_GOAL := help
.PHONY: help setup run demo worker test compiled test-engine browser lint types imports format migrations deploy check bench bench-plans bench-spread calibrate faults load audit clean
PY := .venv/bin/python
WITH := unset DATABASE_URL REDIS_URL DEBUG DEMO;
SERVED := SECRET_KEY=0123456789-abcdefghijklmnopqrstuvwxyz-ABCDEFGHIJKLMNOPQRSTUVWXYZ ALLOWED_HOSTS=workshop.example

help: ## this list
	@grep -E '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | expand -t 14

.venv/bin/python:
	@PYTHON="$(PYTHON)" .ci/venv.sh

.venv/app: requirements.txt | .venv/bin/python
	@echo "Installing what the app needs ..."
	@$(PY) -m pip install -q --disable-pip-version-check -r requirements.txt && touch $@

.venv/dev: tests/requirements.txt .venv/app
	@echo "Installing what the tests need ..."
	@$(PY) -m pip install -q --disable-pip-version-check -r tests/requirements.txt && touch $@

setup: .venv/dev ## everything for working on the code, in .venv

run: .venv/app ## the demo workshop: its answer, then its pages on 127.0.0.1:8000
	@.ci/open.sh

demo: .venv/app ## put the demo workshop back as it was
	@$(PY) manage.py migrate --verbosity 0 && DEBUG=1 DEMO=1 $(PY) manage.py load_demo

worker: .venv/app ## answers what the site asks for, where REDIS_URL names a Redis
	@mkdir -p var && nice -n 10 .venv/bin/celery -A builds worker --beat --schedule var/beat --concurrency 1 --loglevel info

audit: .venv/dev ## known holes in what we use, doubtful turns in our own code
	@.ci/audit.sh

test: .venv/dev ## everything: check, both databases, the queue, the browser
	@.ci/packages.sh
	@$(MAKE) --no-print-directory --jobs 2 --output-sync=target types compiled lint imports migrations deploy
	@.ci/services.sh .ci/tests.sh

compiled: .venv/dev ## the engine's machine code, kept on disk
	@$(WITH) $(PY) -m tests.scheduling.compile_all

test-engine: .venv/dev ## the engine alone, no database
	@$(WITH) .venv/bin/pytest tests/scheduling -q -n 2

browser: .venv/dev ## the journeys in Chromium
	@.ci/packages.sh
	@$(WITH) .venv/bin/pytest tests/browser -q

lint: .venv/dev ## style of Python and templates
	@.venv/bin/ruff check .
	@.venv/bin/ruff format --check .
	@.venv/bin/djlint --quiet --check templates
	@.venv/bin/djlint --quiet --lint templates

types: .venv/dev ## mypy, strict
	@.venv/bin/mypy

imports: .venv/dev ## who may import whom
	@.venv/bin/lint-imports --no-logo

format: .venv/dev ## put Python and templates in shape
	@.venv/bin/ruff check --fix .
	@.venv/bin/ruff format .
	@.venv/bin/djlint --quiet --reformat templates

migrations: .venv/dev ## the tables and the models agree
	@$(WITH) $(PY) manage.py makemigrations --check --dry-run

deploy: .venv/app ## Django's own deployment checks, with a served site's settings
	@$(WITH) $(SERVED) $(PY) manage.py check --deploy --fail-level WARNING

check: lint types imports migrations deploy ## all that needs no server, and the tests
	@$(WITH) .venv/bin/pytest tests -q -n 2 -m "not browser"

bench: .venv/dev ## the engine against a plain loop, as ratios; the parts of one edit
	@$(WITH) $(PY) -m tests.scheduling.bench.bench

bench-plans: .venv/dev ## how good the shared plan is on published instances
	@$(WITH) $(PY) -m tests.scheduling.bench.psplib_quality
	@$(WITH) $(PY) -m tests.scheduling.bench.bytime

bench-spread: .venv/dev ## plans over one worker and over two; the first request after a start
	@$(WITH) $(PY) -m tests.builds.bench.spread

calibrate: .venv/dev ## workshops lived day by day: do the odds come true?
	@$(WITH) $(PY) -m tests.scheduling.calibration.calibrate

faults: .venv/dev ## workers, servers and disks fail: what is survived, as a table
	@.ci/packages.sh
	@$(WITH) .ci/services.sh .venv/bin/pytest tests/builds -q -m "faults or fault"

load: .venv/dev ## thirty people on a large workshop, on both databases: errors and waits
	@.ci/packages.sh
	@$(WITH) $(PY) -m tests.builds.load.run

clean: ## remove what can be made again; the database stays
	@rm -rf .venv .mypy_cache .ruff_cache .import_linter_cache .hypothesis var
	@find builds scheduling sheets tests -name __pycache__ -type d -prune -exec rm -rf {} +
