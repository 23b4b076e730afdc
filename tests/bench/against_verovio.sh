#!/bin/sh
# The whole program against Verovio: the same MusicXML of 5,000 notes to MIDI, medians of ten paired
# runs. Needs Node.js; the npm package is installed under the build folder.
#
#   sh tests/bench/against_verovio.sh [NODE_MODULES]
set -eu
. "$(dirname "$0")/setup.sh"

build yubifu bench_files
modules="${1:-}"
if [ -z "$modules" ]; then
  packages="$build/oracle-packages"
  mkdir -p "$packages"
  cp "$here/../oracles/package.json" "$packages/"
  (cd "$packages" && npm install --no-package-lock --no-audit --no-fund --silent)
  modules="$packages/node_modules"
fi
"$build/tests/bench/bench_files" "$work" 5000
python3 -B "$here/processes.py"
python3 -B "$here/against_verovio.py" "$build/yubifu" "$modules" "$work/tune-5000.musicxml" \
  "$work/out.mid"
