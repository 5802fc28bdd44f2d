# Built in two rooms, so that what is served holds no compiler and no cache.
FROM python:3.13-slim-bookworm AS built

ENV PIP_DISABLE_PIP_VERSION_CHECK=1 PIP_NO_CACHE_DIR=1
RUN python -m venv /venv
COPY requirements.txt /tmp/requirements.txt
RUN /venv/bin/pip install -r /tmp/requirements.txt

FROM python:3.13-slim-bookworm

# pg_dump and psql, for copies; of the major version of the database in compose.yaml.
RUN apt-get update \
    && apt-get install -y --no-install-recommends postgresql-client-15 \
    && rm -rf /var/lib/apt/lists/* \
    && useradd --system --uid 10001 --home-dir /srv/site --shell /usr/sbin/nologin site \
    && mkdir -p /srv/site/var /srv/data /srv/copies \
    && chown -R site /srv/site/var /srv/data /srv/copies

ENV PATH=/venv/bin:$PATH PYTHONUNBUFFERED=1 PYTHONDONTWRITEBYTECODE=1 \
    NUMBA_CACHE_DIR=/tmp/compiled MEDIA_ROOT=/srv/data/media
COPY --from=built /venv /venv
WORKDIR /srv/site
COPY pyproject.toml manage.py ./
COPY scheduling scheduling
COPY templates templates
COPY builds builds

USER site
# A key of the moment: nothing is signed while files are being gathered.
RUN SECRET_KEY=$(head -c 40 /dev/urandom | base64) python manage.py collectstatic --no-input

EXPOSE 8000
HEALTHCHECK --interval=30s --timeout=5s --start-period=60s --retries=3 CMD ["python", \
    "-c", "import os, urllib.request as u; u.urlopen(u.Request('http://127.0.0.1:8000/healthz', headers={'Host': os.environ['ALLOWED_HOSTS'].split(',')[0]}), timeout=4)"]
CMD ["gunicorn", "builds.wsgi", "--bind", "0.0.0.0:8000", "--worker-class", "gthread", \
    "--workers", "2", "--threads", "4", "--timeout", "120", "--graceful-timeout", "30"]
