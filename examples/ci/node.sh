#!/bin/sh
# Proves the tunes where there is Node.js 18 or later, and no compiler: the package of the program
# lies in packages/, and nothing else is fetched.
#
#   sh node.sh
set -eu
cd "$(dirname "$0")"
npm install --no-save --no-audit --no-fund --offline ./packages/yubifu-*.tgz
sh check.sh node_modules/.bin/yubifu
