#!/usr/bin/env bash
# Puts a test's locked packages into a folder of the build, never into the source tree. Does nothing when they are there already.
# Usage: npm_install.sh FOLDER-OF-THE-LOCK FOLDER
set -euo pipefail
here="$1" folder="$2"

command -v npm > /dev/null || { echo "npm is missing: install Node.js with npm (apt-get install npm)"; exit 1; }

mkdir -p "$folder"
if [ -f "$folder/done" ] && cmp -s "$here/package-lock.json" "$folder/done"; then
  echo "already there"
  exit 0
fi
rm -f "$folder/done"
cp "$here/package.json" "$here/package-lock.json" "$folder/"

# --ignore-scripts: nobody's install script runs here; the lock file holds a checksum of every package.
for attempt in 1 2 3; do
  if (cd "$folder" && timeout 90 npm ci --legacy-peer-deps --ignore-scripts --no-audit --no-fund --fetch-retries 3 --fetch-timeout 30000); then
    cp "$here/package-lock.json" "$folder/done"
    exit 0
  fi
  echo "attempt $attempt failed"
  sleep $((attempt * 5))
done
echo "npm could not fetch the packages: is there a network?"
exit 1
