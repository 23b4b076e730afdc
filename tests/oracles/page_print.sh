#!/bin/sh
# Prints pages as a browser prints them and reads the PDF files back: number and size of the pages,
# title and signs as text. Needs Chromium and poppler-utils.
#
#   page_print.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)
tunes="$here/../golden/page"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for tool in chromium pdfinfo pdftotext; do
  command -v "$tool" >/dev/null && continue
  echo "skipped: $tool is not installed"
  exit 0
done

fail() {
  echo "page_print: $1" >&2
  exit 1
}

# print_page NAME TITLE SIGN OPTIONS...: converts NAME.yubifu and prints it. The PDF must have as
# many pages as the document has sheets, and hold the title and a sign as text.
print_page() {
  name=$1 title=$2 sign=$3 size=$4
  shift 4
  page="$work/$name.html" pdf="$work/$name.pdf"
  "$build/yubifu" convert "$work/$name.yubifu" -o "$page" "$@" 2>"$work/messages" ||
    fail "$name: $(cat "$work/messages")"
  timeout 120 chromium --headless --no-sandbox --disable-gpu --disable-dev-shm-usage \
    --no-first-run --disable-background-networking --disable-component-update --disable-sync \
    --user-data-dir="$work/profile" --no-pdf-header-footer --print-to-pdf="$pdf" \
    "file://$page" >"$work/browser" 2>&1 || fail "$name: $(cat "$work/browser")"
  sheets=$(grep -c '<section class="sheet' "$page")
  pages=$(pdfinfo "$pdf" | sed -n 's/^Pages: *//p')
  [ "$sheets" = "$pages" ] || fail "$name: $sheets sheets became $pages pages"
  pdfinfo "$pdf" | grep -q "^Page size:.*$size" || fail "$name: $(pdfinfo "$pdf" | grep size)"
  pdftotext "$pdf" "$work/text"
  [ "$(grep -c "$title" "$work/text")" -ge "$pages" ] || fail "$name: no title on some page"
  grep -q "$sign" "$work/text" || fail "$name: the sign $sign is not text"
  echo "$name $*: $pages pages"
}

cp "$tunes"/*.yubifu "$work"
{
  printf 'title: Endless Road\n\n'
  i=0
  while [ $i -lt 400 ]; do
    echo '三 四 五 六 |'
    i=$((i + 1))
  done
} >"$work/long.yubifu"

print_page song 渡し場の灯 三 'A4'
print_page song 渡し場の灯 三 '612 x 792' --size letter --direction across --with-chart
print_page signs 'A Walk Through the Signs' 筒 '841.[0-9]* x 59[45]' --landscape --scale 2
print_page long 'Endless Road' 四 'A4'
