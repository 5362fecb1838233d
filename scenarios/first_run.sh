#!/usr/bin/env bash
# From a fresh clone to the first comparison: packages, build, and every bleed order of one shipped scenario.
set -euo pipefail
cd "$(dirname "$0")/.."

echo "1/3  Packages: installs what this needs and this machine lacks (Debian 12)."
bash tests/install_packages.sh program
echo "2/3  Build: the program goes to build/clearstroke (a few minutes the first time)."
log=$(mktemp)
trap 'rm -f "$log"' EXIT
if ! { cmake --preset default -DCLEARSTROKE_TESTS=OFF && cmake --build --preset default; } >"$log" 2>&1; then
  tail -n 40 "$log" >&2
  echo "The build failed; its last lines stand above." >&2
  exit 1
fi
echo "3/3  Run: build/clearstroke orders scenarios/minimal.toml"
echo
build/clearstroke orders scenarios/minimal.toml
