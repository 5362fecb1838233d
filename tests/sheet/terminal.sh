#!/usr/bin/env bash
# Plays `new` on a terminal as a trainer would and makes a sheet of the answers: `terminal.sh PROGRAM FOLDER`.
# Exits with 77 (skipped) where there is no `script`.
set -euo pipefail
program=$1 folder=$2
command -v script >/dev/null || { echo "Skipped: there is no script here."; exit 77; }
mkdir -p "$folder"
cd "$folder"
rm -f car.toml sheet.html
answers=("Both front calipers renewed" 1 "" "One P" work "LF caliper, RF brake" "LF caliper, RF caliper" "" no 7/8 "7/8 in" "" "" "" "" "" "" "" "" "" "")
printf '%s\n' "${answers[@]}" | script -qec "'$program' new car.toml" /dev/null | tr -d '\r' > said.txt
for line in '"RF brake" is not a part of this circuit' '"7/8" has no unit' 'car.toml written'; do
  grep -qF "$line" said.txt || { cat said.txt; echo "Not said: $line"; exit 1; }
done
grep -qxF 'renewed = ["LF caliper", "RF caliper"]' car.toml
grep -qF 'bore = "7/8 in"' car.toml
"$program" guide car.toml --quick -o sheet.html
grep -qF '<title>Both front calipers renewed</title>' sheet.html
echo "Asked, understood, and made into a sheet."
