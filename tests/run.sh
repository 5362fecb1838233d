#!/usr/bin/env bash
# Installs what is missing, builds everything into build/, runs every test; the last line counts them.
set -euo pipefail
cd "$(dirname "$0")/.."
jobs=$(nproc)

echo "1/3  Packages: installs what the build and the tests need and this machine lacks (Debian 12)."
bash tests/install_packages.sh tests
echo "2/3  Build: program and tests, in build/."
cmake --preset default
cmake --build --preset default -j "$jobs"
echo "3/3  Tests."
log=$(mktemp)
trap 'rm -f "$log"' EXIT
status=0
ctest --preset default -j "$jobs" | tee "$log" || status=$?

# ctest sums up as "98% tests passed, 2 tests failed out of 100", the skipped ones among the passed.
read -r failed total < <(sed -nE 's/^[0-9]+% tests passed, ([0-9]+) tests? failed out of ([0-9]+).*/\1 \2/p' "$log") || {
  echo "No test was run." >&2
  exit 1
}
skipped=$(grep -cE '\(Skipped\)$' "$log" || true)
[ "$skipped" -eq 0 ] || echo "$skipped skipped, see above"
echo "$((total - failed - skipped)) passed, $failed failed"
exit "$status"
