#!/usr/bin/env bash
# Installs what the build needs, builds, and starts whichlink; its arguments are whichlink's.
# With none: the guided isolation on the demo installation.
set -euo pipefail
root=$(cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.." && pwd -P)
. "$root/cli/packages.sh"

# The pocket page takes a compiler of its own and a minute more: only who asks for it waits for it.
if [ "${1-} ${2-}" = 'sheet pocket' ]; then
  build_packages+=("${pocket_packages[@]}")
  release_arguments=("${release_pocket_arguments[@]}")
fi

take_lock
need_packages "${build_packages[@]}"

log=$root/build/logs/release-build
said=''
say_once() {
  [ -n "$said" ] || echo 'whichlink: building; the first time this takes a few minutes' >&2
  said=yes
}

# The build is asked every time; it is spoken of only once it has something to compile.
build() {
  local line
  cmake --build "$root/build/release" --target whichlink 2>&1 </dev/null | tee "$log" |
    while IFS= read -r line; do
      if [[ $line == *Building* ]]; then say_once; fi
    done
}

if ! is_configured release "${release_test_arguments[@]}" &&
  ! is_configured release "${release_pocket_arguments[@]}"; then
  is_configured release "${release_arguments[@]}" || say_once
  configure release "${release_arguments[@]}" ||
    stop 'the build could not be set up; what CMake said stands above'
fi
if ! build; then
  tail -n 30 "$log" >&2
  stop 'the build failed; what the compiler said stands above'
fi
let_go

if [ $# -eq 0 ]; then
  set -- isolate --model two-room-booth
fi
exec "$root/build/release/cli/whichlink" "$@"
