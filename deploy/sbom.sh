#!/usr/bin/env bash
# Writes what the web program is made of, with versions, hashes and licences, as CycloneDX JSON: bash deploy/sbom.sh [FOLDER]
# Licences are asked of the source of packages.
set -euo pipefail
cd "$(dirname "$0")/.."
folder=${1:-artifacts/sbom}
dotnet tool restore > /dev/null
dotnet CycloneDX src/Drainboard.Web/Drainboard.Web.csproj --output "$folder" --filename drainboard.cdx.json --output-format Json --recursive --set-name Drainboard --disable-package-restore
echo "$folder/drainboard.cdx.json"
