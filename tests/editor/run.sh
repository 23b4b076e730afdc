#!/bin/sh
# Colours example scores, own lines and generated scores with the editor grammar, in the tokenizer
# that editors use. The npm packages are installed under the build folder.
#
#   run.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=$(cd "$1" && pwd)
packages="$build/editor-packages"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

mkdir -p "$packages"
cp "$here/package.json" "$packages/"
(cd "$packages" && npm install --no-package-lock --no-audit --no-fund --silent)

# All that the writer of fingering text may write, in printed signs and in ASCII.
mkdir "$work/staves" "$work/printed" "$work/ascii"
"$build/tests/oracles/oracle_scores" "$work/staves" 200 written
"$build/yubifu" convert "$work"/staves/*.musicxml --to text --out-dir "$work/printed" 2>/dev/null
"$build/yubifu" convert "$work"/staves/*.musicxml --to text --ascii --out-dir "$work/ascii" \
  2>/dev/null

node "$here/check_grammar.mjs" "$packages/node_modules" "$root" \
  "$root/examples/scores" "$root/examples/ci/tunes" "$work/printed" "$work/ascii"

# The pattern that the README gives for messages finds file, line, column and severity.
pattern=$(grep -E '^\^.*\$$' "$root/examples/editor/README.md")
printf 'flute: 6\n\n三 四 五 六 | 三 五五 六 - |=\n' >"$work/wrong.yubifu"
place=$("$build/yubifu" check "$work/wrong.yubifu" 2>&1 |
  PATTERN="$pattern" perl -ne 'print "$2 $3 $4\n" if /$ENV{PATTERN}/')
[ "$place" = "3 13 error" ] || {
  echo "the pattern of the README found: $place"
  exit 1
}
echo "the pattern for messages finds their places"
