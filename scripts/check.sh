#!/bin/sh
# Every checker, the quick ones first. The first complaint stops it.
set -eu
BIN=.venv/bin
aloud_only_if_wrong() {
  said=$("$@" 2>&1) || { printf '%s\n' "$said"; exit 1; }
}
say() { printf '%s\n' "- $*"; }

say "requirements carry hashes and no addresses"
! grep -nE "://|--find-links|--index" requirements.txt requirements-dev.txt
say "ruff"
$BIN/ruff format --check --quiet .
$BIN/ruff check --quiet .
say "import contracts"
aloud_only_if_wrong $BIN/lint-imports
say "types"
$BIN/mypy properties planner tests scripts
say "templates"
find properties planner -name '*.html' -print0 | xargs -0 $BIN/djade --target-version 5.2 --check
$BIN/djlint --lint --quiet properties planner
say "scripts"
aloud_only_if_wrong $BIN/oxlint -D correctness -D suspicious static/js tests/js
say "spelling"
$BIN/codespell properties planner static/js static/css tests scripts docs README.md DEVELOPERS.md
say "migrations and settings"
export SWARDLINE_DATA="$(mktemp -d)"
trap 'rm -rf "$SWARDLINE_DATA"' EXIT
$BIN/python manage.py makemigrations --check --dry-run -v0
SWARDLINE_HTTPS=1 SWARDLINE_HOSTS=turf.example SWARDLINE_SECRET="$($BIN/python -c 'import secrets; print(secrets.token_urlsafe(64))')" \
  $BIN/python manage.py check --deploy --fail-level WARNING -v0
$BIN/python manage.py collectstatic --noinput --dry-run -v0
echo "All checks pass."
