#!/bin/sh
# Bring the data up to date, show one finished plan, then serve the site and do its long work.
# SWARDLINE_WORKER=0 leaves the worker out, where another machine runs it.
set -eu
PY=.venv/bin/python
PORT=${PORT:-8000}
$PY manage.py migrate --noinput -v0
$PY manage.py createcachetable
$PY manage.py prune_db_task_results -v0
$PY manage.py collectstatic --noinput -v0
$PY manage.py demo
cat <<END

  Open   http://127.0.0.1:$PORT/
  E-mail    ada@example.com       (owner; office: bram@example.com, crew: cleo@example.com)
  Password  quiet-meadow-7
  Stop with Ctrl-C. The data stay in ${SWARDLINE_DATA:-var}/; "make clean" forgets those in var/.

END
running=
# A worker ends what it has in hand; past five seconds it is ended, and begun again later.
stop_all() {
  trap - INT TERM EXIT
  # shellcheck disable=SC2086
  for signal in TERM KILL; do
    kill -s "$signal" $running 2>/dev/null || break
    for _ in 1 2 3 4 5 6 7 8 9 10; do
      kill -0 $running 2>/dev/null || break 2
      sleep 0.5
    done
  done
}
trap stop_all INT TERM EXIT
if [ "${SWARDLINE_WORKER:-1}" != 0 ]; then
  $PY manage.py db_worker --no-reload -v0 &
  running=$!
fi
.venv/bin/gunicorn planner.wsgi:application --bind "127.0.0.1:$PORT" \
  --worker-class gthread --workers 2 --threads 4 --no-control-socket &
web=$!
running="$running $web"
wait "$web"
