#!/usr/bin/env bash
# Changes the coefficients and exponents of the formulas in models/ one at a time by 5 % and runs the published and the
# analytic tests against each: `bash tests/mutations/run.sh [regular expression on files]`. Not part of the suite.
# Builds once, in build-mutations/; a mutant that these programs have met is not run again, so that a stopped run goes on
# where it was. JOBS limits the cores. Survivors must stand in tests/mutations/survivors.tsv with their reason.
set -euo pipefail
cd "$(dirname "$0")/../.."
here=$PWD
only=${1:-.}
jobs=${JOBS:-$(nproc)}
work=$here/build-mutations
fresh=$work/fresh
rm -rf "$fresh"
mkdir -p "$fresh" "$work/source"
cp -r CMakeLists.txt models sim scenarios analysis tests docs "$fresh"
g++ -std=c++20 -O1 tests/mutations/mutate.cpp -o "$work/mutate"
"$work/mutate" "$fresh" > "$work/mutants.tsv"
(cd "$fresh" && find . -type f) | while read -r file; do # what is the same keeps its date, so little is built again
  cmp -s "$fresh/$file" "$work/source/$file" || install -D -m 644 "$fresh/$file" "$work/source/$file"
done
cmake -S "$work/source" -B "$work/build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DCMAKE_CXX_FLAGS=-w > /dev/null
programs="published/published models/models book/whole_job"
cmake --build "$work/build" -j "$jobs" --target $(basename -a $programs | sed 's/$/_test/')

cd "$work/source"
sum=$(for program in $programs; do cat "$work/build/tests/${program}_test"; done | sha1sum | cut -c 1-12)
noticed=$work/noticed-$sum.tsv
touch "$noticed"
one() { # prints number and the program that noticed, "survived", or "stuck" when one did not end
  export CLEARSTROKE_MUTANT=$1
  for program in $3; do
    local status=0
    timeout 300 "$2/build/tests/${program}_test" --gtest_brief=1 --gtest_fail_fast > /dev/null 2>&1 || status=$?
    if [ $status != 0 ]; then
      if [ $status = 124 ]; then echo -e "$1\tstuck"; else echo -e "$1\t${program#*/}"; fi
      return
    fi
  done
  echo -e "$1\tsurvived"
}
export -f one
[ "$(one 0 "$work" "$programs")" = "$(echo -e '0\tsurvived')" ] || { echo "The tests fail without a mutation." >&2; exit 1; }
cut -f 1,2 "$work/mutants.tsv" | grep -E "	.*($only)" | cut -f 1 | grep -vxFf <(cut -f 1 "$noticed") |
  xargs -r -P "$jobs" -I{} bash -c "one {} '$work' '$programs'" >> "$noticed" || true

awk -F '\t' -v known="$here/tests/mutations/survivors.tsv" -v noticed="$noticed" '
  BEGIN { while ((getline line < known) > 0) { split(line, f, "\t"); reason[f[1] FS f[2] FS f[3]] = f[4] }
          while ((getline line < noticed) > 0) { split(line, f, "\t"); by[f[1]] = f[2] } }
  { all++ }
  !($1 in by) { next }
  { run++; n[by[$1]]++ }
  by[$1] == "survived" { key = $2 FS $3 FS $4; met[key] = 1
    if (key in reason) explained++; else { print "unexplained survivor: " $2 ": " $4 " in: " $3; bad++ } }
  END { if (run == all) for (key in reason) if (!(key in met)) { print "survives no longer: " key; bad++ }
        printf "%d mutants, %d run: %d noticed by published, %d by models, %d by whole jobs, %d stuck, %d survived, of them %d explained\n",
               all, run, n["published"], n["models"], n["whole_job"], n["stuck"], n["survived"], explained
        exit bad > 0 }' "$work/mutants.tsv"
