# Sourced by the set-up scripts: installs the Debian packages named as arguments, if any of them
# is missing.
install_packages() {
  missing=""
  for package in "$@"; do
    dpkg-query -W -f '${Status}' "$package" 2>/dev/null | grep -q 'install ok installed' ||
      missing="$missing $package"
  done
  [ -z "$missing" ] && return 0
  echo "Installing:$missing"
  as_root=""
  if [ "$(id -u)" -ne 0 ]; then as_root="sudo"; fi
  $as_root apt-get update -qq
  # shellcheck disable=SC2086  # one word a package
  $as_root env DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends $missing >/dev/null
}

# What the program itself is built with; librsvg and cairo make PDF, and it can do without them.
build_packages="g++ cmake ninja-build pkg-config libpugixml-dev libsmf-dev libcxxopts-dev libzip-dev
  nlohmann-json3-dev libfmt-dev libglib2.0-dev libutf8proc-dev libsndfile1-dev
  libkissfft-dev librsvg2-dev libcairo2-dev gettext help2man"

# What the program for the browser is built with (src/web/build.sh).
web_packages="emscripten cmake ninja-build python3 gettext libcxxopts-dev nlohmann-json3-dev bzip2
  xz-utils"

# How a build that is made once is configured: a folder compiles as a few units, which reads its
# headers once and takes half the time. Who changes the program builds file by file (DEVELOPERS.md).
whole_build="-DCMAKE_UNITY_BUILD=ON -DCMAKE_UNITY_BUILD_BATCH_SIZE=12
  -DCMAKE_DISABLE_PRECOMPILE_HEADERS=ON"
