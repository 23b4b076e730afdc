#!/bin/sh
# Prints the manual page, which help2man makes of what the program says of itself: its help, and a
# section for the help of each verb.
#
#   manual.sh PROGRAM
set -eu
case $1 in
  --version) exec "$YUBIFU" --version ;;
  --help)
    "$YUBIFU" help | sed 's/^Use: /Usage: /; s/^\(Verbs\|Formats\)$/*\1*\n/; s/^Exit status: /*Exit status*\n\n/'
    "$YUBIFU" complete-word help '' | cut -f 1 | while read -r name; do
      help=$("$YUBIFU" help "$name")
      case $help in "Use: "*) printf '\n*yubifu %s*\n\n%s\n' "$name" "$help" ;; esac
    done | sed 's/^Files$/Input and output/; /^[A-Z]/{N;s/\n  /:&/;P;D}'
    exit
    ;;
esac
export YUBIFU="$1" CI=yes LC_ALL=C.UTF-8
# Without a date, so that equal programs have equal pages.
help2man --no-info --section=1 --locale=C.UTF-8 --include="$(dirname "$0")/manual.inc" "$0" |
  sed 's/^\(\.TH YUBIFU "1" \)"[^"]*"/\1""/'
