#!/bin/sh
# Gathers every text that the program shows into a template for translators: those of the source
# code, and those of its tables, which the program itself prints.
#
#   sh src/po/extract.sh BUILD TEMPLATE
#   msgmerge --update --no-wrap src/po/ja.po TEMPLATE     # then translate what is new
set -eu
root=$(cd "$(dirname "$0")/../.." && pwd)
build=$1
template=$2
work=$(mktemp -d)
trap 'rm -r "$work"' EXIT

"$build/yubifu" list-texts >"$work/tables.cpp"
cd "$root"
# It takes the ends of raw strings, which hold no texts to translate, for unfinished strings.
find src -name '*.cpp' -o -name '*.h' | LC_ALL=C sort |
  xgettext --language=C++ --from-code=UTF-8 --keyword --keyword=message:1 --keyword=require:2 \
    --keyword=catalogued:1 --no-wrap --add-location=file --package-name=yubifu \
    --files-from=- --output="$template" "$work/tables.cpp" 2>"$work/log" ||
  { cat "$work/log" >&2; exit 1; }
sed -i "s|^#: $work/tables.cpp|#: tables|; s| $work/tables.cpp| tables|" "$template"
