#!/bin/sh
# Runs every native fuzz target for the time given (10s each by default). The
# targets are found in the code, so a new one cannot be forgotten.
set -eu
time=${1:-10s}
count=0
for file in $(grep -rl --include='*_test.go' '^func Fuzz' cmd internal); do
  for target in $(sed -n 's/^func \(Fuzz[A-Za-z0-9_]*\)(.*/\1/p' "$file"); do
    echo "fuzz $(dirname "$file") $target"
    go test -run '^$' -fuzz "^$target\$" -fuzztime "$time" "./$(dirname "$file")"
    count=$((count + 1))
  done
done
[ "$count" -gt 0 ] || { echo "no fuzz target found" >&2; exit 1; }
