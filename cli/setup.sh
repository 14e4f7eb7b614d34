# Sourced by cli/demo.sh and tests/run.sh: what a bare Debian 12 needs, and builds that are silent unless they fail.

# need PACKAGE…: installs the Debian packages that are missing; silent when none is.
need() {
  local missing=() package
  for package in "$@"; do
    if [ "$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null)" != installed ]; then missing+=("$package"); fi
  done
  if [ "${#missing[@]}" -eq 0 ]; then return 0; fi
  local root=()
  if [ "$(id -u)" -ne 0 ]; then
    if ! command -v sudo >/dev/null; then
      echo "These packages are missing, and there is neither root nor sudo to install them: ${missing[*]}" >&2
      return 1
    fi
    root=(sudo)
  fi
  echo "Installing with apt-get: ${missing[*]}"
  # The lists of a bare machine are empty or old: fetch them once, then try again.
  local apt=("${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get)
  if ! "${apt[@]}" install -y -qq --no-install-recommends "${missing[@]}" >/dev/null 2>&1; then
    quietly "${apt[@]}" update -qq
    quietly "${apt[@]}" install -y -qq --no-install-recommends "${missing[@]}"
  fi
}

# quietly COMMAND…: its output is shown only when it fails.
quietly() {
  local log status=0
  log="$(mktemp)"
  "$@" </dev/null >"$log" 2>&1 || status=$?
  if [ "$status" -ne 0 ]; then
    cat "$log" >&2
    echo "failed ($status): $*" >&2
  fi
  rm -f "$log"
  return "$status"
}

# What it takes to build the program.
build_packages=(g++ cmake make pkg-config libpugixml-dev libspdlog-dev libboost-program-options-dev nlohmann-json3-dev libstemmer-dev libssl-dev
                libeigen3-dev)
