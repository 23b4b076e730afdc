#!/bin/sh
# Prints pages as a browser prints them and reads the PDF files back: number and size of the pages,
# title and signs as text. Then the PDF files that the program writes itself: the same pages, with
# every sign where the browser has it, in reading order, and a book whose page numbers are those of
# its pages. Needs Chromium and poppler-utils.
#
#   page_print.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)
tunes="$here/../golden/page"
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT

for tool in chromium pdfinfo pdftotext pdftoppm; do
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
  compare_own "$@"
  echo "$name $*: $pages pages"
}

# compare_own OPTIONS...: writes the page printed last as PDF itself and compares the two files.
compare_own() {
  own="$work/own.pdf"
  "$build/yubifu" convert "$work/$name.yubifu" -o "$own" "$@" 2>"$work/messages" ||
    fail "$name: $(cat "$work/messages")"
  [ "$(pdfinfo "$own" | sed -n 's/^Pages: *//p')" = "$pages" ] || fail "$name: other pages in PDF"
  pdfinfo "$own" | grep -q "^Page size:.*$size" || fail "$name: $(pdfinfo "$own" | grep size)"
  pdfinfo "$own" | grep -q "^Title: *$title" || fail "$name: no title in the properties"
  pdffonts "$own" | tail -n +3 | grep -qv ' yes yes yes ' && fail "$name: $(pdffonts "$own")"
  pdftotext -raw "$own" "$work/own.txt"
  pdftotext -bbox "$own" "$work/own.html"
  python3 "$here/printed_pages.py" same "$page" "$work/own.txt" "$work/own.html" ||
    fail "$name: the text of the PDF is not that of the page"
  pdftoppm -r 100 -gray "$own" "$work/own"
  pdftoppm -r 100 -gray "$pdf" "$work/printed"
  for picture in "$work"/own-*.pgm; do
    python3 "$here/printed_pages.py" alike "$picture" "$work/printed${picture#"$work/own"}" ||
      fail "$name: the PDF does not look as the browser prints it"
  done
  rm "$work"/own-*.pgm "$work"/printed-*.pgm
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

# Built without PDF, the program says so, and what needs it is left out.
if "$build/yubifu" convert "$work/song.yubifu" --to pdf 2>&1 >/dev/null | grep -q 'without librsvg'; then
  echo 'skipped: built without PDF'
  compare_own() { :; }
fi

print_page song 渡し場の灯 三 'A4'
print_page song 渡し場の灯 三 '612 x 792' --size letter --direction across --with-chart
print_page signs 'A Walk Through the Signs' 筒 '841.[0-9]* x 59[45]' --landscape --scale 2
print_page long 'Endless Road' 四 'A4'

# bind_book NAME OPTIONS...: sixty tunes of every kind as a book; the numbers of its contents and
# index are those of the pages on which the titles stand.
bind_book() {
  "$build/yubifu" bind "$work/tunes" -o "$work/book.pdf" --title Sixty "$@" 2>"$work/messages" ||
    fail "book $*: $(cat "$work/messages")"
  pdftotext -raw "$work/book.pdf" "$work/book.txt"
  python3 "$here/printed_pages.py" book "$work/book.txt" 60 || fail "book $*: wrong page numbers"
  echo "book $*: $(pdfinfo "$work/book.pdf" | sed -n 's/^Pages: *//p') pages"
}

python3 "$here/printed_pages.py" tunes "$work/tunes" 60
if "$build/yubifu" convert "$work/song.yubifu" --to pdf >/dev/null 2>&1; then
  bind_book
  bind_book --follow-on
  bind_book --follow-on --direction across --size letter
fi
