#!/usr/bin/env bash
# Installs what is missing, builds, and checks.
#   tests/run.sh                  the release build and all its tests: what a newcomer runs
#   tests/run.sh full             every check there is; also with no argument where CI is set
#   tests/run.sh format tidy ...  the named checks only: release package headers asan threads fuzz
#                                 format tidy, and coverage, which is run by hand only
# FUZZ_SECONDS says how long each fuzz target runs (60).
# The last line is "N passed, N failed": each test, each fuzz target and each other check is one.
set -euo pipefail
root=$(cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/.." && pwd -P)
. "$root/cli/packages.sh"
cd "$root"

everything=(format release package headers tidy asan threads fuzz)
by_hand=(coverage)
checks=("$@")
if [ $# -eq 0 ]; then
  checks=(release)
  if [ -n "${CI:-}" ]; then checks=("${everything[@]}"); fi
elif [ "$*" = full ]; then
  checks=("${everything[@]}")
fi
for check in "${checks[@]}"; do
  [[ " ${everything[*]} ${by_hand[*]} " == *" $check "* ]] ||
    stop "there is no check '$check'; expected full, or some of: ${everything[*]} ${by_hand[*]}"
done

jobs=$(nproc)
passed=0
failed=0

say() { printf '== %s\n' "$*"; }

# verdict NAME CODE: one more check that passed or failed.
verdict() {
  if [ "$2" -eq 0 ]; then
    passed=$((passed + 1))
    say "$1: passed"
  else
    failed=$((failed + 1))
    say "$1: FAILED"
  fi
}

# Numbers on the lines of a log that hold a label: sum_of LABEL LOG.
sum_of() { grep -o "$1: [0-9]*" "$2" | grep -o '[0-9]*$' | awk '{ sum += $1 } END { print sum + 0 }'; }

sources() { find engine cli tests \( -name '*.cc' -o -name '*.h' \) -print0 | sort -z; }

install_referees() {
  local folder=$root/build/referees code=0
  cmp -s tests/referees/package-lock.json "$folder/installed" && return
  say 'installing the npm packages of tests/referees'
  take_lock
  mkdir -p "$folder"
  cp tests/referees/package.json tests/referees/package-lock.json "$folder"
  (cd "$folder" && quietly "$root/build/logs/npm" \
    npm ci --ignore-scripts --no-audit --no-fund --no-update-notifier &&
    cp package-lock.json installed) || code=$?
  let_go
  return "$code"
}

# build_in NAME TARGET ARGUMENT...: sets build/NAME up and builds TARGET there.
build_in() {
  local name=$1 target=$2 code=0
  shift 2
  say "building $target in build/$name"
  take_lock
  configure "$name" "$@" &&
    quietly "$root/build/logs/$name-build" cmake --build "build/$name" --target "$target" || code=$?
  let_go
  return "$code"
}

# All of ctest in build/NAME; each of its tests counts. A test that was left out counts as failed,
# and so does a run of none.
run_ctest() {
  local log=build/logs/$1-ctest code=0 total=0 bad=0 left_out=0 last
  ctest --test-dir "build/$1" --output-on-failure --no-tests=error -j "$jobs" 2>&1 </dev/null |
    tee "$log" || code=$?
  last=$(grep -E 'tests passed, [0-9]+ tests failed out of [0-9]+' "$log" || true)
  if [[ $last =~ ([0-9]+)\ tests\ failed\ out\ of\ ([0-9]+) ]]; then
    bad=${BASH_REMATCH[1]}
    total=${BASH_REMATCH[2]}
  fi
  left_out=$(grep -cE '\(Disabled\)|\*\*\*Skipped' "$log" || true)
  if [ "$left_out" -gt 0 ]; then say "$1: $left_out tests were skipped or disabled"; fi
  passed=$((passed + total - bad))
  failed=$((failed + bad + left_out))
  if [ "$total" -eq 0 ] || { [ "$code" -ne 0 ] && [ "$bad" -eq 0 ]; }; then
    verdict "$1: ctest" 1
  fi
  say "$1: $total tests seen, $bad failed"
}

check_release() {
  install_referees || verdict 'npm packages' 1
  if build_in release all "${release_test_arguments[@]}"; then
    run_ctest release
  else
    verdict 'release build' 1
  fi
}

check_asan() {
  install_referees || verdict 'npm packages' 1
  if build_in asan all -C tests/setups/asan.cmake -DWHICHLINK_REFEREES=ON; then
    ASAN_OPTIONS=detect_stack_use_after_return=1 UBSAN_OPTIONS=print_stacktrace=1 run_ctest asan
  else
    verdict 'asan build' 1
  fi
}

# Which lines of engine/ no test goes through, by name; 90 of 100 must be.
check_coverage() {
  local code=0
  install_referees || verdict 'npm packages' 1
  if ! build_in coverage all -C tests/setups/coverage.cmake -DWHICHLINK_REFEREES=ON; then
    verdict 'coverage build' 1
    return
  fi
  find build/coverage -name '*.gcda' -delete
  run_ctest coverage
  gcovr --root "$root" --filter "$root/engine/" --exclude-throw-branches \
    --fail-under-line 90 --txt build/logs/coverage-lines -j "$jobs" build/coverage || code=$?
  tail -n 4 build/logs/coverage-lines
  say "coverage: all files, and the lines left out, are in build/logs/coverage-lines"
  verdict coverage "$code"
}

# Rooms that use threads: the tests in which several are at work.
threaded=(trial stock)
check_threads() {
  local room code
  if ! build_in threads "${threaded[0]/#/test_}" -C tests/setups/threads.cmake; then
    verdict 'threads build' 1
    return
  fi
  for room in "${threaded[@]}"; do
    code=0
    build_in threads "test_$room" -C tests/setups/threads.cmake &&
      TSAN_OPTIONS=halt_on_error=1 "build/threads/tests/test_$room" \
        --gtest_filter='*TheSameSeedGivesTheSame*' >"build/logs/threads-$room" 2>&1 || code=$?
    grep -q 'PASSED  . [1-9]' "build/logs/threads-$room" || code=1
    if [ "$code" -ne 0 ]; then tail -n 40 "build/logs/threads-$room"; fi
    verdict "threads $room" "$code"
  done
}

# The Debian package: built, looked into, and its program run from where it was unpacked.
check_package() {
  local code=0
  build_in release all "${release_test_arguments[@]}" &&
    (cd build/release && rm -f whichlink_*.deb && quietly "$root/build/logs/cpack" cpack -G DEB) &&
    tests/outside/package.sh build/release/whichlink_*.deb "$root" "$root/build/release" || code=$?
  verdict package "$code"
}

# Each header compiles on its own.
check_headers() {
  local code=0
  build_in release all_verify_interface_header_sets "${release_test_arguments[@]}" || code=$?
  say "headers: $(find engine -name '*.h' | wc -l) seen"
  verdict headers "$code"
}

check_format() {
  local code=0
  sources | xargs -0 clang-format --dry-run -Werror || code=$?
  say "format: $(sources | tr -cd '\0' | wc -c) files seen"
  verdict format "$code"
}

# A name in .clang-tidy that fits no check would switch nothing on or off, and nobody would say so.
tidy_names_are_real() {
  local name code=0 list
  list=$(sed -n '/^Checks:/,/^WarningsAsErrors:/p' .clang-tidy | grep -o '^  [-a-z][^,]*' | tr -d ' ')
  while IFS= read -r name; do
    [[ $name != '-*' && $name != clang-diagnostic-* ]] || continue
    clang-tidy --list-checks --checks="-*,${name#-}" -- 2>&1 | grep -q '^    ' || {
      echo ".clang-tidy: no check is called ${name#-}"
      code=1
    }
  done <<<"$list"
  diff <(grep -o '^-[a-z].*' <<<"$list" | sort) \
    <(grep -oE '^# -[a-z][A-Za-z0-9.-]*: .' .clang-tidy | grep -o -- '-[^:]*' | sort) || {
    echo '.clang-tidy: the checks left out and their reasons are not the same names'
    code=1
  }
  return "$code"
}

check_tidy() {
  local names=0
  tidy_names_are_real || names=$?
  verdict 'names in .clang-tidy' "$names"
  if ! build_in tidy help -C tests/setups/tidy.cmake; then
    verdict tidy 1
    return
  fi
  # What is compiled is a file of our own, or one by CMake that includes eight of them.
  local files code=0
  mapfile -t files < <(grep -o '"file": "[^"]*"' build/tidy/compile_commands.json | cut -d'"' -f4 |
    awk -v root="$root/" 'index($0, root) == 1 && !/verify_interface/ &&
      substr($0, length(root) + 1) ~ "^(build/tidy/)?(engine|cli)/"' | sort -u)
  local seen all
  seen=$({ printf '%s\n' "${files[@]}" | sed '/\/Unity\//d'
    sed -n 's/^#include "\(.*\.cc\)"$/\1/p' /dev/null "${files[@]}"; } | sed '/^$/d' | sort -u | wc -l)
  all=$(find engine cli -name '*.cc' | wc -l)
  say "tidy: $seen of $all files seen, in ${#files[@]} readings"
  [ "$seen" -eq "$all" ] || code=1
  printf '%s\0' "${files[@]}" |
    xargs -0 -n 1 -P "$jobs" clang-tidy --quiet -p build/tidy >build/logs/tidy \
      2>build/logs/tidy-stderr || code=1
  # One file that was not read to its end is a failure of its own: xargs then stops.
  grep '^xargs:' build/logs/tidy-stderr && code=1
  # A header is read with many files: what it did wrong is said once.
  if [ "$code" -ne 0 ]; then awk '!/(error|warning):/ || !seen[$0]++' build/logs/tidy; fi
  verdict tidy "$code"
}

fuzz_seconds=${FUZZ_SECONDS:-60}

# One target for a minute, from its kept inputs; what it finds new stays under build/.
fuzz_one() {
  local name=$1 found=$root/build/fuzz/found/$1 more=()
  # Whole cases are hundreds of inputs a minute: to count which of what they reach is rare takes a
  # fifth of the time, and tells nothing.
  case $name in isolation | keys) more=(-entropic=0) ;; esac
  mkdir -p "$found"
  "$root/build/fuzz/tests/fuzz_$name" -max_total_time="$fuzz_seconds" -timeout=10 -rss_limit_mb=4096 \
    -seed=1 -verbosity=0 -print_final_stats=1 -artifact_prefix="$found/bad-" "${more[@]}" \
    "$found" "$root/tests/fuzz/corpus/$name" >"$root/build/logs/fuzz-$name" 2>&1
}

check_fuzz() {
  local files name names=()
  mapfile -t files < <(find tests/fuzz -maxdepth 1 -name '*.cc' | sort)
  for name in "${files[@]}"; do names+=("$(basename "$name" .cc)"); done
  say "fuzz: ${#names[@]} targets seen, $(find tests/fuzz/corpus -type f 2>/dev/null | wc -l) kept inputs"
  if [ ${#names[@]} -eq 0 ]; then
    say 'fuzz: skipped, for tests/fuzz holds no target yet'
    return
  fi
  if ! build_in fuzz fuzz_targets -C tests/setups/fuzz.cmake; then
    verdict 'fuzz build' 1
    return
  fi
  say "fuzz: $fuzz_seconds s for each target, $jobs at a time"
  export root fuzz_seconds
  export -f fuzz_one
  printf '%s\0' "${names[@]}" | xargs -0 -I{} -P "$jobs" bash -c \
    'code=0; fuzz_one "$1" || code=$?; echo "$code" >"$root/build/logs/fuzz-$1-code"' fuzz {} || true
  for name in "${names[@]}"; do
    local code
    code=$(cat "build/logs/fuzz-$name-code")
    if [ "$code" -ne 0 ]; then tail -n 30 "build/logs/fuzz-$name"; fi
    say "fuzz $name: $(sum_of 'stat::number_of_executed_units' "build/logs/fuzz-$name") inputs tried"
    verdict "fuzz $name" "$code"
  done
}

take_lock
packages=("${build_packages[@]}" "${pocket_packages[@]}" "${test_packages[@]}")
if [ "${checks[*]}" != release ]; then packages+=("${full_packages[@]}"); fi
if [[ " ${checks[*]} " == *' coverage '* ]]; then packages+=(gcovr); fi
need_packages "${packages[@]}"
let_go  # held while installing and building only: a test may well call cli/start.sh

for check in "${checks[@]}"; do "check_$check"; done
say "checks run: ${checks[*]}"
for build in release asan; do
  if [[ " ${checks[*]} " == *" $build "* && -f build/$build/Testing/Temporary/LastTest.log ]]; then
    say "$build: $(sum_of 'kept inputs' "build/$build/Testing/Temporary/LastTest.log") kept inputs read"
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" -eq 0 ]
