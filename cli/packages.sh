# Read by cli/start.sh and tests/run.sh: the Debian packages they need, and one lock on build/.
# The caller sets `root`, the folder of the repository. Descriptor 9 belongs to the lock.

build_packages=(g++ cmake ninja-build pkg-config libboost-graph-dev libyaml-cpp-dev libspdlog-dev
  libfmt-dev nlohmann-json3-dev libcli11-dev libexpected-dev
  libsqlitecpp-dev libsqlite3-dev)
# What the pocket page is compiled with (WHICHLINK_POCKET).
pocket_packages=(clang-14 lld-14 wasi-libc libc++-14-dev-wasm32 libc++abi-14-dev-wasm32
  libclang-rt-14-dev-wasm32)
test_packages=(libgtest-dev nodejs npm ca-certificates chromium default-jre-headless python3-scipy
  python3-jsonschema python3-yaml groff-base strace locales)
full_packages=(clang libclang-rt-14-dev clang-tidy clang-format dpkg-dev file)

stop() {
  printf 'whichlink: %s\n' "$1" >&2
  exit 1
}

# Runs a command with its output in a file, which is shown only if the command fails.
quietly() {
  local log=$1
  shift
  "$@" >"$log" 2>&1 </dev/null || {
    local code=$?
    tail -n 30 "$log" >&2
    printf 'whichlink: all of it is in %s\n' "$log" >&2
    return "$code"
  }
}

# One copy at a time installs and builds; the others wait. let_go ends it.
take_lock() {
  mkdir -p "$root/build/logs" 2>/dev/null && [ -w "$root/build/logs" ] ||
    stop "cannot write in $root/build; make it yours, or copy the whole folder and start there"
  command -v flock >/dev/null || return 0
  exec 9>>"$root/build/lock"
  flock -n 9 && return
  echo 'whichlink: another copy is building here; waiting for it' >&2
  flock 9
}

let_go() { exec 9>&-; }

# Those of the named packages that are not installed. A program called nodejs or npm will do as
# well: they also come from elsewhere, and would then clash with Debian's.
missing_among() {
  local package installed
  installed=$(dpkg-query -W -f '${Package} ${db:Status-Status}\n' "$@" 2>/dev/null || true)
  for package in "$@"; do
    case $package in
      nodejs) command -v node >/dev/null && continue ;;
      npm) command -v npm >/dev/null && continue ;;
    esac
    grep -qxF "$package installed" <<<"$installed" || echo "$package"
  done
}

# Installs those of the named packages that are missing. The lock is not handed to apt-get, whose
# packages may start something that stays. Needs no network and no rights if none is.
need_packages() {
  command -v apt-get >/dev/null && command -v dpkg-query >/dev/null ||
    stop 'this is not a Debian-like system (no apt-get); the packages to install are named in cli/packages.sh'
  local missing
  mapfile -t missing < <(missing_among "$@")
  [ ${#missing[@]} -gt 0 ] || return 0

  local refusal="these packages are missing: ${missing[*]}; install them, or run this as root or with sudo"
  local as_root=(env)
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || stop "$refusal"
    if ! sudo -n true 2>/dev/null; then  # it would ask for a password: only where one can be typed
      [ -t 0 ] || stop "$refusal"
      printf 'whichlink: sudo is needed to install: %s\n' "${missing[*]}" >&2
      sudo -v || stop "$refusal"
    fi
    as_root=(sudo env)
  fi
  printf 'whichlink: installing %s\n' "${missing[*]}" >&2
  local apt=("${as_root[@]}" DEBIAN_FRONTEND=noninteractive apt-get -y -o DPkg::Lock::Timeout=300)
  quietly "$root/build/logs/apt-update" "${apt[@]}" update 9>&- ||
    echo 'whichlink: the package lists could not be renewed; going on with those that are here' >&2
  quietly "$root/build/logs/apt-install" \
    "${apt[@]}" install --no-install-recommends "${missing[@]}" 9>&- ||
    stop "apt-get could not install: ${missing[*]}; what it said stands above"
}

# Where tests/run.sh has set the release build up with its tests, cli/start.sh leaves them in, and
# the pocket page where somebody asked for it.
release_arguments=(-DCMAKE_BUILD_TYPE=Release -DBUILD_TESTING=OFF)
release_pocket_arguments=("${release_arguments[@]}" -DWHICHLINK_POCKET=ON)
release_test_arguments=(-DCMAKE_BUILD_TYPE=Release -DBUILD_TESTING=ON -DWHICHLINK_REFEREES=ON
  -DWHICHLINK_POCKET=ON)

# is_configured NAME ARGUMENT...: build/NAME was set up in this very place with these arguments.
is_configured() {
  local folder="$root/build/$1"
  shift
  [ -f "$folder/build.ninja" ] && [ "$(cat "$folder/configured-with" 2>/dev/null)" = "$root $*" ]
}

# configure NAME ARGUMENT...: sets build/NAME up, unless it is. Ninja sees by itself when a CMake
# file changes.
configure() {
  is_configured "$@" && return
  local folder="$root/build/$1" name=$1
  shift
  # A folder that was copied along from elsewhere points back to where it came from.
  if [ -f "$folder/CMakeCache.txt" ] &&
    ! grep -qxF "CMAKE_HOME_DIRECTORY:INTERNAL=$root" "$folder/CMakeCache.txt"; then
    rm -rf "$folder"
  fi
  quietly "$root/build/logs/$name-configure" cmake -S "$root" -B "$folder" -G Ninja "$@" || return
  printf '%s' "$root $*" >"$folder/configured-with"
}
