#!/usr/bin/env bash
# Builds the sheet's script anew in FOLDER and compares it with the one in the repository:
# `bundle.sh PROJECT FOLDER`. Exits with 77 (skipped) where there is no npm or no registry.
set -euo pipefail
project=$1 folder=$2
command -v npm >/dev/null || { echo "Skipped: there is no npm here."; exit 77; }
mkdir -p "$folder"
cp -r "$project"/analysis/sheet/{src,text,build.mjs,package.json,package-lock.json,tsconfig.json} "$folder"
cd "$folder"
timeout 240 npm ci --no-audit --no-fund --prefer-offline || { echo "Skipped: the packages could not be fetched."; exit 77; }
npm run --silent check
npm run --silent build -- "$folder/made"
diff -rq "$folder/made" "$project/analysis/sheet/bundle" || {
  echo "analysis/sheet/bundle is stale: run 'npm ci && npm run build' in analysis/sheet."
  exit 1
}
echo "The bundle is what its sources make."
