#!/bin/sh
# Fetch Debian's Chromium for the browser tests, where that can be done.
set -u
for name in "${CHROMIUM:-}" chromium chromium-browser google-chrome; do
  [ -n "$name" ] && command -v "$name" >/dev/null 2>&1 && exit 0
done
if command -v apt-get >/dev/null 2>&1 && [ "$(id -u)" = 0 ]; then
  echo "Fetching Chromium for the browser tests ..."
  { apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -y -q chromium; } \
    >/dev/null 2>&1 && exit 0
fi
echo "NO CHROMIUM HERE: the browser tests will be reported as skipped."
