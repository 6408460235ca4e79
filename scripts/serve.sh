#!/bin/sh
# Bring the data up to date, show one finished plan, then serve the site.
set -eu
PY=.venv/bin/python
PORT=${PORT:-8000}
$PY manage.py migrate --noinput -v0
$PY manage.py createcachetable
$PY manage.py collectstatic --noinput -v0
$PY manage.py demo
cat <<END

  Open   http://127.0.0.1:$PORT/
  E-mail    ada@example.com       (owner; office: bram@example.com, crew: cleo@example.com)
  Password  quiet-meadow-7
  Stop with Ctrl-C. The data stay in var/; "make clean" forgets them.

END
exec .venv/bin/gunicorn planner.wsgi:application --bind "127.0.0.1:$PORT" \
  --worker-class gthread --workers 2 --threads 4 --no-control-socket
