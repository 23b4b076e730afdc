#!/bin/sh
# Writes generated scores as MIDI files and compares every event that mido, midicsv and midi-file
# find in them with what follows from the scores.
#
#   midi_readers.sh BUILD_FOLDER NODE_MODULES
set -eu
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

"$1/tests/oracles/oracle_scores" "$work" 300 midi
# Only Debian's own Python sees Debian's mido.
/usr/bin/python3 -B "$here/check_midi.py" "$work" "$2"
