#!/bin/sh
# The whole program against Verovio: the same MusicXML of 5,000 notes to MIDI, medians of ten paired
# runs. Needs Node.js; the npm package is installed under the build folder.
#
#   sh tests/bench/against_verovio.sh [NODE_MODULES]
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build="${YUBIFU_BENCH_BUILD:-$root/build/bench}"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

cmake -S "$root" -B "$build" -G Ninja -DCMAKE_BUILD_TYPE=Release -DYUBIFU_BENCH=ON \
  -DYUBIFU_TESTS=OFF >/dev/null
cmake --build "$build" --target yubifu bench_files >/dev/null
modules="${1:-}"
if [ -z "$modules" ]; then
  packages="$build/oracle-packages"
  mkdir -p "$packages"
  cp "$here/../oracles/package.json" "$packages/"
  (cd "$packages" && npm install --no-package-lock --no-audit --no-fund --silent)
  modules="$packages/node_modules"
fi
"$build/tests/bench/bench_files" "$work" 5000
python3 -B "$here/against_verovio.py" "$build/yubifu" "$modules" "$work/tune-5000.musicxml" \
  "$work/out.mid"
