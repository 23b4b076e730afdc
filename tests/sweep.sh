#!/bin/sh
# Converts every staff file of a folder and tells what came of each, against an independent count of
# the melody's attacks. Needs nothing but the program and Python; no test depends on any folder.
#
#   sh tests/sweep.sh FOLDER PROGRAM [NODE_MODULES]
#
# With the npm packages of the oracles, what Verovio plays of each file is compared as well; its
# differences are printed and do not count, for it plays every line of a file.
#
# Exit status 1 when a file crashes the program, takes longer than 20 seconds, is refused without a
# reason, or holds another number of attacks than counted.
set -u
folder=${1:?usage: sweep.sh FOLDER PROGRAM}
program=${2:?usage: sweep.sh FOLDER PROGRAM}
here=$(cd "$(dirname "$0")" && pwd)
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
converted=0 refused=0 bad=0

for file in "$folder"/*.xml "$folder"/*.musicxml "$folder"/*.mxl; do
  [ -f "$file" ] || continue
  name=$(basename "$file")
  rm -f "$work/out.json"
  timeout 20 "$program" convert --from musicxml --to json "$file" -o "$work/out.json" \
    2>"$work/messages"
  status=$?
  if [ "$status" -gt 2 ]; then
    echo "BROKEN    $name: exit status $status"
    bad=$((bad + 1))
  elif [ ! -f "$work/out.json" ]; then
    reason=$(grep -m 1 ' error: ' "$work/messages")
    echo "refused   $name: ${reason:-without a reason}"
    refused=$((refused + 1))
    [ -n "$reason" ] || bad=$((bad + 1))
  else
    converted=$((converted + 1))
    notes=$(python3 -c 'import json, sys; print(len(json.load(open(sys.argv[1]))["notes"]))' \
      "$work/out.json")
    case $file in
      *.mxl) counted=$notes ;;
      *) counted=$(python3 "$here/oracles/count_attacks.py" "$file" | cut -d ' ' -f 1) ;;
    esac
    if [ "$notes" = "$counted" ]; then
      echo "converted $name: $notes attacks"
    else
      echo "DIFFERS   $name: $notes notes, $counted attacks counted"
      bad=$((bad + 1))
    fi
  fi
done
if [ $# -gt 2 ]; then
  echo "-- as Verovio plays them"
  mkdir "$work/notes"
  python3 -B "$here/oracles/sweep_notes.py" "$folder" "$program" "$work/notes"
  node "$here/oracles/verovio_notes.mjs" "$3" "$work/notes" 2>/dev/null || true
fi
echo "$converted converted, $refused refused, $bad faults"
[ "$bad" -eq 0 ]
