#!/bin/sh
# Proves the tunes on Debian 12 with the native program, whose package lies in packages/.
#
#   sh debian.sh
set -eu
cd "$(dirname "$0")"
as_root=""
if [ "$(id -u)" -ne 0 ]; then as_root="sudo"; fi
$as_root apt-get update -qq
$as_root apt-get install -y -qq --no-install-recommends ./packages/yubifu_*.deb
sh check.sh yubifu
