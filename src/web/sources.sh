#!/bin/sh
# Fetches the Debian sources of the libraries for the build in the browser, and unpacks them.
# Nothing of the machine's own list of archives is changed: the same archives are asked for sources
# by a list in the folder alone. May be run again; what is there is left.
# Use: sh src/web/sources.sh FOLDER
set -eu
folder=$1
packages="pugixml fmtlib libzip zlib libsmf utf8proc libsndfile kissfft"
# Written at the end, so that what was cut short or of other packages is fetched again.
[ "$(cat "$folder/packages" 2>/dev/null)" = "$packages" ] && exit 0

apt=$folder.apt
rm -rf "$folder" "$apt"
mkdir -p "$folder" "$apt/lists/partial" "$apt/cache/archives/partial"
archives() {
  # shellcheck disable=SC2016  # words of apt's own
  apt-get indextargets --format '$(REPO_URI) $(CODENAME)' \
    'Created-By: Packages' 'Label: Debian' 'Component: main' | sort -u
}
if [ -z "$(archives)" ]; then
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then as_root="sudo"; fi
  $as_root apt-get update -qq
fi
archives | while read -r address name; do
  echo "deb-src [signed-by=/usr/share/keyrings/debian-archive-keyring.gpg] $address $name main"
done >"$apt/sources.list"

get() {
  apt-get -qq -o Dir::Etc::SourceList="$apt/sources.list" -o Dir::Etc::SourceParts=- \
    -o Dir::State::Lists="$apt/lists" -o Dir::Cache="$apt/cache" -o APT::Sandbox::User="$(id -un)" \
    "$@"
}
get update
# The upstream archives alone: what Debian adds to these is about building and documents.
# shellcheck disable=SC2086  # one word a package
(cd "$apt" && get source --download-only --tar-only $packages) >"$apt/log" 2>&1 || {
  cat "$apt/log" >&2
  exit 1
}
for archive in "$apt"/*.tar.*; do
  tar -xf "$archive" -C "$folder"
done
echo "$packages" >"$folder/packages"
rm -rf "$apt"
