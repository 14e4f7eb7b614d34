#!/usr/bin/env bash
# Installs what is missing, builds, and runs a call-out with scripted answers. At a terminal it then offers to let you answer yourself.
set -euo pipefail
cd "$(dirname "$0")/.."
source cli/setup.sh

need "${build_packages[@]}"
if [ ! -x build/release/cli/leadline ]; then echo "Building into build/release (a minute or three) …"; fi
quietly cmake -S . -B build/release -DCMAKE_BUILD_TYPE=Release -DLEADLINE_TESTS=OFF
quietly cmake --build build/release -j "$(nproc)" --target leadline
leadline=build/release/cli/leadline

echo "\$ leadline diagnose --installation cli/demo/installation.xml < cli/demo/answers.txt"
echo
"$leadline" diagnose --installation cli/demo/installation.xml < cli/demo/answers.txt

if [ -t 0 ] && [ -t 1 ]; then
  echo
  read -r -p "Would you like to answer the questions yourself? (y/N) " reply || reply=n
  case "$reply" in
    y | Y | yes) "$leadline" diagnose || [ $? -eq 1 ] ;;
    *) echo "Another time: $leadline diagnose" ;;
  esac
fi
