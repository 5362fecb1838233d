#!/usr/bin/env bash
# Writes sheets and looks at them in a browser: `pages.sh PROJECT PROGRAM FOLDER`.
# Exits with 77 (skipped) where npm, a registry or the browser is missing.
set -euo pipefail
project=$1 program=$2 folder=$3
command -v npm >/dev/null || { echo "Skipped: there is no npm here."; exit 77; }
CHROMIUM=$(command -v chromium || true)
[ -n "$CHROMIUM" ] || { echo "Skipped: there is no chromium here."; exit 77; }
export CHROMIUM
mkdir -p "$folder"
cp "$project"/tests/sheet/{package.json,package-lock.json,*.mjs} "$folder"
cd "$folder"
timeout 120 npm ci --no-audit --no-fund --prefer-offline || { echo "Skipped: the packages could not be fetched."; exit 77; }
PROGRAM=$program SCENARIOS=$project/scenarios node --test --test-concurrency=1 pages.test.mjs
