#!/bin/sh
# Annotates every plain staff file of a folder in each kind and takes the annotation out again. Needs
# the program, Python and xmllint; no test depends on any folder.
#
#   sh tests/annotate_sweep.sh FOLDER PROGRAM [SCHEMA_FOLDER]
#
# Exit status 1 when a file does not come back byte for byte, is changed by a second annotation, has
# another number of fingerings than independently counted attacks, is not read back with them or with
# others than convert finds, disagrees with itself in check, or is no longer valid although it was.
set -u
folder=${1:?usage: annotate_sweep.sh FOLDER PROGRAM [SCHEMA_FOLDER]}
program=${2:?usage: annotate_sweep.sh FOLDER PROGRAM [SCHEMA_FOLDER]}
schema=${3:-}
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
files=0 refused=0 notes=0 invalid=0 moved=0 bad=0

fault() {
  echo "FAULT     $name ($kind): $1"
  bad=$((bad + 1))
}

# The signs of a score in JSON with what they sound and when.
fingers() {
  "$program" convert "$@" --to json 2>/dev/null | python3 -c 'import json, sys
for note in json.load(sys.stdin)["notes"]:
    print([note.get(key) for key in ("measure", "onset", "sign", "half", "bend", "midi")])'
}

is_valid() {
  [ -n "$schema" ] && sh "$here/oracles/validate_musicxml.sh" "$schema" "$1" 2>/dev/null
}

for file in "$folder"/*.xml "$folder"/*.musicxml; do
  [ -f "$file" ] || continue
  name=$(basename "$file")
  files=$((files + 1))
  counted=$(python3 "$here/oracles/count_attacks.py" "$file" | cut -d ' ' -f 1)
  valid=no
  is_valid "$file" && valid=yes
  [ $valid = yes ] || invalid=$((invalid + 1))
  fingers "$file" --flute 8 --octave auto >"$work/fingers"
  for kind in lyric lyric-above technical words; do
    rm -f "$work"/*.musicxml
    "$program" annotate "$file" --fingering $kind --flute 8 --octave auto --strokes --holes \
      -o "$work/once.musicxml" 2>"$work/messages"
    if [ ! -f "$work/once.musicxml" ]; then
      reason=$(grep -m 1 ' error: ' "$work/messages")
      [ $kind = lyric ] && refused=$((refused + 1)) && echo "refused   $name: $reason"
      [ -n "$reason" ] || fault "no result and no reason"
      continue
    fi
    "$program" annotate --remove "$work/once.musicxml" -o "$work/bare.musicxml" 2>/dev/null
    cmp -s "$file" "$work/bare.musicxml" || fault "does not come back byte for byte"
    # Flute and octave are those that the file remembers.
    "$program" annotate "$work/once.musicxml" --fingering $kind --strokes --holes \
      -o "$work/twice.musicxml" 2>/dev/null
    cmp -s "$work/once.musicxml" "$work/twice.musicxml" || fault "a second annotation changes it"
    python3 "$here/oracles/count_fingerings.py" $kind "$file" "$work/once.musicxml" \
      >"$work/count" 2>&1
    [ "$(cat "$work/count")" = "$counted" ] ||
      fault "$counted attacks, but fingerings: $(cat "$work/count")"
    fingers "$work/once.musicxml" | cmp -s "$work/fingers" - ||
      fault "is not read back as convert fingers the file"
    "$program" check "$work/once.musicxml" >"$work/check" 2>&1
    about=$(grep -E -m 1 "\[(fingering-disagrees|not-a-fingering|strokes-differ|bend-too-far|[a-z-]*not-on-flute)\]" \
      "$work/check")
    [ -z "$about" ] || fault "$about"
    [ $kind = lyric ] && grep -q '"yubifu.octave"' "$work/once.musicxml" && moved=$((moved + 1))
    # With every fingering changed to one sign, that sign is what must be read.
    sed -e 's|\(name="fingering"[^>]*><syllabic>single</syllabic><text>\)[^<]*|\1四|' \
      -e 's|\(<notations print-object="yes"><technical><fingering>\)[^<]*|\1四|' \
      -e 's|\(<direction directive="no" placement="below"><direction-type><words>\)[^<]*|\1四|' \
      "$work/once.musicxml" >"$work/changed.musicxml"
    "$program" convert "$work/changed.musicxml" --to json -o "$work/changed.json" 2>/dev/null
    read=$(python3 -c 'import json, sys
print(sum(note["sign"] == "四" for note in json.load(open(sys.argv[1]))["notes"]))' \
      "$work/changed.json" 2>&1)
    [ "$read" = "$counted" ] || fault "$counted attacks, but fingerings read back: $read"
    if [ $valid = yes ]; then
      is_valid "$work/once.musicxml" || fault "is no longer valid"
    fi
  done
  notes=$((notes + counted))
done
echo "$files files with $notes attacks, $refused refused, $invalid not valid before, $moved moved, $bad faults"
[ "$bad" -eq 0 ]
