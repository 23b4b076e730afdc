#!/bin/sh
# Builds the program for browsers and Node.js: build/web/core/yubifu.wasm with its module yubifu.mjs,
# the package build/web/yubifu-VERSION.tgz (its folder is build/web/node), and the page of
# src/web/page in build/web. Installs what it needs; may be run again, and makes only what changed
# anew. Use: sh src/web/build.sh
set -eu
web=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$web/../.." && pwd)
out=$root/build/web
. "$root/examples/packages.sh"

# shellcheck disable=SC2086  # a list of words
install_packages $web_packages
# Node.js may come from elsewhere than Debian, where the two packages would not fit beside it.
command -v npm >/dev/null || install_packages nodejs npm

mkdir -p "$out"
sh "$web/sources.sh" "$out/sources"
cmake -S "$root" -B "$out/core" -G Ninja --toolchain "$web/core/toolchain.cmake" \
  -DYUBIFU_SOURCES="$out/sources" -DYUBIFU_WERROR="${YUBIFU_WERROR:-OFF}" >/dev/null
cmake --build "$out/core"

(cd "$web" && npm ci --no-audit --no-fund --loglevel=error && npx tsc -p . && npx tsc -p page &&
  node node/bundle.mjs "$out" && node page/bundle.mjs "$out")
