#!/usr/bin/env bash
# Adds one migration to both databases: bash tests/add-migration.sh NameOfTheChange
set -euo pipefail
cd "$(dirname "$0")/.."
[ $# -eq 1 ] || { echo "Say the change in words: bash tests/add-migration.sh NameOfTheChange" >&2; exit 2; }
dotnet tool restore > /dev/null
for provider in Sqlite Postgres; do
  dotnet ef migrations add "$1" --project src/Drainboard.Data --context "${provider}DrainboardDb" --output-dir "Migrations/$provider"
done
