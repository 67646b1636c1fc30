#!/usr/bin/env bash
# Every fuzzing harness under its engine and the sanitizers, two at a time, for so many seconds each, from the seeds in
# fuzz/seeds and the examples. What ends a harness is kept in build/fuzz. Usage: tools/fuzz.sh SECONDS
set -euo pipefail
cd "$(dirname "$0")/.."
seconds=${1:-60}
house=$PWD
cd build/fuzz

one() {   # one NAME: its seeds are those of its second word
  local name=$1 subject corpus
  subject=$(cut -d_ -f2 <<<"$name")
  corpus=corpus/$name
  mkdir -p "$corpus"
  cp "$house"/fuzz/seeds/"$subject"_* "$corpus"
  [ "$subject" != plan ] || cp "$house"/examples/*_bucket.toml "$corpus"
  local words=("-max_total_time=$seconds" -max_len=20000 -timeout=60 -rss_limit_mb=4096 "-artifact_prefix=$PWD/$name.")
  [ ! -f "$house/fuzz/$(sed 's/_fuzz$//' <<<"$name").dict" ] || words+=("-dict=$house/fuzz/$(sed 's/_fuzz$//' <<<"$name").dict")
  if ! "fuzz/$name" "${words[@]}" "$corpus" >"$name.log" 2>&1; then
    tail -40 "$name.log"
    return 1
  fi
  echo "$name: $(grep -E "Done [0-9]+ runs" "$name.log"), $(grep -oE "cov: [0-9]+" "$name.log" | tail -1)"
}
export -f one
export seconds house
ls fuzz | grep -E "_fuzz$" | xargs -P 2 -I{} bash -euo pipefail -c 'one {}'
