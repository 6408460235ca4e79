#!/bin/sh
# The whole suite: pure JavaScript where Node is there, then everything in Python,
# in as many processes as there are processors.
set -eu
if command -v node >/dev/null 2>&1; then
  node --test tests/js/
else
  echo "NO NODE HERE: the tests of the browser's own arithmetic were skipped."
fi
.venv/bin/python -m pytest -n auto --dist worksteal --cov --cov-report=term "$@"
