#!/usr/bin/env bash
# Every kind of --json output against the schema published for it, by a program that is not ours (Debian's python3-jsonschema).
# Usage: validate.sh PROGRAM SOURCE FOLDER
set -euo pipefail
program="$1" source_folder="$2" folder="$3"
validator="$(dirname "$0")/validate.py"
rm -rf "$folder"
mkdir -p "$folder"
cd "$source_folder"

said() {  # said NAME ARGUMENTS…: its output in a file; 1 is "done, with findings"
  local name="$1" code=0
  shift
  "$program" "$@" > "$folder/$name.json" || code=$?
  [ "$code" -le 1 ] || { echo "'$*' ended with $code"; exit 1; }
}

cases=(cases/*/callout.xml)
for ((i = 0; i < ${#cases[@]}; i += 10)); do said "rank-$i" rank --json "${cases[i]}"; done
said rank-all rank --json --all "${cases[0]}"
sed 's/<title>[^<]*/<title>a "quoted" \\ \&lt;b\&gt; — Ω/' cases/one-way-tante/callout.xml > "$folder/odd.xml"
said rank-odd rank --json "$folder/odd.xml"
said review-sound review --json cli/demo/installation.xml
said review-crooked review --json tests/golden/review-crooked-record/installation.xml
said audit audit --json
mkdir -p "$folder/broken"
echo '<knowledge><cause/></knowledge>' > "$folder/broken/broken.xml"
said audit-broken audit --json "$folder/broken"
said trial trial --calls 6 --boats 2 --policies ours,frequency --json
mkdir -p "$folder/two-cases"
cp -r cases/one-way-tante cases/a-warm-strap "$folder/two-cases"
said trial-recorded trial --cases "$folder/two-cases" --json
said sheet-remedied sheet --as json tests/cli/sheets/remedied.xml
printf '%s\n' 'push weak' 1 'note "quoted" <b> — Ω' back stop | XDG_STATE_HOME="$folder/state" "$program" diagnose --installation cli/demo/installation.xml --job 'Grey Plover' > /dev/null
XDG_STATE_HOME="$folder/state" said sheet-job sheet --as json 'Grey Plover'

/usr/bin/python3 "$validator" "$source_folder/docs/schema" "$folder"
