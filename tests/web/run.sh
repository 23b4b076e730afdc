#!/bin/sh
# Drives the page in real browsers: Chromium for every job, Firefox and WebKitGTK for the main one. The
# npm packages are installed under the build folder.
#
#   run.sh BUILD_FOLDER [NAME...]    BUILD_FOLDER has the native program, build/web the page (src/web/build.sh);
#                                    NAMEs are tests to run, as page.test.mjs
set -eu
here=$(cd "$(dirname "$0")" && pwd)
root=$(cd "$here/../.." && pwd)
build=$(cd "$1" && pwd)
shift
[ -f "$root/build/web/yubifu.html" ] || {
  echo "There is no page in build/web: sh src/web/build.sh makes it."
  exit 1
}
packages="$build/web-packages"
mkdir -p "$packages"
cp "$here/package.json" "$here/package-lock.json" "$packages/"
(cd "$packages" && npm ci --no-audit --no-fund --silent)
export YUBIFU_WEB_PACKAGES="$packages" YUBIFU_PROGRAM="${YUBIFU_PROGRAM:-$build/yubifu}"
cd "$here"
if [ $# -eq 0 ]; then
  for name in marking sound; do
    node "$name.test.mjs"
  done
  set -- words.test.mjs page.test.mjs safety.test.mjs gauge.test.mjs everyone.test.mjs browsers.test.mjs
fi
exec node --test --test-reporter=spec --test-concurrency=2 "$@"
