#!/bin/sh
# Runs every native fuzz target for the time given (10s each by default). The
# targets are found in the code, so a new one cannot be forgotten.
set -eu
time=${1:-10s}

# fuzz runs one target. The go command now and then takes the end of the time
# for a failure: it then says "context deadline exceeded" and names no failing
# input, where a true failure names the file it has written the input to. Such an
# end is tried again, twice at most, so a target that only ever ends so still fails.
fuzz() {
  directory=$1 target=$2
  for try in 1 2 3; do
    echo "fuzz $directory $target"
    if go test -run '^$' -fuzz "^$target\$" -fuzztime "$time" "./$directory" >"$log" 2>&1; then
      cat "$log"
      return 0
    fi
    cat "$log"
    grep -q '^ *context deadline exceeded$' "$log" || return 1
    if grep -q 'Failing input written' "$log"; then return 1; fi
    echo "$target ended with its time and no failing input (attempt $try)"
  done
  return 1
}

log=$(mktemp)
trap 'rm -f "$log"' EXIT
count=0
for file in $(grep -rl --include='*_test.go' '^func Fuzz' cmd internal); do
  for target in $(sed -n 's/^func \(Fuzz[A-Za-z0-9_]*\)(.*/\1/p' "$file"); do
    fuzz "$(dirname "$file")" "$target"
    count=$((count + 1))
  done
done
[ "$count" -gt 0 ] || { echo "no fuzz target found" >&2; exit 1; }
