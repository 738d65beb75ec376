#!/usr/bin/env bash
# Builds the benchmarks in build/bench and prints their tables.
#   tests/bench/run.sh                   all of them
#   tests/bench/run.sh start ways ...    the named ones only: start update long_chain ways record spares trial bounds pocket
set -euo pipefail
root=$(cd -- "$(dirname -- "$(readlink -f -- "${BASH_SOURCE[0]}")")/../.." && pwd -P)
. "$root/cli/packages.sh"
cd "$root"

everything=(start update long_chain ways record spares trial bounds pocket)
tasks=("$@")
if [ $# -eq 0 ]; then tasks=("${everything[@]}"); fi
for task in "${tasks[@]}"; do
  [[ " ${everything[*]} " == *" $task "* ]] ||
    stop "there is no benchmark '$task'; expected some of: ${everything[*]}"
done

take_lock
need_packages "${build_packages[@]}" "${pocket_packages[@]}" "${test_packages[@]}"
modules=$root/build/referees
if [[ " ${tasks[*]} " == *" update "* || " ${tasks[*]} " == *" pocket "* ]] &&
  ! cmp -s tests/referees/package-lock.json "$modules/installed"; then
  mkdir -p "$modules"
  cp tests/referees/package.json tests/referees/package-lock.json "$modules"
  (cd "$modules" && quietly "$root/build/logs/npm" \
    npm ci --ignore-scripts --no-audit --no-fund --no-update-notifier && cp package-lock.json installed)
fi
configure bench -DCMAKE_BUILD_TYPE=Release -DBUILD_TESTING=ON -DWHICHLINK_BENCH=ON -DWHICHLINK_POCKET=ON
quietly "$root/build/logs/bench-build" cmake --build build/bench --target bench_programs
let_go

programs=$root/build/bench/tests/bench
whichlink=$root/build/bench/cli/whichlink

update() {
  local folder=$root/build/bench/tables faults files=()
  mkdir -p "$folder"
  for faults in 3 4 5 6 7 8; do
    "$whichlink" tables --evidence tests/bench/update/evidence.yaml --faults "$faults" --json \
      </dev/null >"$folder/$faults.json"
    files+=("$folder/$faults.json")
  done
  NODE_PATH=$modules/node_modules "$programs/bench_update" \
    "$(command -v node || command -v nodejs)" tests/bench/update/rival.mjs "${files[@]}"
}

for task in "${tasks[@]}"; do
  case $task in
    start) "$programs/bench_start" "$whichlink" ;;
    update) update ;;
    pocket) NODE_PATH=$modules/node_modules node tests/bench/pocket/pocket.mjs "$whichlink" ;;
    *) "$programs/bench_$task" ;;
  esac
  echo
done
