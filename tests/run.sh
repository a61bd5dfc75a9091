#!/usr/bin/env bash
# Runs every test on SQLite, PostgreSQL and in real Chromium, installing what is missing from Debian's or Ubuntu's packages.
# The last line counts: N passed, N failed. A test that could not run counts as a failure.
set -uo pipefail
cd "$(dirname "$0")/.."

chromium_at() { for at in "${DRAINBOARD_CHROMIUM:-}" /usr/bin/chromium /usr/bin/chromium-browser /usr/bin/google-chrome; do [ -n "$at" ] && [ -x "$at" ] && { echo "$at"; return 0; }; done; return 1; }
has_postgres() { [ -n "${DRAINBOARD_TEST_POSTGRES:-}" ] || ls /usr/lib/postgresql/*/bin/initdb > /dev/null 2>&1; }

need=()
has_postgres || need+=(postgresql)
chromium_at > /dev/null || need+=(chromium)
command -v pdftotext > /dev/null || need+=(poppler-utils)
[ -x /usr/sbin/nginx ] || need+=(nginx-light)
ls /usr/lib/*/faketime/libfaketime.so.1 > /dev/null 2>&1 || need+=(faketime)
if [ ${#need[@]} -gt 0 ]; then
  echo "Installing: ${need[*]}"
  sudo=""
  [ "$(id -u)" -eq 0 ] || sudo="sudo"
  $sudo env DEBIAN_FRONTEND=noninteractive sh -c "apt-get update -qq && apt-get install -y -qq --no-install-recommends ${need[*]}" || { echo "Could not install ${need[*]}. Install them by hand and run this again."; echo "0 passed, 1 failed"; exit 1; }
fi
export DRAINBOARD_CHROMIUM; DRAINBOARD_CHROMIUM=$(chromium_at)

log=$(mktemp)
trap 'rm -f "$log"' EXIT
dotnet restore Drainboard.slnx || { echo "0 passed, 1 failed"; exit 1; }
bash tests/audit.sh || { echo "0 passed, 1 failed"; exit 1; }
dotnet build Drainboard.slnx --no-restore -v quiet -nologo || { echo "0 passed, 1 failed"; exit 1; }
dotnet test --solution Drainboard.slnx --no-build --max-parallel-test-modules 1 --fail-skips on --minimum-expected-tests 250 --no-progress --timeout 30m 2>&1 | tee "$log"
code=$?
# What failed, once more and last, since a host's own words can stand between.
[ $code -eq 0 ] || { echo; echo "Failed:"; grep -E -A14 '^ *failed [A-Za-z]' "$log" | head -200; }
awk '/^  (failed|succeeded|skipped): [0-9]+$/{n[$1]=$2} END{printf "%d passed, %d failed\n", n["succeeded:"], n["failed:"] + n["skipped:"]}' "$log"
exit $code
