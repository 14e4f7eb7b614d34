#!/usr/bin/env bash
# Exports random bases and lets another program judge them. Usage: compare.sh EXPORTER FOLDER-WITH-NODE-MODULES
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
"$1" > "$2/models.json"
node "$here/compare.mjs" "$2" "$2/models.json"
