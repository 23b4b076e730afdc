#!/bin/sh
# Tests the program as WebAssembly, which `sh src/web/build.sh` has made: the core in a worker, the
# package for Node.js, and every output byte for byte beside the native program's.
#
#   core.sh BUILD_FOLDER
set -eu
here=$(cd "$(dirname "$0")" && pwd)
build=$(cd "$1" && pwd)

echo "-- the core and the files of the package"
node "$here/core.mjs"

echo "-- the package, as a stranger uses it"
sh "$here/node.sh"

echo "-- the tests of the command line, run on the package"
sh "$here/cli.sh" "$build"

echo "-- answers of both programs"
node "$here/equal.mjs" "$build"
