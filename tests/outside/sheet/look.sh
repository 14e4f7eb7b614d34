#!/usr/bin/env bash
# Sheets in a browser. Usage: look.sh LEADLINE FOLDER-WITH-NODE-MODULES SOURCE-FOLDER
set -euo pipefail
here="$(cd "$(dirname "$0")" && pwd)"
command -v chromium > /dev/null || { echo "chromium is missing: apt-get install chromium"; exit 1; }
node "$here/look.mjs" "$1" "$2" "$3"
