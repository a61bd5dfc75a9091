#!/usr/bin/env bash
# Takes the pictures in docs/screenshots from the demo at a fixed time, in real Chromium.
set -euo pipefail
cd "$(dirname "$0")/.."
dotnet run -c Release --project tests/Drainboard.Benchmarks -- screenshots docs/screenshots
