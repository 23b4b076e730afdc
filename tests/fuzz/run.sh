#!/bin/sh
# Runs every fuzz target under clang with AddressSanitizer and UBSan, so many seconds each, and
# fails at the first input that breaks one. New inputs that reach new code are kept in the build
# folder; an input that breaks a target is written beside them, and belongs into corpus/ once it is
# mended. Use: sh tests/fuzz/run.sh SECONDS [TARGET...]
set -eu
seconds=$1
shift
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build="${YUBIFU_FUZZ_BUILD:-$root/build/fuzz}"
[ $# -gt 0 ] || set -- fingering_text staff_text staff_container midi_bytes score_json flute_json \
  heard_sound readings_table round_trip

cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Debug -DCMAKE_CXX_COMPILER=clang++ \
  -DCMAKE_CXX_FLAGS_DEBUG="-O1 -g1" -DYUBIFU_FUZZ=ON \
  -DYUBIFU_SANITIZE=fuzzer-no-link,address,undefined >/dev/null
for target in "$@"; do targets="${targets:-} fuzz_$target"; done
# shellcheck disable=SC2086  # a list of words
cmake --build "$build" --target $targets

for target in "$@"; do
  found="$build/found/$target"
  mkdir -p "$found"
  case $target in
    flute_json) examples="$root/examples/flutes" ;;
    *) examples="$root/examples/scores" ;;
  esac
  echo "== $target, $seconds s"
  "$build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=60 -rss_limit_mb=1024 \
    -max_len=16384 -dict="$here/dictionaries/$target.dict" -artifact_prefix="$found/broken-" \
    -print_final_stats=1 "$found" "$here/corpus/$target" "$examples" 2>&1 |
    grep -E "DONE|stat::number|broken|ERROR|SUMMARY|Test unit|runtime error" || true
  if ls "$found"/broken-* >/dev/null 2>&1; then
    echo "$target is broken by $(ls "$found"/broken-*)"
    exit 1
  fi
done
