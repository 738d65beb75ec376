#!/bin/sh
# assemble.sh FOLDER MODULE PAGE: page.html with the style, the script and the engine put in. The
# page's own policy names the hashes of the style and the script, and lets nothing else in.
set -eu
folder=$1 module=$2 page=$3

hash_of() { sha256sum "$1" | cut -c1-64 | tr a-f A-F | basenc --base16 -d | base64 -w0; }

element() { # TAG ATTRIBUTES: what stands between the tags is standard input, byte for byte
  printf '<%s>' "$1${2:+ $2}"
  cat
  printf '</%s>\n' "$1"
}

sed -e "s|STYLE-HASH|sha256-$(hash_of "$folder/page.css")|" \
  -e "s|SCRIPT-HASH|sha256-$(hash_of "$folder/page.js")|" "$folder/page.html" |
  while IFS= read -r line; do
    case $line in
      '<!--style-->') element style '' <"$folder/page.css" ;;
      '<!--engine-->') base64 -w0 "$module" | element script 'id="engine" type="text/plain"' ;;
      '<!--script-->') element script '' <"$folder/page.js" ;;
      *) printf '%s\n' "$line" ;;
    esac
  done >"$page.new"
mv "$page.new" "$page"
