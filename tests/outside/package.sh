#!/usr/bin/env bash
# What a package holds, and whether the program works from where it was put: package.sh FILE.deb SOURCE BUILD
# Nothing of the sources may be needed, and nothing be written but what was asked for.
set -euo pipefail
package=$1 sources=$2 build=$3
scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
bad=0
fail() {
  echo "package: $*" >&2
  bad=1
}

dpkg-deb -I "$package" control >"$scratch/control"
for line in 'Package: whichlink' 'Section: science' 'Maintainer: whichlink developers <.*>' \
  'Depends: .*libc6 .*libsqlite3-0.*libyaml-cpp.*' 'Description: .*'; do
  grep -qxE "$line" "$scratch/control" || fail "its control file has no line $line"
done

root=$scratch/root
dpkg -x "$package" "$root"
(cd "$root" && find . -type f | sed 's/^\.//' | sort) >"$scratch/holds"
{
  echo /usr/bin/whichlink
  echo /usr/share/bash-completion/completions/whichlink
  echo /usr/share/zsh/vendor-completions/_whichlink
  echo /usr/share/fish/vendor_completions.d/whichlink.fish
  echo /usr/share/man/man1/whichlink.1.gz
  echo /usr/share/doc/whichlink/README.md
  echo /usr/share/doc/whichlink/changelog.gz
  echo /usr/share/doc/whichlink/copyright
  (cd "$sources" && find rules models -type f) | sed 's|^|/usr/share/whichlink/|'
  (cd "$sources/docs" && find . -type f) | sed 's|^\.|/usr/share/doc/whichlink|'
} | sort >"$scratch/wanted"
diff "$scratch/wanted" "$scratch/holds" || fail 'it does not hold just what it should (< wanted, > there)'
[ -z "$(find "$root" -perm /022 ! -type l)" ] || fail 'something in it may be changed by others'

program=$root/usr/bin/whichlink
for path in "$sources" "$build"; do
  if grep -rqF -- "$path" "$root"; then fail "a path of the build is in it: $path"; fi
done
zcat "$root/usr/share/man/man1/whichlink.1.gz" | cmp - <("$program" manual) || fail 'its manual is another'
cmp "$root/usr/share/bash-completion/completions/whichlink" <("$program" completion bash) ||
  fail 'its completion is another'
grep -qF "($(sed -n 's/^Version: //p' "$scratch/control"))" \
  <(zcat "$root/usr/share/doc/whichlink/changelog.gz") || fail 'its changelog is of another version'
[ "$("$program" --version)" = "$(sed -n 's/^Version: //p' "$scratch/control")" ] || fail 'versions differ'

# A home of its own, and a root that cannot be written: what is written is the record alone.
mkdir "$scratch/home" "$scratch/day"
printf 's\n%.0s' {1..20} >"$scratch/answers"
run() {
  (cd "$scratch/day" && env -i PATH=/usr/bin:/bin HOME="$scratch/home" LC_ALL=C.UTF-8 \
    "$program" "$@" </dev/null >"$scratch/said" 2>&1) || fail "$* ended with $?: $(head -3 "$scratch/said")"
}
find "$root" "$scratch/home" "$scratch/day" -printf '%p %T@ %s\n' | sort >"$scratch/before"
for model in screening-set single-room two-room-booth small-stage; do run survey "$model"; done
run survey screening-set
grep -q '3 routes' "$scratch/said" || fail 'survey did not find its data'
run isolate --model single-room --route 'left phone' --heard silent --answers "$scratch/answers" --record record.db
run log --record record.db
grep -q '1 case' "$scratch/said" || fail 'the record holds no case'
run drill
grep -q 'Drills for' "$scratch/said" || fail 'no lessons'
run rank --model small-stage --route 'left vocal' --heard nothing --json
run check --model screening-set
find "$root" "$scratch/home" "$scratch/day" -printf '%p %T@ %s\n' | sort >"$scratch/after"
new=$(comm -13 "$scratch/before" "$scratch/after" | cut -d' ' -f1)
# Those that SQLite keeps beside the record while somebody reads are part of it.
[ "$(sed -E 's/-(wal|shm)$//' <<<"$new" | sort -u)" = \
  "$(printf '%s\n' "$scratch/day" "$scratch/day/record.db")" ] || fail "it wrote: $new"
[ "$bad" -eq 0 ] && echo "package: $(wc -l <"$scratch/holds") files, all as they should be"
